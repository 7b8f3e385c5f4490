//! Our grounds against a handbook: Th. de Dillmont, Encyclopedia of Needlework,
//! 1886, "Laces of different kinds" (Project Gutenberg 20776), figures 784 to 798.
//! Read there: which two pairs work each stitch, in order, and what they work.
//!
//! Her "half passing" is a cross and a twist (figure 783), her "double passing" two
//! of them, her "linen passing" a cloth stitch. Pairs are counted from the left.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use catalogue::Change;
use lace::{Cell, Repeat, Side};
use pairwise_tests::house::plugins;

/// Stitches in the order of the text: the left one of the two pairs, and the work.
type Text = Vec<(usize, String)>;

/// The same work for all of these pairs.
fn all(work: &str, pairs: &[usize]) -> Text {
    pairs.iter().map(|pair| (*pair, work.to_owned())).collect()
}

/// A pair on its way in the text: from a stitch and side to a stitch and side.
type Way = ((usize, Side), (usize, Side));

/// The ways of the pairs, in the order of the text. Those of the outermost pair on
/// the left are left out: it turns at an edge.
fn ways(text: &Text) -> Vec<Way> {
    let mut at: BTreeMap<usize, (usize, Side)> = BTreeMap::new();
    let mut ways = Vec::new();
    for (step, &(left, _)) in text.iter().enumerate() {
        for (pair, side) in [(left, Side::Left), (left + 1, Side::Right)] {
            let before = at.insert(pair, (step, side));
            ways.extend(before.filter(|_| pair > 1).map(|before| (before, (step, side))));
        }
    }
    ways
}

/// What is worked at a stitch, with the twists that both of its pairs get after it.
fn work(repeat: &Repeat, stitch: usize) -> String {
    let twists = |side| {
        let leaving = repeat.legs.iter().find(|leg| leg.from.stitch == stitch && leg.from.side == side);
        leaving.map_or(0, |leg| leg.twists)
    };
    let both = twists(Side::Left).min(twists(Side::Right)) as usize;
    let work = repeat.stitches[stitch].stitch.to_string();
    let twisted = "T".repeat(both);
    if work.ends_with('n') && both > 0 { format!("{work} {twisted}") } else { format!("{work}{twisted}") }
}

/// Whether the stitches of the text, worked in its order, are stitches of the
/// repeat: each with the work it says, every pair on the way it says.
fn follows(repeat: &Repeat, text: &Text) -> bool {
    let ways = ways(text);
    (0..repeat.stitches.len()).any(|first| {
        let mut places: Vec<Option<(usize, Cell)>> = vec![None; text.len()];
        let mut taken = BTreeSet::new();
        let mut open = VecDeque::from([(0, (first, Cell::new(0, 0)))]);
        while let Some((step, place)) = open.pop_front() {
            match places[step] {
                Some(known) if known == place => continue,
                Some(_) => return false,
                None => places[step] = Some(place),
            }
            let (stitch, cell) = place;
            let new = taken.insert((stitch, <[i64; 2]>::from(cell)));
            if !new || work(repeat, stitch) != text[step].1 {
                return false;
            }
            for ((from, out), (to, into)) in &ways {
                if *from == step {
                    let leaving = |leg: &&lace::Leg| (leg.from.stitch, leg.from.side) == (stitch, *out);
                    let Some(leg) = repeat.legs.iter().find(leaving) else { return false };
                    if leg.to.side != *into {
                        return false;
                    }
                    open.push_back((*to, (leg.to.stitch, cell + leg.cell)));
                } else if *to == step {
                    let coming = |leg: &&lace::Leg| (leg.to.stitch, leg.to.side) == (stitch, *into);
                    let Some(leg) = repeat.legs.iter().find(coming) else { return false };
                    if leg.from.side != *out {
                        return false;
                    }
                    open.push_back((*from, (leg.from.stitch, cell - leg.cell)));
                }
            }
        }
        places.iter().all(Option::is_some)
    })
}

/// The repeat of a variety, with changed choices.
fn variety(name: &str, changes: &[Change]) -> Repeat {
    let (id, variety) = name.split_once('/').unwrap();
    let plugin = plugins().iter().find(|plugin| plugin.about.id == id).unwrap();
    plugin.define(&plugin.about.resolve(Some(variety), changes).unwrap()).unwrap()
}

fn is_hers(name: &str, changes: &[Change], text: &Text) {
    let repeat = variety(name, changes);
    assert!(follows(&repeat, text), "{name} {changes:?} is not worked as the text says");
}

/// Figures 787 and 788, from point 1 to point 20: row after slanting row of half
/// passing, pin, half passing.
fn slanting_rows(work: &str) -> Text {
    all(work, &[2, 1, 4, 3, 2, 1, 6, 5, 4, 3, 2, 1, 8, 7, 6, 5, 4, 3, 2, 1])
}

#[test]
fn plain_and_twisted_hole_ground() {
    is_hers("torchon/plain", &[], &slanting_rows("CT pin CT"));
    // "After every half passing enclosing the pin, each pair is twisted once."
    is_hers("torchon/twisted", &[], &slanting_rows("CT pin CTT"));
}

