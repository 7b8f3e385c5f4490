//! Strangers' contributions are tried in processes of their own: whatever happens
//! to one, only that contribution is left out.

use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use crate::contribution::{Options, Set, Text};
use crate::support::text;

/// An empty folder for contributions, one for a cache, and all in which they are.
struct Place {
    all: tempfile::TempDir,
    mine: PathBuf,
}

impl Place {
    fn new() -> Place {
        let all = tempfile::tempdir().unwrap();
        let mine = all.path().join("mine");
        std::fs::create_dir(&mine).unwrap();
        Place { all, mine }
    }

    fn add(&self, id: &str) {
        let text = Text::describing(|about| about.id = id.as_bytes().to_vec());
        std::fs::write(self.mine.join(format!("{id}.wasm")), text.core()).unwrap();
    }

    fn add_attack(&self, file: &str) {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/hostile/attacks");
        std::fs::copy(format!("{folder}/{file}"), self.mine.join(file)).unwrap();
    }

    /// Runs the program after some commands of a shell, with a cache of its own.
    fn after(&self, first: &str, args: &[&str]) -> Output {
        let mut shell = Command::new("sh");
        shell
            .args(["-c", &format!("{first}\nexec \"$0\" \"$@\""), env!("CARGO_BIN_EXE_pairwise")])
            .args(args);
        shell.env("XDG_CACHE_HOME", self.all.path().join("cache")).env("TMPDIR", self.all.path());
        shell.current_dir(self.all.path()).output().unwrap()
    }

    fn entries(&self) -> usize {
        std::fs::read_dir(self.all.path().join("cache/pairwise")).map_or(0, Iterator::count)
    }
}

#[test]
fn what_passed_is_in_the_cache_and_is_not_tried_again() {
    let place = Place::new();
    assert_eq!(place.after("", &["grounds"]).status.code(), Some(0));
    let ours = place.entries();
    place.add("good");
    place.add_attack("compile-bomb.wasm");
    let args = ["grounds", "--plugins", "mine"];
    let out = place.after("", &args);
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(said.contains("left out mine/compile-bomb.wasm: is not a contribution"), "{said}");
    assert!(text(&out.stdout).contains("good"));
    assert_eq!(place.entries(), ours + 1);
    // A cache without one entry: that contribution is tried, and no other.
    place.add("later");
    let again = place.after("", &args);
    assert!(text(&again.stdout).contains("later"));
    assert_eq!(place.entries(), ours + 2);
}

