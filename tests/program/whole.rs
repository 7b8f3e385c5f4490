//! Files and folders appear complete or not at all: the program is killed at work,
//! the disk is full, a place cannot be written to.
//!
//! The program is killed after a number of files, never after a time.
//! `PAIRWISE_KILLS=100` kills it 100 times, spread over the making of a gallery.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crate::support::{command, files_in, text};

/// The program in a folder.
fn program(folder: &Path, args: &[&str]) -> Command {
    let mut run = command(folder, args);
    run.stdout(Stdio::piped()).stderr(Stdio::piped());
    run
}

/// Every file below a folder, with its contents.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let read = |name: PathBuf| {
        let bytes = std::fs::read(folder.join(&name)).unwrap();
        (name, bytes)
    };
    files_in(folder).into_iter().map(read).collect()
}

/// The entries of a folder that are not temporary.
fn final_names(folder: &Path) -> Vec<String> {
    let names = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.filter(|name| !name.ends_with(".pairwise-tmp")).collect();
    names.sort();
    names
}

/// A gallery as an earlier run may have left it.
fn old_gallery(place: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    std::fs::create_dir_all(place.join("grounds")).unwrap();
    let mark = r#"{"format":"pairwise-gallery/1","version":"0","files":["grounds/old.html","index.html"]}"#;
    std::fs::write(place.join("pairwise-gallery.json"), mark).unwrap();
    std::fs::write(place.join("index.html"), "the old one").unwrap();
    std::fs::write(place.join("grounds/old.html"), "an old page").unwrap();
    files(place)
}

/// The folders of galleries being made, or left unfinished.
fn being_made(folder: &Path) -> BTreeSet<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.filter(|path| path.is_dir() && path.extension().is_some_and(|e| e == "pairwise-tmp")).collect()
}

/// Runs the program and kills it as soon as it has written a number of files of a
/// gallery. Returns whether it was still running.
fn killed(mut command: Command, folder: &Path, written: usize) -> bool {
    let before = being_made(folder);
    let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    let reached = || {
        let count = |hidden: &PathBuf| files_there(&hidden.join("made"));
        being_made(folder).difference(&before).map(count).sum::<usize>() >= written
    };
    while child.try_wait().unwrap().is_none() && !reached() {
        std::thread::yield_now();
    }
    let running = child.try_wait().unwrap().is_none();
    // Sends SIGKILL: the program cannot clean up.
    child.kill().unwrap();
    child.wait().unwrap();
    running
}

/// Number of files below a folder that may appear and vanish meanwhile.
fn files_there(folder: &Path) -> usize {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|e| if e.path().is_dir() { files_there(&e.path()) } else { 1 }).sum()
}

fn kills() -> Option<usize> {
    std::env::var("PAIRWISE_KILLS").ok().map(|n| n.parse().expect("PAIRWISE_KILLS is a number"))
}

/// The old gallery is untouched until the new one replaces it atomically. (The
/// moment of replacing is tested in the unit tests of `output`.)
#[test]
#[allow(clippy::print_stdout, reason = "the numbers are worth reading")]
fn a_gallery_that_is_broken_off_leaves_the_old_one() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    let args = ["gallery", "--out", "class", "--arrangement", "A B", "--arrangement-length", "2"];
    let make = || program(folder.path(), &args);
    let (moments, new) = match kills() {
        None => (vec![1, 3, 9], None),
        Some(count) => {
            // One complete run, to count the files.
            assert_eq!(make().output().unwrap().status.code(), Some(0));
            let new = files(&place);
            std::fs::remove_dir_all(&place).unwrap();
            ((1..=count).map(|n| n * new.len() / count).collect(), Some(new))
        }
    };
    let old = old_gallery(&place);
    let (mut broken_off, mut replaced) = (0, 0);
    for &written in &moments {
        broken_off += usize::from(killed(make(), folder.path(), written));
        let stands = files(&place);
        if Some(&stands) == new.as_ref() {
            replaced += 1;
            std::fs::remove_dir_all(&place).unwrap();
            old_gallery(&place);
        } else {
            assert!(stands == old, "killed after {written} files: neither the old gallery nor the new");
        }
        assert_eq!(final_names(folder.path()), ["class"], "killed after {written} files");
        // Of the unfinished galleries, only the last is left.
        assert!(std::fs::read_dir(folder.path()).unwrap().count() <= 2, "killed after {written} files");
    }
    println!("{} kills: {broken_off} broken off, {replaced} done", moments.len());
    // At the style sheet, at a picture: a file that grows too large ends it.
    #[cfg(unix)]
    for blocks in [4, 16, 64] {
        stopped_by_size(folder.path(), &args, blocks);
        assert!(files(&place) == old, "stopped at a file of {blocks} blocks");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "something is left behind");
    }
    if let Some(new) = new {
        let out = make().output().unwrap();
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        assert!(files(&place) == new, "the next run makes the same gallery");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}

