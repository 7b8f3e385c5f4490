//! Where the pairs end, and the colours there.

use lace::{LegFrom, LegTo, Side};

use super::columns::columns;
use super::place;
use crate::worked::Worked;

impl Worked {
    /// Where each pair is hung and where it ends, as a table.
    pub(super) fn ends_in_words(&self) -> Vec<String> {
        let piece = &self.piece;
        let threads = piece.threads();
        let mut table = vec![["Pair", "hung at", "colours", "ends"].map(str::to_owned).to_vec()];
        for (k, pair) in piece.pairs().iter().enumerate() {
            let ends = [0, 1].map(|side| threads[2 * k + side].end.0);
            let end = if ends[0] == ends[1] {
                self.end_of(ends[0])
            } else {
                format!("one thread {}; the other {}", self.end_of(ends[0]), self.end_of(ends[1]))
            };
            table.push(vec![
                pair.name.to_string(),
                place(pair.at),
                self.two_colours([2 * k, 2 * k + 1]),
                end,
            ]);
        }
        columns(&table, "  ")
    }

    /// How a leg ends: `hangs on below -4, 16, number 1 from the left`.
    pub(super) fn end_of(&self, leg: usize) -> String {
        let number = self.ending_legs().iter().position(|&other| other == leg).map_or(0, |k| k + 1);
        let leg = &self.piece.legs()[leg];
        let how = match leg.to {
            LegTo::Ends(ending) => ending.word(),
            LegTo::Stitch(_) => "goes on",
        };
        let from = match leg.from {
            LegFrom::Stitch(end) => place(self.piece.stitches()[end.stitch].at),
            LegFrom::Pair(pair) => place(self.piece.pairs()[pair].at),
        };
        format!("{how} below {from}, number {number} from the left")
    }

    /// The legs that end, from left to right.
    fn ending_legs(&self) -> Vec<usize> {
        let (legs, stitches) = (self.piece.legs(), self.piece.stitches());
        let key = |&leg: &usize| match legs[leg].from {
            LegFrom::Stitch(end) => (stitches[end.stitch].at.x, end.side),
            LegFrom::Pair(pair) => (self.piece.pairs()[pair].at.x, Side::Left),
        };
        let mut ending: Vec<usize> =
            (0..legs.len()).filter(|&leg| matches!(legs[leg].to, LegTo::Ends(_))).collect();
        ending.sort_by(|a, b| {
            let ((x, side), (z, other)) = (key(a), key(b));
            x.total_cmp(&z).then(side.cmp(&other))
        });
        ending
    }

    /// The colours of the pairs at the end, from left to right.
    pub(super) fn colours_at_the_end(&self) -> Vec<String> {
        let on_legs = self.piece.threads_on_legs();
        let mut colours: Vec<String> = Vec::new();
        for leg in self.ending_legs() {
            colours.push(self.two_colours(on_legs[leg]));
        }
        let groups = colours.chunk_by(|a, b| a == b).map(|group| match group.len() {
            1 => group[0].clone(),
            n => format!("{n} of {}", group[0]),
        });
        let list = groups.collect::<Vec<_>>().join(", ");
        vec!["Colours of the pairs at the end, from the left".to_owned(), format!("  {list}")]
    }
}
