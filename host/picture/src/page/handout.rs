//! The handout of a class: a cover, a page for each ground, the stitches used,
//! and how to read the diagrams. Every pricking, and every picture labelled so,
//! is at actual size.

mod cover;
mod ground;
mod page_builder;
mod plan;
mod stitches;

use lace::Ground;

use super::Fact;
use super::columns::OrderInWords;
use crate::colour::Rgb;
use crate::drawing::Size;
use crate::drawing::pricking::Paper;
use crate::drawing::tagged_page::TaggedPage;
use crate::drawing::threads::ThreadDrawing;
use crate::layout::Layout;
use page_builder::PageBuilder;

/// Most grounds in a handout: the cover lists them all.
pub const MOST_GROUNDS: usize = 24;
/// Most characters of notes that fit beside the rest of a page.
pub const MOST_NOTES: usize = 300;

/// The contents of a handout.
#[derive(Clone, Debug)]
pub struct Handout<'a> {
    /// Its title.
    pub title: String,
    /// The class: when, where, who; may be empty.
    pub class: String,
    /// Notes for the cover, at most [`MOST_NOTES`] characters; may be empty.
    pub notes: String,
    /// The paper: A4 or Letter.
    pub paper: Paper,
    /// The colours by letter.
    pub colours: Vec<Swatch>,
    /// Pin spacing, thread and other facts for all pages.
    pub gauge: Vec<Fact>,
    /// The grounds, at most [`MOST_GROUNDS`].
    pub sheets: Vec<ClassSheet<'a>>,
}

/// A colour of the class.
#[derive(Clone, Debug)]
pub struct Swatch {
    /// Its letter in arrangements.
    pub letter: char,
    /// Its name.
    pub name: String,
    /// Itself.
    pub colour: Rgb,
}

/// The page of a ground, or of one that is missing.
#[derive(Clone, Debug)]
pub struct ClassSheet<'a> {
    /// Name of the ground.
    pub title: String,
    /// More about it, one line.
    pub subtitle: String,
    /// The teacher's notes, at most [`MOST_NOTES`] characters; may be empty.
    pub notes: String,
    /// The body of the page.
    pub body: Body<'a>,
}

/// The body of a page.
#[derive(Clone, Debug)]
pub enum Body<'a> {
    /// A worked ground.
    Worked(Box<WorkedGround<'a>>),
    /// A ground that could not be included.
    Missing {
        /// Sentences that say what is missing and why.
        why: Vec<String>,
    },
}

/// A ground as the class works it.
#[derive(Clone, Debug)]
pub struct WorkedGround<'a> {
    /// The ground.
    pub ground: &'a Ground,
    /// Its layout on the grid of the class.
    pub layout: &'a Layout,
    /// The colours of the hanging threads, two to a pair.
    pub colours: Vec<Rgb>,
    /// The colour arrangement in letters.
    pub arrangement: String,
    /// The area, for which there must be [`room`].
    pub area: Size,
    /// What is needed.
    pub materials: Vec<Fact>,
    /// How that was calculated.
    pub rule: String,
    /// Where each colour goes, one paragraph per colour.
    pub travel: Vec<String>,
    /// A shorter version, for a page with little room.
    pub travel_in_brief: Vec<String>,
}

/// Whether the pricking of an area fits on the page of its ground.
pub fn room(paper: Paper, area: Size) -> bool {
    plan::Plan::new(paper, area, "", false).is_some()
}

/// The largest areas for which there is [`room`], in whole millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LargestAreas {
    /// The widest area, and the greatest height at that width.
    pub widest: Size,
    /// The highest area, and the greatest width at that height.
    pub highest: Size,
}

impl LargestAreas {
    /// The largest areas for a paper.
    pub fn of(paper: Paper) -> LargestAreas {
        let largest = |area: &dyn Fn(f64) -> Size| {
            (1..=400).map(f64::from).take_while(|&mm| room(paper, area(mm))).last().unwrap_or(0.0)
        };
        let width = largest(&|width| Size { width, height: 50.0 });
        let height = largest(&|height| Size { width: 50.0, height });
        LargestAreas {
            widest: Size { width, height: largest(&|height| Size { width, height }) },
            highest: Size { width: largest(&|width| Size { width, height }), height },
        }
    }
}

