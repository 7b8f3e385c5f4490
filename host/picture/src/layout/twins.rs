//! Points that a mirror takes onto each other: their places, and the forces on
//! them, are kept symmetric.

use lace::{Point, point};

/// A mirror made for the points of a chain.
#[derive(Clone, Debug)]
pub(super) struct Twins {
    /// Twice the place of the axis, in the unit of the points.
    pub axis: f64,
    /// Image of every point and what is added to it.
    pub images: Vec<(usize, Point)>,
}

impl Twins {
    /// Makes places symmetric.
    pub fn even_places(&self, points: &mut [Point]) {
        for p in 0..points.len() {
            let (q, shift) = self.images[p];
            let image = point(self.axis - points[p].x, points[p].y) - shift;
            points[q] = (points[q] + image) * 0.5;
            let back = points[q] + shift;
            points[p] = point(self.axis - back.x, back.y);
        }
    }

    /// Makes forces symmetric.
    pub fn even_forces(&self, forces: &mut [Point]) {
        for p in 0..forces.len() {
            let (q, _) = self.images[p];
            if p <= q {
                let (a, b) = (forces[p], forces[q]);
                let x = 0.5 * (a.x - b.x);
                let y = 0.5 * (a.y + b.y);
                forces[q] = point(-x, y);
                forces[p] = point(x, y);
            }
        }
    }
}
