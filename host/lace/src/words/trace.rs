//! A trace in a teacher's words: where the pairs of each colour go.

use crate::colour::arrangement::{Arrangement, colour_letter};
use crate::ground::Ground;
use crate::threads::courses::Travel;
use crate::words::number::{in_runs, listed};
use crate::words::travel::{DIAGONAL, pace};
use crate::working::trace::{EdgeVisit, Trace};

impl Ground {
    /// Where the pairs of each colour go, one sentence per colour.
    ///
    /// The arrangement repeats across the places of the trace, and on an endless
    /// width beyond them: `pairs 1, 5, 9 …`. `names` are the names of its colours,
    /// `A` first; a colour without a name is called by its letter.
    pub fn trace_in_words(&self, trace: &Trace, arrangement: &Arrangement, names: &[String]) -> Vec<String> {
        let hung = trace.hung(arrangement);
        let mut colours: Vec<[u8; 2]> = hung.clone();
        colours.sort_unstable();
        colours.dedup();
        let name = |c: u8| {
            let letter = || format!("colour {}", colour_letter(c));
            names.get(c as usize).cloned().unwrap_or_else(letter)
        };
        let called = |colour: [u8; 2]| match colour {
            [a, b] if a == b => name(a),
            [a, b] => format!("{}/{}", name(a), name(b)),
        };
        let sentence_of = |&colour: &[u8; 2]| {
            let own = (0..hung.len()).filter(|&k| hung[k] == colour);
            sentence(&called(colour), &self.ways(trace, own), trace)
        };
        colours.iter().map(sentence_of).collect()
    }

    /// Where the pair that begins in a place, from 1, goes: one sentence.
    pub fn pair_in_words(&self, trace: &Trace, pair: usize) -> String {
        let threads = if trace.by_threads { 2 * pair - 2..2 * pair } else { pair - 1..pair };
        match self.ways(trace, threads).as_slice() {
            [both] if trace.by_threads => format!("Both threads of pair {pair} {}.", both.filled(2)),
            [way] => format!("Pair {pair} {}.", way.filled(1)),
            ways => {
                let [left, right] = [0, 1].map(|k| ways.get(k).map_or_else(String::new, |way| way.filled(1)));
                format!("The left thread of pair {pair} {left}; the right one {right}.")
            }
        }
    }

    /// The ways of some of the pairs or threads followed, in order of first
    /// appearance.
    fn ways(&self, trace: &Trace, followed: impl Iterator<Item = usize>) -> Vec<Way> {
        let mut ways: Vec<Way> = Vec::new();
        for k in followed {
            let words =
                if trace.footsides { BetweenFootsides { trace, k }.words() } else { self.endless(trace, k) };
            match ways.iter_mut().find(|w| w.words == words) {
                Some(way) => way.places.push(k + 1),
                None => ways.push(Way { words, places: vec![k + 1] }),
            }
        }
        ways
    }

    /// Where a pair or thread goes on an endless width.
    fn endless(&self, trace: &Trace, k: usize) -> String {
        let course = self.slot_course(if trace.by_threads { k } else { 2 * k });
        let side = match course.travel {
            Travel::Stays => return "stay{s} in {own}".to_owned(),
            Travel::Left => "left",
            Travel::Right => "right",
        };
        match pace(course.slope) {
            None => format!("run{{s}} down to the {side} {DIAGONAL} until {{they}} the edge"),
            Some(pace) => format!("run{{s}} down to the {side}, {pace}, until {{they}} the edge"),
        }
    }
}

/// A way that some pairs or threads of a colour go.
struct Way {
    /// What they do, with gaps in braces for what depends on their number.
    words: String,
    /// The places, from 1, in which they start.
    places: Vec<usize>,
}

impl Way {
    /// What `number` pairs or threads do that go this way.
    fn filled(&self, number: usize) -> String {
        let gaps = match number {
            1 => [("{s}", "s"), ("{es}", "es"), ("{they}", "it reaches"), ("{own}", "its own column")],
            _ => [("{s}", ""), ("{es}", ""), ("{they}", "they reach"), ("{own}", "their own columns")],
        };
        gaps.iter().fold(self.words.clone(), |words, (gap, word)| words.replace(gap, word))
    }

    /// The numbers of its pairs or threads; `None` if they are all there are.
    fn numbers(&self, trace: &Trace) -> Option<Numbers> {
        if !trace.footsides {
            return going_on(&self.places, trace.places);
        }
        let all = self.places.len();
        (all < trace.places).then(|| Numbers { words: listed(&in_runs(&self.places)), count: all })
    }
}

/// Numbers of pairs or threads.
struct Numbers {
    words: String,
    count: usize,
}

