//! Balanced places: every stitch at the middle of its four neighbours. On the
//! torus this draws every hole strictly convex (the torus form of W. T. Tutte,
//! "How to draw a graph", Proceedings of the London Mathematical Society 13,
//! 1963; for the torus: S. J. Gortler, C. Gotsman, D. Thurston, "Discrete
//! one-forms on meshes", Computer Aided Geometric Design 23, 2006).

use nalgebra::DMatrix;
use nalgebra_sparse::factorization::CscCholesky;
use nalgebra_sparse::{CooMatrix, CscMatrix};

use crate::lattice::point::{Point, point};
use crate::repeat::Repeat;

/// The balanced place of every stitch of a connected repeat, in grid steps;
/// the first stitch lies at the origin.
pub fn balanced_places(repeat: &Repeat) -> Vec<Point> {
    let n = repeat.stitches.len();
    // The first stitch is fixed; the others solve a Laplace equation whose right
    // side holds the lattice steps of the legs that leave the cell.
    let unknown = |stitch: usize| stitch.checked_sub(1);
    let mut laplace = CooMatrix::new(n - 1, n - 1);
    let mut pull = DMatrix::zeros(n - 1, 2);
    for leg in &repeat.legs {
        let (a, b) = (leg.from.stitch, leg.to.stitch);
        let run = repeat.lattice.place(leg.cell);
        for (here, there, sign) in [(a, b, 1.0), (b, a, -1.0)] {
            let Some(row) = unknown(here) else { continue };
            laplace.push(row, row, 1.0);
            if let Some(column) = unknown(there) {
                laplace.push(row, column, -1.0);
            }
            pull[(row, 0)] += sign * run.x;
            pull[(row, 1)] += sign * run.y;
        }
    }
    let mut places = vec![point(0.0, 0.0)];
    if n > 1 {
        let solved = CscCholesky::factor(&CscMatrix::from(&laplace))
            .expect("the Laplace matrix of a connected graph with one vertex fixed is positive definite")
            .solve(&pull);
        places.extend((0..n - 1).map(|k| point(solved[(k, 0)], solved[(k, 1)])));
    }
    places
}
