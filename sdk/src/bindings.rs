//! The code generated from the interface in `wit/`.
//!
//! Unsafe code is allowed in this one module: handing texts and lists over to
//! the host goes through raw memory, and `wit-bindgen` writes that part. None
//! of it runs natively.

#![allow(unsafe_code, reason = "generated: passes values between component and host")]
#![allow(missing_docs, reason = "generated: the documentation stands in the interface")]
#![allow(clippy::all, unused_qualifications, reason = "generated")]

wit_bindgen::generate!({
    path: "wit/0.1.0",
    world: "contribution",
    pub_export_macro: true,
    export_macro_name: "export_contribution",
    default_bindings_module: "pairwise_sdk::bindings",

    additional_derives: [PartialEq],
    generate_all,
});
