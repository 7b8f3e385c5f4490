//! Contributions that are small to write and costly to compile or to run: all of
//! it is counted, so that each gives the same answer on every machine, however
//! busy.

use std::fmt::Write as _;

use crate::support::{Text, load, source, torchon};
use sandbox::{Burden, Sandbox, SandboxError, Stopped, Used, limits, look_through};

/// A fixed sequence: the Lehmer generator with Park and Miller's constants.
struct Lehmer(u64);

impl Lehmer {
    fn from(&mut self, least: usize, most: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        least + self.0 as usize % (most - least + 1)
    }
}

fn attack(file: &str) -> Vec<u8> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/hostile/attacks");
    std::fs::read(format!("{folder}/{file}")).unwrap()
}

/// Our own components, and the one in C.
fn ours() -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<_> = ["plugins/built", "tests/contributions/c", "tests/contributions/0.1.0"]
        .iter()
        .flat_map(|folder| {
            std::fs::read_dir(format!("{}/../../{folder}", env!("CARGO_MANIFEST_DIR"))).unwrap()
        })
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "wasm"))
        .collect();
    files.sort();
    files.iter().map(|path| (path.display().to_string(), std::fs::read(path).unwrap())).collect()
}

/// Parameters or results, all whole numbers.
fn numbers(what: &str, many: usize) -> String {
    format!("({what} {})", "i32 ".repeat(many))
}

/// A function of loops with parameters.
fn loops(loops: usize, parameters: usize) -> String {
    let taken = numbers("param", parameters);
    let given = numbers("result", parameters);
    let mut body = String::new();
    for _ in 0..parameters {
        body.push_str("(i32.const 0)");
    }
    for _ in 0..loops {
        write!(body, "loop {taken} {given} end ").unwrap();
    }
    format!("(func {body} {})", "drop ".repeat(parameters))
}

/// A function that calls one with results.
fn calls(calls: usize, results: usize) -> String {
    let given = numbers("result", results);
    let one = format!("(func $many {given} {})", "(i32.const 0)".repeat(results));
    format!("{one} (func {} unreachable)", "call $many ".repeat(calls))
}

/// A function with a table of branches that carry values.
fn branches(targets: usize, values: usize) -> String {
    let given = numbers("result", values);
    let table = "0 ".repeat(targets);
    let values_first = "(i32.const 0)".repeat(values);
    format!(
        "(func (block {given} {values_first} (br_table {table} 0 (i32.const 0))) {})",
        "drop ".repeat(values)
    )
}

/// A function that uses all of its variables in every one of its loops.
fn variables(loops: usize, locals: usize) -> String {
    let all: String =
        (0..locals).map(|n| format!("(local.set {n} (i32.add (local.get {n}) (i32.const 1)))")).collect();
    let open = "(loop ".repeat(loops);
    let shut = "(br_if 0 (local.get 0)))".repeat(loops);
    format!("(func {} {open} {all} {shut})", numbers("local", locals))
}

#[track_caller]
fn refused(fields: &str, hint: &str) {
    match load(Text::fields(fields).core()).unwrap_err() {
        SandboxError::Invalid { why, .. } => {
            assert!(why.contains(hint), "{why}");
            assert!(why.contains("compile it for size") || why.contains("leave out"), "{why}");
        }
        other => panic!("{other}"),
    }
}

#[test]
fn a_function_of_many_values_is_refused_before_it_is_compiled() {
    let error = load(attack("compile-bomb.wasm")).unwrap_err();
    assert!(error.to_string().contains("values carried between the blocks of one function"), "{error}");
    let mut random = Lehmer(1);
    for _ in 0..12 {
        let wide = random.from(100, 900);
        let many = limits::FUNCTION_VALUES / wide + random.from(1, 50);
        refused(&loops(many, wide), "values");
        refused(&calls(many, wide), "values carried between the blocks of one function");
        refused(&branches(many, wide), "values carried between the blocks of one function");
        let nested = random.from(60, limits::BLOCKS - 1);
        let locals = limits::FUNCTION_WORK / nested / nested + 1;
        refused(&variables(nested, locals.min(limits::FUNCTION_LOCALS)), "values");
    }
}

#[test]
fn every_bound_of_a_function_is_kept() {
    let nothing = "nop ".repeat(limits::FUNCTION_BYTES);
    refused(&format!("(func {nothing})"), "bytes of code in one function");
    refused(
        &format!("(func {})", numbers("local", limits::FUNCTION_LOCALS + 1)),
        "local variables in one function",
    );
    refused(&format!("(func {})", "(block)".repeat(limits::FUNCTION_BLOCKS + 1)), "blocks in one function");
    refused(&branches(limits::FUNCTION_TARGETS, 0), "targets of branches in one function");
    // Twenty loops of a thousand parameters are within the bounds of a function.
    assert!(load(Text::fields(&loops(20, 1000)).core()).is_ok());
    let many = limits::VALUES / 40_000 + 1;
    refused(&loops(20, 1000).repeat(many), "values carried between the blocks of all functions");
    let many = limits::WORK / (400 * 400 * 20) + 1;
    refused(&loops(400, 10).repeat(many), "values times blocks in all functions");
}

