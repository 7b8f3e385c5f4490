//! The versions of the interface that this program knows, in one table.
//!
//! The name of a component's export says which version it was made for, and it
//! is called in that version. The rest of the crate knows only the types of the
//! newest version ([`wire`]): the module of an older version converts its own
//! types here, so that older contributions keep working. `DEVELOPERS.md` says
//! how to add a version.

mod convert;
mod v0_1_0;
mod v0_2_0;

#[cfg(test)]
mod tests;

use wasmtime::Store;
use wasmtime::component::Instance;

use crate::INTERFACE_NAME;
use crate::engine::Guard;

/// The types of the newest version, which the program itself uses.
pub(crate) use v0_2_0::wire;

/// One version of the interface: how to call a component that carries it.
pub(crate) struct Version {
    /// The version number after the `@` of the export's name.
    pub(crate) number: &'static str,
    /// Asks what the contribution is.
    pub(crate) about: fn(&mut Store<Guard>, &Instance) -> Answer<wire::Description>,
    /// Asks for the repeat of these settings.
    pub(crate) define: fn(&mut Store<Guard>, &Instance, &[wire::Setting]) -> Answer<Defined>,
}

/// The known versions, the oldest first.
pub(crate) const KNOWN: &[Version] = &[v0_1_0::VERSION, v0_2_0::VERSION];

/// The answer of a component.
pub(crate) type Answer<T> = Result<T, Unanswered>;

/// A repeat, or the contribution's own refusal.
pub(crate) type Defined = Result<wire::Repeat, wire::Problem>;

/// Why there is no answer.
pub(crate) enum Unanswered {
    /// The functions do not have the types of the version.
    WrongTypes(wasmtime::Error),
    /// The call did not finish.
    Stopped(wasmtime::Error),
}

/// The version a component carries, going by the names of its exports.
pub(crate) enum Carried {
    /// A known version; the newest, if there are several.
    Known(&'static Version),
    /// A version newer than all known ones.
    Newer(String),
    /// An unknown version that is no newer: it was withdrawn or never existed.
    Other(String),
    /// No version at all.
    Nothing,
}

/// Which of the versions a component with these exports carries.
pub(crate) fn carried<'a>(
    versions: &'static [Version],
    exports: impl IntoIterator<Item = &'a str>,
) -> Carried {
    let found: Vec<&str> =
        exports.into_iter().filter_map(|name| name.strip_prefix(INTERFACE_NAME)?.strip_prefix('@')).collect();
    if let Some(version) = versions.iter().rfind(|version| found.contains(&version.number)) {
        return Carried::Known(version);
    }
    let number = |text: &str| semver::Version::parse(text).ok();
    let newest = versions.last().and_then(|version| number(version.number));
    match found.first() {
        None => Carried::Nothing,
        Some(found) if number(found) > newest => Carried::Newer((*found).to_owned()),
        Some(found) => Carried::Other((*found).to_owned()),
    }
}