/// The program in a shell that lets no file grow beyond a number of blocks of 512
/// bytes.
#[cfg(unix)]
fn limited(folder: &Path, args: &[&str], before: &str, blocks: u64) -> Command {
    let mut run = Command::new("sh");
    run.arg("-c").arg(format!("{before} ulimit -f {blocks}; exec \"$@\"")).arg("sh");
    run.arg(env!("CARGO_BIN_EXE_pairwise")).args(args).current_dir(folder);
    run.env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR"));
    run
}

/// Runs the program until a file exceeds a number of blocks. The signal that the
/// system sends then, which ends other programs, is taken for what it means: the
/// file cannot be written. (With few blocks, the memory of contributions is the
/// first such file.)
#[cfg(unix)]
fn stopped_by_size(folder: &Path, args: &[&str], blocks: u64) {
    let out = limited(folder, args, "ulimit -c 0;", blocks).output().unwrap();
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{args:?}, {blocks} blocks: {} {said}", out.status);
    let flat: String = said.split(|c: char| c.is_whitespace() || c == '│').collect();
    assert!(
        flat.to_lowercase().contains("filewouldbetoolarge") && !flat.contains("panicked"),
        "{args:?}, {blocks} blocks: {said}"
    );
}

/// One command that writes a file: if it is stopped at the first, middle or last
/// block, the old file remains and nothing else, and the next run succeeds.
#[cfg(unix)]
fn file_is_whole(name: &str, args: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    let make = || program(folder.path(), args).output().unwrap();
    assert_eq!(make().status.code(), Some(0), "{args:?}");
    let new = std::fs::read(&path).unwrap();
    let whole = new.len() as u64 / 512;
    assert!(whole > 0, "{args:?} writes too little to be stopped amid it");
    std::fs::write(&path, "the old one").unwrap();
    for blocks in BTreeSet::from([0, whole / 2, whole - 1]) {
        stopped_by_size(folder.path(), args, blocks);
        assert_eq!(std::fs::read(&path).unwrap(), b"the old one", "{args:?} stopped after {blocks} blocks");
        assert_eq!(
            std::fs::read_dir(folder.path()).unwrap().count(),
            1,
            "{args:?}: something is left behind"
        );
    }
    let out = make();
    assert_eq!(out.status.code(), Some(0), "{args:?}: {}", text(&out.stderr));
    assert!(std::fs::read(&path).unwrap() == new);
}

/// A small chart, in a folder of its own.
#[cfg(unix)]
fn chart() -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let out = program(folder.path(), &["new", "small", "--chart"]).output().unwrap();
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let chart = folder.path().join("small.toml").to_str().unwrap().to_owned();
    (folder, chart)
}

#[cfg(unix)]
#[test]
fn interrupted_writes_leave_the_old_files() {
    file_is_whole("grid.png", &["grid", "torchon", "rose", "--size", "48"]);
    file_is_whole("sheet.pdf", &["sheet", "torchon"]);
    file_is_whole("one.svg", &["sheet", "torchon", "--show", "pairs", "--out", "one.svg"]);
    file_is_whole("pair.png", &["trace", "torchon", "--pair", "1", "--out", "pair.png"]);
    let (_folder, chart) = chart();
    file_is_whole("small.wasm", &["pack", &chart]);
    file_is_whole("rose.toml", &["unpack", "rose", "--out", "rose.toml"]);
}

