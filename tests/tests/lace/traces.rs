//! Grounds traced thread by thread.

use lace::{Braid, Cell, Code, Ground, UprightCell};
use pairwise_tests::traces::traces;

/// Whether every thread goes alternately over and under.
fn alternates(braid: &Braid) -> bool {
    // The thread from the upper left leaves to the lower right.
    let over = |node: usize, from_left: bool| braid.nodes[node].left_over == from_left;
    (0..2 * braid.nodes.len()).all(|out| {
        let into = braid.map.arrival(out);
        over(out / 2, out % 2 == 1) != over(into / 2, into.is_multiple_of(2))
    })
}

#[test]
fn stitches_in_sequence_move_every_thread_as_computed() {
    for (name, trace) in traces() {
        assert_eq!(trace.schedule.trace(), trace.images(), "{name}");
        let crossings: usize = trace.schedule.steps.iter().map(|step| step.1.crossings().count()).sum();
        assert_eq!(crossings, trace.crossings_per_period, "{name}");
    }
}

#[test]
fn grounds_move_every_thread_as_computed() {
    let mut traced = 0;
    for (name, trace) in traces() {
        let schedule = &trace.schedule;
        let repeat = schedule.repeat();
        let ground = match Ground::new(repeat) {
            Ok(ground) => ground,
            Err(findings) => {
                // A single unit without the pairs beside it closes into a tube.
                // Two threads that only cross each other are joined to nothing
                // else, however they alternate over and under.
                let expected = if name == "rose_single_unit_open_4_pairs" {
                    assert!(!schedule.is_closed());
                    Code::LegsMeet
                } else {
                    assert!(name.starts_with("cross_only"), "{name}: {findings:?}");
                    Code::LiftsOff
                };
                assert!(findings.iter().any(|f| f.code == expected), "{name}: {findings:?}");
                continue;
            }
        };
        traced += 1;
        let pairs = schedule.pairs_around;
        let around = 2 * pairs as i64;
        let hanging = ground.hanging();
        assert_eq!(hanging.pairs().len(), pairs, "{name}");

        // Pairs hang in the order of the schedule, beginning with any of them.
        let pair_of = |k: usize| {
            let hung = hanging.pairs()[k];
            let cell = ground.upright().to_definition(hung.cell);
            assert_eq!(cell.down, -1, "{name}");
            schedule.pair_of(ground.legs()[hung.leg].from, cell.across)
        };
        let shift = pair_of(0);
        for k in 0..pairs {
            assert_eq!(pair_of(k), shift + k as i64, "{name}");
        }
        let images = trace.images();
        for slot in 0..around {
            let ours = hanging.row().apply(slot - 2 * shift) + 2 * shift;
            assert_eq!(ours, images[slot as usize], "{name}, slot {slot}");
        }

        // After `order` rows every slot is back, apart from turns round the cylinder.
        let mut row = hanging.row().clone();
        let mut order = 1;
        while (0..around).any(|slot| (row.apply(slot) - slot) % around != 0) {
            row = row.then(hanging.row());
            order += 1;
        }
        assert_eq!(order, trace.order, "{name}");
        let reunited = (0..pairs as i64).all(|k| {
            hanging.row().apply(2 * k).div_euclid(2) == hanging.row().apply(2 * k + 1).div_euclid(2)
        });
        assert_eq!(reunited, trace.pairs_reunited_after_period, "{name}");

        // Closed threads: how far they go, and which slots they pass.
        let mut moved: Vec<Cell> = ground.orbits().iter().map(|o| o.cells).collect();
        let mut expected: Vec<Cell> =
            trace.cycles.iter().map(|c| Cell::new(c.net_turns, c.periods)).collect();
        moved.sort_unstable();
        expected.sort_unstable();
        assert_eq!(moved, expected, "{name}");
        assert_eq!(ground.orbits().len(), trace.distinct_threads_per_repeat, "{name}");
        for orbit in ground.orbits() {
            let mut slots: Vec<usize> = orbit
                .entries
                .iter()
                .map(|&entry| {
                    (hanging.origin(entry, UprightCell::ORIGIN) + 2 * shift).rem_euclid(around) as usize
                })
                .collect();
            slots.sort_unstable();
            slots.dedup();
            let found = trace.cycles.iter().any(|cycle| {
                let mut wanted = cycle.slots.clone();
                wanted.sort_unstable();
                wanted == slots && Cell::new(cycle.net_turns, cycle.periods) == orbit.cells
            });
            assert!(found, "{name}: no closed thread passes {slots:?}");
        }

        assert_eq!(ground.keeps_pairs(), trace.every_stitch_keeps_pairs, "{name}");
        assert_eq!(ground.braid().nodes.len(), trace.crossings_per_period, "{name}");
        assert_eq!(alternates(ground.braid()), trace.alternating, "{name}");
    }
    assert_eq!(traced, traces().len() - 3);
}
