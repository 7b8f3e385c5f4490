//! Fillings in their surroundings: a motif that replaces a diamond of dots in
//! torchon ground.

use crate::{Pillow, Problem, Repeat};

/// Stitches at the pins of the ground round a filling: id, title, moves. For
/// [`crate::About::choose`].
///
/// ```
/// use pairwise_sdk::{About, Settings, TORCHON};
///
/// let about = About::filling("tally", "Tallies", "torchon")
///     .choose("ground", "Stitch at the pins", &TORCHON);
/// assert_eq!(Settings::defaults(&about).pick("ground", &TORCHON), Ok(&"CT pin CT"));
/// ```
pub const TORCHON: [(&str, &str, &str); 2] = [
    ("half-half", "half stitch, pin, half stitch", "CT pin CT"),
    ("half-half-twist", "half stitch, pin, half stitch and a twist", "CT pin CTT"),
];

/// Sets a motif into torchon ground, repeated over the whole area.
///
/// The motif replaces a diamond of `size` times `size` dots. `size` pairs come to
/// it from each side, and `size` leave to each side. Between motifs lie `rows`
/// rows of dots worked with the moves `ground`. `motif` gets the pillow and the
/// middle of the diamond, `(0, y)`, and works the pairs from `-size` to
/// `size - 1`.
///
/// # Errors
/// The first mistake.
///
/// # Examples
/// ```
/// // Single tallies, two dots of ground between two of them.
/// let repeat = pairwise_sdk::in_torchon(1, 2, "CT pin CT", |pillow, middle| {
///     pillow.dot("tally", middle, pairwise_sdk::tally(3))
/// });
/// assert_eq!(repeat.unwrap().stitches.len(), 9);
/// ```
pub fn in_torchon(
    size: i32,
    rows: i32,
    ground: &str,
    motif: impl FnOnce(Pillow, (i32, i32)) -> Pillow,
) -> Result<Repeat, Problem> {
    let whole = size + rows;
    let mut pillow = Pillow::new(2 * whole, 2 * whole);
    // Dots are counted along the diagonals, `u` down to the right, `v` down to
    // the left. All dots of the ground lie above the motif.
    for (u, v) in square(whole).filter(|&(u, v)| u < rows || v < rows) {
        pillow = pillow.dot(&format!("dot-{u}-{v}"), (u - v, u + v), ground);
    }
    motif(pillow, (0, 2 * rows + size - 1)).repeat((whole, whole), whole)
}

/// Every place of a square of `side` times `side`, counted from 0, row by row.
///
/// ```
/// assert!(pairwise_sdk::square(2).eq([(0, 0), (0, 1), (1, 0), (1, 1)]));
/// ```
pub fn square(side: i32) -> impl Iterator<Item = (i32, i32)> {
    (0..side * side).map(move |k| (k / side, k % side))
}