/// Figures 791 and 792, from point e on: half passing, twist, pin, half passing,
/// twist. A slanting row of every pair in turn (e, 4 to 7; g, 10 to 15; i, 19 to 26)
/// is followed by one in which every second place is passed over (8, 9; 16 to 18; 27
/// to 30).
#[test]
fn her_rose_ground_is_honeycomb() {
    let pairs = [
        &[5, 4, 3, 2, 1][..],
        &[4, 2, 6],
        &[7, 6, 5, 4, 3, 2, 1],
        &[6, 4, 2, 8],
        &[9, 8, 7, 6, 5, 4, 3, 2, 1],
        &[8, 6, 4, 2],
    ];
    let text = all("CTT pin CTT", &pairs.concat());
    is_hers("honeycomb/plain", &[], &text);
    let roses = plugins().iter().find(|plugin| plugin.about.id == "rose").unwrap();
    for id in roses.about.varieties.keys() {
        assert!(!follows(&variety(&format!("rose/{id}"), &[]), &text), "rose/{id}");
    }
}

/// Figures 793 and 794: the square at points b, 1, 2 and 3, all half passing, pin,
/// half passing; then half passings "by which the threads are made to cross each
/// other", with pairs 3 and 4 there and, as at the next square, on its other side.
#[test]
fn her_double_or_ornamental_ground_is_a_rose_of_four_pins() {
    let pins = all("CT pin CT", &[2, 1, 3, 2]);
    is_hers("rose/half-crossings", &[], &[pins, all("CT", &[3, 1])].concat());
}

/// Figures 789 and 790: the wheel, with the legs twisted once before and after it.
/// The pin stands between two linen passings of the same pairs, one stitch of ours.
#[test]
fn her_wheel_is_the_spider() {
    let body = |before: &[usize], after: &[usize]| {
        [all("CTC", before), all("CTC pin CTC", &[2]), all("CTC", after)].concat()
    };
    let wheel = body(&[2, 1, 3], &[1, 3]);
    let ours = variety("spider/two", &[Change::new("twists", 1)]);
    assert!(follows(&ours, &wheel));
    let twisted: BTreeSet<u32> = ours.legs.iter().map(|leg| leg.twists).collect();
    assert_eq!(twisted, BTreeSet::from([0, 1]));
    // The last linen passing, from which all pairs leave twisted.
    is_hers("spider/two", &[Change::new("twists", 1)], &[wheel, all("CTCT", &[2])].concat());
}

/// Figure 795: half passing, pin, "twist both pairs twice, but without enclosing the
/// pin". English workers twist first; ours does so unless the choice is made.
#[test]
fn tulle_ground_has_the_pin_before_the_twists() {
    is_hers("point/plain", &[Change::new("pin", "above")], &slanting_rows("CT pin TT"));
    is_hers("point/plain", &[], &slanting_rows("CTTT pin"));
}

/// Figure 796: plaits of four, six or eight half passings, joined by their inner pairs
/// with a half passing, pin, half passing.
#[test]
fn valenciennes_ground_joins_its_plaits_with_the_inner_pairs() {
    for (name, half_passings) in [("four", 4), ("six", 6), ("eight", 8)] {
        let plaits = all(&"CT".repeat(half_passings), &[1, 3]);
        let text = [plaits.clone(), all("CT pin CT", &[2]), plaits].concat();
        is_hers(&format!("valenciennes/{name}"), &[], &text);
    }
}

/// Figure 797: in slanting rows a double passing, pin, double passing, and both pairs
/// twisted once.
#[test]
fn brussels_ground() {
    is_hers("torchon/double-twisted", &[], &slanting_rows("CTCT pin CTCTT"));
    is_hers("brussels/plain", &[], &slanting_rows("CTCT pin CTCTT"));
}

/// Her name for each, and that the source of the variety or of the name is hers.
#[test]
fn each_has_her_name() {
    for (name, called) in [
        ("torchon/plain", "plain hole ground"),
        ("torchon/twisted", "twisted hole ground"),
        ("cloth/half-columns", "net ground"),
        ("cloth/columns", "linen ground"),
        ("spider/two", "wheel"),
        ("honeycomb/plain", "rose ground"),
        ("rose/half-crossings", "double or ornamental ground"),
        ("point/plain", "tulle ground"),
        ("torchon/double-twisted", "Brussels ground"),
    ] {
        let (id, variety) = name.split_once('/').unwrap();
        let about = &plugins().iter().find(|plugin| plugin.about.id == id).unwrap().about;
        let names = about.other_names.iter().chain(&about.varieties[variety].other_names);
        let hers: Vec<&str> = names
            .filter(|other| other.source.contains("Dillmont"))
            .map(|other| other.name.as_str())
            .collect();
        assert_eq!(hers, [called], "{name}");
    }
    for name in ["point/plain", "honeycomb/plain", "valenciennes/four", "valenciennes/six", "brussels/plain"]
    {
        let (id, variety) = name.split_once('/').unwrap();
        let about = &plugins().iter().find(|plugin| plugin.about.id == id).unwrap().about;
        assert!(about.varieties[variety].source.contains("Dillmont"), "{name}");
    }
    // Nothing else of the rose grounds has her name for honeycomb.
    let rose = &plugins().iter().find(|plugin| plugin.about.id == "rose").unwrap().about;
    let named = rose.varieties.values().flat_map(|variety| &variety.other_names);
    assert!(named.filter(|other| other.source.contains("Dillmont")).all(|other| other.name != "rose ground"));
}
