//! A contribution in a language other than Rust: torchon ground in C, compiled
//! with nothing but clang (`tests/contributions/c`).
//!
//! The component is committed, so this needs no compiler. If clang is installed,
//! the component is rebuilt, and both must give the same answers.
//!
//! `PAIRWISE_BLESS=1` rewrites the generated bindings and the component and then
//! fails, so that blessing cannot go unnoticed.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::machine;
use catalogue::Change;
use pairwise_plugin_torchon::Torchon;
use pairwise_sdk::{Contribution as _, Settings, to_lace};
use sandbox::{Plugin, Sandbox, SandboxError, Source};
use wit_bindgen_core::Files;
use wit_bindgen_core::wit_parser::Resolve;

fn house(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path)
}

fn in_c(file: &str) -> PathBuf {
    house("tests/contributions/c").join(file)
}

fn blessing() -> bool {
    std::env::var_os("PAIRWISE_BLESS").is_some_and(|v| v == "1")
}

fn load(name: &str, bytes: Vec<u8>) -> Result<Plugin, SandboxError> {
    Sandbox::new(None).unwrap().load(&Source::Bytes { name: name.to_owned(), bytes: bytes.into() })
}

/// The bindings for C, generated from the interface.
fn bindings() -> Files {
    let mut resolve = Resolve::default();
    let (package, _) = resolve.push_path(house("sdk/wit/0.1.0")).unwrap();
    let world = resolve.select_world(&[package], Some("contribution")).unwrap();
    let mut files = Files::default();
    wit_bindgen_c::Opts::default().build().generate(&mut resolve, world, &mut files).unwrap();
    files
}

#[test]
fn the_bindings_match_the_interface() {
    let mut names = Vec::new();
    for (name, bytes) in bindings().iter() {
        let file = in_c("bindings").join(name);
        if blessing() {
            fs::create_dir_all(file.parent().unwrap()).unwrap();
            fs::write(&file, bytes).unwrap();
        }
        assert!(fs::read(&file).unwrap() == bytes, "{} is not what the generator writes", file.display());
        names.push(name.to_owned());
    }
    names.sort();
    assert_eq!(names, ["contribution.c", "contribution.h", "contribution_component_type.o"]);
    assert!(!blessing(), "the bindings were written anew; look at them, then run without PAIRWISE_BLESS");
}

/// Whether clang and its linker can build WebAssembly here.
fn clang() -> bool {
    let clang = std::env::var_os("CLANG").unwrap_or_else(|| "clang".into());
    let said = Command::new(clang).arg("--print-targets").output();
    let has_target = said.is_ok_and(|said| String::from_utf8_lossy(&said.stdout).contains("wasm32"));
    has_target && Command::new("wasm-ld").arg("--version").output().is_ok_and(|said| said.status.success())
}

/// The core module, compiled from the sources.
fn compile() -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("torchon.wasm");
    let built = Command::new(in_c("build.sh")).arg(&file).output().unwrap();
    assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
    fs::read(file).unwrap()
}

/// It has the description and repeats of our torchon crate, for all choices that
/// both offer.
fn same_as_torchon(plugin: &Plugin) {
    assert_eq!(plugin.about.id, "torchon-in-c");
    assert_eq!(plugin.about.varieties.keys().collect::<Vec<_>>(), ["plain", "double"]);
    let about = Torchon::about();
    for (variety, stitch) in [("plain", "half-half"), ("double", "double")] {
        for twists in 0..=3 {
            let settings = plugin.about.resolve(Some(variety), &[Change::new("twists", twists)]).unwrap();
            assert_eq!(settings["stitch"].to_string(), stitch);
            let repeat = plugin.define(&settings).unwrap();
            let native = Settings::variety(&about, variety).with("twists", twists);
            let native = to_lace(&Torchon::define(&native).unwrap()).unwrap();
            assert_eq!(repeat, native, "{} {variety}, {twists} twists", plugin.from);
            lace::Ground::new(repeat).unwrap();
        }
    }
}

#[test]
fn torchon_in_c_is_torchon() {
    let file = in_c("torchon.wasm");
    if blessing() {
        fs::write(&file, sandbox::componentize("torchon.wasm", &compile()).unwrap()).unwrap();
    }
    let component = fs::read(&file).unwrap();
    assert!(!wasmparser::Parser::is_core_wasm(&component), "a component is committed, not a core module");
    same_as_torchon(&load("torchon.wasm", component).unwrap());
    assert!(!blessing(), "the component was built anew; run again without PAIRWISE_BLESS");
}

