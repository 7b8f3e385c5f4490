//! Budgets of work: what would take too much memory or time is refused by the
//! check, and what it accepts is drawn within its budget.

use compare::pattern::{Seen, SoftenedRepeat};
use lace::limits::{
    MAX_CROSSINGS, MAX_CROSSINGS_PER_STEP, MAX_FINDINGS, MAX_LEGS_PER_STEP, MAX_MOVES, MAX_SYMMETRIES,
    MAX_SYMMETRY_PLACES,
};
use lace::samples::{leg, rose, stitch, torchon};
use lace::{
    ArrangementSymmetry, Cell, Code, DistinctArrangements, Grid, Ground, Lattice, Pattern, Repeat, Side,
    check, point,
};
use pairwise_tests::house::plugins;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::drawing::{Shape, rect};
use picture::layout::{lay_out, lay_out_within};
use picture::limits::LAYOUT_WORK;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Plain torchon ground, one row of `n` stitches in a repeat.
fn wide(n: usize, work: &str) -> Repeat {
    let legs = (0..n).flat_map(|k| {
        let wraps = i64::from(k + 1 == n);
        [
            leg((k, Side::Left), (k, Side::Right), [0, 1]),
            leg((k, Side::Right), ((k + 1) % n, Side::Left), [wraps, 1]),
        ]
    });
    Repeat {
        lattice: Lattice { across: point(2.0 * n as f64, 0.0), down: point(-1.0, 1.0) },
        legs: legs.collect(),
        stitches: (0..n).map(|k| stitch(&format!("s{k}"), point(2.0 * k as f64, 0.0), work)).collect(),
    }
}

/// Torchon as two rows, the second of them written far away.
fn far(by: [f64; 2]) -> Repeat {
    let mut repeat = Repeat {
        lattice: Lattice { across: point(2.0, 0.0), down: point(0.0, 2.0) },
        stitches: vec![stitch("a", point(0.0, 0.0), "CT pin CT"), stitch("b", point(1.0, 1.0), "CT pin CT")],
        legs: vec![
            leg((0, Side::Left), (1, Side::Right), [-1, 0]),
            leg((0, Side::Right), (1, Side::Left), [0, 0]),
            leg((1, Side::Left), (0, Side::Right), [0, 1]),
            leg((1, Side::Right), (0, Side::Left), [1, 1]),
        ],
    };
    repeat.stitches[1].at = Some(point(by[0], by[1]));
    repeat
}

/// One stitch of torchon ground drawn out into a chain of `n`, so long that all
/// threads of the repeat touch each other.
fn tower(n: usize, size: f64) -> Repeat {
    let legs = (0..n).flat_map(|k| {
        let next = |side: Side, cell: [i64; 2]| match k + 1 < n {
            true => leg((k, side), (k + 1, side), [0, 0]),
            false => leg((k, side), (0, side.other()), cell),
        };
        [next(Side::Left, [0, 1]), next(Side::Right, [1, 0])]
    });
    Repeat {
        lattice: Lattice { across: point(size, 1.0), down: point(-size, 1.0) },
        legs: legs.collect(),
        stitches: (0..n)
            .map(|k| stitch(&format!("s{k}"), point(0.0, k as f64 / n as f64), "CT pin CT"))
            .collect(),
    }
}

fn is_too_large(repeat: &Repeat) -> bool {
    check(repeat).iter().any(|f| f.code == Code::TooLarge)
}

/// How many steps of paths a drawing of a common size holds.
fn steps_drawn(ground: &Ground) -> usize {
    let grid = Grid::new(4.0, 45.0).unwrap();
    let layout = lay_out_within(ground, &grid, 4.0 / 12.0, LAYOUT_WORK / 100);
    let look = ThreadLook::new(Vec::new(), 10.0);
    let drawing = draw_threads(ground, &layout, rect(0.0, 0.0, 16.0, 16.0), &look);
    let shapes = drawing.groups.iter().flat_map(|group| &group.shapes);
    shapes.map(|shape| if let Shape::Path { path, .. } = shape { path.steps.len() } else { 0 }).sum()
}

#[test]
fn a_leg_that_runs_far_is_refused_with_its_place() {
    let findings = check(&far([10_000.0, -10_000.0]));
    let found = findings.iter().find(|f| f.code == Code::TooLarge).expect("it cannot be drawn");
    assert!(found.sentence.contains("pass over one square grid step"), "{}", found.sentence);
    assert!(!is_too_large(&far([1.0, 1.0])) && !is_too_large(&far([5.0, 1.0])));
}

