//! Drawings against the definitions they are made from, published tables, other
//! renderers and a ruler.

mod common;
#[path = "../../../../tests/machine.rs"]
mod machine;

mod colour;
mod exports;
mod pairs;
mod threads;
mod true_size;
