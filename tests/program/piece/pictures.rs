//! The demo pieces as pictures, and wishes that are fulfilled.

use std::path::{Path, PathBuf};

use super::{bookmark, made, told};
use crate::support::{pairwise, text};

fn demos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../gallery/pieces");
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    files.sort();
    files
}

#[test]
fn the_demo_pieces_are_drawn_worked_as_diagram_and_as_pricking() {
    let demos = demos();
    assert_eq!(demos.len(), 3, "{demos:?}");
    let folder = tempfile::tempdir().unwrap();
    for demo in demos {
        let file = demo.to_str().unwrap();
        let go = |more: &[&str]| {
            let out = pairwise(folder.path(), &[&["piece", file], more].concat());
            let said = text(&out.stderr);
            assert!(out.status.success() && said.is_empty(), "{file}: {said}");
            text(&out.stdout)
        };
        assert!(go(&["-o", "piece.pdf"]).contains("pairs, "), "{file}");
        let pdf = std::fs::read(folder.path().join("piece.pdf")).unwrap();
        assert!(pdf.starts_with(b"%PDF"));
        go(&["-o", "diagram.svg", "--show", "pairs"]);
        let diagram = std::fs::read_to_string(folder.path().join("diagram.svg")).unwrap();
        // Every stitch has its number.
        for number in 1..=stitches(file, folder.path()) {
            assert!(diagram.contains(&format!("aria-label=\"{number}\"")), "{file}: {number}");
        }
    }
}

fn stitches(file: &str, folder: &Path) -> usize {
    let json = pairwise(folder, &["piece", file, "--json"]).stdout;
    let json: serde_json::Value = serde_json::from_slice(&json).unwrap();
    json["order"].as_array().unwrap().len()
}

/// Where the threads of a pair end: the place of the last stitch of each.
fn ends(piece: &str, pair: &str) -> Vec<f64> {
    let json = made(piece);
    let stitches = json["stitches"].as_array().unwrap();
    let threads = json["threads"].as_array().unwrap().iter().filter(|thread| thread["pair"] == pair);
    threads
        .map(|thread| {
            let last = thread["stitches"].as_array().unwrap().last().unwrap();
            let stitch = stitches.iter().find(|stitch| stitch["id"] == *last).unwrap();
            stitch["at"][0].as_f64().unwrap()
        })
        .collect()
}

#[test]
fn a_wish_is_fulfilled_by_the_lines_it_prints() {
    let piece = bookmark("");
    let mut changed = 0;
    for pair in ["left 1", "left 2", "left 3", "right 1", "start left"] {
        for (side, sign) in [("left", -1.0), ("right", 1.0)] {
            let wish = format!("{pair} ends at the {side}");
            let answer = told(&piece, &["--wish", &wish]);
            if answer.contains("already") {
                assert!(ends(&piece, pair).iter().all(|x| x * sign >= 0.0), "{wish}");
                continue;
            }
            let Some(at) = answer.find("[[stitch]]") else { panic!("{wish}: {answer}") };
            // What is printed stands on lines of its own.
            let lines = answer[at..].replace("[[stitch]] ", "[[stitch]]\n").replace("] work", "]\nwork");
            let lines = lines.replace("\" [[", "\"\n[[");
            let after = ends(&format!("{piece}{lines}\n"), pair);
            assert!(after.iter().all(|x| x * sign >= 0.0), "{wish}: {after:?}\n{lines}");
            changed += 1;
        }
    }
    assert!(changed >= 4, "{changed}");
    let colour = told(&piece, &["--wish", "colour white down the left edge"]);
    assert!(colour.contains("runs down the left edge"), "{colour}");
}
