//! Whatever happens at the place of a gallery while it is made, nothing of the
//! user's is lost.

use std::process::{Command, Stdio};

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::*;
use crate::long::LongRun;

/// A gallery begun at a place, with a page in it.
fn begun(place: &Path, text: &[u8]) -> NewGallery {
    let gallery = NewGallery::begin(place).unwrap();
    gallery.write("index.html", text).unwrap();
    gallery.write("pictures/one.png", text).unwrap();
    gallery
}

fn made(place: &Path, text: &[u8]) {
    begun(place, text).finish("0").unwrap();
}

fn entries(folder: &Path) -> usize {
    fs::read_dir(folder).unwrap().count()
}

/// Every file below a folder with its text.
fn files(folder: &Path) -> BTreeSet<(PathBuf, Vec<u8>)> {
    let mut found = BTreeSet::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.insert((path.clone(), fs::read(&path).unwrap_or_default()));
        }
    }
    found
}

#[test]
fn a_gallery_replaces_a_gallery_and_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    for round in 0..2u8 {
        made(&place, &[round]);
        assert_eq!(fs::read(place.join("pictures/one.png")).unwrap(), [round]);
    }
    let other = folder.path().join("letters");
    fs::create_dir(&other).unwrap();
    fs::write(other.join("dear.txt"), "keep me").unwrap();
    assert!(matches!(NewGallery::begin(&other), Err(Failure::NotAGallery { .. })));
    assert_eq!(fs::read_to_string(other.join("dear.txt")).unwrap(), "keep me");
    // An empty folder is a place too.
    let empty = folder.path().join("empty");
    fs::create_dir(&empty).unwrap();
    made(&empty, b"x");
    // No temporary file is left.
    assert_eq!(entries(folder.path()), 3);
}

#[test]
fn what_a_user_puts_into_a_gallery_is_named_before_any_work() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    made(&place, b"old");
    for name in ["notes.txt", "pictures/mine.png", "new/deep/file"] {
        let path = place.join(name);
        fs::create_dir_all(parent(&path)).unwrap();
        fs::write(&path, "keep me").unwrap();
        let Err(wrong) = NewGallery::begin(&place) else { panic!("{name} is overlooked") };
        let named = name.split_once('/').map_or(name, |(first, _)| if first == "new" { "new" } else { name });
        assert!(wrong.to_string().contains(&format!("contains {named},")), "{wrong}");
        fs::remove_file(&path).unwrap();
        fs::remove_dir_all(place.join("new")).ok();
    }
    fs::create_dir(place.join("empty")).unwrap();
    assert!(matches!(NewGallery::begin(&place), Err(Failure::NotOfTheGallery { .. })));
    fs::remove_dir(place.join("empty")).unwrap();
    // A page fewer is no harm.
    fs::remove_file(place.join("index.html")).unwrap();
    made(&place, b"new");
    assert_eq!(entries(folder.path()), 1);
}

/// A mark may come from a stranger, like the gallery around it.
#[test]
fn a_mark_names_nothing_outside_its_gallery() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    let mine = folder.path().join("mine.txt");
    fs::create_dir(&place).unwrap();
    fs::write(&mine, "keep me").unwrap();
    let outside = mine.to_str().unwrap();
    let mark =
        format!(r#"{{"format":"{FORMAT}","files":["../mine.txt",{outside:?},"pictures/../../mine.txt"]}}"#);
    fs::write(place.join(MARK), mark).unwrap();
    made(&place, b"new");
    assert_eq!(fs::read(&mine).unwrap(), b"keep me");
    assert_eq!(entries(folder.path()), 2);
}

#[test]
fn an_unfinished_gallery_leaves_no_trace() {
    let folder = tempfile::tempdir().unwrap();
    drop(begun(&folder.path().join("class"), b"half"));
    assert_eq!(entries(folder.path()), 0);
}

/// What may happen at the place while a gallery is made.
#[derive(Clone, Copy, Debug)]
enum Happens {
    Nothing,
    File,
    EmptyFolder,
    FolderWithFile,
    FileInside,
    FileInsidePictures,
    OtherGallery,
    OtherFolder,
    #[cfg(unix)]
    Link,
    Removed,
}

