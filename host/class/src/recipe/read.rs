//! Reading a recipe: as much of it as possible, and all faults at once.

use std::ops::Range;

use catalogue::Catalogue;
use catalogue::text::{clean, clean_and_cut, is_visible};
use catalogue::written::{Form, Mistake, mistake};
use compare::palette::Palette;
use lace::{Arrangement, Grid, Thread};
use picture::page::handout::{MOST_GROUNDS, MOST_NOTES};
use toml::Spanned;

use super::file::{File, GroundText};
use super::{FORMAT, Found, ReadRecipe, Recipe, RecipeFault, RecipeGround};
use crate::area::Area;
use crate::paper::ClassPaper;

/// Longest title, name, and line about the class, in characters; longer ones are
/// cut.
pub(super) const LINE_CHARS: usize = 200;
/// Longest sentence about a fault, in characters.
pub(super) const SENTENCE_CHARS: usize = 1200;
/// Size of a pricking, in mm, if the recipe gives none.
pub(super) const USUAL_AREA: Area = Area { width: 40.0, height: 60.0 };

/// Reads a recipe and looks up its grounds. `paper` overrides the recipe's.
///
/// If the text is not TOML, or not of this form, only the first fault is
/// reported.
pub fn read(text: &str, paper: Option<ClassPaper>, catalogue: &Catalogue) -> ReadRecipe {
    let line_ends = text.match_indices('\n').map(|(at, _)| at).collect();
    let mut reader = Reader { line_ends, catalogue, reading: None, faults: Vec::new() };
    let recipe = match toml::from_str::<File>(text) {
        Ok(file) => Some(reader.recipe(&file, paper)),
        Err(why) => {
            let Mistake { at, sentence, remedy } = mistake(text, why.message(), why.span(), &FORM);
            reader.fault(at, sentence, remedy);
            None
        }
    };
    let mut faults = reader.faults;
    faults.sort_by_key(|fault| fault.at.start);
    ReadRecipe { recipe, faults }
}

/// What a recipe looks like.
const FORM: Form<'_> = Form {
    what: "a recipe",
    several: &["ground"],
    once: &[],
    examples: &[
        ("name", "name = \"rose/plain\""),
        ("format", "format = \"pairwise-recipe/1\", before everything else"),
        ("title", "title = \"Two-colour bookmarks\""),
    ],
    more: "`pairwise handout --help`",
};

/// A recipe while it is being read.
pub(super) struct Reader<'a> {
    /// Where the lines end, in bytes of the text.
    line_ends: Vec<usize>,
    pub(super) catalogue: &'a Catalogue,
    /// The ground being read.
    reading: Option<usize>,
    faults: Vec<RecipeFault>,
}

/// Values for all grounds that do not set their own.
struct Common {
    paper: ClassPaper,
    pin_spacing_mm: Option<f64>,
    palette: Palette,
    arrangement: Arrangement,
}

