//! Random repeats: the check answers any input, and any repeat it accepts can be
//! traced, measured and worked.

use lace::{
    Cell, Code, End, Finding, Grid, Ground, Lattice, Leg, Move, Place, PlacedStitch, Point, Repeat, Side,
    Stitch, Thread, ThreadEntry, UprightCell, UprightLattice, check, point,
};
use pairwise_tests::data;
use pairwise_tests::schedule::Schedule;
use picture::colour::rgb;
use picture::drawing::rect;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::drawing::working_diagram::{DiagramLook, WorkingDiagram};
use picture::export::pdf::to_pdf;
use picture::export::raster::rasterise;
use picture::export::svg::to_svg;
use picture::layout::lay_out;
use proptest::prelude::*;

fn any_work() -> impl Strategy<Value = Stitch> {
    let moves = prop::collection::vec(prop::sample::select(Move::ALL.to_vec()), 0..8);
    (moves, prop::option::of(0usize..9))
        .prop_map(|(moves, pin)| Stitch::new(moves, pin).expect("a short work"))
}

/// Mostly stitches that lacemakers use, sometimes another.
fn usual_work() -> impl Strategy<Value = Stitch> {
    let usual = ["CT pin CT", "CTCT pin CTCT", "CTCT", "CTC", "CT pin", "CTTT pin", "CT", "CTT pin CTT"];
    prop_oneof![
        9 => prop::sample::select(usual.to_vec()).prop_map(|text| text.parse().expect("a work")),
        1 => any_work(),
    ]
}

/// Schedules that work each pair with both its neighbours.
fn schedule() -> impl Strategy<Value = Schedule> {
    (
        2usize..6,
        prop::collection::vec((0usize..6, usual_work()), 0..12),
        prop::collection::vec(usual_work(), 6),
    )
        .prop_map(|(pairs, mut steps, more)| {
            steps.iter_mut().for_each(|step| step.0 %= pairs);
            for (left, work) in (0..pairs).zip(more) {
                if !steps.iter().any(|step| step.0 == left) {
                    steps.push((left, work));
                }
            }
            Schedule { pairs_around: pairs, steps }
        })
}

/// The same ground written differently: stitches moved by whole cells, extra
/// twists, places left out, and the lattice given by other vectors.
fn rewritten(repeat: &Repeat, moves: &[Cell], steps: &[i32], places: bool) -> Repeat {
    let mut repeat = repeat.clone();
    let moved = |stitch: usize| moves[stitch % moves.len()];
    for leg in &mut repeat.legs {
        leg.cell += moved(leg.to.stitch) - moved(leg.from.stitch);
    }
    for (s, stitch) in repeat.stitches.iter_mut().enumerate() {
        let there = repeat.lattice.place(moved(s));
        stitch.at = stitch.at.filter(|_| places).map(|at| at - there);
    }
    // Add a multiple of one vector to the other, alternately; cells of legs are
    // counted in the new vectors.
    for (k, &times) in steps.iter().enumerate() {
        let l = repeat.lattice;
        if k % 2 == 0 {
            repeat.lattice = Lattice { across: l.across, down: l.down + l.across * f64::from(times) };
            repeat.legs.iter_mut().for_each(|leg| leg.cell.across -= i64::from(times) * leg.cell.down);
        } else {
            repeat.lattice = Lattice { across: l.across + l.down * f64::from(times), down: l.down };
            repeat.legs.iter_mut().for_each(|leg| leg.cell.down -= i64::from(times) * leg.cell.across);
        }
    }
    repeat
}

/// A change that is likely to spoil a repeat.
#[derive(Clone, Debug)]
enum Spoil {
    Cell(usize, Cell),
    Exchange(usize, usize),
    Turn(usize),
    Work(usize, Stitch),
    Twists(usize, u32),
    Place(usize, Option<Point>),
    Lattice(Lattice),
    Drop(usize),
    Name(usize, String),
}

fn coordinate() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => (-8i32..=8).prop_map(f64::from),
        4 => -3.0..3.0f64,
        1 => prop::sample::select(vec![f64::NAN, f64::INFINITY, 1e300, 1e-300, 1e4, -1e4, 1e-7, -0.0]),
        1 => any::<f64>(),
    ]
}

