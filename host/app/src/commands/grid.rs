//! `grid`: grounds in rows and colour orders in columns, or all of them by what
//! results, on pages.

mod cells;
mod index;
mod like;
mod orders;
mod pages;
mod rows;
mod threads;

use catalogue::Chosen;
use lace::{Arrangement, Pattern};
use picture::colour::Rgb;
use picture::colour::vision::contrast;
use picture::export::image::Image;
use picture::layout::Layout;
use picture::page::contact_sheet::{Column, Heading, NamedColour, RowHead, Section, SectionedSheet, Table};
use rayon::prelude::*;

use crate::cli::{GridArgs, Sources};
use crate::colours::Palette;
use crate::commands::{Outcome, report_failures};
use crate::failure::Failure;
use crate::output::{note, print, write_file};
use crate::pictures::Scale;
use crate::request::choices::changes;
use crate::sources;

use cells::{Cell, Drawn, draw};
use index::Listed;
pub use orders::Orders;
use orders::with_commas;
use pages::Painter;

/// Draws the grid.
pub fn run(args: &GridArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let scale = Scale::new(&args.gauge)?;
    let palette = Palette::read(args.colouring.colours.as_deref())?;
    palette.tell_confusions(Rgb::LINEN, palette.colours().len());
    if args.index.as_ref().is_some_and(|index| *index == args.out) {
        return Err(Failure::Value {
            what: format!("picture and list would both be written to {}", args.out.display()),
            help: "give the list a name of its own, for example --index grid.json".to_owned(),
        });
    }
    let catalogue = sources::catalogue(sources)?;
    let mut left_out = catalogue.left_out().to_vec();
    let like = args.like.as_deref();
    let like =
        like.map(|text| like::named(text, &catalogue, &changes(&args.choices)?, &palette)).transpose()?;
    let rows::Rows { mut chosen, left_out: grounds_left_out } = rows::rows(args, &catalogue, &mut left_out)?;
    if chosen.is_empty() {
        return Err(Failure::NoGround {
            what: "none of these grounds could be drawn",
            help: "`pairwise check GROUND` says what is wrong with each",
            left_out,
        });
    }
    let orders = Orders::new(&args.colouring, &palette, &chosen.iter().collect::<Vec<_>>())?;
    let grounds = chosen.len();
    // The one named may be shown anyway, or join the others.
    let mut arrangements = orders.shown.clone();
    let like = like.map(|(ground, order)| {
        let row = chosen.iter().position(|c| c.name() == ground.name()).unwrap_or_else(|| {
            chosen.push(ground);
            grounds
        });
        let column = arrangements.iter().position(|o| *o == order).unwrap_or_else(|| {
            arrangements.push(order);
            arrangements.len() - 1
        });
        [row, column]
    });
    let drawn = draw(chosen, &arrangements, &scale, args.size)?;
    let seen_by = args.colouring.seen_by.map(|who| who.vision().words());
    let painted = palette.painted(args.colouring.seen_by);
    let mut cells = work_out(&drawn[..grounds], &orders.shown, &painted);
    let named = like.map(|[row, column]| {
        let mut cell = one(&drawn, &arrangements, [row, column], &painted);
        cell.alike = Some(1.0);
        cell
    });
    let numbers: Vec<usize> = match args.sort {
        Some(sort) => rows::order(sort, &drawn[..grounds], &cells),
        None => (0..grounds).collect(),
    };

    let flows = args.group || named.is_some();
    let heading = heading(
        title(args, named.as_ref(), &drawn, &arrangements),
        &scale,
        &painted,
        args.size,
        if flows { 3 } else { 1 },
        seen_by,
    );
    let painter =
        Painter { drawn: &drawn, orders: &arrangements, palette: &painted, most_colours: args.reduce };
    let px_per_mm = f64::from(args.size) / scale.window_mm();
    let (pages, placed) = if flows {
        let (sections, listed) = match &named {
            Some(named) => by_likeness(named, &mut cells, &numbers),
            None => by_pattern(&cells, &numbers),
        };
        let find = |[row, column]: [usize; 2]| match &named {
            Some(named) if [named.row, named.column] == [row, column] => named,
            _ => &cells[row][column],
        };
        let sheet = SectionedSheet { heading: &heading, sections };
        let parts = sheet.pages(args.page);
        painter.write(&args.out, px_per_mm, parts.len(), |number, which| {
            let part = &parts[number];
            let page = sheet.page(args.page, part, which, |k| {
                let [row, column] = listed[k];
                caption(&drawn[row], &arrangements[column], find(listed[k]))
            });
            (page, part.iter().flat_map(|p| &listed[p.cells.clone()]).copied().collect())
        })?
    } else {
        let table = table(&heading, numbers.iter().map(|&k| &drawn[k]), &orders.shown);
        let parts = table.pages(args.page);
        painter.write(&args.out, px_per_mm, parts.len(), |number, which| {
            let part = &parts[number];
            let page = table.page(part, which, |r, c| vec![cells[numbers[r]][c].wordings()]);
            let what = part.rows.clone().flat_map(|r| part.columns.clone().map(move |c| (r, c)));
            (page, what.map(|(r, c)| [numbers[r], c]).collect())
        })?
    };
    if let Some(file) = &args.index {
        let listed = Listed {
            pages: &pages,
            placed: &placed,
            drawn: &drawn,
            arrangements: &arrangements,
            orders: &orders,
            palette: &painted,
            seen_by,
            window_mm: scale.window_mm(),
            side: args.size,
            grounds_left_out,
            contributions_left_out: left_out.len(),
        };
        let json = listed.json(|[row, column]| match &named {
            Some(named) if [named.row, named.column] == [row, column] => named,
            _ => &cells[row][column],
        })?;
        write_file(file, &json)?;
    }
    if grounds_left_out > 0 {
        note(&format!(
            "--only and --except left out {grounds_left_out} of {} grounds",
            grounds_left_out + grounds
        ));
    }
    if let Some(notice) = orders.notice() {
        note(&format!("{notice}"));
    }
    let counted = |n: usize, one: &str, many: &str| {
        format!("{} {}", with_commas(n as u128), if n == 1 { one } else { many })
    };
    let what = format!(
        "{} in {}",
        counted(grounds, "ground", "grounds"),
        counted(orders.shown.len(), "colour order", "colour orders")
    );
    match &pages[..] {
        [page] => {
            print(&format!("{}: {what}, {} by {} pixels\n", args.out.display(), page.width, page.height))?
        }
        all => print(&format!(
            "{} to {}: {what} on {} pages\n",
            pages::path(&args.out, 0, all.len()).display(),
            pages::path(&args.out, all.len() - 1, all.len()).display(),
            all.len()
        ))?,
    }
    Ok(report_failures(&left_out))
}

