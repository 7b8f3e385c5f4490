//! Turning a file's bytes into a component that exports the interface and
//! imports nothing.

use catalogue::text::{clean, clean_and_cut};
use wasmparser::{FunctionBody, Operator, Parser, Payload};
use wasmtime::Engine;
use wasmtime::component::Component;

use crate::error::{Result, SandboxError};
use crate::limits;
use crate::versions::{Carried, Version, carried};

/// How many imports a refusal lists.
const LISTED: usize = 8;

/// Turns a core module that carries the interface into a component.
///
/// # Errors
/// When it is not valid, imports anything, or does not carry the interface.
/// `file` names it in the message.
pub fn componentize(file: &str, core_wasm: &[u8]) -> Result<Vec<u8>> {
    look_through(file, core_wasm)?;
    encode(file, core_wasm)
}

fn encode(file: &str, core_wasm: &[u8]) -> Result<Vec<u8>> {
    wit_component::ComponentEncoder::default()
        .validate(true)
        .module(core_wasm)
        .and_then(|mut encoder| encoder.encode())
        .map_err(|why| invalid(file, &format!("{why:#}")))
}

/// Scans a file's bytes before any library that might take too much time or
/// memory sees them. It must import nothing and must not be built to be costly
/// to compile.
///
/// # Errors
/// When it is over one of the [`limits`], has any import, or cannot be parsed.
pub(crate) fn look_through(file: &str, bytes: &[u8]) -> Result<()> {
    if bytes.len() > limits::FILE_BYTES {
        return Err(SandboxError::TooLarge { file: file.to_owned() });
    }
    let broken = |why: wasmparser::BinaryReaderError| invalid(file, &why.to_string());
    let costly = |what: &str, most: usize| invalid(file, &format!("it has more than {most} {what}"));
    let (mut depth, mut parts, mut functions, mut locals) = (0_usize, 0_usize, 0_usize, 0_usize);
    let mut imports = Vec::new();
    for payload in Parser::new(0).parse_all(bytes) {
        match payload.map_err(broken)? {
            Payload::Version { .. } => {
                depth += 1;
                parts += 1;
                if depth > limits::NESTING {
                    return Err(costly("components one inside the other", limits::NESTING));
                }
                if parts > limits::PARTS {
                    return Err(costly("modules and components", limits::PARTS));
                }
            }
            Payload::End(_) => depth -= 1,
            Payload::ImportSection(section) if depth == 1 => {
                for import in section.into_imports() {
                    let import = import.map_err(broken)?;
                    imports.push(format!("{} {}", import.module, import.name));
                }
            }
            Payload::ComponentImportSection(section) if depth == 1 => {
                for import in section {
                    imports.push(import.map_err(broken)?.name.name.to_owned());
                }
            }
            Payload::CodeSectionEntry(body) => {
                functions += 1;
                for group in body.get_locals_reader().map_err(broken)? {
                    locals = locals.saturating_add(group.map_err(broken)?.0 as usize);
                }
                if functions > limits::FUNCTIONS {
                    return Err(costly("functions", limits::FUNCTIONS));
                }
                if locals > limits::LOCALS {
                    return Err(costly("local variables", limits::LOCALS));
                }
                if deepest_block(&body).map_err(broken)? > limits::BLOCKS {
                    return Err(costly("blocks one inside the other", limits::BLOCKS));
                }
            }
            _ => {}
        }
    }
    refuse_imports(file, imports)
}

/// How deeply the blocks of a function are nested.
fn deepest_block(body: &FunctionBody<'_>) -> wasmparser::Result<usize> {
    let (mut depth, mut deepest) = (0_usize, 0);
    for operator in body.get_operators_reader()? {
        match operator? {
            Operator::Block { .. } | Operator::Loop { .. } | Operator::If { .. } => depth += 1,
            Operator::End => depth = depth.saturating_sub(1),
            _ => {}
        }
        deepest = deepest.max(depth);
    }
    Ok(deepest)
}

/// Compiles a file's bytes, which have been scanned.
pub(crate) fn compile(file: &str, engine: &Engine, bytes: &[u8]) -> Result<Component> {
    let encoded;
    let component = if Parser::is_core_wasm(bytes) {
        encoded = encode(file, bytes)?;
        &encoded
    } else {
        bytes
    };
    // `from_binary` and not `new`, which would also accept text.
    Component::from_binary(engine, component).map_err(|why| invalid(file, &format!("{why:#}")))
}

/// The version of the interface that the component exports, one of `versions`.
///
/// # Errors
/// When it exports none of them; the message says what to do.
pub(crate) fn version(
    file: &str,
    engine: &Engine,
    component: &Component,
    versions: &'static [Version],
) -> Result<&'static Version> {
    let of = component.component_type();
    let file = file.to_owned();
    Err(match carried(versions, of.exports(engine).map(|(name, _)| name)) {
        Carried::Known(version) => return Ok(version),
        Carried::Newer(found) => SandboxError::NewerVersion {
            file,
            found: clean_and_cut(&found, 40),
            known: versions.iter().map(|version| version.number).collect(),
        },
        Carried::Other(found) => SandboxError::OtherVersion { file, found: clean_and_cut(&found, 40) },
        Carried::Nothing => SandboxError::NoInterface { file },
    })
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
