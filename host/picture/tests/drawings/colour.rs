//! Colour calculations against published tables.

use indexmap::IndexMap;
use palette::Lab;
use palette::color_difference::Ciede2000;
use palette::white_point::D65;
use picture::colour::vision::{
    Confusion, STANDS_OUT, SeenAlike, TOLD_APART, Vision, cielab, confusions, contrast, difference,
};
use picture::colour::{Rgb, rgb};

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
// table 1, to four digits; to more digits computed by colour-science. Pair 14
// has two right values.
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
        if also.is_none() {
            let library = number(&row, "colour_science_0_4_7");
            assert!((found - library).abs() < 1e-9, "pair {}: {found}", row["pair"]);
        }
    }
}

// Computed by scikit-image and colour-science; they differ by up to 0.024.
#[test]
fn lab_agrees_with_two_other_libraries() {
    let rows = table("srgb_to_lab_d65.csv");
    assert_eq!(rows.len(), 32);
    for row in rows {
        let found = cielab(hex(&row["hex"]));
        for (value, letter) in found.into_iter().zip(["L", "a", "b"]) {
            for library in ["skimage", "colour"] {
                let expected = number(&row, &format!("{letter}_{library}"));
                assert!((value - expected).abs() < 0.05, "{row:?}: {found:?}");
            }
        }
    }
}

// The formula of the 34 pairs, on L*, a*, b* computed by scikit-image and
// colour-science, by which these differences differ by up to 0.0165.
#[test]
fn differences_of_rgb_colours_agree_with_the_formula() {
    let rows = table("srgb_to_lab_d65.csv");
    for library in ["skimage", "colour"] {
        let lab = |row: &Row| {
            let part = |letter: &str| number(row, &format!("{letter}_{library}"));
            Lab::<D65, f64>::new(part("L"), part("a"), part("b"))
        };
        for a in &rows {
            for b in &rows {
                let found = difference(hex(&a["hex"]), hex(&b["hex"]));
                let expected = lab(a).difference(lab(b));
                assert!((found - expected).abs() < 0.02, "{} {}: {found}, {expected}", a["hex"], b["hex"]);
            }
        }
    }
}

