//! The lace model, where threads lie and how they look, against values, facts
//! and pictures from outside, and against random repeats.

mod balanced;
mod colour_orders;
mod findings;
mod golden;
mod hold;
mod layout;
mod moves;
mod random;
mod thread_size;
mod traces;
mod trade;
mod validity;
