//! Sorting grounds.

use lace::Pattern;

use crate::cell::{Cell, DrawnGround};

macro_rules! sorts {
    ($($name:ident $word:literal $means:literal;)*) => {
        /// What to sort grounds by.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Sort {
            $(#[doc = $means] $name,)*
        }

        impl Sort {
            /// All of them.
            pub const ALL: &'static [Sort] = &[$(Sort::$name),*];

            /// The word for it.
            pub const fn word(self) -> &'static str {
                match self { $(Sort::$name => $word),* }
            }

            /// What it sorts by, and which come first.
            pub const fn means(self) -> &'static str {
                match self { $(Sort::$name => $means),* }
            }
        }
    };
}

sorts! {
    Name "name" "Name, alphabetically";
    Pattern "pattern" "Kind of pattern in the arrangements shown";
    Clearest "clearest" "How clear the pattern is, clearest first; in a table, by the clearest of each row";
    Pairs "pairs" "Pairs per cm, fewest first";
    Pins "pins" "Pins per square cm, fewest first";
    Moves "moves" "Moves per square cm, fewest first";
    Open "open" "Share of the lace that is open, most open first";
}

/// The grounds sorted; ties keep their order. `cells` are those of each ground in
/// turn.
pub(super) fn sorted(sort: Sort, grounds: &[DrawnGround], cells: &[Vec<Cell>]) -> Vec<usize> {
    let mut numbers: Vec<usize> = (0..grounds.len()).collect();
    match sort {
        Sort::Name => numbers.sort_by_key(|&k| grounds[k].chosen.name()),
        Sort::Pattern => numbers.sort_by_key(|&k| patterns(&cells[k])),
        Sort::Clearest => {
            by_number(&mut numbers, |k| -cells[k].iter().map(|c| c.clearness).fold(0.0, f64::max))
        }
        Sort::Open => by_number(&mut numbers, |k| -grounds[k].thumbnail.open()),
        Sort::Pairs | Sort::Pins | Sort::Moves => by_number(&mut numbers, |k| {
            let measures = grounds[k].chosen.ground.measures(grounds[k].grid());
            match sort {
                Sort::Pairs => measures.pairs_per_cm,
                Sort::Pins => measures.pins_per_cm2,
                _ => measures.moves_per_cm2,
            }
        }),
    }
    numbers
}

fn by_number(numbers: &mut [usize], number: impl Fn(usize) -> f64) {
    numbers.sort_by(|&a, &b| number(a).total_cmp(&number(b)));
}

/// The kind of pattern that a ground makes most often, not counting one-colour
/// arrangements; then the kinds of all its arrangements.
fn patterns(cells: &[Cell]) -> (Pattern, Vec<Pattern>) {
    let all: Vec<Pattern> = cells.iter().map(|c| c.pattern).collect();
    let often = |p: Pattern| all.iter().filter(|q| **q == p).count();
    let most = Pattern::ALL
        .iter()
        .copied()
        .filter(|p| *p != Pattern::Plain && often(*p) > 0)
        // Of several, the first in the list of kinds.
        .rev()
        .max_by_key(|p| often(*p))
        .unwrap_or(Pattern::Plain);
    (most, all)
}