impl Reader<'_> {
    pub(super) fn fault(&mut self, at: Range<usize>, sentence: impl AsRef<str>, remedy: impl AsRef<str>) {
        self.faults.push(RecipeFault {
            line: 1 + self.line_ends.partition_point(|end| *end < at.start),
            at,
            ground: self.reading,
            sentence: clean_and_cut(sentence.as_ref(), SENTENCE_CHARS),
            remedy: clean_and_cut(remedy.as_ref(), SENTENCE_CHARS),
        });
    }

    fn recipe(&mut self, file: &File, paper: Option<ClassPaper>) -> Recipe {
        self.check_format(&file.format);
        let title = self.title(&file.title);
        let asked = file.paper.as_ref().and_then(|paper| self.paper(paper));
        let paper = paper.or(asked).unwrap_or(ClassPaper::A4);
        let pin_spacing_mm = file.pin_spacing.as_ref().and_then(|mm| self.pin_spacing(mm));
        let thread = file.thread.as_ref().and_then(|thread| self.thread(thread));
        let palette = file.colours.as_ref().map_or_else(Palette::default, |list| self.palette(list));
        let usual = Arrangement::of_pairs(if palette.colours().len() > 1 { &[0, 0, 1, 1] } else { &[0] });
        let arrangement = file.arrangement.as_ref().map_or(usual, |text| self.arrangement(text, &palette));
        self.check_number_of_grounds(file);
        let notes = self.notes(file.notes.as_ref());
        let common = Common { paper, pin_spacing_mm, palette, arrangement };
        let grounds = file.grounds.iter().take(MOST_GROUNDS).enumerate().map(|(k, ground)| {
            self.reading = Some(k);
            self.recipe_ground(ground.get_ref(), &common)
        });
        let grounds = grounds.collect();
        Recipe {
            title,
            class: clean_and_cut(file.class.as_deref().unwrap_or_default(), LINE_CHARS),
            notes,
            paper: common.paper.paper(),
            pin_spacing_mm,
            thread,
            palette: common.palette,
            grounds,
        }
    }

    fn recipe_ground(&mut self, ground: &GroundText, common: &Common) -> RecipeGround {
        let own = ground.arrangement.as_ref().map(|own| self.arrangement(own, &common.palette));
        let pin_spacing_mm = ground.pin_spacing.as_ref().and_then(|mm| self.pin_spacing(mm));
        let mut area = ground.area.as_ref().map_or(USUAL_AREA, |area| self.area(area, common.paper));
        let notes = self.notes(ground.notes.as_ref());
        let (with, found) = self.find(ground);
        if let (Found::Ground(chosen), Some(at)) = (&found, &ground.area)
            && !self.is_small_enough(chosen, pin_spacing_mm.or(common.pin_spacing_mm), area, at.span())
        {
            area = USUAL_AREA;
        }
        if let Found::Ground(chosen) = &found {
            let spacing_mm = pin_spacing_mm.or(common.pin_spacing_mm);
            self.check_pins(chosen, spacing_mm, area, ground.name.span());
        }
        RecipeGround {
            name: clean_and_cut(ground.name.get_ref(), LINE_CHARS),
            with,
            arrangement: own.unwrap_or_else(|| common.arrangement.clone()),
            pin_spacing_mm,
            area,
            notes,
            found,
        }
    }

    fn check_format(&mut self, format: &Spanned<String>) {
        if format.get_ref() != FORMAT {
            self.fault(
                format.span(),
                format!("the format is `{}`", lace::quote(format.get_ref())),
                format!("write \"{FORMAT}\"; if the recipe is newer than this program, update the program"),
            );
        }
    }

    fn title(&mut self, title: &Spanned<String>) -> String {
        let cleaned = clean_and_cut(title.get_ref(), LINE_CHARS);
        if !is_visible(&cleaned) {
            self.fault(title.span(), "there is no title", "write what the class is to make");
        }
        cleaned
    }

    fn paper(&mut self, paper: &Spanned<String>) -> Option<ClassPaper> {
        let name = paper.get_ref().trim();
        let found = ClassPaper::named(name);
        if found.is_none() {
            let sentence = format!("the paper `{}` is not known", lace::quote(name));
            self.fault(paper.span(), sentence, "handouts are printed on A4 or Letter: paper = \"A4\"");
        }
        found
    }

    fn pin_spacing(&mut self, mm: &Spanned<f64>) -> Option<f64> {
        // Any usual angle will do for checking the spacing.
        match Grid::new(*mm.get_ref(), 45.0) {
            Ok(_) => Some(*mm.get_ref()),
            Err(why) => {
                let remedy = "torchon is often pricked at 3 to 5 mm: pin-spacing = 4; without it, each ground has its usual spacing";
                self.fault(mm.span(), why.to_string(), remedy);
                None
            }
        }
    }

    fn thread(&mut self, thread: &Spanned<String>) -> Option<String> {
        match thread.get_ref().parse::<Thread>() {
            Ok(_) => Some(thread.get_ref().clone()),
            Err(why) => {
                let remedy = "for example thread = \"30 wraps/cm\" or thread = \"60/2 linen\"";
                self.fault(thread.span(), why.to_string(), remedy);
                None
            }
        }
    }

    fn check_number_of_grounds(&mut self, file: &File) {
        if file.grounds.is_empty() {
            self.fault(
                file.title.span(),
                "no ground is chosen",
                "for each ground write [[ground]], then name = \"rose/plain\" on a line of its own; `pairwise grounds` lists all",
            );
        }
        if let Some(over) = file.grounds.get(MOST_GROUNDS) {
            self.fault(
                over.span(),
                format!("there are {} grounds; a handout has room for {MOST_GROUNDS}", file.grounds.len()),
                "leave out this ground and those after it, or write a second recipe",
            );
        }
    }

    fn notes(&mut self, notes: Option<&Spanned<String>>) -> String {
        let Some(notes) = notes else { return String::new() };
        let cleaned = clean(notes.get_ref());
        let long = cleaned.chars().count();
        if long > MOST_NOTES {
            self.fault(
                notes.span(),
                format!("these notes have {long} characters; there is room for {MOST_NOTES}"),
                "shorten them: the pages have lines to write on",
            );
        }
        cleaned
    }
}
