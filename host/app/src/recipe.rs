//! The recipe of a class, `pairwise-recipe/1`: which grounds, in which colours,
//! how large. Small TOML files, written by hand; every fault is told with its
//! line and what to do.

use std::collections::BTreeMap;
use std::ops::Range;
use std::path::Path;

use catalogue::suggest;
use catalogue::text::clean_and_cut;
use catalogue::{Catalogue, Chosen, GroundName, LeftOut};
use chart_files::Fault;
use compare::palette::{Colour, NAME_CHARS, Palette};
use lace::{Arrangement, Grid, Thread};
use lace::{colour_letter, limits::MAX_COLOURS};
use picture::drawing::Size;
use picture::drawing::pricking::Paper;
use picture::page::handout::{LargestAreas, MOST_GROUNDS, MOST_NOTES, room};
use serde::Deserialize;
use toml::{Spanned, Value};

use crate::area::Area;
use crate::cli::ClassPaper;
use crate::failure::Failure;
use crate::faults::ShownText;
use crate::input::{name_of, text_in};

/// The format that recipes name.
pub const FORMAT: &str = "pairwise-recipe/1";
/// Largest recipe, bytes.
const MOST_BYTES: u64 = 1 << 18;
/// Longest title and line about the class, characters; what is longer is cut.
const LINE_CHARS: usize = 200;
/// Longest sentence about what is wrong, characters.
const SENTENCE_CHARS: usize = 1200;
/// Distance between two footside pins, mm, and the size of a pricking, mm,
/// without any in the recipe.
const USUAL_SPACING: f64 = 4.0;
const USUAL_AREA: Area = Area { width: 40.0, height: 60.0 };
/// Most stitches in one pricking, as for `sheet`.
const MOST_STITCHES: f64 = 50_000.0;

const FIELDS: &str = "a recipe has format, title, class, notes, paper, pin-spacing, thread, colours, arrangement, \
                      and for every ground [[ground]] with name, with, arrangement, area, notes";

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    format: Spanned<String>,
    title: Spanned<String>,
    class: Option<String>,
    notes: Option<Spanned<String>>,
    paper: Option<Spanned<String>>,
    pin_spacing: Option<Spanned<f64>>,
    thread: Option<Spanned<String>>,
    colours: Option<Spanned<Vec<Spanned<Value>>>>,
    arrangement: Option<Spanned<String>>,
    #[serde(default, rename = "ground")]
    grounds: Vec<Spanned<GroundText>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GroundText {
    name: Spanned<String>,
    #[serde(default)]
    with: BTreeMap<Spanned<String>, Spanned<Value>>,
    arrangement: Option<Spanned<String>>,
    area: Option<Spanned<String>>,
    notes: Option<Spanned<String>>,
}

/// A recipe without faults.
pub struct Recipe {
    /// The title.
    pub title: String,
    /// The class in the teacher's words; may be empty.
    pub class: String,
    /// Words for the cover; may be empty.
    pub notes: String,
    /// The paper.
    pub paper: Paper,
    /// Distance between two footside pins, mm.
    pub pin_spacing: f64,
    /// The thread as it is written.
    pub thread: Option<String>,
    /// The colours.
    pub palette: Palette,
    /// The grounds.
    pub grounds: Vec<Wanted>,
}

/// A ground of a recipe.
pub struct Wanted {
    /// Its name as it is written.
    pub name: String,
    /// Choices made otherwise: choice and value.
    pub with: Vec<(String, String)>,
    /// The colour order.
    pub order: Arrangement,
    /// The area of its pricking.
    pub area: Area,
    /// The teacher's notes; may be empty.
    pub notes: String,
    /// The ground, or why it cannot be shown: what is missing, and why.
    pub chosen: Result<Chosen, Vec<String>>,
}

impl ClassPaper {
    /// Its size.
    pub const fn paper(self) -> Paper {
        match self {
            ClassPaper::A4 => Paper::A4,
            ClassPaper::Letter => Paper::LETTER,
        }
    }

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            ClassPaper::A4 => "A4",
            ClassPaper::Letter => "Letter",
        }
    }
}

