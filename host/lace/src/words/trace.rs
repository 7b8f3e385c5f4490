//! A trace in a teacher's words: where the pairs of each colour go.

use crate::colour::arrangement::{Arrangement, colour_letter};
use crate::ground::Ground;
use crate::repeat::Side;
use crate::threads::courses::Travel;
use crate::words::number::{listed, number};
use crate::words::travel::pace;
use crate::working::trace::Trace;

impl Ground {
    /// Where the pairs of each colour go, one sentence per colour.
    ///
    /// The arrangement repeats across the places of the trace. `names` are the names
    /// of its colours, `A` first; a colour without a name is called by its letter.
    pub fn trace_in_words(&self, trace: &Trace, arrangement: &Arrangement, names: &[String]) -> Vec<String> {
        let hung = trace.hung(arrangement);
        let mut colours: Vec<[u8; 2]> = hung.clone();
        colours.sort_unstable();
        colours.dedup();
        let name = |c: u8| names.get(c as usize).cloned().unwrap_or_else(|| colour_letter(c).to_string());
        let called = |colour: [u8; 2]| match colour {
            [a, b] if a == b => name(a),
            [a, b] => format!("{} and {}", name(a), name(b)),
        };
        let sentence_of = |&colour: &[u8; 2]| {
            let own = (0..hung.len()).filter(|&k| hung[k] == colour);
            sentence(&called(colour), &self.ways(trace, own), trace)
        };
        colours.iter().map(sentence_of).collect()
    }

    /// The ways of some of the pairs or threads followed, in order of first
    /// appearance.
    fn ways(&self, trace: &Trace, followed: impl Iterator<Item = usize>) -> Vec<Way> {
        let mut ways: Vec<Way> = Vec::new();
        for k in followed {
            let words = if trace.footsides { between_footsides(trace, k) } else { self.endless(trace, k) };
            match ways.iter_mut().find(|w| w.words == words) {
                Some(way) => way.places.push(k + 1),
                None => ways.push(Way { words, places: vec![k + 1] }),
            }
        }
        ways
    }

    /// Where a pair or thread goes on an endless width, with `{s}` for the ending of
    /// the verb and `{column}` for the places.
    fn endless(&self, trace: &Trace, k: usize) -> String {
        let course = self.slot_course(if trace.by_threads { k } else { 2 * k });
        let side = match course.travel {
            Travel::Stays => return "stay{s} in {column}".to_owned(),
            Travel::Left => "left",
            Travel::Right => "right",
        };
        let mut words = format!("travel{{s}} to the {side}, {}", pace(course.slope));
        if let Some(rows) = trace.returns[k] {
            let dots = number(rows as f64 * self.upright().row_height());
            let many = if trace.by_threads { "threads" } else { "pairs" };
            words.push_str(&format!(", past all {} {many} in {dots} dots down", trace.places));
        }
        words
    }
}

/// A way that some pairs or threads of a colour go.
struct Way {
    /// With `{s}` for the ending of the verb and `{column}` for the places.
    words: String,
    /// The places, from 1, in which they start.
    places: Vec<usize>,
}

impl Way {
    fn sentence(&self) -> String {
        let (verb, columns) = if self.places.len() == 1 { ("s", "column") } else { ("", "columns") };
        let columns = format!("{columns} {}", listed(&self.places));
        self.words.replace("{s}", verb).replace("{column}", &columns)
    }
}

/// Where a pair or thread goes between two footsides.
fn between_footsides(trace: &Trace, k: usize) -> String {
    let visits = &trace.visits[k];
    let ways: Vec<i64> = trace.rows.iter().map(|row| row[k]).collect();
    let (low, high) = (ways.iter().min().copied().unwrap_or(0), ways.iter().max().copied().unwrap_or(0));
    let edge = if trace.by_threads { 2 } else { 1 };
    if high < edge || low >= trace.places as i64 - edge {
        let at = if high < edge { Side::Left } else { Side::Right };
        return format!("run{{s}} along the {} footside", at.word());
    }
    // Some start at the footside and leave it, others come and stay.
    let outer = |at: i64| at < edge || at >= trace.places as i64 - edge;
    let leaves = ways.iter().position(|&at| !outer(at)).filter(|_| outer(ways[0]));
    if let (Some(row), Some(first)) = (leaves, visits.first()) {
        return format!(
            "run{{s}} along the {} footside and turn{{s}} inward in row {row}",
            first.side.word()
        );
    }
    let stays = ways.iter().rposition(|&at| !outer(at)).filter(|_| ways.last().is_some_and(|&at| outer(at)));
    if let (Some(row), Some(last)) = (stays, visits.last()) {
        return format!(
            "come{{s}} to the {} footside in row {} and run{{s}} along it",
            last.side.word(),
            row + 1
        );
    }
    match visits.as_slice() {
        [] if high - low < 2 * edge => "stay{s} in {column}".to_owned(),
        [] => "come{s} to no footside in the rows traced".to_owned(),
        [first, others @ ..] => {
            let mut words = format!("come{{s}} to the {} footside in row {}", first.side.word(), first.row);
            if let Some(next) = others.iter().find(|v| v.side != first.side) {
                words.push_str(&format!(
                    ", turn{{s}} back there and come{{s}} to the {} one in row {}",
                    next.side.word(),
                    next.row
                ));
            }
            words
        }
    }
}

