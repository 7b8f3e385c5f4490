//! The glossary: the trade terms, and the few of our own, that the program and
//! its pages use. Each is explained in a plain sentence or two.
//!
//! Pages link a word to its entry by [`anchor`](Term::anchor). Entries are in
//! alphabetical order, ready to print.

/// Where a word comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Common knowledge in the trade, in our words; no single source.
    CommonPractice,
    /// A word as this program uses it.
    Here,
    /// Laid down in a standard.
    Standard(&'static str),
}

impl Origin {
    /// The origin as a page names it.
    pub fn words(self) -> String {
        match self {
            Origin::CommonPractice => "common practice".to_owned(),
            Origin::Here => "as used here".to_owned(),
            Origin::Standard(name) => name.to_owned(),
        }
    }
}

/// A word with its meaning.
#[derive(Clone, Copy, Debug)]
pub struct Term {
    /// The word, in lower case, as listed.
    pub word: &'static str,
    /// Synonyms.
    pub also: &'static [&'static str],
    /// What it means, in one or more sentences.
    pub meaning: &'static str,
    /// Where it comes from.
    pub origin: Origin,
    /// Words to look up next, by the [`word`](Term::word) of their entries.
    pub see: &'static [&'static str],
}

impl Term {
    /// The entry's anchor in links: its word with hyphens for spaces.
    pub fn anchor(&self) -> String {
        self.word.replace(' ', "-")
    }
}

/// The entry for a word or one of its synonyms.
pub fn look_up(word: &str) -> Option<&'static Term> {
    TERMS.iter().find(|e| e.word == word || e.also.contains(&word))
}

/// A term of the trade.
const fn trade(
    word: &'static str,
    also: &'static [&'static str],
    meaning: &'static str,
    see: &'static [&'static str],
) -> Term {
    Term { word, also, meaning, origin: Origin::CommonPractice, see }
}

/// A word as this program uses it.
const fn ours(
    word: &'static str,
    also: &'static [&'static str],
    meaning: &'static str,
    see: &'static [&'static str],
) -> Term {
    Term { word, also, meaning, origin: Origin::Here, see }
}

