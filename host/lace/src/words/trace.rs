//! A trace in the words of a teacher: where the pairs of each colour go.

use crate::colour::arrangement::{Arrangement, letter};
use crate::ground::Ground;
use crate::repeat::Side;
use crate::threads::orbits::{Travel, pace, plain_number};
use crate::working::trace::Trace;

impl Ground {
    /// Where the pairs of each colour go, a sentence for each.
    ///
    /// `order` hangs again and again over the places of the trace; `names` are
    /// the names of its colours, `A` first (the letter itself where there is
    /// none).
    pub fn trace_in_words(&self, trace: &Trace, order: &Arrangement, names: &[String]) -> Vec<String> {
        let hung = self.hung(trace, order);
        let mut colours: Vec<[u8; 2]> = hung.clone();
        colours.sort_unstable();
        colours.dedup();
        let name = |c: u8| names.get(c as usize).cloned().unwrap_or_else(|| letter(c).to_string());
        colours
            .into_iter()
            .map(|colour| {
                let called = match colour {
                    [a, b] if a == b => name(a),
                    [a, b] => format!("{} and {}", name(a), name(b)),
                };
                let own: Vec<usize> = (0..hung.len()).filter(|&k| hung[k] == colour).collect();
                let ways: Vec<(String, usize)> = own
                    .iter()
                    .map(|&k| {
                        (
                            if trace.footsides {
                                between_footsides(trace, k)
                            } else {
                                self.endless(trace, k)
                            },
                            k,
                        )
                    })
                    .collect();
                sentence(&called, &ways, trace)
            })
            .collect()
    }

    /// The colours of the pair (or twice that of the thread) followed from
    /// each place.
    pub fn hung(&self, trace: &Trace, order: &Arrangement) -> Vec<[u8; 2]> {
        if trace.by_threads {
            let threads = order.threads();
            (0..trace.places).map(|k| [threads[k % threads.len()]; 2]).collect()
        } else {
            let pairs = order.pairs();
            (0..trace.places).map(|k| pairs[k % pairs.len()]).collect()
        }
    }

    /// Where one goes on an endless width: `{s}` stands for the ending of the
    /// verb, `{its}` for whose places.
    fn endless(&self, trace: &Trace, k: usize) -> String {
        let courses = self.slot_courses();
        let slot = if trace.by_threads { k } else { 2 * k };
        let course = courses[slot % courses.len()];
        let side = match course.travel {
            Travel::Stays => return "stay{s} in {column}".to_owned(),
            Travel::Left => "left",
            Travel::Right => "right",
        };
        let mut words = format!("travel{{s}} to the {side}, {}", pace(course.slope));
        if let Some(rows) = trace.returns[k] {
            let dots = plain_number(rows as f64 * self.upright().step_down.y);
            words.push_str(&format!(
                ", past all {} {} in {dots} dots down",
                trace.places,
                if trace.by_threads { "threads" } else { "pairs" }
            ));
        }
        words
    }
}

/// Where one goes between two footsides.
fn between_footsides(trace: &Trace, k: usize) -> String {
    let visits = &trace.visits[k];
    let side = |side: Side| if side == Side::Left { "left" } else { "right" };
    let ways: Vec<i64> = trace.rows.iter().map(|row| row[k]).collect();
    let (low, high) = (ways.iter().min().copied().unwrap_or(0), ways.iter().max().copied().unwrap_or(0));
    let edge = if trace.by_threads { 2 } else { 1 };
    if high < edge || low >= trace.places as i64 - edge {
        let at = if high < edge { Side::Left } else { Side::Right };
        return format!("run{{s}} along the {} footside", side(at));
    }
    // Some begin at the footside and leave it, others come to stay there.
    let outer = |at: i64| at < edge || at >= trace.places as i64 - edge;
    let leaves = ways.iter().position(|&at| !outer(at)).filter(|_| outer(ways[0]));
    if let (Some(row), Some(first)) = (leaves, visits.first()) {
        return format!("run{{s}} along the {} footside and turn{{s}} inward in row {row}", side(first.side));
    }
    let stays = ways.iter().rposition(|&at| !outer(at)).filter(|_| ways.last().is_some_and(|&at| outer(at)));
    if let (Some(row), Some(last)) = (stays, visits.last()) {
        return format!(
            "come{{s}} to the {} footside in row {} and run{{s}} along it",
            side(last.side),
            row + 1
        );
    }
    match visits.as_slice() {
        [] if high - low < 2 * edge => "stay{s} in {column}".to_owned(),
        [] => "come{s} to no footside in the rows traced".to_owned(),
        [first, others @ ..] => {
            let mut words = format!("come{{s}} to the {} footside in row {}", side(first.side), first.row);
            if let Some(next) = others.iter().find(|v| v.side != first.side) {
                words.push_str(&format!(
                    ", turn{{s}} back there and come{{s}} to the {} one in row {}",
                    side(next.side),
                    next.row
                ));
            }
            words
        }
    }
}