/// Without a cache everything is compiled in a private folder, which is gone
/// afterwards.
#[test]
fn without_a_cache_nothing_is_left_behind() {
    let place = Place::new();
    place.add("good");
    let out = place.after("", &["check", "--no-cache", "mine/good.wasm"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    assert!(text(&out.stdout).contains("good/plain"), "{}", text(&out.stdout));
    let left: Vec<_> = std::fs::read_dir(place.all.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(left, ["mine"]);
}

/// What a process that tries contributions answers to these.
fn tried(place: &Place, first: &str, questions: &[(&str, &[u8])]) -> Output {
    let mut shell = Command::new("sh");
    let start = format!("{first}\nexec \"$0\" try-contributions \"$1\"");
    shell.args(["-c", &start, env!("CARGO_BIN_EXE_pairwise")]).arg(place.all.path().join("tried"));
    let mut child = shell.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    let mut to = child.stdin.take().unwrap();
    for (name, bytes) in questions {
        // It may be dead already.
        let _ = writeln!(to, "{{\"name\":\"{name}\",\"bytes\":{}}}", bytes.len());
        let _ = to.write_all(bytes);
    }
    drop(to);
    child.wait_with_output().unwrap()
}

#[test]
fn it_answers_each_in_a_line_and_ends_with_its_input() {
    let place = Place::new();
    let good = Text::plain().core();
    let spins = Text::about("(loop $for_ever (br $for_ever))").core();
    let out =
        tried(&place, "", &[("a.wasm", &good), ("b.wasm", b"letter"), ("c.wasm", &spins), ("d.wasm", &good)]);
    assert!(out.status.success());
    let said = text(&out.stdout);
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines.len(), 4, "{said}");
    assert_eq!([lines[0], lines[3]], ["{\"why\":null}"; 2]);
    assert!(lines[1].contains("is not a contribution this program can run"), "{said}");
    assert!(
        lines[2].contains("`about` does not come to an end (more than 20 000 000 instructions)"),
        "{said}"
    );
}

/// Many contributions, and few files that may be open at once.
#[cfg(unix)]
#[test]
fn many_contributions_need_few_descriptors() {
    let place = Place::new();
    (0..120).for_each(|n| place.add(&format!("ground-{n}")));
    let few = "ulimit -n 48";
    for args in [["grounds", "--plugins", "mine"].as_slice(), &["grounds", "--no-cache", "--plugins", "mine"]]
    {
        let out = place.after(few, args);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        assert!(text(&out.stdout).contains("ground-119"));
    }
}

/// Too many instructions for all varieties together, though each keeps its limit.
#[test]
fn varieties_have_a_budget_together() {
    let place = Place::new();
    let rounds = |n: u64| {
        let mut text = Text::define(&format!(
            "(local $n i64) (local.set $n (i64.const {n}))
             (loop $round (br_if $round (i64.ne (local.tee $n (i64.sub (local.get $n) (i64.const 1))) (i64.const 0))))"
        ));
        text.description.varieties = (0..60).map(|v| (format!("v{v}"), Vec::new())).collect();
        text.core()
    };
    std::fs::write(place.mine.join("much.wasm"), rounds(1_000_000)).unwrap();
    let out = place.after("", &["check", "mine/much.wasm"]);
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(said.contains("together take more than 200 000 000 instructions"), "{said}");
    std::fs::write(place.mine.join("much.wasm"), rounds(100_000)).unwrap();
    assert_eq!(place.after("", &["check", "mine/much.wasm"]).status.code(), Some(0));
}

/// A contribution that fails for some choices leaves out what asked for them.
#[test]
fn a_failure_for_some_choices_is_not_the_end() {
    let place = Place::new();
    let mut spins = Text::define(
        "(if (i32.eq (i32.load offset=12 (local.get 0)) (i32.const 2))
            (then (loop $for_ever (br $for_ever))))",
    );
    spins.description.id = b"spins".to_vec();
    spins.description.choices = vec![("twists".into(), Options::Count(0, 3, Set::Count(1)))];
    spins.description.varieties.push(("two".into(), vec![("twists".into(), Set::Count(2))]));
    std::fs::write(place.mine.join("spins.wasm"), spins.core()).unwrap();
    let args = ["grid", "spins", "--varieties", "--plugins", "mine", "--out", "a.png"];
    let out = place.after("", &args);
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(said.contains("does not come to an end (more than 20 000 000 instructions)"), "{said}");
    assert!(place.all.path().join("a.png").is_file(), "the other variety is drawn: {said}");
}

/// Whatever ends such a process, only what it tried is left out.
#[cfg(target_os = "linux")]
#[test]
fn a_process_that_is_killed_leaves_out_only_what_it_tried() {
    use rustix::process::{Pid, Signal, kill_process};

    let place = Place::new();
    // Trying it takes long enough to be noticed.
    place.add_attack("wide.wasm");
    let mut program = Command::new(env!("CARGO_BIN_EXE_pairwise"));
    program.args(["grounds", "--plugins", "mine"]).current_dir(place.all.path());
    program.env("XDG_CACHE_HOME", place.all.path().join("cache"));
    let mut running = program.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    while running.try_wait().unwrap().is_none() {
        for child in children(running.id()) {
            let _ = kill_process(Pid::from_raw(child).unwrap(), Signal::KILL);
        }
    }
    let out = running.wait_with_output().unwrap();
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(
        said.contains("left out mine/wide.wasm: brought down the process that tried it (its signal 9)"),
        "{said}"
    );
    assert!(text(&out.stdout).contains("torchon"));
}

/// The processes that a process has started (Linux, proc(5)).
#[cfg(target_os = "linux")]
fn children(of: u32) -> Vec<i32> {
    let threads = std::fs::read_dir(format!("/proc/{of}/task")).into_iter().flatten().flatten();
    let lists = threads.filter_map(|thread| std::fs::read_to_string(thread.path().join("children")).ok());
    lists
        .flat_map(|list| list.split_whitespace().filter_map(|n| n.parse().ok()).collect::<Vec<_>>())
        .collect()
}
