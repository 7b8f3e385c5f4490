//! The `trace` command as a user runs it.

use std::path::Path;
use std::process::Output;

use crate::support::{assert_refused, pairwise};
use serde_json::Value;

fn trace(folder: &Path, args: &[&str]) -> Output {
    pairwise(folder, &[&["trace"], args].concat())
}

fn stdout(args: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let out = trace(folder.path(), args);
    assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

// Common practice, no source: half stitch, pin, half stitch sends a colour
// across the whole area along the diagonal; cloth stitch and twist, pin, cloth
// stitch and twist keeps it where it is.
#[test]
fn colours_travel_in_torchon_and_stay_in_double_torchon() {
    let order = ["--colours", "white,gold", "--arrangement"];
    let single = stdout(&[&["torchon"], &order[..], &["A B A A A B A A"]].concat());
    assert!(
        single.contains(
            "Gold pairs 2, 6, 10 … run down to the right along the diagonal until they reach the edge."
        ),
        "{single}"
    );
    assert!(
        single.starts_with("Torchon ground (torchon/plain). Hang on A B A A A B A A, repeating.\n"),
        "{single}"
    );
    assert!(single.contains("The colours make diagonals to the right."), "{single}");
    let double = stdout(&[&["torchon/double"], &order[..], &["A A B A A A B A"]].concat());
    assert!(double.contains("Gold pairs 3, 7, 11 … stay in their own columns."), "{double}");
    // Seen from a little way off, a pair that swings as it goes down is a stripe.
    assert!(double.contains("The colours make columns."), "{double}");
    let double = stdout(&[&["torchon/double"], &order[..], &["A A B B"]].concat());
    assert!(double.contains("Gold pairs 3, 4, 7, 8 … stay in their own columns."), "{double}");
    assert!(double.contains("The colours make columns."), "{double}");
}

// Common practice, no source: changing one edge stitch from cloth stitch and
// twist on either side of the pin to half stitches exchanges the two colours
// there, so that the one that ran along the edge turns inward.
#[test]
fn one_edge_stitch_exchanges_two_colours() {
    let read = |extra: &[&str]| -> Vec<Vec<i64>> {
        let text = stdout(&[&["torchon", "--footsides", "--rows", "10", "--json"], extra].concat());
        let json: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(json["format"], "pairwise-trace/1");
        serde_json::from_value(json["rows"].clone()).unwrap()
    };
    let keep = read(&[]);
    let changed = read(&["--edge-change", "left:2=CT pin CT"]);
    assert!(keep.iter().all(|row| row[0] == 0), "the edge pair stays along the edge");
    // Pair 4 comes to the left edge with the second edge stitch, in row 3.
    assert_eq!(keep[..3], changed[..3]);
    for row in 3..=10 {
        assert_eq!((changed[row][0], changed[row][3]), (keep[row][3], keep[row][0]), "row {row}");
    }
}

#[test]
fn changes_that_steer_a_pair_are_found() {
    let stay = stdout(&["torchon", "--why", "stays", "--pair", "1"]);
    assert!(stay.contains("pair 1 travels left") && stay.contains("--with stitch=double\n"), "{stay}");
    // The suggestion works.
    let with = stdout(&["torchon", "--with", "stitch=double", "--pair", "1", "--arrangement", "A B"]);
    assert!(with.contains("stay in their own columns"), "{with}");
    let right = stdout(&["torchon", "--why", "right", "--pair", "1"]);
    assert!(right.contains("none: no setting") && right.contains("none: no work"), "{right}");
    let already = stdout(&["torchon", "--why", "left", "--pair", "1"]);
    assert!(already.contains("nothing needs to change"), "{already}");
}

#[test]
fn traces_are_drawn() {
    let folder = tempfile::tempdir().unwrap();
    for args in [
        &["rose", "--pair", "3", "--out", "a.png"][..],
        &["rose", "--colour", "B", "--out", "b.svg"],
        &["torchon", "--footsides", "--out", "c.pdf"],
        &["torchon/half-stitch", "--out", "d.png"],
        &["torchon", "--why", "stays", "--pair", "2", "--out", "e.png"],
    ] {
        let out = trace(folder.path(), args);
        assert_eq!(out.status.code(), Some(0), "{args:?}: {}", String::from_utf8_lossy(&out.stderr));
        assert!(folder.path().join(args[args.len() - 1]).is_file(), "{args:?}");
    }
}

#[test]
fn mistakes_are_named_with_a_remedy() {
    for (args, words) in [
        (&["torchon", "--pair", "9"][..], &["no pair 9", "1 to 8"][..]),
        (&["torchon", "--pair", "0"], &["whole number from 1 to 1000"]),
        (&["torchon", "--colour", "C"], &["no colour C", "--colour B"]),
        (&["torchon", "--arrangement", "A C"], &["letter C"]),
        (&["torchon", "--edge", "CT"], &["--footsides"]),
        (&["torchon", "--footsides", "--edge", "loop"], &["loop", "CTCT pin CTCT"]),
        (&["torchon", "--footsides", "--edge-change", "left=CT"], &["SIDE:NUMBER=STITCH", "left:2"]),
        (&["torchon", "--why", "stays"], &["--pair"]),
        (&["torchon", "--why", "stays", "--pair", "1", "--pair", "2"], &["2 pairs", "--pair 1"]),
        (&["torchon", "--why", "stays", "--pair", "1", "--json"], &["--json"]),
        (&["torchon", "--why", "stays", "--pair", "1", "--out", "why.pdf"], &["why.pdf", ".png"]),
        (&["torchon", "--out", "ways.gif"], &["ways.gif", ".png"]),
        (&["torchon", "--rows", "999"], &["999", "200"]),
        (&["torchon", "--colour", "AB"], &["one letter of the arrangement"]),
        (
            &["torchon", "--footsides", "--rows", "4", "--edge-change", "left:99=CT"],
            &["no edge stitch 99 at the left footside", "from 1 to "],
        ),
        (
            &["torchon", "--footsides", "--edge-change", "left:2=CT", "--edge-change", "left:2=CTC"],
            &["edge stitch 2 at the left footside is changed twice"],
        ),
    ] {
        assert_refused(&[&["trace"], args].concat(), words);
    }
}
