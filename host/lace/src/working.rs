//! Working a ground on the pillow: the order of the stitches, where each pair
//! goes, and which stitch to change to send a pair elsewhere.

pub mod order;
pub mod steer;
pub mod trace;
mod unit;
pub(crate) mod weavers;
