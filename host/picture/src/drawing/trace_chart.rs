//! The trace chart: a line for every hanging pair, from place to place, row by
//! row.

use lace::{Point, point};

use crate::colour::{Rgb, rgb};
use crate::drawing::{Anchor, Cap, Drawing, Face, Group, Path, Rect, Shape, Stroke, Text, rect};

/// The settings of a trace chart.
#[derive(Clone, Debug, PartialEq)]
pub struct TraceChartLook {
    /// The colours of the left and right thread of each pair, by starting place.
    pub colours: Vec<[Rgb; 2]>,
    /// Whether each pair is drawn in its colours; the others are grey.
    pub shown: Vec<bool>,
    /// Whether there are footsides. Without them, a pair that leaves the chart at
    /// one side comes in again at the other.
    pub footsides: bool,
    /// Width of a place and height of a row, mm.
    pub step: f64,
}

/// The grey of the other pairs.
pub const GREY: Rgb = rgb(206, 202, 196);

const TOP: f64 = 7.0;
const LEFT: f64 = 8.0;
const RIGHT: f64 = 4.0;
const SIZE: f64 = 2.8;

/// Draws a trace chart: `rows[r][k]` is the place after `r` rows of the pair that
/// starts in place `k`.
pub fn draw_trace_chart(rows: &[Vec<i64>], look: &TraceChartLook) -> Drawing {
    let places = look.colours.len();
    let (wide, high) = (places as f64 * look.step, rows.len().saturating_sub(1).max(1) as f64 * look.step);
    let mut drawing = Drawing::new(LEFT + wide + RIGHT, TOP + high + 3.0, "Trace chart");
    drawing.background = Rgb::WHITE.into();
    let field = rect(LEFT, TOP, wide, high);
    drawing.groups.push(grid(rows.len(), field, look.step));
    let x = |place: f64| LEFT + (place + 0.5) * look.step;
    for shown in [false, true] {
        let mut group = Group::new(if shown { "ways" } else { "other-ways" });
        group.clip = Some(field.grown(0.4));
        for (k, colours) in look.colours.iter().enumerate().filter(|(k, _)| look.shown[*k] == shown) {
            let line: Vec<Point> = rows
                .iter()
                .enumerate()
                .map(|(r, row)| point(x(row[k] as f64), TOP + r as f64 * look.step))
                .collect();
            let off: Vec<i64> = rows.iter().map(|row| row[k].div_euclid(places as i64)).collect();
            let turns = match (look.footsides, off.iter().min(), off.iter().max()) {
                (false, Some(&low), Some(&high)) => low - 1..=high + 1,
                _ => 0..=0,
            };
            for turn in turns {
                let by = point(-(turn as f64) * wide, 0.0);
                draw_pair(&mut group, &line, by, *colours, shown, look.step);
            }
        }
        drawing.groups.push(group);
    }
    if look.footsides {
        let mut group = Group::new("footsides");
        for x in [field.x, field.x + field.width] {
            let line = Path::line([point(x, field.y), point(x, field.y + field.height)]);
            group.shapes.push(Shape::stroke(line, Stroke::new(Rgb::INK, 0.5)));
        }
        drawing.groups.push(group);
    }
    drawing
}

/// The line of a pair: its two threads side by side on a dark line.
fn draw_pair(group: &mut Group, line: &[Point], by: Point, colours: [Rgb; 2], shown: bool, step: f64) {
    let width = step * if shown { 0.2 } else { 0.12 };
    let beside = |off: f64| Path::line(line.iter().map(|&p| p + by + point(off, 0.0)));
    if !shown {
        group.shapes.push(Shape::stroke(beside(0.0), Stroke::new(GREY, width)));
        return;
    }
    group.shapes.push(Shape::stroke(beside(0.0), Stroke::new(Rgb::INK, 1.7 * width)));
    for (colour, side) in colours.into_iter().zip([-1.0, 1.0]) {
        group.shapes.push(Shape::stroke(beside(side * 0.3 * width), Stroke::new(colour, 0.75 * width)));
    }
}

/// A thin line at every row, with the numbers of the places above and of the
/// rows at the left.
fn grid(rows: usize, field: Rect, step: f64) -> Group {
    let mut group = Group::new("rows");
    let quiet = rgb(226, 222, 214);
    let mut lines = Path::new();
    let word = |words: usize, at: Point, anchor: Anchor| {
        Shape::Text(Text {
            at,
            size: SIZE.min(0.62 * step),
            words: words.to_string(),
            anchor,
            face: Face::Regular,
            paint: Rgb::INK.into(),
        })
    };
    let mut words = Vec::new();
    for row in 0..rows {
        let y = field.y + row as f64 * step;
        lines.add(&Path::line([point(field.x, y), point(field.x + field.width, y)]), point(0.0, 0.0));
        words.push(word(row, point(field.x - 1.6, y + 0.35 * SIZE), Anchor::End));
    }
    for place in 0..(field.width / step).round() as usize {
        let x = field.x + (place as f64 + 0.5) * step;
        words.push(word(place + 1, point(x, field.y - 2.2), Anchor::Middle));
    }
    group.shapes.push(Shape::stroke(lines, Stroke { cap: Cap::Butt, ..Stroke::new(quiet, 0.2) }));
    group.shapes.extend(words);
    group
}
