//! Where threads lie: at rest, symmetric, clear of each other and of pins, and
//! meeting only at crossings.
//!
//! Grounds: common practice, no source.

mod eye;
mod lie;
mod measures;

use lace::samples::{self, honeycomb, torchon};
use lace::{End, Grid, Ground, Lattice, Leg, PlacedStitch, Point, Repeat, SegmentCopy, point};
use pairwise_tests::data;
use pairwise_tests::house::plugins;
use picture::layout::{Layout, lay_out};
use serde_json::Value;

use self::measures::{assert_planar, clearance, length, mirror_error, pierced, steps, to_piece};

/// Twelve threads side by side from footside pin to footside pin.
fn lay(repeat: &Repeat, angle: f64, threads_to_pin: f64) -> (Ground, Layout) {
    let ground = Ground::new(repeat.clone()).unwrap_or_else(|findings| panic!("{findings:?}"));
    let grid = Grid::new(4.0, angle).expect("a grid");
    let layout = lay_out(&ground, &grid, 4.0 / threads_to_pin);
    (ground, layout)
}

/// Rose ground with different stitches at the top and bottom pins and the sides.
fn rose(crossing: &str, ends: &str, sides: &str, twists: u32) -> Repeat {
    let mut repeat = samples::rose(crossing, ends).twisted(twists);
    for side in &mut repeat.stitches[3..5] {
        side.stitch = sides.parse().expect("a work");
    }
    repeat
}

/// Name, repeat, grid angle, and the least distance to be kept between threads
/// that do not cross, in thread diameters.
fn grounds() -> Vec<(&'static str, Repeat, f64, f64)> {
    vec![
        ("torchon", torchon("CT pin CT", 0), 45.0, 0.95),
        ("torchon, a twist on the legs", torchon("CT pin CT", 1), 45.0, 0.95),
        ("double torchon", torchon("CTCT pin CTCT", 0), 45.0, 0.95),
        ("cloth stitch pins", torchon("CTC pin CTC", 1), 45.0, 0.85),
        ("point", torchon("CTTT pin", 0), 60.0, 0.95),
        ("light point", torchon("CTT pin", 0), 60.0, 0.95),
        ("cloth", torchon("CTC", 0), 45.0, 0.95),
        ("half stitch", torchon("CT", 0), 45.0, 0.95),
        ("half stitch, twist first", torchon("TC pin TC", 0), 45.0, 0.95),
        ("rose", rose("CTCT", "CT pin CT", "CT pin CT", 0), 45.0, 0.95),
        ("rose, cloth crossings", rose("CTC", "CT pin CT", "CT pin CT", 0), 45.0, 0.95),
        ("rose, half stitch crossings", rose("CT", "CT pin CT", "CT pin CT", 0), 45.0, 0.95),
        ("rose, twisted crossings", rose("CTCTT", "CT pin CT", "CT pin CT", 0), 45.0, 0.95),
        ("rose, double pins", rose("CTCT", "CTCT pin CTCT", "CTCT pin CTCT", 0), 45.0, 0.9),
        ("rose, twisted pins", rose("CTCT", "CTT pin CTT", "CTT pin CTT", 0), 45.0, 0.9),
        ("rose, open pins", rose("CTCTCT", "CTT pin", "CTT pin", 0), 45.0, 0.9),
        ("rose, twisted legs", rose("CTCT", "CT pin CT", "CT pin CT", 2), 45.0, 0.95),
        ("honeycomb", honeycomb("CTT pin CTT"), 45.0, 0.95),
        ("slanting honeycomb", honeycomb("CTT pin CTT"), 58.0, 0.95),
        ("pinned at once", torchon("pin CTCT", 1), 45.0, 0.95),
        ("plaited", torchon("CTCTCTCT pin CTCT", 2), 45.0, 0.8),
        ("windmill", torchon("TT pair-cross pin pair-twist TT", 1), 45.0, 0.7),
    ]
}

#[test]
fn threads_settle_keep_clear_and_cross_only_at_crossings() {
    for (name, repeat, angle, floor) in grounds() {
        let (ground, layout) = lay(&repeat, angle, 12.0);
        let report = layout.report;
        assert!(report.converged, "{name}: {report:?}");
        assert!(report.residual <= 0.004, "{name}: {report:?}");
        assert!(report.iterations < 800, "{name}: {report:?}");
        assert_planar(name, &ground, &layout);
        assert!(report.clearance >= floor, "{name}: {report:?}");
        let clear = clearance(&ground, &layout);
        // This measure does not know the solver's rules, so it also sees threads
        // of a third crossing close by, where a stitch is drawn tight.
        assert!(clear >= 0.68, "{name}: measured clearance {clear}, {report:?}");
    }
}

