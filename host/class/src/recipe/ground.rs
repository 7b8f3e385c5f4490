//! The grounds of a recipe: looked up in the catalogue, and their areas.

use std::ops::Range;

use catalogue::near::did_you_mean;
use catalogue::text::clean_and_cut;
use catalogue::{About, Change, ChooseError, Chosen, GroundName, LeftOut, Meant};
use compare::scale::Pricking;
use picture::drawing::Rect;
use picture::drawing::pricking::can_be_pricked;
use picture::page::handout::{LargestAreas, room};
use toml::{Spanned, Value};

use super::Found;
use super::file::GroundText;
use super::read::{LINE_CHARS, Reader, SENTENCE_CHARS, USUAL_AREA};
use crate::area::Area;
use crate::paper::ClassPaper;

/// Most stitches in one pricking, the same as for a sheet.
const MOST_STITCHES: f64 = 50_000.0;

impl Reader<'_> {
    pub(super) fn area(&mut self, area: &Spanned<String>, paper: ClassPaper) -> Area {
        match area.get_ref().parse::<Area>() {
            Ok(read) if room(paper.paper(), read.size()) => return read,
            Ok(read) => {
                let LargestAreas { widest, highest } = LargestAreas::of(paper.paper());
                self.fault(
                    area.span(),
                    format!(
                        "a pricking of {} by {} mm does not fit on one page of {} with everything else",
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
                format!("`{}` is not an area", lace::quote(area.get_ref())),
                format!("{why}: area = \"40x60\""),
            ),
        }
        USUAL_AREA
    }

    /// Whether the pricking of an area has few enough stitches to draw.
    pub(super) fn is_small_enough(
        &mut self,
        chosen: &Chosen,
        spacing_mm: Option<f64>,
        area: Area,
        at: Range<usize>,
    ) -> bool {
        let pricking = Pricking { pin_spacing_mm: spacing_mm, angle_deg: None };
        let Ok(grid) = pricking.grid(chosen.about()) else { return true };
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

    /// Reports pins that would lie too close together.
    pub(super) fn check_pins(
        &mut self,
        chosen: &Chosen,
        pin_spacing_mm: Option<f64>,
        area: Area,
        at: Range<usize>,
    ) {
        let pricking = Pricking { pin_spacing_mm, angle_deg: None };
        let Ok(grid) = pricking.grid(chosen.about()) else { return };
        let shown = Rect { x: 0.0, y: 0.0, width: area.width, height: area.height };
        if let Err(why) = can_be_pricked(&chosen.ground, &grid, shown) {
            self.fault(at, why.to_string(), "give a larger pin-spacing");
        }
    }

    /// The ground and its changed choices. An error in the recipe is a fault; an
    /// error in a contribution is explained on the ground's page.
    pub(super) fn find(&mut self, ground: &GroundText) -> (Vec<Change>, Found) {
        let Meant { entry, variety } = match self.catalogue.meant(ground.name.get_ref()) {
            Ok(meant) => meant,
            Err(why) => return (Vec::new(), self.not_in_catalogue(why, &ground.name)),
        };
        let (about, variety) = (entry.about(), variety.as_deref());
        if let Err(why) = about.resolve(variety, &[]) {
            self.fault(ground.name.span(), why.to_string(), lists(about));
            return (Vec::new(), Found::Missing(Vec::new()));
        }
        let with = self.changes(ground, about, variety);
        let found = match entry.choose(variety, &with) {
            Ok(chosen) => Found::Ground(Box::new(chosen)),
            Err(why) => {
                Found::Missing(vec![with_full_stop(&clean_and_cut(&why.to_string(), SENTENCE_CHARS))])
            }
        };
        (with, found)
    }

    /// A name that no ground has, or several. If its contribution could not be used,
    /// the recipe is not at fault.
    fn not_in_catalogue(&mut self, why: ChooseError, name: &Spanned<String>) -> Found {
        let ChooseError::UnknownGround { near, .. } = &why else {
            self.fault(name.span(), why.to_string(), "write one of them");
            return Found::Missing(Vec::new());
        };
        let id = &GroundName::from(name.get_ref().as_str()).ground;
        let is_its_file = |left_out: &&LeftOut| {
            left_out.file.strip_suffix(".wasm").is_some_and(|stem| ends_with_name(stem, id))
        };
        if let Some(LeftOut { file, why, .. }) = self.catalogue.left_out().iter().find(is_its_file) {
            let why = with_full_stop(why);
            return Found::Missing(vec![format!("The contribution {file} could not be used: {why}")]);
        }
        let remedy = did_you_mean(near, "`pairwise grounds` lists all grounds");
        self.fault(
            name.span(),
            format!("the ground `{}` is not known", clean_and_cut(id, LINE_CHARS)),
            remedy,
        );
        Found::Missing(Vec::new())
    }

    /// The changed choices that exist.
    fn changes(&mut self, ground: &GroundText, about: &About, variety: Option<&str>) -> Vec<Change> {
        let mut changes = Vec::new();
        for (choice, value) in &ground.with {
            let text = match value.get_ref() {
                Value::String(text) => text.clone(),
                other => other.to_string(),
            };
            let change = Change::new(choice.get_ref(), text);
            match about.resolve(variety, std::slice::from_ref(&change)) {
                Ok(_) => changes.push(change),
                Err(why) => {
                    let known = about.choices.contains_key(choice.get_ref());
                    let at = if known { value.span() } else { choice.span() };
                    self.fault(at, why.to_string(), lists(about));
                }
            }
        }
        changes
    }
}

fn lists(about: &About) -> String {
    format!("`pairwise grounds {}` lists its varieties and choices", about.id)
}

/// Whether a path ends with a name.
fn ends_with_name(path: &str, name: &str) -> bool {
    path.rsplit(['/', '\\']).next() == Some(name)
}

fn with_full_stop(sentence: &str) -> String {
    format!("{}.", sentence.trim_end_matches('.'))
}
