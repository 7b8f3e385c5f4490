//! Every rule for contributions, each against a contribution that breaks it.

use crate::support::{Text, carrying, carrying_interface, load, source, torchon};
use catalogue::Change;
use sandbox::{Call, Sandbox, SandboxError, Source, Stopped, limits};

const LOOP: &str = "(loop $for_ever (br $for_ever))";

#[track_caller]
fn stopped(result: Result<impl std::fmt::Debug, SandboxError>, expected: (Call, Stopped)) {
    let error = result.unwrap_err();
    let message = error.to_string();
    match error {
        SandboxError::Stopped { file, call, why } => {
            assert_eq!((call, why), expected);
            assert_eq!(file, "hostile.wasm");
        }
        other => panic!("{other}"),
    }
    assert!(message.starts_with("hostile.wasm: `"), "{message}");
}

#[track_caller]
fn broke_off(result: Result<impl std::fmt::Debug, SandboxError>, hint: &str) {
    match result.unwrap_err() {
        SandboxError::Stopped { why: Stopped::BrokeOff(why), .. } => assert!(why.contains(hint), "{why}"),
        other => panic!("{other}"),
    }
}

#[track_caller]
fn invalid(bytes: Vec<u8>, hint: &str) {
    match load(bytes).unwrap_err() {
        SandboxError::Invalid { why, .. } => assert!(why.contains(hint), "{why}"),
        other => panic!("{other}"),
    }
}

/// Code that is small to write and costly to compile.
#[test]
fn costly_compiling_is_refused() {
    let functions = |n: usize| Text::fields(&"(func)".repeat(n)).core();
    assert!(load(functions(1000)).is_ok());
    invalid(functions(limits::FUNCTIONS + 1), "more than 50000 functions");
    let two_thousand: String = "(local i32)".repeat(limits::FUNCTION_LOCALS);
    invalid(
        Text::fields(&format!("(func {two_thousand})").repeat(501)).core(),
        "more than 1000000 local variables",
    );
    let modules = format!("(component {})", "(core module)".repeat(limits::PARTS));
    invalid(wat::parse_str(modules).unwrap(), "more than 16 modules and components");
}

#[test]
fn a_contribution_that_keeps_the_rules_is_run() {
    let repeat = Text::plain().ask().unwrap();
    assert_eq!(repeat.stitches[0].stitch.to_string(), "CT pin CT");
    assert!(lace::check(&repeat).iter().all(|f| !f.is_error()));
}

#[test]
fn instructions_run_out() {
    stopped(Text::define(LOOP).ask(), (Call::Define, Stopped::Instructions));
    stopped(Text::about(LOOP).ask(), (Call::About, Stopped::Instructions));
    let at_start = Text::fields(&format!("(func $start {LOOP}) (start $start)"));
    stopped(at_start.ask(), (Call::About, Stopped::Instructions));
    let message = Text::define(LOOP).ask().unwrap_err().to_string();
    assert_eq!(
        message,
        "hostile.wasm: `define` does not come to an end (more than 20 000 000 instructions): \
         ask whoever made this file to look for an endless loop"
    );
}

/// The same number of instructions is enough or not enough on every machine: a
/// loop of five instructions a round.
#[test]
fn instructions_are_counted_and_not_time() {
    let rounds = |n: u64| {
        Text::define(&format!(
            "(local $n i64) (local.set $n (i64.const {n}))
             (loop $round (br_if $round (i64.ne (local.tee $n (i64.sub (local.get $n) (i64.const 1))) (i64.const 0))))"
        ))
    };
    assert!(rounds(1_000_000).ask().is_ok());
    stopped(rounds(limits::INSTRUCTIONS).ask(), (Call::Define, Stopped::Instructions));
}

#[test]
fn memory_is_limited() {
    let pages = (limits::MEMORY_BYTES >> 16) as u32;
    let grow = |to: u32| Text::define(&format!("(drop (memory.grow (i32.const {})))", to - 32)).ask();
    assert!(grow(pages).is_ok());
    stopped(grow(pages + 1), (Call::Define, Stopped::Memory));
    stopped(grow(65536), (Call::Define, Stopped::Memory));
    stopped(Text { pages: pages + 1, ..Text::plain() }.ask(), (Call::About, Stopped::Memory));
    let bit_by_bit = Text::define("(loop $more (drop (memory.grow (i32.const 1))) (br $more))");
    stopped(bit_by_bit.ask(), (Call::Define, Stopped::Memory));
}

