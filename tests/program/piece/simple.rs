//! A second simple program: traces threads of a piece as it is printed, from stitches
//! and legs alone, and works it through on a pillow.

use std::collections::BTreeMap;

use serde_json::Value;

/// A place in thousandths of a grid step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place(i64, i64);

impl Place {
    pub fn at(x: f64, y: f64) -> Place {
        Place((x * 1000.0).round() as i64, (y * 1000.0).round() as i64)
    }

    pub fn of(value: &Value) -> Place {
        Place::at(value[0].as_f64().unwrap(), value[1].as_f64().unwrap())
    }

    /// In grid steps.
    pub fn whole(self) -> [i64; 2] {
        assert!(self.0 % 1000 == 0 && self.1 % 1000 == 0, "{self:?}");
        [self.0 / 1000, self.1 / 1000]
    }
}

/// A thread: its pair, and 1 or 2.
pub type Thread = (String, u64);

/// What comes of a piece.
pub struct Worked {
    /// The stitches of every thread, by their numbers.
    pub paths: BTreeMap<Thread, Vec<u64>>,
    /// The pairs that end: the number of the last stitch, the side on which they leave
    /// it, and the two threads as they lie.
    pub ends: Vec<(Value, String, [Thread; 2])>,
    places: BTreeMap<u64, Place>,
}

/// Four things after some moves.
pub fn moved<T>([a, b, c, d]: [T; 4], moves: &str) -> [T; 4] {
    let mut four = [a, b, c, d];
    for word in moves.split_whitespace() {
        match word {
            "pin" => {}
            "twist-left" => four.swap(0, 1),
            "twist-right" => four.swap(2, 3),
            "pair-cross" | "pair-twist" => {
                four.swap(0, 2);
                four.swap(1, 3);
            }
            letters => {
                for letter in letters.chars() {
                    match letter {
                        'C' => four.swap(1, 2),
                        'T' => {
                            four.swap(0, 1);
                            four.swap(2, 3);
                        }
                        other => panic!("{other} in {moves}"),
                    }
                }
            }
        }
    }
    four
}

/// Where a pair comes into a stitch, or leaves it.
fn end(value: &Value) -> (u64, String) {
    (value[0].as_u64().unwrap(), value[1].as_str().unwrap().to_owned())
}

impl Worked {
    /// Works a piece in its order.
    pub fn of(piece: &Value) -> Worked {
        let mut paths: BTreeMap<Thread, Vec<u64>> = BTreeMap::new();
        let mut ends = Vec::new();
        let mut arrived: BTreeMap<(u64, String), [Thread; 2]> = BTreeMap::new();
        let legs = piece["legs"].as_array().unwrap();
        let mut lead = |leg: &Value, mut pair: [Thread; 2], arrived: &mut BTreeMap<_, _>| {
            if leg["twists"].as_u64().unwrap() % 2 == 1 {
                pair.reverse();
            }
            if leg["to"][0] == "end" {
                ends.push((leg["from"][0].clone(), leg["from"][1].as_str().unwrap().to_owned(), pair));
            } else {
                assert!(arrived.insert(end(&leg["to"]), pair).is_none(), "two pairs at {}", leg["to"]);
            }
        };
        let mut leaving: BTreeMap<(u64, String), &Value> = BTreeMap::new();
        for leg in legs {
            if leg["from"][0] == "pair" {
                let name = leg["from"][1].as_str().unwrap();
                let pair = [1, 2].map(|thread| (name.to_owned(), thread));
                for thread in &pair {
                    assert!(paths.insert(thread.clone(), Vec::new()).is_none(), "{name} is hung twice");
                }
                lead(leg, pair, &mut arrived);
            } else {
                assert!(leaving.insert(end(&leg["from"]), leg).is_none(), "two pairs leave {}", leg["from"]);
            }
        }
        let stitches = piece["stitches"].as_array().unwrap();
        let mut places = BTreeMap::new();
        for id in piece["order"].as_array().unwrap() {
            let stitch = stitches.iter().find(|stitch| stitch["id"] == *id).unwrap();
            let id = id.as_u64().unwrap();
            places.insert(id, Place::of(&stitch["at"]));
            let [left, right] = ["left", "right"].map(|side| {
                arrived.remove(&(id, side.to_owned())).unwrap_or_else(|| panic!("no pair at {id}, {side}"))
            });
            let ([a, b], [c, d]) = (left, right);
            let four = [a, b, c, d];
            for thread in &four {
                paths.get_mut(thread).unwrap().push(id);
            }
            let [a, b, c, d] = moved(four, stitch["moves"].as_str().unwrap());
            for (side, pair) in [("left", [a, b]), ("right", [c, d])] {
                let leg = leaving.remove(&(id, side.to_owned())).unwrap();
                lead(leg, pair, &mut arrived);
            }
        }
        assert!(arrived.is_empty() && leaving.is_empty() && places.len() == stitches.len());
        Worked { paths, ends, places }
    }

