//! Working diagrams checked against their definitions.

use crate::common::{grounds, rose, torchon};
use lace::{Grid, Ground, PairEffect};
use picture::colour::{Rgb, rgb};
use picture::drawing::working_diagram::{DiagramLook, StepsShown, WorkingDiagram, diagram_key};
use picture::drawing::{Drawing, Shape, Step, rect};

fn draw(ground: &Ground, look: &DiagramLook) -> Drawing {
    let grid = Grid::new(20.0, 45.0).unwrap();
    WorkingDiagram::new(ground, &grid, look.clone()).draw(rect(-10.0, -10.0, 100.0, 100.0))
}

/// The number of shapes in a group.
fn count(drawing: &Drawing, id: &str) -> usize {
    let group = drawing.groups.iter().find(|g| g.id == id).unwrap();
    let starts = |shape: &Shape| match shape {
        Shape::Path { path, .. } => path.steps.iter().filter(|s| matches!(s, Step::Move(_))).count(),
        Shape::Text(_) => 1,
    };
    group.shapes.iter().map(starts).sum()
}

#[test]
fn every_stitch_pin_twist_and_turn_is_drawn() {
    for (name, ground) in grounds() {
        let drawing = draw(&ground, &DiagramLook::default());
        let stitches = count(&drawing, "stitches");
        assert!(stitches > 0 && stitches == count(&drawing, "letters"), "{name}");
        let one = ground.stitches();
        if one.len() == 1 {
            let pins = if one[0].stitch.pin().is_some() { stitches } else { 0 };
            assert_eq!(count(&drawing, "pins"), pins, "{name}");
        }
        let twists: u32 = ground.legs().iter().map(|l| l.twists).sum();
        assert_eq!(count(&drawing, "twists") > 0, twists > 0, "{name}");
        let turns = one.iter().any(|s| s.stitch.pair_effect() == PairEffect::Return);
        assert_eq!(count(&drawing, "turns") > 0, turns, "{name}");
    }
    // Two bars on each of the legs.
    let drawing = draw(&torchon("CT pin CT", 2), &DiagramLook { arrows: false, ..DiagramLook::default() });
    assert_eq!(count(&drawing, "twists") % 2, 0);
    assert_eq!(count(&drawing, "turns"), 0);
}

#[test]
fn numbers_follow_the_order_of_working() {
    let ground = rose("CTCT", "CT pin CT");
    let look = DiagramLook { numbers: Some(StepsShown { repeats: 2, rows: 2 }), ..DiagramLook::default() };
    let drawing = draw(&ground, &look);
    let group = drawing.groups.iter().find(|g| g.id == "order-of-working").unwrap();
    let numbers: Vec<usize> = group
        .shapes
        .iter()
        .map(|s| match s {
            Shape::Text(text) => text.words.parse().unwrap(),
            Shape::Path { .. } => unreachable!("only numbers"),
        })
        .collect();
    assert!(numbers.len() > 10 && numbers.is_sorted());
}

#[test]
fn the_key_names_every_stitch_once() {
    let ground = rose("CTC", "CT pin CT");
    let key = diagram_key(&ground, 120.0);
    let words: Vec<&str> = key
        .shapes()
        .filter_map(|s| match s {
            Shape::Text(text) => Some(text.words.as_str()),
            Shape::Path { .. } => None,
        })
        .collect();
    for stitch in ["(CTC)", "(CT pin CT)"] {
        assert_eq!(words.iter().filter(|w| w.ends_with(stitch)).count(), 1, "{words:?}");
    }
}

#[test]
fn pairs_take_the_colours_of_the_thread_drawing() {
    let look = DiagramLook {
        colours: vec![rgb(200, 0, 0), Rgb::WHITE, Rgb::WHITE, Rgb::WHITE],
        ..DiagramLook::default()
    };
    let drawing = draw(&torchon("CT pin CT", 0), &look);
    assert_eq!(drawing.colours, look.colours);
    let group = drawing.groups.iter().find(|g| g.id == "pairs").unwrap();
    assert_eq!(group.shapes.len(), 5, "ink, then each colour once");
}
