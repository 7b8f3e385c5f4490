//! The handout of a class: a cover, a page for each ground, the stitches used,
//! and how to read the diagrams. Every picture of lace that says so, and every
//! pricking, is at its true size.

mod cover;
mod flow;
mod ground;
mod leaf;
mod stitches;

use lace::Ground;

use crate::colour::{Rgb, rgb};
use crate::drawing::pricking::Paper;
use crate::drawing::tagged_page::Reading;
use crate::layout::Layout;
use leaf::Leaf;

/// Most grounds in a handout: the cover lists them all.
pub const MOST_GROUNDS: usize = 24;
/// Most characters of notes: what has room beside the rest of a page.
pub const MOST_NOTES: usize = 300;

/// What a class is given.
#[derive(Clone, Debug)]
pub struct Handout<'a> {
    /// Its title.
    pub title: String,
    /// The class: when, where, who; may be empty.
    pub class: String,
    /// Words for the cover, at most [`MOST_NOTES`] characters; may be empty.
    pub notes: String,
    /// The paper: A4 or Letter.
    pub paper: Paper,
    /// The colours by letter.
    pub colours: Vec<Swatch>,
    /// Pin spacing, thread and what else holds for all pages: what, and how
    /// much.
    pub gauge: Vec<(String, String)>,
    /// The grounds, at most [`MOST_GROUNDS`].
    pub sheets: Vec<ClassSheet<'a>>,
}

/// A colour of the class.
#[derive(Clone, Debug)]
pub struct Swatch {
    /// The letter it has in colour orders.
    pub letter: char,
    /// Its name.
    pub name: String,
    /// Itself.
    pub colour: Rgb,
}

/// A ground, or why there is none.
#[derive(Clone, Debug)]
pub struct ClassSheet<'a> {
    /// Name of the ground.
    pub title: String,
    /// More about it, one line.
    pub subtitle: String,
    /// The teacher's notes, at most [`MOST_NOTES`] characters; may be empty.
    pub notes: String,
    /// What stands below.
    pub body: Body<'a>,
}

/// What a page is about.
#[derive(Clone, Debug)]
pub enum Body<'a> {
    /// A ground as it is worked.
    Worked(Box<Worked<'a>>),
    /// What is missing and why.
    Missing {
        /// Sentences: what is missing, why.
        why: Vec<String>,
    },
}

/// A ground as a class works it.
#[derive(Clone, Debug)]
pub struct Worked<'a> {
    /// The ground.
    pub ground: &'a Ground,
    /// Where its threads lie, on the grid of the class.
    pub layout: &'a Layout,
    /// Colours in which threads hang, two to a pair.
    pub colours: Vec<Rgb>,
    /// The colour order as it is written.
    pub order: String,
    /// Width and height of the area, mm; one for which there is [`room`].
    pub area: (f64, f64),
    /// What is needed: what, and how much.
    pub materials: Vec<(String, String)>,
    /// How it was reckoned.
    pub rule: String,
    /// Where each colour goes, a paragraph each.
    pub going: Vec<String>,
    /// The same in a few words, for a page without much room.
    pub going_in_brief: Vec<String>,
}

/// Whether the pricking of an area, mm, has room on the page of its ground.
pub fn room(paper: Paper, area: (f64, f64)) -> bool {
    ground::Plan::new(paper, area, "", false).is_some()
}

/// The largest areas for which there is [`room`]: as wide, and as high, as can
/// be, in whole millimetres.
pub fn largest_areas(paper: Paper) -> [(f64, f64); 2] {
    let whole = |fits: &dyn Fn(f64) -> bool| (1..=400).map(f64::from).take_while(|&mm| fits(mm)).last();
    let wide = whole(&|mm| room(paper, (mm, 50.0))).unwrap_or(0.0);
    let high = whole(&|mm| room(paper, (50.0, mm))).unwrap_or(0.0);
    let below = whole(&|mm| room(paper, (wide, mm))).unwrap_or(0.0);
    let beside = whole(&|mm| room(paper, (mm, high))).unwrap_or(0.0);
    [(wide, below), (beside, high)]
}

/// The pages.
pub fn handout(handout: &Handout<'_>) -> Vec<Reading> {
    let grounds: Vec<Leaf> =
        handout.sheets.iter().enumerate().map(|(k, sheet)| ground::page(handout, sheet, k + 2)).collect();
    let last = stitches::pages(handout);
    let mut entries: Vec<(String, usize)> = Vec::new();
    for leaf in grounds.iter().chain(&last) {
        entries.push((leaf.entry.clone(), entries.len() + 2));
    }
    let mut all = vec![cover::page(handout, &entries)];
    all.extend(grounds);
    all.extend(last);
    let count = all.len();
    all.into_iter().enumerate().map(|(k, leaf)| leaf.finished(&handout.title, k + 1, count)).collect()
}

/// Edge of the paper left free, mm.
const MARGIN: f64 = 12.0;
const GAP: f64 = 8.0;
const QUIET: Rgb = rgb(96, 86, 74);
const BODY: f64 = 3.1;
const LEADING: f64 = 4.3;
