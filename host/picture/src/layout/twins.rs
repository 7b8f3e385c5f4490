//! Points that a mirror maps onto each other. Their places, and the forces on
//! them, are kept symmetrical.

use lace::{Point, point};

/// A mirror for the points of a chain.
#[derive(Clone, Debug)]
pub(super) struct Twins {
    /// Twice the `x` of the axis, in the unit of the points.
    pub axis: f64,
    /// The image of every point and its offset.
    pub images: Vec<(usize, Point)>,
    /// The image of every segment.
    pub segments: Vec<usize>,
}

impl Twins {
    /// Makes places symmetrical.
    pub fn even_places(&self, points: &mut [Point]) {
        for p in 0..points.len() {
            let (q, shift) = self.images[p];
            let image = point(self.axis - points[p].x, points[p].y) - shift;
            points[q] = (points[q] + image) * 0.5;
            let back = points[q] + shift;
            points[p] = point(self.axis - back.x, back.y);
        }
    }

    /// Makes forces symmetrical.
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
