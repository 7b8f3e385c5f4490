//! stub
pub mod bindings;