    /// Where a stitch lies.
    pub fn place(&self, id: &Value) -> Place {
        self.places[&id.as_u64().unwrap()]
    }
}

/// On every level between two rows as many pairs lie as were hung above it. Within an area
/// none goes up the pillow; one that goes up into another area comes down once more.
pub fn pairs_are_conserved(piece: &Value, worked: &Worked) -> Result<(), String> {
    let heights: std::collections::BTreeSet<i64> = worked.places.values().map(|place| place.1).collect();
    let legs = piece["legs"].as_array().unwrap();
    let height = |end: &Value| end[0].as_u64().map(|_| worked.place(&end[0]).1);
    let area = |end: &Value| &piece["stitches"][end[0].as_u64().unwrap() as usize - 1]["area"];
    for above in heights {
        // Just below this row.
        let (mut hung, mut lie) = (0i64, 0i64);
        for leg in legs {
            let (from, to) = (height(&leg["from"]), height(&leg["to"]));
            if leg["from"][0] == "pair" {
                hung += i64::from(to.is_some_and(|to| to <= above));
            } else {
                let begun = from.is_some_and(|from| from <= above);
                let over = to.is_some_and(|to| to <= above);
                if over && !begun && area(&leg["from"]) == area(&leg["to"]) {
                    return Err(format!("{leg} goes up"));
                }
                lie += i64::from(begun) - i64::from(over);
            }
        }
        if hung != lie {
            return Err(format!("{hung} pairs are hung above {above}, and {lie} lie there"));
        }
    }
    Ok(())
}

/// Works through the order on a pillow: pairs lie side by side in a line, and each stitch
/// takes two neighbours. A pair is hung when it is first wanted, beside the one it meets;
/// those of a straight start hang from the beginning.
pub fn worked_on_a_pillow(piece: &Value) -> Result<(), String> {
    let legs = piece["legs"].as_array().unwrap();
    let mut line: Vec<usize> = Vec::new();
    for k in 1.. {
        let top = format!("top {k}");
        match legs.iter().position(|leg| leg["from"][0] == "pair" && leg["from"][1] == top.as_str()) {
            Some(leg) => line.push(leg),
            None => break,
        }
    }
    let into: BTreeMap<(u64, String), usize> =
        (0..legs.len()).filter(|&k| legs[k]["to"][0] != "end").map(|k| (end(&legs[k]["to"]), k)).collect();
    let out: BTreeMap<(u64, String), usize> = (0..legs.len())
        .filter(|&k| legs[k]["from"][0] != "pair")
        .map(|k| (end(&legs[k]["from"]), k))
        .collect();
    for id in piece["order"].as_array().unwrap() {
        let id = id.as_u64().unwrap();
        let [left, right] = ["left", "right"].map(|side| into[&(id, side.to_owned())]);
        let place = |leg: usize, line: &[usize]| line.iter().position(|&one| one == leg);
        let is_new = |leg: usize| legs[leg]["from"][0] == "pair";
        match (place(left, &line), place(right, &line)) {
            (Some(l), Some(r)) if r == l + 1 => {}
            (Some(l), None) if is_new(right) => line.insert(l + 1, right),
            (None, Some(r)) if is_new(left) => line.insert(r, left),
            (None, None) if is_new(left) && is_new(right) => {
                // Outside of everything, on the side where they are hung.
                let on_the_right = legs[left]["from"][1].as_str().unwrap().contains("right");
                let at = if on_the_right { line.len() } else { 0 };
                line.splice(at..at, [left, right]);
            }
            places => return Err(format!("stitch {id} wants pairs at {places:?} in the line {line:?}")),
        }
        let l = place(left, &line).unwrap();
        for (k, side) in ["left", "right"].into_iter().enumerate() {
            line[l + k] = out[&(id, side.to_owned())];
        }
    }
    let ended = legs.iter().filter(|leg| leg["to"][0] == "end").count();
    if line.len() != ended || line.iter().any(|&leg| legs[leg]["to"][0] != "end") {
        return Err(format!("{ended} pairs end, and {} lie there", line.len()));
    }
    Ok(())
}
