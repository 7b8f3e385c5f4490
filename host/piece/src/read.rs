//! Reading a piece: as much of the text as possible, and all faults at once.

mod area;
mod change;
mod colours;
mod ground;
mod outline;
mod value;

use std::ops::Range;

use catalogue::text::{clean, clean_and_cut, is_visible};
use catalogue::written::{Form, Mistake, mistake};
use lace::{Grid, Thread, quote};
use toml::de::{DeTable, DeValue};

use crate::design::{Design, Places};
use crate::{FORMAT, Fault};
use value::Fields;

pub use ground::{LookUp, Missing};

/// Longest title and name, in characters; longer ones are cut.
const LINE_CHARS: usize = 200;
/// Longest sentence about a fault, in characters.
const SENTENCE_CHARS: usize = 1200;
/// Longest notes, in characters.
const MOST_NOTES: usize = 2000;
/// Most pairs that can be allowed.
const MOST_PAIRS: usize = 2000;

/// What a piece looks like.
const FORM: Form<'_> = Form {
    what: "a piece",
    several: &["area", "stitch"],
    once: &["outline", "ground", "edge", "footside", "colours"],
    examples: &[],
    more: "`pairwise piece --help`",
};

/// Whether a text says that it is a piece, in whatever state the rest of it is.
pub fn is_piece(text: &str) -> bool {
    let head = text.lines().map(str::trim).take_while(|line| !line.starts_with('['));
    head.filter_map(|line| line.strip_prefix("format")).any(|rest| {
        let value = rest.trim_start().strip_prefix('=').unwrap_or_default().trim_start();
        value.trim_start_matches(['"', '\'']).starts_with("pairwise-piece/")
    })
}

/// Reads a piece and looks up its grounds.
///
/// # Errors
/// All faults in the order of the lines; if the text is not TOML, the first alone.
pub fn read(text: &str, look_up: &LookUp<'_>) -> Result<Design, Vec<Fault>> {
    let places =
        Places { line_ends: text.match_indices('\n').map(|(at, _)| at).collect(), ..Places::default() };
    let mut reader = Reader { places, look_up, area_names: Vec::new(), faults: Vec::new() };
    let design = match DeTable::parse(text) {
        Ok(table) => reader.design(table.get_ref()),
        Err(why) => {
            let Mistake { at, sentence, remedy } = mistake(text, why.message(), why.span(), &FORM);
            reader.fault(at, sentence, remedy);
            None
        }
    };
    let mut faults = reader.faults;
    faults.sort_by_key(|fault| fault.at.start);
    match design.filter(|_| faults.is_empty()) {
        Some(design) => Ok(design),
        None => Err(faults),
    }
}