/// A recipe with faults.
pub struct Faulty {
    /// What can be read of it, all that is at fault being as usual; `None` where
    /// nothing can.
    pub recipe: Option<Recipe>,
    /// The faults for whoever has not the recipe before them; none where there
    /// is no such file.
    pub told: Vec<Told>,
    /// The same, each shown where it stands.
    pub failure: Failure,
}

/// A fault of a recipe in words.
pub struct Told {
    /// Its line, from 1.
    pub line: usize,
    /// The number of the ground it is of, from 0.
    pub ground: Option<usize>,
    /// What is wrong.
    pub sentence: String,
    /// What to do.
    pub remedy: String,
}

impl From<Failure> for Faulty {
    fn from(failure: Failure) -> Self {
        Faulty { recipe: None, told: Vec::new(), failure }
    }
}

/// Reads a recipe and looks up its grounds. `paper` goes before that of the
/// recipe.
///
/// # Errors
/// All faults that can be told at once, each with its line; where it is no TOML
/// or not of this form, the first only.
pub fn read(path: &Path, paper: Option<ClassPaper>, catalogue: &Catalogue) -> Result<Recipe, Box<Faulty>> {
    let text = text_in(path, MOST_BYTES, "a recipe", "recipes are small texts");
    let text = text.map_err(|failure| Box::new(failure.into()))?;
    let (recipe, faults) = match read_text(&text, paper, catalogue) {
        (Some(recipe), faults) if faults.is_empty() => return Ok(recipe),
        faulty => faulty,
    };
    let told = faults.iter().map(|(ground, fault)| Told {
        line: 1 + text[..fault.at.start.min(text.len())].matches('\n').count(),
        ground: *ground,
        sentence: clean_and_cut(&fault.sentence, SENTENCE_CHARS),
        remedy: clean_and_cut(&fault.remedy, SENTENCE_CHARS),
    });
    let told = told.collect();
    let faults = faults.into_iter().map(|(_, fault)| fault).collect();
    Err(Box::new(Faulty {
        recipe,
        told,
        failure: ShownText::new(&name_of(path), &text).report_read(faults).into(),
    }))
}

/// Faults, and of which ground each is.
type Faults = Vec<(Option<usize>, Fault)>;

/// What can be read of a recipe, and its faults in the order of the lines.
fn read_text(text: &str, paper: Option<ClassPaper>, catalogue: &Catalogue) -> (Option<Recipe>, Faults) {
    let file: File = match toml::from_str(text) {
        Ok(file) => file,
        Err(why) => {
            let at = why.span().unwrap_or(0..0);
            let sentence = why.message().trim().replace('\n', " ");
            return (None, vec![(None, Fault { at, remedy: remedy(&sentence), sentence })]);
        }
    };
    let mut reader = Reader { catalogue, reading: None, faults: Vec::new() };
    let recipe = reader.read(&file, paper);
    let mut faults = reader.faults;
    faults.sort_by_key(|(_, fault)| fault.at.start);
    (Some(recipe), faults)
}

/// The remedy for what the reader of TOML says, which for an unknown field
/// names it and then those that are known.
fn remedy(sentence: &str) -> String {
    let mut words = sentence.split('`').skip(1).step_by(2);
    match words.next() {
        Some(unknown) if sentence.starts_with("unknown field") => suggest(unknown, words, FIELDS),
        _ => FIELDS.to_owned(),
    }
}

struct Reader<'a> {
    catalogue: &'a Catalogue,
    /// The ground that is being read.
    reading: Option<usize>,
    faults: Faults,
}

impl<'a> Reader<'a> {
    fn fault(&mut self, at: Range<usize>, sentence: impl Into<String>, remedy: impl Into<String>) {
        let fault = Fault { at, sentence: sentence.into(), remedy: remedy.into() };
        self.faults.push((self.reading, fault));
    }