/// What is built into the program and what others compile needs a small part of
/// what is allowed.
#[test]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn ours_are_far_within_the_bounds() {
    let mut most = Burden::default();
    let (mut values, mut work) = (0, 0);
    for (file, bytes) in ours() {
        let burdens = look_through(&file, &bytes).unwrap();
        assert!(burdens.functions > 0, "{file}");
        most = most.max(burdens.most);
        values = values.max(burdens.values);
        work = work.max(burdens.work);
    }
    println!("most in one function: {most:?}; values in one file: {values}, times blocks {work}");
    assert!(most.locals > 10 && most.blocks > 10 && most.values > 100, "{most:?}");
    assert!(10 * most.bytes < limits::FUNCTION_BYTES, "{most:?}");
    assert!(10 * most.locals < limits::FUNCTION_LOCALS, "{most:?}");
    assert!(10 * most.blocks < limits::FUNCTION_BLOCKS, "{most:?}");
    assert!(10 * most.targets < limits::FUNCTION_TARGETS, "{most:?}");
    assert!(10 * most.values < limits::FUNCTION_VALUES, "{most:?}");
    assert!(10 * most.work < limits::FUNCTION_WORK, "{most:?}");
    assert!(10 * values < limits::VALUES && 10 * work < limits::WORK, "{values} {work}");
}

/// The varieties of our own, with the instructions each takes.
#[test]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn ours_take_a_small_part_of_the_instructions() {
    let sandbox = Sandbox::new(None).unwrap();
    let (mut one, mut all) = (0, 0);
    for (file, bytes) in ours() {
        let plugin = sandbox.load(&source(&file, bytes)).unwrap();
        let mut sum = plugin.described.instructions;
        one = one.max(sum);
        for variety in plugin.about.varieties.keys() {
            let settings = plugin.about.resolve(Some(variety), &[]).unwrap();
            let (_, used) = plugin.define_measured(&settings).unwrap();
            sum += used.instructions;
            one = one.max(used.instructions);
        }
        all = all.max(sum);
    }
    println!("most instructions: {one} in one call, {all} in all calls for varieties");
    assert!(one > 1000 && 4 * one < limits::INSTRUCTIONS, "{one}");
    assert!(10 * all < limits::ALL_INSTRUCTIONS, "{all}");
}

/// Instructions that keep the processor busy for longer than others, with what
/// each has to count for at least.
const SLOW: [(&str, u64); 8] = [
    ("(drop (memory.grow (i32.const 0)))", 200),
    ("(drop (table.grow $t (ref.null func) (i32.const 0)))", 200),
    ("(memory.fill (i32.const 0) (i32.const 0) (local.get $bytes))", 20),
    ("(memory.copy (i32.const 0) (i32.const 8) (local.get $bytes))", 20),
    ("(table.fill $t (i32.const 0) (ref.null func) (local.get $few))", 20),
    ("(table.copy $t $t (i32.const 0) (i32.const 1) (local.get $few))", 20),
    ("(table.set $t (i32.const 0) (ref.null func))", 20),
    ("(drop (i64.div_u (i64.const 1) (i64.extend_i32_u (i32.or (local.get $bytes) (i32.const 1)))))", 5),
];

/// A contribution that does something slow so often, so much at once, and the
/// instructions that takes.
fn slow(what: usize, rounds: usize, bytes: usize, few: usize) -> (Result<lace::Repeat, SandboxError>, Used) {
    let code = SLOW[what].0;
    let text = Text {
        fields: "(table $t 1000 funcref)".into(),
        ..Text::define(&format!(
            "(local $n i32) (local $bytes i32) (local $few i32)
             (local.set $n (i32.const {rounds})) (local.set $bytes (i32.const {bytes}))
             (local.set $few (i32.const {few}))
             (loop $round {code}
                (br_if $round (local.tee $n (i32.sub (local.get $n) (i32.const 1)))))"
        ))
    };
    let plugin = text.load().unwrap();
    let mut used = Used::default();
    let answer = plugin.define_counting(&plugin.about.defaults(), &mut used);
    (answer, used)
}

