//! The order of working, worked: from pairs that hang side by side, stitch by stitch,
//! by nothing but the definition.

use std::collections::{BTreeMap, BTreeSet};

use catalogue::Change;
use lace::{End, Ground, Onward, OrderOfWorking, Side, Step, TurnsTo, UprightCell};
use pairwise_tests::house;

/// A stitch in one place of the endless ground.
type Copy = (usize, UprightCell);

/// What hangs or lies on the pillow: the exit by which the pair in each place left
/// its last stitch, if it was in one.
#[derive(Default)]
struct Pillow {
    last: BTreeMap<i64, (Copy, Side)>,
    worked: BTreeSet<Copy>,
    /// Copies for which a pair was already taken from where it hung.
    passed: BTreeSet<Copy>,
    /// Whether other pairs may come from the edge, which is worked otherwise.
    at_the_edge: bool,
}

impl Pillow {
    /// Works a step, moved on; every pair must be there.
    fn work(&mut self, name: &str, ground: &Ground, step: &Step, on: Onward) {
        let copy = (step.stitch, step.cell + on.cell);
        let left = step.left_pair as i64 + on.places as i64;
        assert!(self.worked.insert(copy), "{name}: {step:?} is worked twice");
        assert!(!self.passed.contains(&copy), "{name}: another stitch waited for {step:?}");
        for (side, place) in Side::BOTH.into_iter().zip(left..) {
            let leg = ground.legs().iter().find(|leg| leg.to == End::new(step.stitch, side)).unwrap();
            let from = (leg.from.stitch, copy.1 - ground.upright().to_upright(leg.cell));
            let there = self.last.insert(place, (copy, side));
            if self.worked.contains(&from) {
                assert_eq!(there, Some((from, leg.from.side)), "{name}: the {side:?} pair of {step:?}");
            } else {
                assert!(self.at_the_edge || there.is_none(), "{name}: the {side:?} pair of {step:?} hangs");
                self.passed.insert(from);
            }
            assert_eq!(step.twists[side.index()], leg.twists, "{name}: {step:?}");
        }
    }
}

const HERE: Onward = Onward { cell: UprightCell::ORIGIN, places: 0 };

/// On by one more.
fn and(one: Onward, other: Onward) -> Onward {
    Onward { cell: one.cell + other.cell, places: one.places + other.places }
}

/// Works the order of a ground as the steps say, then the same to the right.
pub fn can_be_worked(name: &str, ground: &Ground, order: &OrderOfWorking) {
    let OrderOfWorking { pairs, side, own, steps, right, .. } = order;
    assert!(steps.iter().all(|step| step.left_pair + 2 <= *pairs), "{name}");
    let mut pillow = Pillow::default();
    for on in [HERE, *right, and(*right, *right)] {
        for step in steps {
            pillow.work(name, ground, step, on);
        }
    }
    // Every stitch of the repeat, as often as there are units.
    for stitch in 0..ground.stitches().len() {
        let times = steps[..*own].iter().filter(|step| step.stitch == stitch).count();
        assert_eq!(times, side * side, "{name}: {}", ground.stitches()[stitch].id);
    }
}

/// Works the next row below a row of some repeats of the order.
fn goes_on_below(name: &str, ground: &Ground, order: &OrderOfWorking) {
    let OrderOfWorking { own, steps, right, below, .. } = order;
    // Each hangs over so many of its neighbours.
    let over = order.pairs.div_ceil(right.places);
    let mut row = vec![HERE];
    while row.len() < 3 * over + 6 {
        row.push(and(row[row.len() - 1], *right));
    }
    let mut pillow = Pillow::default();
    for &on in &row {
        steps.iter().for_each(|step| pillow.work(name, ground, step, on));
    }
    let (own, closing) = steps.split_at(*own);
    // Away from the ends of the row. The first have nothing to their left.
    for (k, &on) in row[over + 1..2 * over + 5].iter().enumerate() {
        pillow.at_the_edge = k < over;
        let on = and(on, *below);
        for step in own {
            let worked = pillow.worked.contains(&(step.stitch, step.cell + on.cell));
            let closed = closing.iter().any(|closing| closing.stitch == step.stitch);
            assert_eq!(worked, closed, "{name}: {step:?} was worked to close the row above");
            if !worked {
                pillow.work(name, ground, step, on);
            }
        }
    }
}

