//! What a lacemaker looks at first, measured: even cloth, straight plaits, firm pins,
//! solid tallies, twisted pairs that stay cords, meshes in the right shape.
//!
//! What is right here is common practice, no source; the bounds are ours.
//! `cargo test --workspace --test lace layout::eye -- --nocapture` prints what is
//! measured.

#![allow(clippy::print_stdout, reason = "the numbers are worth reading")]

use lace::{Cell, Grid, Ground, Point, point};
use pairwise_tests::house::plugins;
use picture::colour::rgb;
use picture::drawing::threads::{EachThread, ThreadDrawing, ThreadLook};
use picture::drawing::{Background, rect};
use picture::export::raster::rasterise;
use picture::layout::{Layout, lay_out};

use super::lie::{Lie, Stretch, Tally, angle, area, axes, extent, variation};

/// A ground of ours as it lies, twelve threads side by side from pin to pin.
struct Laid {
    name: String,
    ground: Ground,
    layout: Layout,
}

impl Laid {
    fn lie(&self) -> Lie<'_> {
        Lie { ground: &self.ground, layout: &self.layout }
    }
}

fn laid(name: &str) -> Laid {
    let (id, variety) = name.split_once('/').expect("a ground and its variety");
    let plugin = plugins().iter().find(|p| p.about.id == id).expect("a ground of ours");
    let settings = plugin.about.resolve(Some(variety), &[]).expect("a variety of it");
    let ground = Ground::new(plugin.define(&settings).expect("a repeat")).expect("a ground");
    let grid = Grid::new(4.0, plugin.about.angle).expect("a grid");
    let layout = lay_out(&ground, &grid, 4.0 / 12.0);
    Laid { name: name.to_owned(), ground, layout }
}

/// Every variety of every ground of ours.
fn all() -> impl Iterator<Item = Laid> {
    plugins().iter().flat_map(|plugin| {
        plugin.about.varieties.keys().map(|variety| laid(&format!("{}/{variety}", plugin.about.id)))
    })
}

fn largest(values: impl IntoIterator<Item = f64>) -> f64 {
    values.into_iter().fold(f64::NEG_INFINITY, f64::max)
}

fn lengths<'a>(stretches: impl IntoIterator<Item = &'a Stretch>) -> Vec<f64> {
    stretches.into_iter().map(Stretch::length).collect()
}

/// Height to width.
fn upright(outline: &[Point]) -> f64 {
    let [left, right] = extent(outline, point(1.0, 0.0));
    let [top, bottom] = extent(outline, point(0.0, 1.0));
    (bottom - top) / (right - left)
}

/// The largest hole of a ground.
fn mesh(lie: &Lie<'_>) -> Vec<Point> {
    let holes = lie.holes().into_iter().map(|(_, outline)| outline);
    holes.max_by(|a, b| area(a).total_cmp(&area(b))).expect("a ground has holes")
}

#[test]
fn cloth_is_woven_evenly() {
    for name in ["diamond/cloth", "diamond/large", "trail/cloth"] {
        let laid = laid(name);
        let lie = laid.lie();
        let cloth = lie.stretches_among(|s| lie.is_cloth(s));
        for along_worker in [true, false] {
            let apart = lengths(cloth.iter().filter(|s| s.is_level() == along_worker));
            let uneven = variation(&apart);
            println!("{name}: worker {along_worker}, {} distances vary by {uneven:.3}", apart.len());
            assert!(apart.len() > 50 && uneven <= 0.15, "{name}: {uneven}");
        }
    }
}

// At the sides of a spider, where its legs turn back, no threads cross.
#[test]
fn spiders_are_woven_evenly_above_and_below_their_pin() {
    for name in ["spider/two", "spider/three", "spider/four", "spider/five", "spiders/two", "spiders/three"] {
        let laid = laid(name);
        let lie = laid.lie();
        let is = |s: usize, part: &str| laid.ground.stitches()[s].id.contains(part);
        let mut apart = Vec::new();
        for half in ["above", "below"] {
            apart.extend(lie.stretches_among(|s| lie.is_cloth(s) && is(s, half)));
        }
        let [left, right] =
            [true, false].map(|left| lengths(apart.iter().filter(|s| (s.run.x < 0.0) == left)));
        let uneven = [variation(&left), variation(&right)];
        println!("{name}: {} and {} distances vary by {uneven:.3?}", left.len(), right.len());
        assert!(left.len().min(right.len()) > 10 && uneven[0].max(uneven[1]) <= 0.15, "{name}: {uneven:?}");
    }
}