fn any_point() -> impl Strategy<Value = Point> {
    (coordinate(), coordinate()).prop_map(|(x, y)| point(x, y))
}

fn any_lattice() -> impl Strategy<Value = Lattice> {
    (any_point(), any_point()).prop_map(|(across, down)| Lattice { across, down })
}

fn spoil() -> impl Strategy<Value = Spoil> {
    let number = 0usize..64;
    prop_oneof![
        (number.clone(), [-3i64..4, -3i64..4]).prop_map(|(l, cell)| Spoil::Cell(l, cell.into())),
        (number.clone(), number.clone()).prop_map(|(a, b)| Spoil::Exchange(a, b)),
        number.clone().prop_map(Spoil::Turn),
        (number.clone(), any_work()).prop_map(|(s, work)| Spoil::Work(s, work)),
        (number.clone(), 0u32..80).prop_map(|(l, n)| Spoil::Twists(l, n)),
        (number.clone(), prop::option::of(any_point())).prop_map(|(s, at)| Spoil::Place(s, at)),
        any_lattice().prop_map(Spoil::Lattice),
        number.clone().prop_map(Spoil::Drop),
        (number, "[a-z\u{1b}<é -]{0,4}").prop_map(|(s, id)| Spoil::Name(s, id)),
    ]
}

fn spoiled(mut repeat: Repeat, changes: Vec<Spoil>) -> Repeat {
    for change in changes {
        let (legs, stitches) = (repeat.legs.len(), repeat.stitches.len());
        if legs == 0 || stitches == 0 {
            continue;
        }
        match change {
            Spoil::Cell(l, cell) => repeat.legs[l % legs].cell = cell,
            Spoil::Exchange(a, b) => {
                let to = repeat.legs[a % legs].to;
                repeat.legs[a % legs].to = repeat.legs[b % legs].to;
                repeat.legs[b % legs].to = to;
            }
            Spoil::Turn(l) => {
                let leg = &mut repeat.legs[l % legs];
                (leg.from, leg.to) = (leg.to, leg.from);
            }
            Spoil::Work(s, work) => repeat.stitches[s % stitches].stitch = work,
            Spoil::Twists(l, n) => repeat.legs[l % legs].twists = n,
            Spoil::Place(s, at) => repeat.stitches[s % stitches].at = at,
            Spoil::Lattice(lattice) => repeat.lattice = lattice,
            Spoil::Drop(l) => {
                repeat.legs.remove(l % legs);
            }
            Spoil::Name(s, id) => repeat.stitches[s % stitches].id = id,
        }
    }
    repeat
}

/// Any stitches and any legs at all.
fn nonsense() -> impl Strategy<Value = Repeat> {
    let end = (0usize..5, any::<bool>())
        .prop_map(|(s, left)| End::new(s, if left { Side::Left } else { Side::Right }));
    let cell = prop_oneof![8 => -2i64..3, 1 => any::<i64>()];
    let leg = (end.clone(), end, [cell.clone(), cell], prop_oneof![8 => 0u32..3, 1 => any::<u32>()])
        .prop_map(|(from, to, cell, twists)| Leg { from, to, cell: cell.into(), twists });
    let stitch = (any_work(), prop::option::weighted(0.9, any_point())).prop_map(|(work, at)| PlacedStitch {
        id: String::new(),
        at,
        stitch: work,
    });
    (any_lattice(), prop::collection::vec(stitch, 0..5), prop::collection::vec(leg, 0..11)).prop_map(
        |(lattice, mut stitches, legs)| {
            stitches.iter_mut().enumerate().for_each(|(s, stitch)| stitch.id = format!("s{s}"));
            Repeat { lattice, stitches, legs }
        },
    )
}

