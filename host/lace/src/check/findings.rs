//! Findings: everything that can be wrong with a repeat, in a lacemaker's words.
//! The check, `explain` and the manual share this one table; its numbers come
//! from [`crate::limits`].

use std::fmt;
use std::sync::LazyLock;

use crate::limits::{
    MAX_CELL, MAX_CROSSINGS, MAX_CROSSINGS_PER_STEP, MAX_LEGS_PER_STEP, MAX_MOVES, MAX_PLACE,
    MAX_REPEAT_PAIRS, MAX_STITCHES, MAX_TWISTS, MAX_WORD,
};
use crate::repeat::Side;

/// How serious a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The ground can be worked, but something looks odd.
    Warning,
    /// The ground cannot be worked as written.
    Error,
}

/// Where in the repeat a finding lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The repeat as a whole.
    Repeat,
    /// These stitches.
    Stitches(Vec<String>),
    /// The leg that leaves a stitch by this exit.
    Leg {
        /// Id of the stitch it leaves.
        from: String,
        /// The exit.
        side: Side,
    },
    /// The legs that leave these stitches by these exits.
    Pairs(Vec<(String, Side)>),
}

macro_rules! codes {
    ($($name:ident $word:literal $severity:ident: $means:literal, $why:literal, $remedy:expr;)*) => {
        /// The kind of fault.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Code {
            $(#[doc = $means] $name,)*
        }

        impl Code {
            /// Every code, errors first.
            pub const ALL: &'static [Code] = &[$(Code::$name),*];

            /// The word that `explain` takes.
            pub const fn word(self) -> &'static str {
                match self { $(Code::$name => $word),* }
            }

            /// Error or warning.
            pub const fn severity(self) -> Severity {
                match self { $(Code::$name => Severity::$severity),* }
            }

            /// What the code means, in one sentence.
            pub const fn means(self) -> &'static str {
                match self { $(Code::$name => $means),* }
            }

            /// Why it matters on the pillow.
            pub const fn why(self) -> &'static str {
                match self { $(Code::$name => $why),* }
            }

            /// What to do about it.
            pub fn remedy(self) -> &'static str {
                match self {
                    $(Code::$name => {
                        static REMEDY: LazyLock<String> = LazyLock::new(|| String::from($remedy));
                        &REMEDY
                    }),*
                }
            }
        }
    };
}

