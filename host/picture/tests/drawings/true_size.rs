//! Prickings against a ruler: paper sizes, dots and the control scale, in the
//! drawing and in the PDF as rendered by poppler.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::common::{rose, torchon};
use crate::machine;
use crate::rendered::{Rendered, runs};
use lace::{Grid, point};
use picture::drawing::pricking::{Paper, PrickingError, pin_places, pricking};
use picture::drawing::{Drawing, Rect, Shape, rect};
use picture::export::pdf::to_pdf;

fn pages(paper: Paper, width: f64, height: f64) -> Vec<Drawing> {
    let grid = Grid::new(5.0, 45.0).unwrap();
    let ground = rose("CTCT", "CT pin CT");
    pricking(
        &ground,
        &grid,
        rect(0.0, 0.0, width, height),
        paper,
        "Rose ground",
        "5 mm between footside pins",
    )
    .unwrap()
}

/// The dots of a page, each by its bounds.
fn circles(page: &Drawing) -> Vec<Rect> {
    let group = page.groups.iter().find(|g| g.id == "dots").unwrap();
    let mut bounds = Vec::new();
    for shape in &group.shapes {
        let Shape::Path { path, .. } = shape else { continue };
        for circle in path.steps.split(|s| matches!(s, picture::drawing::Step::Close)) {
            let circle = picture::drawing::Path { steps: circle.to_vec() };
            bounds.extend(circle.bounds());
        }
    }
    bounds
}

/// The middle of each dot of a page.
fn dots(page: &Drawing) -> Vec<lace::Point> {
    circles(page).iter().map(|b| point(b.x + b.width / 2.0, b.y + b.height / 2.0)).collect()
}

// Plain trigonometry: on a grid of 5 mm at 45 degrees from the footside, the
// four pins of each rose and the roses themselves lie on dots 2.5 mm apart.
#[test]
fn pins_lie_where_the_grid_says() {
    let grid = Grid::new(5.0, 45.0).unwrap();
    let pins = pin_places(&torchon("CT pin CT", 0), &grid, rect(0.0, 0.0, 10.0, 5.0));
    let expected: Vec<_> = [0.0, 2.5, 5.0]
        .iter()
        .enumerate()
        .flat_map(|(row, &y)| {
            let first = if row % 2 == 0 { 0.0 } else { 2.5 };
            (0..3).map(move |k| point(first + 5.0 * f64::from(k), y)).filter(|p| p.x <= 10.0)
        })
        .collect();
    assert_eq!(pins, expected);
    // 60 degrees from the footside: columns tan 60 as wide as rows are high.
    let steep = Grid::new(5.0, 60.0).unwrap();
    let pins = pin_places(&torchon("CT pin CT", 0), &steep, rect(-0.1, -0.1, 9.0, 3.0));
    let next = pins.iter().find(|p| p.y > 1.0).unwrap();
    assert!((next.x - 2.5 * 3f64.sqrt()).abs() < 1e-9 && (next.y - 2.5).abs() < 1e-12);
}

#[test]
fn an_area_larger_than_the_paper_is_split_without_loss() {
    let grid = Grid::new(5.0, 45.0).unwrap();
    let area = rect(0.0, 0.0, 400.0, 500.0);
    let all = pin_places(&rose("CTCT", "CT pin CT"), &grid, area).len();
    for paper in [Paper::A4, Paper::A3, Paper::LETTER, Paper::A4.turned()] {
        let pages = pages(paper, area.width, area.height);
        assert!(pages.len() > 1);
        let mut seen = std::collections::BTreeSet::new();
        let (columns, field) = {
            let field = [paper.width - 26.0, paper.height - 43.0];
            ((area.width / field[0]).ceil() as usize, field)
        };
        for (k, page) in pages.iter().enumerate() {
            assert_eq!((page.width, page.height), (paper.width, paper.height));
            assert!(
                page.groups.iter().any(|g| g.id == "joins")
                    && page.groups.iter().any(|g| g.id == "control-scale")
            );
            for dot in dots(page) {
                assert!(
                    dot.x > 8.0 && dot.x < paper.width - 3.0 && dot.y > 8.0 && dot.y < paper.height - 8.0
                );
                let x = dot.x - 18.0 + (k % columns) as f64 * field[0];
                let y = dot.y - 25.0 + (k / columns) as f64 * field[1];
                seen.insert(((x * 100.0).round() as i64, (y * 100.0).round() as i64));
            }
        }
        assert_eq!(seen.len(), all, "every dot is on a page, and in one place");
    }
}