#[test]
fn what_takes_long_counts_for_more() {
    let mut random = Lehmer(7);
    for (what, (code, least)) in SLOW.into_iter().enumerate() {
        let (rounds, bytes, few) = (random.from(50, 400), random.from(0, 1000), random.from(0, 99));
        let (_, used) = slow(what, rounds, bytes, few);
        let moved = match &code[..9] {
            "(memory.f" | "(memory.c" => bytes,
            "(table.fi" | "(table.co" => 4 * few,
            _ => 0,
        };
        let (_, once) = slow(what, 1, bytes, few);
        let each = (used.instructions - once.instructions) / (rounds as u64 - 1);
        assert!(each >= least + moved as u64, "{code}: {each} for {moved}");
        // So many more use up the instructions.
        let (answer, used) = slow(what, (limits::INSTRUCTIONS / least) as usize, bytes, few);
        let why = answer.unwrap_err();
        assert!(matches!(why, SandboxError::Stopped { why: Stopped::Instructions, .. }), "{code}: {why}");
        assert_eq!(used.instructions, limits::INSTRUCTIONS, "{code}");
    }
}

/// The same answer alone and beside others, however few processors there are.
#[test]
fn the_answer_does_not_depend_on_what_else_runs() {
    let ask = || match load(attack("clock.wasm")) {
        Err(why) => why.to_string(),
        Ok(plugin) => match plugin.define(&plugin.about.defaults()) {
            Err(why) => why.to_string(),
            Ok(repeat) => format!("{repeat:?}"),
        },
    };
    let alone = ask();
    assert!(alone.contains("instructions"), "{alone}");
    let beside: Vec<String> = std::thread::scope(|scope| {
        let all: Vec<_> = (0..5).map(|_| scope.spawn(ask)).collect();
        all.into_iter().map(|one| one.join().unwrap()).collect()
    });
    assert_eq!(beside, vec![alone; 5]);
}

/// A loaded contribution holds no file open.
#[cfg(target_os = "linux")]
#[test]
fn contributions_hold_no_files_open() {
    let images = || {
        let open = std::fs::read_dir("/proc/self/fd").unwrap();
        open.filter_map(|fd| std::fs::read_link(fd.unwrap().path()).ok())
            .filter(|at| at.to_string_lossy().contains("memfd"))
            .count()
    };
    let sandbox = Sandbox::new(None).unwrap();
    let loaded: Vec<_> = (0..8)
        .map(|n| {
            let text = Text::describing(|about| about.id = format!("ground-{n}").into_bytes());
            let plugin = sandbox.load(&source("a.wasm", text.core())).unwrap();
            plugin.define(&plugin.about.defaults()).unwrap();
            plugin
        })
        .collect();
    assert_eq!(images(), 0, "{} loaded", loaded.len());
    drop(load(torchon()).unwrap());
}

/// Compiling what lies just within all bounds: the figures by which the bounds
/// were chosen.
/// `cargo test --workspace --test contributions just_within -- --ignored --nocapture`
#[cfg(target_os = "linux")]
#[test]
#[ignore = "measures time and memory, which differ from machine to machine"]
#[allow(clippy::print_stdout, reason = "this is what it is for")]
fn just_within_all_bounds() {
    let (values, work) = (limits::FUNCTION_VALUES, limits::FUNCTION_WORK);
    // Many values alive across many calls.
    let alive = 5000;
    let busy = format!(
        "(func $nothing) (func {} {} {})",
        "(i32.load (i32.const 8))".repeat(alive),
        "call $nothing ".repeat((limits::FUNCTION_BYTES - 8 * alive) / 3),
        "drop ".repeat(alive)
    );
    let cases = [
        ("loops with 900 parameters", loops(values / 2 / 900 - 2, 900)),
        ("loops with 100 parameters", loops(140, 100)),
        ("loops with 2 parameters", loops(700, 2)),
        ("calls with 60 results", calls(values / 60 - 90, 60)),
        ("branches with 900 values", branches(values / 900 - 3, 900)),
        ("branches with 11 values", branches(limits::FUNCTION_TARGETS - 2, 11)),
        ("5 variables in nested loops", variables(850, 5)),
        ("40 variables in nested loops", variables(310, 40)),
        ("many variables in a few loops", variables(work / values / 4, 1990)),
        ("values alive across calls", busy),
    ];
    for (what, fields) in cases {
        measured(what, Text::fields(&fields).core());
    }
    let all = variables(310, 40).repeat(limits::WORK / work);
    measured("all functions together", Text::fields(&all).core());
}

/// Prints the time and the memory that compiling something takes.
#[cfg(target_os = "linux")]
#[allow(clippy::print_stdout, reason = "this is what it is for")]
fn measured(what: &str, core: Vec<u8>) {
    let burdens = look_through(what, &core).unwrap();
    // Lets the system count the most memory anew.
    std::fs::write("/proc/self/clear_refs", "5").unwrap();
    let begun = std::time::Instant::now();
    let loaded = load(core);
    let took = begun.elapsed();
    let status = std::fs::read_to_string("/proc/self/status").unwrap();
    let most = status.lines().find(|line| line.starts_with("VmHWM")).unwrap();
    println!("{what}: {took:.1?}, {most}, {:?}, {:?}", loaded.map(|_| ()), burdens.most);
}
