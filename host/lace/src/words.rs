//! Text for people: stitches, travels, windmills, steps and traces in words, numbers, and
//! outside text made safe to show in a message.

mod findings;
mod leaf;
pub mod number;
mod pattern;
pub mod quote;
mod steps;
pub mod stitch;
mod trace;
mod travel;
mod windmill;