/// A ground painted in colour orders.
pub struct Painted {
    /// The ground.
    pub chosen: Chosen,
    /// The pictures side by side.
    pub image: Image,
    /// What comes of each order, in a line.
    pub words: Vec<String>,
}

/// Paints grounds that are laid out in colour orders, each picture `px` pixels
/// wide.
pub fn painted(
    laid_out: Vec<(Chosen, Layout)>,
    orders: &[Arrangement],
    palette: &Palette,
    scale: &Scale,
    px: u32,
) -> Vec<Painted> {
    let draw = |(chosen, layout)| cells::drawn(chosen, layout, orders, scale, px);
    let drawn: Vec<Drawn> = laid_out.into_par_iter().map(draw).collect();
    let cells = work_out(&drawn, orders, palette);
    let paint = |(drawn, cells): (Drawn, Vec<Cell>)| {
        let mut image = Image::new(px * orders.len() as u32, px, None);
        let stride = image.width() as usize;
        for (order, x) in orders.iter().zip((0..).step_by(px as usize)) {
            drawn.thumbnail.paint_into(order, palette, &mut image.pixels_mut()[x..], stride);
        }
        let words = cells.iter().map(|cell| cell.wordings().swap_remove(0)).collect();
        Painted { chosen: drawn.chosen, image, words }
    };
    drawn.into_iter().zip(cells).map(paint).collect()
}

/// What comes of every ground in every order, on all processors.
fn work_out(drawn: &[Drawn], orders: &[Arrangement], palette: &Palette) -> Vec<Vec<Cell>> {
    drawn
        .par_iter()
        .enumerate()
        .map(|(row, _)| {
            (0..orders.len())
                .into_par_iter()
                .map(|column| one(drawn, orders, [row, column], palette))
                .collect()
        })
        .collect()
}

/// What comes of one ground in one order.
fn one(drawn: &[Drawn], orders: &[Arrangement], what: [usize; 2], palette: &Palette) -> Cell {
    let [row, column] = what;
    let contrast = |a: u8, b: u8| contrast(palette.rgb(a).into(), palette.rgb(b).into());
    Cell::new(what, &drawn[row], &orders[column], palette.colours().len(), contrast)
}