/// All entries, in alphabetical order.
#[rustfmt::skip]
pub const TERMS: &[Term] = &[
    ours("angle", &[],
        "The angle between the footside and the diagonal lines of pins in a pricking, in degrees: 45 in torchon, more in point grounds, whose diagonals lie flatter.",
        &["footside", "grid"]),
    ours("arrangement", &["colour arrangement", "colour order"],
        "How the colours hang over the pairs, from left to right, before the work begins. It is written with letters, A A B B, and repeats across the lace.",
        &["pair", "travels", "stays"]),
    trade("bobbin", &[],
        "The small spool with a handle on which one thread is wound. The lacemaker moves the thread by it, and its weight keeps the thread taut.",
        &["pair"]),
    ours("checks", &[],
        "A kind of pattern: blocks of each colour side by side, or stripes of one colour that cross each other.",
        &["kind of pattern", "spots"]),
    ours("choice", &[],
        "Something about a ground that you may decide: the stitch at a place, a number of twists. Every choice has a usual answer.",
        &["setting", "variety"]),
    ours("clearness", &["clear"],
        "How well a pattern stands out from a little distance, in per cent: 100 where pure stripes or blocks of each colour lie side by side, little where the colours are nearly mixed.",
        &["kind of pattern"]),
    trade("closing a pin", &["covering a pin", "closed pin"],
        "Working another stitch with the same two pairs after the pin is set, so that the pin is held between two stitches. A pin without that second stitch is left open.",
        &["open pin", "pin"]),
    trade("cloth stitch", &["whole stitch", "linen stitch"],
        "Cross, twist, cross (CTC). Worked row upon row it looks like woven cloth, and each pair comes out on the other side of the stitch.",
        &["cross", "twist", "worker"]),
    trade("cloth stitch and twist", &["whole stitch and twist"],
        "Cross, twist, cross, twist (CTCT). The pairs pass through each other as in cloth stitch and are twisted. Worked before and after a pin it brings every thread back to its place.",
        &["cloth stitch"]),
    ours("columns", &[],
        "A kind of pattern: stripes of each colour straight down the lace.",
        &["kind of pattern", "rows", "stays"]),
    ours("contribution", &[],
        "A small file that defines one ground or filling for this program and can do nothing else.",
        &["ground", "filling"]),
    trade("cross", &["C"],
        "A move with four threads, two pairs side by side: of the two threads in the middle the left one is laid over the right one.",
        &["twist", "stitch"]),
    ours("diagonals", &["diagonals to the left", "diagonals to the right"],
        "A kind of pattern: stripes of each colour that slant down to the left, or down to the right.",
        &["kind of pattern", "travels"]),
    ours("dot", &[],
        "A place of the grid at which a stitch may stand.",
        &["grid"]),
    trade("edging", &[],
        "A narrow lace with a straight side, by which it is sewn on, and a shaped side.",
        &["footside", "headside"]),
    ours("even mix", &[],
        "A kind of pattern, or rather none: no colour stands out anywhere, they are mixed alike all over.",
        &["kind of pattern", "clearness"]),
    ours("family", &[],
        "Grounds and fillings that are worked in a similar way and are listed together.",
        &["ground", "variety"]),
    trade("filling", &[],
        "A pattern of stitches set into a ground or into a space of the lace as an ornament.",
        &["ground"]),
    trade("footside", &["foot"],
        "The straight edge of a lace, by which it is sewn to cloth. At each pin the pair that comes from the ground works with the edge pair; one of the two stays outside, the other goes back in.",
        &["headside", "pin spacing"]),
    trade("gimp", &["gimp thread"],
        "A thicker thread that outlines a figure. It runs by itself between the two threads of each pair it meets, and twists on either side hold it.",
        &["twist"]),
    trade("grid", &[],
        "The regular dots on which the pins of a pricking stand, in slanting rows. Here it is also the name of a picture with grounds in rows and arrangements in columns.",
        &["angle", "grid step", "pricking"]),
    ours("grid step", &[],
        "The distance from one row of the grid to the next, and from one column to the next. Downwards it is half the pin spacing.",
        &["grid", "pin spacing"]),
    trade("ground", &[],
        "The even network of stitches that fills the lace between its figures, or a whole area of it.",
        &["filling", "mesh"]),
    trade("half stitch", &[],
        "Cross, twist (CT). The two threads of a pair part at every half stitch; with a pin between two half stitches the pairs meet and go on along their diagonals.",
        &["cross", "twist"]),
    trade("headside", &["head"],
        "The outer edge of an edging, across from the footside: often scalloped, sometimes with picots.",
        &["footside", "picot"]),
    ours("kind of pattern", &["pattern"],
        "What the eye sees first in a ground worked in colours: whether each colour lies in stripes, which way they run, or in blocks or spots. It is found from the drawing of the lace.",
        &["arrangement", "clearness"]),
    trade("leaf", &["pointed tally"],
        "Woven like a tally, but pointed where a tally is square: its two pairs come together in a point, as at a windmill crossing.",
        &["tally", "windmill crossing"]),
    trade("leg", &[],
        "One of the twisted pairs that run into the body of a spider. Some districts call a plait a leg.",
        &["pair", "plait", "spider"]),
    trade("mesh", &[],
        "One of the holes of a ground with the threads that surround it.",
        &["ground", "net"]),
    ours("move", &[],
        "One thing the hands do: a cross, a twist, a pin set.",
        &["cross", "twist", "pin"]),
    trade("net", &["tulle"],
        "A light ground of even meshes that looks like woven net, above all the point ground of the point laces.",
        &["ground", "mesh"]),
    trade("open pin", &[],
        "A pin after which the two pairs part at once, without a second stitch: the pin is not closed.",
        &["closing a pin"]),
    trade("pair", &[],
        "Two bobbins and their threads that hang side by side and are moved together. Two pairs work one stitch.",
        &["bobbin", "stitch"]),
    trade("passive", &["passive pair"],
        "A pair that hangs in its place and is crossed by the worker again and again.",
        &["worker"]),
    trade("picot", &[],
        "A small loop of thread made round a pin outside an edge or a plait, as an ornament.",
        &["headside", "plait"]),
    trade("pillow", &[],
        "The firm cushion on which bobbin lace is worked: it holds the pricking and the pins.",
        &["pricking", "pin"]),
    trade("pin", &[],
        "Set through a hole of the pricking into the pillow, between two pairs. It holds the threads in place until the lace is firm, and is then taken out.",
        &["closing a pin", "open pin"]),
    ours("pin spacing", &[],
        "The distance between two neighbouring pins of the footside, in millimetres. It sets the size of everything in a pricking.",
        &["footside", "grid step"]),
    ours("plain", &[],
        "A kind of pattern, or rather none: all threads have one colour. Also the name of the usual variety of many grounds.",
        &["kind of pattern", "variety"]),
    trade("plait", &["braid"],
        "A narrow cord of two pairs, made by half stitches one after another.",
        &["half stitch", "windmill crossing"]),
    trade("pricking", &[],
        "The card with a hole for every pin, true to size, on which the lace is worked.",
        &["pin", "grid"]),
    ours("repeat", &[],
        "The smallest piece of a ground that, set side by side and one below the other, makes the whole of it.",
        &["ground"]),
    ours("rows", &[],
        "A kind of pattern: stripes of each colour level across the lace.",
        &["kind of pattern", "columns"]),
    trade("sampler", &[],
        "A piece in which several grounds, fillings or edges are worked side by side, to learn or to compare them.",
        &["ground", "filling"]),
    ours("setting", &[],
        "The answer given to one choice.",
        &["choice"]),
    trade("sewing", &[],
        "Joining a pair to a part already worked: a loop of one thread is drawn through a pinhole with a hook, the other bobbin is put through the loop, and both are pulled tight.",
        &["pin", "bobbin"]),
    trade("spider", &[],
        "A figure in a hole of the ground. Pairs from both sides, twisted, are worked through each other in cloth stitch, a pin is set in the middle, and they are worked back, so that each leaves on the side it came from.",
        &["cloth stitch", "leg"]),
    ours("spots", &[],
        "A kind of pattern: patches of one colour, each by itself, on a ground of another.",
        &["kind of pattern", "checks"]),
    ours("stays", &["stays in its column"],
        "Said of a thread or pair that swings from side to side of one line down the lace and always comes back to it. A colour hung there makes a stripe down the lace.",
        &["travels", "arrangement"]),
    trade("stitch", &[],
        "What is worked with two pairs at one place: crosses and twists, with a pin or without.",
        &["cross", "twist", "pair"]),
    trade("tally", &["square tally"],
        "A small solid square: of the four threads of two pairs one is woven to and fro, over and under the other three. Its two pairs stay apart at the top and at the bottom; woven to a point it is a leaf.",
        &["leaf", "pair"]),
    Term {
        word: "tex",
        also: &[],
        meaning: "A measure of how thick a thread is: the weight in grams of 1000 metres of it.",
        origin: Origin::Standard("ISO 1144"),
        see: &["wraps per centimetre"],
    },
    ours("thread drawing", &[],
        "A picture of every thread as it lies in the finished lace, over and under the others.",
        &["working diagram"]),
    ours("travels", &[],
        "Said of a thread or pair that goes on to one side, across the whole lace. A colour hung there makes a diagonal line.",
        &["stays", "arrangement"]),
    trade("twist", &["T"],
        "A move with the two threads of a pair: the right one is laid over the left one. In a stitch both pairs are twisted at once.",
        &["cross", "stitch"]),
    ours("variety", &[],
        "A ground with certain choices made, often known by a name of its own.",
        &["choice", "ground"]),
    trade("windmill crossing", &["windmill"],
        "A crossing of two plaits or leaves: every pair is used as if it were one thread, in a cross, a twist, a pin and a cross.",
        &["plait", "leaf", "cloth stitch"]),
    trade("worker", &["worker pair", "weaver"],
        "The pair that goes to and fro through the passives, turning at a pin on either side.",
        &["passive", "cloth stitch"]),
    trade("working diagram", &[],
        "A drawing of how a lace is worked: a line for every pair, a mark for every stitch, a short bar for every extra twist, a dot for every pin.",
        &["thread drawing", "pricking"]),
    trade("wraps per centimetre", &["wraps"],
        "A measure of how thick a thread is: how many turns of it, laid side by side round a ruler without stretching, fill one centimetre. Lace is drawn here as thick as such a turn; linen 80/2 has 30 of them, 35/2 has 20.",
        &["tex"]),
    ours("zigzags", &[],
        "A kind of pattern: stripes of each colour down or across the lace that swing from side to side.",
        &["kind of pattern", "columns"]),
];

