//! Initial places of the crossings: those of a stitch in a small lattice round
//! its place, in the order worked; twists evenly along their leg.

use lace::{Cell, End, Grid, Lacework, Point, Side, Stitch, point};

use super::firmness::Make;

/// The crossings of a stitch in its own small lattice of columns and rows, with
/// the origin at the pin, or at the middle if there is none.
struct Knot {
    /// Column (-1, 0, 1, or farther apart) and row of every crossing.
    crossings: Vec<Point>,
    /// Rows of the first and of the last crossing.
    rows: [f64; 2],
}

/// Thread diameters from row to row, and from column to column.
const STEP: f64 = 1.2;
/// In a tally the weaver runs nearly level and turns at the edges: rows between
/// crossings, rows at a turn. Its passes lie close above each other.
const LEVEL: f64 = 0.2;
const TURN: f64 = 0.6;
/// Columns between the passives of a tally: at least, and at most.
const SPREAD: [f64; 2] = [1.4, 4.0];
/// The width of a leaf at its ends, as a share of that in the middle.
const POINT: f64 = 0.3;
/// Rows between a pin and the nearest link above or below it.
const PIN_ROWS: f64 = 1.2;
/// A plait is worked until it reaches the next stitch: its rows in thread diameters,
/// at most, and the diameters left between it and the middle of that stitch.
const PLAITED: f64 = 2.6;
const MEETING: f64 = 2.2;
/// Thread diameters from column to column of a plait.
const CORD_STEP: f64 = 0.85;
/// Where one plait follows another: the share of the way between them that is its own.
const SHARED: f64 = 0.36;

/// Rows of a cloth stitch as a share of the way to the next, half of which lies
/// between two of its crossings.
const EVEN: f64 = 0.354;
/// Farthest that two crossings of cloth lie apart, in thread diameters.
const LOOSEST: f64 = 2.8;
/// Rows of cloth above and below the middle of a stitch that are its own.
const ROOM: f64 = 1.6;
/// Thread diameters from row to row where a worker turns round its pin.
const TURN_STEP: f64 = 0.9;

/// Places in thread diameters, of crossings as they were worked.
pub(super) struct Start {
    pub nodes: Vec<Point>,
}

fn knot(stitch: &Stitch, pointed: bool) -> Knot {
    let pin_after = stitch.crossings_before_pin();
    let mut row = [0.0f64; 4];
    let mut crossings = Vec::new();
    let mut link_before = None;
    let mut link_after = None;
    let woven: Vec<bool> = stitch.weaver().iter().map(Option::is_some).collect();
    // A tally is as wide as it is high, with the weaver's turns outside the passives.
    let passes = woven.iter().filter(|&&woven| woven).count() as f64 / 3.0;
    let high = passes * (2.0 * LEVEL + TURN);
    let spread = (if pointed { 0.25 * high } else { 0.5 * (high - 0.8) }).clamp(SPREAD[0], SPREAD[1]);
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
        crossings.push(point(if woven[k] { spread * column } else { column }, at));
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
        if pointed {
            // From end to end: 0 to 1 and back.
            let along = 1.0 - ((c.y - middle) / (0.5 * (last - 1.0)).max(0.5)).powi(2).min(1.0);
            c.x *= POINT + (1.3 - POINT) * along;
        }
        c.y -= origin;
    }
    Knot { crossings, rows: [1.0 - origin, last - origin] }
}

/// Whether a tally is a leaf: both its pairs come from one place, or both go to one.
pub(super) fn pointed(ground: &Lacework, stitch: usize) -> bool {
    let place = |s: usize, cell: Cell| ground.places()[s] + ground.lattice().place(cell);
    let near = |[a, b]: [Point; 2]| (a.x - b.x).abs() < 1.0 && (a.y - b.y).abs() < 1.0;
    let from = Side::BOTH.map(|side| {
        let leg = &ground.legs()[ground.leg_to(End::new(stitch, side))];
        place(leg.from.stitch, Cell::ORIGIN - leg.cell)
    });
    let to = Side::BOTH.map(|side| {
        let leg = &ground.legs()[ground.leg_from(End::new(stitch, side))];
        place(leg.to.stitch, leg.cell)
    });
    near(from) || near(to)
}