/// Any wiring that uses every end once, which random legs hardly ever do.
fn wired() -> impl Strategy<Value = Repeat> {
    (1usize..5).prop_flat_map(|n| {
        let arrivals = Just((0..2 * n).collect::<Vec<_>>()).prop_shuffle();
        let cells = prop::collection::vec([-1i64..2, -1i64..2], 2 * n);
        let upright = Lattice { across: point(2.0, 0.0), down: point(0.0, 2.0) };
        let diagonal = Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) };
        let lattice = prop_oneof![4 => Just(upright), 4 => Just(diagonal), 1 => any_lattice()];
        (arrivals, cells, lattice, prop::collection::vec(usual_work(), n)).prop_map(
            |(arrivals, cells, lattice, works)| Repeat {
                lattice,
                stitches: works
                    .into_iter()
                    .enumerate()
                    .map(|(s, work)| PlacedStitch { id: format!("s{s}"), at: None, stitch: work })
                    .collect(),
                legs: (arrivals.into_iter().zip(cells).enumerate())
                    .map(|(out, (into, cell))| Leg {
                        from: End::from_dart(out),
                        to: End::from_dart(into),
                        cell: cell.into(),
                        twists: 0,
                    })
                    .collect(),
            },
        )
    })
}

/// Everything that must hold of a ground.
fn sound(ground: &Ground) {
    let n = ground.stitches().len();
    // Pairs: as many as legs cross a level line.
    let upright: &UprightLattice = ground.upright();
    let flow: i64 = ground.legs().iter().map(|l| upright.to_upright(l.cell).row).sum();
    let hanging = ground.hanging();
    let pairs = hanging.pairs();
    assert_eq!(pairs.len() as i64, flow);
    let mut hung: Vec<(usize, i64)> = pairs.iter().map(|p| (p.leg, p.cell.row)).collect();
    hung.sort_unstable();
    hung.dedup();
    assert_eq!(hung.len(), pairs.len(), "a pair hangs twice");

    // Threads: every entry lies on exactly one closed thread.
    let mut entries: Vec<ThreadEntry> =
        ground.orbits().iter().flat_map(|o| o.entries.iter().copied()).collect();
    entries.sort_unstable();
    let all: Vec<ThreadEntry> = (0..n).flat_map(|s| (0..4).map(move |p| ThreadEntry::new(s, p))).collect();
    assert_eq!(entries, all);
    let hanging_threads: i64 = ground.orbits().iter().map(|o| upright.to_upright(o.cells).row).sum();
    assert_eq!(hanging_threads, 2 * flow, "every thread comes down");
    let threads: usize = ground.courses().iter().map(|c| c.threads).sum();
    assert_eq!(threads as i64, 2 * flow);
    assert!(!ground.travel_sentence().is_empty());

    // The map of a row of repeats is a bijection, and can be undone.
    let around = 2 * pairs.len() as i64;
    let back = hanging.row().then(&hanging.row().inverse());
    assert_eq!(back, lace::AffinePermutation::identity(around as usize));
    // What pairs leave on one side they bring in on the other.
    let drift: i64 = (0..around).map(|slot| hanging.row().apply(slot) - slot).sum();
    let shift = drift / around;
    assert_eq!(drift, shift * around, "a row moves slots by whole places on the average");
    assert_eq!(shift % 2, 0, "and pairs by whole pairs");

    // The four threads of a stitch come from four slots.
    for stitch in 0..n {
        for row in -1..2 {
            let mut from: Vec<i64> = (0..4)
                .map(|p| hanging.origin(ThreadEntry::new(stitch, p), UprightCell::new(0, row)))
                .collect();
            from.sort_unstable();
            from.dedup();
            assert_eq!(from.len(), 4);
        }
    }

    for hole in ground.map().faces() {
        assert!(hole.len() >= 2);
    }
    assert_eq!(ground.map().faces().len(), n);

    let grid = Grid::new(5.0, 45.0).expect("a grid");
    let m = ground.measures(&grid);
    assert!(m.pairs_per_cm.is_finite() && m.pairs_per_cm > 0.0);
    assert!(m.pins_per_cm2.is_finite() && m.moves_per_cm2.is_finite() && m.moves_per_cm.is_finite());

    in_order(ground);
    crate::working::can_be_worked("a random ground", ground, &ground.order_of_working());
}

