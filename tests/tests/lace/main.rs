//! The lace model against values and facts from outside, and against random
//! repeats.

mod balanced;
mod colour_orders;
mod findings;
mod hold;
mod moves;
mod random;
mod thread_size;
mod traces;
mod trade;
mod validity;
