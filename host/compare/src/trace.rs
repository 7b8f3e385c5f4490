//! Where every pair goes, as data, sentences and a picture; and what to change to
//! steer a pair ([`steering`]).

mod picture;
pub mod steering;

use catalogue::Chosen;
use lace::{Arrangement, EdgeStitches, Trace, colour_letter};

use crate::drawn_pairs::for_tracing;
use crate::error::Error;
use crate::note::Note;
use crate::palette::Palette;
use crate::pattern::{Seen, SoftenedRepeat};
use crate::scale::Scale;

pub use picture::{PX_PER_MM, TracePicture};

/// Fewest pairs followed, and most rows, if the request sets none.
const USUAL_PAIRS: usize = 8;
const USUAL_ROWS: usize = 16;
/// Fewest rows traced, even if every pair is back earlier.
const LEAST_ROWS: usize = 4;

/// What to trace.
#[derive(Clone, Debug)]
pub struct TraceRequest {
    /// The ground.
    pub chosen: Chosen,
    /// The arrangement of its pairs.
    pub arrangement: Arrangement,
    /// The colours to paint.
    pub palette: Palette,
    /// Pin spacing and thread, for the picture and the kind of pattern.
    pub scale: Scale,
    /// Number of pairs, rounded up to whole repeats; `None` for enough that
    /// arrangement and repeat start together again.
    pub pairs: Option<usize>,
    /// Number of rows of repeats; `None` to go on until every pair is back.
    pub rows: Option<usize>,
    /// The pairs to follow, counted from 1 at the left.
    pub followed_pairs: Vec<usize>,
    /// The colours to follow, by their letters. If neither pairs nor colours are
    /// given, all pairs are followed.
    pub followed_colours: Vec<char>,
    /// The edge stitches at the footsides; `None` for an endless width.
    pub footsides: Option<EdgeStitches>,
}

/// A traced ground.
#[derive(Clone, Debug)]
pub struct Traced {
    /// The request.
    pub request: TraceRequest,
    /// Where every pair goes, or every thread if a stitch parts the threads of a
    /// pair.
    pub trace: Trace,
    /// Where the colours go, one sentence each.
    pub sentences: Vec<String>,
    /// The colours hung in each place: left and right thread.
    pub hung: Vec<[u8; 2]>,
    /// Whether the pair or thread that begins in each place is followed.
    pub followed: Vec<bool>,
    /// A note if pairs were rounded up.
    pub note: Option<Note>,
    /// What pattern the colours make on an endless width.
    pub seen: Seen,
}

impl Traced {
    /// Traces a ground.
    ///
    /// # Errors
    /// More pairs or rows than can be traced, pairs and colours that do not exist,
    /// and a ground that cannot be pricked.
    pub fn new(request: TraceRequest) -> Result<Traced, Error> {
        let trace = request.trace()?;
        request.check_followed(trace.places)?;
        let ground = &request.chosen.ground;
        let sentences = ground.trace_in_words(&trace, &request.arrangement, &request.palette.names());
        let hung = trace.hung(&request.arrangement);
        let followed = request.followed(&trace, &hung);
        let note = request.rounded_up();
        let layout = request.scale.lay_out(&request.chosen)?;
        let seen = Seen::new(&SoftenedRepeat::new(ground, &layout), ground, &request.arrangement);
        Ok(Traced { request, trace, sentences, hung, followed, note, seen })
    }
}

impl TraceRequest {
    fn trace(&self) -> Result<Trace, Error> {
        let ground = &self.chosen.ground;
        let own = ground.hanging().pairs().len();
        let arrangement = self.arrangement.pairs().len();
        let pairs = match self.pairs {
            Some(pairs) => pairs.next_multiple_of(own),
            None => for_tracing(ground, arrangement, USUAL_PAIRS.max(arrangement)),
        };
        let rows = self.rows.unwrap_or(USUAL_ROWS);
        if let Some(edges) = &self.footsides {
            return Ok(ground.trace_between_footsides(pairs / own, rows, edges)?);
        }
        let mut trace = ground.trace(pairs, rows)?;
        if self.rows.is_none()
            && let Some(back) = trace.returns.iter().copied().collect::<Option<Vec<usize>>>()
            && let Some(&last) = back.iter().max()
        {
            trace.rows.truncate(last.max(LEAST_ROWS) + 1);
        }
        Ok(trace)
    }

