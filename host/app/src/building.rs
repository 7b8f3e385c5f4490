//! Building a contribution's crate into a component.
//!
//! Needs a compiler for `wasm32-unknown-unknown`: one with the standard library
//! for that target installed, or one with the library's source, to build it
//! from. Only authors who write contributions in Rust need this.

mod compiler;
mod paths;

use std::ffi::{OsStr, OsString};
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{io, thread};

use catalogue::text::path_name;
use catalogue::trouble::in_words;
use sandbox::{Plugin, Sandbox, SandboxError, Source};
use serde_json::Value as Json;
use thiserror::Error;

use compiler::{TARGET, find_compiler};
use paths::without_paths;

/// What can go wrong in a build.
#[derive(Debug, Error)]
pub enum BuildError {
    /// No compiler for the target.
    #[error(
        "no compiler for {TARGET} was found: run `rustup target add {TARGET}` (with Debian's compiler: \
         `apt install rustc-web rust-web-src` or `rustc rust-src`, and `lld`), then try again"
    )]
    NoCompiler,
    /// A program that cannot be run.
    #[error("`{program}` cannot be run ({}): install Rust and check that it is on your PATH", in_words(why))]
    CannotRun {
        /// The program.
        program: String,
        /// The operating system's message.
        why: io::Error,
    },
    /// The folder holds no crate.
    #[error("{}: is not a crate ({why}): name the folder that contains its Cargo.toml", path_name(folder))]
    NotACrate {
        /// The folder.
        folder: PathBuf,
        /// Cargo's message.
        why: String,
    },
    /// The compiler reported errors.
    #[error("{}: does not compile; see the compiler's messages", path_name(folder))]
    Faults {
        /// The folder.
        folder: PathBuf,
    },
    /// The crate builds no library that could become a component.
    #[error(
        "{}: builds no component: put `crate-type = [\"cdylib\", \"rlib\"]` under `[lib]` in its Cargo.toml",
        path_name(folder)
    )]
    NoLibrary {
        /// The folder.
        folder: PathBuf,
    },
    /// The component is not a contribution.
    #[error(transparent)]
    Contribution(#[from] SandboxError),
}

/// A component, built and loaded.
#[derive(Debug)]
pub struct Built {
    /// The component's bytes.
    pub component: Vec<u8>,
    /// The component loaded, with its description read.
    pub plugin: Plugin,
}

/// Builds the crate in `folder` and loads the component. `report` receives each
/// line of cargo's progress and errors.
///
/// Build files go to `plugins` inside the target folder of the crate's
/// workspace. A different compiler then does not force the rest of the workspace
/// to recompile, and all contributions share what is built, above all the
/// standard library.
///
/// # Errors
/// See [`BuildError`].
pub fn build(sandbox: &Sandbox, folder: &Path, report: &mut dyn FnMut(&str)) -> Result<Built, BuildError> {
    let package = Package::find(folder)?;
    let compiler = find_compiler(folder).ok_or(BuildError::NoCompiler)?;
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
        // Keep the component small, whatever profile the crate's workspace sets.
        .envs([
            ("CARGO_PROFILE_RELEASE_OPT_LEVEL", "s"),
            ("CARGO_PROFILE_RELEASE_LTO", "true"),
            ("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "1"),
            ("CARGO_PROFILE_RELEASE_PANIC", "abort"),
            ("CARGO_PROFILE_RELEASE_STRIP", "true"),
            ("CARGO_PROFILE_RELEASE_DEBUG", "false"),
        ])
        .env("CARGO_ENCODED_RUSTFLAGS", without_paths(&package.workspace));
    let core = run_cargo(&mut cargo, folder, &package, report)?;
    let name = path_name(&core);
    let core = std::fs::read(&core).map_err(|why| SandboxError::Unreadable { file: name.clone(), why })?;
    let component = sandbox::componentize(&name, &core)?;
    let plugin = sandbox.load(&Source::Bytes { name, bytes: component.clone().into() })?;
    Ok(Built { component, plugin })
}

/// The crate's metadata from cargo.
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
            folder.join("Cargo.toml").canonicalize().map_err(|why| not_a_crate(&in_words(&why)))?;
        let mut metadata = Command::new(cargo());
        metadata.args(["metadata", "--no-deps", "--format-version", "1", "--manifest-path"]).arg(&manifest);
        let output = metadata.output().map_err(|why| cannot_run(&cargo(), why))?;
        if !output.status.success() {
            return Err(not_a_crate(&String::from_utf8_lossy(&output.stderr)));
        }
        let said: Json =
            serde_json::from_slice(&output.stdout).map_err(|_| not_a_crate("cargo says what is not JSON"))?;
        let place = |what: &str| {
            said[what]
                .as_str()
                .map(PathBuf::from)
                .ok_or_else(|| not_a_crate("cargo did not report its folders"))
        };
        Ok(Package {
            workspace: place("workspace_root")?,
            target_folder: place("target_directory")?,
            manifest,
        })
    }
}

/// Runs cargo and returns the path of the library that it built.
fn run_cargo(
    cargo: &mut Command,
    folder: &Path,
    package: &Package,
    report: &mut dyn FnMut(&str),
) -> Result<PathBuf, BuildError> {
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
            report(&String::from_utf8_lossy(&line.map_err(failed)?));
        }
    }
    let said = artifacts.join().unwrap_or_else(|_| Ok(String::new())).map_err(failed)?;
    if !child.wait().map_err(failed)?.success() {
        return Err(BuildError::Faults { folder: folder.to_owned() });
    }
    let manifest = package.manifest.display().to_string();
    said.lines()
        .filter_map(|line| serde_json::from_str::<Json>(line).ok())
        .filter(|message| {
            message["reason"] == "compiler-artifact" && message["manifest_path"] == manifest.as_str()
        })
        .flat_map(|message| message["filenames"].as_array().cloned().unwrap_or_default())
        .filter_map(|file| file.as_str().map(PathBuf::from))
        .find(|file| file.extension().is_some_and(|e| e == "wasm"))
        .ok_or_else(|| BuildError::NoLibrary { folder: folder.to_owned() })
}

fn cargo() -> OsString {
    std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into())
}

fn cannot_run(program: &OsStr, why: io::Error) -> BuildError {
    BuildError::CannotRun { program: path_name(program.as_ref()), why }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_without_a_crate_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let sandbox = Sandbox::new(None).unwrap();
        let error = build(&sandbox, folder.path(), &mut |_| {}).unwrap_err();
        assert!(matches!(error, BuildError::NotACrate { .. }), "{error}");
        assert!(error.to_string().contains(&folder.path().display().to_string()));
    }

    #[test]
    fn without_a_compiler_is_told_how_to_get_one() {
        assert!(BuildError::NoCompiler.to_string().contains("rustup target add wasm32-unknown-unknown"));
    }
}
