//! Version 0.1.0 of the interface. It has no pin spacing; all else is as in the
//! newest version.

use wasmtime::Store;
use wasmtime::component::Instance;

use super::{Answer, Defined, Unanswered, Version, wire};
use crate::engine::Guard;
use bindings::Contribution;
use bindings::exports::pairwise::ground::ground as older;

pub(super) const VERSION: Version = Version { number: "0.1.0", about, define };

/// The host's side of the interface, generated from its text.
#[allow(unreachable_pub, missing_docs, reason = "generated: the documentation stands in the interface")]
#[allow(clippy::all, unused_qualifications, reason = "generated")]
mod bindings {
    wasmtime::component::bindgen!({
        path: "../../sdk/wit/0.1.0",
        world: "contribution",
    });
}

super::convert::conversions!(older);

fn about(store: &mut Store<Guard>, instance: &Instance) -> Answer<wire::Description> {
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    let raw = contribution.pairwise_ground_ground().call_about(store).map_err(Unanswered::Stopped)?;
    Ok(wire::Description {
        id: raw.id,
        title: raw.title,
        kind: kind(raw.kind),
        family: raw.family,
        other_names: names(raw.other_names),
        laces: raw.laces,
        sits_in: raw.sits_in,
        angle: raw.angle,
        pin_spacing: None,
        notes: raw.notes,
        source: raw.source,
        choices: raw.choices.into_iter().map(choice).collect(),
        varieties: raw.varieties.into_iter().map(variety).collect(),
    })
}

fn define(store: &mut Store<Guard>, instance: &Instance, settings: &[wire::Setting]) -> Answer<Defined> {
    let settings: Vec<older::Setting> = settings.iter().map(setting_out).collect();
    let contribution = Contribution::new(&mut *store, instance).map_err(Unanswered::WrongTypes)?;
    let raw =
        contribution.pairwise_ground_ground().call_define(store, &settings).map_err(Unanswered::Stopped)?;
    Ok(raw.map(repeat).map_err(problem))
}
