//! Working diagrams checked against their definitions.

use crate::common::{grounds, rose, torchon};
use lace::{Grid, Ground, PairEffect};
use picture::colour::{Rgb, rgb};
use picture::drawing::working_diagram::{DiagramFit, DiagramLook, WorkingDiagram, diagram_key};
use picture::drawing::{Drawing, Shape, Size, Step, Text, rect};

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

/// The texts of a group.
fn texts<'a>(drawing: &'a Drawing, id: &str) -> Vec<&'a Text> {
    let group = drawing.groups.iter().find(|g| g.id == id).unwrap();
    let text = |shape: &'a Shape| match shape {
        Shape::Text(text) => text,
        Shape::Path { .. } => unreachable!("only text"),
    };
    group.shapes.iter().map(text).collect()
}

#[test]
fn every_step_is_numbered_in_letters_of_six_points_or_more() {
    for (name, ground) in grounds() {
        let room = Size { width: 88.0, height: 70.0 };
        let fit = DiagramFit::new(&ground, &Grid::new(4.0, 45.0).unwrap(), false, room);
        assert!(fit.numbered && fit.height <= room.height + 1e-9, "{name}: {fit:?}");
        let look = DiagramLook { numbers: true, ..DiagramLook::default() };
        let diagram = WorkingDiagram::new(&ground, &fit.grid, look);
        let drawing = diagram.draw(diagram.window(room));
        let numbers = texts(&drawing, "order-of-working");
        let steps = ground.steps_in_words(&ground.order_of_working()).len();
        let expected: Vec<String> = (1..=steps).map(|number| number.to_string()).collect();
        assert_eq!(numbers.iter().map(|text| text.words.as_str()).collect::<Vec<_>>(), expected, "{name}");
        let points = |text: &Text| text.size * 72.0 / 25.4;
        for text in numbers.into_iter().chain(texts(&drawing, "letters")) {
            assert!(points(text) >= 6.0, "{name}: {} in {} points", text.words, points(text));
        }
    }
}

#[test]
fn a_diagram_without_room_has_whole_repeats_and_no_numbers() {
    let ground = Ground::new(lace::samples::rose("CTCT", "CT pin CT").set_out(4, 4)).unwrap();
    let room = Size { width: 88.0, height: 70.0 };
    let fit = |times: f64| {
        let room = Size { width: times * room.width, height: times * room.height };
        DiagramFit::new(&ground, &Grid::new(4.0, 45.0).unwrap(), false, room)
    };
    assert!(!fit(1.0).numbered);
    assert!(fit(3.0).numbered);
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