// `cargo test -p pairwise-tests --test lace every_variety -- --nocapture`
// prints the numbers.
#[test]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn every_variety_settles_in_order_and_in_symmetry() {
    let mut wrong = Vec::new();
    println!("variety; stitches; steps; residual; clearance, measured; mirror error; depth in pins; ms");
    for plugin in plugins() {
        for variety in plugin.about.varieties.keys() {
            let name = format!("{}/{variety}", plugin.about.id);
            let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
            let start = std::time::Instant::now();
            let (ground, layout) = lay(&repeat, plugin.about.angle, 12.0);
            let time = start.elapsed().as_secs_f64() * 1e3;
            let report = layout.report;
            let (measured, deep) = (clearance(&ground, &layout), pierced(&layout));
            let mirror = ground.is_mirror_symmetric().then(|| mirror_error(&layout));
            println!(
                "{name}; {}; {}; {:.4}; {:.3}, {measured:.3}; {}; {deep:.3}; {time:.1}",
                repeat.stitches.len(),
                report.iterations,
                report.residual,
                report.clearance,
                mirror.map_or("not symmetric".into(), |e| format!("{e:.4}")),
            );
            assert_planar(&name, &ground, &layout);
            if !report.converged || report.residual > 0.004 || report.iterations >= 1200 {
                wrong.push(format!("{name} does not settle: {report:?}"));
            }
            if report.clearance < 0.93 || measured < 0.7 {
                wrong.push(format!("{name}: threads lie {:.3}, {measured:.3} apart", report.clearance));
            }
            if mirror.is_some_and(|error| error > 0.01) || deep > 0.1 {
                wrong.push(format!("{name}: mirror error {mirror:?}, {deep} deep in a pin"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn symmetric_grounds_lie_symmetrically() {
    for (name, repeat, angle, _) in grounds() {
        let (_, layout) = lay(&repeat, angle, 12.0);
        let error = mirror_error(&layout);
        assert!(error <= 0.01, "{name}: {error} grid steps");
    }
    // The measure detects asymmetry.
    let (_, mut layout) = lay(&torchon("CT pin CT", 0), 45.0, 12.0);
    layout.nodes[0].x += 0.1;
    assert!(mirror_error(&layout) > 0.01);
}

#[test]
fn threads_go_round_pins_and_pins_are_between_their_threads() {
    for (name, repeat, angle, _) in grounds() {
        let (ground, layout) = lay(&repeat, angle, 12.0);
        assert_eq!(layout.pins.len(), ground.braid().pins.len(), "{name}");
        let deep = pierced(&layout);
        assert!(deep <= 0.1, "{name}: {deep} diameters deep in a pin");
        for (pin, place) in layout.pins.iter().zip(&ground.braid().pins) {
            let at = layout.grid.mm(ground.places()[pin.stitch]);
            assert_eq!(pin.at, at, "{name}");
            // The nearest place of the left thread is left of the nearest place
            // of the right thread, seen along them.
            for (SegmentCopy { segment, cell }, side) in [(place.left, 1.0), (place.right, -1.0)] {
                let line = &layout.lines[segment];
                let shift = layout.lattice.place(cell);
                let near = line
                    .windows(2)
                    .map(|w| [w[0] + shift, w[1] + shift])
                    .min_by(|a, b| to_piece(at, a[0], a[1]).total_cmp(&to_piece(at, b[0], b[1])))
                    .expect("a line has pieces");
                let run = near[1] - near[0];
                let off = at - near[0];
                // `y` runs down: the left hand of the way down is the east.
                let left_hand = run.y * off.x - run.x * off.y;
                assert!(left_hand * side > 0.0, "{name}: the pin is on the wrong side of {segment}");
            }
        }
    }
}

#[test]
fn the_seam_does_not_show() {
    for (name, repeat, angle, _) in grounds() {
        let (_, one) = lay(&repeat, angle, 12.0);
        let (ground, four) = lay(&repeat.set_out(2, 2), angle, 12.0);
        // Crossings of stitches come first, copy after copy; then those of legs.
        let own: usize = repeat.stitches.iter().map(|s| s.stitch.crossings().count()).sum();
        let legs = one.nodes.len() - own;
        let single = |v: usize| if v < 4 * own { v % own } else { own + (v - 4 * own) % legs };
        assert_eq!(four.nodes.len(), 4 * one.nodes.len());
        for (v, &p) in four.nodes.iter().enumerate() {
            let q = one.nodes[single(v)];
            let off = steps(&one, p, p, q - point(0.1, 0.1), q + point(0.1, 0.1))
                .into_iter()
                .map(|step| length(p - q - step))
                .fold(f64::INFINITY, f64::min);
            assert!(
                off <= 0.01 * one.grid.step_y_mm(),
                "{name}: crossing {v} ({:?}) is off by {off} mm",
                ground.braid().nodes[v]
            );
        }
    }
}

/// Source: `torus_lace_maps_n1_to_n4.json`, every wiring of up to four stitches
/// that meets C1 to C3 of T. Biedl and V. Irvine (Graph Drawing 2017,
/// arXiv 1708.09778v3), computed with sympy 1.14.0.
fn maps() -> Vec<(String, Repeat)> {
    let file: Value = data::json("torus_lace_maps_n1_to_n4.json");
    let mut found = Vec::new();
    for map in file["maps"].as_array().expect("maps") {
        let n = map["n"].as_u64().expect("n") as usize;
        let number = |key: &str, out: usize| map[key][out].as_i64().expect("a number") as i32;
        // The same room for a stitch as on a torchon grid, and the steepest step
        // across at which every circuit still comes lower.
        let size = (2.0 * n as f64).sqrt();
        let with = |slope: f64| Repeat {
            lattice: Lattice { across: point(size, size * slope), down: point(0.0, size) },
            stitches: (0..n)
                .map(|v| PlacedStitch {
                    id: format!("s{v}"),
                    at: None,
                    stitch: "CT".parse().expect("a work"),
                })
                .collect(),
            legs: (0..2 * n)
                .map(|out| Leg {
                    from: End::from_dart(out),
                    to: End::from_dart(number("out_to_in", out) as usize),
                    cell: [number("shift_x", out), number("shift_y", out)].into(),
                    twists: 0,
                })
                .collect(),
        };
        let slopes: Vec<f64> = (-64..=64)
            .map(|k| f64::from(k) / 8.0)
            .filter(|&slope| Ground::new(with(slope)).is_ok())
            .collect();
        // If lines of pairs run across both ways for ever, there is no such slope.
        if let Some(&slope) = slopes.get(slopes.len() / 2) {
            found.push((format!("{:?}, slope {slope}", map["out_to_in"]), with(slope)));
        }
    }
    found
}

#[test]
fn every_small_map_settles_and_stays_planar() {
    let maps = maps();
    assert_eq!(maps.len(), 18);
    for (name, repeat) in maps {
        let (ground, layout) = lay(&repeat, 45.0, 12.0);
        assert!(layout.report.converged, "{name}: {:?}", layout.report);
        assert!(layout.report.clearance >= 0.9, "{name}: {:?}", layout.report);
        assert_planar(&name, &ground, &layout);
    }
}

#[test]
fn crowded_and_thin_threads_stay_in_order() {
    for threads_to_pin in [1.5, 4.0, 40.0, 200.0] {
        for (name, repeat, angle, _) in grounds() {
            let (ground, layout) = lay(&repeat, angle, threads_to_pin);
            let finite = layout.lines.iter().flatten().all(|p| p.x.is_finite() && p.y.is_finite());
            assert!(finite, "{name}");
            assert_planar(name, &ground, &layout);
        }
    }
}

#[test]
fn flat_and_steep_grids_stay_in_order() {
    for angle in [20.0, 75.0] {
        for (name, repeat, _, _) in grounds() {
            let (ground, layout) = lay(&repeat, angle, 12.0);
            assert_planar(&format!("{name} at {angle} degrees"), &ground, &layout);
        }
    }
}

// The largest number of stitches that a repeat may have.
#[test]
fn the_largest_repeats_settle_as_the_small_ones_do() {
    let small = rose("CTCT", "CT pin CT", "CT pin CT", 0);
    let (_, one) = lay(&small, 45.0, 12.0);
    let (ground, many) = lay(&small.set_out(18, 18), 45.0, 12.0);
    assert_eq!(ground.stitches().len(), 1944);
    assert!(many.report.converged, "{:?}", many.report);
    assert!((many.report.clearance - one.report.clearance).abs() < 0.02, "{:?}", many.report);
    let total = |layout: &Layout| -> f64 {
        layout.lines.iter().flat_map(|l| l.windows(2)).map(|w| length(w[1] - w[0])).sum()
    };
    let ratio = total(&many) / total(&one) / 324.0;
    assert!((ratio - 1.0).abs() < 0.002, "as much thread for every copy: {ratio}");
}

#[test]
fn lines_are_smooth_also_through_crossings() {
    for (name, repeat, angle, _) in grounds() {
        let (ground, layout) = lay(&repeat, angle, 12.0);
        for (s, line) in layout.lines.iter().enumerate() {
            let next = &layout.lines[ground.braid().map.arrival(s) ^ 1];
            let join = line[line.len() - 1] - next[0];
            let whole: Vec<Point> = line.iter().copied().chain(next[1..].iter().map(|&p| p + join)).collect();
            for w in whole.windows(3) {
                let (a, b) = (w[1] - w[0], w[2] - w[1]);
                let turn = libm::atan2(a.cross(b), a.dot(b)).abs();
                assert!(turn < 0.35, "{name}: segment {s} turns by {turn} at {:?}", w[1]);
            }
        }
    }
}