/// One sentence for all pairs of a colour.
fn sentence(called: &str, ways: &[(String, usize)], trace: &Trace) -> String {
    let (one, many) = if trace.by_threads { ("thread", "threads") } else { ("pair", "pairs") };
    let mut groups: Vec<(&str, Vec<usize>)> = Vec::new();
    for (way, k) in ways {
        match groups.iter_mut().find(|(w, _)| w == way) {
            Some((_, places)) => places.push(k + 1),
            None => groups.push((way, vec![k + 1])),
        }
    }
    let said = |way: &str, places: &[usize]| {
        let (verb, column) = if places.len() == 1 {
            ("s", format!("column {}", listed(places)))
        } else {
            ("", format!("columns {}", listed(places)))
        };
        way.replace("{s}", verb).replace("{column}", &column)
    };
    if let [(way, places)] = groups.as_slice() {
        let subject = match places.len() {
            1 => format!("The {called} {one} (place {})", places[0]),
            2 => format!("Both {called} {many} (places {})", listed(places)),
            n => format!("All {n} {called} {many}"),
        };
        return format!("{subject} {}.", said(way, places));
    }
    let parts: Vec<String> = groups
        .iter()
        .map(|(way, places)| {
            let who = if places.len() == 1 { "the one in place" } else { "those in places" };
            match way.contains("{column}") {
                true => format!("{} {}", places.len(), said(way, places)),
                false => format!("{who} {} {}", listed(places), said(way, places)),
            }
        })
        .collect();
    format!("Of the {} {called} {many}, {}.", ways.len(), parts.join("; "))
}

/// `3`, `3 and 7`, `1, 3 and 7`.
fn listed(numbers: &[usize]) -> String {
    let words: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::torchon;
    use crate::working::trace::EdgeStitches;

    fn told(work: &str, order: &str) -> Vec<String> {
        let ground = Ground::new(torchon(work, 0)).unwrap();
        let trace = ground.trace(8, 8).unwrap();
        let names = ["white".to_owned(), "gold".to_owned()];
        ground.trace_in_words(&trace, &order.parse().unwrap(), &names)
    }

    #[test]
    fn a_teacher_says_where_the_colours_go() {
        // The gold pairs hang in the places of one way.
        let words = told("CT pin CT", "A B A A A B A A");
        let gold = &words[1];
        assert!(
            gold.starts_with("Both gold pairs (places 2 and 6) travel to the ")
                && gold.ends_with(", one dot across for every dot down, past all 8 pairs in 8 dots down."),
            "{gold}"
        );
        assert!(
            words[0].starts_with("Of the 6 white pairs, those in places 1, 3, 5 and 7 travel to the "),
            "{words:?}"
        );
        assert_eq!(
            told("CTCT pin CTCT", "A A B A A A B A")[1],
            "Both gold pairs (places 3 and 7) stay in columns 3 and 7."
        );
        assert_eq!(told("CTCT pin CTCT", "7A B")[1], "The gold pair (place 8) stays in column 8.");
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
        let change = (Side::Left, 2, "CT pin CT".parse().unwrap());
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
