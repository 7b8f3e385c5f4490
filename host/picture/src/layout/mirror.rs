//! The mirror symmetry of a ground: if exchanging left and right maps the braid
//! onto itself, the layout is kept symmetrical too. Over and under do not affect
//! where threads lie.

use lace::{Cell, CrossingSource, Lacework, Point, UprightCell, point};

use super::chains::Chains;
use super::twins::Twins;

/// The image of a crossing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct NodeImage {
    node: usize,
    cell: Cell,
}

/// The image of each crossing in a mirror.
#[derive(Clone, Debug)]
pub(super) struct Mirror {
    /// Twice the `x` of the axis, in grid steps.
    axis: f64,
    /// The image of every crossing.
    images: Vec<NodeImage>,
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

impl Mirror {
    /// A mirror symmetry of the ground with an upright axis, if there is one.
    pub fn of(ground: &Lacework) -> Option<Mirror> {
        let places = ground.places();
        let upright = ground.upright();
        (0..places.len()).find_map(|s| {
            // The first stitch is mapped to a copy of this one at the same height.
            let rows = (places[0].y - places[s].y) / upright.row_height();
            let row = UprightCell::new(0, rows.round() as i64);
            let cell = close(rows, rows.round()).then(|| upright.to_definition(row))?;
            let axis = places[0].x + places[s].x + ground.lattice().place(cell).x;
            Mirror::with(ground, axis, s, cell)
        })
    }

    /// The mirror that maps the first stitch to another one in a cell.
    fn with(ground: &Lacework, axis: f64, stitch: usize, cell: Cell) -> Option<Mirror> {
        let (braid, places, lattice) = (ground.braid(), ground.places(), ground.lattice());
        let upright = ground.upright();
        let reflect = |cell: Cell| Some(upright.to_definition(upright.mirrored(upright.to_upright(cell))?));
        let (across, down) = (reflect(Cell::new(1, 0))?, reflect(Cell::new(0, 1))?);
        // The image of the first crossing may be either of the first two
        // crossings of the other stitch.
        let first = braid.stitch_nodes[stitch];
        let at = 2 - braid.nodes.first()?.at;
        let begin = (first..(first + 2).min(braid.nodes.len()))
            .find(|&w| braid.nodes[w].source == CrossingSource::Stitch(stitch) && braid.nodes[w].at == at)?;
        let mut images: Vec<Option<NodeImage>> = vec![None; braid.nodes.len()];
        images[0] = Some(NodeImage { node: begin, cell });
        let mut open = vec![0];
        while let Some(v) = open.pop() {
            let NodeImage { node: w, cell } = images[v]?;
            if let (CrossingSource::Stitch(s), CrossingSource::Stitch(t)) =
                (braid.nodes[v].source, braid.nodes[w].source)
            {
                let (p, q) = (places[s], places[t] + lattice.place(cell));
                if !close(axis - p.x, q.x) || !close(p.y, q.y) {
                    return None;
                }
            }
            for side in 0..2 {
                let (out, twin) = (2 * v + side, 2 * w + 1 - side);
                let (into, twin_into) = (braid.map.arrival(out), braid.map.arrival(twin));
                if into % 2 == twin_into % 2 {
                    return None;
                }
                let step = braid.segments[out].cell;
                let more = braid.segments[twin].cell;
                let there = cell + more - across * step.across - down * step.down;
                let image = NodeImage { node: twin_into / 2, cell: there };
                match images[into / 2] {
                    None => {
                        images[into / 2] = Some(image);
                        open.push(into / 2);
                    }
                    Some(known) if known == image => {}
                    Some(_) => return None,
                }
            }
        }
        let images: Vec<_> = images.into_iter().collect::<Option<_>>()?;
        let pinned = |left: usize, right: usize| {
            braid.pins.iter().any(|p| p.left.segment == left && p.right.segment == right)
        };
        let twin = |out: usize| 2 * images[out / 2].node + 1 - out % 2;
        braid
            .pins
            .iter()
            .all(|p| pinned(twin(p.right.segment), twin(p.left.segment)))
            .then_some(Mirror { axis, images })
    }

    /// Moves symmetric places sideways until the axis is that of the mirror.
    pub fn centre(&self, nodes: &mut [Point], shift: impl Fn(Cell) -> Point, unit: f64) {
        let axes =
            nodes.iter().zip(&self.images).map(|(p, image)| p.x + nodes[image.node].x + shift(image.cell).x);
        let off = 0.5 * (self.axis / unit - axes.sum::<f64>() / nodes.len() as f64);
        for p in nodes {
            p.x += off;
        }
    }

    /// The mirror for the points of a chain whose unit is `unit` grid steps wide.
    pub fn twins(&self, chains: &Chains, shift: impl Fn(Cell) -> Point, unit: f64) -> Option<Twins> {
        let mut images: Vec<(usize, Point)> =
            self.images.iter().map(|image| (image.node, shift(image.cell))).collect();
        images.resize(chains.points.len(), (0, point(0.0, 0.0)));
        for s in 0..chains.first_edge.len() - 1 {
            let NodeImage { node, cell } = self.images[s / 2];
            let twin = 2 * node + 1 - s % 2;
            let own = chains.first_edge[s]..chains.first_edge[s + 1];
            let other = chains.first_edge[twin]..chains.first_edge[twin + 1];
            if own.len() != other.len() {
                return None;
            }
            for (e, f) in own.zip(other).skip(1) {
                images[chains.edges[e].from] = (chains.edges[f].from, shift(cell));
            }
        }
        let segments =
            (0..chains.first_edge.len() - 1).map(|s| 2 * self.images[s / 2].node + 1 - s % 2).collect();
        Some(Twins { axis: self.axis / unit, images, segments })
    }
}