const ALL: &[Happens] = &[
    Happens::Nothing,
    Happens::File,
    Happens::EmptyFolder,
    Happens::FolderWithFile,
    Happens::FileInside,
    Happens::FileInsidePictures,
    Happens::OtherGallery,
    Happens::OtherFolder,
    #[cfg(unix)]
    Happens::Link,
    Happens::Removed,
];

/// Lets it happen, in a folder with the place `class`. What stood there before is
/// moved away if need be, not removed.
fn happen(what: Happens, place: &Path, number: usize) {
    let away = || {
        let _ = fs::rename(place, place.with_extension(format!("away{number}")));
    };
    let inside = |name: &str| {
        let path = place.join(name);
        if place.is_dir() {
            fs::create_dir_all(parent(&path)).unwrap();
            fs::write(path, format!("keep me {number}")).unwrap();
        }
    };
    match what {
        Happens::Nothing => {}
        Happens::File => {
            away();
            fs::write(place, "keep me").unwrap();
        }
        Happens::EmptyFolder => {
            away();
            fs::create_dir(place).unwrap();
        }
        Happens::FolderWithFile => {
            away();
            fs::create_dir(place).unwrap();
            inside("dear.txt");
        }
        Happens::FileInside => inside(&format!("notes{number}.txt")),
        Happens::FileInsidePictures => inside(&format!("pictures/mine{number}.png")),
        Happens::OtherGallery => {
            away();
            made(place, b"other");
        }
        Happens::OtherFolder => {
            away();
            fs::create_dir(place).unwrap();
            fs::create_dir(place.join("inner")).unwrap();
            inside("inner/dear.txt");
        }
        #[cfg(unix)]
        Happens::Link => {
            away();
            std::os::unix::fs::symlink("elsewhere", place).unwrap();
        }
        Happens::Removed => away(),
    }
}

/// Begins a gallery where there was nothing (0), an empty folder or a gallery, and
/// finishes it after this has happened.
fn try_it(stood: usize, happens: &[Happens]) {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    match stood {
        0 => {}
        1 => fs::create_dir(&place).unwrap(),
        _ => made(&place, b"old"),
    }
    let gallery = begun(&place, b"new");
    // Without the hidden folder of the one that is being made.
    let seen = || -> BTreeSet<(PathBuf, Vec<u8>)> {
        let hidden = |path: &Path| path.to_string_lossy().contains(".being-made-");
        files(folder.path()).into_iter().filter(|(path, _)| !hidden(path)).collect()
    };
    let old = seen();
    for (number, what) in happens.iter().enumerate() {
        happen(*what, &place, number);
    }
    let there = seen();
    let done = gallery.finish("0");
    let after = files(folder.path());
    if let Err(why) = &done {
        assert!(
            matches!(why, Failure::Appeared { .. }),
            "{why}: {} {happens:?}",
            if stood == 0 { "nothing" } else { "something" }
        );
        assert_eq!(after, there, "{stood} {happens:?}: refused, and yet something changed");
    } else {
        assert_eq!(fs::read(place.join("index.html")).unwrap(), b"new");
        // Only the files of the gallery that stood there are gone.
        let old_ones: BTreeSet<_> = old.into_iter().filter(|(path, _)| path.starts_with(&place)).collect();
        for file in there.difference(&old_ones) {
            assert!(after.contains(file), "{stood} {happens:?}: {} is lost", file.0.display());
        }
    }
    let hidden = fs::read_dir(folder.path()).unwrap().flatten();
    let hidden = hidden.filter(|e| e.file_name().to_string_lossy().starts_with('.')).count();
    assert_eq!(hidden, 0, "{stood} {happens:?}: something is left behind");
}

#[test]
fn nothing_that_appears_at_the_place_is_lost() {
    for stood in 0..3 {
        for &what in ALL {
            try_it(stood, &[what]);
        }
    }
    let some = prop::collection::vec(prop::sample::select(ALL), 1..5);
    let config = Config { cases: 128, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[5; 32]));
    let run = |(stood, happens): (usize, Vec<Happens>)| {
        try_it(stood, &happens);
        Ok(())
    };
    runner.run(&(0..3usize, some), run).unwrap();
}

