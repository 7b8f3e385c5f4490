//! Maps with two pairs in and two pairs out at every vertex: the bare wiring of
//! a repeat (or of its single threads) on the torus, with its faces.
//!
//! A vertex has four darts, clockwise from the upper left: left in, right in,
//! right out, left out. Edges run from an out dart to an in dart; an edge is
//! named by its out dart, `2 * vertex + side`. The conditions checked here are
//! C1 to C3 and Lemma 1 of T. Biedl and V. Irvine, "Drawing bobbin lace
//! graphs, or, fundamental cycles for a subclass of periodic graphs",
//! Graph Drawing 2017 (arXiv 1708.09778).

use petgraph::unionfind::UnionFind;

/// An edge walked along or against its direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Walk {
    /// The edge, named by its out dart.
    pub edge: usize,
    /// `true` along the edge, `false` against it.
    pub along: bool,
}

/// A wiring in which every entry and exit is used exactly once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaceMap {
    arrives: Vec<usize>,
    leaves: Vec<usize>,
}

impl LaceMap {
    /// A map from the in dart at which each out dart arrives.
    ///
    /// Returns `None` unless `arrives` is a permutation of `0..2n`.
    pub fn new(arrives: Vec<usize>) -> Option<LaceMap> {
        if !arrives.len().is_multiple_of(2) {
            return None;
        }
        let mut leaves = vec![usize::MAX; arrives.len()];
        for (out, &into) in arrives.iter().enumerate() {
            let slot = leaves.get_mut(into)?;
            if *slot != usize::MAX {
                return None;
            }
            *slot = out;
        }
        Some(LaceMap { arrives, leaves })
    }

    /// Number of vertices.
    pub fn vertices(&self) -> usize {
        self.arrives.len() / 2
    }

    /// Number of edges, two for every vertex.
    pub fn edges(&self) -> usize {
        self.arrives.len()
    }

    /// The in dart at which the edge that leaves by `out` arrives.
    pub fn arrival(&self, out: usize) -> usize {
        self.arrives[out]
    }

    /// The out dart of the edge that arrives at the in dart `into`.
    pub fn departure(&self, into: usize) -> usize {
        self.leaves[into]
    }

    /// The connected pieces of the map, each as its vertices.
    pub fn pieces(&self) -> Vec<Vec<usize>> {
        let n = self.vertices();
        let mut sets = UnionFind::<usize>::new(n);
        for out in 0..self.edges() {
            sets.union(out / 2, self.arrives[out] / 2);
        }
        let mut pieces: indexmap::IndexMap<usize, Vec<usize>> = indexmap::IndexMap::new();
        for v in 0..n {
            pieces.entry(sets.find(v)).or_default().push(v);
        }
        pieces.into_values().collect()
    }

    /// The walk that follows `walk` round the face on its right-hand side.
    ///
    /// "Right-hand" is seen in the direction of the walk on the pillow, where `x`
    /// grows to the right and `y` down.
    pub(crate) fn next_on_face(&self, walk: Walk) -> Walk {
        // The dart at which the walker stands after the edge; then the next
        // dart anticlockwise (seen on the pillow), which keeps the face on the
        // right.
        if walk.along {
            let into = self.arrives[walk.edge];
            let v = into / 2;
            if into.is_multiple_of(2) {
                // Came in at the upper left: the right hand is the lower left.
                Walk { edge: 2 * v, along: true }
            } else {
                // Came in at the upper right: the right hand is the upper left.
                Walk { edge: self.leaves[2 * v], along: false }
            }
        } else {
            let v = walk.edge / 2;
            if walk.edge.is_multiple_of(2) {
                // Came up the lower left: the right hand is the lower right.
                Walk { edge: 2 * v + 1, along: true }
            } else {
                // Came up the lower right: the right hand is the upper right.
                Walk { edge: self.leaves[2 * v + 1], along: false }
            }
        }
    }

    /// All faces, each walked with the face on the right hand (clockwise on
    /// the pillow), in a stable order.
    pub fn faces(&self) -> Vec<Vec<Walk>> {
        let number = |w: Walk| 2 * w.edge + usize::from(!w.along);
        let mut seen = vec![false; 2 * self.edges()];
        let mut faces = Vec::new();
        for start in 0..seen.len() {
            if seen[start] {
                continue;
            }
            let first = Walk { edge: start / 2, along: start.is_multiple_of(2) };
            let mut face = Vec::new();
            let mut walk = first;
            loop {
                seen[number(walk)] = true;
                face.push(walk);
                walk = self.next_on_face(walk);
                if walk == first {
                    break;
                }
            }
            faces.push(face);
        }
        faces
    }

    /// Vertices minus edges plus faces: 0 for a connected map on the torus.
    pub fn euler_characteristic(&self) -> i64 {
        self.vertices() as i64 - self.edges() as i64 + self.faces().len() as i64
    }

    /// Whether all edges of some face run the same way round it. On the torus this
    /// is so exactly when the endless fabric has a circle of stitches that wait for
    /// each other (Lemma 1).
    pub fn has_directed_face(&self) -> bool {
        self.faces().iter().any(|face| is_directed(face))
    }

    /// The closed lines of pairs that touch at every stitch and never cross:
    /// in at the left, out at the left; in at the right, out at the right.
    /// Each is a list of edges. The paper calls them "osculating paths".
    pub fn touching_circuits(&self) -> Vec<Vec<usize>> {
        let mut seen = vec![false; self.edges()];
        let mut circuits = Vec::new();
        for start in 0..self.edges() {
            if seen[start] {
                continue;
            }
            let mut circuit = Vec::new();
            let mut edge = start;
            while !seen[edge] {
                seen[edge] = true;
                circuit.push(edge);
                edge = self.arrives[edge];
            }
            circuits.push(circuit);
        }
        circuits
    }
}

/// Whether all edges of a face run the same way round it.
pub fn is_directed(face: &[Walk]) -> bool {
    face.iter().all(|w| w.along) || face.iter().all(|w| !w.along)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_stitch_torchon_is_a_torus_with_one_square_hole() {
        // Left out arrives at right in, right out at left in.
        let map = LaceMap::new(vec![1, 0]).unwrap();
        let faces = map.faces();
        assert_eq!(faces.len(), 1);
        assert_eq!(faces[0].len(), 4);
        assert_eq!(map.euler_characteristic(), 0);
        assert!(!map.has_directed_face());
    }

    #[test]
    fn wrong_wirings_are_refused() {
        assert!(LaceMap::new(vec![0, 0]).is_none());
        assert!(LaceMap::new(vec![0, 2]).is_none());
        assert!(LaceMap::new(vec![0]).is_none());
    }
}
