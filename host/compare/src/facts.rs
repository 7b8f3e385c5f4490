//! Facts about a ground, in words.

use lace::{Cell, Grid, Ground, count, number};

/// The measures of a ground on a pricking, and its properties, as pairs of name
/// and value with unit.
pub fn in_words(ground: &Ground, grid: &Grid) -> Vec<(&'static str, String)> {
    let m = ground.measures(grid);
    let repeat = [
        count(m.pairs_per_repeat, "pair", "pairs"),
        count(m.pins_per_repeat, "pin", "pins"),
        count(m.stitches_per_repeat, "stitch", "stitches"),
        count(m.moves_per_repeat, "move", "moves"),
    ];
    let size = format!("{} mm wide, {} mm high", number(m.repeat_width_mm), number(m.repeat_height_mm));
    let sides = if ground.is_mirror_symmetric() { "alike (its own mirror image)" } else { "different" };
    let together = match ground.keeps_pairs() {
        true => "yes, in every stitch",
        false => "no, some stitches part their two threads",
    };
    let mut pins = format!("{} per cm\u{b2}", number(m.pins_per_cm2));
    if let Some(mm) = pins_under_one_another(ground, grid) {
        pins.push_str(&format!(", {} mm apart under one another", number(mm)));
    }
    vec![
        ("A repeat", repeat.join(", ")),
        ("Its size", size),
        ("Pairs", format!("{} per cm of width", number(m.pairs_per_cm))),
        ("Pins", pins),
        ("Moves", format!("{} per cm\u{b2}", number(m.moves_per_cm2))),
        ("Left and right", sides.to_owned()),
        ("Pairs stay together", together.to_owned()),
    ]
}

/// The least distance straight down from one pin to another, in mm, of the first few
/// pins: in many grounds it is that of footside pins, in others not.
fn pins_under_one_another(ground: &Ground, grid: &Grid) -> Option<f64> {
    const FIRST: usize = 8;
    const CELLS: i64 = 8;
    let pins = || {
        let pinned = ground.stitches().iter().zip(ground.places()).filter(|(s, _)| s.stitch.pin().is_some());
        pinned.map(|(_, place)| grid.mm(*place))
    };
    let mut least: Option<f64> = None;
    for from in pins().take(FIRST) {
        for to in pins() {
            for (across, down) in (-CELLS..=CELLS).flat_map(|a| (-CELLS..=CELLS).map(move |d| (a, d))) {
                let off = to + grid.mm(ground.lattice().place(Cell::new(across, down))) - from;
                if off.x.abs() < 1e-6 && off.y > 1e-6 {
                    least = Some(least.map_or(off.y, |least| least.min(off.y)));
                }
            }
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use lace::samples::torchon;

    #[test]
    fn facts_have_their_units() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let facts = in_words(&ground, &Grid::new(4.0, 45.0).unwrap());
        assert_eq!(facts[0], ("A repeat", "2 pairs, 1 pin, 1 stitch, 4 moves".to_owned()));
        assert_eq!(facts[1], ("Its size", "4 mm wide, 2 mm high".to_owned()));
        assert_eq!(facts[2], ("Pairs", "5 per cm of width".to_owned()));
        assert_eq!(facts[3], ("Pins", "12.5 per cm\u{b2}, 4 mm apart under one another".to_owned()));
        assert!(facts.iter().any(|(what, _)| *what == "Pairs stay together"));
    }
}