    fn read(&mut self, file: &File, paper: Option<ClassPaper>) -> Recipe {
        if file.format.get_ref() != FORMAT {
            self.fault(
                file.format.span(),
                format!("the format is `{}`", lace::quote(file.format.get_ref())),
                format!("write \"{FORMAT}\"; if the recipe is newer than this program, update the program"),
            );
        }
        let title = clean_and_cut(file.title.get_ref(), LINE_CHARS);
        if title.is_empty() {
            self.fault(file.title.span(), "there is no title", "write what the class is to make");
        }
        let asked = file.paper.as_ref().and_then(|paper| self.paper(paper));
        let paper = paper.or(asked).unwrap_or(ClassPaper::A4);
        let mut pin_spacing = file.pin_spacing.as_ref().map_or(USUAL_SPACING, |mm| *mm.get_ref());
        if let (Some(mm), Err(why)) = (&file.pin_spacing, Grid::new(pin_spacing, 45.0)) {
            self.fault(mm.span(), why.to_string(), "torchon is often pricked at 3 to 6 mm: pin-spacing = 4");
            pin_spacing = USUAL_SPACING;
        }
        let mut thread = file.thread.as_ref().map(|thread| thread.get_ref().clone());
        if let Some(written) = &file.thread
            && let Err(why) = written.get_ref().parse::<Thread>()
        {
            let help = "for example thread = \"30 wraps/cm\" or thread = \"60/2 linen\"";
            self.fault(written.span(), why.to_string(), help);
            thread = None;
        }
        let palette = file.colours.as_ref().map_or_else(Palette::default, |list| self.palette(list));
        let usual = Arrangement::of_pairs(if palette.colours().len() > 1 { &[0, 0, 1, 1] } else { &[0] });
        let order = file.arrangement.as_ref().map_or(usual, |order| self.order(order, &palette));
        if file.grounds.is_empty() {
            self.fault(
                file.title.span(),
                "no ground is chosen",
                "write for each [[ground]], then name = \"rose/plain\" on a line of its own; `pairwise grounds` lists all",
            );
        }
        if let Some(over) = file.grounds.get(MOST_GROUNDS) {
            self.fault(
                over.span(),
                format!("{} grounds; a handout has pages for {MOST_GROUNDS}", file.grounds.len()),
                "leave out this ground and those after it, or write a second recipe",
            );
        }
        let notes = self.notes(file.notes.as_ref());
        let grounds = file.grounds.iter().take(MOST_GROUNDS).enumerate().map(|(k, ground)| {
            self.reading = Some(k);
            let ground = ground.get_ref();
            let own = ground.arrangement.as_ref().map(|own| self.order(own, &palette));
            let mut area = ground.area.as_ref().map_or(USUAL_AREA, |area| self.area(area, paper));
            let notes = self.notes(ground.notes.as_ref());
            let (with, chosen) = self.ground(ground);
            if let (Ok(chosen), Some(at)) = (&chosen, &ground.area)
                && !self.has_room(chosen, pin_spacing, area, at.span())
            {
                area = USUAL_AREA;
            }
            Wanted {
                name: clean_and_cut(ground.name.get_ref(), LINE_CHARS),
                with,
                order: own.unwrap_or_else(|| order.clone()),
                area,
                notes,
                chosen,
            }
        });
        let grounds = grounds.collect();
        Recipe {
            title,
            class: clean_and_cut(file.class.as_deref().unwrap_or_default(), LINE_CHARS),
            notes,
            paper: paper.paper(),
            pin_spacing,
            thread,
            palette,
            grounds,
        }
    }

    fn paper(&mut self, paper: &Spanned<String>) -> Option<ClassPaper> {
        let name = paper.get_ref().trim();
        let found =
            [ClassPaper::A4, ClassPaper::Letter].into_iter().find(|p| p.name().eq_ignore_ascii_case(name));
        if found.is_none() {
            let sentence = format!("the paper `{}` is not known", lace::quote(name));
            self.fault(paper.span(), sentence, "handouts are printed on A4 or Letter: paper = \"A4\"");
        }
        found
    }