#[test]
fn what_appears_is_named_with_what_to_do() {
    for (what, words) in [
        (Happens::File, "a file"),
        (Happens::FolderWithFile, "a folder"),
        (Happens::OtherGallery, "a folder"),
    ] {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("class");
        let gallery = begun(&place, b"new");
        happen(what, &place, 0);
        let said = gallery.finish("0").unwrap_err().to_string();
        assert!(
            said.ends_with(&format!("class: {words} appeared there while the gallery was being made")),
            "{said}"
        );
    }
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("class");
    made(&place, b"old");
    let gallery = begun(&place, b"new");
    fs::write(place.join("notes.txt"), "keep me").unwrap();
    let said = gallery.finish("0").unwrap_err().to_string();
    assert!(said.contains("the file notes.txt appeared"), "{said}");
}

/// As on file systems that cannot swap two folders.
#[test]
fn in_two_steps_nothing_is_lost_either() {
    for changed in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("class");
        made(&place, b"old");
        let there = place.symlink_metadata().unwrap();
        let before = Before::of(&place, &there, &place).unwrap();
        let gallery = begun(&place, b"new");
        gallery.folder.write(MARK, format!("{{\"format\":\"{FORMAT}\",\"files\":[]}}").as_bytes()).unwrap();
        let hidden = gallery.folder.into_hidden();
        fs::rename(hidden.made(), hidden.whole()).unwrap();
        let mut finished = Finished { hidden, place: place.clone(), target: place.clone() };
        if changed {
            fs::write(place.join("notes.txt"), "keep me").unwrap();
        }
        let done = finished.put_in_two_steps(&before);
        drop(finished);
        assert_eq!(done.is_err(), changed);
        assert_eq!(fs::read(place.join("index.html")).unwrap(), if changed { b"old" } else { b"new" });
        assert_eq!(place.join("notes.txt").exists(), changed);
        assert_eq!(entries(folder.path()), 1);
    }
}

#[cfg(unix)]
#[test]
fn a_link_is_followed_and_a_folder_keeps_its_mode() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::create_dir_all(at("web/site")).unwrap();
    fs::set_permissions(at("web/site"), fs::Permissions::from_mode(0o710)).unwrap();
    symlink("web/site", at("class")).unwrap();
    for text in [b"one", b"two"] {
        made(&at("class"), text);
        assert!(at("class").is_symlink());
        assert_eq!(fs::read(at("web/site/index.html")).unwrap(), text);
        assert_eq!(fs::metadata(at("web/site")).unwrap().permissions().mode() & 0o777, 0o710);
    }
    symlink("nowhere", at("dangling")).unwrap();
    assert!(NewGallery::begin(&at("dangling")).is_err() && at("dangling").is_symlink());
    assert_eq!((entries(folder.path()), entries(&at("web"))), (3, 1));
}

/// Number of files that one round of [`rounds`] writes.
const FILES: u32 = 12;

/// Replaces a gallery and a file over and over, in the folder that the environment
/// names: for [`ended_at_any_moment_the_old_or_the_new_is_there`], which ends it.
#[test]
#[ignore = "goes on until it is killed"]
fn rounds() {
    let Some(folder) = std::env::var_os("PAIRWISE_ROUNDS").map(PathBuf::from) else { return };
    let first = std::env::var("PAIRWISE_FIRST_ROUND").unwrap().parse().unwrap();
    for round in first.. {
        let round: u64 = round;
        let text = round.to_string().repeat(4000);
        crate::output::write_file(&folder.join("facts.json"), text.as_bytes()).unwrap();
        let gallery = NewGallery::begin(&folder.join("class")).unwrap();
        for n in 0..FILES {
            gallery.write(&format!("grounds/{n}.html"), text.as_bytes()).unwrap();
        }
        gallery.write("index.html", text.as_bytes()).unwrap();
        gallery.finish("0").unwrap();
    }
}

