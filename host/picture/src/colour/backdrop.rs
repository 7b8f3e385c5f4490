//! What lies behind worked lace: linen, or a darker cloth where a thread would
//! hardly show on linen, as a lacemaker pins white thread on blue.

use super::Rgb;
use super::vision::{STANDS_OUT, contrast};

/// The cloths to choose from, the usual one first.
pub const BACKDROPS: [Rgb; 3] = [Rgb::LINEN, Rgb::SLATE, Rgb::NIGHT];

/// The cloth for threads of these colours: the first of [`BACKDROPS`] on which
/// each of them stands out, with a contrast ratio of at least [`STANDS_OUT`]
/// (W3C, Web Content Accessibility Guidelines 2.2, "contrast ratio"). If there is
/// none, the one on which the faintest stands out most.
pub fn backdrop(colours: &[Rgb]) -> Rgb {
    let least = |cloth: Rgb| colours.iter().map(|&colour| contrast(colour, cloth)).fold(21.0, f64::min);
    let mut best = (BACKDROPS[0], least(BACKDROPS[0]));
    for cloth in BACKDROPS {
        let faintest = least(cloth);
        if faintest >= STANDS_OUT {
            return cloth;
        }
        if faintest > best.1 {
            best = (cloth, faintest);
        }
    }
    best.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::rgb;

    #[test]
    fn pale_threads_bring_a_darker_cloth_and_others_keep_the_linen() {
        let teal = rgb(0, 128, 128);
        let gold = rgb(255, 215, 0);
        for (colours, cloth) in [
            (&[][..], Rgb::LINEN),
            (&[Rgb::INDIGO, Rgb::APRICOT], Rgb::LINEN),
            (&[Rgb::WHITE], Rgb::SLATE),
            (&[rgb(0xfb, 0xf9, 0xf4), Rgb::INDIGO], Rgb::SLATE),
            (&[gold, rgb(0, 0, 128)], Rgb::SLATE),
            (&[Rgb::WHITE, Rgb::BLACK], Rgb::SLATE),
            // Teal is about as light as the grey-blue cloth.
            (&[Rgb::WHITE, teal], Rgb::NIGHT),
        ] {
            assert_eq!(backdrop(colours), cloth, "{colours:?}");
            assert!(colours.iter().all(|&colour| contrast(colour, cloth) >= STANDS_OUT), "{colours:?}");
        }
        // No cloth suits all three: white shows least on linen, teal on grey-blue,
        // black on dark blue.
        let three = [Rgb::WHITE, teal, Rgb::BLACK];
        let faintest = |cloth: Rgb| three.iter().map(|&c| contrast(c, cloth)).fold(21.0, f64::min);
        assert!(BACKDROPS.iter().all(|&cloth| faintest(cloth) < STANDS_OUT));
        assert!(BACKDROPS.iter().all(|&cloth| faintest(cloth) <= faintest(backdrop(&three))));
    }
}
