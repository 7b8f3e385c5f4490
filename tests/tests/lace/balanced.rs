//! Balanced places, and the order of working of every wiring that can be lace.
//!
//! Source: `torus_lace_maps_n1_to_n4.json`, every wiring of up to four stitches
//! that meets C1 to C3 of T. Biedl and V. Irvine (Graph Drawing 2017,
//! arXiv 1708.09778v3), with exact layouts computed with sympy 1.14.0.

use lace::{
    Code, End, Ground, Lattice, Leg, PlacedStitch, Point, Repeat, Severity, balanced_places, check, point,
};
use pairwise_tests::data;
use serde::Deserialize;

#[derive(Deserialize)]
struct Maps {
    maps: Vec<Layout>,
}

#[derive(Deserialize)]
struct Layout {
    n: usize,
    out_to_in: Vec<usize>,
    dx: Vec<String>,
    dy: Vec<String>,
    shift_x: Vec<i32>,
    shift_y: Vec<i32>,
    faces: Vec<Face>,
    osculating_classes: Vec<[i64; 2]>,
}

#[derive(Deserialize)]
struct Face {
    edges: Vec<(usize, i64)>,
    area: String,
    strictly_convex: bool,
}

fn fraction(text: &str) -> f64 {
    let (above, below) = text.split_once('/').unwrap_or((text, "1"));
    above.parse::<f64>().expect("a number") / below.parse::<f64>().expect("a number")
}

fn layouts() -> Vec<Layout> {
    let maps: Maps = data::json("torus_lace_maps_n1_to_n4.json");
    assert_eq!(maps.maps.len(), 26);
    maps.maps
}

impl Layout {
    /// Half stitch everywhere, with places to be balanced. The file's y grows in the
    /// direction of work, as ours does.
    fn repeat(&self, across: Point) -> Repeat {
        let leg = |out: usize| Leg {
            from: End::from_dart(out),
            to: End::from_dart(self.out_to_in[out]),
            cell: [self.shift_x[out], self.shift_y[out]].into(),
            twists: 0,
        };
        Repeat {
            lattice: Lattice { across, down: point(0.0, 1.0) },
            stitches: (0..self.n)
                .map(|v| PlacedStitch {
                    id: format!("s{v}"),
                    at: None,
                    stitch: "CT pin".parse().expect("a work"),
                })
                .collect(),
            legs: (0..2 * self.n).map(leg).collect(),
        }
    }

    /// The smallest and largest `dx / dy` a lattice may have subtracted from
    /// its rows so that every circuit of legs still comes lower: across steps
    /// `(1, s)` with `s` strictly between.
    fn slopes(&self) -> (f64, f64) {
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        for start in 0..self.n {
            self.circuits(start, start, &mut vec![start], [0, 0], &mut |[x, y]| match x.signum() {
                0 => assert!(y > 0, "a circuit that only touches comes lower"),
                1 => low = low.max(-f64::from(y) / f64::from(x)),
                _ => high = high.min(f64::from(y) / f64::from(-x)),
            });
        }
        (low, high)
    }

    /// Every directed circuit of stitches, each from its lowest number.
    fn circuits(
        &self,
        start: usize,
        at: usize,
        path: &mut Vec<usize>,
        moved: [i32; 2],
        found: &mut dyn FnMut([i32; 2]),
    ) {
        for out in [2 * at, 2 * at + 1] {
            let to = self.out_to_in[out] / 2;
            let there = [moved[0] + self.shift_x[out], moved[1] + self.shift_y[out]];
            if to == start {
                found(there);
            } else if to > start && !path.contains(&to) {
                path.push(to);
                self.circuits(start, to, path, there, found);
                path.pop();
            }
        }
    }
}

#[test]
fn places_are_balanced_as_computed_and_holes_are_convex() {
    for layout in layouts() {
        let name = format!("{:?}", layout.out_to_in);
        let repeat = layout.repeat(point(1.0, 0.0));
        let places = balanced_places(&repeat);
        let run = |out: usize| {
            let leg = repeat.legs[out];
            places[leg.to.stitch] + repeat.lattice.place(leg.cell) - places[leg.from.stitch]
        };
        for out in 0..2 * layout.n {
            let (x, y) = (fraction(&layout.dx[out]), fraction(&layout.dy[out]));
            assert!((run(out).x - x).abs() < 1e-9, "{name}, edge {out}: {} is not {x}", run(out).x);
            assert!((run(out).y - y).abs() < 1e-9, "{name}, edge {out}: {} is not {y}", run(out).y);
        }
        let map = lace::LaceMap::new(layout.out_to_in.clone()).expect("a permutation");
        let faces = map.faces();
        assert_eq!(faces.len(), layout.faces.len(), "{name}");
        for face in faces {
            let sides: Vec<Point> =
                face.iter().map(|w| if w.along { run(w.edge) } else { run(w.edge) * -1.0 }).collect();
            for k in 0..sides.len() {
                assert!(
                    sides[k].cross(sides[(k + 1) % sides.len()]) > 1e-9,
                    "{name}: a corner is not convex"
                );
            }
            let mut at = point(0.0, 0.0);
            let mut doubled = 0.0;
            for &side in &sides {
                doubled += at.cross(side);
                at += side;
            }
            let same = layout.faces.iter().find(|theirs| {
                theirs.edges.len() == face.len()
                    && face.iter().all(|w| theirs.edges.contains(&(w.edge, if w.along { 1 } else { -1 })))
            });
            let same = same.unwrap_or_else(|| panic!("{name}: the hole {face:?} is not in the file"));
            assert!(same.strictly_convex);
            assert!((doubled / 2.0 - fraction(&same.area)).abs() < 1e-9, "{name}");
        }
    }
}

// In a wiring without directed faces no stitch waits for itself (Lemma 1). Lace
// that grows down needs more: a step across at which every circuit of legs comes
// lower. If one line of pairs runs to the right for ever and another to the left,
// there is no such step.
#[test]
fn each_grows_down_exactly_between_two_slopes_of_the_lattice() {
    let errors = |repeat: &Repeat| {
        let errors = check(repeat).into_iter().filter(|f| f.severity() == Severity::Error);
        errors.map(|f| f.code).collect::<Vec<Code>>()
    };
    // Found by listing every circuit of the file's wirings, not by the check.
    let mut grows = 0;
    for layout in layouts() {
        let name = format!("{:?}", layout.out_to_in);
        assert!(layout.osculating_classes.iter().all(|class| *class == [0, 1]));
        let (low, high) = layout.slopes();
        // A slope with a small denominator, so that rows come back level.
        let between = (2..=64)
            .flat_map(|q| (-4 * q..=4 * q).map(move |p| f64::from(p) / f64::from(q)))
            .find(|&slope| low < slope && slope < high);
        assert_eq!(between.is_some(), low < high, "{name}: {low} to {high}");
        if let Some(slope) = between {
            let ground = Ground::new(layout.repeat(point(1.0, slope)))
                .unwrap_or_else(|findings| panic!("{name}, slope {slope}: {findings:?}"));
            assert_eq!(ground.map().faces().len(), layout.n, "{name}");
            grows += 1;
        }
        for outside in [low.floor() - 1.0, low, high, high.ceil() + 1.0] {
            if outside.is_finite() {
                assert_eq!(errors(&layout.repeat(point(1.0, outside))), [Code::NotDown], "{name}, {outside}");
            }
        }
    }
    assert_eq!(grows, 18);
}