/// The program must end with status 2, name the path and say what to do.
#[track_caller]
fn refused(out: &Output, place: &str) {
    let said = text(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{said}");
    let flat: String = said.split(|c: char| c.is_whitespace() || c == '│').collect();
    assert!(flat.contains(place), "{place} is not named: {said}");
    assert!(flat.contains("checkthat"), "no remedy: {said}");
    assert!(!flat.contains("panicked") && !flat.contains("pairwise-tmp"), "{said}");
    assert!(out.stdout.is_empty(), "{}", text(&out.stdout));
}

/// The commands that write, and what they write.
const WRITERS: [(&str, &[&str]); 4] = [
    ("grid.png", &["grid", "torchon", "--size", "320", "--out"]),
    ("sheet.pdf", &["sheet", "torchon", "--out"]),
    ("pairs.svg", &["sheet", "torchon", "--show", "pairs", "--out"]),
    ("pair.png", &["trace", "torchon", "--pair", "1", "--out"]),
];

/// No file may grow beyond a few blocks: writing more fails midway, as on a full
/// disk. (The signal that goes with this limit is ignored, so that the write
/// itself fails.)
#[cfg(unix)]
fn without_room(folder: &Path, args: &[&str]) -> Output {
    limited(folder, args, "trap '' XFSZ;", 16).output().unwrap()
}

#[cfg(unix)]
#[test]
fn a_full_disk_is_reported_and_nothing_is_lost() {
    for (name, args) in WRITERS {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join(name), "the old one").unwrap();
        let out = without_room(folder.path(), &[args, &[name]].concat());
        refused(&out, name);
        assert_eq!(std::fs::read(folder.path().join(name)).unwrap(), b"the old one");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "{name}: something is left behind");
    }
    // A device is written to directly, and stays a device even when it is full.
    if cfg!(target_os = "linux") {
        let out = program(Path::new("/"), &["grid", "torchon", "--size", "48", "--out", "/dev/full"])
            .output()
            .unwrap();
        assert_eq!(out.status.code(), Some(2), "{}", text(&out.stderr));
        assert!(text(&out.stderr).contains("the disk is full"), "{}", text(&out.stderr));
        assert!(!Path::new("/dev/full").metadata().unwrap().is_file());
    }
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    let old = old_gallery(&place);
    let out = without_room(folder.path(), &["gallery", "--out", "class", "--arrangement", "A"]);
    refused(&out, "class");
    assert!(files(&place) == old);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "something is left behind");
}

/// The user running the tests may have write access everywhere, so these are
/// places that nobody can write to: below a file, below a loop of links, in a
/// folder of the system.
#[test]
fn unwritable_places_are_reported() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("file"), "keep me").unwrap();
    let mut places = vec!["file", "nowhere"];
    #[cfg(unix)]
    std::os::unix::fs::symlink("loop", folder.path().join("loop")).unwrap();
    if cfg!(unix) {
        places.push("loop");
    }
    if cfg!(target_os = "linux") {
        places.push("/proc");
    }
    let before = std::fs::read_dir(folder.path()).unwrap().count();
    for place in places {
        for (name, args) in WRITERS {
            let path = format!("{place}/{name}");
            let out = program(folder.path(), &[args, &[path.as_str()]].concat()).output().unwrap();
            refused(&out, &path);
        }
        let path = format!("{place}/class");
        let out = program(folder.path(), &["gallery", "--out", &path]).output().unwrap();
        refused(&out, &path);
    }
    assert_eq!(std::fs::read(folder.path().join("file")).unwrap(), b"keep me");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), before, "something is left behind");
}

