//! Motifs that several fillings share: the tally and the body of a spider.

use crate::{Pillow, square};

/// The moves of a tally, for use as a stitch or as part of one. The first thread
/// weaves over and under the other three, there and back, `turns` times, and ends
/// where it began (common practice). A leaf has the same moves: it is pointed because
/// both its pairs come from one place, or go to one.
///
/// ```
/// assert_eq!(pairwise_sdk::work(&pairwise_sdk::tally(2)).unwrap().len(), 12);
/// ```
pub fn tally(turns: i32) -> String {
    const THERE_AND_BACK: &str = "twist-left C twist-right twist-right C twist-left ";
    THERE_AND_BACK.repeat(usize::try_from(turns).unwrap_or(0))
}

/// Works the body of a spider round a dot: `legs` pairs from either side are
/// woven through each other in cloth stitch, pinned in the middle and woven back
/// (common practice). The ids of its stitches begin with `name`. Twists of the
/// legs are not part of it.
///
/// ```
/// // Two legs from either side: woven in three stitches, pinned, woven back.
/// let spider = pairwise_sdk::in_torchon(2, 1, "CT pin CT", |pillow, middle| {
///     pairwise_sdk::spider(pillow.twist_all(-2..2, 2), "body", middle, 2).twist_all(-2..2, 2)
/// });
/// let bodies = spider.unwrap().stitches.into_iter().filter(|stitch| stitch.id.starts_with("body"));
/// assert_eq!(bodies.count(), 7);
/// ```
#[must_use]
pub fn spider(mut pillow: Pillow, name: &str, middle: (i32, i32), legs: i32) -> Pillow {
    // Distance between stitches, across and down, in grid steps: about 0.55 from each to the
    // next. The smallest body lies on a nearly square lattice, as cloth does; larger ones are
    // flatter, so that the outermost legs still run down to them.
    let close = match legs {
        ..=2 => (0.40, 0.38),
        3 => (0.42, 0.34),
        4 => (0.46, 0.30),
        _ => (0.50, 0.23),
    };
    let (x, y) = (f64::from(middle.0), f64::from(middle.1));
    let last = legs - 1;
    // The left leg `a` meets the right leg `b`, both counted from the topmost.
    let mut meetings: Vec<(i32, i32)> = square(legs).filter(|&meeting| meeting != (last, last)).collect();
    meetings.sort_by_key(|(a, b)| a + b);
    let place = |a: i32, b: i32, side: f64| {
        let away = (f64::from(2 * last - a - b) + 0.25) * close.1;
        (x + f64::from(b - a) * close.0, y + side * away)
    };
    let pair = |a: i32, b: i32| middle.0 - 1 + b - a;
    for &(a, b) in &meetings {
        pillow = pillow.stitch(&format!("{name}-above-{a}-{b}"), place(a, b, -1.0), pair(a, b), "CTC");
    }
    pillow = pillow.stitch(&format!("{name}-pin"), (x, y), pair(last, last), "CTC pin CTC");
    for &(a, b) in meetings.iter().rev() {
        pillow = pillow.stitch(&format!("{name}-below-{a}-{b}"), place(a, b, 1.0), pair(a, b), "CTC");
    }
    pillow
}
