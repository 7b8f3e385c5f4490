//! What shapes are painted with.

use crate::colour::{Rgb, Tone};

/// What lies behind a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Background {
    /// Whatever the drawing is laid on.
    Transparent,
    /// One colour.
    Colour(Rgb),
}

impl From<Rgb> for Background {
    fn from(colour: Rgb) -> Background {
        Background::Colour(colour)
    }
}

/// What colour something has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// Always this one.
    Fixed(Rgb),
    /// That of a class of threads ([`Drawing::colours`](super::Drawing::colours)), in a tone.
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
    /// A fixed colour that lets the rest show through.
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
    /// Cut off square at the end.
    Butt,
    /// Rounded.
    Round,
}

/// A line drawn along a path; corners are round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its paint.
    pub paint: Paint,
    /// Width, mm.
    pub width: f64,
    /// Ends.
    pub cap: Cap,
    /// Lengths of dash and gap, mm; `None` is a full line.
    pub dash: Option<[f64; 2]>,
}

impl Stroke {
    /// A full line with round ends.
    pub fn new(paint: impl Into<Paint>, width: f64) -> Stroke {
        Stroke { paint: paint.into(), width, cap: Cap::Round, dash: None }
    }
}

/// Which side of its place a text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins at the place.
    Start,
    /// The place is its middle.
    Middle,
    /// The text ends at the place.
    End,
}

/// A cut of the letter face the pictures use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// For running text.
    Regular,
    /// For headings.
    Semibold,
}
