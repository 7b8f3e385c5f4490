//! Numbers and letters of working diagrams on the sheets of every variety, measured
//! in the drawings themselves.

use std::sync::Arc;

use catalogue::{About, Chosen, Contribution, DefineError, Entry, Settings};
use compare::palette::Palette;
use compare::scale::{Pricking, Scale};
use compare::sheet::{SheetRequest, Show};
use lace::{Point, Repeat, point};
use pairwise_tests::house::plugins;
use picture::drawing::font::outlines;
use picture::drawing::pricking::Paper;
use picture::drawing::threads::Style;
use picture::drawing::{Drawing, Group, Rect, Shape, Step, Text};
use rayon::prelude::*;
use sandbox::Plugin;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// One of our own contributions, which are loaded once for all tests.
struct Ours(&'static Plugin);

impl Contribution for Ours {
    fn about(&self) -> &About {
        self.0.about()
    }

    fn file(&self) -> &str {
        self.0.file()
    }

    fn define(&self, settings: &Settings) -> Result<Repeat, DefineError> {
        Contribution::define(self.0, settings)
    }
}

/// Every variety of every contribution.
fn varieties() -> Vec<Chosen> {
    let choose = |plugin: &'static Plugin| {
        let entry = Arc::new(Entry::new(Ours(plugin)));
        let names: Vec<String> = entry.about().varieties.keys().cloned().collect();
        names.into_iter().map(move |name| entry.choose(Some(&name), &[]).unwrap())
    };
    plugins().iter().flat_map(choose).collect()
}

/// The pages of a sheet.
fn pages(chosen: &Chosen, show: Option<Show>) -> Vec<Drawing> {
    let palette = Palette::default();
    let request = SheetRequest {
        chosen: chosen.clone(),
        arrangement: palette.arrangement("A A B B").unwrap(),
        palette,
        seen_by: None,
        scale: Scale::new(Pricking::default(), None).unwrap(),
        show,
        area_mm: None,
        paper: Paper::A4,
        px: 400,
        pins: false,
        style: Style::Shaded,
        balanced: false,
        background: None,
    };
    request.draw().unwrap().pages
}

/// The groups of a page whose name ends so.
fn groups<'a>(page: &'a Drawing, end: &'a str) -> impl Iterator<Item = &'a Group> {
    page.groups.iter().filter(move |group| group.id.ends_with(end))
}

/// Labels of a group with what their ink covers, and what may be seen of them.
fn labels<'a>(page: &'a Drawing, end: &'a str) -> Vec<(&'a Text, Rect)> {
    let mut labels = Vec::new();
    for group in groups(page, end) {
        for shape in &group.shapes {
            let Shape::Text(text) = shape else { continue };
            let ink = outlines(text).bounds().unwrap();
            // What lies outside the view is cut off.
            if group.clip.is_none_or(|view| view.meets(&ink)) {
                labels.push((text, ink));
            }
        }
    }
    labels
}

/// The straight lines of the pairs on a page.
fn lines(page: &Drawing) -> Vec<[Point; 2]> {
    let mut lines = Vec::new();
    for shape in groups(page, "pairs").flat_map(|group| &group.shapes) {
        let Shape::Path { path, .. } = shape else { continue };
        let mut at = point(0.0, 0.0);
        for step in &path.steps {
            match *step {
                Step::Move(to) | Step::Curve(_, _, to) => at = to,
                Step::Line(to) => {
                    lines.push([at, to]);
                    at = to;
                }
                Step::Close => {}
            }
        }
    }
    lines
}

/// Whether a line runs through a box: at a hundred of its points.
fn crosses([from, to]: [Point; 2], ink: Rect) -> bool {
    (0..=100)
        .map(|k| from + (to - from) * (f64::from(k) / 100.0))
        .any(|p| (ink.x..=ink.x + ink.width).contains(&p.x) && (ink.y..=ink.y + ink.height).contains(&p.y))
}

/// Everything on a page that is on top of something else, in words.
fn on_top_of_each_other(page: &Drawing) -> Vec<String> {
    let (numbers, letters) = (labels(page, "order-of-working"), labels(page, "letters"));
    let all: Vec<&(&Text, Rect)> = numbers.iter().chain(&letters).collect();
    let mut bad = Vec::new();
    for (k, (text, ink)) in all.iter().enumerate() {
        if text.size * POINTS < 6.0 {
            bad.push(format!("{} in {:.1} points", text.words, text.size * POINTS));
        }
        for (other, its) in &all[..k] {
            if ink.meets(its) {
                bad.push(format!("{} on {}", text.words, other.words));
            }
        }
    }
    let lines = lines(page);
    for (text, ink) in &numbers {
        if lines.iter().any(|&line| crosses(line, *ink)) {
            bad.push(format!("{} on a line", text.words));
        }
    }
    bad
}

/// What is wrong with the sheets of a variety: with all on it, and with the diagram
/// alone.
fn wrong(chosen: &Chosen) -> Vec<String> {
    let steps = chosen.ground.steps_in_words(&chosen.ground.order_of_working()).len();
    let expected: Vec<String> = (1..=steps).map(|number| number.to_string()).collect();
    let mut wrong = Vec::new();
    for show in [None, Some(Show::WorkingDiagram)] {
        let pages = pages(chosen, show);
        let numbers = pages.iter().flat_map(|page| labels(page, "order-of-working"));
        if !numbers.map(|(text, _)| &text.words).eq(&expected) {
            wrong.push("not every step has one number".to_owned());
        }
        wrong.extend(pages.iter().flat_map(on_top_of_each_other));
    }
    wrong
}

// 6 points are the least that is legible in print (common practice, no source).
#[test]
fn numbers_and_letters_are_legible_on_the_sheets_of_every_variety() {
    let all = varieties();
    assert!(all.len() >= 62);
    let told = |chosen: &Chosen| {
        let wrong = wrong(chosen);
        (!wrong.is_empty()).then(|| format!("{}: {}", chosen.name(), wrong.join(", ")))
    };
    let wrong: Vec<String> = all.par_iter().filter_map(told).collect();
    assert!(wrong.is_empty(), "{} varieties:\n{}", wrong.len(), wrong.join("\n"));
}