#[test]
fn tables_are_limited() {
    let table = |elements: usize| Text::fields(&format!("(table {elements} funcref)")).ask();
    assert!(table(limits::TABLE_ELEMENTS - 10).is_ok());
    stopped(table(limits::TABLE_ELEMENTS + 1), (Call::About, Stopped::Table));
    let many = format!("(table {} funcref)", limits::TABLE_ELEMENTS / 10).repeat(11);
    stopped(Text::fields(&many).ask(), (Call::About, Stopped::Table));
    broke_off(Text::fields(&"(table 0 funcref)".repeat(limits::PARTS + 1)).ask(), "table count");
}

#[test]
fn the_stack_is_limited() {
    let deep = Text {
        fields: "(func $deep (param i32) (result i32) (i32.add (i32.const 1) (call $deep (local.get 0))))"
            .into(),
        ..Text::define("(drop (call $deep (i32.const 0)))")
    };
    stopped(deep.ask(), (Call::Define, Stopped::Stack));
}

#[test]
fn file_size_is_limited() {
    let mut bytes = Text::plain().core();
    // A custom section of zeros to the limit and past it.
    let mut pad = |to: usize| {
        let mut padded = bytes.clone();
        let rest = to - padded.len() - 1 - 5;
        padded.push(0);
        padded.extend((0..5).map(|n| (rest >> (7 * n)) as u8 & 0x7f | if n < 4 { 0x80 } else { 0 }));
        padded.resize(to, 0);
        bytes = Text::plain().core();
        padded
    };
    assert!(load(pad(limits::FILE_BYTES)).is_ok());
    assert!(matches!(load(pad(limits::FILE_BYTES + 1)), Err(SandboxError::TooLarge { .. })));
}

#[cfg(unix)]
#[test]
fn only_ordinary_files_are_opened() {
    let error = Sandbox::new(None).unwrap().load(&Source::File("/dev/zero".into())).unwrap_err();
    assert!(error.to_string().contains("it is not an ordinary file"), "{error}");
    assert!(matches!(error, SandboxError::Unreadable { .. }), "{error}");
}

/// Ten thousand texts that all lie in the same megabyte.
#[test]
fn data_handed_over_is_limited() {
    let text = Text { pages: 64, ..Text::plain() };
    let mut memory = crate::support::Memory::new();
    let answer = memory.room(56);
    let description = memory.room(96);
    let laces = memory.room(8 * 10_000);
    for n in 0..10_000 {
        memory.set_list(laces + 8 * n, 1 << 20, 1 << 20);
    }
    memory.set_list(description + 36, laces, 10_000);
    stopped(load(text.core_with(&memory, description, answer)), (Call::About, Stopped::Data));
}

#[test]
fn a_list_past_the_end_of_memory_breaks_off() {
    let text = Text::plain();
    let mut memory = crate::support::Memory::new();
    let description = memory.room(96);
    memory.set_list(description + 88, 4096, 1 << 30);
    broke_off(load(text.core_with(&memory, description, description)), "");
    let nowhere = Text::define("(return (i32.const -8))");
    broke_off(nowhere.ask(), "");
}

#[test]
fn a_trap_is_reported_in_words() {
    stopped(Text::define("unreachable").ask(), (Call::Define, Stopped::GaveUp));
    broke_off(Text::define("(drop (i32.load (i32.const -4)))").ask(), "out of bounds");
    broke_off(Text::define("(drop (i32.div_u (i32.const 1) (i32.const 0)))").ask(), "divide by zero");
}

/// A contribution that kept state would answer differently the second time; it
/// cannot keep any.
#[test]
fn every_call_starts_afresh() {
    let once = Text {
        fields: "(global $asked (mut i32) (i32.const 0))".into(),
        ..Text::define("(if (global.get $asked) (then unreachable)) (global.set $asked (i32.const 1))")
    };
    let plugin = once.load().unwrap();
    let settings = plugin.about.defaults();
    let first = plugin.define(&settings).unwrap();
    assert_eq!(plugin.define(&settings).unwrap(), first);
}

