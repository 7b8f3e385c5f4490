//! Turning a file's bytes into a component that exports the interface and
//! imports nothing.

use catalogue::text::{clean, clean_and_cut};
use wasmparser::{Parser, Payload};
use wasmtime::Engine;
use wasmtime::component::Component;

use crate::burden::{Burden, Shapes};
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
/// to compile. Returns what its functions ask of the compiler.
///
/// # Errors
/// When it is over one of the [`limits`], has any import, or cannot be parsed.
pub fn look_through(file: &str, bytes: &[u8]) -> Result<Burdens> {
    if bytes.len() > limits::FILE_BYTES {
        return Err(SandboxError::TooLarge { file: file.to_owned() });
    }
    let mut look = Look::default();
    for payload in Parser::new(0).parse_all(bytes) {
        let seen = payload.and_then(|payload| look.at(payload));
        seen.map_err(|why| invalid(file, &why.to_string()))?;
        if let Some((what, most)) = look.costly {
            return Err(invalid(file, &format!("it has more than {most} {what}: {}", remedy(what))));
        }
    }
    refuse_imports(file, look.imports)?;
    Ok(look.burdens)
}

/// What to do about too much of something.
fn remedy(what: &str) -> &'static str {
    if what.contains("function") {
        "compile it for size, or split its longest function"
    } else {
        "leave out what it does not need"
    }
}

/// What a file's functions ask of the compiler.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Burdens {
    /// How many there are.
    pub functions: usize,
    /// The most that any of them asks.
    pub most: Burden,
    /// Local variables of all functions.
    pub locals: usize,
    /// Values carried between the blocks of all functions.
    pub values: usize,
    /// The same times blocks, function by function.
    pub work: usize,
}

/// A file being scanned.
#[derive(Default)]
struct Look {
    /// What is known of the modules and components that are open, the innermost
    /// last.
    open: Vec<Shapes>,
    parts: usize,
    burdens: Burdens,
    imports: Vec<String>,
    /// The first limit that it is over, in words, with the limit.
    costly: Option<(&'static str, usize)>,
}

impl Look {
    fn at(&mut self, payload: Payload<'_>) -> wasmparser::Result<()> {
        let outermost = self.open.len() == 1;
        match payload {
            Payload::Version { .. } => {
                self.open.push(Shapes::default());
                self.parts += 1;
                self.at_most(self.open.len(), "components one inside the other", limits::NESTING);
                self.at_most(self.parts, "modules and components", limits::PARTS);
            }
            Payload::End(_) => drop(self.open.pop()),
            Payload::ImportSection(section) if outermost => {
                for import in section.into_imports() {
                    let import = import?;
                    self.imports.push(format!("{} {}", import.module, import.name));
                }
            }
            Payload::ComponentImportSection(section) if outermost => {
                for import in section {
                    self.imports.push(import?.name.name.to_owned());
                }
            }
            payload => {
                if let Some(module) = self.open.last_mut() {
                    match payload {
                        Payload::TypeSection(section) => module.types(section)?,
                        Payload::ImportSection(section) => module.imports(section)?,
                        Payload::FunctionSection(section) => module.functions(section)?,
                        Payload::CodeSectionEntry(body) => {
                            let burden = Burden::of(&body, module)?;
                            self.function(burden);
                        }
                        _ => {}
                    }
                }
            }
        }
        Ok(())
    }

    fn function(&mut self, burden: Burden) {
        let all = &mut self.burdens;
        all.functions += 1;
        all.most = all.most.max(burden);
        all.locals = all.locals.saturating_add(burden.locals);
        all.values = all.values.saturating_add(burden.values);
        all.work = all.work.saturating_add(burden.work);
        let Burdens { functions, locals, values, work, .. } = *all;
        if let Some((what, most)) = burden.over() {
            self.costly.get_or_insert((what, most));
        }
        self.at_most(functions, "functions", limits::FUNCTIONS);
        self.at_most(locals, "local variables", limits::LOCALS);
        self.at_most(work, "values times blocks in all functions", limits::WORK);
        self.at_most(values, "values carried between the blocks of all functions", limits::VALUES);
    }

    fn at_most(&mut self, has: usize, what: &'static str, most: usize) {
        if has > most {
            self.costly.get_or_insert((what, most));
        }
    }
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
