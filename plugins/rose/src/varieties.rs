//! The named varieties of the rose ground. A test in the crate checks what
//! each one says about its colours.

use pairwise_sdk::Variety;

const DILLMONT: &str =
    "Th. de Dillmont, Encyclopedia of Needlework, 1886, Laces of different kinds, figures 793 and 794";
const TUTORIAL: &str = "J. Edkins, online lace tutorial, pattern 588, Different rose grounds";
const NO_SOURCE: &str = "rose: common practice, from memory; no source for these stitches";

// Stitches before and after a pin.
const PLAIN: (&str, &str) = ("half", "half");
const TWISTED: (&str, &str) = ("half", "half-twist");
const OPEN: (&str, &str) = ("half", "open");
const HONEYCOMB: (&str, &str) = ("half-twist", "half-twist");
const DOUBLE: (&str, &str) = ("cloth-twist", "cloth-twist");

/// All varieties, the usual one first.
#[rustfmt::skip]
pub(crate) fn varieties() -> Vec<Variety> {
    vec![
        rose("plain", "Rose ground", "cloth-twist", [PLAIN; 3],
            "Every pair travels along its diagonal, half to the left and half to the right."),
        rose("doubled", "Rose ground, doubled", "doubled", [DOUBLE; 3],
            "Dense. Every stitch sends both pairs back: every pair stays in its place.")
            .source(TUTORIAL),
        rose("halved", "Rose ground, halved", "half", [OPEN; 3],
            "Soft and open. Pairs part at every stitch; the threads wander but stay on the whole, so colours mix.")
            .source(TUTORIAL),
        rose("half-crossings", "Rose ground, half stitch crossings", "half", [PLAIN; 3],
            "The crossings part the pairs; every thread travels, swinging about its diagonal. Dillmont says her figure shows twisted pairs; her steps have no twists.")
            .also_called("en", "double or ornamental ground", DILLMONT)
            .source(DILLMONT),
        rose("half-twist-crossings", "Rose ground, half stitch and twist crossings", "half-twist", [PLAIN; 3],
            "Every thread travels. At the crossings one thread of each pair turns back and one goes on.")
            .source(NO_SOURCE),
        rose("cloth-crossings", "Rose ground, cloth stitch crossings", "cloth", [PLAIN; 3],
            "The crossings lie flat. Every pair travels, as in the rose ground itself.")
            .source(NO_SOURCE),
        rose("doubled-crossings", "Rose ground, doubled crossings", "doubled", [PLAIN; 3],
            "The crossings send the pairs back, the pins let them cross: every pair travels along a diagonal.")
            .source(TUTORIAL),
        rose("double-pins", "Rose ground, double pins", "cloth-twist", [DOUBLE; 3],
            "The pins send the pairs back. Every pair stays: half swing between two places beside one column of pins, the others reach the pins of three columns.")
            .source(TUTORIAL),
        rose("honeycomb-pins", "Rose ground, honeycomb stitch at the pins", "cloth-twist", [HONEYCOMB; 3],
            "Pairs turn back at the pins and stay, as with double pins, but the ground is lighter.")
            .source(NO_SOURCE),
        rose("twisted-pins", "Rose ground, twisted pins", "cloth-twist", [TWISTED; 3],
            "Rounder holes. Every pair travels, as in the rose ground itself."),
        rose("open-pins", "Rose ground, open pins", "cloth-twist", [OPEN; 3],
            "The pins part the pairs; every thread stays, swinging across four columns of pins.")
            .source(TUTORIAL),
        rose("double-sides", "Rose ground, double sides", "cloth-twist", [PLAIN, DOUBLE, PLAIN],
            "Every pair stays: half keep to one column of pins, the others swing across five columns of pins.")
            .source(NO_SOURCE),
        rose("double-ends", "Rose ground, double top and bottom", "cloth-twist", [DOUBLE, PLAIN, DOUBLE],
            "Every pair stays, swinging across three columns of pins.")
            .source(NO_SOURCE),
        rose("double-sides-bottom", "Rose ground, double sides and bottom", "cloth-twist", [PLAIN, DOUBLE, DOUBLE],
            "Half the pairs stay, a quarter travel to either side. Hang one colour on those that stay, another on those that travel.")
            .source(NO_SOURCE),
    ]
}

/// A variety from its stitches: at the crossings, then before and after the
/// pins at the top, at the sides and at the bottom.
fn rose(id: &str, title: &str, crossing: &str, pins: [(&str, &str); 3], notes: &str) -> Variety {
    let variety = Variety::new(id, title).set("crossing", crossing).notes(notes);
    ["top", "sides", "bottom"].iter().zip(pins).fold(variety, |variety, (place, (before, after))| {
        variety.set(&format!("{place}-before"), before).set(&format!("{place}-after"), after)
    })
}