#[test]
fn a_trap_does_not_affect_the_next_call_or_other_contributions() {
    let moody = Text {
        description: {
            let mut description = crate::support::Description::plain();
            description.choices =
                vec![("mood".into(), crate::support::Options::Count(0, 1, crate::support::Set::Count(0)))];
            description
        },
        // The value of the first setting: 8 bytes of id, its case, the number.
        ..Text::define("(if (i32.load offset=12 (local.get 0)) (then unreachable))")
    };
    let loop_at_once = Text::about(LOOP);
    let sources = [
        source("one.wasm", torchon()),
        source("loop.wasm", loop_at_once.core()),
        source("moody.wasm", moody.core()),
        source("empty.wasm", Vec::new()),
        Source::File("no-such-file.wasm".into()),
    ];
    let loaded = Sandbox::new(None).unwrap().load_all(&sources);
    let names: Vec<&str> = loaded.plugins.iter().map(|p| p.from.as_str()).collect();
    assert_eq!(names, ["one.wasm", "moody.wasm"]);
    let failures: Vec<String> = loaded.failures.iter().map(ToString::to_string).collect();
    assert!(failures[0].starts_with("loop.wasm: `about` does not come to an end"), "{failures:?}");
    assert!(failures[1].starts_with("empty.wasm: "), "{failures:?}");
    assert!(failures[2].starts_with("no-such-file.wasm: cannot be read"), "{failures:?}");

    let moody = &loaded.plugins[1];
    let with = |mood: &str| moody.about.resolve(None, &[Change::new("mood", mood)]).unwrap();
    assert!(moody.define(&with("0")).is_ok());
    assert!(moody.define(&with("1")).is_err());
    assert!(moody.define(&with("0")).is_ok());
    let torchon = &loaded.plugins[0];
    assert!(torchon.define(&torchon.about.defaults()).is_ok());
}

#[test]
fn nothing_is_imported() {
    let core = |import: &str| {
        let text = format!("(module {import})");
        load(carrying(&wat::parse_str(text).unwrap()))
    };
    let message =
        core("(import \"wasi_snapshot_preview1\" \"fd_write\" (func (param i32 i32 i32 i32) (result i32)))");
    let message = message.unwrap_err();
    assert!(matches!(message, SandboxError::Imports { .. }), "{message}");
    assert!(message.to_string().contains("`wasi_snapshot_preview1 fd_write`"), "{message}");
    for import in ["(memory 1)", "(table 1 funcref)", "(global i32)"] {
        let message = core(&format!("(import \"env\" \"thing\" {import})")).unwrap_err();
        assert!(
            matches!(&message, SandboxError::Imports { imports, .. } if imports == &["`env thing`"]),
            "{message}"
        );
    }
    for import in [
        "(import \"wasi:clocks/wall-clock@0.2.0\" (instance))",
        "(import \"random\" (func (result u64)))",
        "(type $t u32) (import \"a-type\" (type (eq $t)))",
        "(import \"a-resource\" (type (sub resource)))",
        "(import \"a-component\" (component))",
    ] {
        let message = load(wat::parse_str(format!("(component {import})")).unwrap()).unwrap_err();
        assert!(matches!(message, SandboxError::Imports { .. }), "{import}: {message}");
    }
}

#[test]
fn a_long_list_of_imports_is_cut_and_cleaned() {
    let many: String = (0..50).map(|n| format!("(import \"a\\1b[31m\" \"{n}\" (func))")).collect();
    let message = load(wat::parse_str(format!("(module {many})")).unwrap()).unwrap_err().to_string();
    assert!(message.contains("and 42 more"), "{message}");
    assert!(!message.contains('\u{1b}'), "{message:?}");
}

#[test]
fn the_version_is_read_from_the_export() {
    let exporting = |name: &str| {
        load(wat::parse_str(format!("(component (instance $i) (export \"{name}\" (instance $i)))")).unwrap())
    };
    for (name, version) in [
        ("pairwise:ground/ground@0.3.0", "0.3.0"),
        ("pairwise:ground/ground@0.2.1", "0.2.1"),
        ("pairwise:ground/ground@1.0.0", "1.0.0"),
    ] {
        match exporting(name).unwrap_err() {
            SandboxError::NewerVersion { found, known, .. } => {
                assert_eq!((found.as_str(), known.as_slice()), (version, &["0.1.0", sandbox::VERSION][..]));
            }
            other => panic!("{other}"),
        }
    }
    for (name, version) in [
        ("pairwise:ground/ground@0.0.9", "0.0.9"),
        ("pairwise:ground/ground@0.1.1", "0.1.1"),
        ("pairwise:ground/ground@0.1.0-draft", "0.1.0-draft"),
    ] {
        match exporting(name).unwrap_err() {
            SandboxError::OtherVersion { found, .. } => assert_eq!(found, version),
            other => panic!("{other}"),
        }
    }
    for name in
        ["pairwise:ground/ground", "pairwise:ground/grounds@0.1.0", "other:ground/ground@0.1.0", "ground"]
    {
        let error = exporting(name).unwrap_err();
        assert!(matches!(error, SandboxError::NoInterface { .. }), "{name}: {error}");
    }
    let error = exporting(sandbox::INTERFACE).unwrap_err();
    assert!(matches!(error, SandboxError::WrongTypes { .. }), "{error}");
}