/// Sections by the kind of pattern, each in the order of the table.
fn by_pattern(cells: &[Vec<Cell>], numbers: &[usize]) -> (Vec<Section>, Vec<[usize; 2]>) {
    let mut sections = Vec::new();
    let mut listed = Vec::new();
    for pattern in Pattern::ALL {
        let of = numbers.iter().flat_map(|&row| &cells[row]).filter(|c| c.pattern == pattern);
        let begun = listed.len();
        listed.extend(of.map(|c| [c.row, c.column]));
        let count = listed.len() - begun;
        if count > 0 {
            let words = pattern.words();
            let title =
                format!("{}{}: {}", words[..1].to_uppercase(), &words[1..], with_commas(count as u128));
            sections.push(Section { title, cells: count });
        }
    }
    (sections, listed)
}

/// The one named, then all others, the most alike first; those equally alike
/// in the order of the table.
fn by_likeness(named: &Cell, cells: &mut [Vec<Cell>], numbers: &[usize]) -> (Vec<Section>, Vec<[usize; 2]>) {
    let first = [named.row, named.column];
    let mut others: Vec<(f64, [usize; 2])> = Vec::new();
    for &row in numbers {
        for cell in &mut cells[row] {
            let alike = like::likeness(named, cell);
            cell.alike = Some(alike);
            if [cell.row, cell.column] != first {
                others.push((alike, [cell.row, cell.column]));
            }
        }
    }
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut sections = vec![Section { title: "The one named".to_owned(), cells: 1 }];
    if !others.is_empty() {
        sections.push(Section { title: "The most alike first".to_owned(), cells: others.len() });
    }
    (sections, std::iter::once(first).chain(others.into_iter().map(|(_, what)| what)).collect())
}

/// What stands below a picture that has no row and column: ground, order, what
/// results.
fn caption(drawn: &Drawn, order: &Arrangement, cell: &Cell) -> Vec<Vec<String>> {
    let mut ground = vec![drawn.chosen.title().to_owned(), drawn.chosen.name()];
    ground.dedup();
    let (letters, runs) = (order.to_string(), order.in_runs());
    let mut written = Vec::new();
    if let Some(name) = order.name() {
        written.extend([&letters, &runs].map(|text| format!("{text} · {}", name.words())));
    }
    written.extend([letters, runs]);
    let words = cell.wordings();
    let words = match cell.alike {
        None => words,
        Some(alike) => {
            let alike = format!("{:.0} % alike", alike * 100.0);
            let first = words.into_iter().map(|w| format!("{alike}: {w}"));
            first.chain([alike.clone()]).collect()
        }
    };
    vec![ground, written, words]
}

/// The table of grounds in orders.
fn table<'a, 'd: 'a>(
    heading: &'a Heading,
    drawn: impl Iterator<Item = &'a Drawn>,
    orders: &[Arrangement],
) -> Table<'a> {
    Table {
        heading,
        columns: orders
            .iter()
            .map(|o| Column { arrangement: o.clone(), name: o.name().map(|name| name.words()) })
            .collect(),
        rows: drawn
            .map(|d| RowHead { label: d.chosen.title().to_owned(), notes: rows::notes(&d.chosen) })
            .collect(),
    }
}

fn title(args: &GridArgs, named: Option<&Cell>, drawn: &[Drawn], orders: &[Arrangement]) -> String {
    match named {
        Some(cell) => {
            format!("What looks like {} in {}", drawn[cell.row].chosen.title(), orders[cell.column])
        }
        None if args.group => "Grounds in every arrangement, by the kind of pattern".to_owned(),
        None => "Grounds in every arrangement".to_owned(),
    }
}

fn heading(
    title: String,
    scale: &Scale,
    palette: &Palette,
    px: u32,
    caption_lines: usize,
    seen_by: Option<&str>,
) -> Heading {
    let mut subtitle = format!(
        "Each picture shows {} mm of lace; pin spacing {} mm, thread {:.2} mm. Pairs hang left to right as the letters say, repeating.",
        scale.window_mm(),
        scale.pin_spacing_mm,
        scale.thread_mm
    );
    if let Some(who) = seen_by {
        subtitle.push_str(&format!(" Colours are painted as seen {who}."));
    }
    Heading {
        title,
        subtitle,
        palette: palette
            .colours()
            .iter()
            .map(|c| NamedColour { colour: c.rgb.into(), name: c.name.clone() })
            .collect(),
        side: px,
        caption_lines,
    }
}
