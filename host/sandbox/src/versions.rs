//! The versions of the interface that this program knows, in one table.
//!
//! A component says by the name of its export for which version it was made,
//! and is asked in that version. Everything behind this module knows only the
//! newest version's types ([`wire`]): the module of an older version turns its
//! own into them, here at the edge, so that older contributions go on working.
//! `DEVELOPERS.md` says how a version is added.

mod v0_1_0;

#[cfg(test)]
mod tests;

use wasmtime::Store;
use wasmtime::component::Instance;

use crate::INTERFACE_NAME;
use crate::engine::Guard;

/// The types of the newest version, which are the program's own.
pub(crate) use v0_1_0::wire;

/// One version of the interface: how a component that carries it is asked.
pub(crate) struct Version {
    /// As it stands behind the `@` of the export's name.
    pub(crate) number: &'static str,
    /// Asks what the contribution is.
    pub(crate) about: fn(&mut Store<Guard>, &Instance) -> Answer<wire::Description>,
    /// Asks for the repeat of these settings.
    pub(crate) define: fn(&mut Store<Guard>, &Instance, &[wire::Setting]) -> Answer<Defined>,
}

/// What is known, the oldest first.
pub(crate) const KNOWN: &[Version] = &[v0_1_0::VERSION];

/// What a component answers.
pub(crate) type Answer<T> = Result<T, Unanswered>;

/// A repeat, or the contribution's own refusal.
pub(crate) type Defined = Result<wire::Repeat, wire::Problem>;

/// Why there is no answer.
pub(crate) enum Unanswered {
    /// The functions are not those of the version.
    WrongTypes(wasmtime::Error),
    /// The call came to no end.
    Stopped(wasmtime::Error),
}

/// The version a component carries, told by the names of its exports.
pub(crate) enum Carried {
    /// One that is known; the newest, if there are several.
    Known(&'static Version),
    /// One that came after all that are known.
    Newer(String),
    /// One that is not known and is no newer: it was given up, or never was.
    Other(String),
    /// None at all.
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
