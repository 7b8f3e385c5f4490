//! Small grounds for the tests of pictures.
#![allow(dead_code)]

use lace::{End, Grid, Ground, Lattice, Leg, Repeat, Side, Stitch, point};
use picture::layout::{Layout, lay_out};

/// One stitch on a dot grid, each pair going on along its diagonal.
pub fn torchon(work: &str, twists: u32) -> Ground {
    let repeat = Repeat {
        lattice: Lattice { across: point(1.0, 1.0), down: point(-1.0, 1.0) },
        stitches: vec![Stitch { id: "dot".into(), at: Some(point(0.0, 0.0)), work: work.parse().unwrap() }],
        legs: vec![
            Leg { from: End::new(0, Side::Left), to: End::new(0, Side::Right), cell: [0, 1], twists },
            Leg { from: End::new(0, Side::Right), to: End::new(0, Side::Left), cell: [1, 0], twists },
        ],
    };
    Ground::new(repeat).unwrap()
}

/// The four-pin rose ground.
pub fn rose(crossing: &str, pin: &str) -> Ground {
    let stitch =
        |id: &str, x: f64, y: f64, work: &str| format!(r#"{{"id":"{id}","at":[{x},{y}],"moves":"{work}"}}"#);
    let stitches = [
        stitch("cross-left", -1.0, 0.0, crossing),
        stitch("cross-right", 1.0, 0.0, crossing),
        stitch("top", 0.0, 0.0, pin),
        stitch("left", -1.0, 1.0, pin),
        stitch("right", 1.0, 1.0, pin),
        stitch("bottom", 0.0, 2.0, pin),
    ];
    let legs = [
        ("cross-left", "left", "left", "left", [0, 0]),
        ("cross-left", "right", "top", "left", [0, 0]),
        ("cross-right", "left", "top", "right", [0, 0]),
        ("cross-right", "right", "right", "right", [0, 0]),
        ("top", "left", "left", "right", [0, 0]),
        ("top", "right", "right", "left", [0, 0]),
        ("left", "right", "bottom", "left", [0, 0]),
        ("right", "left", "bottom", "right", [0, 0]),
        // The crossing at (-1, 2) is the right one of the unit down left.
        ("left", "left", "cross-right", "left", [0, 1]),
        ("bottom", "left", "cross-right", "right", [0, 1]),
        ("bottom", "right", "cross-left", "left", [1, 0]),
        ("right", "right", "cross-left", "right", [1, 0]),
    ]
    .map(|(from, exit, to, entry, [i, j])| {
        format!(r#"{{"from":["{from}","{exit}"],"to":["{to}","{entry}"],"cell":[{i},{j}],"twists":0}}"#)
    });
    let text = format!(
        r#"{{"cell":{{"across":[2,2],"down":[-2,2]}},"stitches":[{}],"legs":[{}]}}"#,
        stitches.join(","),
        legs.join(",")
    );
    Ground::new(serde_json::from_str(&text).unwrap()).unwrap()
}

/// Grounds that differ in what is worked and how, with a name for messages.
pub fn grounds() -> Vec<(&'static str, Ground)> {
    vec![
        ("half stitch, pin, half stitch", torchon("CT pin CT", 0)),
        ("half stitch, pin, half stitch, twisted legs", torchon("CT pin CT", 2)),
        ("cloth stitch and twist either side", torchon("CTCT pin CTCT", 0)),
        ("three twists before the pin", torchon("CTTT pin", 0)),
        ("whole pairs cross", torchon("CT pin pair-cross CT", 1)),
        ("rose", rose("CTCT", "CT pin CT")),
        ("rose with cloth stitches", rose("CT", "CTC pin CTC")),
    ]
}

/// Laid out at 5 mm between footside pins, 0.3 mm thread.
pub fn laid_out(ground: &Ground) -> Layout {
    lay_out(ground, &Grid::new(5.0, 45.0).unwrap(), 0.3)
}