/// Numbers that go on beyond a width, until it is plain how: `1, 5, 9 …`. `None`
/// if they are all numbers.
fn going_on(places: &[usize], width: usize) -> Option<Numbers> {
    let has = |place: usize| places.contains(&((place - 1) % width + 1));
    let period = (1..width)
        .find(|&period| {
            width.is_multiple_of(period) && (1..=width).all(|place| has(place) == has(place + period))
        })
        .unwrap_or(width);
    if (1..=period).all(has) {
        return None;
    }
    let copies = if (1..=period).filter(|&place| has(place)).count() == 1 { 3 } else { 2 };
    let shown: Vec<usize> = (1..=copies * period).filter(|&place| has(place)).collect();
    Some(Numbers { words: format!("{} …", in_runs(&shown).join(", ")), count: shown.len() })
}

/// What a pair does that comes to a footside from the ground and leaves it.
const BACK_IN: &str = "go{es} back in";

/// The way of one pair or thread between two footsides.
struct BetweenFootsides<'a> {
    trace: &'a Trace,
    k: usize,
}

impl BetweenFootsides<'_> {
    /// What it does.
    fn words(&self) -> String {
        let places: Vec<i64> = self.trace.rows.iter().map(|row| row[self.k]).collect();
        let outside: Vec<bool> = places.iter().map(|&at| self.is_outside(at)).collect();
        match outside.iter().position(|&outside| !outside) {
            None if places[0] < self.edge() => return "run{s} along the left footside".to_owned(),
            None => return "run{s} along the right footside".to_owned(),
            // It begins at the footside and leaves it.
            Some(row) if row > 0 => {
                if let Some(visit) = self.visit_in(row) {
                    let (side, turn) = (visit.side.word(), self.turn(visit, "go{es} in"));
                    return format!("run{{s}} along the {side} footside until row {row}, then {turn}");
                }
            }
            Some(_) => {}
        }
        // It comes to the footside and is still there at the end.
        let last_inside = outside.iter().rposition(|&outside| !outside).unwrap_or(0);
        if last_inside + 1 < outside.len()
            && let Some(visit) = self.visit_in(last_inside + 1)
        {
            return format!("{} and {}", comes(visit), self.turn(visit, BACK_IN));
        }
        self.visits_in_turn(&places)
    }

    /// What a pair or thread does that begins and ends away from the footsides.
    fn visits_in_turn(&self, places: &[i64]) -> String {
        let Some(first) = self.trace.visits[self.k].first().and_then(|first| self.visit_in(first.row)) else {
            let (low, high) = (places.iter().min(), places.iter().max());
            let swings = high.zip(low).map_or(0, |(high, low)| high - low);
            let stays = swings < 2 * self.edge();
            return if stays { "stay{s} in {own}" } else { "come{s} to no footside in the rows traced" }
                .to_owned();
        };
        let turn = self.turn(first, BACK_IN);
        match self.trace.visits[self.k].iter().find(|visit| visit.side != first.side) {
            None => format!("{} and {turn}", comes(first)),
            Some(next) => format!(
                "{}, {turn}, and come{{s}} to the {} one in row {}",
                comes(first),
                next.side.word(),
                next.row
            ),
        }
    }

    /// What becomes of it after an edge stitch, and of the other pair that works
    /// it. `inward` says that it goes in.
    fn turn(&self, visit: &EdgeVisit, inward: &str) -> String {
        let outside = self.is_outside(self.trace.rows[visit.row][self.k]);
        let own = if outside { "stay{s} outside" } else { inward };
        // Where threads of a pair part, neither pair does one thing.
        let other = (0..self.trace.places)
            .find(|&other| other != self.k && self.trace.visits[other].contains(visit))
            .filter(|_| !self.trace.by_threads);
        match other {
            Some(pair) if outside => format!("{own} while pair {} goes in", pair + 1),
            Some(pair) => format!("{own} while pair {} stays outside", pair + 1),
            None => own.to_owned(),
        }
    }

    /// Its last edge stitch in a row.
    fn visit_in(&self, row: usize) -> Option<&EdgeVisit> {
        self.trace.visits[self.k].iter().rfind(|visit| visit.row == row)
    }

    /// Whether a place belongs to the pair along either footside.
    fn is_outside(&self, place: i64) -> bool {
        place < self.edge() || place >= self.trace.places as i64 - self.edge()
    }

    /// The places of the pair along a footside.
    fn edge(&self) -> i64 {
        if self.trace.by_threads { 2 } else { 1 }
    }
}

fn comes(visit: &EdgeVisit) -> String {
    format!("come{{s}} to the {} footside in row {}", visit.side.word(), visit.row)
}

