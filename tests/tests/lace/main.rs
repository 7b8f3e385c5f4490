//! The lace model, the layout of threads and their pictures, against values, facts
//! and pictures from outside, and on random repeats.

mod balanced;
mod budgets;
mod colour_orders;
mod diagrams;
mod findings;
mod golden;
mod hold;
mod kinds;
mod layout;
mod moves;
mod random;
mod thread_size;
mod traces;
mod trade;
mod validity;
mod working;
