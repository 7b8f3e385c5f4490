//! Every finding: a repeat that has it, and a similar one that does not.
//!
//! Conditions on wirings: T. Biedl and V. Irvine, Graph Drawing 2017
//! (arXiv 1708.09778v3), C1 to C4. Hanging together: C. R. J. Clapham,
//! Bulletin of the London Mathematical Society 12, 1980. The rest is common
//! practice, no source.

use lace::samples::{leg, rose, stitch, torchon};
use lace::{Code, End, Lattice, Place, Point, Repeat, Severity, Side, check, point};
use pairwise_tests::schedule::Schedule;

use Side::{Left, Right};

const WHOLE: Place = Place::Repeat;

fn at(ids: &[&str]) -> Place {
    Place::Stitches(ids.iter().map(|id| (*id).to_owned()).collect())
}

fn by(from: &str, side: Side) -> Place {
    Place::Leg { from: from.to_owned(), side }
}

/// All findings, by code and place.
#[track_caller]
fn expect(repeat: &Repeat, expected: &[(Code, Place)]) {
    let found = check(repeat);
    let places: Vec<(Code, Place)> = found.iter().map(|f| (f.code, f.place.clone())).collect();
    assert_eq!(places, expected, "{found:#?}");
    for finding in &found {
        sentence(&finding.sentence);
    }
}

#[track_caller]
fn clean(repeat: &Repeat) {
    expect(repeat, &[]);
}

/// Checks that a sentence can follow a colon: no capital, no full stop, and no
/// terminal or page markup.
#[track_caller]
fn sentence(text: &str) {
    assert!(text.chars().next().is_some_and(|c| !c.is_uppercase()), "{text}");
    assert!(!text.ends_with('.') && !text.contains(char::is_control), "{text}");
}

/// A repeat with one change.
fn with(mut repeat: Repeat, change: impl FnOnce(&mut Repeat)) -> Repeat {
    change(&mut repeat);
    repeat
}

fn torchon_ground() -> Repeat {
    torchon("CT pin CT", 0)
}

fn rose_ground() -> Repeat {
    rose("CTCT", "CT pin CT")
}

fn schedule(pairs_around: usize, steps: &[(usize, &str)]) -> Schedule {
    let steps = steps.iter().map(|(left, work)| (*left, work.parse().expect("a work"))).collect();
    Schedule { pairs_around, steps }
}

/// Two stitches, places left out.
fn two(legs: [(usize, Side, usize, Side, [i64; 2]); 4]) -> Repeat {
    Repeat {
        lattice: Lattice { across: point(2.0, 0.0), down: point(0.0, 2.0) },
        stitches: ["a", "b"].map(|id| with_no_place(stitch(id, point(0.0, 0.0), "CT pin CT"))).to_vec(),
        legs: legs.iter().map(|&(f, s, t, e, cell)| leg((f, s), (t, e), cell)).collect(),
    }
}

fn with_no_place(mut stitch: lace::PlacedStitch) -> lace::PlacedStitch {
    stitch.at = None;
    stitch
}

/// Torchon with two stitches in the repeat: `a` and below it `b`.
fn two_rows() -> Repeat {
    two([
        (0, Left, 1, Right, [-1, 0]),
        (0, Right, 1, Left, [0, 0]),
        (1, Left, 0, Right, [0, 1]),
        (1, Right, 0, Left, [1, 1]),
    ])
}

/// Torchon as two rows of stitches: a repeat as wide as the pairs, with its copy
/// to the right lower by `slant`.
fn two_levels(pairs: usize, slant: f64) -> Repeat {
    let lefts: Vec<usize> = (0..pairs).step_by(2).chain((1..pairs).step_by(2)).collect();
    let steps: Vec<(usize, &str)> = lefts.iter().map(|&left| (left, "CT pin CT")).collect();
    let mut repeat = schedule(pairs, &steps).repeat();
    for (stitch, left) in repeat.stitches.iter_mut().zip(lefts) {
        stitch.at = Some(point(left as f64, (left % 2) as f64));
    }
    repeat.lattice = Lattice { across: point(pairs as f64, slant), down: point(0.0, 2.0) };
    repeat
}

#[test]
fn sound_grounds_have_no_findings() {
    clean(&torchon_ground());
    clean(&rose_ground());
    clean(&two_rows());
}

