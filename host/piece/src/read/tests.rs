use catalogue::{About, Catalogue, Contribution, DefineError, Kind, LeftOut, Settings, Variety};
use lace::samples::torchon;
use lace::{PairName, Side};

use super::*;
use crate::{Followed, Unworkable, Worked};

struct Torchon(About);

impl Contribution for Torchon {
    fn about(&self) -> &About {
        &self.0
    }

    fn file(&self) -> &str {
        "torchon.wasm"
    }

    fn define(&self, _: &Settings) -> Result<lace::Repeat, DefineError> {
        Ok(torchon("CT pin CT", 0))
    }
}

fn catalogue() -> Catalogue {
    let plain = Variety {
        title: "Torchon ground".to_owned(),
        other_names: Vec::new(),
        settings: Settings::new(),
        notes: String::new(),
        source: "common practice".to_owned(),
    };
    let about = About {
        id: "torchon".to_owned(),
        title: "Torchon".to_owned(),
        kind: Kind::Ground,
        family: "torchon".to_owned(),
        other_names: Vec::new(),
        laces: Vec::new(),
        sits_in: None,
        angle: 45.0,
        pin_spacing_mm: None,
        notes: String::new(),
        source: "common practice".to_owned(),
        choices: Default::default(),
        varieties: [("plain".to_owned(), plain)].into_iter().collect(),
    };
    let broken = LeftOut { file: "more/broken.wasm".to_owned(), why: "it is no component".to_owned() };
    Catalogue::new([Torchon(about)], vec![broken])
}

fn design(text: &str) -> Result<Design, Vec<Fault>> {
    let catalogue = catalogue();
    read(text, &|name| Ok(catalogue.meant(name)?))
}

/// Line, what is marked, and the sentence of each fault.
fn faults(text: &str) -> Vec<(usize, String, String)> {
    let faults = design(text).unwrap_err();
    faults.into_iter().map(|f| (f.line, text[f.at].to_owned(), f.sentence)).collect()
}

const PIECE: &str = "format = \"pairwise-piece/1\"
title = \"Bookmark\"
[outline]
width = 4
sides = 3
[ground]
name = \"torchon\"
";

#[test]
fn what_a_piece_leaves_out_gets_usual_values() {
    let design = design(PIECE).unwrap();
    assert_eq!((design.grid.pin_spacing_mm(), design.grid.angle_deg()), (4.0, 45.0));
    assert_eq!(design.outline.last_row(), 12.0);
    let worked = Worked::new(design).unwrap();
    assert_eq!((worked.piece.pairs().len(), worked.piece.pins()), (8, 37));
    assert_eq!(worked.palette.names(), ["indigo"]);
    let text = worked.in_words();
    assert!(text.contains("8 pairs, 37 pins, 37 stitches, 148 moves"), "{text}");
    // 37 pins, at 15 to 25 an hour.
    assert!(text.contains("About 1.5 to 2.5 hours for a beginner"), "{text}");
    assert!(worked.follow(&Followed::Pair(PairName::Side(Side::Left, 4))).is_err());
}

#[test]
fn faults_are_marked_where_they_stand() {
    let text = PIECE.replace("width = 4", "width = 1000000").replace("torchon", "broken") + "foo = 1\n";
    let said = faults(&text);
    let said: Vec<(usize, &str, &str)> =
        said.iter().map(|(l, at, s)| (*l, at.as_str(), s.as_str())).collect();
    assert_eq!(
        said,
        [
            (4, "1000000", "a piece cannot be 1000000 pins wide"),
            (7, "\"broken\"", "the contribution more/broken.wasm could not be used: it is no component"),
            (8, "foo", "`foo` means nothing here"),
        ]
    );
}

#[test]
fn colours_for_pairs_that_are_not_there_are_told_when_it_is_worked_out() {
    let text = format!("{PIECE}[colours]\n\"left 4\" = \"navy\"\n");
    let Err(Unworkable::Faults(faults)) = Worked::new(design(&text).unwrap()) else { panic!() };
    assert_eq!(faults.len(), 1);
    assert_eq!((faults[0].line, &text[faults[0].at.clone()]), (9, "\"left 4\""));
    assert_eq!(faults[0].remedy, "it has start left, start right, left 1 to 3, right 1 to 3");
}

#[test]
fn a_text_says_whether_it_is_a_piece() {
    for text in [PIECE, "# a note\n  format='pairwise-piece/9'\nwhatever", "format = \"pairwise-piece/1"] {
        assert!(is_piece(text), "{text}");
    }
    for text in [
        "",
        "format = \"pairwise-chart/1\"",
        "[about]\nformat = \"pairwise-piece/1\"",
        "# format = \"pairwise-piece/1\"",
    ] {
        assert!(!is_piece(text), "{text}");
    }
}