#[test]
fn plaits_run_straight_and_even() {
    let mut plaited = Vec::new();
    for laid in all() {
        let plaits = laid.lie().plaits();
        if !plaits.is_empty() {
            let (off, uneven) =
                (largest(plaits.iter().map(|p| p.off)), largest(plaits.iter().map(|p| p.uneven)));
            println!("{}: {off:.3} off the straight line, half stitches vary by {uneven:.3}", laid.name);
            assert!(off <= 0.5 && uneven <= 0.15, "{}: {off}, {uneven}", laid.name);
            plaited.push(laid.name);
        }
    }
    for name in ["mechlin/plain", "plait/six", "plait/eight", "valenciennes/four", "valenciennes/eight"] {
        assert!(plaited.iter().any(|p| p == name), "{name} has plaits: {plaited:?}");
    }
}

// Where a stitch ends with its pin, the pin stands below the threads, which are held by
// those that come after.
#[test]
fn pins_hold_the_threads_that_turn_at_them() {
    for laid in all() {
        let lie = laid.lie();
        let closed = |s: usize| {
            let stitch = lie.stitch(s);
            stitch.crossings_before_pin().is_some_and(|before| before < stitch.crossings().count())
        };
        let beside = lie.beside_pins();
        let turning = beside.iter().filter(|b| closed(b.stitch) && b.turn > 20.0);
        let gap = largest(turning.map(|b| b.gap));
        let nearest = largest(lie.gaps_at_pins());
        println!("{}: {gap:.2} between pin and turning thread; {nearest:.2} to the nearest", laid.name);
        assert!(gap <= 0.4 && nearest <= 0.4, "{}: {gap}, {nearest}", laid.name);
    }
}