/// Ends that process again and again, each time after it has finished a round and
/// written some pages of the next: by a kill, which it does not notice, or as
/// Ctrl+C does. Each time, what has a final name is complete and of one round, and
/// never older than before; after Ctrl+C, nothing else is left.
#[test]
fn ended_at_any_moment_the_old_or_the_new_is_there() {
    ended_while(|end| end < 26);
}

#[test]
#[ignore = "goes on for the time given"]
#[allow(clippy::print_stdout, reason = "the number is worth reading")]
fn long_run() {
    let time = LongRun::with_share(0.15);
    let ends = ended_while(|_| time.goes_on());
    println!("ended {ends} times, the old or the new was there each time");
}

/// Ends the process for as long as is wished; returns how often.
fn ended_while(goes_on: impl Fn(u64) -> bool) -> u64 {
    let folder = tempfile::tempdir().unwrap();
    let (class, file) = (folder.path().join("class"), folder.path().join("facts.json"));
    // The round of a text; `None` if the text is incomplete.
    let round_of = |text: &str| {
        let round = &text[..text.len() / 4000];
        (text == round.repeat(4000)).then(|| round.parse::<u64>().ok()).flatten()
    };
    let round_there = || fs::read_to_string(class.join("index.html")).ok().and_then(|t| round_of(&t));
    // The number of pages in the gallery being made.
    let pages_begun = || {
        let begun = fs::read_dir(folder.path()).into_iter().flatten().flatten();
        let begun = begun.filter(|e| e.file_name().to_string_lossy().starts_with(".being-made-"));
        let pages = begun.map(|e| fs::read_dir(e.path().join("made/grounds")).map_or(0, Iterator::count));
        pages.max().unwrap_or(0)
    };
    // A kill may leave a file half written, under a hidden name.
    let half_written = || {
        let there = fs::read_dir(folder.path()).unwrap().flatten().map(|e| e.path());
        there.filter(|path| path.is_file() && *path != file).count()
    };
    let mut end = 0;
    while goes_on(end) {
        let first = end * 1_000_000;
        let before = half_written();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", &format!("{}::rounds", module_path!().split_once("::").unwrap().1)])
            .arg("--ignored")
            .env("PAIRWISE_ROUNDS", folder.path())
            .env("PAIRWISE_FIRST_ROUND", first.to_string())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        while round_there().is_none_or(|round| round < first) || pages_begun() < (end % 13) as usize {
            assert!(child.try_wait().unwrap().is_none(), "the rounds go on until they are ended");
            std::thread::yield_now();
        }
        let gently = cfg!(unix) && end % 2 == 1;
        if gently {
            interrupt(&child);
        } else {
            child.kill().unwrap();
        }
        child.wait().unwrap();
        if gently {
            assert_eq!(entries(folder.path()), 2 + before, "end {end}: something is left behind");
        }
        let whole = |path: &Path| {
            let text = fs::read_to_string(path).unwrap();
            round_of(&text).unwrap_or_else(|| panic!("end {end}: {} is not whole", path.display()))
        };
        let round = whole(&class.join("index.html"));
        assert!(round >= first, "end {end}: an older gallery is back");
        for n in 0..FILES {
            let page = whole(&class.join(format!("grounds/{n}.html")));
            assert_eq!(page, round, "end {end}: page {n} is of another round");
        }
        assert!(whole(&file) >= round, "end {end}: the file is older than the gallery after it");
        end += 1;
    }
    // The next gallery removes what was left.
    made(&class, b"last");
    let left = fs::read_dir(folder.path()).unwrap().flatten().filter(|e| e.path().is_dir()).count();
    assert_eq!(left, 1, "galleries that were broken off are left");
    end
}

#[cfg(unix)]
fn interrupt(child: &std::process::Child) {
    let id = rustix::process::Pid::from_child(child);
    // Not the signal of Ctrl+C: a shell that started the tests in the background
    // lets them ignore it. To the program they are the same.
    rustix::process::kill_process(id, rustix::process::Signal::TERM).unwrap();
}

#[cfg(not(unix))]
fn interrupt(_: &std::process::Child) {}