#[test]
fn codes_are_distinct_and_explained() {
    let words: std::collections::BTreeSet<&str> = Code::ALL.iter().map(|c| c.word()).collect();
    assert_eq!(words.len(), Code::ALL.len());
    for code in Code::ALL {
        assert!(lace::is_plain_word(code.word()));
        for text in [code.means(), code.why(), code.remedy()] {
            assert!(text.starts_with(char::is_uppercase) && text.ends_with('.'), "{text}");
        }
    }
    let errors = Code::ALL.iter().take_while(|c| c.severity() == Severity::Error).count();
    assert!(Code::ALL[errors..].iter().all(|c| c.severity() == Severity::Warning));
}

#[test]
fn no_stitches() {
    let empty = with(torchon_ground(), |r| {
        r.stitches.clear();
        r.legs.clear();
    });
    expect(&empty, &[(Code::NoStitches, WHOLE)]);
}

#[test]
fn too_large() {
    clean(&two_levels(2000, 0.0));
    expect(&two_levels(2002, 0.0), &[(Code::TooLarge, WHOLE), (Code::TooLarge, WHOLE)]);

    let twisted = |n| with(torchon_ground(), |r| r.legs[1].twists = n);
    clean(&twisted(64));
    expect(&twisted(65), &[(Code::TooLarge, by("dot", Right))]);

    // The same ground with the copies of its stitches numbered differently.
    let far = |cells: i16| {
        with(rose_ground(), |r| {
            for leg in &mut r.legs {
                leg.cell.across +=
                    i64::from(cells) * (i64::from(leg.to.stitch == 2) - i64::from(leg.from.stitch == 2));
            }
            let at = r.stitches[2].at.expect("a place");
            r.stitches[2].at = Some(at - r.lattice.across * f64::from(cells));
        })
    };
    clean(&far(1000));
    expect(
        &far(-1001),
        &[
            (Code::TooLarge, by("cross-left", Right)),
            (Code::TooLarge, by("cross-right", Left)),
            (Code::TooLarge, by("top", Left)),
            (Code::TooLarge, by("top", Right)),
        ],
    );

    // Set out aslant, so that only 64 repeats together come back level.
    clean(&two_levels(62, 2.0 / 64.0));
    expect(&two_levels(64, 2.0 / 64.0), &[(Code::TooLarge, WHOLE)]);
}

#[test]
fn bad_name() {
    for bad in ["", "Dot", "-dot", "a b", "é", "<b>", "\u{1b}[2J", &"x".repeat(41)] {
        expect(&with(torchon_ground(), |r| r.stitches[0].id = bad.into()), &[(Code::BadName, WHOLE)]);
    }
    for good in ["a", "1", "cross-left", "3-", &"x".repeat(40)] {
        clean(&with(torchon_ground(), |r| r.stitches[0].id = good.into()));
    }
    expect(&with(rose_ground(), |r| r.stitches[1].id = "top".into()), &[(Code::BadName, at(&["top"]))]);
}

#[test]
fn bad_number() {
    for bad in [f64::NAN, f64::INFINITY, -10_001.0] {
        expect(
            &with(rose_ground(), |r| r.stitches[2].at = Some(point(bad, 0.0))),
            &[(Code::BadNumber, at(&["top"]))],
        );
        let lattice = with(torchon_ground(), |r| r.lattice.down = point(-1.0, bad));
        expect(&lattice, &[(Code::BadNumber, WHOLE)]);
    }
    clean(&with(torchon_ground(), |r| r.stitches[0].at = Some(point(-10_000.0, 10_000.0))));
}

#[test]
fn bad_lattice() {
    let lattice =
        |across: Point, down: Point| with(torchon_ground(), |r| r.lattice = Lattice { across, down });
    for (across, down) in [
        // Swapped, collinear, zero, too small to draw, too low.
        (point(-1.0, 1.0), point(1.0, 1.0)),
        (point(1.0, 1.0), point(2.0, 2.0)),
        (point(0.0, 0.0), point(0.0, 0.0)),
        (point(0.05, 0.05), point(-0.05, 0.05)),
        (point(64.0, 0.001), point(-64.0, 0.001)),
    ] {
        expect(&lattice(across, down), &[(Code::BadLattice, WHOLE)]);
    }
    clean(&lattice(point(0.5, 0.5), point(-0.5, 0.5)));
}

#[test]
fn never_level() {
    let lattice =
        |y: f64| with(two_rows(), |r| r.lattice = Lattice { across: point(2.0, y), down: point(0.0, 2.0) });
    expect(&lattice(2.0 / std::f64::consts::PI), &[(Code::NeverLevel, WHOLE)]);
    clean(&lattice(0.125));
}

#[test]
fn places_missing() {
    let mut some = rose_ground();
    some.stitches[2].at = None;
    some.stitches[5].at = None;
    expect(&some, &[(Code::PlacesMissing, at(&["top", "bottom"]))]);
    some.stitches.iter_mut().for_each(|s| s.at = None);
    clean(&some);
}