#[test]
fn every_variety_is_worked_as_its_steps_say() {
    let mut varieties = 0;
    for plugin in house::plugins() {
        for id in plugin.about.varieties.keys() {
            let name = format!("{}/{id}", plugin.about.id);
            let repeat = plugin.define(&plugin.about.resolve(Some(id), &[]).unwrap()).unwrap();
            let ground = Ground::new(repeat).unwrap();
            let order = ground.order_of_working();
            can_be_worked(&name, &ground, &order);
            goes_on_below(&name, &ground, &order);
            let used: BTreeSet<usize> =
                order.steps.iter().flat_map(|step| [step.left_pair, step.left_pair + 1]).collect();
            assert_eq!(used.len(), order.pairs, "{name}: every pair that hangs is worked");
            varieties += 1;
        }
    }
    assert!(varieties >= 62, "{varieties}");
}

/// A variety by its name.
fn ground(name: &str) -> Ground {
    let (id, variety) = name.split_once('/').unwrap();
    let plugin = house::plugins().iter().find(|plugin| plugin.about.id == id).unwrap();
    let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
    Ground::new(repeat).unwrap()
}

/// A variety with its order of working.
fn order_of(name: &str) -> (Ground, OrderOfWorking) {
    let ground = ground(name);
    let order = ground.order_of_working();
    (ground, order)
}

/// Pairs of every step, counted from 1.
fn pairs_of(name: &str) -> Vec<[usize; 2]> {
    let (_, order) = order_of(name);
    order.steps.iter().map(|step| [step.left_pair + 1, step.left_pair + 2]).collect()
}

// Common practice, no source: see the notes of the rose ground.
#[test]
fn a_rose_begins_and_ends_with_its_crossings() {
    let (crossings, pins) = ([[1, 2], [3, 4]], [[2, 3], [1, 2], [3, 4], [2, 3]]);
    for name in ["rose/plain", "rose/doubled", "rose/halved", "rose/double-sides-bottom"] {
        assert_eq!(pairs_of(name), [&crossings[..], &pins, &crossings].concat(), "{name}");
    }
}

// Common practice, no source: every diagonal begins at the upper right and runs down
// to the left.
#[test]
fn grounds_of_one_stitch_run_diagonal_by_diagonal() {
    let diagonals = [[[3, 4], [2, 3], [1, 2]], [[4, 5], [3, 4], [2, 3]], [[5, 6], [4, 5], [3, 4]]].concat();
    for name in ["torchon/plain", "torchon/double", "point/plain", "brussels/plain", "mechlin/plain"] {
        assert_eq!(pairs_of(name), diagonals, "{name}");
    }
    let four = [[[4, 5], [3, 4], [2, 3], [1, 2]], [[5, 6], [4, 5], [3, 4], [2, 3]]];
    for name in ["tally/close", "net-tally/close"] {
        assert_eq!(pairs_of(name)[..8], four.concat(), "{name}");
    }
}

// Common practice, no source: the ground down to the legs, each right leg through all
// the left ones, the pin in the middle, and back.
#[test]
fn a_spider_is_legs_then_body_then_legs() {
    let ground = [[3, 4], [2, 3], [1, 2], [4, 5], [5, 6]];
    let body = [[3, 4], [2, 3], [4, 5], [3, 4], [2, 3], [4, 5], [3, 4]];
    assert_eq!(pairs_of("spider/two"), [&ground[..], &body].concat());
}

// Common practice, no source: the worker weaves row by row.
#[test]
fn a_diamond_is_woven_row_by_row() {
    let pairs = pairs_of("diamond/cloth");
    let rows =
        [[[5, 6]].to_vec(), vec![[6, 7], [5, 6], [4, 5]], vec![[5, 6], [6, 7], [7, 8], [6, 7], [5, 6]]];
    assert_eq!(pairs[9..18], rows.concat());
}

/// How often a weaver goes on its way, and is left on it.
#[derive(Debug, Default, PartialEq, Eq)]
struct Left {
    /// The next stitch could be worked at once, and another is.
    ready: usize,
    /// The next stitch waits for a pair, and what is worked next does not help it.
    waiting: usize,
    /// The next stitch is not among those worked together, though the weaver is not at
    /// a pin.
    in_the_row: usize,
    /// The same at a pin, where the weaver turns.
    at_a_pin: usize,
    /// How many times a weaver goes on from stitch to stitch.
    weaves: usize,
}

