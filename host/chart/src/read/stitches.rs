//! The stitches of the repeat.

use std::collections::BTreeSet;
use std::ops::Range;

use lace::Side;
use pairwise_chart::Stitch;
use toml::Spanned;

use super::text::{ExitText, StitchText};
use super::{Reader, WrittenStitch};

impl StitchText {
    pub(super) fn exit(&self, side: Side) -> Option<&Spanned<ExitText>> {
        match side {
            Side::Left => self.left.as_ref(),
            Side::Right => self.right.as_ref(),
        }
    }
}

impl Reader<'_> {
    /// Reads all stitches, with the places where they are written.
    pub(super) fn stitches(&mut self) -> (Vec<Stitch>, Vec<WrittenStitch>) {
        let file = self.file;
        if file.stitches.is_empty() {
            let at = file.repeat.span();
            self.fault(at, "there is no stitch", "write at least one, beginning with [[stitch]]");
        }
        let mut before = BTreeSet::new();
        let stitches = file.stitches.iter().map(|stitch| {
            self.word(&stitch.id, "a stitch");
            self.once(&stitch.id, &mut before, "stitches");
            self.stitch(stitch)
        });
        (stitches.collect(), file.stitches.iter().map(written).collect())
    }

    fn stitch(&mut self, stitch: &StitchText) -> Stitch {
        Stitch {
            id: stitch.id.get_ref().clone(),
            at: stitch.at.get_ref().0,
            work: self.work(&stitch.work),
            exits: Side::BOTH.map(|side| self.exit(stitch, side)),
        }
    }
}

fn written(stitch: &StitchText) -> WrittenStitch {
    let name = stitch.id.span();
    let exit = |side: Side| -> Range<usize> { stitch.exit(side).map_or(name.clone(), Spanned::span) };
    WrittenStitch { exits: Side::BOTH.map(exit), name }
}
