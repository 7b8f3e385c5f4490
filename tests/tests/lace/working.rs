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

/// A variety by its name.
fn ground(name: &str) -> Ground {
    let (id, variety) = name.split_once('/').unwrap();
    let plugin = house::plugins().iter().find(|plugin| plugin.about.id == id).unwrap();
    let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
    Ground::new(repeat).unwrap()
}

/// Pairs of every step, counted from 1.
fn pairs_of(name: &str) -> Vec<[usize; 2]> {
    let order = ground(name).order_of_working();
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
    let leaf = |pairs: &str| format!("leaf, 4 times there and back with pairs {pairs}");
    assert_eq!(steps("plait/leaves"), [windmill.to_owned(), leaf("1 and 2"), leaf("3 and 4")]);
    let plait = |pairs: &str| format!("6 half stitches with pairs {pairs}");
    assert_eq!(steps("plait/six"), [windmill.to_owned(), plait("1 and 2"), plait("3 and 4")]);
    for name in ["flower/close", "flower/wide"] {
        let told = steps(name);
        let leaf = |words: &String| words.starts_with("leaf, 3 times there and back");
        let at = told.iter().position(|words| words.starts_with("windmill")).unwrap();
        assert!(
            told[..at].iter().rev().take(2).all(leaf) && told[at + 1..].iter().take(2).all(leaf),
            "{told:?}"
        );
        assert_eq!(told.iter().filter(|words| leaf(words)).count(), 4, "{told:?}");
        assert_eq!(told.iter().filter(|words| words.contains("over")).count(), 1, "{told:?}");
    }
}
