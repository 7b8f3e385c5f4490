//! Reading a chart from text: every name is looked up, every fault has its
//! position.

mod about;
mod choices;
mod exits;
mod places;
mod stitches;
mod text;
mod varieties;
mod works;

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use catalogue::near::listed;
use catalogue::suggest;
use catalogue::text::is_device;
use catalogue::written::{Form, Mistake, mistake};
use lace::limits::PIN_SPACING_MM;
use pairwise_chart::{Chart, Name};
use toml::Spanned;

use crate::FORMAT;
use places::Missed;
use text::{File, NameText};

/// Something wrong in a chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Its byte range in the text.
    pub at: Range<usize>,
    /// Further ranges that it is about.
    pub also: Vec<Range<usize>>,
    /// What is wrong, in one sentence.
    pub sentence: String,
    /// What to do about it.
    pub remedy: String,
}

/// A chart and the positions of its parts in the text.
#[derive(Clone, Debug)]
pub struct Read {
    /// The chart.
    pub chart: Chart,
    /// Where each stitch is written, in the order of the chart.
    pub stitches: Vec<WrittenStitch>,
    /// The byte ranges of the steps across and down.
    pub steps: [Range<usize>; 2],
    /// The byte range of the ground it sits in.
    pub sits_in: Option<Range<usize>>,
}

/// Where a stitch is written, in bytes of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenStitch {
    /// Its name.
    pub name: Range<usize>,
    /// Its left and its right exit; the name again when the exit is not written.
    pub exits: [Range<usize>; 2],
}

/// Reads a chart.
///
/// # Errors
/// All faults that can be found at once, in the order of the text. If the text
/// is not TOML, only the first.
pub fn read(text: &str) -> Result<Read, Vec<Fault>> {
    let file: File = toml::from_str(text).map_err(|why| {
        let Mistake { at, sentence, remedy } = mistake(text, why.message(), why.span(), &FORM);
        vec![Fault { at, also: Vec::new(), sentence, remedy }]
    })?;
    let mut reader =
        Reader { file: &file, numbers: Numbers::new(&file), missed: Vec::new(), faults: Vec::new() };
    let read = reader.read();
    let mut faults = reader.faults;
    if faults.is_empty() {
        return Ok(read);
    }
    faults.sort_by_key(|fault| fault.at.start);
    Err(faults)
}

/// Where more is said about charts.
const MORE: &str = "`pairwise explain charts`";

/// What a chart looks like.
const FORM: Form<'_> = Form {
    what: "a chart",
    several: &["stitch", "choice", "variety"],
    once: &["about", "repeat", "works"],
    examples: &[
        ("id", "id = \"pin\""),
        ("format", "format = \"pairwise-chart/1\", before everything else"),
        ("title", "title = \"My filling\""),
        ("source", "source = \"own design\""),
        ("across", "across = [2, 2]"),
        ("down", "down = [-2, 2]"),
        ("at", "at = [0, 0]"),
        ("work", "work = \"half stitch, pin, half stitch\""),
        ("language", "language = \"de\""),
        ("name", "name = \"Rosengrund\""),
    ],
    more: MORE,
};

/// The faults for which near names are looked for. This takes as long as there are
/// names, and nobody reads more of them.
const MOST_SUGGESTIONS: usize = 50;

struct Reader<'a> {
    file: &'a File,
    numbers: Numbers<'a>,
    missed: Vec<Missed>,
    faults: Vec<Fault>,
}

/// The first of each name, by number.
struct Numbers<'a> {
    stitches: BTreeMap<&'a str, usize>,
    choices: BTreeMap<&'a str, usize>,
}

impl<'a> Numbers<'a> {
    fn new(file: &'a File) -> Numbers<'a> {
        Numbers {
            stitches: numbered(file.stitches.iter().map(|stitch| &stitch.id)),
            choices: numbered(file.choices.iter().map(|choice| &choice.id)),
        }
    }
}

fn numbered<'a>(ids: impl Iterator<Item = &'a Spanned<String>>) -> BTreeMap<&'a str, usize> {
    let mut numbers = BTreeMap::new();
    for (number, id) in ids.enumerate() {
        numbers.entry(id.get_ref().as_str()).or_insert(number);
    }
    numbers
}

