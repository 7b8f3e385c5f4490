//! Drawings checked against their definitions, published tables, other renderers
//! and a ruler.

mod common;
#[path = "../../../../tests/machine.rs"]
mod machine;
#[path = "../../../../tests/rendered.rs"]
mod rendered;

mod colour;
mod exports;
mod threads;
mod trace_chart;
mod true_size;
mod working_diagram;