/// Shares of a tally where the cloth behind shows, and where its passives do.
fn showing(lie: &Lie<'_>, tally: &Tally) -> [f64; 2] {
    const PX: f64 = 12.0;
    let (ground, thread) = (lie.ground, lie.layout.thread_mm);
    let outline = tally.outline();
    let [left, right] = extent(&outline, point(1.0, 0.0));
    let [top, bottom] = extent(&outline, point(0.0, 1.0));
    let window = rect(left * thread, top * thread, (right - left) * thread, (bottom - top) * thread);
    let (weaver, passive) = (rgb(255, 0, 0), rgb(0, 0, 255));
    let look =
        ThreadLook { background: Background::Transparent, ..ThreadLook::new(vec![passive], PX / thread) };
    let EachThread { mut drawing, first } = ThreadDrawing::new(ground, lie.layout).draw_each(window, &look);
    let entry = ground.braid().segments[tally.weaver].entry;
    let place = ground.hanging().origin(entry, ground.upright().to_upright(Cell::ORIGIN));
    drawing.colours.fill(passive);
    drawing.colours[usize::try_from(place - first).expect("the weaver is in the window")] = weaver;
    let image = rasterise(&drawing, PX / thread);
    let inside = |p: Point| {
        let next = |k: usize| outline[(k + 1) % outline.len()];
        let over = outline.iter().enumerate().filter(|&(k, &a)| {
            let b = next(k);
            (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
        });
        over.count() % 2 == 1
    };
    let (mut all, mut bare, mut passives) = (0.0, 0.0, 0.0);
    for y in 0..image.height() {
        for x in 0..image.width() {
            let at = point(left + (f64::from(x) + 0.5) / PX, top + (f64::from(y) + 0.5) / PX);
            if inside(at) {
                let [red, _, blue, alpha] = image.pixel(x, y);
                all += 1.0;
                bare += f64::from(u8::from(alpha < 128));
                passives += f64::from(u8::from(alpha >= 128 && blue > red));
            }
        }
    }
    [bare / all, passives / all]
}

#[test]
fn tallies_are_solid_straight_and_square() {
    let mut seen = 0;
    for laid in all() {
        let lie = laid.lie();
        for tally in lie.tallies() {
            if !laid.ground.stitch_in_words(tally.stitch).starts_with("tally") {
                continue;
            }
            seen += 1;
            let [bare, passives] = showing(&lie, &tally);
            let (square, crooked) = (tally.height() / tally.width(), tally.crooked());
            println!(
                "{}: height to width {square:.3}, {crooked:.2} off straight, bare {bare:.3}, passives {passives:.3}",
                laid.name
            );
            assert!(bare <= 0.05 && passives <= 0.05, "{}: {bare}, {passives}", laid.name);
            assert!(crooked <= 0.5, "{}: {crooked}", laid.name);
            assert!((0.9..=1.1).contains(&square), "{}: {square}", laid.name);
        }
    }
    assert!(seen >= 5, "{seen} tallies");
}

#[test]
fn leaves_are_solid_pointed_and_widest_in_the_middle() {
    let mut seen = 0;
    for laid in all() {
        let lie = laid.lie();
        for leaf in lie.tallies() {
            if !laid.ground.stitch_in_words(leaf.stitch).starts_with("leaf") {
                continue;
            }
            seen += 1;
            let [bare, _] = showing(&lie, &leaf);
            let widths = leaf.widths();
            let (ends, middle) =
                (widths.len() / 3, &widths[widths.len() / 3..widths.len() - widths.len() / 3]);
            let widest = largest(middle.iter().copied());
            let narrowest = |end: &[f64]| end.iter().copied().fold(f64::INFINITY, f64::min);
            let points = [narrowest(&widths[..ends]), narrowest(&widths[widths.len() - ends..])];
            println!("{}: bare {bare:.3}, widths {widths:.1?}", laid.name);
            assert!(bare <= 0.05, "{}: {bare}", laid.name);
            assert!(widest >= largest(widths.iter().copied()), "{}: {widths:?}", laid.name);
            assert!(points.iter().all(|&p| p <= 0.75 * widest), "{}: {widths:?}", laid.name);
        }
    }
    assert!(seen >= 6, "{seen} leaves");
}

#[test]
fn twisted_pairs_stay_cords() {
    for laid in all() {
        let wide = largest(laid.lie().twists());
        println!("{}: twisted threads {wide:.2} apart", laid.name);
        assert!(wide <= 1.25, "{}: {wide}", laid.name);
    }
}

// Straight plaits of four threads, squares on a point: Th. de Dillmont, Encyclopedia of
// Needlework, 1886, Laces of different kinds, figure 796.
#[test]
fn square_valenciennes_meshes_stand_on_a_point() {
    for name in ["valenciennes/four", "valenciennes/six", "valenciennes/eight"] {
        let laid = laid(name);
        let lie = laid.lie();
        let plaits = lie.plaits();
        assert_eq!(plaits.len(), 2, "{name}");
        let corner = angle(plaits[0].run, plaits[1].run);
        let high = upright(&mesh(&lie));
        println!("{name}: corners of {corner:.1} degrees, height to width {high:.3}");
        assert!((corner - 90.0).abs() <= 5.0, "{name}: {corner} degrees");
        assert!((0.9..=1.1).contains(&high), "{name}: {high}");
    }
}

#[test]
fn mechlin_meshes_have_six_sides_two_of_them_plaited() {
    let laid = laid("mechlin/plain");
    let lie = laid.lie();
    let [plait] = lie.plaits()[..] else { panic!("one plait in a repeat") };
    // From the end of a plait a pair goes to the beginning of another, one step down.
    let pairs = [laid.layout.lattice.across, laid.layout.lattice.down]
        .map(|step| step * (1.0 / laid.layout.thread_mm) - plait.run);
    let [sides, corners] = [pairs.map(|p| p.length()), pairs.map(|p| 180.0 - angle(plait.run, p))];
    let tip = angle(pairs[0], pairs[1]);
    let plaited = plait.run.length() / sides[0];
    println!("corners {corners:.1?} and {tip:.1} degrees; plaited to twisted side {plaited:.2}");
    assert!(plait.run.x.abs() < 0.1, "the plait stands upright: {:?}", plait.run);
    assert!(corners.iter().chain([&tip]).all(|c| (c - 120.0).abs() <= 10.0), "{corners:?}, {tip}");
    assert!((0.6..=1.6).contains(&plaited), "{plaited}");
    assert!((sides[0] / sides[1] - 1.0).abs() < 0.02, "{sides:?}");
}

#[test]
fn holes_of_honeycomb_stay_round_beside_tallies() {
    for name in ["honeycomb/plain", "honeycomb/tallies"] {
        let laid = laid(name);
        let round = axes(&mesh(&laid.lie()));
        println!("{name}: longest to shortest axis {round:.3}");
        assert!(round <= 1.15, "{name}: {round}");
    }
}

#[test]
fn nets_keep_their_mesh_beside_a_tally() {
    let plain = laid("point/plain");
    let net = area(&mesh(&plain.lie()));
    let laid = laid("net-tally/scattered");
    let lie = laid.lie();
    let woven = |v: &usize| lie.stitch_of(*v).is_some_and(|s| lie.stitch(s).is_woven());
    let holes = lie.holes().into_iter().filter(|(corners, _)| !corners.iter().any(woven));
    let meshes: Vec<f64> =
        holes.map(|(_, outline)| area(&outline) / net).filter(|&share| share > 0.3).collect();
    println!("areas compared with the net without tallies: {meshes:.3?}");
    assert_eq!(meshes.len(), 12, "all but the four beside the tally");
    assert!(meshes.iter().all(|m| (0.9..=1.1).contains(m)), "{meshes:?}");
}

#[test]
fn meshes_of_torchon_are_as_high_as_they_are_wide() {
    for name in ["torchon/plain", "torchon/twisted"] {
        let high = upright(&mesh(&laid(name).lie()));
        println!("{name}: height to width {high:.3}");
        assert!((0.95..=1.05).contains(&high), "{name}: {high}");
    }
}

#[test]
fn the_edges_of_cloth_are_straight() {
    for name in ["diamond/cloth", "diamond/large", "trail/cloth"] {
        let laid = laid(name);
        let turns = laid.lie().turns();
        for left in [true, false] {
            let reach: Vec<f64> = turns.iter().filter(|t| t.left == left).map(|t| t.reach).collect();
            let [near, far] = [reach.iter().copied().fold(f64::INFINITY, f64::min), largest(reach.clone())];
            println!("{name}: the worker lies {near:.2} to {far:.2} beyond {} pins", reach.len());
            assert!(reach.len() >= 5 && far - near <= 0.5, "{name}: {reach:?}");
            // Its two threads, and no curl of them.
            assert!(far <= 2.3, "{name}: {reach:?}");
        }
    }
}

// How far apart the directions lie among each other, the pricking decides: the rows of a
// half stitch diamond are as far apart as its pairs.
#[test]
fn half_stitch_is_even_in_three_directions() {
    for name in ["diamond/half", "trail/half", "torchon/half-stitch"] {
        let laid = laid(name);
        let lie = laid.lie();
        let half =
            |s: usize| lie.stitch(s) == &"CT".parse().expect("half stitch") || name == "torchon/half-stitch";
        let threads = lie.stretches_among(half);
        let slope = |s: &Stretch| angle(s.run, point(1.0, 0.0));
        let of = |from: f64, to: f64| lengths(threads.iter().filter(|s| (from..to).contains(&slope(s))));
        // A slant ground has no level threads but upright ones.
        let directions = if name == "torchon/half-stitch" {
            [of(0.0, 75.0), of(75.0, 105.0), of(105.0, 180.0)]
        } else {
            let level = threads.iter().filter(|s| !(30.0..150.0).contains(&slope(s)));
            [of(30.0, 90.0), lengths(level), of(90.0, 150.0)]
        };
        for apart in directions {
            let uneven = variation(&apart);
            println!("{name}: {} distances vary by {uneven:.3}", apart.len());
            assert!(apart.len() >= 2 && uneven <= 0.1, "{name}: {apart:?}");
        }
    }
}
