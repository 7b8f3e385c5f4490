//! Working a ground on the pillow: in what order, where each pair goes, and
//! which stitch to change to send one elsewhere.

pub mod order;
pub mod steer;
pub mod trace;
