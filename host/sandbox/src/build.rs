//! Building a contribution's crate into a component.
//!
//! Wants a compiler for `wasm32-unknown-unknown`: one whose standard library is
//! installed, or one that has the library's source beside it and so can build
//! it. Only contributors need this; the program itself never does.

use std::ffi::OsString;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{io, thread};

use serde_json::Value as Json;
use thiserror::Error;

use crate::error::SandboxError;
use crate::plugin::{Plugin, Sandbox, Source};

const TARGET: &str = "wasm32-unknown-unknown";

/// What can go wrong when building.
#[derive(Debug, Error)]
pub enum BuildError {
    /// No compiler for the target.
    #[error(
        "no compiler for {TARGET} was found: run `rustup target add {TARGET}` (with Debian's compiler: \
         `apt install rustc-web rust-web-src` or `rustc rust-src`, and `lld`), then try again"
    )]
    NoCompiler,
    /// A program that cannot be run.
    #[error("`{program}` cannot be run ({why}): install Rust and see that it is on the path")]
    CannotRun {
        /// The program.
        program: String,
        /// What the system said.
        why: io::Error,
    },
    /// The folder holds no crate.
    #[error("{}: is not a crate ({why}): name the folder that holds its Cargo.toml", folder.display())]
    NotACrate {
        /// The folder.
        folder: PathBuf,
        /// What cargo said.
        why: String,
    },
    /// The compiler found faults.
    #[error("{}: cannot be compiled; the compiler's messages say where", folder.display())]
    Faults {
        /// The folder.
        folder: PathBuf,
    },
    /// The crate gives no library a component could be made of.
    #[error("{}: gives no component: put `crate-type = [\"cdylib\", \"rlib\"]` under `[lib]` in its Cargo.toml", folder.display())]
    NoLibrary {
        /// The folder.
        folder: PathBuf,
    },
    /// The component is not a contribution.
    #[error(transparent)]
    Contribution(#[from] SandboxError),
    /// The component cannot be written.
    #[error("{}: cannot be written ({why}): name a folder that can, with `--out`", file.display())]
    Unwritable {
        /// The file.
        file: PathBuf,
        /// What the system said.
        why: io::Error,
    },
}

/// A component, built and loaded.
#[derive(Debug)]
pub struct Built {
    /// The component's bytes.
    pub component: Vec<u8>,
    /// The same, loaded: it has been asked what it is.
    pub plugin: Plugin,
}

