//! Where threads lie that are hung at the start of a piece, or end at its finish: the
//! two of a pair meet where it is hung over its support pin; ends hang down.

use lace::{Grid, Lacework, Point, Side, point};

use crate::layout::Layout;

/// Grid steps from the first stitch of a pair to where it is hung.
const HUNG: f64 = 0.7;
/// Grid steps of the ends that are drawn.
const END: f64 = 2.2;

/// Lays the ends in the open segments: each line leads from the last crossing along the
/// end, and from where the pair is hung to the first crossing.
pub(super) fn lay_ends(lacework: &Lacework, grid: &Grid, lines: &mut [Vec<Point>]) {
    for (segment, line) in lines.iter_mut().enumerate() {
        let Some(leg) = lacework.open_leg(segment) else { continue };
        let leg = &lacework.legs()[leg];
        let (from, to) = (line[0], line[line.len() - 1]);
        let out = if leg.from.side == Side::Left { -1.0 } else { 1.0 };
        let end = from + grid.mm(point(0.12 * out, END));
        let into = if leg.to.side == Side::Left { -1.0 } else { 1.0 };
        let cell = grid.mm(lacework.lattice().place(leg.cell));
        let hung = grid.mm(lacework.places()[leg.to.stitch] + point(into * HUNG, -HUNG)) + cell;
        *line = vec![from, from + (end - from) * 0.5, end, hung, hung + (to - hung) * 0.5, to];
    }
}

/// The lengths of the ends along an open segment: from the last crossing, and to the
/// first.
pub(crate) fn ends(layout: &Layout, segment: usize) -> [f64; 2] {
    let line = &layout.lines[segment];
    let length = |points: &[Point]| points.windows(2).map(|p| (p[1] - p[0]).length()).sum();
    [length(&line[..3]), length(&line[3..])]
}