    fn notes(&mut self, notes: Option<&Spanned<String>>) -> String {
        let Some(notes) = notes else { return String::new() };
        let cleaned = catalogue::text::clean(notes.get_ref());
        let long = cleaned.chars().count();
        if long > MOST_NOTES {
            self.fault(
                notes.span(),
                format!("these notes have {long} characters; there is room for {MOST_NOTES}"),
                "say it more briefly: the pages have lines to write on",
            );
        }
        cleaned
    }

    fn palette(&mut self, list: &Spanned<Vec<Spanned<Value>>>) -> Palette {
        let form = "write colours = [\"navy\", \"#e07b39\"] or colours = [{ name = \"old rose\", rgb = \"#c08081\" }]";
        let entries = list.get_ref();
        if entries.is_empty() {
            self.fault(list.span(), "there is no colour", form);
            return Palette::default();
        }
        if let Some(over) = entries.get(MAX_COLOURS) {
            let sentence = format!("{} colours; there are letters for {MAX_COLOURS}", entries.len());
            self.fault(over.span(), sentence, "leave out this colour and those after it");
        }
        let mut colours = Vec::with_capacity(entries.len());
        for entry in entries {
            let text = |key: &str| entry.get_ref().get(key).and_then(Value::as_str);
            let (name, rgb) = match entry.get_ref() {
                Value::String(name) => (name.as_str(), name.as_str()),
                Value::Table(table) if table.len() == 2 => match (text("name"), text("rgb")) {
                    (Some(name), Some(rgb)) => (name, rgb),
                    _ => {
                        self.fault(entry.span(), "a colour has a name and rgb, both in quotes", form);
                        continue;
                    }
                },
                _ => {
                    self.fault(entry.span(), "this is no colour", form);
                    continue;
                }
            };
            let name = clean_and_cut(name, NAME_CHARS);
            match rgb.trim().parse::<Colour>() {
                Ok(found) if !name.is_empty() => colours.push(Colour { name, rgb: found.rgb }),
                Ok(_) => self.fault(entry.span(), "the colour has no name", form),
                Err(_) => {
                    let all = "give a CSS colour name or #rrggbb";
                    let names: Vec<&str> = palette::named::names().collect();
                    let sentence = format!("the colour `{}` is not known", clean_and_cut(rgb, NAME_CHARS));
                    self.fault(entry.span(), sentence, suggest(rgb, names, all));
                }
            }
        }
        // Whatever was at fault keeps its letter, so that no order is blamed.
        let spare = Colour { name: "unknown colour".to_owned(), rgb: [0; 3] };
        colours.resize(entries.len().min(MAX_COLOURS), spare);
        Palette::of(colours)
    }

    fn order(&mut self, order: &Spanned<String>, palette: &Palette) -> Arrangement {
        let help = "for example arrangement = \"A A B B\" or arrangement = \"4A 4B\"";
        let read: Result<Arrangement, _> = order.get_ref().parse();
        match read {
            Ok(read) if read.colours() <= palette.colours().len() => read,
            Ok(read) => {
                let (wants, has) = (read.colours(), palette.colours().len());
                self.fault(
                    order.span(),
                    format!(
                        "the arrangement uses the letter {}, but {} given",
                        colour_letter(wants as u8 - 1),
                        if has == 1 {
                            "only one colour is".to_owned()
                        } else {
                            format!("only {has} colours are")
                        }
                    ),
                    format!(
                        "give {wants} colours in `colours`, or use letters up to {}",
                        colour_letter(has as u8 - 1)
                    ),
                );
                Arrangement::of_pairs(&[0])
            }
            Err(why) => {
                self.fault(order.span(), why.to_string(), help);
                Arrangement::of_pairs(&[0])
            }
        }
    }