/// If a folder has the name of the file, nothing is lost either.
#[test]
fn a_folder_is_not_replaced_by_a_file() {
    for (name, args) in WRITERS {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join(name);
        std::fs::create_dir(&place).unwrap();
        std::fs::write(place.join("dear.txt"), "keep me").unwrap();
        let out = program(folder.path(), &[args, &[name]].concat()).output().unwrap();
        refused(&out, name);
        assert_eq!(std::fs::read(place.join("dear.txt")).unwrap(), b"keep me");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}

/// The user ends the program while it makes a gallery: nothing is left of it.
#[cfg(unix)]
#[test]
fn nothing_is_left_of_a_gallery_that_the_user_interrupts() {
    use std::os::unix::process::ExitStatusExt;
    let folder = tempfile::tempdir().unwrap();
    for (number, signal, written) in [(2, "INT", 1), (15, "TERM", 5), (1, "HUP", 9)] {
        if is_ignored(number) {
            continue;
        }
        let args = ["gallery", "--out", "class", "--arrangement", "A B", "--arrangement-length", "2"];
        let mut run = program(folder.path(), &args);
        let mut child = run.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        let files = || being_made(folder.path()).iter().map(|f| files_there(&f.join("made"))).sum::<usize>();
        while files() < written {
            assert!(
                child.try_wait().unwrap().is_none(),
                "the gallery was made before it could be interrupted"
            );
            std::thread::yield_now();
        }
        let sent = Command::new("kill").args(["-s", signal, &child.id().to_string()]).status().unwrap();
        assert!(sent.success());
        assert!(child.wait().unwrap().signal().is_some(), "{signal}: it goes on");
        assert_eq!(
            std::fs::read_dir(folder.path()).unwrap().count(),
            0,
            "{signal}: something is left behind"
        );
    }
}

/// Whether whoever started the tests lets them, and what they start, ignore a
/// signal, as a shell does with what it starts in the background (Linux, proc(5)).
#[cfg(unix)]
fn is_ignored(signal: u32) -> bool {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let bits = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
    let bits = bits.and_then(|bits| u64::from_str_radix(bits.trim(), 16).ok()).unwrap_or(0);
    bits >> (signal - 1) & 1 == 1
}

/// With the strictest umask, what is written is private too.
#[cfg(unix)]
#[test]
fn what_is_new_is_as_open_as_the_user_wants() {
    use std::os::unix::fs::PermissionsExt;
    let mode = |path: &Path| path.metadata().unwrap().permissions().mode() & 0o777;
    for (mask, file, inner) in [("077", 0o600, 0o700), ("022", 0o644, 0o755), ("007", 0o660, 0o770)] {
        let folder = tempfile::tempdir().unwrap();
        for args in [
            &["new", "small", "--chart"][..],
            &["new", "crate"],
            &["sheet", "torchon", "--show", "pairs", "--out", "pairs.svg"],
        ] {
            let mut run = Command::new("sh");
            run.arg("-c").arg(format!("umask {mask}; exec \"$@\"")).arg("sh");
            run.arg(env!("CARGO_BIN_EXE_pairwise")).args(args).current_dir(folder.path());
            let out = run.env("XDG_CACHE_HOME", env!("CARGO_TARGET_TMPDIR")).output().unwrap();
            assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        }
        for name in ["small.toml", "pairs.svg", "crate/Cargo.toml", "crate/src/lib.rs"] {
            assert_eq!(mode(&folder.path().join(name)), file, "umask {mask}: {name}");
        }
        for name in ["crate", "crate/src", "crate/kit/sdk/src"] {
            assert_eq!(mode(&folder.path().join(name)), inner, "umask {mask}: {name}");
        }
    }
}

/// Many at once in one folder: each crate has all of its files.
#[test]
fn crates_made_at_once_are_whole() {
    let folder = tempfile::tempdir().unwrap();
    const AT_ONCE: usize = 12;
    const ROUNDS: usize = 3;
    let names: Vec<String> = (0..AT_ONCE * ROUNDS).map(|n| format!("filling-{n}")).collect();
    for round in names.chunks(AT_ONCE) {
        let running: Vec<_> =
            round.iter().map(|name| program(folder.path(), &["new", name]).spawn().unwrap()).collect();
        for child in running {
            let out = child.wait_with_output().unwrap();
            assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        }
    }
    let first: BTreeSet<PathBuf> = files_in(&folder.path().join(&names[0])).into_iter().collect();
    assert!(first.len() > 40, "{}", first.len());
    for name in &names {
        let files: BTreeSet<PathBuf> = files_in(&folder.path().join(name)).into_iter().collect();
        assert_eq!(files, first, "{name}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), names.len(), "something is left behind");
}

/// What appears at the place of a gallery while it is made is kept, and so is what
/// the user has put into an older one.
#[cfg(unix)]
#[test]
fn a_gallery_takes_the_place_of_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    let args = ["gallery", "--out", "class", "--arrangement", "A", "--arrangement-length", "1"];
    let made_meanwhile = |appears: &dyn Fn()| {
        let child = program(folder.path(), &args).spawn().unwrap();
        while being_made(folder.path()).iter().all(|f| files_there(&f.join("made")) == 0) {
            std::thread::yield_now();
        }
        appears();
        child.wait_with_output().unwrap()
    };
    let out = made_meanwhile(&|| std::fs::write(&place, "keep me").unwrap());
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("class: a file appeared there"), "{}", text(&out.stderr));
    assert_eq!(std::fs::read(&place).unwrap(), b"keep me");
    assert_eq!(final_names(folder.path()), ["class"]);
    std::fs::remove_file(&place).unwrap();
    // Refused before any work.
    let old = old_gallery(&place);
    std::fs::write(place.join("grounds/notes.txt"), "keep me").unwrap();
    let out = program(folder.path(), &args).output().unwrap();
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("class contains grounds/notes.txt"), "{}", text(&out.stderr));
    assert_eq!(files(&place).len(), old.len() + 1);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "something is left behind");
}