#[test]
fn a_crowd_of_crossings_is_refused_and_pair_moves_count_as_four() {
    let moves = |word: &str, n: usize| torchon(&vec![word; n].join(" "), 0);
    // Torchon has a stitch for every two square grid steps.
    for (word, crossings) in [("C", 1), ("pair-cross", 4), ("T", 2)] {
        let most = 2 * MAX_CROSSINGS_PER_STEP as usize / crossings;
        assert!(!is_too_large(&moves(word, most.min(MAX_MOVES))), "{word}");
        assert!(most >= MAX_MOVES || is_too_large(&moves(word, most + 1)), "{word}");
    }
    let stitches = MAX_CROSSINGS / 256 + 1;
    let many = check(&wide(stitches, &["C"; 256].join(" ")));
    assert!(many.iter().any(|f| f.sentence.contains("20224 times in the repeat")), "{many:?}");
}

#[test]
fn of_many_findings_the_first_are_listed_and_the_others_counted() {
    let findings = check(&wide(2000, "T"));
    let of = |code: Code| findings.iter().filter(|f| f.code == code).collect::<Vec<_>>();
    let unlinked = of(Code::PairsUnlinked);
    assert_eq!(unlinked.len(), MAX_FINDINGS);
    let last = &unlinked[MAX_FINDINGS - 1].sentence;
    assert!(last.ends_with("the same is found in 1950 more places"), "{last}");
    assert!(!unlinked[MAX_FINDINGS - 2].sentence.contains("more places"));
    let mut loose = wide(2000, "CT pin CT");
    loose.legs.clear();
    assert_eq!(check(&loose).len(), MAX_FINDINGS);
    // All to one side of one stitch.
    let mut heaped = wide(2000, "CT pin CT");
    heaped.legs.iter_mut().for_each(|leg| leg.to = lace::End::new(7, Side::Left));
    assert!(check(&heaped).iter().all(|f| f.sentence.len() < 1000));
}

#[test]
fn symmetries_of_a_wide_repeat_take_little_memory_and_say_that_some_are_missing() {
    let ground = Ground::new(wide(1999, "CT pin CT")).unwrap();
    assert!(ground.slot_symmetries().len() < 10, "a shift that others make is no generator");
    let symmetry = ArrangementSymmetry::new(&ground, 3998);
    assert!(!symmetry.is_complete());
    assert_eq!(symmetry.count(2, false), None);
    assert!(symmetry.elements().len() <= MAX_SYMMETRIES.min(MAX_SYMMETRY_PLACES / 3998));
    let symmetry = [symmetry];
    assert_eq!(DistinctArrangements::new(&symmetry, 2, false).take(3).count(), 3);
}

/// The same ground in repeats of several widths has the same symmetries. (The lattices
/// of these are not their own mirror image.)
#[test]
fn generators_passed_over_lose_no_symmetry() {
    let count = |repeat: Repeat| {
        let symmetry = ArrangementSymmetry::new(&Ground::new(repeat).unwrap(), 12);
        assert!(symmetry.is_complete());
        symmetry.count(3, true)
    };
    let narrow = count(wide(2, "CT pin CT"));
    for n in [3, 6] {
        assert_eq!(count(wide(n, "CT pin CT")), narrow, "{n} stitches");
    }
}

#[test]
fn the_pattern_of_a_wide_repeat_is_that_of_a_narrow_one() {
    let grid = Grid::new(4.0, 45.0).unwrap();
    let [narrow, broad] = [torchon("CT pin CT", 0), wide(49, "CT pin CT")].map(|repeat| {
        let ground = Ground::new(repeat).unwrap();
        let softened = SoftenedRepeat::new(&ground, &lay_out(&ground, &grid, 4.0 / 12.0));
        move |hung: &str| Seen::new(&softened, &ground, &hung.parse().unwrap()).pattern
    });
    for colours in ["A", "A B", "4A 4B", "A B A A"] {
        assert_eq!(broad(colours), narrow(colours), "{colours}");
    }
    assert_eq!(narrow("4A 4B"), Pattern::Checks);
}

