//! The stiffness of the threads as springs between crossings, without contacts and
//! bending: a matrix that is factored once, and turns forces into good steps. Points
//! between two crossings are eliminated beforehand, chain by chain.

use lace::{Point, point};
use nalgebra_sparse::factorization::CscCholesky;
use nalgebra_sparse::{CooMatrix, CscMatrix};

use super::chains::Chains;
use super::dissection::dissect;
use super::firmness::Spring;
use super::tension::Anchor;

/// Stiffness of a stretch that is held at its shortest, for each of pull: across it is
/// soft, along it meets the contact of its crossings.
const DRAWN: f64 = 0.7;
/// Stiffness that every crossing has of its own.
const OWN: f64 = 0.05;

/// The chain of a segment.
#[derive(Clone, Copy, Debug)]
struct Link {
    ends: [usize; 2],
    /// The first of its inner points, and how many edges it has.
    first: usize,
    edges: usize,
    /// Stiffness of one edge.
    stiffness: f64,
}

/// The factored stiffness.
#[derive(Debug)]
pub(super) struct Stiffness {
    links: Vec<Link>,
    /// The place of each crossing in the order of elimination.
    places: Vec<usize>,
    /// The triangular factor by columns: the diagonal inverted, then rows and values.
    diagonal: Vec<f64>,
    columns: Vec<usize>,
    rows: Vec<u32>,
    values: Vec<f64>,
    /// Room for the crossings.
    room: Vec<Point>,
}

impl Stiffness {
    /// The stiffness of chains. `None` if it cannot be factored.
    pub fn new(chains: &Chains, springs: &[Spring], anchors: &[Anchor]) -> Option<Stiffness> {
        let nodes = springs.len() / 2;
        let mut neighbours: Vec<Vec<usize>> = vec![Vec::with_capacity(4); nodes];
        let mut own = vec![OWN; nodes];
        let mut links = Vec::with_capacity(springs.len());
        for (pair, spring) in chains.first_edge.windows(2).zip(springs) {
            let (first, last) = (chains.edges[pair[0]], chains.edges[pair[1] - 1]);
            let edges = pair[1] - pair[0];
            let whole = spring.stiffness + spring.tight * DRAWN;
            links.push(Link {
                ends: [first.from, last.to],
                first: first.to,
                edges,
                stiffness: whole * edges as f64,
            });
            if first.from != last.to {
                neighbours[first.from].push(last.to);
                neighbours[last.to].push(first.from);
            }
        }
        for anchor in anchors {
            for &v in &anchor.nodes {
                own[v] += anchor.stiffness / anchor.nodes.len() as f64;
            }
        }
        let order = dissect(&chains.points[..nodes], &neighbours);
        let mut places = vec![0; nodes];
        for (place, &v) in order.iter().enumerate() {
            places[v] = place;
        }
        let mut matrix = CooMatrix::new(nodes, nodes);
        for (v, &own) in own.iter().enumerate() {
            matrix.push(places[v], places[v], own);
        }
        for link in &links {
            let [a, b] = link.ends.map(|v| places[v]);
            if a != b {
                let whole = link.stiffness / link.edges as f64;
                for (row, column, value) in [(a, a, whole), (b, b, whole), (a, b, -whole), (b, a, -whole)] {
                    matrix.push(row, column, value);
                }
            }
        }
        let factor = CscCholesky::factor(&CscMatrix::from(&matrix)).ok()?.take_l();
        let mut found = Stiffness {
            links,
            places,
            diagonal: Vec::with_capacity(nodes),
            columns: vec![0],
            rows: Vec::with_capacity(factor.nnz()),
            values: Vec::with_capacity(factor.nnz()),
            room: vec![point(0.0, 0.0); nodes],
        };
        for (column, lane) in factor.col_iter().enumerate() {
            for (&row, &value) in lane.row_indices().iter().zip(lane.values()) {
                if row == column {
                    found.diagonal.push(1.0 / value);
                } else if row > column {
                    found.rows.push(u32::try_from(row).ok()?);
                    found.values.push(value);
                }
            }
            found.columns.push(found.rows.len());
        }
        Some(found)
    }

    /// How much work one solution is.
    pub fn size(&self) -> usize {
        self.rows.len() + self.links.len()
    }