#[test]
fn loose_end() {
    // The right exit of `top` and the left entry of `right`.
    let open = with(rose_ground(), |r| {
        r.legs.remove(5);
    });
    expect(&open, &[(Code::LooseEnd, at(&["top"])), (Code::LooseEnd, at(&["right"]))]);
    let sentences: Vec<String> = check(&open).into_iter().map(|finding| finding.sentence).collect();
    assert_eq!(
        sentences,
        [
            "a pair has nowhere to go: the right pair of stitch top",
            "stitch right waits for a pair: none comes in on the left",
        ]
    );
    let nowhere = with(rose_ground(), |r| r.legs[5].to = End::new(6, Left));
    expect(&nowhere, &[(Code::LooseEnd, WHOLE)]);
}

#[test]
fn used_twice() {
    let doubled = with(rose_ground(), |r| r.legs[5].to = r.legs[4].to);
    // Where it happens, and where the two pairs come from.
    expect(&doubled, &[(Code::UsedTwice, at(&["left", "top"])), (Code::LooseEnd, at(&["right"]))]);
    assert_eq!(
        check(&doubled)[0].sentence,
        "2 pairs come into stitch left on the right: the left pair of stitch top and the right pair of stitch top"
    );
}

#[test]
fn several_pieces() {
    // The legs of each of the two stitches lead back to itself.
    let apart = two([
        (0, Left, 0, Right, [-1, 1]),
        (0, Right, 0, Left, [0, 1]),
        (1, Left, 1, Right, [-1, 1]),
        (1, Right, 1, Left, [0, 1]),
    ]);
    expect(&apart, &[(Code::SeveralPieces, at(&["a"]))]);
    // Legs that skip every other dot: two grounds in the same place.
    let doubled = with(torchon_ground(), |r| r.legs[1].cell = [2, 0].into());
    expect(&doubled, &[(Code::SeveralPieces, WHOLE)]);
}

#[test]
fn legs_meet() {
    // Two holes do not close, one on each side of a wrong leg.
    let open = with(rose_ground(), |r| r.legs[5].cell = [1, 0].into());
    expect(&open, &[(Code::LegsMeet, by("top", Right))]);
    assert_eq!(
        check(&open)[0].sentence,
        "the right pair of stitch top (to right) goes to the wrong repeat, off by 1 repeat across"
    );

    // A strip with nothing beside it closes into a tube.
    let lone = schedule(2, &[(0, "CT pin CT"), (0, "CT pin CT")]).repeat();
    expect(
        &lone,
        &[(Code::LegsMeet, WHOLE), (Code::NoOrder, at(&["s0", "s1"])), (Code::NoOrder, at(&["s1", "s0"]))],
    );

    // Two pairs that pass each other without a stitch: they come into a stitch on the
    // wrong sides.
    let passing = with(rose_ground(), |r| {
        (r.legs[6].to, r.legs[7].to) = (r.legs[7].to, r.legs[6].to);
    });
    let both = [("right", Left), ("left", Right)].map(|(stitch, side)| (stitch.to_owned(), side)).to_vec();
    expect(&passing, &[(Code::LegsMeet, Place::Pairs(both))]);
    let said = &check(&passing)[0].sentence;
    assert!(
        said.contains("the left pair of stitch right")
            && said.contains("the one from the right comes in on the left"),
        "{said}"
    );

    // A wiring of the torus in which nothing leads across.
    let thin = with(torchon_ground(), |r| r.legs[0].cell = [1, 0].into());
    expect(&thin, &[(Code::LegsMeet, WHOLE)]);
}

#[test]
fn mirrored() {
    let exchanged = with(torchon_ground(), |r| {
        (r.legs[0].cell, r.legs[1].cell) = (r.legs[1].cell, r.legs[0].cell);
    });
    expect(&exchanged, &[(Code::Mirrored, WHOLE)]);
}

#[test]
fn no_order() {
    // `a` waits for its own left exit.
    let waiting = two([
        (0, Left, 0, Left, [0, 0]),
        (0, Right, 1, Left, [0, 0]),
        (1, Left, 1, Right, [-1, 0]),
        (1, Right, 0, Right, [0, 1]),
    ]);
    expect(&waiting, &[(Code::NoOrder, at(&["a"]))]);
    clean(&two_rows());
}