#[cfg(test)]
mod tests {
    use indexmap::IndexSet;

    use super::*;

    #[test]
    fn every_word_is_listed_once_in_alphabetical_order() {
        for two in TERMS.windows(2) {
            let [a, b] = [two[0].word.to_lowercase(), two[1].word.to_lowercase()];
            assert!(a < b, "`{a}` stands before `{b}`");
        }
        let mut names = IndexSet::new();
        let mut anchors = IndexSet::new();
        for one in TERMS {
            for name in [&one.word].into_iter().chain(one.also) {
                assert!(names.insert(*name), "`{name}` is listed twice");
                assert_eq!(look_up(name).map(|e| e.word), Some(one.word));
            }
            let anchor = one.anchor();
            assert!(anchor.chars().all(|c| c.is_ascii_alphanumeric() || c == '-'), "{anchor}");
            assert!(anchors.insert(anchor), "two entries share the anchor of `{}`", one.word);
        }
    }

    #[test]
    fn entries_are_plain_sentences_and_their_links_resolve() {
        for Term { word, meaning, see, .. } in TERMS {
            assert!(meaning.starts_with(char::is_uppercase) && meaning.ends_with('.'), "{word}: {meaning}");
            assert!((20..=260).contains(&meaning.len()), "{word}: {} characters", meaning.len());
            for next in *see {
                assert!(look_up(next).is_some_and(|e| e.word == *next && next != word), "{word}: {next}");
            }
        }
        assert!(look_up("no word of ours").is_none());
    }

    // The program's own terms, and the trade terms that a teacher meets in its
    // pages.
    #[test]
    fn the_terms_of_the_trade_and_our_own_are_listed() {
        let words = "ground, filling, pair, bobbin, cross, twist, half stitch, cloth stitch, \
            cloth stitch and twist, pin, closing a pin, leg, repeat, variety, choice, setting, arrangement, \
            colour order, leaf, travels, stays, worker, passive, footside, headside, gimp, pricking, \
            working diagram, thread drawing, plait, tally, spider, windmill crossing, picot, sewing, \
            sampler, grid, grid step, pin spacing, wraps per centimetre, tex, mesh, net, move, stitch, \
            family, angle, contribution";
        for word in words.split(", ") {
            assert!(look_up(word).is_some(), "{word}");
        }
    }

    #[test]
    fn every_kind_of_pattern_is_listed() {
        for pattern in lace::Pattern::ALL {
            let term = look_up(pattern.words());
            assert!(term.is_some_and(|t| t.meaning.starts_with("A kind of pattern")), "{pattern}");
        }
    }
}