/// How the compiler is called.
#[derive(Debug, Default, PartialEq, Eq)]
struct Compiler {
    env: Vec<(&'static str, OsString)>,
    args: Vec<&'static str>,
}

/// Builds the crate in `folder` and loads the component. `tell` gets the lines
/// in which cargo reports what it is doing and what faults it found.
///
/// What is built lies in `plugins` inside the crate's target folder, so that
/// another compiler does not make the rest of a workspace compile anew.
///
/// # Errors
/// See [`BuildError`].
pub fn build(sandbox: &Sandbox, folder: &Path, tell: &mut dyn FnMut(&str)) -> Result<Built, BuildError> {
    let package = Package::find(folder)?;
    let compiler = find_compiler(folder)?;
    let mut cargo = Command::new(cargo());
    cargo
        .current_dir(folder)
        .args([
            "build",
            "--release",
            "--lib",
            "--target",
            TARGET,
            "--message-format",
            "json-render-diagnostics",
        ])
        .args(&compiler.args)
        .arg("--manifest-path")
        .arg(&package.manifest)
        .arg("--target-dir")
        .arg(package.target_folder.join("plugins"))
        .envs(compiler.env)
        // Small, whatever the profile of the crate's workspace says.
        .envs([
            ("CARGO_PROFILE_RELEASE_OPT_LEVEL", "s"),
            ("CARGO_PROFILE_RELEASE_LTO", "true"),
            ("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "1"),
            ("CARGO_PROFILE_RELEASE_PANIC", "abort"),
            ("CARGO_PROFILE_RELEASE_STRIP", "true"),
            ("CARGO_PROFILE_RELEASE_DEBUG", "false"),
        ])
        .env("CARGO_ENCODED_RUSTFLAGS", without_paths(&package));
    let core = run_cargo(&mut cargo, &package, tell)?
        .ok_or_else(|| BuildError::Faults { folder: folder.to_owned() })?;
    let core = core.ok_or_else(|| BuildError::NoLibrary { folder: folder.to_owned() })?;
    let name = core.display().to_string();
    let core = std::fs::read(&core).map_err(|why| SandboxError::Unreadable { file: name.clone(), why })?;
    let component = crate::componentize(&name, &core)?;
    let plugin = sandbox.load(&Source::Bytes { name, bytes: component.clone().into() })?;
    Ok(Built { component, plugin })
}

impl Built {
    /// Writes the component into a folder, as `ID.wasm`, whole or not at all;
    /// returns the file.
    ///
    /// # Errors
    /// Where the folder cannot be written.
    pub fn write(&self, folder: &Path) -> Result<PathBuf, BuildError> {
        let file = folder.join(format!("{}.wasm", self.plugin.about.id));
        let write = || -> io::Result<()> {
            std::fs::create_dir_all(folder)?;
            let mut temporary = tempfile::Builder::new();
            #[cfg(unix)]
            temporary.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o644));
            let mut temporary = temporary.suffix(".pairwise-tmp").tempfile_in(folder)?;
            temporary.write_all(&self.component)?;
            temporary.persist(&file)?;
            Ok(())
        };
        match write() {
            Ok(()) => Ok(file),
            Err(why) => Err(BuildError::Unwritable { file, why }),
        }
    }
}

/// What cargo says about the crate.
struct Package {
    manifest: PathBuf,
    workspace: PathBuf,
    target_folder: PathBuf,
}

impl Package {
    fn find(folder: &Path) -> Result<Package, BuildError> {
        let not_a_crate =
            |why: &str| BuildError::NotACrate { folder: folder.to_owned(), why: why.trim().to_owned() };
        let manifest =
            folder.join("Cargo.toml").canonicalize().map_err(|why| not_a_crate(&why.to_string()))?;
        let mut metadata = Command::new(cargo());
        metadata.args(["metadata", "--no-deps", "--format-version", "1", "--manifest-path"]).arg(&manifest);
        let output = metadata.output().map_err(|why| cannot_run(&cargo(), why))?;
        if !output.status.success() {
            return Err(not_a_crate(&String::from_utf8_lossy(&output.stderr)));
        }
        let said: Json =
            serde_json::from_slice(&output.stdout).map_err(|why| not_a_crate(&why.to_string()))?;
        let told = |what: &str| {
            said[what]
                .as_str()
                .map(PathBuf::from)
                .ok_or_else(|| not_a_crate("cargo does not know its folders"))
        };
        Ok(Package { workspace: told("workspace_root")?, target_folder: told("target_directory")?, manifest })
    }
}

/// Runs cargo; `None` if it found faults, else the library's file, if there is
/// one.
fn run_cargo(
    cargo: &mut Command,
    package: &Package,
    tell: &mut dyn FnMut(&str),
) -> Result<Option<Option<PathBuf>>, BuildError> {
    let program = cargo.get_program().to_owned();
    let failed = |why| cannot_run(&program, why);
    let mut child =
        cargo.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().map_err(failed)?;
    let (stdout, stderr) = (child.stdout.take(), child.stderr.take());
    let artifacts = thread::spawn(move || {
        let mut said = String::new();
        stdout.map_or(Ok(0), |mut stdout| stdout.read_to_string(&mut said)).map(|_| said)
    });
    if let Some(stderr) = stderr {
        for line in BufReader::new(stderr).split(b'\n') {
            tell(&String::from_utf8_lossy(&line.map_err(failed)?));
        }
    }
    let said = artifacts.join().unwrap_or_else(|_| Ok(String::new())).map_err(failed)?;
    if !child.wait().map_err(failed)?.success() {
        return Ok(None);
    }
    let manifest = package.manifest.display().to_string();
    let library = said
        .lines()
        .filter_map(|line| serde_json::from_str::<Json>(line).ok())
        .filter(|said| said["reason"] == "compiler-artifact" && said["manifest_path"] == manifest.as_str())
        .flat_map(|said| said["filenames"].as_array().cloned().unwrap_or_default())
        .filter_map(|file| file.as_str().map(PathBuf::from))
        .find(|file| file.extension().is_some_and(|e| e == "wasm"));
    Ok(Some(library))
}