/// Follows every weaver: a pair that crosses over from one stitch to the next, while
/// passives hang straight down beside both.
fn weavers_left(ground: &Ground, order: &OrderOfWorking) -> Left {
    let legs = ground.legs();
    let crosses = |end: usize| legs[end].from.side != legs[end].to.side;
    let beside = |end: End| End::new(end.stitch, end.side.other());
    let on = |(stitch, cell): Copy, side: Side| {
        let leg = ground.leg_from(End::new(stitch, side));
        let (from, to) = (legs[leg].from, legs[leg].to);
        let weaves =
            crosses(leg) && !crosses(ground.leg_from(beside(from))) && !crosses(ground.leg_to(beside(to)));
        weaves.then(|| (to.stitch, cell + ground.upright().to_upright(legs[leg].cell)))
    };
    let before = |(stitch, cell): Copy, side: Side| {
        let leg = &legs[ground.leg_to(End::new(stitch, side))];
        (leg.from.stitch, cell - ground.upright().to_upright(leg.cell))
    };
    let own: Vec<Copy> = order.steps[..order.own].iter().map(|step| (step.stitch, step.cell)).collect();
    let turn = |copy: &Copy| own.iter().position(|own| own == copy);
    let mut left = Left::default();
    for (k, &copy) in own.iter().enumerate() {
        let next: Vec<Copy> = Side::BOTH.into_iter().filter_map(|side| on(copy, side)).collect();
        left.weaves += next.len();
        for next in &next {
            match turn(next) {
                None if ground.stitches()[copy.0].stitch.pin().is_some() => left.at_a_pin += 1,
                None => left.in_the_row += 1,
                Some(_) => {}
            }
        }
        let next: Vec<Copy> =
            next.into_iter().filter(|next| turn(next).is_some_and(|turn| turn > k)).collect();
        let Some(worked) = own.get(k + 1) else { continue };
        if next.is_empty() || next.contains(worked) {
            continue;
        }
        let waits = |copy: &Copy| {
            Side::BOTH.into_iter().any(|side| turn(&before(*copy, side)).is_some_and(|turn| turn > k))
        };
        let mut needed = BTreeSet::new();
        let mut found = next.clone();
        while let Some(copy) = found.pop() {
            if turn(&copy).is_some_and(|turn| turn > k) && needed.insert(copy) {
                found.extend(Side::BOTH.map(|side| before(copy, side)));
            }
        }
        if !next.iter().all(waits) {
            left.ready += 1;
        } else if !needed.contains(worked) {
            left.waiting += 1;
        }
    }
    left
}

/// Every variety, and the woven ones with other counts.
fn woven_in_every_size() -> Vec<(String, Ground)> {
    let mut grounds = Vec::new();
    let mut add = |id: &str, variety: &str, set: &[(&str, i32)]| {
        let plugin = house::plugins().iter().find(|plugin| plugin.about.id == id).unwrap();
        let change =
            |(choice, value): &(&str, i32)| Change { choice: (*choice).to_owned(), value: value.to_string() };
        let set: Vec<Change> = set.iter().map(change).collect();
        let repeat = plugin.define(&plugin.about.resolve(Some(variety), &set).unwrap()).unwrap();
        grounds.push((format!("{id}/{variety} {set:?}"), Ground::new(repeat).unwrap()));
    };
    for plugin in house::plugins() {
        for variety in plugin.about.varieties.keys() {
            add(&plugin.about.id, variety, &[]);
        }
    }
    for (pairs, pins) in [(2, 2), (2, 3), (2, 6), (3, 2), (3, 4), (3, 5), (4, 3), (4, 6)] {
        for strip in 1..=4 {
            add("trail", "cloth", &[("pairs", pairs), ("pins", pins), ("strip", strip)]);
        }
    }
    for size in 2..=7 {
        add("diamond", "cloth", &[("size", size), ("rows", 2)]);
        add("diamond", "half", &[("size", size)]);
    }
    for passives in 2..=8 {
        add("cloth", "columns", &[("passives", passives)]);
    }
    grounds
}