/// The pages of a handout.
pub fn handout(handout: &Handout<'_>) -> Vec<TaggedPage> {
    let sheets: Vec<Prepared<'_>> = handout.sheets.iter().map(Prepared::new).collect();
    let mut grounds: Vec<PageBuilder> = Vec::new();
    // Page number of each ground.
    let mut numbers = Vec::with_capacity(sheets.len());
    let mut contents = Vec::with_capacity(sheets.len());
    for sheet in &sheets {
        let number = grounds.len() + FIRST_GROUND;
        numbers.push(number);
        contents.push(ContentsLine { title: sheet.sheet.title.clone(), page: number });
        grounds.extend(ground::pages(handout, sheet, number));
    }
    let last = stitches::pages(handout, &sheets, &numbers);
    let after = (grounds.len() + FIRST_GROUND)..;
    contents.extend(
        last.iter().zip(after).map(|(p, page)| ContentsLine { title: p.contents_title.clone(), page }),
    );
    let mut all = vec![cover::page(handout, &sheets, &contents)];
    all.extend(grounds);
    all.extend(last);
    let count = all.len();
    all.into_iter().enumerate().map(|(k, page)| page.finished(&handout.title, k + 1, count)).collect()
}

/// Page number of the first ground, after the cover.
const FIRST_GROUND: usize = 2;

/// A line of the table of contents.
struct ContentsLine {
    title: String,
    page: usize,
}

/// A sheet with the data its pictures share.
struct Prepared<'a> {
    sheet: &'a ClassSheet<'a>,
    /// `None` when it is missing.
    ground: Option<PreparedGround<'a>>,
}

/// A ground with the data its pictures share.
struct PreparedGround<'a> {
    on: &'a WorkedGround<'a>,
    threads: ThreadDrawing<'a>,
    order: OrderInWords,
}

impl<'a> Prepared<'a> {
    fn new(sheet: &'a ClassSheet<'a>) -> Prepared<'a> {
        let ground = match &sheet.body {
            Body::Worked(on) => Some(PreparedGround {
                on,
                threads: ThreadDrawing::new(on.ground, on.layout),
                order: OrderInWords::of(on.ground),
            }),
            Body::Missing { .. } => None,
        };
        Prepared { sheet, ground }
    }
}

#[cfg(test)]
mod tests {
    use krilla::configure::{Accessibility, ConfigurationBuilder};
    use lace::samples::rose;
    use lace::{Grid, Ground};

    use super::*;
    use crate::colour::rgb;
    use crate::drawing::tagged_page::Role;
    use crate::export::pdf::{PdfError, tagged};
    use crate::layout::lay_out;

    // The machine-checkable rules of PDF/UA-1 (ISO 14289-1), as checked by the
    // PDF library: everything tagged, pictures described, headings, a title, a
    // language, glyphs that map to text.
    #[test]
    fn a_handout_is_accessible_to_screen_readers() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let layout = lay_out(&ground, &Grid::new(5.0, 45.0).unwrap(), 0.4);
        let worked = WorkedGround {
            ground: &ground,
            layout: &layout,
            colours: vec![rgb(20, 40, 120); 2],
            arrangement: "A".into(),
            area: Size { width: 40.0, height: 60.0 },
            materials: vec![Fact::new("Pairs", "16")],
            rule: "Counted.".into(),
            travel: vec!["Everywhere.".into()],
            travel_in_brief: vec!["Everywhere.".into()],
        };
        let sheet = |title: &str, body| ClassSheet {
            title: title.into(),
            subtitle: "Below it".into(),
            notes: "Mind the roses.".into(),
            body,
        };
        let pages = handout(&Handout {
            title: "A class".into(),
            class: "invented".into(),
            notes: String::new(),
            paper: Paper::A4,
            colours: vec![Swatch { letter: 'A', name: "blue".into(), colour: rgb(20, 40, 120) }],
            gauge: vec![Fact::new("Pin spacing", "5 mm")],
            sheets: vec![
                sheet("Rose ground", Body::Worked(Box::new(worked))),
                sheet("Another", Body::Missing { why: vec!["It is not here.".into()] }),
            ],
        });
        let rules = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1);
        tagged("A class", "en", &pages, rules.finish().unwrap()).unwrap();
        // A broken rule is found: a picture without alternative text.
        let mut mute = pages;
        for part in mute.iter_mut().flat_map(|page| &mut page.parts) {
            if matches!(part.role, Role::Figure(_)) {
                part.role = Role::Figure(String::new());
            }
        }
        let rules = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1);
        let refused = tagged("", "en", &mute, rules.finish().unwrap());
        assert!(matches!(refused, Err(PdfError::Write(_))), "{refused:?}");
    }
}