/// One sentence for all pairs of a colour.
fn sentence(called: &str, ways: &[Way], trace: &Trace) -> String {
    let (one, many) = if trace.by_threads { ("thread", "threads") } else { ("pair", "pairs") };
    if let [way] = ways {
        let subject = match way.places.len() {
            1 => format!("The {called} {one} (place {})", way.places[0]),
            2 => format!("Both {called} {many} (places {})", listed(&way.places)),
            n => format!("All {n} {called} {many}"),
        };
        return format!("{subject} {}.", way.sentence());
    }
    let parts: Vec<String> = ways
        .iter()
        .map(|way| match way.places.len() {
            // The columns are named anyway.
            n if way.words.contains("{column}") => format!("{n} {}", way.sentence()),
            1 => format!("the one in place {} {}", listed(&way.places), way.sentence()),
            _ => format!("those in places {} {}", listed(&way.places), way.sentence()),
        })
        .collect();
    let all: usize = ways.iter().map(|way| way.places.len()).sum();
    format!("Of the {all} {called} {many}, {}.", parts.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::torchon;
    use crate::working::trace::footsides::{EdgeChange, EdgeStitches};

    fn words(stitch: &str, colours: &str) -> Vec<String> {
        let ground = Ground::new(torchon(stitch, 0)).unwrap();
        let trace = ground.trace(8, 8).unwrap();
        let names = ["white".to_owned(), "gold".to_owned()];
        ground.trace_in_words(&trace, &colours.parse().unwrap(), &names)
    }

    #[test]
    fn a_teacher_says_where_the_colours_go() {
        // All gold pairs go the same way.
        let sentences = words("CT pin CT", "A B A A A B A A");
        let gold = &sentences[1];
        assert!(
            gold.starts_with("Both gold pairs (places 2 and 6) travel to the ")
                && gold.ends_with(", one dot across for every dot down, past all 8 pairs in 8 dots down."),
            "{gold}"
        );
        assert!(
            sentences[0].starts_with("Of the 6 white pairs, those in places 1, 3, 5 and 7 travel to the "),
            "{sentences:?}"
        );
        assert_eq!(
            words("CTCT pin CTCT", "A A B A A A B A")[1],
            "Both gold pairs (places 3 and 7) stay in columns 3 and 7."
        );
        assert_eq!(words("CTCT pin CTCT", "7A B")[1], "The gold pair (place 8) stays in column 8.");
    }

    #[test]
    fn footsides_are_named() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let edges = EdgeStitches { stitch: "CTCT pin CTCT".parse().unwrap(), changes: Vec::new() };
        let trace = ground.trace_between_footsides(3, 12, &edges).unwrap();
        let words = ground.trace_in_words(&trace, &"B 7A".parse().unwrap(), &["white".into(), "gold".into()]);
        assert_eq!(words[1], "The gold pair (place 1) runs along the left footside.");
        assert!(words[0].contains("turns back there and comes to the"), "{}", words[0]);
        // One edge stitch changed: the pair that ran along the footside turns
        // inward, the one that came runs along it.
        let change = EdgeChange { side: Side::Left, number: 2, stitch: "CT pin CT".parse().unwrap() };
        let edges = EdgeStitches { changes: vec![change], ..edges };
        let trace = ground.trace_between_footsides(3, 12, &edges).unwrap();
        let words = ground.trace_in_words(&trace, &"B 7A".parse().unwrap(), &["white".into(), "gold".into()]);
        assert_eq!(
            words[1],
            "The gold pair (place 1) runs along the left footside and turns inward in row 3."
        );
        assert!(words[0].contains("comes to the left footside in row 3 and runs along it"), "{}", words[0]);
    }
}