#[test]
fn small_paper_and_impossible_areas_are_refused() {
    let grid = Grid::new(5.0, 45.0).unwrap();
    let ground = torchon("CT pin CT", 0);
    let try_it = |paper, width, height| {
        pricking(&ground, &grid, rect(0.0, 0.0, width, height), paper, "", "").map(|p| p.len())
    };
    let card = Paper { width: 90.0, height: 120.0 };
    assert_eq!(try_it(card, 50.0, 50.0), Err(PrickingError::PaperTooSmall(90.0, 120.0)));
    assert_eq!(try_it(Paper::A4, 0.0, 50.0), Err(PrickingError::Area(0.0, 50.0)));
    assert!(matches!(try_it(Paper::A4, f64::NAN, 50.0), Err(PrickingError::Area(..))));
    assert_eq!(try_it(Paper::A4, 5000.0, 50.0), Err(PrickingError::Area(5000.0, 50.0)));
}

/// Pins of torchon ground lie on the diagonals, at 45 degrees 0.707 of the spacing
/// apart.
#[test]
fn dots_never_run_into_each_other() {
    let ground = torchon("CT pin CT", 0);
    let wide = |spacing: f64| {
        let grid = Grid::new(spacing, 45.0).unwrap();
        let pages = pricking(&ground, &grid, rect(0.0, 0.0, 20.0, 20.0), Paper::A4, "", "")?;
        Ok(circles(&pages[0])[0].width)
    };
    for spacing in [5.0, 2.0, 1.5, 1.0, 0.8] {
        let width = wide(spacing).unwrap();
        assert!(width < 0.75 * spacing * 0.5_f64.sqrt(), "{spacing}: {width}");
    }
    let why = wide(0.5).unwrap_err();
    assert!(matches!(why, PrickingError::TooClose(apart) if (apart - 0.354).abs() < 0.001), "{why}");
}