#[test]
fn torchon_in_c_built_again_answers_the_same() {
    if !machine::has("clang with wasm-ld", clang()) {
        // The committed component has been tested all the same.
        return;
    }
    let core = compile();
    same_as_torchon(&load("core.wasm", core.clone()).unwrap());
    same_as_torchon(&load("component.wasm", sandbox::componentize("core.wasm", &core).unwrap()).unwrap());
}

/// A component whose runtime imports a system is refused before any of it runs,
/// and the imports are named.
#[test]
fn imports_are_refused_by_name() {
    let component = r#"(component
        (import "wasi:cli/environment@0.2.6" (instance))
        (import "wasi:clocks/monotonic-clock@0.2.6" (instance))
        (instance $ground)
        (export "pairwise:ground/ground@0.1.0" (instance $ground)))"#;
    let error = load("in-another-language.wasm", wat::parse_str(component).unwrap()).unwrap_err();
    assert!(matches!(error, SandboxError::Imports { .. }), "{error}");
    assert_eq!(
        error.to_string(),
        "in-another-language.wasm: wants to import `wasi:cli/environment@0.2.6`, \
         `wasi:clocks/monotonic-clock@0.2.6`, but a contribution may import nothing at all: build it for \
         wasm32-unknown-unknown, without files, clock, chance or printing"
    );
}

/// The output of `check` quoted on the page for authors in other languages.
#[test]
fn check_prints_what_the_page_quotes() {
    let component = fs::read(in_c("torchon.wasm")).unwrap();
    let decoded = wit_component::decode(&component).unwrap();
    let mut printer = wit_component::WitPrinter::default();
    printer.print(decoded.resolve(), decoded.package(), &[]).unwrap();
    let printed = printer.output.to_string();
    let page = fs::read_to_string(house("sdk/OTHER-LANGUAGES.md")).unwrap();
    assert!(page.contains(&format!("```wit\n{printed}```\n")), "it prints\n{printed}");
}

/// The limits on the page for authors in other languages are those of the
/// sandbox.
#[test]
fn the_limits_on_the_page_are_those_enforced() {
    use sandbox::limits;
    let page = fs::read_to_string(house("sdk/OTHER-LANGUAGES.md")).unwrap();
    let million = |n: u64| format!("{} million", n / 1_000_000);
    for (what, number) in [
        ("a file", format!("{} MiB", limits::FILE_BYTES >> 20)),
        ("memory", format!("{} MiB", limits::MEMORY_BYTES >> 20)),
        ("stack", format!("{} KiB", limits::STACK_BYTES >> 10)),
        ("instructions in one call", million(limits::INSTRUCTIONS)),
        ("instructions for all varieties together", million(limits::ALL_INSTRUCTIONS)),
        ("what one call hands over", format!("{} MiB", limits::DATA_BYTES >> 20)),
        ("table elements", limits::TABLE_ELEMENTS.to_string()),
        ("functions", limits::FUNCTIONS.to_string()),
        ("local variables, all together", limits::LOCALS.to_string()),
        ("blocks one inside the other", limits::BLOCKS.to_string()),
        ("bytes of code in one function", limits::FUNCTION_BYTES.to_string()),
        ("parameters and local variables of one function", limits::FUNCTION_LOCALS.to_string()),
        ("blocks in one function", limits::FUNCTION_BLOCKS.to_string()),
        ("targets of branches in one function", limits::FUNCTION_TARGETS.to_string()),
        ("values between the blocks of one function", limits::FUNCTION_VALUES.to_string()),
        ("these values times blocks, in one function", limits::FUNCTION_WORK.to_string()),
        ("values between the blocks of all functions", limits::VALUES.to_string()),
        ("these values times blocks, in all functions", limits::WORK.to_string()),
        ("modules and components in the file", limits::PARTS.to_string()),
        ("stitches", limits::STITCHES.to_string()),
        ("moves in a stitch", limits::MOVES.to_string()),
        ("choices", limits::CHOICES.to_string()),
        ("options of a choice", limits::OPTIONS.to_string()),
        ("varieties", limits::VARIETIES.to_string()),
    ] {
        let line = format!("| {what} | {number} |");
        assert!(page.contains(&line), "sdk/OTHER-LANGUAGES.md should hold: {line}");
    }
}
