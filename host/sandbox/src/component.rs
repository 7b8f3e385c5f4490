//! From a file's bytes to a component that carries the interface and imports
//! nothing.

use wasmparser::{Parser, Payload};
use wasmtime::Engine;
use wasmtime::component::Component;

use crate::error::{Result, SandboxError};
use crate::limits;
use crate::text::{clean, clean_and_cut};
use crate::{INTERFACE, INTERFACE_NAME};

/// How many imports a refusal lists.
const LISTED: usize = 8;

/// A core module that carries the interface, as a component.
///
/// # Errors
/// Where it is not valid, imports anything, or does not carry the interface.
/// `file` names it in the message.
pub fn componentize(file: &str, core_wasm: &[u8]) -> Result<Vec<u8>> {
    let imports = core_imports(core_wasm).map_err(|why| invalid(file, &why))?;
    refuse_imports(file, imports)?;
    wit_component::ComponentEncoder::default()
        .validate(true)
        .module(core_wasm)
        .and_then(|mut encoder| encoder.encode())
        .map_err(|why| invalid(file, &format!("{why:#}")))
}

/// The file's bytes as a component; its imports and exports are not looked at
/// yet.
pub(crate) fn as_component(file: &str, bytes: &[u8]) -> Result<Vec<u8>> {
    if bytes.len() > limits::FILE_BYTES {
        return Err(SandboxError::TooLarge { file: file.to_owned() });
    }
    if Parser::is_core_wasm(bytes) { componentize(file, bytes) } else { Ok(bytes.to_owned()) }
}

/// Compiles a component.
pub(crate) fn compile(file: &str, engine: &Engine, bytes: &[u8]) -> Result<Component> {
    // The library would read text as well.
    if !Parser::is_component(bytes) {
        return Err(invalid(file, "it does not begin as WebAssembly does"));
    }
    Component::from_binary(engine, bytes).map_err(|why| invalid(file, &format!("{why:#}")))
}

/// Makes sure that the component imports nothing and exports this version of
/// the interface.
pub(crate) fn check(file: &str, engine: &Engine, component: &Component) -> Result<()> {
    let of = component.component_type();
    refuse_imports(file, of.imports(engine).map(|(name, _)| name.to_owned()))?;
    let found: Vec<&str> =
        of.exports(engine).filter_map(|(name, _)| name.strip_prefix(INTERFACE_NAME)).collect();
    if found.iter().any(|version| INTERFACE.strip_prefix(INTERFACE_NAME) == Some(version)) {
        return Ok(());
    }
    Err(match found.iter().find_map(|version| version.strip_prefix('@')) {
        Some(found) => SandboxError::OtherVersion { file: file.to_owned(), found: clean_and_cut(found, 40) },
        None => SandboxError::NoInterface { file: file.to_owned() },
    })
}

fn core_imports(core_wasm: &[u8]) -> std::result::Result<Vec<String>, String> {
    let mut imports = Vec::new();
    for payload in Parser::new(0).parse_all(core_wasm) {
        if let Payload::ImportSection(section) = payload.map_err(|why| why.to_string())? {
            for import in section.into_imports() {
                let import = import.map_err(|why| why.to_string())?;
                imports.push(format!("{} {}", import.module, import.name));
            }
        }
    }
    Ok(imports)
}

fn refuse_imports(file: &str, imports: impl IntoIterator<Item = String>) -> Result<()> {
    let mut imports: Vec<String> =
        imports.into_iter().map(|name| format!("`{}`", clean_and_cut(&name, 80))).collect();
    if imports.is_empty() {
        return Ok(());
    }
    if imports.len() > LISTED {
        let more = imports.len() - LISTED;
        imports.truncate(LISTED);
        imports.push(format!("and {more} more"));
    }
    Err(SandboxError::Imports { file: file.to_owned(), imports })
}

fn invalid(file: &str, why: &str) -> SandboxError {
    SandboxError::Invalid { file: file.to_owned(), why: clean_and_cut(&clean(why), 300) }
}
