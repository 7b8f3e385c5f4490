//! Cloth stitch areas. In columns, a worker pair weaves across its passives and
//! back; where two workers meet there is a pin. Slantwise, every pair weaves
//! through every other it meets, with pins at intervals.

use pairwise_sdk::Side::{Left, Right};
use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};

/// What the area is woven in: id, what the lacemaker reads, the moves.
const STITCHES: [(&str, &str, &str); 3] = [
    ("cloth", "cloth stitch", "CTC"),
    ("half", "half stitch", "CT"),
    ("cloth-twist", "cloth stitch and twist", "CTCT"),
];

/// Where two workers meet: id, what the lacemaker reads, the moves.
const MEETINGS: [(&str, &str, &str); 3] = [
    ("turn", "cloth stitch, pin, cloth stitch: each goes back", "CTC pin CTC"),
    ("turn-twist", "cloth stitch and twist, pin, the same again: each goes back", "CTCT pin CTCT"),
    ("exchange", "half stitch, pin, half stitch: they change columns", "CT pin CT"),
];

/// Who weaves: id, what the lacemaker reads, whether it is workers in columns.
const WEAVERS: [(&str, &str, bool); 2] =
    [("workers", "workers, in columns", true), ("every-pair", "every pair, slantwise", false)];

/// Cloth stitch and half stitch areas.
pub struct Cloth;

impl Contribution for Cloth {
    fn about() -> About {
        About::ground("cloth", "Cloth stitch")
            .also_called("en", "whole stitch", "common practice")
            .also_called("de", "Leinenschlag", "common practice")
            .also_called("fr", "toilé", "common practice")
            .used_in(["Torchon", "Cluny", "Honiton"])
            .notes("The closed parts of lace: a woven cloth, or in half stitch a slanting lattice.")
            .source("common practice, from memory")
            .choose("stitch", "Stitch of the area", &STITCHES)
            .choose("weavers", "Who weaves", &WEAVERS)
            .choose_count("passives", "In columns: passive pairs in each", 2..=8, 4)
            .choose("meeting", "In columns: where two workers meet", &MEETINGS)
            .choose_count("worker-twists", "In columns: twists of the worker beside the pin", 0..=2, 1)
            .choose_count("closeness", "Slantwise: stitches from pin to pin", 1..=4, 3)
            .variety(
                Variety::new("columns", "Cloth stitch in columns")
                    .notes("Every passive stays where it hangs; the worker stays too, crossing its column."),
            )
            .variety(
                Variety::new("half-columns", "Half stitch in columns").set("stitch", "half").notes(
                    "Pairs part at every stitch. Threads wander but stay in their column: colours mix.",
                ),
            )
            .variety(
                Variety::new("twisted-columns", "Cloth stitch and twist in columns")
                    .set("stitch", "cloth-twist")
                    .notes("Closer and rougher than cloth stitch; every pair stays as in cloth stitch."),
            )
            .variety(
                Variety::new("exchange", "Cloth stitch in columns, workers exchanged")
                    .set("meeting", "exchange")
                    .notes("Passives stay; workers travel from column to column, one way or the other."),
            )
            .variety(Variety::new("slantwise", "Cloth stitch slantwise").set("weavers", "every-pair").notes(
                "A cloth lying on its corner. Every pair travels, half to the left and half to the right.",
            ))
    }

    fn define(settings: &Settings) -> Result<Repeat, Problem> {
        let stitch = settings.pick("stitch", &STITCHES)?;
        if *settings.pick("weavers", &WEAVERS)? {
            columns(settings, stitch)
        } else {
            slantwise(settings, stitch)
        }
    }
}

