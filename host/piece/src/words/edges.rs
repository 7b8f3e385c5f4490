//! How the edges are worked, and which pair runs down them for how long.

use catalogue::near::listed;
use lace::{EdgeKind, End, LegTo, Side, Tip, number};

use super::rows;
use crate::worked::Worked;

/// A pair along an edge, from one row to another.
struct Run {
    whose: String,
    colours: String,
    from: f64,
    to: f64,
}

impl Run {
    /// From one pin of a straight edge to the next.
    fn is_short(&self) -> bool {
        self.to - self.from <= 2.0
    }

    fn in_words(&self) -> String {
        let Run { whose, colours, from, to } = self;
        format!("  {}: {whose} ({colours}) runs down it for {} rows", rows(*from, *to), number(to - from))
    }
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
        if let Some(footside) = self
            .design
            .edge
            .footside
            .as_ref()
            .filter(|_| !self.edge_pins(side, EdgeKind::Footside).is_empty())
        {
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
        // Where another pair comes at every pin, they are listed in one line.
        let runs = self.runs(side);
        for group in runs.chunk_by(|a, b| a.is_short() && b.is_short() && a.to == b.from) {
            let [first, .., last] = group else {
                lines.extend(group.iter().map(Run::in_words));
                continue;
            };
            let names = listed(group.iter().map(|run| format!("{} ({})", run.whose, run.colours)));
            lines.push(format!(
                "  {}: another pair from each pin to the next: {names}",
                rows(first.from, last.to)
            ));
        }
        lines
    }

    /// What a stitch is that lies at the first or the last pin of a point, and so at both
    /// edges.
    pub(super) fn tip(&self, stitch: usize) -> Option<&'static str> {
        let (outline, at) = (self.piece.outline(), self.piece.stitches()[stitch].at);
        let middle = at.x == outline.middle();
        if middle && outline.start == Tip::Pointed && at.y == 0.0 {
            Some("first pin")
        } else if middle && outline.finish == Tip::Pointed && at.y == outline.last_row() {
            Some("last pin")
        } else {
            None
        }
    }

    /// The first and the last pin of a point in words.
    pub(super) fn tips_in_words(&self) -> Vec<String> {
        let stitches = self.piece.stitches();
        let tips = (0..stitches.len()).filter_map(|s| Some((self.tip(s)?, stitches[s].stitch.words())));
        tips.map(|(tip, words)| {
            format!("{} of the point: {words}", if tip == "first pin" { "First pin" } else { "Last pin" })
        })
        .collect()
    }

    /// The edge stitches of a side and a kind, from the top, by their positions.
    fn edge_pins(&self, side: Side, kind: EdgeKind) -> Vec<usize> {
        let stitches = self.piece.stitches();
        let is_edge = |&s: &usize| {
            let part = stitches[s].edge.filter(|_| self.tip(s).is_none());
            part.is_some_and(|part| part.side == side && part.kind == kind)
        };
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
            format!(
                "  {}: {}",
                rows(stitches[first].at.y, stitches[last].at.y),
                stitches[first].stitch.words()
            )
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
            let down =
                |to: usize| stitches[to].edge.is_some_and(|part| part.side == side && part.kind == kind);
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