codes! {
    NoStitches "no-stitches" Error:
        "The repeat has no stitches.",
        "There is nothing to work.",
        "Write at least one stitch.";
    TooLarge "too-large" Error:
        "The repeat is over the size limit.",
        "A drawing of it would not finish in reasonable time.",
        format!(
            "Look for a smaller repeat: the smallest part that gives the ground when it is set side \
             by side. The limits are {MAX_STITCHES} stitches, {MAX_MOVES} moves in a stitch, \
             {MAX_TWISTS} extra twists on a pair between two stitches, {MAX_CELL} repeats across or \
             down from one stitch to the next, {MAX_REPEAT_PAIRS} pairs hanging across the repeat, and \
             {MAX_CROSSINGS} crossings of threads in it (a pair move makes four). Over one square grid step \
             lie at most {MAX_CROSSINGS_PER_STEP} crossings and {MAX_LEGS_PER_STEP} pairs: make the steps of \
             the repeat longer, or place stitches that follow each other closer together."
        );
    BadName "bad-name" Error:
        "The name of a stitch is not a plain word, or two stitches share it.",
        "Steps, diagrams and messages name stitches; a name must say which one is meant.",
        format!(
            "Use a to z, 0 to 9 and hyphens, beginning with a letter or digit, at most {MAX_WORD} \
             characters, each name once."
        );
    BadNumber "bad-number" Error:
        "A place or a step of the repeat is not a finite number, or lies too far out.",
        "A pin needs a place on the pricking.",
        format!("Give places in grid steps between -{MAX_PLACE} and {MAX_PLACE}.");
    BadLattice "bad-lattice" Error:
        "The steps across and down do not spread the repeat over an area.",
        "Repeats would lie on top of each other, or left and right would be swapped.",
        "Give two steps in different directions. Seen along the step across, the step down must lie on the right-hand side (across.x * down.y - across.y * down.x is positive). Swap the two if it is negative.";
    NeverLevel "never-level" Error:
        "However many steps you take across and down, you never come to a place on the same level.",
        "The rows never come back level, so no number of pairs hangs from a straight edge.",
        "Choose the steps so that some whole number of them leads straight across.";
    PlacesMissing "places-missing" Error:
        "Some stitches have a place and some have none.",
        "Either every place is given, or the program finds all of them.",
        "Give the missing places, or leave all of them out.";
    LooseEnd "loose-end" Error:
        "A pair has nowhere to go after a stitch, or a stitch waits for a pair that never comes.",
        "Every stitch is worked with two pairs: two come in and two go out.",
        "Lead a pair to the side where none comes in, or on from the side where none leaves.";
    UsedTwice "used-twice" Error:
        "Two pairs come into a stitch, or leave it, on the same side.",
        "Two pairs would hang where there is room for one.",
        "Lead one of the two to a side that is still free.";
    SeveralPieces "several-pieces" Error:
        "The stitches fall into pieces that no pair connects.",
        "The pieces would lie side by side without being joined.",
        "Move the stitches onto the slanting rows of the others, or lead at least two pairs from each piece into the next.";
    LegsMeet "pairs-pass" Error:
        "Two pairs must pass through each other where there is no stitch, or the pairs round a hole do not close it.",
        "Pairs meet only where a stitch is worked; where two pairs pass, there must be a stitch.",
        "Work a stitch where two pairs pass, or lead one of them another way: check to which stitch, which side of it and which repeat it goes.";
    Mirrored "mirrored" Error:
        "Left and right are swapped: pairs that leave a stitch on the left go to the right.",
        "The drawing would turn every stitch over, face down.",
        "Swap left and right where pairs leave and come in, or mirror the places to which they go.";
    NoOrder "no-order" Error:
        "Some stitches wait for each other in a circle.",
        "None of them can be the first to be worked.",
        "Turn one of the pairs round: each must run from the stitch worked first to the stitch worked later.";
    NotDown "not-down" Error:
        "A pair goes on for ever sideways or up the pillow.",
        "Lace grows down the pillow: a pair that never comes lower never reaches the end of its row.",
        "Lead the pair down to a later row: to a stitch further down, or with a longer step down.";
    PairsDrift "pairs-drift" Error:
        "The lace drifts sideways: from row to row pairs are missing at one edge and left over at the other.",
        "Pairs would have to be added on one side and cut off on the other, for ever.",
        "Choose the steps so that pairs which only touch come straight down, as far to the left as to the right.";
    LiftsOff "lifts-off" Error:
        "A layer of threads lies on top of the rest everywhere.",
        "No thread goes over that layer, so it lifts off; the lace falls apart when the pins come out.",
        "Work at least a cross and a twist at each stitch, so that threads go over and under in turn.";
    NoPin "no-pin" Warning:
        "No stitch has a pin.",
        "Nothing holds the lace open while it is worked.",
        "Set a pin in some stitch, unless the ground is one that is worked without pins.";
    PairsUnlinked "pairs-unlinked" Warning:
        "A stitch passes no thread from one pair to the other.",
        "The two pairs only lie side by side there.",
        "Put a cross into the stitch, or leave the stitch out.";
    OneLongStitch "one-long-stitch" Warning:
        "Two stitches follow each other with the same two pairs; neither is a tally and not both have a pin.",
        "A lacemaker would call them one longer stitch.",
        "Join them into one, or give both a pin.";
    LegsDrawnCrossing "drawn-crossing" Warning:
        "With the places given, straight lines for the pairs cross where there is no stitch.",
        "The working diagram would mislead.",
        "Move the stitches, or leave the places out and let the program find them.";
    Lopsided "lopsided" Warning:
        "Some pairs run more than six times as far from stitch to stitch as others.",
        "Some threads would lie slack and some would be strained.",
        "Move the stitches so that the distances become more even.";
    RunsUphill "runs-uphill" Warning:
        "A pair goes to a stitch that is placed higher up.",
        "Pins are set from the top down; the pair would pull upwards.",
        "Place the later stitch lower, unless the pair really turns back up.";
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// One thing found in a repeat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The kind of fault.
    pub code: Code,
    /// Where it lies.
    pub place: Place,
    /// What exactly is wrong, in one sentence.
    pub sentence: String,
}

impl Finding {
    /// Error or warning.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }

    /// Whether it makes the repeat unworkable.
    pub fn is_error(&self) -> bool {
        self.severity() == Severity::Error
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limits::LOPSIDED;
    use crate::words::number::spelt;

    #[test]
    fn numbers_in_the_table_are_the_limits() {
        assert!(Code::Lopsided.means().contains(&format!("more than {} times", spelt(LOPSIDED as usize))));
        assert!(Code::TooLarge.remedy().contains("2000 stitches, 256 moves in a stitch, 64 extra twists"));
    }
}
