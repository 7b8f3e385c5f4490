//! The program as a user runs it.

use crate::support::{assert_refused, pairwise, text};

#[test]
fn facts_carry_the_repeat_and_its_orbits() {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["facts", "rose", "--json"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let facts: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(facts["format"], "pairwise-facts/1");
    // Read in J. Edkins' description of the rose ground: four pairs, four pins.
    assert_eq!(facts["pairs_across"], 4);
    assert_eq!(facts["measures"]["pins_per_repeat"], 4);
    // The orbits, computed again here from the repeat alone.
    let repeat = &facts["repeat"];
    let mut orbits = Vec::new();
    let mut seen: Vec<(String, usize)> = Vec::new();
    for stitch in repeat["stitches"].as_array().unwrap() {
        for position in 0..4 {
            let first = (stitch["id"].as_str().unwrap().to_owned(), position);
            if seen.contains(&first) {
                continue;
            }
            let (mut here, mut stitches, mut cells) = (first.clone(), 0, [0i64, 0]);
            loop {
                seen.push(here.clone());
                stitches += 1;
                let moves = repeat["stitches"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .find(|s| s["id"] == here.0.as_str())
                    .unwrap();
                let mut at = here.1;
                for letter in moves["moves"].as_str().unwrap().chars() {
                    at = match (letter, at) {
                        ('C', 1) => 2,
                        ('C', 2) => 1,
                        ('T', p) => p ^ 1,
                        (_, p) => p,
                    };
                }
                let side = ["left", "right"][at / 2];
                let legs = repeat["legs"].as_array().unwrap();
                let leg =
                    legs.iter().find(|l| l["from"][0] == here.0.as_str() && l["from"][1] == side).unwrap();
                let twisted = leg["twists"].as_u64().unwrap() as usize % 2;
                let side = if leg["to"][1] == "left" { 0 } else { 2 };
                here = (leg["to"][0].as_str().unwrap().to_owned(), side + ((at % 2) ^ twisted));
                for k in 0..2 {
                    cells[k] += leg["cell"][k].as_i64().unwrap();
                }
                if here == first {
                    break;
                }
            }
            orbits.push(serde_json::json!({ "stitches": stitches, "cells": cells }));
        }
    }
    assert_eq!(facts["orbits"].as_array().unwrap(), &orbits);
}

// Common practice, no source: half stitch, pin, half stitch sends colours along
// the diagonals; cloth stitch and twist on either side keeps them in columns.
#[test]
fn the_list_and_the_grid_show_every_family() {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["grounds", "--json"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let list: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let families: std::collections::BTreeSet<&str> =
        list["grounds"].as_array().unwrap().iter().map(|g| g["family"].as_str().unwrap()).collect();
    for family in ["torchon", "rose", "honeycomb", "net", "mesh", "plait", "cloth", "spider", "tally"] {
        assert!(families.contains(family), "{families:?}");
    }
    let out = pairwise(folder.path(), &["grid", "torchon", "rose", "--size", "64", "--out", "grid.png"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let png = std::fs::read(folder.path().join("grid.png")).unwrap();
    assert_eq!(&png[1..4], b"PNG");
    assert!(text(&out.stdout).contains("2 grounds in"), "{}", text(&out.stdout));
}

#[test]
fn mistakes_are_named_with_a_remedy_and_leave_nothing_behind() {
    for (args, words) in [
        (&["facts", "roze"][..], &["roze", "`rose`"][..]),
        (&["facts", "rose/never"], &["never"]),
        (&["facts", "rose", "--with", "crossing=maybe"], &["maybe"]),
        (&["facts", "rose", "--with", "crossing"], &["CHOICE=VALUE"]),
        (&["facts", "rose", "--pin-spacing", "nan"], &["pin spacing"]),
        (&["facts", "rose", "--thread", "thick"], &["thick", "wraps/cm"]),
        (&["grid", "rose", "--colours", "navi"], &["navi", "--colours"]),
        (&["grid", "rose", "--arrangement", "A ?"], &["`?`", "character 3", "2-and-2"]),
        (&["grid", "rose", "--arrangement", "A B C"], &["letter C", "--colours"]),
        (
            &["grid", "torchon", "--size", "48", "--out", "no/such/folder/grid.png"],
            &["no/such/folder/grid.png"],
        ),
        (&["gallery", "--plugins", "no-such-folder"], &["no-such-folder"]),
        (&["check", "no-such-file.wasm"], &["no-such-file.wasm"]),
        (&["explain", "lift-off"], &["lifts-off"]),
        (&["explain", "chrts"], &["`charts`"]),
        (&["sheet", "roze"], &["roze", "`rose`"]),
        (&["sheet", "rose", "--out", "rose.jpg"], &["rose.jpg", ".pdf"]),
        (&["sheet", "rose", "--out", "rose"], &["rose", ".svg"]),
        (&["sheet", "rose", "--angle", "inf"], &["angle", "--angle 60"]),
        (&["sheet", "rose", "--angle", "10"], &["10 degrees from the footside"]),
        (&["sheet", "rose", "--pin-spacing", "-4"], &["pin spacing", "-4 mm"]),
        (&["sheet", "rose", "--thread", "0 tex"], &["0 tex"]),
        (&["sheet", "rose", "--arrangement", "A C"], &["letter C"]),
        (&["sheet", "rose", "--background", "greyish"], &["greyish"]),
        (&["sheet", "rose", "--show", "threads", "--area", "40"], &["40", "120x80"]),
        (&["sheet", "rose", "--show", "threads", "--area", "40x9000"], &["40x9000", "2000 mm"]),
        (&["sheet", "rose", "--area", "40x40"], &["--show"]),
        (&["sheet", "rose", "--sideways", "--show", "threads"], &["on its side", "--show pricking"]),
        (&["sheet", "rose", "--seen-by", "cat"], &["deutan"]),
        (&["gallery", "--max", "1000"], &["1000 arrangements", "--max 256", "pairwise grid"]),
        (&["sheet", "rose", "--paper", "a44"], &["a44", "letter"]),
        (&["sheet", "rose", "--paper", "100x150"], &["100 by 150 mm", "--show"]),
        (
            &["sheet", "rose", "--show", "pricking", "--paper", "60x90"],
            &["60 mm by 90 mm", "100 mm each way"],
        ),
        (
            &["sheet", "rose", "--show", "threads", "--pin-spacing", "0.5", "--area", "900x900"],
            &["stitches", "--area"],
        ),
        (
            &["sheet", "rose", "--show", "threads", "--area", "2x2000", "--px", "12000", "--out", "a.png"],
            &["pixels", "--px"],
        ),
        (
            &["sheet", "rose", "--show", "pricking", "--area", "400x400", "--out", "rose.svg"],
            &["rose.svg", "pages", "--paper"],
        ),
    ] {
        assert_refused(args, words);
    }
}

#[test]
fn a_sheet_is_written_in_every_kind_of_file() {
    let folder = tempfile::tempdir().unwrap();
    for show in [&[][..], &["--show", "threads"], &["--show", "pairs"], &["--show", "pricking"]] {
        for (name, begins) in [("a.svg", "<svg"), ("a.pdf", "%PDF"), ("a.png", "\u{fffd}PNG")] {
            let mut args = vec!["sheet", "rose", "--px", "160", "--out", name];
            args.extend(show);
            let out = pairwise(folder.path(), &args);
            assert_eq!(out.status.code(), Some(0), "{args:?}: {}", text(&out.stderr));
            assert!(text(&out.stdout).starts_with(name), "{}", text(&out.stdout));
            let bytes = std::fs::read(folder.path().join(name)).unwrap();
            let start = String::from_utf8_lossy(&bytes[..4]).into_owned();
            assert_eq!(start, begins, "{args:?}");
        }
        let svg = std::fs::read_to_string(folder.path().join("a.svg")).unwrap();
        assert!(svg.lines().next().unwrap().contains("mm\" viewBox"), "a size in millimetres");
    }
    // An order of working with pages of its own: below the first in pictures.
    for (name, what) in [("b.pdf", "2 pages"), ("b.svg", "210 by 594 mm")] {
        let out = pairwise(folder.path(), &["sheet", "spider/three", "--out", name]);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        assert!(text(&out.stdout).ends_with(&format!("{what}\n")), "{}", text(&out.stdout));
    }
    // The same bytes the second time.
    let before = std::fs::read(folder.path().join("a.pdf")).unwrap();
    let out = pairwise(folder.path(), &["sheet", "rose", "--show", "pricking", "--out", "a.pdf"]);
    assert_eq!(out.status.code(), Some(0));
    assert_eq!(std::fs::read(folder.path().join("a.pdf")).unwrap(), before);
}

// Common practice, no source: threads that lie side by side need room; 12 wraps
// between two footside pins suit torchon.
#[test]
fn a_thread_too_thick_is_drawn_with_a_warning_that_gives_the_ratio() {
    let folder = tempfile::tempdir().unwrap();
    let thick = ["sheet", "torchon", "--show", "threads", "--thread", "6 wraps/cm", "--out", "thick.png"];
    let out = pairwise(folder.path(), &thick);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    // 6 wraps to the cm are 2.4 between pins 4 mm apart; 12 would be 5 times finer.
    for words in ["crowded", "2.4 wraps", "5.0 times too thick", "--thread"] {
        assert!(text(&out.stderr).contains(words), "{words}: {}", text(&out.stderr));
    }
    assert!(folder.path().join("thick.png").is_file());
    let out = pairwise(folder.path(), &["facts", "torchon"]);
    assert!(out.stderr.is_empty(), "{}", text(&out.stderr));
}

#[test]
fn facts_report_how_the_threads_were_laid_out() {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), &["facts", "rose", "--json"]);
    let facts: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let layout = &facts["layout"];
    assert_eq!(layout["settled"], true);
    assert_eq!(layout["wraps_between_pins"], 12.0);
    assert!(layout["iterations"].as_u64().unwrap() > 0);
    let residual = layout["residual_tensions"].as_f64().unwrap();
    assert!(residual > 0.0 && residual <= 0.004, "{residual}");
    assert!(layout["clearance_thread_widths"].as_f64().unwrap() >= 0.9);
    let out = pairwise(folder.path(), &["facts", "rose"]);
    // In plain words; how far the solver had to go is in the JSON.
    let told = text(&out.stdout);
    assert!(told.contains("The threads have settled; those that do not cross lie at least 1."), "{told}");
    assert!(!told.contains("tension") && !told.contains("steps"), "{told}");
}

#[test]
fn a_faulty_contribution_is_named_and_the_others_are_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let plugins = folder.path().join("mine");
    std::fs::create_dir(&plugins).unwrap();
    std::fs::write(plugins.join("broken.wasm"), b"\0asm but not really").unwrap();
    let out = pairwise(folder.path(), &["grid", "torchon", "--size", "48", "--plugins", "mine"]);
    assert_eq!(out.status.code(), Some(1));
    assert!(text(&out.stderr).contains("broken.wasm"), "{}", text(&out.stderr));
    assert!(folder.path().join("grid.png").is_file());
}

/// What is named like a file is looked for as a file.
#[test]
fn a_file_that_is_not_there_is_named() {
    for file in ["nothing.toml", "nothing.wasm"] {
        assert_refused(&["check", file], &[&format!("cannot read {file}"), "check that it exists"]);
    }
}
