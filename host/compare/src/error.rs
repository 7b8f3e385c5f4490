//! Why something cannot be compared, drawn or traced.

use catalogue::span::Span;
use lace::limits::MAX_COLOURS;
use lace::{
    Arrangement, ArrangementError, ArrangementName, ArrangementNameError, GridError, Pattern, ThreadError,
    TraceError, colour_letter, number,
};
use picture::drawing::pricking::PrickingError;
use thiserror::Error;

use crate::comparison::{Kept, KeptBy};

/// Why something cannot be compared, drawn or traced, in a sentence. What to do
/// about it depends on the caller, so the caller adds that.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Error {
    /// Neither a CSS colour name nor `#rrggbb`.
    #[error("the colour `{0}` is not known")]
    UnknownColour(String),
    /// More colours than there are letters.
    #[error("{0} colours are given; there are letters for {MAX_COLOURS}")]
    TooManyColours(usize),
    /// An arrangement with a letter that has no colour.
    #[error(
        "the arrangement `{arrangement}` uses the letter {}, but only {given} colours are given",
        colour_letter(arrangement.colours() as u8 - 1)
    )]
    ColourMissing {
        /// The arrangement.
        arrangement: Arrangement,
        /// How many colours there are.
        given: usize,
    },
    /// A text that is not an arrangement.
    #[error(transparent)]
    Arrangement(#[from] ArrangementError),
    /// An arrangement that cannot be hung in the colours there are.
    #[error(
        "{name} cannot be hung in {given} {}",
        if *given == 1 { "colour" } else { "colours" }
    )]
    NotInColours {
        /// Its name.
        name: ArrangementName,
        /// How many colours there are.
        given: usize,
    },
    /// An unknown name of an arrangement.
    #[error(transparent)]
    ArrangementName(#[from] ArrangementNameError),
    /// No arrangement has one of the names.
    #[error(
        "no arrangement of {pairs} pairs in {colours} {} is {}{}",
        if *colours == 1 { "colour" } else { "colours" },
        names.iter().map(ToString::to_string).collect::<Vec<_>>().join(" or "),
        if *all_seen { "" } else { " among those that could be searched" }
    )]
    NothingNamed {
        /// The names.
        names: Vec<ArrangementName>,
        /// Length of an arrangement, in pairs.
        pairs: usize,
        /// Colours to choose from.
        colours: usize,
        /// Whether all arrangements were searched.
        all_seen: bool,
    },
    /// No ground has as many moves or pins as asked for.
    #[error(
        "no ground here has {span} {} per square cm: these have {} to {}",
        by.word(), number(*least), number(*most)
    )]
    NoGroundKept {
        /// What is counted.
        by: KeptBy,
        /// How many were asked for.
        span: Span,
        /// The least that a ground here has.
        least: f64,
        /// And the most.
        most: f64,
    },
    /// No picture has the pattern asked for.
    #[error("no picture shows {}: {}", wanted(kept), found_instead(kept, found, *clearest))]
    NoPictureKept {
        /// What was asked for.
        kept: Box<Kept>,
        /// How many pictures there are of each kind of pattern.
        found: Vec<(Pattern, usize)>,
        /// How clear the clearest of the kinds asked for is, in per cent; `None` if
        /// there is none of them.
        clearest: Option<f64>,
    },
    /// A window that is too small or too large to draw.
    #[error("a picture cannot show {0} mm of lace")]
    Window(f64),
    /// A pin spacing or an angle that cannot be pricked.
    #[error(transparent)]
    Grid(#[from] GridError),
    /// A text that is not a thread.
    #[error(transparent)]
    Thread(#[from] ThreadError),
    /// An area with more stitches than are drawn.
    #[error("{width} by {height} mm hold about {stitches:.0} stitches")]
    TooManyStitches {
        /// Width, mm.
        width: f64,
        /// Height, mm.
        height: f64,
        /// Approximate number of stitches.
        stitches: f64,
    },
    /// Paper too small for a whole page.
    #[error("paper of {width} by {height} mm is too small for the whole page")]
    PageTooSmall {
        /// Width, mm.
        width: f64,
        /// Height, mm.
        height: f64,
    },
    /// Paper or an area that cannot be pricked.
    #[error(transparent)]
    Pricking(#[from] PrickingError),
    /// More pairs or rows than can be traced.
    #[error(transparent)]
    Trace(#[from] TraceError),
    /// A pair that does not exist.
    #[error("there is no pair {pair}")]
    NoSuchPair {
        /// The pair, counted from 1.
        pair: usize,
        /// How many there are.
        places: usize,
    },
    /// A colour that is not in the arrangement.
    #[error("the arrangement {arrangement} has no colour {}", colour.escape_debug())]
    NoSuchColour {
        /// The arrangement.
        arrangement: Arrangement,
        /// The letter.
        colour: char,
    },
}

/// What pictures were to show: `columns or checks, 60- % clear`.
fn wanted(kept: &Kept) -> String {
    let kinds: Vec<&str> = kept.patterns.iter().map(|pattern| pattern.words()).collect();
    let kinds = if kinds.is_empty() { "a pattern".to_owned() } else { kinds.join(" or ") };
    match kept.clear_percent {
        Some(span) => format!("{kinds}, {span} % clear"),
        None => kinds,
    }
}

fn found_instead(kept: &Kept, found: &[(Pattern, usize)], clearest: Option<f64>) -> String {
    match clearest {
        Some(clearest) if !kept.patterns.is_empty() => format!("the clearest of these is {clearest} % clear"),
        Some(clearest) => format!("the clearest is {clearest} % clear"),
        None => {
            let found: Vec<String> = found.iter().map(|(pattern, n)| format!("{pattern} ({n})")).collect();
            format!("here are {}", found.join(", "))
        }
    }
}
