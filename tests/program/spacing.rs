//! The usual pin spacing of each ground, where no other is asked for.
//!
//! Torchon is pricked at 3 to 5 mm, Bucks Point at 1.5 to 2 mm between two footside
//! pins (common practice, no source).

use crate::support::{pairwise, text};
use serde_json::Value;

fn run(args: &[&str]) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), args);
    assert_eq!(out.status.code(), Some(0), "{args:?}: {}", text(&out.stderr));
    (text(&out.stdout), text(&out.stderr))
}

fn json(args: &[&str]) -> Value {
    serde_json::from_str(&run(args).0).unwrap()
}

#[test]
fn every_built_in_ground_names_a_spacing_and_is_measured_at_it() {
    let list = json(&["grounds", "--json"]);
    let grounds = list["grounds"].as_array().unwrap();
    assert!(grounds.len() >= 20);
    for ground in grounds {
        let usual = ground["usual_pin_spacing_mm"].as_f64().unwrap();
        let (least, most) = match ground["laces"][0].as_str().unwrap() {
            "Torchon" => (3.0, 5.0),
            "Bucks Point" => (1.5, 2.0),
            // Pins under one another stand more than a spacing apart here.
            "Brussels" | "Valenciennes" => (1.0, 1.5),
            _ => (1.5, 5.0),
        };
        assert!((least..=most).contains(&usual), "{}: {usual} mm", ground["id"]);
        for variety in ground["varieties"].as_array().unwrap() {
            assert_eq!(variety["measures"]["pin_spacing_mm"], usual, "{}", ground["id"]);
        }
    }
    let given = json(&["grounds", "point", "torchon", "--pin-spacing", "3", "--json"]);
    for ground in given["grounds"].as_array().unwrap() {
        assert_eq!(ground["varieties"][0]["measures"]["pin_spacing_mm"], 3.0);
    }
}

#[test]
fn texts_say_which_spacing_was_used_and_that_it_is_the_usual_one() {
    let usual = "1.75 mm between footside pins, as usual";
    let (facts, _) = run(&["facts", "point"]);
    // Twelve wraps between two pins: 0.15 mm.
    assert!(facts.contains(&format!("At {usual}, 60 degrees from the footside, thread 0.15 mm")), "{facts}");
    let (given, _) = run(&["facts", "point", "--pin-spacing", "3"]);
    assert!(given.contains("At 3 mm between footside pins, 60 degrees"), "{given}");
    let (about, _) = run(&["grounds", "point"]);
    assert!(about.contains("Pin spacing: usually 1.75 mm between two footside pins"), "{about}");
    let (table, _) = run(&["grounds"]);
    let table = table.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(table.contains("with footside pins as far apart as usual for each"), "{table}");
}

#[test]
fn grounds_side_by_side_have_their_own_spacing_and_one_scale() {
    let folder = tempfile::tempdir().unwrap();
    let grid = |more: &[&str]| -> Value {
        let args =
            ["grid", "point", "torchon", "--arrangement", "A B", "--size", "64", "--index", "list.json"];
        let out = pairwise(folder.path(), &[&args[..], more].concat());
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        serde_json::from_slice(&std::fs::read(folder.path().join("list.json")).unwrap()).unwrap()
    };
    let spacing = |list: &Value| -> Vec<f64> {
        let cells = list["cells"].as_array().unwrap();
        cells.iter().map(|cell| cell["pin_spacing_mm"].as_f64().unwrap()).collect()
    };
    let usual = grid(&[]);
    assert_eq!(spacing(&usual), [1.75, 4.0]);
    // One window for all.
    assert!(usual["window_mm"].as_f64().unwrap() >= 16.0);
    assert_eq!(spacing(&grid(&["--pin-spacing", "3"])), [3.0, 3.0]);
    // Two pairs of point ground take 1.75 mm times the tangent of 60 degrees, of torchon 4 mm.
    let across = |list: &Value, cell: usize| list["cells"][cell]["period_across_mm"].as_f64().unwrap();
    assert!((across(&usual, 0) - 1.75 * 3_f64.sqrt()).abs() < 1e-3, "{}", across(&usual, 0));
    assert_eq!(across(&usual, 1), 4.0);
}

#[test]
fn a_thread_that_is_given_crowds_only_the_fine_grounds() {
    let (_, notes) = run(&["facts", "point", "--thread", "80/2 linen"]);
    // 30 wraps to the centimetre, 5.2 between pins 1.75 mm apart.
    assert!(notes.contains("crowded in Point ground: 5.2 wraps"), "{notes}");
    let (_, notes) = run(&["facts", "torchon", "--thread", "80/2 linen"]);
    assert!(notes.is_empty(), "{notes}");
}