#[test]
fn a_core_module_of_another_version_says_so() {
    let wit = include_str!("../../../../sdk/wit/0.1.0/ground.wit").replace("ground@0.1.0", "ground@0.9.0");
    let text = "(module (memory (export \"memory\") 1)
        (func (export \"cabi_realloc\") (param i32 i32 i32 i32) (result i32) unreachable)
        (func (export \"pairwise:ground/ground@0.9.0#about\") (result i32) unreachable)
        (func (export \"pairwise:ground/ground@0.9.0#define\") (param i32 i32) (result i32) unreachable))";
    let error = load(carrying_interface(&wat::parse_str(text).unwrap(), &wit)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "hostile.wasm: is made for version 0.9.0 of the interface, which is newer than this program; \
         it knows 0.1.0, 0.2.0: update the program"
    );
}

#[test]
fn other_types_are_refused() {
    let wit = "package pairwise:ground@0.1.0;
        interface ground { about: func() -> u32; define: func(settings: list<u32>) -> u32; }
        world contribution { export ground; }";
    let text = "(module (memory (export \"memory\") 1)
        (func (export \"cabi_realloc\") (param i32 i32 i32 i32) (result i32) unreachable)
        (func (export \"pairwise:ground/ground@0.1.0#about\") (result i32) (i32.const 7))
        (func (export \"pairwise:ground/ground@0.1.0#define\") (param i32 i32) (result i32) (i32.const 7)))";
    let error = load(carrying_interface(&wat::parse_str(text).unwrap(), wit)).unwrap_err();
    assert!(matches!(error, SandboxError::WrongTypes { .. }), "{error}");
}

#[test]
fn text_is_not_read_as_webassembly() {
    let error = load(b"(component)".to_vec()).unwrap_err();
    assert!(matches!(error, SandboxError::Invalid { .. }), "{error}");
}

#[test]
fn of_two_with_the_same_id_the_second_is_refused_by_name() {
    let loaded = Sandbox::new(None)
        .unwrap()
        .load_all(&[source("first.wasm", torchon()), source("second.wasm", torchon())]);
    assert_eq!(loaded.plugins.len(), 1);
    assert_eq!(loaded.plugins[0].from, "first.wasm");
    let message = loaded.failures[0].to_string();
    assert!(
        message.contains("first.wasm") && message.contains("second.wasm") && message.contains("`torchon`"),
        "{message}"
    );
}

#[test]
fn many_load_in_the_order_of_their_sources() {
    let sources: Vec<Source> = (0..12)
        .map(|n| {
            let text = Text::describing(|description| {
                description.id = format!("ground-{}", (n * 7) % 12).into_bytes()
            });
            source(&format!("{n}.wasm"), text.core())
        })
        .collect();
    let loaded = Sandbox::new(None).unwrap().load_all(&sources);
    let ids: Vec<String> = loaded.plugins.iter().map(|p| p.about.id.clone()).collect();
    let expected: Vec<String> = (0..12).map(|n| format!("ground-{}", (n * 7) % 12)).collect();
    assert_eq!(ids, expected);
}

#[test]
fn a_folder_gives_its_components_in_order() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["b.wasm", "a.wasm", "notes.txt", "c.wasm.txt"] {
        std::fs::write(folder.path().join(name), torchon()).unwrap();
    }
    let names: Vec<String> = Source::folder(folder.path()).unwrap().iter().map(Source::name).collect();
    assert_eq!(names.len(), 2);
    assert!(names[0].ends_with("a.wasm") && names[1].ends_with("b.wasm"), "{names:?}");
    let error = Source::folder(&folder.path().join("none")).unwrap_err();
    assert!(error.to_string().contains("none: the folder cannot be read"), "{error}");
}

#[test]
fn a_cached_contribution_answers_like_a_fresh_one() {
    let folder = tempfile::tempdir().unwrap();
    let ask = |cache| {
        let plugin = Sandbox::new(cache).unwrap().load(&source("torchon.wasm", torchon())).unwrap();
        (plugin.about.clone(), plugin.define(&plugin.about.defaults()).unwrap())
    };
    let fresh = ask(None);
    let cache = folder.path().join("cache");
    assert_eq!(ask(Some(&cache)), fresh);
    assert_eq!(std::fs::read_dir(&cache).unwrap().count(), 1);
    assert_eq!(ask(Some(&cache)), fresh);
    assert_eq!(std::fs::read_dir(&cache).unwrap().count(), 1);
}

#[test]
fn an_unusable_cache_is_reported_and_not_used() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("file");
    std::fs::write(&file, b"").unwrap();
    let sandbox = Sandbox::new(Some(&file)).unwrap();
    assert!(sandbox.cache_refused().unwrap().contains("are compiled each time"));
    assert!(sandbox.load(&source("torchon.wasm", torchon())).is_ok());
}