/// One column and one pin. The next column is the same but half a turn of the
/// worker lower, so that its worker comes to meet this one.
fn columns(settings: &Settings, stitch: &str) -> Result<Repeat, Problem> {
    let (passives, twists) = (settings.count("passives")?, settings.count("worker-twists")?);
    // Passives hang half a grid step apart; rows lie flatter than straight from
    // pin to pin, as weaving presses them.
    let width = 0.5 * f64::from(passives + 1);
    let x = |k: i32| 0.5 * f64::from(k);
    let y = |k: i32| 0.25 + 0.5 * x(k) / width;
    let go = |k: i32| (format!("go-{k}"), (x(k), y(k)));
    let back = |k: i32| (format!("back-{k}"), (x(k), 2.0 - y(k)));

    let mut grid = Grid::new((width, 1), (0, 2)).dot("pin", (0, 0), settings.pick("meeting", &MEETINGS)?);
    for k in 1..=passives {
        let ((go, go_at), (back, back_at)) = (go(k), back(k));
        grid = grid
            .dot(&go, go_at, stitch)
            .dot(&back, back_at, stitch)
            // The passive hangs straight down.
            .leg((&go, Left), (&back, Left), back_at)
            .leg((&back, Right), (&go, Right), (go_at.0, go_at.1 + 2.0));
    }
    // The worker, from passive to passive.
    for k in 1..passives {
        let ((next, at), (before, before_at)) = (go(k + 1), back(k));
        grid = grid.leg((&go(k).0, Right), (&next, Left), at).leg(
            (&back(k + 1).0, Left),
            (&before, Right),
            before_at,
        );
    }
    // From the pin to the right through this column, and in the end to the pin
    // below; from the pin to the left through the column on the left.
    let ((first, first_at), (last, last_at)) = (go(1), back(passives));
    let (leaving, coming) = (go(passives).0, back(1).0);
    grid.leg(("pin", Right), (&first, Left), first_at)
        .leg((&leaving, Right), ("pin", Left), (width, 1))
        .leg(("pin", Left), (&last, Right), (last_at.0 - width, last_at.1 - 1.0))
        .leg((&coming, Left), ("pin", Right), (0, 2))
        .twist(("pin", Left), twists)
        .twist(("pin", Right), twists)
        .twist((&leaving, Right), twists)
        .twist((&coming, Left), twists)
        .repeat()
}

/// Pins at the dots of the grid, and stitches between them as close as chosen.
fn slantwise(settings: &Settings, stitch: &str) -> Result<Repeat, Problem> {
    let closeness = settings.count("closeness")?;
    let dot = |u: i32, v: i32| format!("dot-{}-{}", u % closeness, v % closeness);
    let at =
        |u: i32, v: i32| (f64::from(u - v) / f64::from(closeness), f64::from(u + v) / f64::from(closeness));
    let square = || (0..closeness).flat_map(|u| (0..closeness).map(move |v| (u, v)));
    let mut grid = Grid::new((1, 1), (-1, 1));
    for (u, v) in square() {
        let pin = if (u, v) == (0, 0) { "pin" } else { "" };
        grid = grid.dot(&dot(u, v), at(u, v), format!("{stitch} {pin}"));
    }
    for (u, v) in square() {
        grid = grid.leg((&dot(u, v), Left), (&dot(u, v + 1), Right), at(u, v + 1)).leg(
            (&dot(u, v), Right),
            (&dot(u + 1, v), Left),
            at(u + 1, v),
        );
    }
    grid.repeat()
}

contribution!(Cloth);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_variety_can_be_worked() {
        let warnings = pairwise_sdk::check::<Cloth>();
        assert!(warnings.is_empty(), "{warnings:#?}");
    }

    // Threads of a repeat that travel left, stay, travel right: what the notes say.
    #[test]
    fn colours_go_where_the_notes_say() {
        let expected = [
            ("columns", [0, 20, 0]),
            ("half-columns", [0, 20, 0]),
            ("twisted-columns", [0, 20, 0]),
            ("exchange", [2, 16, 2]),
            ("slantwise", [6, 0, 6]),
        ];
        assert_eq!(pairwise_sdk::travels::<Cloth>(), expected.map(|(id, threads)| (id.to_owned(), threads)));
    }
}