/// One sentence for all pairs or threads of a colour.
fn sentence(called: &str, ways: &[Way], trace: &Trace) -> String {
    let unit = |count: usize| match (trace.by_threads, count) {
        (true, 1) => "thread",
        (true, _) => "threads",
        (false, 1) => "pair",
        (false, _) => "pairs",
    };
    let parts = ways.iter().enumerate().map(|(k, way)| {
        let colour = if k == 0 { format!("{called} ") } else { String::new() };
        match way.numbers(trace) {
            None => format!("all {colour}{} {}", unit(2), way.filled(2)),
            Some(Numbers { words, count }) => {
                format!("{colour}{} {words} {}", unit(count), way.filled(count))
            }
        }
    });
    let text = parts.collect::<Vec<_>>().join("; ");
    let mut rest = text.chars();
    let first = rest.next().into_iter().flat_map(char::to_uppercase);
    format!("{}.", first.chain(rest).collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::Side;
    use crate::repeat::samples::{rose, torchon};
    use crate::working::trace::footsides::{EdgeChange, EdgeStitches};

    fn words(stitch: &str, colours: &str) -> Vec<String> {
        let ground = Ground::new(torchon(stitch, 0)).unwrap();
        let trace = ground.trace(8, 8).unwrap();
        let names = ["white".to_owned(), "gold".to_owned()];
        ground.trace_in_words(&trace, &colours.parse().unwrap(), &names)
    }

    #[test]
    fn a_teacher_says_where_the_colours_go() {
        assert_eq!(
            words("CT pin CT", "A B A A A B A A"),
            [
                "White pairs 1, 3, 5 … run down to the left along the diagonal until they reach the edge; \
                 pairs 4, 8, 12 … run down to the right along the diagonal until they reach the edge.",
                "Gold pairs 2, 6, 10 … run down to the right along the diagonal until they reach the edge.",
            ]
        );
        assert_eq!(
            words("CTCT pin CTCT", "7A B"),
            [
                "White pairs 1 to 7, 9 to 15 … stay in their own columns.",
                "Gold pairs 8, 16, 24 … stay in their own columns."
            ]
        );
        assert_eq!(words("CTCT pin CTCT", "A"), ["All white pairs stay in their own columns."]);
        assert_eq!(
            words("CTCT pin CTCT", "A/B C/C")[1],
            "Colour C pairs 2, 4, 6 … stay in their own columns."
        );
        assert_eq!(
            words("CTCT pin CTCT", "A/B C/C")[0],
            "White/gold pairs 1, 3, 5 … stay in their own columns."
        );
    }

    #[test]
    fn a_pair_alone_is_followed() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let trace = ground.trace(4, 1).unwrap();
        assert_eq!(
            ground.pair_in_words(&trace, 3),
            "Pair 3 runs down to the left along the diagonal until it reaches the edge."
        );
        // Half stitches at the crossings part the threads of each pair, half
        // stitches without a pin too.
        let ground = Ground::new(rose("CT", "CT pin CT")).unwrap();
        let trace = ground.trace(4, 1).unwrap();
        assert!(trace.by_threads);
        assert_eq!(
            ground.pair_in_words(&trace, 2),
            "Both threads of pair 2 run down to the right along the diagonal until they reach the edge."
        );
        let ground = Ground::new(torchon("CT pin", 0)).unwrap();
        let trace = ground.trace(4, 1).unwrap();
        assert!(trace.by_threads);
        assert_eq!(
            ground.pair_in_words(&trace, 2),
            "The left thread of pair 2 stays in its own column; the right one runs down to the right along \
             the diagonal until it reaches the edge."
        );
    }

    #[test]
    fn at_a_footside_one_pair_stays_outside_and_one_goes_back_in() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let edges = EdgeStitches { stitch: "CTCT pin CTCT".parse().unwrap(), changes: Vec::new() };
        let colours = "B 2A C 4A".parse().unwrap();
        let names = ["white", "gold", "blue"].map(str::to_owned);
        let trace = ground.trace_between_footsides(3, 12, &edges).unwrap();
        let words = ground.trace_in_words(&trace, &colours, &names);
        assert_eq!(words[1], "Gold pair 1 runs along the left footside.");
        assert_eq!(
            words[2],
            "Blue pair 4 comes to the left footside in row 3, goes back in while pair 1 stays outside, \
             and comes to the right one in row 9."
        );
        // One edge stitch changed: the pair that ran along the footside goes in, the
        // one that came stays outside.
        let change = EdgeChange { side: Side::Left, number: 2, stitch: "CT pin CT".parse().unwrap() };
        let edges = EdgeStitches { changes: vec![change], ..edges };
        let trace = ground.trace_between_footsides(3, 12, &edges).unwrap();
        let words = ground.trace_in_words(&trace, &colours, &names);
        assert_eq!(
            words[1],
            "Gold pair 1 runs along the left footside until row 3, then goes in while pair 4 stays outside."
        );
        assert_eq!(
            words[2],
            "Blue pair 4 comes to the left footside in row 3 and stays outside while pair 1 goes in."
        );
    }

    #[test]
    fn threads_that_part_are_followed_one_by_one_between_footsides() {
        let ground = Ground::new(rose("CT", "CT pin CT")).unwrap();
        let edges = EdgeStitches { stitch: "CTCT pin CTCT".parse().unwrap(), changes: Vec::new() };
        let trace = ground.trace_between_footsides(2, 8, &edges).unwrap();
        assert_eq!(ground.pair_in_words(&trace, 1), "Both threads of pair 1 run along the left footside.");
        for pair in 1..=trace.places / 2 {
            let words = ground.pair_in_words(&trace, pair);
            assert!(!words.contains('{') && !words.contains("while"), "{words}");
        }
    }
}