// Common practice, no source: a trail is worked row by row, and the ground beside it when
// the trail needs its pairs.
#[test]
fn no_weaver_is_left_on_its_way() {
    let mut weavers = 0;
    for (name, ground) in woven_in_every_size() {
        let order = ground.order_of_working();
        can_be_worked(&name, &ground, &order);
        goes_on_below(&name, &ground, &order);
        let Left { at_a_pin, weaves, .. } = weavers_left(&ground, &order);
        let expected = Left { at_a_pin, weaves, ..Left::default() };
        assert_eq!(weavers_left(&ground, &order), expected, "{name}");
        weavers += usize::from(weaves > 0);
    }
    // Trails, diamonds and columns.
    assert!(weavers >= 40, "{weavers}");
}

/// What the work turns to, with the number of the step.
fn turns_of(name: &str) -> Vec<(usize, TurnsTo)> {
    let steps = order_of(name).1.steps;
    steps.iter().zip(1..).filter_map(|(step, number)| Some((number, step.turns_to?))).collect()
}

// Six rows of one trail without a stop, but for the dots that bring a pair to its edge;
// then the two rows of the next to the left that these make possible.
#[test]
fn a_trail_is_followed_with_one_worker() {
    for name in ["trail/cloth", "trail/half"] {
        assert_eq!(
            turns_of(name),
            [
                (42, TurnsTo::Ground),
                (46, TurnsTo::BackToWeaving),
                (51, TurnsTo::Ground),
                (53, TurnsTo::OtherWeaving(Side::Left)),
                (71, TurnsTo::Ground),
            ],
            "{name}"
        );
        let (ground, order) = order_of(name);
        let words = ground.steps_in_words(&order);
        assert!(words[41].starts_with("now the ground beside it: "), "{}", words[41]);
        assert!(words[45].starts_with("back to the weaving: "), "{}", words[45]);
        assert!(words[52].starts_with("now the weaving farther left: "), "{}", words[52]);
        // From stitch to stitch the weaver is one of the two pairs.
        let pairs = pairs_of(name);
        for (k, two) in pairs.windows(2).enumerate() {
            let shared = two[0].iter().any(|pair| two[1].contains(pair));
            assert!(shared || [41, 45, 50, 52, 70].contains(&(k + 1)), "{name}: after step {}", k + 1);
        }
    }
    for name in ["diamond/cloth", "diamond/half", "diamond/cloth-twist"] {
        assert_eq!(turns_of(name), [(10, TurnsTo::Weaving)], "{name}");
    }
    for name in ["cloth/columns", "torchon/plain", "spider/three", "rose/plain", "flower/close"] {
        assert_eq!(turns_of(name), [], "{name}");
    }
}

// Common practice, no source: a windmill is worked in one go, as a cloth stitch of four
// pairs, and told in one line.
#[test]
fn leaves_and_the_windmill_between_them_are_a_step_each() {
    let steps = |name: &str| {
        let ground = ground(name);
        ground.steps_in_words(&ground.order_of_working())
    };
    let windmill = "windmill with pairs 1 and 2 and pairs 3 and 4, each pair used as one thread: 2 over 3, 2 over 1, \
                    4 over 3, pin, 2 over 3";
    let leaf = |pairs: &str| format!("leaf, four times there and back with pairs {pairs}");
    assert_eq!(steps("plait/leaves"), [windmill.to_owned(), leaf("1 and 2"), leaf("3 and 4")]);
    let plait = |pairs: &str| format!("six half stitches with pairs {pairs}");
    assert_eq!(steps("plait/six"), [windmill.to_owned(), plait("1 and 2"), plait("3 and 4")]);
    for name in ["flower/close", "flower/wide"] {
        let told = steps(name);
        let leaf = |words: &String| words.starts_with("leaf, three times there and back");
        let at = told.iter().position(|words| words.starts_with("windmill")).unwrap();
        assert!(
            told[..at].iter().rev().take(2).all(leaf) && told[at + 1..].iter().take(2).all(leaf),
            "{told:?}"
        );
        assert_eq!(told.iter().filter(|words| leaf(words)).count(), 4, "{told:?}");
        assert_eq!(told.iter().filter(|words| words.contains("over")).count(), 1, "{told:?}");
    }
}