// Formula of the Web Content Accessibility Guidelines 2.2.
#[test]
fn contrast_agrees_with_the_guidelines() {
    let (pairs, colours) = (table("wcag_contrast_pairs.csv"), table("wcag_luminance.csv"));
    assert_eq!((pairs.len(), colours.len()), (496, 32));
    for row in pairs {
        let (a, b) = (hex(&row["hex1"]), hex(&row["hex2"]));
        let found = contrast(a, b);
        assert_eq!(found, contrast(b, a));
        assert!((found - number(&row, "contrast_ratio")).abs() < 1e-6, "{row:?}: {found}");
    }
    for row in colours {
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

// Machado, Oliveira and Fernandes 2009, severity 1.
#[test]
fn matrices_agree_with_the_published_model() {
    let mut checked = 0;
    for row in table("machado2009_cvd_matrices.csv") {
        if number(&row, "severity") == 1.0 {
            let (vision, _) = KINDS.iter().find(|k| k.1 == row["deficiency"]).expect("a kind");
            for (r, line) in vision.matrix().into_iter().enumerate() {
                for (c, value) in line.into_iter().enumerate() {
                    assert_eq!(value, number(&row, &format!("m{}{}", r + 1, c + 1)), "{row:?}");
                }
            }
            checked += 1;
        }
    }
    assert_eq!(checked, KINDS.len());
}

// Computed by colour-science with those matrices: once in linear light, as
// intended, and once in encoded colours, a common mistake that must fail here.
#[test]
fn simulated_colours_agree_with_the_published_model_in_linear_light() {
    let (mut linear, mut encoded) = (0, 0);
    for row in table("machado2009_simulated.csv") {
        let (vision, _) = KINDS.iter().find(|k| k.1 == row["deficiency"]).expect("a kind");
        let (found, expected) = (vision.sees(hex(&row["hex_in"])), hex(&row["hex_out"]));
        if row["applied_in"] == "linear_rgb" {
            assert_eq!(found, expected, "{row:?}");
            linear += 1;
        } else {
            encoded += usize::from(found != expected);
        }
    }
    assert_eq!(linear, 96);
    assert!(encoded > 48, "{encoded} of 96 rows would show colours seen without linear light");
}

// A grey is unchanged; a colour becomes the grey of the same relative luminance
// (Web Content Accessibility Guidelines 2.2).
#[test]
fn a_grey_print_keeps_greys_and_luminance() {
    for v in 0..=255 {
        assert_eq!(Vision::Grey.sees(rgb(v, v, v)), rgb(v, v, v));
    }
    for row in table("wcag_luminance.csv") {
        let grey = Vision::Grey.sees(hex(&row["hex"]));
        assert!(grey.r == grey.g && grey.g == grey.b, "{row:?}: {grey}");
        // Half a step of 255 is at most 0.0045 of the light, near white.
        let light = Vision::Grey.linear(grey)[0];
        assert!((light - number(&row, "relative_luminance")).abs() < 0.0046, "{row:?}: {grey}");
    }
}

fn names(names: &[&str]) -> Vec<String> {
    names.iter().map(|&name| name.to_owned()).collect()
}

#[test]
fn colours_that_look_the_same_to_everybody_are_reported_once() {
    let found = confusions(&[rgb(200, 60, 40), rgb(203, 62, 42), rgb(0, 0, 128)], Rgb::LINEN);
    let [Confusion::Alike { colours: [0, 1], seen }] = &found[..] else { panic!("{found:?}") };
    let [SeenAlike { vision: None, difference }] = seen[..] else { panic!("{seen:?}") };
    assert!(difference < TOLD_APART);
    let message = found[0].sentence(&names(&["brick", "rust", "navy"]));
    assert!(message.starts_with("brick and rust look almost the same to everybody ("), "{message}");
    assert!(message.ends_with("); 10 or more can be told apart"), "{message}");
}

// A red and a green, the pair that most people with weak colour vision confuse.
#[test]
fn confusions_by_some_people_or_in_print_share_one_sentence() {
    let (red, green) = (rgb(200, 60, 40), rgb(110, 110, 30));
    assert!(difference(red, green) > 2.0 * TOLD_APART);
    let found = confusions(&[red, green], Rgb::LINEN);
    let [Confusion::Alike { colours: [0, 1], seen }] = &found[..] else { panic!("{found:?}") };
    let who: Vec<Option<Vision>> = seen.iter().map(|one| one.vision).collect();
    for one in seen {
        let vision = one.vision.expect("not everybody");
        assert_eq!(one.difference, difference(vision.sees(red), vision.sees(green)));
        assert!(one.difference < TOLD_APART, "{seen:?}");
    }
    for vision in Vision::ALL {
        let apart = difference(vision.sees(red), vision.sees(green));
        assert_eq!(who.contains(&Some(vision)), apart < TOLD_APART, "{vision:?}: {apart}");
    }
    assert!(who.contains(&Some(Vision::Deutan)) && !who.contains(&Some(Vision::Tritan)), "{who:?}");
    let message = found[0].sentence(&names(&["brick", "moss"]));
    assert!(message.contains(" to people without the cones for "), "{message}");
}

#[test]
fn colours_of_equal_luminance_look_the_same_in_black_and_white() {
    let (teal, grey) = (rgb(0, 128, 128), Vision::Grey.sees(rgb(0, 128, 128)));
    let found = confusions(&[teal, grey], Rgb::LINEN);
    let [Confusion::Alike { seen, .. }] = &found[..] else { panic!("{found:?}") };
    assert!(seen.last().is_some_and(|last| last.vision == Some(Vision::Grey)), "{seen:?}");
    let message = found[0].sentence(&names(&["teal", "ash"]));
    assert!(message.contains("in a black and white print (0.0); 10 or more"), "{message}");
}

#[test]
fn colours_that_do_not_stand_out_from_the_background_are_reported() {
    let faint = confusions(&[rgb(235, 225, 205)], Rgb::LINEN);
    let [Confusion::Faint { colour: 0, contrast: ratio }] = faint[..] else { panic!("{faint:?}") };
    assert!(ratio < STANDS_OUT && ratio == contrast(rgb(235, 225, 205), Rgb::LINEN));
    let message = faint[0].sentence(&names(&["cream"]));
    assert!(message.starts_with("cream hardly stands out from the background (contrast 1.0;"), "{message}");
    assert_eq!(confusions(&[rgb(235, 225, 205)], Rgb::BLACK), []);
}

// A number just below a bound is not written as the bound.
#[test]
fn numbers_in_sentences_stay_below_their_bounds() {
    let confused =
        Confusion::Alike { colours: [0, 1], seen: vec![SeenAlike { vision: None, difference: 9.97 }] };
    assert!(confused.sentence(&names(&["a", "b"])).contains("(9.9)"));
    let faint = Confusion::Faint { colour: 0, contrast: 1.4999 };
    assert!(faint.sentence(&names(&["a"])).contains("(contrast 1.4;"));
}