/// Compiler flags, those of the user included, that keep the paths of this
/// machine out of the component: it is handed to others, and says nothing of
/// where it was made.
fn without_paths(package: &Package) -> OsString {
    let mut flags = std::env::var_os("CARGO_ENCODED_RUSTFLAGS").unwrap_or_else(|| {
        let words = std::env::var("RUSTFLAGS").unwrap_or_default();
        words.split_whitespace().collect::<Vec<_>>().join("\u{1f}").into()
    });
    let home = std::env::var_os("HOME").or_else(|| std::env::var_os("USERPROFILE")).map(PathBuf::from);
    let cargo =
        std::env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| home.as_ref().map(|h| h.join(".cargo")));
    // The workspace, not the crate: where flags differ from crate to crate the
    // standard library is compiled again for each.
    let here = Some(package.workspace.clone());
    // Where the sources of other crates lie: in a folder named after the place
    // they were fetched from.
    let sources = cargo.as_ref().and_then(|cargo| cargo.join("registry/src").read_dir().ok());
    let mut sources: Vec<PathBuf> =
        sources.into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    sources.sort();
    // Of several prefixes that fit, the compiler takes the last.
    let named = [
        (home, "home"),
        (here, "contribution"),
        (cargo, "cargo"),
        (Some(PathBuf::from("/usr/lib/rustlib/src/rust")), "rust"),
    ];
    let named = named.into_iter().filter_map(|(folder, name)| Some((folder?, name)));
    for (folder, name) in named.chain(sources.into_iter().map(|folder| (folder, "crates"))) {
        if !flags.is_empty() {
            flags.push("\u{1f}");
        }
        flags.push("--remap-path-prefix=");
        flags.push(folder);
        flags.push("=");
        flags.push(name);
    }
    flags
}

fn cargo() -> OsString {
    std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into())
}

fn cannot_run(program: &std::ffi::OsStr, why: io::Error) -> BuildError {
    BuildError::CannotRun { program: program.display().to_string(), why }
}

fn find_compiler(folder: &Path) -> Result<Compiler, BuildError> {
    let ours = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    // Where Debian puts a compiler; it may stand beside one that comes first.
    let candidates = [ours, "/usr/bin/rustc".into()];
    let rustcs: Vec<Rustc> = candidates.iter().filter_map(|rustc| Rustc::ask(rustc, folder)).collect();
    if rustcs.is_empty() {
        return Err(BuildError::NoCompiler);
    }
    choose(&rustcs, on_path("lld").or_else(|| on_path("wasm-ld"))).ok_or(BuildError::NoCompiler)
}

/// A compiler that is installed.
#[derive(Clone, Debug)]
struct Rustc {
    program: OsString,
    /// Whether the standard library for the target is there.
    has_target: bool,
    /// Whether the standard library's source is there.
    has_source: bool,
    /// Its own linker, if it brings one.
    linker: Option<PathBuf>,
}

