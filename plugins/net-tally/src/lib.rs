//! Tallies in point ground: at some dots of the net two pairs weave a small
//! square.

use pairwise_sdk::Side::{Left, Right};
use pairwise_sdk::{
    About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution, square, tally,
};

/// Tallies in point ground.
pub struct NetTally;

impl Contribution for NetTally {
    fn about() -> About {
        About::filling("net-tally", "Tallies in point ground", "point")
            .family("tally")
            .also_called("en", "point d'esprit", "common practice")
            .also_called("fr", "point d'esprit", "common practice")
            .used_in(["Lille", "Bucks Point"])
            // Bucks Point is pricked at 1.5 to 2 mm (common practice, no source).
            .pin_spacing(1.75)
            .angle(60.0)
            .notes("Small woven squares scattered over the net, each in place of one stitch of it.")
            .source("net: as point ground; tally and twists after it: J. Edkins, online lace tutorial, tally; tallies in Lille: C. Kellogg, \
                 Bobbins of Belgium, 1920")
            .choose_count("turns", "Times there and back", 2..=6, 3)
            .choose_count("apart", "Dots from one tally to the next, along a diagonal", 2..=6, 4)
            .choose_count("twists", "Twists after the half stitches of the net", 1..=2, 2)
            .variety(Variety::new("scattered", "Tallies in point ground, three dots between").notes("A clear net with few spots. Three dots of net lie between one tally and the next on its diagonal: one dot in sixteen is a tally. The tallies turn their pairs back: more threads stay than in the plain net, the others travel."))
            .variety(Variety::new("close", "Tallies in point ground, one dot between").set("apart", 2).notes("A spotted net. One dot of net lies between one tally and the next on its diagonal: one dot in four is a tally. Most threads stay; only one in eight travels to the left and one to the right."))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let apart = settings.count("apart")?;
        let net = if settings.count("twists")? == 1 { "CTT pin" } else { "CTTT pin" };
        let tally = tally(settings.count("turns")?);
        let grid = Grid::new((apart, apart), (-apart, apart));
        let dots = square(apart).fold(grid, |grid, (u, v)| {
            let worked = if (u, v) == (0, 0) { tally.as_str() } else { net };
            grid.dot(&format!("dot-{u}-{v}"), (u - v, u + v), worked)
        });
        // Pairs that come out of a tally are twisted, or its corners pull open.
        dots.twist(("dot-0-0", Left), 2).twist(("dot-0-0", Right), 2).repeat()
    }
}

contribution!(NetTally);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<NetTally>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of one repeat that travel left, stay and travel right, to match the notes.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [("scattered", [3, 10, 3]), ("close", [1, 6, 1])];
        assert_eq!(
            pairwise_sdk::travels::<NetTally>(),
            expected.map(|(id, threads)| (id.to_owned(), threads))
        );
    }
}
