//! The host's side of the interface, generated from its text.

#![allow(missing_docs, reason = "generated: the documentation stands in the interface")]
#![allow(clippy::all, unused_qualifications, reason = "generated")]

wasmtime::component::bindgen!({
    path: "../../sdk/wit",
    world: "contribution",
});