// `cargo test --workspace --test lace share_of_the_work -- --nocapture` prints
// the figures.
#[test]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn every_variety_needs_a_small_share_of_the_work_and_of_the_room() {
    println!("variety; share of the layout's work; crossings and pairs over a square grid step, of the most");
    let mut varieties = 0;
    for plugin in plugins() {
        for variety in plugin.about.varieties.keys() {
            varieties += 1;
            let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
            let ground = Ground::new(repeat).unwrap();
            let grid = Grid::new(4.0, plugin.about.angle).unwrap();
            let report = lay_out(&ground, &grid, 4.0 / 12.0).report;
            let share = report.work as f64 / LAYOUT_WORK as f64;
            let area = ground.lattice().area();
            let crossings = ground.braid().nodes.len() as f64 / area / MAX_CROSSINGS_PER_STEP;
            let over = ground.legs().iter().map(|leg| {
                let run = ground.places()[leg.to.stitch] + ground.lattice().place(leg.cell)
                    - ground.places()[leg.from.stitch];
                (run.x.abs() + 1.0) * (run.y.abs() + 1.0)
            });
            let legs = over.sum::<f64>() / area / MAX_LEGS_PER_STEP;
            println!("{}/{variety}; {share:.4}; {crossings:.3}; {legs:.3}", plugin.about.id);
            assert!(!report.gave_up && share < 0.1 && crossings < 0.25 && legs < 0.25);
        }
    }
    assert!(varieties >= 60);
}

#[test]
fn a_layout_out_of_work_says_so_and_stays_within_it() {
    let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
    let grid = Grid::new(4.0, 45.0).unwrap();
    let all = lay_out(&ground, &grid, 4.0 / 12.0).report;
    assert!(all.converged && !all.gave_up);
    for share in [0, 1, 10, 50, 90] {
        let most = all.work * share / 100;
        let layout = lay_out_within(&ground, &grid, 4.0 / 12.0, most);
        let again = lay_out_within(&ground, &grid, 4.0 / 12.0, most);
        assert!(layout.report.gave_up && !layout.report.converged, "{share} %: {:?}", layout.report);
        // One step of the descent tries a dozen places at most.
        assert!(layout.report.work <= most + all.work / 10, "{share} %: {:?} of {most}", layout.report);
        assert_eq!((layout.lines, layout.report), (again.lines, again.report));
    }
    let enough = lay_out_within(&ground, &grid, 4.0 / 12.0, 2 * all.work);
    assert_eq!(enough.report, all);
}

#[test]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn the_layout_of_the_largest_repeats_ends() {
    for (name, repeat) in [("tower", tower(2000, 24.0)), ("wide", wide(1999, "CTCT pin CT"))] {
        let ground = Ground::new(repeat).unwrap();
        let report = lay_out(&ground, &Grid::new(4.0, 45.0).unwrap(), 4.0 / 12.0).report;
        println!("{name}: {report:?}");
        assert!(report.converged || report.gave_up, "{name}: {report:?}");
        assert!(report.work <= LAYOUT_WORK + LAYOUT_WORK / 10, "{name}: {report:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(7),
        ..ProptestConfig::with_cases(24)
    })]

    /// Wherever the second stitch lies, the repeat is refused or drawn with few steps.
    #[test]
    fn what_is_accepted_is_drawn_in_few_steps(
        x in -60.0..60.0f64, y in -60.0..60.0f64, twists in 0u32..=64, size in 0.02..2.0f64,
    ) {
        let mut repeat = far([x, y]).twisted(twists);
        let l = repeat.lattice;
        repeat.lattice = Lattice { across: l.across * size, down: l.down * size };
        if let Ok(ground) = Ground::new(repeat) {
            prop_assert!(steps_drawn(&ground) < 10_000_000);
        }
    }

    /// However the steps of the lattice are written, the same is drawn.
    #[test]
    fn steps_written_otherwise_are_refused_or_accepted_alike(n in 1usize..5, times in -5000i64..5000) {
        let plain = wide(n, "CT pin CT");
        let mut sheared = plain.clone();
        let l = sheared.lattice;
        sheared.lattice = Lattice { across: l.across, down: l.down + l.across * times as f64 };
        for leg in &mut sheared.legs {
            leg.cell = Cell::new(leg.cell.across - times * leg.cell.down, leg.cell.down);
        }
        if let Ok(ground) = Ground::new(sheared) {
            let steps = steps_drawn(&Ground::new(plain).unwrap());
            // The window lies elsewhere on the lattice only by whole steps.
            prop_assert_eq!(steps_drawn(&ground), steps);
        }
    }
}