    fn area(&mut self, area: &Spanned<String>, paper: ClassPaper) -> Area {
        match area.get_ref().parse::<Area>() {
            Ok(read) if room(paper.paper(), Size { width: read.width, height: read.height }) => return read,
            Ok(read) => {
                let LargestAreas { widest, highest } = LargestAreas::of(paper.paper());
                self.fault(
                    area.span(),
                    format!(
                        "a pricking of {} by {} mm has no room on one page of {} with all the rest",
                        read.width,
                        read.height,
                        paper.name()
                    ),
                    format!(
                        "give at most {}x{} or {}x{}; `pairwise sheet --show pricking` makes larger ones",
                        widest.width, widest.height, highest.width, highest.height
                    ),
                );
            }
            Err(why) => self.fault(
                area.span(),
                format!("`{}` is no area", lace::quote(area.get_ref())),
                format!("{why}: area = \"40x60\""),
            ),
        }
        USUAL_AREA
    }

    /// Whether a pricking of an area is not too large.
    fn has_room(&mut self, chosen: &Chosen, spacing: f64, area: Area, at: Range<usize>) -> bool {
        let Ok(grid) = Grid::new(spacing, chosen.about().angle) else { return true };
        let measures = chosen.ground.measures(&grid);
        let repeats = area.width * area.height / (measures.repeat_width_mm * measures.repeat_height_mm);
        let stitches = repeats * measures.stitches_per_repeat as f64;
        if stitches > MOST_STITCHES {
            self.fault(
                at,
                format!("{} by {} mm hold about {stitches:.0} stitches", area.width, area.height),
                format!(
                    "give a smaller area or a larger pin-spacing: at most {MOST_STITCHES} stitches are drawn"
                ),
            );
        }
        stitches <= MOST_STITCHES
    }

    /// The ground and its changed choices. What is wrong with the recipe is a
    /// fault; what is wrong with a contribution is said on the page.
    #[allow(clippy::type_complexity, reason = "said in the fields of `Wanted`")]
    fn ground(&mut self, ground: &GroundText) -> (Vec<(String, String)>, Result<Chosen, Vec<String>>) {
        let name = ground.name.get_ref();
        let GroundName { ground: id, variety } = name.as_str().into();
        let (id, variety) = (id.as_str(), variety.as_deref());
        // The fault says it.
        let missing = || Err(Vec::new());
        let Some(entry) = self.catalogue.get(id) else {
            let whose = |file: &str| file.strip_suffix(".wasm").is_some_and(|stem| ends_with_name(stem, id));
            let failed = self.catalogue.left_out().iter().find(|out| whose(&out.file));
            if let Some(LeftOut { file, why }) = failed {
                let why = sentence_end(why);
                return (Vec::new(), Err(vec![format!("The contribution {file} could not be used: {why}")]));
            }
            let known = self.catalogue.entries().iter().map(|entry| entry.about().id.as_str());
            let help = suggest(id, known, "`pairwise grounds` lists all grounds");
            let sentence = format!("the ground `{}` is not known", clean_and_cut(id, LINE_CHARS));
            self.fault(ground.name.span(), sentence, help);
            return (Vec::new(), missing());
        };
        let about = entry.about();
        let lists = format!("`pairwise grounds {id}` lists its varieties and choices");
        if let Err(why) = about.resolve(variety, &[]) {
            self.fault(ground.name.span(), why.to_string(), lists);
            return (Vec::new(), missing());
        }
        let mut with = Vec::new();
        for (choice, value) in &ground.with {
            let text = match value.get_ref() {
                Value::String(text) => text.clone(),
                other => other.to_string(),
            };
            let change = (choice.get_ref().clone(), text);
            match about.resolve(variety, std::slice::from_ref(&change)) {
                Ok(_) => with.push(change),
                Err(why) => {
                    let unknown = !about.choices.contains_key(choice.get_ref());
                    let at = if unknown { choice.span() } else { value.span() };
                    self.fault(at, why.to_string(), lists.clone());
                }
            }
        }
        let chosen = entry.choose(variety, &with);
        (with, chosen.map_err(|why| vec![sentence_end(&clean_and_cut(&why.to_string(), SENTENCE_CHARS))]))
    }
}

/// Whether a path ends with a name.
fn ends_with_name(path: &str, name: &str) -> bool {
    path.rsplit(['/', '\\']).next() == Some(name)
}

/// A sentence with its full stop.
fn sentence_end(sentence: &str) -> String {
    format!("{}.", sentence.trim_end_matches('.'))
}
