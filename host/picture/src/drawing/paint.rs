//! Paints, strokes and text alignment.

use crate::colour::{Rgb, Tone};

/// The background of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Background {
    /// None: the drawing is laid on something else.
    Transparent,
    /// One colour.
    Colour(Rgb),
}

impl From<Rgb> for Background {
    fn from(colour: Rgb) -> Background {
        Background::Colour(colour)
    }
}

/// The colour of a paint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// A fixed colour.
    Fixed(Rgb),
    /// The colour of a class of threads ([`Drawing::colours`](super::Drawing::colours)), in a tone.
    Thread {
        /// Position in [`Drawing::colours`](super::Drawing::colours).
        class: usize,
        /// Black or white added.
        tone: Tone,
    },
}

/// How an area is painted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paint {
    /// Its colour.
    pub ink: Ink,
    /// 0 (nothing) to 1 (hides what is below).
    pub opacity: f32,
}

impl From<Rgb> for Paint {
    fn from(colour: Rgb) -> Paint {
        Paint { ink: Ink::Fixed(colour), opacity: 1.0 }
    }
}

impl Paint {
    /// A translucent fixed colour.
    pub fn veil(colour: Rgb, opacity: f32) -> Paint {
        Paint { ink: Ink::Fixed(colour), opacity }
    }

    /// The colour of a class of threads, in a tone.
    pub fn thread(class: usize, tone: Tone) -> Paint {
        Paint { ink: Ink::Thread { class, tone }, opacity: 1.0 }
    }
}

/// How a line ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// Square, flush with the end.
    Butt,
    /// Rounded.
    Round,
}

/// A stroke along a path; corners are round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its paint.
    pub paint: Paint,
    /// Width, mm.
    pub width: f64,
    /// Ends.
    pub cap: Cap,
    /// Lengths of dash and gap, mm; `None` is a solid line.
    pub dash: Option<[f64; 2]>,
}

impl Stroke {
    /// A solid line with round ends.
    pub fn new(paint: impl Into<Paint>, width: f64) -> Stroke {
        Stroke { paint: paint.into(), width, cap: Cap::Round, dash: None }
    }
}

/// How a text is aligned to its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins at the place.
    Start,
    /// The place is its middle.
    Middle,
    /// The text ends at the place.
    End,
}

/// A weight of the typeface used in pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// For running text.
    Regular,
    /// For headings.
    Semibold,
}
