//! What only people read: stitches, travels, steps and traces in words, numbers,
//! and text from outside made fit for a message.

mod arrangement;
mod findings;
pub mod number;
mod pattern;
pub mod quote;
mod steps;
pub mod stitch;
mod trace;
mod travel;
