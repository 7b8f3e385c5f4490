//! Finding a compiler that can build contributions.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The target that contributions are compiled for.
pub(super) const TARGET: &str = "wasm32-unknown-unknown";

/// How to call the compiler.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Compiler {
    /// Variables to set in cargo's environment.
    pub env: Vec<(&'static str, OsString)>,
    /// Extra arguments for cargo.
    pub args: Vec<&'static str>,
}

/// The compiler to build with. It is queried in `folder`, because a toolchain
/// may be set there.
pub(super) fn find_compiler(folder: &Path) -> Option<Compiler> {
    let ours = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    // Debian's own compiler, which may be hidden behind another one on the path.
    let candidates = [ours, "/usr/bin/rustc".into()];
    let rustcs: Vec<Rustc> = candidates.iter().filter_map(|rustc| Rustc::ask(rustc, folder)).collect();
    choose(&rustcs, on_path("lld").or_else(|| on_path("wasm-ld")))
}

/// An installed compiler.
#[derive(Clone, Debug)]
struct Rustc {
    program: OsString,
    /// Whether the standard library for the target is installed.
    has_target: bool,
    /// Whether the standard library's source is installed.
    has_source: bool,
    /// The linker that comes with it, if any.
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

/// The first compiler with the target, else the first with the source. If it
/// has no linker of its own, any other will do.
fn choose(rustcs: &[Rustc], other_linker: Option<PathBuf>) -> Option<Compiler> {
    let rustc = rustcs.iter().find(|r| r.has_target).or_else(|| rustcs.iter().find(|r| r.has_source))?;
    let mut compiler = Compiler::default();
    compiler.env.push(("RUSTC", rustc.program.clone()));
    if rustc.linker.is_none() {
        let linker = rustcs.iter().find_map(|r| r.linker.clone()).or(other_linker)?;
        compiler.env.push(("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker.into()));
    }
    if !rustc.has_target {
        // A stable compiler builds the standard library only with this override.
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
    }
}