impl<'a> Reader<'a> {
    fn read(&mut self) -> Read {
        let (about, repeat) = (self.file.about.get_ref(), self.file.repeat.get_ref());
        self.format();
        self.word(&about.id, "the ground");
        self.about();
        self.steps();
        self.works();
        let choices = self.choices();
        let (stitches, written) = self.stitches();
        let chart = Chart {
            id: about.id.get_ref().clone(),
            title: about.title.get_ref().clone(),
            sits_in: about.sits_in.as_ref().map(|id| id.get_ref().clone()),
            family: about.family.as_ref().unwrap_or(&about.id).get_ref().clone(),
            names: names(about.names.get_ref()),
            laces: about.laces.get_ref().iter().map(|lace| lace.get_ref().clone()).collect(),
            angle: about.angle.as_ref().map_or(45.0, |angle| *angle.get_ref()),
            pin_spacing: self.pin_spacing(),
            notes: about.notes.get_ref().clone(),
            source: about.source.get_ref().clone(),
            choices,
            varieties: self.varieties(),
            across: repeat.across.get_ref().0,
            down: repeat.down.get_ref().0,
            stitches,
        };
        self.report_missed();
        // Where anything else is wrong, stitches may be where they are because of it.
        if self.faults.is_empty() {
            self.report_twins();
        }
        if self.faults.is_empty() {
            self.report_no_repeat(&chart);
        }
        Read {
            chart,
            stitches: written,
            steps: [repeat.across.span(), repeat.down.span()],
            sits_in: about.sits_in.as_ref().map(Spanned::span),
        }
    }

    /// The usual pin spacing, if one that can be pricked is given.
    fn pin_spacing(&mut self) -> Option<f64> {
        let spacing = self.file.about.get_ref().usual_pin_spacing.as_ref()?;
        let ([least, most], mm) = (PIN_SPACING_MM, *spacing.get_ref());
        if !(least..=most).contains(&mm) {
            self.fault(
                spacing.span(),
                format!("a pin spacing of {mm} mm cannot be pricked"),
                format!("give {least} to {most} mm; torchon is 3 to 5: usual-pin-spacing = 4"),
            );
        }
        Some(mm)
    }

    fn format(&mut self) {
        let format = &self.file.format;
        if format.get_ref() != FORMAT {
            self.fault(
                format.span(),
                format!("the format is `{}`", lace::quote(format.get_ref())),
                format!("write \"{FORMAT}\"; if the chart is newer than this program, update the program"),
            );
        }
    }

    fn fault(&mut self, at: Range<usize>, sentence: impl Into<String>, remedy: impl Into<String>) {
        self.fault_between([at], sentence, remedy);
    }

    /// A fault that several places have to do with, the first before all.
    fn fault_between(
        &mut self,
        places: impl IntoIterator<Item = Range<usize>>,
        sentence: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        let mut places = places.into_iter();
        let at = places.next().unwrap_or(0..0);
        let (sentence, remedy) = (sentence.into(), remedy.into());
        self.faults.push(Fault { at, also: places.collect(), sentence, remedy });
    }

    /// Reports a name that stands for nothing. The remedy suggests the nearest of
    /// the `known` ones and ends with `all`.
    fn unknown<'k>(
        &mut self,
        at: Range<usize>,
        sentence: String,
        name: &str,
        known: impl IntoIterator<Item = &'k str>,
        all: impl FnOnce() -> String,
    ) {
        if self.faults.len() >= MOST_SUGGESTIONS {
            return self.fault(at, sentence, format!("{MORE} says what can stand here"));
        }
        // The names in a chart are shown in messages before they are known to be
        // plain words, and one may be given twice.
        let mut known: Vec<String> = known.into_iter().map(lace::quote).collect();
        known.sort();
        known.dedup();
        self.fault(at, sentence, suggest(name, known.iter().map(String::as_str), &all()));
    }

    /// Checks that an id is a plain word that can name a file.
    fn word(&mut self, id: &Spanned<String>, what: &str) {
        let shown = lace::quote(id.get_ref());
        if !lace::is_plain_word(id.get_ref()) {
            self.fault(
                id.span(),
                format!("`{shown}` cannot be the id of {what}"),
                "use a to z, 0 to 9 and hyphens, a letter or digit first, at most 40 characters",
            );
        } else if is_device(id.get_ref()) {
            self.fault(
                id.span(),
                format!("`{shown}` cannot be the id of {what}: some systems keep this name for a device"),
                "choose another name, so that files can be named after it",
            );
        }
    }

    /// Checks that none of the things `before` has the same id.
    fn once<'b>(&mut self, id: &'b Spanned<String>, before: &mut BTreeSet<&'b str>, what: &str) {
        if !before.insert(id.get_ref()) {
            let sentence = format!("two {what} are called `{}`", lace::quote(id.get_ref()));
            self.fault(id.span(), sentence, "rename one of them");
        }
    }
}

fn names(names: &[NameText]) -> Vec<Name> {
    let name = |name: &NameText| Name {
        language: name.language.get_ref().clone(),
        name: name.name.get_ref().clone(),
        source: name.source.get_ref().clone(),
    };
    names.iter().map(name).collect()
}

/// Ids as a list in a message.
fn list<'k>(ids: impl IntoIterator<Item = &'k str>) -> String {
    listed(ids.into_iter().map(|id| format!("`{}`", lace::quote(id))))
}
