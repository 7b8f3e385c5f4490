//! What only people read: stitches and traces in words, and text from outside
//! made fit for a message.

pub mod quote;
pub mod stitch;
pub mod trace;