/// The crossings of the ground's braid as they were worked, each in its cell.
///
/// Every stitch is drawn together to a share of its size; 1 is as worked.
pub(super) fn start(ground: &Lacework, grid: &Grid, thread_mm: f64, makes: &[Make], share: f64) -> Start {
    let small = 1.0 / thread_mm;
    let places: Vec<Point> = ground.places().iter().map(|&p| grid.mm(p) * small).collect();
    let cell = |c: Cell| grid.mm(ground.lattice().place(c)) * small;
    let run = |l: usize| {
        let leg = &ground.legs()[l];
        places[leg.to.stitch] + cell(leg.cell) - places[leg.from.stitch]
    };
    // The way of a pair at one end. A pair that is hung comes along the diagonal, and one
    // that ends leaves along it.
    let way = |l: usize, end: End, comes: bool| {
        if ground.is_open(l) {
            let right = (end.side == Side::Right) != comes;
            grid.mm(point(if right { 1.0 } else { -1.0 }, 1.0)) * small
        } else {
            run(l)
        }
    };
    let leaf = |s: usize| makes[s] == Make::Tally && pointed(ground, s);
    let knots: Vec<Knot> =
        ground.stitches().iter().enumerate().map(|(s, placed)| knot(&placed.stitch, leaf(s))).collect();
    // The stitch's directions across and down follow its four legs, so that a
    // stitch in a slanting ground slants too.
    let mut axes = Vec::with_capacity(places.len());
    for (s, knot) in knots.iter().enumerate() {
        let mut flow = point(0.0, 0.0);
        let mut nearest = f64::INFINITY;
        let near = Side::BOTH.map(|side| End::new(s, side));
        let mut near =
            near.map(|end| [(ground.leg_from(end), end, false), (ground.leg_to(end), end, true)]).concat();
        // A plait leads from one meeting of pairs to the next, whatever passes on from
        // plait to plait.
        let plaits = |&(l, ..): &(usize, End, bool)| {
            let leg = &ground.legs()[l];
            makes[leg.from.stitch] == Make::Plait && makes[leg.to.stitch] == Make::Plait
        };
        if near.iter().any(|l| !plaits(l)) {
            near.retain(|l| !plaits(l));
        }
        for &(l, end, comes) in &near {
            let along = way(l, end, comes);
            let distance = along.length();
            if distance > 0.0 {
                flow += along * (1.0 / distance);
                nearest = nearest.min(distance);
            }
        }
        let strength = flow.length();
        let down = if strength > 0.0 { flow * (1.0 / strength) } else { point(0.0, 1.0) };
        // Only so far towards the neighbours that they have room too.
        let rows = (knot.rows[1] - knot.rows[0] + 2.0).max(3.0);
        let (across, along) = match makes[s] {
            // What is woven cannot be compressed first and stretched later.
            Make::Tally => (STEP.min(1.2 * nearest / rows), STEP),
            Make::Plait => {
                let own = [knot.rows[0].abs(), knot.rows[1].abs()].into_iter().fold(0.5, f64::max);
                let room = |&(l, end, comes): &(usize, End, bool)| {
                    let leg = &ground.legs()[l];
                    let other = if leg.from.stitch == s { leg.to.stitch } else { leg.from.stitch };
                    let distance = way(l, end, comes).dot(down).abs();
                    if makes[other] == Make::Plait { SHARED * distance } else { distance - MEETING }
                };
                let room = near.iter().map(room).fold(f64::INFINITY, f64::min);
                let along = (room / own).clamp((0.6 * nearest / rows).min(STEP), PLAITED);
                (CORD_STEP.min(along), along)
            }
            Make::Cloth => {
                // Threads of cloth lie evenly: as far apart in a stitch as from one to
                // the next, along both pairs.
                let along = |side: Side| {
                    let [from, to] = [End::new(s, side), End::new(s, side.other())];
                    let ways = [way(ground.leg_from(from), from, false), way(ground.leg_to(to), to, true)];
                    let [a, b] =
                        ways.map(|way| way * (0.5 * (2.0 * LOOSEST / way.length().max(1e-9)).min(1.0)));
                    if a.length() <= b.length() { a } else { b }
                };
                let (left, right) = (along(Side::Left), along(Side::Right));
                if left.cross(right) < 0.0 {
                    let rows = knot.rows[0].abs().max(knot.rows[1].abs());
                    axes.push(((right - left) * 0.5, (left + right) * (0.5 * (ROOM / rows).min(1.0))));
                    continue;
                }
                (STEP.min(EVEN * nearest), STEP.min(EVEN * nearest))
            }
            Make::Turn => {
                let step = TURN_STEP.min(EVEN * nearest);
                (step, step)
            }
            Make::Knot => {
                let step = STEP.min(0.6 * nearest / rows);
                (step, step)
            }
        };
        axes.push((point(down.y, -down.x) * across, down * along));
    }
    let inside = |s: usize, c: Point| {
        let (across, down) = axes[s];
        places[s] + across * (c.x * share) + down * (c.y * share)
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
    Start { nodes }
}
