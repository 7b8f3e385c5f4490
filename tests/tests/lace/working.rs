//! The order of working, worked: from pairs that hang side by side, stitch by stitch,
//! by nothing but the definition.

use std::collections::{BTreeMap, BTreeSet};

use lace::{End, Ground, Onward, OrderOfWorking, Side, Step, UprightCell};
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
    let mut row = vec![HERE];
    while row.len() < 10 {
        row.push(and(row[row.len() - 1], *right));
    }
    let mut pillow = Pillow::default();
    for &on in &row {
        steps.iter().for_each(|step| pillow.work(name, ground, step, on));
    }
    let (own, closing) = steps.split_at(*own);
    // Away from the ends of the row. The first has nothing to its left.
    for (k, &on) in row[3..7].iter().enumerate() {
        pillow.at_the_edge = k == 0;
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

/// Pairs of every step, counted from 1.
fn pairs_of(name: &str) -> Vec<[usize; 2]> {
    let (id, variety) = name.split_once('/').unwrap();
    let plugin = house::plugins().iter().find(|plugin| plugin.about.id == id).unwrap();
    let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
    let order = Ground::new(repeat).unwrap().order_of_working();
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

/// How often a weaver is left on its way.
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
        let weaves = crosses(leg)
            && !crosses(ground.leg_from(beside(from)))
            && !crosses(ground.leg_to(beside(to)));
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
        for next in &next {
            match turn(next) {
                None if ground.stitches()[copy.0].stitch.pin().is_some() => left.at_a_pin += 1,
                None => left.in_the_row += 1,
                Some(_) => {}
            }
        }
        let next: Vec<Copy> = next.into_iter().filter(|next| turn(next).is_some_and(|turn| turn > k)).collect();
        let Some(worked) = own.get(k + 1) else { continue };
        if next.is_empty() || next.contains(worked) {
            continue;
        }
        let waits = |copy: &Copy| {
            Side::BOTH.into_iter().any(|side| turn(&before(*copy, side)).is_some_and(|turn| turn > k))
        };
        let mut needed = next.clone();
        let mut k_needed = 0;
        while let Some(&copy) = needed.get(k_needed) {
            let more = Side::BOTH.map(|side| before(copy, side));
            needed.extend(more.into_iter().filter(|copy| turn(copy).is_some_and(|turn| turn > k)));
            k_needed += 1;
        }
        if !next.iter().all(waits) {
            left.ready += 1;
        } else if !needed.contains(worked) {
            left.waiting += 1;
        }
    }
    left
}

#[test]
fn listing() {
    for plugin in house::plugins() {
        for id in plugin.about.varieties.keys() {
            let name = format!("{}/{id}", plugin.about.id);
            let repeat = plugin.define(&plugin.about.resolve(Some(id), &[]).unwrap()).unwrap();
            let ground = Ground::new(repeat).unwrap();
            let order = ground.order_of_working();
            let left = weavers_left(&ground, &order);
            println!("{name} {} steps {} pairs {left:?}", order.steps.len(), order.pairs);
            if std::env::var("STEPS").is_ok_and(|n| n == name || n == "all") {
                for (k, (w, s)) in ground.steps_in_words(&order).iter().zip(&order.steps).enumerate() {
                    println!("{:3} {:14} {:?} {w}", k + 1, ground.stitches()[s.stitch].id, s.cell);
                }
            }
        }
    }
}
