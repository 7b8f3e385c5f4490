//! A colour arrangement drawn as hanging bobbins with letters above.

use lace::{Arrangement, colour_letter, point};

use super::QUIET;
use crate::colour::{Rgb, Tone};
use crate::drawing::font;
use crate::drawing::{Anchor, Cap, Face, Group, Paint, Path, Shape, Stroke, Text};

/// The head of a column: the pairs of an arrangement hanging as bobbins on
/// their threads, with the letters above.
pub(super) fn draw_bobbins(
    group: &mut Group,
    arrangement: &Arrangement,
    x: f64,
    y: f64,
    width: f64,
    height: f64,
) {
    let pairs = arrangement.pairs();
    let step = width / pairs.len() as f64;
    let letters = (step * 0.9).min(height * 0.34).min(15.0);
    let from = y + if letters >= 6.0 { 1.25 * letters } else { 0.0 };
    let bobbin = (step * 0.32).min(6.0);
    for (k, pair) in pairs.iter().enumerate() {
        let middle = x + (k as f64 + 0.5) * step;
        if letters >= 6.0 {
            let [a, b] = *pair;
            let words = if a == b {
                colour_letter(a).to_string()
            } else {
                format!("{}/{}", colour_letter(a), colour_letter(b))
            };
            let size = letters.min(letters * step / font::width(&words, letters, Face::Semibold).max(1.0));
            group.shapes.push(Shape::Text(Text {
                at: point(middle, y + 0.9 * letters),
                size,
                words,
                anchor: Anchor::Middle,
                face: Face::Semibold,
                paint: Rgb::INK.into(),
            }));
        }
        for (thread, &colour) in pair.iter().enumerate() {
            let at = middle + (thread as f64 - 0.5) * step * 0.42;
            let paint = Paint::thread(colour as usize, Tone::PLAIN);
            let end = y + height;
            let neck = from + 0.35 * (end - from);
            let line = |a: f64, b: f64, wide: f64, cap: Cap, paint: Paint| {
                Shape::stroke(
                    Path::line([point(at, a), point(at, b)]),
                    Stroke { paint, width: wide, cap, dash: None },
                )
            };
            // A rim sets pale bobbins off from the paper; very many bobbins
            // leave no room for it.
            let rim = if bobbin < 2.0 { 0.0 } else { 1.0 };
            group.shapes.push(line(neck, end - bobbin / 2.0, bobbin + rim, Cap::Round, QUIET.into()));
            group.shapes.push(line(from, neck, (bobbin * 0.3).max(bobbin.min(1.0)), Cap::Butt, paint));
            group.shapes.push(line(neck, end - bobbin / 2.0, bobbin, Cap::Round, paint));
        }
    }
}
