//! Smooth lines through the points of chains. Each thread passes through its
//! points and crossings without a corner, with many points where it turns and few
//! where it is straight.

use lace::{Braid, Point};

use super::chains::Chains;

/// Largest turn, in radians, from one piece of a line to the next.
const TURN: f64 = 0.045;
/// A point at which the line turns less than this is left out.
const STRAIGHT: f64 = 0.004;

/// How long a line keeps its direction at a point, as a share of the way to the next:
/// less than 1, so that it does not swing out beyond its points where it turns.
const DIRECT: f64 = 0.67;

fn unit(p: Point) -> Point {
    p * (1.0 / p.length().max(1e-12))
}

/// The line of every segment, both crossings included.
pub(super) fn smooth(braid: &Braid, chains: &Chains) -> Vec<Vec<Point>> {
    let edges = &chains.edges;
    let run = |e: usize| chains.points[edges[e].to] + edges[e].shift - chains.points[edges[e].from];
    // The direction at the start of every edge is that of the parabola through
    // the point and its neighbours on the thread.
    let mut start = vec![lace::point(0.0, 0.0); edges.len()];
    for &(e, f) in &chains.bends {
        let (a, b) = (run(e), run(f));
        start[f] = unit(unit(a) * b.length() + unit(b) * a.length());
    }
    (0..braid.segments.len())
        .map(|s| {
            let own = chains.first_edge[s]..chains.first_edge[s + 1];
            let after = chains.first_edge[braid.map.arrival(s) ^ 1];
            let mut line = vec![chains.points[edges[own.start].from]];
            for e in own.clone() {
                let (from, run) = (chains.points[edges[e].from], run(e));
                let length = run.length();
                let next = if e + 1 < own.end { e + 1 } else { after };
                let (t, u) = (start[e] * (length * DIRECT), start[next] * (length * DIRECT));
                let turn = (start[e].cross(run).abs() + run.cross(start[next]).abs()) / length.max(1e-12);
                let pieces = ((turn / TURN).ceil() as usize).clamp(1, 24);
                for k in 1..pieces {
                    let x = k as f64 / pieces as f64;
                    let (x2, x3) = (x * x, x * x * x);
                    line.push(from + t * (x3 - 2.0 * x2 + x) + run * (3.0 * x2 - 2.0 * x3) + u * (x3 - x2));
                }
                line.push(from + run);
            }
            thin(line)
        })
        .collect()
}

/// Drops inner points at which the line hardly turns.
fn thin(line: Vec<Point>) -> Vec<Point> {
    let mut kept = vec![line[0]];
    for pair in line[1..].windows(2) {
        let last = kept[kept.len() - 1];
        if unit(pair[0] - last).cross(unit(pair[1] - pair[0])).abs() > STRAIGHT {
            kept.push(pair[0]);
        }
    }
    kept.push(line[line.len() - 1]);
    kept
}