impl Rustc {
    fn ask(program: &OsString, folder: &Path) -> Option<Rustc> {
        let ask = |args: &[&str]| {
            let output = Command::new(program).current_dir(folder).args(args).output().ok()?;
            output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
        };
        let sysroot = PathBuf::from(ask(&["--print", "sysroot"])?);
        let version = ask(&["-vV"])?;
        let host = version.lines().find_map(|line| line.strip_prefix("host: "))?;
        let library = ask(&["--print", "target-libdir", "--target", TARGET]).map(PathBuf::from);
        let has_core = |folder: PathBuf| {
            let mut entries = folder.read_dir().into_iter().flatten().flatten();
            entries.any(|entry| entry.file_name().to_string_lossy().starts_with("libcore-"))
        };
        let linker = sysroot.join("lib/rustlib").join(host).join("bin/rust-lld");
        Some(Rustc {
            program: program.clone(),
            has_target: library.is_some_and(has_core),
            has_source: sysroot.join("lib/rustlib/src/rust/library/std/Cargo.toml").is_file(),
            linker: linker.is_file().then_some(linker),
        })
    }
}

/// The first compiler with the target, else the first with the source; with any
/// linker that can be had when it brings none.
fn choose(rustcs: &[Rustc], other_linker: Option<PathBuf>) -> Option<Compiler> {
    let rustc = rustcs.iter().find(|r| r.has_target).or_else(|| rustcs.iter().find(|r| r.has_source))?;
    let mut compiler = Compiler::default();
    compiler.env.push(("RUSTC", rustc.program.clone()));
    if rustc.linker.is_none() {
        let linker = rustcs.iter().find_map(|r| r.linker.clone()).or(other_linker)?;
        compiler.env.push(("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker.into()));
    }
    if !rustc.has_target {
        // Building the standard library is not yet among what a stable compiler
        // offers without being told so.
        compiler.env.push(("RUSTC_BOOTSTRAP", "1".into()));
        compiler.args.extend(["-Zbuild-std=std,panic_abort", "-Zbuild-std-features=optimize_for_size"]);
    }
    Some(compiler)
}

fn on_path(program: &str) -> Option<PathBuf> {
    std::env::split_paths(&std::env::var_os("PATH")?)
        .map(|folder| folder.join(program))
        .find(|file| file.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rustc(program: &str, has_target: bool, has_source: bool, linker: Option<&str>) -> Rustc {
        Rustc { program: program.into(), has_target, has_source, linker: linker.map(Into::into) }
    }

    #[test]
    fn an_installed_target_is_used_before_a_source() {
        let rustcs = [rustc("a", false, true, Some("lld-a")), rustc("b", true, false, Some("lld-b"))];
        let chosen = choose(&rustcs, None).unwrap();
        assert_eq!(chosen, Compiler { env: vec![("RUSTC", "b".into())], args: vec![] });
    }

    #[test]
    fn a_source_is_built_with_a_borrowed_linker() {
        let rustcs = [rustc("a", false, false, Some("lld-a")), rustc("b", false, true, None)];
        let chosen = choose(&rustcs, None).unwrap();
        let expected = [
            ("RUSTC", "b".into()),
            ("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", "lld-a".into()),
            ("RUSTC_BOOTSTRAP", "1".into()),
        ];
        assert_eq!(chosen.env, expected);
        assert!(chosen.args[0].starts_with("-Zbuild-std"));
    }

    #[test]
    fn without_target_source_or_linker_nothing_is_chosen() {
        assert!(choose(&[rustc("a", false, false, Some("lld"))], None).is_none());
        assert!(choose(&[rustc("a", false, true, None)], None).is_none());
        assert!(choose(&[rustc("a", false, true, None)], Some("/lld".into())).is_some());
        assert!(BuildError::NoCompiler.to_string().contains("rustup target add wasm32-unknown-unknown"));
    }

    #[test]
    fn a_folder_without_a_crate_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let sandbox = Sandbox::new(None).unwrap();
        let error = build(&sandbox, folder.path(), &mut |_| {}).unwrap_err();
        assert!(matches!(error, BuildError::NotACrate { .. }), "{error}");
        assert!(error.to_string().contains(&folder.path().display().to_string()));
    }
}
