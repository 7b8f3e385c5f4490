//! Times painting a large grid against encoding the same pixels, in one run: 60
//! varieties in 64 arrangements at 160 pixels.
//!
//! `cargo bench -p pairwise-picture --bench grid`; it prints times and ratios.

#![allow(clippy::print_stdout, reason = "the benchmark prints its results")]

use std::time::{Duration, Instant};

use lace::samples::{rose, torchon};
use lace::{Arrangement, ArrangementSymmetry, DistinctArrangements, Grid, Ground};
use picture::colour::{Rgb, rgb};
use picture::drawing::rect;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::export::stencil::Stencil;
use picture::layout::lay_out;
use picture::page::contact_sheet::{Column, Heading, LineCell, NamedColour, Page, RowHead, Table, TablePage};
use rayon::prelude::*;

/// Side of a picture in pixels, the lace it shows in mm, and the largest page.
const SIDE: u32 = 160;
const WINDOW: f64 = 16.0;
const PAGE: u32 = 5000;
const VARIETIES: usize = 60;
const ARRANGEMENTS: usize = 64;
const PAIRS: usize = 8;
const COLOURS: [Rgb; 2] = [rgb(31, 63, 119), rgb(224, 123, 57)];

/// Grounds that differ in their stitches and twists.
fn varieties() -> Vec<Ground> {
    let works = ["CT pin CT", "CTCT pin CTCT", "CT pin CTT", "CTCT pin CT", "CTCTT pin CTCT", "CTT pin CT"];
    let crossings = ["CTCT", "CT", "CTCTT", "CTT", "CTC", "CTCTCT"];
    let small = (0..4).flat_map(|twists| works.map(|work| torchon(work, twists)));
    let roses = crossings
        .into_iter()
        .flat_map(|crossing| works.into_iter().chain(["CTC pin CTC"]).map(move |pin| rose(crossing, pin)));
    let all: Vec<Ground> =
        roses.chain(small).filter_map(|repeat| Ground::new(repeat).ok()).take(VARIETIES).collect();
    assert_eq!(all.len(), VARIETIES, "enough grounds can be worked");
    all
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let begun = Instant::now();
    let made = work();
    (made, begun.elapsed())
}

/// Every ground laid out and drawn once.
fn stencils(grounds: &[Ground]) -> Vec<Stencil> {
    let stencil = |ground: &Ground| {
        let layout = lay_out(ground, &Grid::new(4.0, 45.0).expect("a grid"), 4.0 / 12.0);
        let px_per_mm = f64::from(SIDE) / WINDOW;
        let look = ThreadLook::new(vec![Rgb::BLACK; 2 * PAIRS], px_per_mm);
        let drawing = draw_threads(ground, &layout, rect(0.0, 0.0, WINDOW, WINDOW), &look);
        Stencil::new(&drawing, px_per_mm)
    };
    grounds.par_iter().map(stencil).collect()
}

/// The head of every page.
fn heading() -> Heading {
    Heading {
        title: "60 varieties in 64 arrangements".to_owned(),
        subtitle: String::new(),
        palette: COLOURS.map(|colour| NamedColour { colour, name: colour.to_string() }).to_vec(),
        side: SIDE,
        caption_lines: 1,
    }
}

fn table<'a>(heading: &'a Heading, rows: usize, arrangements: &[Arrangement]) -> Table<'a> {
    Table {
        heading,
        columns: arrangements.iter().map(|a| Column { arrangement: a.clone(), name: None }).collect(),
        rows: (0..rows).map(|k| RowHead { label: format!("Variety {k}"), notes: Vec::new() }).collect(),
    }
}

/// Paints all pictures of a page.
fn paint(page: &mut Page, part: &TablePage, stencils: &[Stencil], arrangements: &[Arrangement]) {
    let wide = part.columns.len();
    page.lines().into_par_iter().for_each(|line| {
        for LineCell { number, left } in line.cells {
            let arrangement = &arrangements[part.columns.start + number % wide];
            let colours: Vec<Rgb> =
                arrangement.threads().into_iter().map(|c| COLOURS[usize::from(c)]).collect();
            let stencil = &stencils[part.rows.start + number / wide];
            stencil.paint_into(&colours, Rgb::LINEN, &mut line.pixels[left..], line.stride);
        }
    });
}

fn main() {
    // `cargo test --benches` only asks whether it runs.
    if !std::env::args().any(|arg| arg == "--bench") {
        return;
    }
    let grounds = varieties();
    let sameness = [ArrangementSymmetry::of_threads(&grounds[0], PAIRS)];
    let arrangements: Vec<Arrangement> =
        DistinctArrangements::new(&sameness, COLOURS.len(), false).take(ARRANGEMENTS).collect();
    assert_eq!(arrangements.len(), ARRANGEMENTS);
    let (stencils, drawing) = timed(|| stencils(&grounds));
    let heading = heading();
    let table = table(&heading, grounds.len(), &arrangements);
    let (mut heads, mut painting, mut encoding) = (Duration::ZERO, Duration::ZERO, Duration::ZERO);
    let (mut pages, mut bytes) = (0, 0);
    for part in table.pages(PAGE) {
        let caption = |_, _| vec![vec!["columns, 8 mm".to_owned()]];
        let (mut page, time) = timed(|| table.page(&part, Some("page"), caption));
        heads += time;
        let ((), time) = timed(|| paint(&mut page, &part, &stencils, &arrangements));
        painting += time;
        let (png, time) = timed(|| page.into_image().into_png(f64::from(SIDE) / WINDOW));
        encoding += time;
        pages += 1;
        bytes += png.len();
    }
    let show = |what: &str, time: Duration| println!("{what:<44} {:>8.3} s", time.as_secs_f64());
    println!(
        "{VARIETIES} varieties in {ARRANGEMENTS} arrangements at {SIDE} px, {pages} pages, {bytes} bytes"
    );
    show("laying out and drawing each variety once", drawing);
    show("heads and captions", heads);
    show("painting", painting);
    show("encoding as PNG", encoding);
    let ratio = |time: Duration| time.as_secs_f64() / encoding.as_secs_f64();
    println!("painting / encoding: {:.2} (target: at most 2)", ratio(painting));
    println!("laying out, drawing, heads and painting / encoding: {:.2}", ratio(drawing + heads + painting));
}