    /// A note if the pairs asked for are no whole number of repeats.
    fn rounded_up(&self) -> Option<Note> {
        let (asked, repeat) = (self.pairs?, self.chosen.ground.hanging().pairs().len());
        let shown = asked.next_multiple_of(repeat);
        let title = Some(self.chosen.title().to_owned());
        (shown != asked).then_some(Note::RoundedUp { title, repeat, asked, shown })
    }

    /// Refuses pairs and colours that do not exist.
    fn check_followed(&self, places: usize) -> Result<(), Error> {
        check_pairs(&self.followed_pairs, places)?;
        let used = self.arrangement.colours();
        let known = |c: &char| c.is_ascii_uppercase() && usize::from(*c as u8 - b'A') < used;
        match self.followed_colours.iter().find(|c| !known(c)) {
            Some(&colour) => Err(Error::NoSuchColour { arrangement: self.arrangement.clone(), colour }),
            None => Ok(()),
        }
    }

    /// Which pairs or threads are followed: all, unless some are named.
    fn followed(&self, trace: &Trace, hung: &[[u8; 2]]) -> Vec<bool> {
        let all = self.followed_pairs.is_empty() && self.followed_colours.is_empty();
        let followed = |k: usize| {
            let number = if trace.by_threads { k / 2 + 1 } else { k + 1 };
            let colour = |c: &u8| self.followed_colours.contains(&colour_letter(*c));
            all || self.followed_pairs.contains(&number) || hung[k].iter().any(colour)
        };
        (0..trace.places).map(followed).collect()
    }
}

fn check_pairs(pairs: &[usize], places: usize) -> Result<(), Error> {
    match pairs.iter().find(|p| !(1..=places).contains(*p)) {
        Some(&pair) => Err(Error::NoSuchPair { pair, places }),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::chosen;
    use crate::scale::Pricking;
    use lace::samples::rose;

    fn request(arrangement: &str) -> TraceRequest {
        let palette = Palette::default();
        TraceRequest {
            chosen: chosen("Rose", rose("CTCT", "CT pin CT")),
            arrangement: palette.arrangement(arrangement).unwrap(),
            palette,
            scale: Scale::new(Pricking::default(), None).unwrap(),
            pairs: None,
            rows: None,
            followed_pairs: Vec::new(),
            followed_colours: Vec::new(),
            footsides: None,
        }
    }

    #[test]
    fn all_pairs_are_followed_unless_some_are_named() {
        let all = Traced::new(request("A A B B")).unwrap();
        assert_eq!((all.trace.places, all.followed.clone()), (8, vec![true; 8]));
        let some =
            TraceRequest { followed_pairs: vec![2], followed_colours: vec!['B'], ..request("A A A B") };
        let followed = Traced::new(some).unwrap().followed;
        assert_eq!(followed, [false, true, false, true, false, false, false, true]);
        // Whole repeats of four pairs.
        let more = TraceRequest { pairs: Some(10), rows: Some(3), ..request("A") };
        let Traced { trace, note, .. } = Traced::new(more).unwrap();
        assert_eq!((trace.places, trace.rows.len()), (12, 4));
        let note = note.map(|note| note.to_string());
        assert_eq!(note.as_deref(), Some("the repeat of Rose has 4 pairs: 10 pairs are rounded up to 12"));
        let whole = TraceRequest { pairs: Some(8), ..request("A") };
        assert_eq!(Traced::new(whole).unwrap().note, None);
    }

    #[test]
    fn pairs_and_colours_that_are_not_there_are_refused() {
        let pair = TraceRequest { followed_pairs: vec![9], ..request("A A B B") };
        assert_eq!(Traced::new(pair).unwrap_err(), Error::NoSuchPair { pair: 9, places: 8 });
        let colour = TraceRequest { followed_colours: vec!['C'], ..request("A A B B") };
        assert_eq!(Traced::new(colour).unwrap_err().to_string(), "the arrangement A A B B has no colour C");
        let rows = TraceRequest { rows: Some(1_000_000), ..request("A") };
        assert!(matches!(Traced::new(rows), Err(Error::Trace(_))));
    }
}
