//! Facts of the trade that must come out of the mathematics. All of them are
//! common practice, no source.

use lace::samples::{rose, torchon};
use lace::{Code, Ground, Move, PairEffect, Stitch, Travel};

fn work(text: &str) -> Stitch {
    text.parse().expect("a work")
}

fn courses(text: &str) -> Vec<(Travel, usize)> {
    let ground = Ground::new(torchon(text, 0)).expect("a ground");
    ground.courses().iter().map(|c| (c.travel, c.threads)).collect()
}

/// Over or under where two threads cross: common practice, no source.
#[test]
fn a_cross_is_left_over_right_and_a_twist_right_over_left() {
    let cross = work("C").over_under();
    assert_eq!([&cross[1], &cross[2]], [&vec![true], &vec![false]]);
    let twist = work("T").over_under();
    assert_eq!(twist.map(|t| t[0]), [false, true, false, true]);
}

/// Half stitch, pin, half stitch: the pairs have changed sides and go on along
/// their diagonals, so a colour travels.
#[test]
fn in_torchon_ground_colours_travel() {
    assert_eq!(work("CT pin CT").pair_effect(), PairEffect::Swap);
    assert_eq!(courses("CT pin CT"), [(Travel::Left, 2), (Travel::Right, 2)]);
}

/// Cloth stitch and twist on both sides of the pin: every thread is back in its
/// own place, the pairs turn back, so a colour stays in its column.
#[test]
fn in_double_ground_colours_stay() {
    assert_eq!(work("CTCT pin CTCT").end_order(), [0, 1, 2, 3]);
    assert_eq!(courses("CTCT pin CTCT"), [(Travel::Stays, 4)]);
}

/// Three twists and an open pin: of each pair one thread runs on and one
/// zigzags.
#[test]
fn in_point_ground_one_thread_of_each_pair_runs_on() {
    assert_eq!(courses("CTTT pin"), [(Travel::Left, 1), (Travel::Stays, 2), (Travel::Right, 1)]);
}

/// A ground begun with the twist is the same ground, shifted by one move.
#[test]
fn beginning_with_the_twist_makes_the_same_ground() {
    assert_eq!(courses("TC pin TC"), courses("CT pin CT"));
    assert_eq!(courses("TCTC pin TCTC"), courses("CTCT pin CTCT"));
    assert_eq!(courses("TC pin"), courses("CT pin"));
}

/// Extra twists belong to the leg: two of them put both threads back.
#[test]
fn a_twist_on_the_leg_is_a_twist_before_the_stitch() {
    let mut legs = torchon("CT pin", 0);
    legs.legs.iter_mut().for_each(|leg| leg.twists = 2);
    let ground = Ground::new(legs).expect("a ground");
    let moved: Vec<_> = ground.courses().iter().map(|c| (c.travel, c.threads)).collect();
    assert_eq!(moved, courses("TTCT pin"));
    assert_eq!(ground.braid().nodes.len(), work("TTCT pin").crossings().count());
}

/// Rose ground: four pairs, four pins, two crossings without pins.
#[test]
fn a_rose_takes_four_pairs_and_four_pins() {
    let ground = Ground::new(rose("CTCT", "CT pin CT")).expect("a ground");
    assert_eq!(ground.warnings(), []);
    assert_eq!(ground.hanging().pairs().len(), 4);
    assert_eq!(ground.stitches().iter().filter(|s| s.stitch.pin().is_some()).count(), 4);
    let sentence = ground.travel_sentence();
    let halves = "half of them down to the left and half down to the right, along the diagonals";
    assert_eq!(sentence, format!("Every pair travels: {halves}."));
}

/// Threads in any work of crosses and twists go alternately over and under, and it
/// hangs together if every pair is joined to its neighbours.
#[test]
fn any_ground_of_crosses_and_twists_hangs_together() {
    for length in 2..=6usize {
        for bits in 0..1u32 << length {
            let moves = (0..length).map(|k| if bits >> k & 1 == 1 { Move::Cross } else { Move::Twist });
            let word = Stitch::new(moves.collect(), Some(length)).expect("a short work");
            let joins = word.moves().contains(&Move::Cross);
            let repeat = torchon(&word.to_string(), 0);
            match Ground::new(repeat) {
                Ok(_) => assert!(joins, "{word}"),
                Err(findings) => {
                    assert!(findings.iter().all(|f| !f.is_error() || f.code == Code::LiftsOff), "{word}");
                    // Threads that only ever cross each other come away from the rest.
                    let apart = !joins || word.moves().iter().filter(|&&m| m == Move::Twist).count() == 0;
                    assert!(apart, "{word}: {findings:?}");
                }
            }
        }
    }
}
