//! Version 0.2.0 of the interface. The program itself uses its types, so nothing
//! is converted.

use wasmtime::Store;
use wasmtime::component::Instance;

use super::{Answer, Defined, Unanswered, Version};
use crate::engine::Guard;
use bindings::Contribution;
pub(crate) use bindings::exports::pairwise::ground::ground as wire;

pub(super) const VERSION: Version = Version { number: "0.2.0", about, define };

/// The host's side of the interface, generated from its text.
#[allow(unreachable_pub, missing_docs, reason = "generated: the documentation stands in the interface")]
#[allow(clippy::all, unused_qualifications, reason = "generated")]
mod bindings {
    wasmtime::component::bindgen!({
        path: "../../sdk/wit/0.2.0",
        world: "contribution",
    });
}

fn about(store: &mut Store<Guard>, instance: &Instance) -> Answer<wire::Description> {
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    contribution.pairwise_ground_ground().call_about(store).map_err(Unanswered::Stopped)
}

fn define(store: &mut Store<Guard>, instance: &Instance, settings: &[wire::Setting]) -> Answer<Defined> {
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    contribution.pairwise_ground_ground().call_define(store, settings).map_err(Unanswered::Stopped)
}
