//! Initial places of the crossings: those of a stitch in a small lattice round
//! its place, in the order worked; twists evenly along their leg.

use lace::{Cell, End, Grid, Ground, Point, Side, Stitch, point};

/// The crossings of a stitch in its own small lattice of columns and rows, with
/// the origin at the pin, or at the middle if there is none.
struct Knot {
    /// Column (-1, 0, 1, or farther apart) and row of every crossing.
    crossings: Vec<Point>,
    /// Rows of the first and of the last crossing.
    rows: [f64; 2],
    /// Whether one thread weaves through the others.
    woven: bool,
}

/// In a woven passage the weaver runs nearly level and turns at the edges, and
/// the other threads are spread: rows between crossings, rows at a turn, columns
/// between threads.
const LEVEL: f64 = 0.3;
const TURN: f64 = 0.9;
const SPREAD: f64 = 2.0;

/// Rows between a pin and the nearest link above or below it.
const PIN_ROWS: f64 = 1.2;

fn knot(stitch: &Stitch) -> Knot {
    let pin_after = stitch.crossings_before_pin();
    let mut row = [0.0f64; 4];
    let mut crossings = Vec::new();
    let mut link_before = None;
    let mut link_after = None;
    let woven = stitch.woven();
    let mut weaver_at = None;
    for (k, c) in stitch.crossings().enumerate() {
        if pin_after == Some(k) && link_before == Some(row[1]) && row[1] == row[2] {
            // Without a twist there is no room for the pin: make some.
            (row[1], row[2]) = (row[1] + 1.0, row[2] + 1.0);
        }
        let step = match weaver_at {
            Some(before) if woven[k] && before == c.at => TURN,
            Some(_) if woven[k] => LEVEL,
            _ => 1.0,
        };
        weaver_at = woven[k].then_some(c.at);
        let at = row[c.at].max(row[c.at + 1]) + step;
        row[c.at] = at;
        row[c.at + 1] = at;
        let column = c.at as f64 - 1.0;
        crossings.push(point(if woven[k] { SPREAD * column } else { column }, at));
        if c.at == 1 {
            if pin_after.is_some_and(|before| k < before) {
                link_before = Some(at);
            } else {
                link_after = link_after.or(Some(at));
            }
        }
    }
    let last = crossings.iter().map(|c| c.y).fold(0.0, f64::max);
    let middle = (1.0 + last) / 2.0;
    let origin = match (link_before, link_after) {
        _ if pin_after.is_none() => middle,
        (Some(above), Some(below)) => (above + below) / 2.0,
        (Some(above), None) => above + PIN_ROWS,
        (None, Some(below)) => below - PIN_ROWS,
        (None, None) => middle,
    };
    for c in &mut crossings {
        c.y -= origin;
    }
    Knot { crossings, rows: [1.0 - origin, last - origin], woven: woven.contains(&true) }
}

/// The place in mm of every crossing of the ground's braid, each in its cell.
pub(super) fn start(ground: &Ground, grid: &Grid, thread_mm: f64) -> Vec<Point> {
    let places: Vec<Point> = ground.places().iter().map(|&p| grid.mm(p)).collect();
    let cell = |c: Cell| grid.mm(ground.lattice().place(c));
    let run = |l: usize| {
        let leg = &ground.legs()[l];
        places[leg.to.stitch] + cell(leg.cell) - places[leg.from.stitch]
    };
    let knots: Vec<Knot> = ground.stitches().iter().map(|s| knot(&s.stitch)).collect();
    // The stitch's directions across and down follow its four legs, so that a
    // stitch in a slanting ground slants too.
    let mut axes = Vec::with_capacity(places.len());
    for (s, knot) in knots.iter().enumerate() {
        let mut flow = point(0.0, 0.0);
        let mut nearest = f64::INFINITY;
        for side in Side::BOTH {
            for l in [ground.leg_from(End::new(s, side)), ground.leg_to(End::new(s, side))] {
                let along = run(l);
                let distance = along.length();
                if distance > 0.0 {
                    flow += along * (1.0 / distance);
                    nearest = nearest.min(distance);
                }
            }
        }
        let strength = flow.length();
        let down = if strength > 0.0 { flow * (1.0 / strength) } else { point(0.0, 1.0) };
        // Only so far towards the neighbours that they have room too.
        let rows = (knot.rows[1] - knot.rows[0] + 2.0).max(3.0);
        // A woven stitch cannot be compressed first and stretched later.
        let share = if knot.woven { 1.2 } else { 0.6 };
        let step = (1.2 * thread_mm).min(share * nearest / rows);
        axes.push((point(down.y, -down.x) * step, down * step));
    }
    let inside = |s: usize, c: Point| {
        let (across, down) = axes[s];
        places[s] + across * c.x + down * c.y
    };
    let mut nodes = Vec::with_capacity(ground.braid().nodes.len());
    for (s, knot) in knots.iter().enumerate() {
        nodes.extend(knot.crossings.iter().map(|&c| inside(s, c)));
    }
    let column = |side: Side| if side == Side::Left { -1.0 } else { 1.0 };
    for leg in ground.legs() {
        let from = inside(leg.from.stitch, point(column(leg.from.side), knots[leg.from.stitch].rows[1]));
        let to = inside(leg.to.stitch, point(column(leg.to.side), knots[leg.to.stitch].rows[0]));
        let along = to + cell(leg.cell) - from;
        let twists = f64::from(leg.twists);
        nodes.extend((1..=leg.twists).map(|k| from + along * (f64::from(k) / (twists + 1.0))));
    }
    nodes
}
