//! The code generated from the interface in `wit/`.
//!
//! Unsafe code is allowed only in this module: texts and lists pass to the host
//! through raw memory, in code that `wit-bindgen` generates. None of it runs
//! natively.

#![allow(unsafe_code, reason = "generated: passes values between component and host")]
#![allow(missing_docs, reason = "generated: the documentation stands in the interface")]
#![allow(clippy::all, unused_qualifications, reason = "generated")]

wit_bindgen::generate!({
    path: "wit/0.2.0",
    world: "contribution",
    pub_export_macro: true,
    export_macro_name: "export_contribution",
    default_bindings_module: "pairwise_sdk::bindings",

    additional_derives: [PartialEq],
    generate_all,
});