#[test]
fn not_down() {
    let lattice =
        |down: Point| with(torchon_ground(), |r| r.lattice = Lattice { across: point(1.0, 0.0), down });
    // The right-hand pair runs level for ever, then climbs.
    expect(&lattice(point(-1.0, 1.0)), &[(Code::NotDown, at(&["dot"]))]);
    let climbing = with(torchon_ground(), |r| {
        r.lattice = Lattice { across: point(1.0, -0.25), down: point(-1.0, 1.25) };
    });
    expect(&climbing, &[(Code::NotDown, at(&["dot"])), (Code::RunsUphill, by("dot", Right))]);
    clean(&with(torchon_ground(), |r| {
        r.lattice = Lattice { across: point(1.0, 0.25), down: point(-1.0, 0.75) };
    }));
    // Workers that never turn: one pair runs level to the left for ever, and in
    // the next row one to the right.
    let workers = two([
        (0, Left, 0, Right, [-1, 0]),
        (0, Right, 1, Right, [0, 0]),
        (1, Left, 0, Left, [0, 1]),
        (1, Right, 1, Left, [1, 0]),
    ]);
    expect(&workers, &[(Code::NotDown, at(&["a"]))]);
}

#[test]
fn pairs_drift() {
    let lattice = |x: f64| {
        with(torchon_ground(), |r| r.lattice = Lattice { across: point(1.0, 1.0), down: point(x, 1.0) })
    };
    expect(&lattice(-1.5), &[(Code::PairsDrift, at(&["dot"]))]);
    expect(&lattice(-0.5), &[(Code::PairsDrift, at(&["dot"]))]);
    clean(&lattice(-1.0));
}

#[test]
fn lifts_off() {
    // Pairs that go to the right lie over all the others.
    expect(&torchon("pair-cross pin", 0), &[(Code::LiftsOff, at(&["dot"]))]);
    // Alternately over and under from row to row: the pairs are woven.
    clean(&with(two_rows(), |r| {
        r.stitches[0].stitch = "pair-cross pin".parse().expect("a work");
        r.stitches[1].stitch = "pair-twist pin".parse().expect("a work");
        r.legs.iter_mut().for_each(|leg| leg.twists = 1);
    }));
}

#[test]
fn no_pin() {
    expect(&torchon("CTCT", 0), &[(Code::NoPin, WHOLE)]);
    clean(&with(two_rows(), |r| r.stitches[0].stitch = "CTCT".parse().expect("a work")));
}

#[test]
fn pairs_unlinked() {
    let unlinked = |work: &str| with(rose_ground(), |r| r.stitches[2].stitch = work.parse().expect("a work"));
    expect(&unlinked("T pin twist-left T"), &[(Code::PairsUnlinked, at(&["top"]))]);
    clean(&unlinked("T pin C"));
}

#[test]
fn one_long_stitch() {
    let long = schedule(2, &[(0, "CT pin"), (0, "CT"), (1, "CT pin")]).repeat();
    expect(&long, &[(Code::OneLongStitch, at(&["s0", "s1"]))]);
    clean(&schedule(2, &[(0, "CT pin"), (1, "CT pin"), (0, "CT"), (1, "CT")]).repeat());
}

#[test]
fn legs_drawn_crossing() {
    let moved = |x: f64| with(rose_ground(), |r| r.stitches[5].at = Some(point(x, 2.0)));
    clean(&moved(0.5));
    let found = check(&moved(1.8));
    assert!(found.iter().all(|f| f.code == Code::LegsDrawnCrossing) && !found.is_empty(), "{found:#?}");
    assert!(found.iter().all(|f| f.place.to_string().contains("bottom")), "{found:#?}");
}

#[test]
fn lopsided() {
    let raised = |y: f64| {
        with(two_rows(), |r| {
            r.stitches[0].at = Some(point(0.0, 0.0));
            r.stitches[1].at = Some(point(1.0, y));
        })
    };
    clean(&raised(1.0));
    let found =
        check(&with(raised(0.1), |r| r.lattice = Lattice { across: point(0.5, 0.0), down: point(0.0, 8.0) }));
    let lopsided: Vec<&lace::Finding> = found.iter().filter(|f| f.code == Code::Lopsided).collect();
    assert_eq!(lopsided.len(), 1, "{found:#?}");
    assert!(matches!(&lopsided[0].place, Place::Leg { from, .. } if from == "b"), "{found:#?}");
}

#[test]
fn runs_uphill() {
    let raised = |y: f64| with(rose_ground(), |r| r.stitches[2].at = Some(point(0.0, y)));
    clean(&raised(0.0));
    expect(
        &raised(-0.125),
        &[(Code::RunsUphill, by("cross-left", Right)), (Code::RunsUphill, by("cross-right", Left))],
    );
}