    /// The places to which forces move all points if nothing but the springs resists.
    pub fn solve(&mut self, forces: &[Point], moves: &mut [Point]) {
        let nodes = self.places.len();
        let room = &mut self.room;
        for (v, &place) in self.places.iter().enumerate() {
            room[place] = forces[v];
        }
        // Each chain passes the forces on its points on to its two ends.
        for link in self.links.iter().filter(|link| link.edges > 1) {
            let share = 1.0 / link.edges as f64;
            let mut ends = [point(0.0, 0.0); 2];
            for k in 1..link.edges {
                let force = forces[link.first + k - 1];
                let to = k as f64 * share;
                ends[0] += force * (1.0 - to);
                ends[1] += force * to;
            }
            for (end, force) in link.ends.iter().zip(ends) {
                room[self.places[*end]] += force;
            }
        }
        for column in 0..nodes {
            let own = room[column] * self.diagonal[column];
            room[column] = own;
            let range = self.columns[column]..self.columns[column + 1];
            for (&row, &value) in self.rows[range.clone()].iter().zip(&self.values[range]) {
                room[row as usize] -= own * value;
            }
        }
        for column in (0..nodes).rev() {
            let range = self.columns[column]..self.columns[column + 1];
            let mut own = room[column];
            for (&row, &value) in self.rows[range.clone()].iter().zip(&self.values[range]) {
                own -= room[row as usize] * value;
            }
            room[column] = own * self.diagonal[column];
        }
        for (v, &place) in self.places.iter().enumerate() {
            moves[v] = room[place];
        }
        for link in self.links.iter().filter(|link| link.edges > 1) {
            let [from, to] = link.ends.map(|v| moves[v]);
            // The pull in the first edge, from what lies between both ends.
            let mut sum = point(0.0, 0.0);
            let mut sums = point(0.0, 0.0);
            for k in 1..link.edges {
                sum += forces[link.first + k - 1];
                sums += sum;
            }
            let mut pull =
                (to - from) * (link.stiffness / link.edges as f64) + sums * (1.0 / link.edges as f64);
            let soft = 1.0 / link.stiffness;
            let mut at = from;
            for k in 1..link.edges {
                at += pull * soft;
                moves[link.first + k - 1] = at;
                pull -= forces[link.first + k - 1];
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use lace::{Cell, Ground, Point, point};

    use super::*;
    use crate::layout::chains::straight;
    use crate::layout::firmness::{anchors, makes, springs};
    use crate::layout::holes::holes;
    use crate::layout::start::start;

    // Solved and multiplied again, the forces come back.
    #[test]
    fn a_solution_balances_the_forces() {
        let ground = Ground::new(lace::samples::rose("CTCT", "CT pin CT")).unwrap();
        let grid = lace::Grid::new(4.0, 45.0).unwrap();
        let lattice = crate::layout::lattice_mm(&ground, &grid);
        let shift = |cell: Cell| lattice.place(cell) * 3.0;
        let holes = holes(ground.braid());
        let begun = start(&ground, &grid, 1.0 / 3.0, &makes(&ground), 1.0);
        let springs = springs(&ground, &holes, &begun, &shift);
        let anchors = anchors(&ground, &begun);
        let lines = straight(ground.braid(), &begun.nodes, &holes, shift);
        let chains = Chains::new(ground.braid(), &lines, holes.len(), shift, 0.8, &[]);
        let mut stiffness = Stiffness::new(&chains, &springs, &anchors).unwrap();
        let forces: Vec<Point> =
            (0..chains.points.len()).map(|k| point(libm::sin(k as f64), libm::cos(3.0 * k as f64))).collect();
        let mut moves = forces.clone();
        stiffness.solve(&forces, &mut moves);
        let nodes = springs.len() / 2;
        let mut back: Vec<Point> = moves.iter().map(|_| point(0.0, 0.0)).collect();
        for (v, back) in back[..nodes].iter_mut().enumerate() {
            let mut own = OWN;
            for anchor in anchors.iter().filter(|anchor| anchor.nodes.contains(&v)) {
                own += anchor.stiffness / anchor.nodes.len() as f64;
            }
            *back = moves[v] * own;
        }
        for (pair, spring) in chains.first_edge.windows(2).zip(&springs) {
            let edge = (spring.stiffness + spring.tight * DRAWN) * (pair[1] - pair[0]) as f64;
            for e in &chains.edges[pair[0]..pair[1]] {
                let pull = (moves[e.to] - moves[e.from]) * edge;
                back[e.to] += pull;
                back[e.from] -= pull;
            }
        }
        for (force, back) in forces.iter().zip(back) {
            assert!((*force - back).length() < 1e-9, "{force:?} {back:?}");
        }
    }
}
