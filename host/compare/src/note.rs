//! Notes about a result that are not errors.

use crate::number::with_commas;

/// A note about a result: a sentence without a full stop.
#[derive(Clone, Debug, PartialEq)]
pub enum Note {
    /// Threads that lie side by side in a stitch no longer find room.
    Crowded {
        /// Wraps of the thread between two footside pins.
        wraps: f64,
        /// Distance between those pins, in mm.
        pin_spacing_mm: f64,
        /// How many times too thick the thread is.
        too_thick: f64,
        /// Titles of the grounds in which they find none; empty if all have the
        /// same pin spacing.
        titles: Vec<String>,
    },
    /// A picture shows more lace than usual, or less than a whole repeat.
    Window {
        /// The ground as users name it.
        name: String,
        /// What it shows, in words.
        words: String,
    },
    /// Colours that are hard to tell apart or hard to see: a sentence.
    Colours(String),
    /// Threads have not quite settled.
    Unsettled {
        /// The ground as users name it.
        name: String,
    },
    /// Threads were drawn as they lay when the work allowed for one ground was done.
    TooMuchToSettle {
        /// The ground as users name it.
        name: String,
    },
    /// Pairs were rounded up to whole repeats.
    RoundedUp {
        /// The title of the ground; `None` if there are several.
        title: Option<String>,
        /// Pairs in a repeat.
        repeat: usize,
        /// Pairs asked for.
        asked: usize,
        /// Pairs in the arrangements that are shown.
        shown: usize,
    },
    /// Arrangement and repeat start together only after some repeats.
    StartTogetherLater {
        /// Pairs in an arrangement.
        pairs: usize,
        /// Number of pairs after which they do, with the titles of the grounds.
        after: Vec<(usize, Vec<String>)>,
    },
    /// Some of the arrangements shown may look the same.
    SymmetriesMissing {
        /// How many are shown.
        shown: u128,
    },
    /// Not all arrangements are shown.
    ArrangementsLeftOut {
        /// How many are shown.
        shown: u128,
        /// How many there are, at least.
        at_least: u128,
        /// How many there are at most, if known.
        at_most: Option<u128>,
        /// Whether only those with certain names were asked for.
        named: bool,
    },
}

/// Most grounds named in a note; others are only counted.
const NAMED: usize = 3;

impl std::fmt::Display for Note {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Note::Crowded { wraps, pin_spacing_mm, too_thick, titles } => {
                let where_it_is = match titles.as_slice() {
                    [] => String::new(),
                    titles => format!(" in {}", in_short(titles)),
                };
                write!(
                    f,
                    "the lace will be crowded{where_it_is}: {wraps:.1} wraps of this thread lie between two footside pins {pin_spacing_mm} mm apart, where about 12 suit torchon (it is {too_thick:.1} times too thick)"
                )
            }
            Note::Window { name, words } => write!(f, "the picture of {name} shows {words}"),
            Note::Colours(sentence) => f.write_str(sentence),
            Note::Unsettled { name } => {
                write!(f, "the threads of {name} have not quite settled; the picture is approximate")
            }
            Note::TooMuchToSettle { name } => write!(
                f,
                "the threads of {name} are too many to be pulled tight in the time allowed; the picture shows \
                 how far they came, and the threads of a smaller repeat would settle"
            ),
            Note::RoundedUp { title, repeat, asked, shown } => {
                match title {
                    Some(title) => write!(f, "the repeat of {title} has")?,
                    None => f.write_str("the repeats of these grounds have")?,
                }
                write!(f, " {repeat} pairs: {} rounded up to {shown}", are(*asked))
            }
            Note::StartTogetherLater { pairs, after } => {
                let pairs = count(*pairs);
                write!(f, "an arrangement of {pairs} and the repeat start together again only ")?;
                let after: Vec<String> = after
                    .iter()
                    .map(|(after, titles)| format!("after {after} pairs ({})", in_short(titles)))
                    .collect();
                f.write_str(&after.join(", "))
            }
            Note::SymmetriesMissing { shown } => write!(
                f,
                "{} arrangements are shown, and some of them may look the same: this repeat has too many \
                 symmetries for all to be compared",
                with_commas(*shown)
            ),
            Note::ArrangementsLeftOut { shown, at_least, at_most, named } => {
                let what =
                    if *named { "arrangements of these names" } else { "arrangements that look different" };
                let of = match at_most {
                    Some(most) if most == at_least => with_commas(*most),
                    Some(most) => format!("between {} and {}", with_commas(*at_least), with_commas(*most)),
                    None => format!("at least {}", with_commas(*at_least)),
                };
                write!(f, "{} of {of} {what} are shown", with_commas(*shown))
            }
        }
    }
}

fn count(pairs: usize) -> String {
    format!("{pairs} {}", if pairs == 1 { "pair" } else { "pairs" })
}

fn are(pairs: usize) -> String {
    format!("{} {}", count(pairs), if pairs == 1 { "is" } else { "are" })
}

fn in_short(titles: &[String]) -> String {
    let mut text = titles.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join("; ");
    if titles.len() > NAMED {
        text.push_str(&format!("; {} more", titles.len() - NAMED));
    }
    text
}
