//! Drawings against the definitions they are made from, published tables, other
//! renderers and a ruler.

mod common;

mod colour;
mod exports;
mod pairs;
mod threads;
mod true_size;