/// The first page rendered by poppler at 300 dots per inch; `None` when poppler is
/// not installed.
#[track_caller]
pub fn by_poppler(pdf: &[u8]) -> Option<Rendered> {
    let child = Command::new("pdftoppm")
        .args(["-r", "300", "-gray", "-singlefile", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    machine::has("poppler", child.is_ok()).then_some(())?;
    let mut child = child.expect("it was asked");
    child.stdin.take().expect("piped").write_all(pdf).expect("poppler reads");
    Some(Rendered::read(&child.wait_with_output().expect("poppler ends").stdout))
}

/// The centre of the dot near a place in pixels, if there is one.
fn dot_near(page: &Rendered, x: f64, y: f64) -> Option<(f64, f64)> {
    let near = |v: f64| (v as usize - 7)..(v as usize + 8);
    let (mut sum, mut mx, mut my) = (0.0, 0.0, 0.0);
    for j in near(y) {
        for i in near(x) {
            let d = page.darkness[j * page.width + i];
            sum += d;
            mx += d * (i as f64 + 0.5);
            my += d * (j as f64 + 0.5);
        }
    }
    (sum > 20.0).then_some((mx / sum, my / sum))
}

/// Rows of a table of outside values, keyed by its header.
fn table(name: &str) -> Vec<indexmap::IndexMap<String, String>> {
    let path = format!("{}/../../tests/data/{name}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(path).expect("a table");
    let heads = reader.headers().expect("heads").clone();
    reader
        .records()
        .map(|row| {
            let row = row.expect("a row");
            heads.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect()
        })
        .collect()
}

// Outside check: poppler at 300 dpi. 50 mm are 590.55 pixels (25.4 mm to the
// inch); the page sizes are those of ISO 216 and of Letter.
#[test]
fn poppler_renders_the_scale_and_the_dots_at_true_size() {
    const PX: f64 = 300.0 / 25.4;
    for paper in [Paper::A4, Paper::LETTER, Paper::A3] {
        let pages = pages(paper, 120.0, 100.0);
        assert_eq!(pages.len(), 1);
        let Some(page) = by_poppler(&to_pdf(&pages).unwrap()) else {
            return;
        };
        let Rendered { width, height, .. } = page;
        assert!((width as f64 - paper.width * PX).abs() <= 1.0, "{width}");
        assert!((height as f64 - paper.height * PX).abs() <= 1.0, "{height}");
        // 2 mm beside either line there are only its end ticks.
        let row = ((paper.height - 12.0) * PX) as usize;
        let across = runs(page.across(row, 0..(64.0 * PX) as usize));
        assert_eq!(across.len(), 2, "{across:?}");
        assert!((across[1] - across[0] - 590.55).abs() <= 1.0, "{across:?}");
        let column = (12.0 * PX) as usize;
        let first = ((paper.height - 64.0) * PX) as usize;
        let down = runs(page.down(column, first..height));
        assert_eq!(down.len(), 2, "{down:?}");
        assert!((down[1] - down[0] - 590.55).abs() <= 1.0, "{down:?}");
        let dots = dots(&pages[0]);
        assert!(dots.len() > 500);
        for dot in dots {
            let (x, y) = (dot.x * PX, dot.y * PX);
            let (at_x, at_y) = dot_near(&page, x, y).unwrap_or_else(|| panic!("no dot at {dot:?}"));
            assert!((at_x - x).abs() <= 1.0 && (at_y - y).abs() <= 1.0, "{dot:?}");
        }
    }
}

// Outside check: `paper_sizes.csv` (ISO 216 and ANSI/ASME Y14.1, in PDF units).
#[test]
fn pages_have_the_standard_paper_sizes() {
    let sizes = table("paper_sizes.csv");
    for (name, paper) in [("A4", Paper::A4), ("A3", Paper::A3), ("Letter", Paper::LETTER)] {
        let row = sizes.iter().find(|row| row["name"].eq_ignore_ascii_case(name)).expect("a size of paper");
        let number = |key: &str| row[key].parse::<f64>().expect("a number");
        assert_eq!((paper.width, paper.height), (number("width_mm"), number("height_mm")), "{name}");
        let pdf = to_pdf(&pages(paper, 50.0, 50.0)).unwrap();
        let text = String::from_utf8_lossy(&pdf);
        let at = text.find("/MediaBox").expect("a page has a size") + "/MediaBox".len();
        let end = at + text[at..].find(']').expect("a list");
        let list: Vec<f64> = text[at..end].split(['[', ' ']).filter_map(|n| n.parse().ok()).collect();
        let [0.0, 0.0, width, height] = list[..] else { panic!("{name}: {list:?}") };
        assert!((width - number("width_pdf_units")).abs() < 0.001, "{name}: {width}");
        assert!((height - number("height_pdf_units")).abs() < 0.001, "{name}: {height}");
    }
}

// Outside check: `true_size_lengths.csv` (pixels at 300 dpi). Pins of a torchon
// ground stand a pin spacing apart along rows and columns, and along the
// diagonals a pin spacing divided by the root of two.
#[test]
fn poppler_renders_pins_at_the_distances_in_the_table() {
    const PX: f64 = 300.0 / 25.4;
    let lengths = table("true_size_lengths.csv");
    let px = |mm: f64| {
        let row = lengths.iter().find(|r| (r["mm"].parse::<f64>().expect("mm") - mm).abs() < 1e-12);
        row.map(|r| r["px_at_300dpi"].parse::<f64>().expect("pixels"))
    };
    for spacing in [2.0, 2.5, 4.0, 5.0, 10.0] {
        // 4 mm is listed as twice 2 mm.
        let along = px(spacing).or_else(|| px(spacing / 2.0).map(|half| 2.0 * half)).expect("in the table");
        let grid = Grid::new(spacing, 45.0).unwrap();
        let area = rect(0.0, 0.0, 15.0 * spacing, 15.0 * spacing);
        let pages = pricking(&torchon("CT pin CT", 0), &grid, area, Paper::A4, "Torchon ground", "").unwrap();
        let Some(page) = by_poppler(&to_pdf(&pages).unwrap()) else {
            return;
        };
        let corner = (Paper::A4.field().x * PX, Paper::A4.field().y * PX);
        let dot = |right: f64, down: f64| {
            dot_near(&page, corner.0 + right, corner.1 + down)
                .unwrap_or_else(|| panic!("{spacing} mm: no dot {right} px right and {down} px down"))
        };
        let apart = |a: (f64, f64), b: (f64, f64)| libm::hypot(b.0 - a.0, b.1 - a.1);
        // Ten spacings, so that pixels do not blur the answer.
        let far = 10.0 * along;
        assert!((apart(dot(0.0, 0.0), dot(far, 0.0)) - far).abs() <= 0.5, "{spacing} mm across");
        assert!((apart(dot(0.0, 0.0), dot(0.0, far)) - far).abs() <= 0.5, "{spacing} mm down");
        if let Some(slant) = px(spacing / 2f64.sqrt()) {
            let ten = apart(dot(0.0, 0.0), dot(far / 2.0, far / 2.0));
            assert!((ten - 10.0 * slant).abs() <= 0.5, "{spacing} mm along the diagonal: {ten}");
        }
    }
    assert!(px(4.0 / 2f64.sqrt()).is_some() && px(10.0 / 2f64.sqrt()).is_some());
}
