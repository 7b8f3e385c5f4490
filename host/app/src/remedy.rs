//! What to do about errors and notes of the libraries, in terms of command-line
//! options.

use compare::error::Error;
use compare::note::Note;
use compare::sheet::MAX_STITCHES;
use compare::window::WINDOWS;
use lace::limits::MAX_ARRANGEMENT_PAIRS;
use lace::{GridError, TraceError};
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
        Error::Arrangement(_) => "for example --arrangement \"A A B B\" or --arrangement 2-and-2".to_owned(),
        Error::NotInColours { .. } => {
            "give other colours with --colours, or say which colour hangs where: --arrangement \"A A B B\"".to_owned()
        }
        Error::ArrangementName(_) => {
            "for example --named 2-and-2; --arrangement \"A A B B\" shows one arrangement".to_owned()
        }
        Error::NothingNamed { .. } => {
            "arrangements repeat: one-in-4 needs --arrangement-length 4, 8 or another multiple of 4; --colours gives more colours".to_owned()
        }
        Error::NoGroundKept { by, .. } => format!("ask for others with --{}", by.word()),
        Error::NoPictureKept { .. } => {
            "ask for another --pattern or a lower --clear, or show more: --varieties, --arrangement-length, --max".to_owned()
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
        Error::Pricking(PrickingError::PaperTooSmall(..)) => "choose a larger --paper".to_owned(),
        Error::Pricking(PrickingError::Area(..)) => "choose another --area".to_owned(),
        Error::Pricking(PrickingError::TooClose(_)) => {
            "give a larger --pin-spacing; `pairwise sheet --show threads` draws the lace without a pricking"
                .to_owned()
        }
        Error::Trace(why) => trace_remedy(why),
        Error::NoSuchPair { places, .. } => {
            format!("pairs are counted from 1 to {places} here; --pairs-hung hangs on more")
        }
        Error::NoSuchColour { .. } => "give one of its letters, for example --colour B".to_owned(),
    }
}

fn trace_remedy(why: &TraceError) -> String {
    match why {
        TraceError::TooManyRows(_) => "give fewer --rows".to_owned(),
        TraceError::TooManyPairs { repeat, .. } if *repeat > MAX_ARRANGEMENT_PAIRS => format!(
            "the repeat alone has {repeat} pairs: follow a smaller ground; `pairwise facts` says where the \
             threads of this one go"
        ),
        TraceError::TooManyPairs { repeat, .. } => format!(
            "give a shorter --arrangement, or --pairs-hung {repeat} for one repeat; colours and repeat need not \
             start together again"
        ),
        TraceError::NoSuchEdge { worked: 0, .. } => "leave this --edge-change out".to_owned(),
        TraceError::NoSuchEdge { worked, .. } => {
            format!("give a number from 1 to {worked}, or more --rows")
        }
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
