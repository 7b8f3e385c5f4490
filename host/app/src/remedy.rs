//! What to do about errors and notes of the libraries, in terms of command-line
//! options.

use compare::error::Error;
use compare::note::Note;
use compare::sheet::MAX_STITCHES;
use compare::window::WINDOWS;
use lace::GridError;
use picture::drawing::pricking::PrickingError;

use crate::failure::Failure;

impl From<Error> for Failure {
    fn from(why: Error) -> Failure {
        Failure::Value { help: remedy(&why), what: why.to_string() }
    }
}

impl From<GridError> for Failure {
    fn from(why: GridError) -> Failure {
        Error::from(why).into()
    }
}

fn remedy(why: &Error) -> String {
    match why {
        Error::UnknownColour(_) => {
            "give CSS colour names or #rrggbb, separated by commas: --colours navy,#e07b39".to_owned()
        }
        Error::TooManyColours(_) => "give fewer colours with --colours".to_owned(),
        Error::ColourMissing { arrangement, .. } => {
            format!("give {} colours, for example --colours navy,orange,teal", arrangement.colours())
        }
        Error::Arrangement(_) => "for example --arrangement \"A A B B\"".to_owned(),
        Error::ArrangementName(_) => {
            "for example --named 2-and-2; --arrangement \"A A B B\" shows one arrangement".to_owned()
        }
        Error::NothingNamed { .. } => {
            "arrangements repeat: one-in-4 needs --pairs 4, 8 or another multiple of 4; --colours gives more colours".to_owned()
        }
        Error::NoGroundKept { by, .. } => format!("ask for others with --{}", by.word()),
        Error::NoPictureKept { .. } => {
            "ask for another --pattern or a lower --clear, or show more: --varieties, --pairs, --max".to_owned()
        }
        Error::Window(_) => format!(
            "give {} to {} mm, for example --window 32; without --window a picture shows a whole repeat",
            WINDOWS.start(),
            WINDOWS.end()
        ),
        Error::Grid(GridError::PinSpacing(_)) => {
            "torchon is often pricked at 3 to 5 mm: --pin-spacing 4".to_owned()
        }
        Error::Grid(GridError::Angle(_)) => {
            "torchon is pricked at 45, point grounds at 52 to 70: --angle 60".to_owned()
        }
        Error::Thread(_) => "for example --thread \"28 wraps/cm\" or --thread \"20 tex\"".to_owned(),
        Error::TooManyStitches { .. } => {
            format!("give a smaller --area: at most {MAX_STITCHES} stitches are drawn")
        }
        Error::PageTooSmall { .. } => {
            use picture::page::sheet::LEAST_PAGE;
            format!(
                "give paper of {} by {} mm or more, such as a4 or letter, or draw one thing alone with --show",
                LEAST_PAGE.width, LEAST_PAGE.height
            )
        }
        Error::Pricking(PrickingError::PaperTooSmall(..) | PrickingError::Area(..)) => {
            "choose a larger --paper or another --area".to_owned()
        }
        Error::Trace(_) => "give a smaller --pairs or --rows".to_owned(),
        Error::NoSuchPair { places, .. } => {
            format!("pairs are counted from 1 to {places} here; --pairs follows more")
        }
        Error::NoSuchColour { .. } => "give one of its letters, for example --colour B".to_owned(),
    }
}

/// A note with advice.
pub fn with_remedy(note: &Note) -> String {
    match note {
        Note::Crowded { .. } => format!("{note}; give a finer --thread or a larger --pin-spacing"),
        Note::ArrangementsLeftOut { .. } => format!("{note}; raise --max to see more"),
        _ => note.to_string(),
    }
}
