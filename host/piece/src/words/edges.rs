//! How the edges are worked, and which pair runs down them for how long.

use lace::{EdgeKind, End, LegTo, Side, number};

use super::rows;
use crate::worked::Worked;

/// A pair along an edge, from one row to another.
struct Run {
    whose: String,
    colours: String,
    from: f64,
    to: f64,
}

impl Worked {
    /// An edge in words.
    pub(super) fn edge_in_words(&self, side: Side) -> Vec<String> {
        let heading = match side {
            Side::Left => "Left edge",
            Side::Right => "Right edge",
        };
        let mut lines = vec![heading.to_owned()];
        lines.extend(self.edge_stitches(side));
        if let Some(footside) = self.design.edge.footside.as_ref().filter(|_| !self.edge_pins(side, EdgeKind::Footside).is_empty()) {
            lines.push(format!(
                "  Footside: {} through {}, then {} with the edge pair",
                footside.passing.words(),
                match footside.passives {
                    1 => "the passive pair".to_owned(),
                    n => format!("the {n} passive pairs"),
                },
                footside.edge.words()
            ));
        }
        for Run { whose, colours, from, to } in self.runs(side) {
            lines.push(format!("  {}: {whose} ({colours}) runs down it for {} rows", rows(from, to), number(to - from)));
        }
        lines
    }

    /// The edge stitches of a side and a kind, from the top, by their positions.
    fn edge_pins(&self, side: Side, kind: EdgeKind) -> Vec<usize> {
        let stitches = self.piece.stitches();
        let is_edge = |&s: &usize| stitches[s].edge.is_some_and(|part| part.side == side && part.kind == kind);
        let mut found: Vec<usize> = (0..stitches.len()).filter(is_edge).collect();
        found.sort_by(|&a, &b| stitches[a].at.y.total_cmp(&stitches[b].at.y));
        found
    }

    /// What is worked at the edge pins, row by row, equal ones together.
    fn edge_stitches(&self, side: Side) -> Vec<String> {
        let stitches = self.piece.stitches();
        let pins = self.edge_pins(side, EdgeKind::Ground);
        let same = |&a: &usize, &b: &usize| stitches[a].stitch == stitches[b].stitch;
        let groups = pins.chunk_by(same).map(|group| {
            let (first, last) = (group[0], group[group.len() - 1]);
            format!("  {}: {}", rows(stitches[first].at.y, stitches[last].at.y), stitches[first].stitch.words())
        });
        groups.collect()
    }

    /// The pairs that run down a straight side, from edge pin to edge pin.
    fn runs(&self, side: Side) -> Vec<Run> {
        let stitches = self.piece.stitches();
        let outline = self.piece.outline();
        let footside = self.edge_pins(side, EdgeKind::Footside);
        let kind = if footside.is_empty() { EdgeKind::Ground } else { EdgeKind::Footside };
        let on_legs = self.piece.threads_on_legs();
        let mut runs: Vec<([usize; 2], Run)> = Vec::new();
        for s in self.edge_pins(side, kind) {
            let leg = self.piece.leg_from(End::new(s, side));
            let from = stitches[s].at.y;
            let down = |to: usize| stitches[to].edge.is_some_and(|part| part.side == side && part.kind == kind);
            let to = match self.piece.legs()[leg].to {
                LegTo::Stitch(end) if down(end.stitch) && end.side == side => stitches[end.stitch].at.y,
                _ => continue,
            };
            if from < outline.widest() || to > outline.sides_end() {
                continue;
            }
            let mut threads = on_legs[leg];
            threads.sort_unstable();
            match runs.last_mut().filter(|(lie, run)| *lie == threads && run.to == from) {
                Some((_, run)) => run.to = to,
                None => {
                    let (whose, colours) = (self.whose(threads), self.two_colours(threads));
                    runs.push((threads, Run { whose, colours, from, to }));
                }
            }
        }
        runs.into_iter().map(|(_, run)| run).collect()
    }
}
