//! The lace model against values and facts from outside, and against random
//! repeats.

mod balanced;
mod findings;
mod hold;
mod moves;
mod random;
mod thread_size;
mod traces;
mod trade;
mod validity;