/// A piece while it is being read.
struct Reader<'a> {
    places: Places,
    look_up: &'a LookUp<'a>,
    /// The names of all areas so far, also of those with faults.
    area_names: Vec<String>,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    fn fault(&mut self, at: Range<usize>, sentence: impl AsRef<str>, remedy: impl AsRef<str>) {
        self.faults.push(Fault {
            line: self.places.line(&at),
            at,
            sentence: clean_and_cut(sentence.as_ref(), SENTENCE_CHARS),
            remedy: clean_and_cut(remedy.as_ref(), SENTENCE_CHARS),
        });
    }

    /// Everything is read, whatever has failed before.
    fn design(&mut self, table: &DeTable<'_>) -> Option<Design> {
        let mut fields = Fields::new(table, 0..0);
        self.check_format(&mut fields);
        let title = self.title(&mut fields);
        let notes = self.notes(&mut fields);
        let pin_spacing = fields
            .get("pin-spacing")
            .and_then(|mm| self.number(mm, "pin-spacing = 4").map(|n| (n, mm.span())));
        let angle =
            fields.get("angle").and_then(|angle| self.number(angle, "angle = 45").map(|n| (n, angle.span())));
        let thread = self.thread(&mut fields);
        let most_pairs = fields.get("most-pairs").and_then(|most| {
            self.places.most_pairs = most.span();
            let beyond = |n: &str| format!("`most-pairs` cannot be {n}");
            self.whole(most, 4..=MOST_PAIRS, beyond, "most-pairs = 30")
        });
        let outline = self.outline(&mut fields);
        let ground = self.ground(&mut fields);
        let (edge, first) = self.edges(&mut fields, outline);
        let areas = self.areas(&mut fields);
        let changes = self.changes(&mut fields, &areas);
        let (palette, hung) = self.colours(&mut fields);
        self.leave(&fields);
        let grid = self.grid(pin_spacing, angle, ground.as_ref().map(|ground| ground.chosen.about()));
        let (outline, ground, grid) = (outline?, ground?, grid?);
        let thread = thread.unwrap_or_else(|| Thread::suiting(grid.pin_spacing_mm()));
        Some(Design {
            title,
            notes,
            grid,
            thread,
            outline,
            ground,
            areas,
            edge,
            first,
            changes,
            most_pairs,
            palette,
            hung,
            places: std::mem::take(&mut self.places),
        })
    }

    /// Reports that a key is missing where it is needed.
    fn missing(&mut self, fields: &Fields<'_>, key: &str, example: &str) {
        self.fault(fields.at.clone(), format!("`{key}` is missing here"), format!("add {example}"));
    }

    fn check_format(&mut self, fields: &mut Fields<'_>) {
        let line = format!("format = \"{FORMAT}\"");
        let Some(format) = fields.get("format") else {
            return self.missing(fields, "format", &format!("the line {line}, before everything else"));
        };
        if let Some(written) = self.words(format, &line).filter(|&written| written != FORMAT) {
            self.fault(
                format.span(),
                format!("the format is `{}`", quote(written)),
                format!("write \"{FORMAT}\"; if the piece is newer than this program, update the program"),
            );
        }
    }

    fn title(&mut self, fields: &mut Fields<'_>) -> String {
        let example = "title = \"Bookmark with four roses\"";
        let Some(title) = fields.get("title") else {
            self.missing(fields, "title", &format!("a line, for example {example}"));
            return String::new();
        };
        let cleaned = self.words(title, example).map(|words| clean_and_cut(words, LINE_CHARS));
        if cleaned.as_deref().is_some_and(|cleaned| !is_visible(cleaned)) {
            self.fault(title.span(), "there is no title", "write what the piece is");
        }
        cleaned.unwrap_or_default()
    }

    fn notes(&mut self, fields: &mut Fields<'_>) -> String {
        let Some(notes) = fields.get("notes") else { return String::new() };
        let cleaned =
            self.words(notes, "notes = \"Begin with the open start.\"").map(clean).unwrap_or_default();
        let long = cleaned.chars().count();
        if long > MOST_NOTES {
            let sentence = format!("these notes have {long} characters; there is room for {MOST_NOTES}");
            self.fault(notes.span(), sentence, "shorten them");
        }
        cleaned
    }

    /// The thread: `thickness` is measured, and so it comes first.
    fn thread(&mut self, fields: &mut Fields<'_>) -> Option<Thread> {
        let example = "thread = \"30 wraps/cm\" or thread = \"60/2 linen\"";
        let (thread, thickness) = (fields.get("thread"), fields.get("thickness"));
        let read =
            |reader: &mut Self, text: &str, at: Range<usize>, example: &str| match text.parse::<Thread>() {
                Ok(thread) => Some(thread),
                Err(why) => {
                    reader.fault(at, why.to_string(), format!("for example {example}"));
                    None
                }
            };
        let named = thread.and_then(|value| {
            let text = self.words(value, example)?;
            read(self, text, value.span(), example)
        });
        let measured = thickness.and_then(|value| {
            let example = "thickness = 0.3, in mm";
            let mm = self.number(value, example)?;
            read(self, &format!("{mm} mm"), value.span(), example)
        });
        measured.or(named)
    }

    /// The grid, at the spacing and angle that are usual for the ground if none are given.
    fn grid(
        &mut self,
        pin_spacing: Option<(f64, Range<usize>)>,
        angle: Option<(f64, Range<usize>)>,
        about: Option<&catalogue::About>,
    ) -> Option<Grid> {
        let usual = about.map_or([4.0, 45.0], |about| [about.usual_pin_spacing_mm(), about.angle]);
        let mm = pin_spacing.as_ref().map_or(usual[0], |(mm, _)| *mm);
        let degrees = angle.as_ref().map_or(usual[1], |(degrees, _)| *degrees);
        if let Ok(grid) = Grid::new(mm, degrees) {
            return Some(grid);
        }
        // Each on its own, with a value for the other that is all right.
        if let (Err(why), Some((_, at))) = (Grid::new(mm, 45.0), pin_spacing) {
            let remedy = "torchon is often pricked at 3 to 5 mm: pin-spacing = 4; without it, the ground has its usual spacing";
            self.fault(at, why.to_string(), remedy);
        }
        if let (Err(why), Some((_, at))) = (Grid::new(4.0, degrees), angle) {
            let remedy = "torchon is pricked at 45, point grounds at 52 to 70: angle = 45";
            self.fault(at, why.to_string(), remedy);
        }
        None
    }

    /// A part of the text with one bracket, such as `[outline]`.
    fn part<'t>(&mut self, fields: &mut Fields<'t>, name: &'static str) -> Option<Fields<'t>> {
        let value = fields.get(name)?;
        let Some(table) = value.get_ref().as_table() else {
            let of_tables = value.get_ref().as_array().and_then(|all| all.iter().next());
            if of_tables.is_some_and(|first| first.get_ref().is_table()) {
                let sentence =
                    format!("there can be only one `{name}`, and two brackets begin one of several");
                self.fault(value.span(), sentence, format!("write [{name}]"));
            } else {
                let sentence = format!("`{name}` is a part of its own");
                self.fault(value.span(), sentence, format!("begin it with [{name}] on a line of its own"));
            }
            return None;
        };
        Some(Fields::new(table, value.span()))
    }

    /// The parts with two brackets of one name, such as `[[area]]`.
    fn parts<'t>(&mut self, fields: &mut Fields<'t>, name: &'static str, most: usize) -> Vec<Fields<'t>> {
        let Some(value) = fields.get(name) else { return Vec::new() };
        let entries = value.get_ref().as_array().map_or(&[][..], |all| &all[..]);
        let tables: Option<Vec<Fields<'t>>> = entries
            .iter()
            .take(most)
            .map(|entry| entry.get_ref().as_table().map(|table| Fields::new(table, entry.span())))
            .collect();
        if let Some(over) = entries.get(most) {
            let sentence = format!("there are {} of these parts; there is room for {most}", entries.len());
            self.fault(over.span(), sentence, "leave out this one and those after it");
        }
        if let (Some(tables), DeValue::Array(_)) = (tables, value.get_ref()) {
            return tables;
        }
        if value.get_ref().is_table() {
            let sentence = format!("each {name} begins with two brackets, and here is one");
            self.fault(value.span(), sentence, format!("write [[{name}]], for every {name}"));
        } else {
            let sentence = format!("each {name} is a part of its own");
            self.fault(value.span(), sentence, format!("begin each with [[{name}]] on a line of its own"));
        }
        Vec::new()
    }
}

#[cfg(test)]
mod tests;