/// The threads can be laid out, and every picture of the ground can be made.
fn drawable(ground: &Ground) {
    let grid = Grid::new(4.0, 45.0).expect("a grid");
    let layout = lay_out(ground, &grid, Thread::suiting(4.0).diameter_mm());
    let window = rect(0.0, 0.0, 12.0, 12.0);
    let threads = draw_threads(ground, &layout, window, &ThreadLook::new(vec![rgb(31, 63, 119); 4], 4.0));
    let image = rasterise(&threads, 4.0);
    assert_eq!((image.width(), image.height()), (48, 48));
    let pairs = WorkingDiagram::new(ground, &grid, DiagramLook::default()).draw(window);
    for drawing in [threads, pairs] {
        let svg = to_svg(&drawing, "");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "a place that is no number");
        assert!(to_pdf(&[drawing]).is_ok());
    }
}

/// Checks that the order of working moves threads as the tracing does. Returns the
/// number of stitches whose threads were compared.
fn in_order(ground: &Ground) -> usize {
    let hanging = ground.hanging();
    let order = ground.order_of_working();
    // Where the threads come from that lie in each slot, once a stitch has said so.
    let mut holds: Vec<Option<i64>> = vec![None; 2 * order.pairs];
    let mut compared = 0;
    for step in &order.steps {
        let work = &ground.stitches()[step.stitch].stitch;
        let first = 2 * step.left_pair;
        for (slot, twists) in [(first, step.twists[0]), (first + 2, step.twists[1])] {
            if twists % 2 == 1 {
                holds.swap(slot, slot + 1);
            }
        }
        let mut entering = [0; 4];
        for (position, origin) in entering.iter_mut().enumerate() {
            *origin = hanging.origin(ThreadEntry::new(step.stitch, position), step.cell);
            if let Some(held) = holds[first + position] {
                assert_eq!(held, *origin, "{step:?}");
                compared += 1;
            }
        }
        for (position, from) in work.end_order().into_iter().enumerate() {
            holds[first + position] = Some(entering[from]);
        }
    }
    // A windmill is one step in words.
    let numbers = ground.step_numbers(&order);
    assert_eq!(numbers.len(), order.steps.len());
    assert_eq!(numbers.last(), Some(&ground.steps_in_words(&order).len()));
    assert!(numbers.iter().zip(numbers.iter().skip(1)).all(|(one, next)| next - one <= 1));
    compared
}

// Source: ground_thread_traces.json, as in `traces`.
#[test]
fn the_order_of_working_moves_threads_as_they_are_traced() {
    let traces: serde_json::Value = data::json("ground_thread_traces.json");
    let mut told = 0;
    for (name, trace) in traces["grounds"].as_object().expect("grounds by name") {
        let schedule: Schedule = serde_json::from_value(trace.clone()).expect("a schedule");
        let Ok(ground) = Ground::new(schedule.repeat()) else { continue };
        sound(&ground);
        let counted = in_order(&ground);
        // Half of the threads of the schedule's stitches at least.
        assert!(counted >= 2 * schedule.steps.len(), "{name}: {counted}");
        told += counted;
    }
    assert!(told > 200, "{told}");
}

