//! The lace model against values and facts from outside, and against random
//! repeats.

mod balanced;
mod hold;
mod moves;
mod traces;
mod validity;
