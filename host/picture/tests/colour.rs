//! Colour science against published tables.

use indexmap::IndexMap;
use palette::Lab;
use palette::color_difference::Ciede2000;
use palette::white_point::D65;
use picture::colour::{Rgb, rgb};
use picture::vision::{Confusion, Vision, cielab, confusions, contrast, difference};

type Row = IndexMap<String, String>;

fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/../../tests/data/{name}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(path).expect("a table");
    let heads = reader.headers().expect("heads").clone();
    let rows = reader.records().map(|row| row.expect("a row"));
    rows.map(|row| heads.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect()).collect()
}

fn number(row: &Row, key: &str) -> f64 {
    row[key].parse().unwrap_or_else(|_| panic!("{key} in {row:?}"))
}

fn hex(text: &str) -> Rgb {
    let part = |k: usize| u8::from_str_radix(&text[k..k + 2], 16).expect("two digits");
    rgb(part(0), part(2), part(4))
}

// G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30, 2005,
// table 1. Pair 14 lies where two values are right.
#[test]
fn differences_are_those_of_the_34_published_pairs() {
    let rows = table("ciede2000_sharma2005.csv");
    assert_eq!(rows.len(), 34);
    for row in rows {
        let lab = |n: u8| {
            let part = |letter: &str| number(&row, &format!("{letter}{n}"));
            Lab::<D65, f64>::new(part("L"), part("a"), part("b"))
        };
        let found = lab(1).difference(lab(2));
        let expected = number(&row, "deltaE00_published");
        let also = (row["pair"] == "14").then_some([4.8045, 4.7461]);
        let right = (found - expected).abs() < 1e-4
            || also.is_some_and(|two| two.iter().any(|e| (found - e).abs() < 1e-4));
        assert!(right, "pair {}: {found}", row["pair"]);
    }
}

// Computed by scikit-image and colour-science; they differ by up to 0.024.
#[test]
fn lab_is_that_of_two_other_libraries() {
    for row in table("srgb_to_lab_d65.csv") {
        let found = cielab(hex(&row["hex"]));
        for (value, letter) in found.into_iter().zip(["L", "a", "b"]) {
            for library in ["skimage", "colour"] {
                let expected = number(&row, &format!("{letter}_{library}"));
                assert!((value - expected).abs() < 0.05, "{row:?}: {found:?}");
            }
        }
    }
}

// Formula of the Web Content Accessibility Guidelines 2.2.
#[test]
fn contrast_is_that_of_the_guidelines() {
    for row in table("wcag_contrast_pairs.csv") {
        let found = contrast(hex(&row["hex1"]), hex(&row["hex2"]));
        assert!((found - number(&row, "contrast_ratio")).abs() < 1e-6, "{row:?}: {found}");
    }
    for row in table("wcag_luminance.csv") {
        let colour = hex(&row["hex"]);
        for (other, key) in [(Rgb::WHITE, "contrast_vs_white"), (Rgb::BLACK, "contrast_vs_black")] {
            let found = contrast(colour, other);
            assert!((found - number(&row, key)).abs() < 1e-6, "{row:?}: {found}");
        }
        let grey = Vision::Grey.linear(colour)[0];
        assert!((grey - number(&row, "relative_luminance")).abs() < 1e-6, "{row:?}: {grey}");
    }
}

const KINDS: [(Vision, &str); 3] =
    [(Vision::Protan, "Protanomaly"), (Vision::Deutan, "Deuteranomaly"), (Vision::Tritan, "Tritanomaly")];

// Machado, Oliveira and Fernandes 2009, severity 1, in linear light.
#[test]
fn colour_vision_is_that_of_the_published_model() {
    for row in table("machado2009_cvd_matrices.csv") {
        if number(&row, "severity") == 1.0 {
            let (vision, _) = KINDS.iter().find(|k| k.1 == row["deficiency"]).expect("a kind");
            for (r, line) in vision.matrix().into_iter().enumerate() {
                for (c, value) in line.into_iter().enumerate() {
                    assert_eq!(value, number(&row, &format!("m{}{}", r + 1, c + 1)), "{row:?}");
                }
            }
        }
    }
    let (mut linear, mut encoded) = (0, 0);
    for row in table("machado2009_simulated.csv") {
        let Some((vision, _)) = KINDS.iter().find(|k| k.1 == row["deficiency"]) else { continue };
        let found = vision.sees(hex(&row["hex_in"]));
        let apart = {
            let e = hex(&row["hex_out"]);
            found.r.abs_diff(e.r).max(found.g.abs_diff(e.g)).max(found.b.abs_diff(e.b))
        };
        if row["applied_in"] == "linear_rgb" {
            assert!(apart <= 1, "{row:?}: {found}");
            linear += 1;
        } else {
            encoded += usize::from(apart > 8);
        }
    }
    assert!(linear >= 30 && encoded >= 10, "{linear} rows; {encoded} would differ otherwise");
}

#[test]
fn what_cannot_be_told_apart_is_said() {
    let (red, green, navy) = (rgb(200, 60, 40), rgb(110, 110, 30), rgb(0, 0, 128));
    assert!(difference(red, green) > 10.0);
    let found = confusions(&[red, rgb(203, 62, 42), navy], Rgb::LINEN);
    let names = ["brick", "rust", "navy"].map(str::to_owned);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].sentence(&names).starts_with("brick and rust are hardly told apart by anybody ("));
    let deutan = confusions(&[red, green], Rgb::LINEN);
    let by = |c: &Confusion| matches!(c, Confusion::Alike { by, .. } if by.iter().any(|b| b.0 != Some(Vision::Grey)));
    assert!(deutan.iter().any(by), "{deutan:?}");
    let faint = confusions(&[rgb(235, 225, 205)], Rgb::LINEN);
    assert!(matches!(faint[..], [Confusion::Faint { colour: 0, .. }]), "{faint:?}");
    // The usual two colours of the program.
    assert_eq!(confusions(&[rgb(0x1f, 0x3f, 0x77), rgb(0xe0, 0x7b, 0x39)], Rgb::LINEN), []);
}