/// A finding of a circuit that never comes lower names a circuit.
fn circuits_are_circuits(repeat: &Repeat, findings: &[Finding]) {
    for finding in findings.iter().filter(|f| f.code == Code::NotDown) {
        let Place::Stitches(ids) = &finding.place else { panic!("{finding:?}") };
        for (k, id) in ids.iter().enumerate() {
            let next = &ids[(k + 1) % ids.len()];
            let name = |end: End| &repeat.stitches[end.stitch].id;
            let leads = repeat.legs.iter().any(|leg| name(leg.from) == id && name(leg.to) == next);
            assert!(leads, "no leg from {id} to {next}: {finding:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_schedule_is_a_ground_unless_it_falls_apart(
        schedule in schedule(),
        moves in prop::collection::vec([-2i64..3, -2i64..3].prop_map(Cell::from), 1..5),
        steps in prop::collection::vec(-2i32..3, 0..4),
        twists in prop::collection::vec(0u32..4, 1..5),
        places in any::<bool>(),
    ) {
        let mut repeat = schedule.repeat();
        for (leg, twists) in repeat.legs.iter_mut().zip(twists.into_iter().cycle()) {
            leg.twists = twists;
        }
        let other = rewritten(&repeat, &moves, &steps, places);
        match (Ground::new(repeat), Ground::new(other)) {
            (Ok(ground), Ok(other)) => {
                sound(&ground);
                sound(&other);
                prop_assert_eq!(ground.hanging().pairs().len(), schedule.pairs_around);
                prop_assert_eq!(other.hanging().pairs().len(), schedule.pairs_around);
                prop_assert_eq!(ground.orbits().len(), other.orbits().len());
                prop_assert_eq!(ground.courses().len(), other.courses().len());
            }
            (Err(one), Err(two)) => {
                prop_assert!(one.iter().chain(&two).all(|f| !f.is_error() || f.code == Code::LiftsOff));
            }
            (one, two) => prop_assert!(false, "{:?} {:?}", one.err(), two.err()),
        }
    }

    #[test]
    fn spoiled_grounds_are_answered(
        schedule in schedule(),
        changes in prop::collection::vec(spoil(), 1..4),
    ) {
        let repeat = spoiled(schedule.repeat(), changes);
        let findings = check(&repeat);
        match Ground::new(repeat) {
            Ok(ground) => {
                prop_assert_eq!(ground.warnings(), &findings[..]);
                sound(&ground);
            }
            Err(same) => {
                prop_assert!(same.iter().any(|f| f.is_error()));
                prop_assert_eq!(same, findings);
            }
        }
    }

    #[test]
    fn random_stitches_and_legs_are_answered(repeat in nonsense()) {
        let findings = check(&repeat);
        if let Ok(ground) = Ground::new(repeat) {
            prop_assert!(findings.iter().all(|f| !f.is_error()));
            sound(&ground);
        }
    }

    #[test]
    fn any_wiring_is_answered(repeat in wired()) {
        circuits_are_circuits(&repeat, &check(&repeat));
        if let Ok(ground) = Ground::new(repeat) {
            sound(&ground);
        }
    }

    #[test]
    fn a_stitch_prints_and_reads_back(work in any_work()) {
        let text = work.to_string();
        prop_assert_eq!(text.parse::<Stitch>(), Ok(work.clone()));
        prop_assert_eq!(text.parse::<Stitch>().expect("a work").to_string(), text);
        prop_assert!(!work.words().is_empty());
    }

    #[test]
    fn any_text_is_a_stitch_or_a_plain_error(text in "[CTpin twslefrgh\u{1b}-]{0,24}") {
        if let Err(error) = text.parse::<Stitch>() {
            prop_assert!(!error.to_string().chars().any(char::is_control), "{:?}", error);
        }
    }

    #[test]
    fn a_repeat_goes_through_json_unchanged(
        schedule in schedule(),
        at in prop::collection::vec(prop::option::of((-1e4..1e4f64, -1e4..1e4f64)), 1..6),
    ) {
        let mut repeat = schedule.repeat();
        for (stitch, at) in repeat.stitches.iter_mut().zip(at.into_iter().cycle()) {
            stitch.at = at.map(|(x, y)| point(x, y));
        }
        let text = serde_json::to_string(&report::repeat::Repeat::from(&repeat)).expect("a repeat can be written");
        let read: report::repeat::Repeat = serde_json::from_str(&text).expect("and read");
        prop_assert_eq!(Repeat::try_from(&read), Ok(repeat));
    }
}

// Layout is slow, so there are fewer cases than above.
proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    #[test]
    fn any_accepted_ground_is_drawn(
        schedule in schedule(),
        changes in prop::collection::vec(spoil(), 0..3),
    ) {
        if let Ok(ground) = Ground::new(spoiled(schedule.repeat(), changes)) {
            drawable(&ground);
        }
    }

    #[test]
    fn any_accepted_wiring_is_drawn(repeat in wired()) {
        if let Ok(ground) = Ground::new(repeat) {
            drawable(&ground);
        }
    }

    #[test]
    fn any_accepted_random_repeat_is_drawn(repeat in nonsense()) {
        if let Ok(ground) = Ground::new(repeat) {
            drawable(&ground);
        }
    }
}
