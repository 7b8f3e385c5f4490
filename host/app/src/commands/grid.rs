//! `grid`: grounds in rows, colour orders in columns, one picture.

use lace::{Arrangement, Arrangements, Sameness};
use picture::contact::{ContactSheet, Row};
use picture::image::Image;
use rayon::prelude::*;

use crate::catalogue::{Catalogue, Chosen, choose, read_change};
use crate::cli::{Colouring, GridArgs, Sources};
use crate::colours::Palette;
use crate::commands::report_failures;
use crate::failure::Failure;
use crate::output::{print, write_file};
use crate::pictures::{Scale, Thumbnail};
use crate::progress::Progress;

/// The colour orders to show, and how many were left out.
pub struct Orders {
    /// Shown, in the order of the alphabet or as the user gave them.
    pub shown: Vec<Arrangement>,
    /// How many different ones there would be beyond these; `None` when they
    /// were not counted to the end.
    pub left_out: Option<usize>,
}

/// Orders looked at when counting those left out.
const MOST_COUNTED: usize = 100_000;

impl Orders {
    /// What the user asked for: given orders, or all that look different on at
    /// least one of the grounds.
    pub fn new(
        colouring: &Colouring,
        palette: &Palette,
        grounds: &[&lace::Ground],
    ) -> Result<Orders, Failure> {
        if !colouring.arrangement.is_empty() {
            let shown = colouring
                .arrangement
                .iter()
                .map(|text| {
                    let order: Arrangement =
                        text.parse().map_err(|wrong: lace::ArrangementError| Failure::Value {
                            what: wrong.to_string(),
                            help: "for example --arrangement \"A A B B\"".to_owned(),
                        })?;
                    palette.covers(&order)?;
                    Ok(order)
                })
                .collect::<Result<_, Failure>>()?;
            return Ok(Orders { shown, left_out: Some(0) });
        }
        let pairs = usize::from(colouring.pairs);
        let max = usize::from(colouring.max);
        let alike: Vec<Sameness> = grounds.iter().map(|g| Sameness::new(g, pairs)).collect();
        let mut all = Arrangements::new(&alike, palette.colours().len(), false);
        let shown: Vec<Arrangement> = all.by_ref().take(max).collect();
        // Long enumerations are not walked to the end only to be counted.
        let possible = (palette.colours().len() as f64).powi(i32::from(colouring.pairs));
        let left_out = (possible <= MOST_COUNTED as f64).then(|| all.count());
        Ok(Orders { shown, left_out })
    }

    /// A notice for the user, if something was left out.
    pub fn notice(&self) -> Option<String> {
        match self.left_out {
            Some(0) => None,
            Some(n) => Some(format!("{n} more colour orders look different; raise --max to see them")),
            None => Some("there are many more colour orders; raise --max to see more of them".to_owned()),
        }
    }
}

/// A chosen ground with a picture for each colour order.
pub struct Painted {
    /// What stands beside the pictures.
    pub row: Row,
    /// Whether the threads found their places.
    pub settled: bool,
}

/// Draws every chosen ground in every order, on all processors.
pub fn paint(
    chosen: &[Chosen<'_>],
    orders: &[Arrangement],
    palette: &Palette,
    scale: &Scale,
    px: u32,
) -> Result<Vec<Painted>, Failure> {
    let progress = Progress::new(chosen.len(), "Drawing grounds");
    let pairs = orders.iter().map(|o| o.pairs().len()).collect::<Vec<_>>();
    chosen
        .par_iter()
        .map(|c| {
            let grid = scale.grid(c.plugin.about.angle)?;
            let mut settled = true;
            let mut drawn: Vec<(usize, Thumbnail)> = Vec::new();
            let mut cells: Vec<Image> = Vec::with_capacity(orders.len());
            for (order, &n) in orders.iter().zip(&pairs) {
                // One drawing serves all orders of one length.
                let found = drawn.iter().position(|(m, _)| *m == n);
                let at = found.unwrap_or_else(|| {
                    drawn.push((n, Thumbnail::new(&c.ground, &grid, scale, scale.window_mm(), px, n)));
                    drawn.len() - 1
                });
                let thumbnail = &drawn[at].1;
                settled &= thumbnail.layout.report.converged;
                cells.push(thumbnail.paint(order, palette));
            }
            progress.step();
            Ok(Painted { row: Row { label: c.title().to_owned(), notes: notes(c), cells }, settled })
        })
        .collect()
}

/// What stands below the title: the name to type, the works, where threads go.
fn notes(chosen: &Chosen<'_>) -> Vec<String> {
    let mut works: Vec<String> = Vec::new();
    for stitch in chosen.ground.stitches() {
        let work = stitch.work.to_string();
        if !works.contains(&work) {
            works.push(work);
        }
    }
    works.truncate(3);
    let courses = chosen.ground.courses();
    let stay = courses.iter().filter(|c| c.travel == lace::Travel::Stays).map(|c| c.threads).sum::<usize>();
    let all: usize = courses.iter().map(|c| c.threads).sum();
    let travel = match stay {
        0 => "all threads travel".to_owned(),
        n if n == all => "all threads stay".to_owned(),
        n => format!("{n} of {all} threads stay"),
    };
    vec![chosen.name(), works.join(", "), travel]
}

/// The rows the user asked for; what fails is put aside.
fn rows<'a>(
    args: &GridArgs,
    catalogue: &'a Catalogue,
    failures: &mut Vec<(String, String)>,
) -> Result<Vec<Chosen<'a>>, Failure> {
    let changes = args.choosing.with.iter().map(|w| read_change(w)).collect::<Result<Vec<_>, _>>()?;
    let mut wanted: Vec<(&sandbox::Plugin, Option<String>)> = Vec::new();
    let names: Vec<String> = match args.grounds.as_slice() {
        [] => catalogue.plugins.iter().map(|p| p.about.id.clone()).collect(),
        names => names.to_vec(),
    };
    for name in &names {
        match name.split_once('/') {
            Some((id, variety)) => wanted.push((catalogue.plugin(id)?, Some(variety.to_owned()))),
            None => {
                let plugin = catalogue.plugin(name)?;
                if args.varieties {
                    wanted.extend(plugin.about.varieties.keys().map(|v| (plugin, Some(v.clone()))));
                } else {
                    wanted.push((plugin, None));
                }
            }
        }
    }
    let mut chosen = Vec::new();
    for (plugin, variety) in wanted {
        // A choice or variety that is not there is the user's mistake, said at
        // once; a ground that fails is put aside.
        plugin
            .about
            .resolve(variety.as_deref(), &changes)
            .map_err(|why| Failure::Contribution(why.to_string()))?;
        match choose(plugin, variety.as_deref(), &changes) {
            Ok(ground) => chosen.push(ground),
            Err(why) => failures.push((plugin.from.clone(), why.to_string())),
        }
    }
    Ok(chosen)
}

/// Draws the grid. Returns whether a contribution failed.
pub fn run(args: &GridArgs, sources: &Sources) -> Result<bool, Failure> {
    let scale = Scale::new(&args.gauge)?;
    let palette: Palette = args.colouring.colours.as_deref().map_or(Ok(Palette::default()), str::parse)?;
    let catalogue = Catalogue::load(sources)?;
    let mut failures = catalogue.failures.clone();
    let chosen = rows(args, &catalogue, &mut failures)?;
    if chosen.is_empty() {
        report_failures(&failures);
        return Err(Failure::Value {
            what: "none of these grounds could be drawn".to_owned(),
            help: "`pairwise check GROUND` says what is wrong with each".to_owned(),
        });
    }
    let grounds: Vec<&lace::Ground> = chosen.iter().map(|c| &c.ground).collect();
    let orders = Orders::new(&args.colouring, &palette, &grounds)?;
    let painted = paint(&chosen, &orders.shown, &palette, &scale, args.size)?;
    for (p, c) in painted.iter().zip(&chosen) {
        if !p.settled {
            crate::output::tell(&format!(
                "note: the threads of {} did not quite come to rest; the picture is near the truth",
                c.name()
            ));
        }
    }
    let sheet = sheet("Grounds in every colour order", painted, &orders.shown, &palette, &scale, args.size);
    let image = sheet.draw();
    write_file(&args.out, &image.to_png(sheet.px_per_mm))?;
    let mut text = format!(
        "{}: {} {} in {} colour orders, {} by {} pixels\n",
        args.out.display(),
        sheet.rows.len(),
        if sheet.rows.len() == 1 { "ground" } else { "grounds" },
        sheet.columns.len(),
        image.width(),
        image.height()
    );
    if let Some(notice) = orders.notice() {
        text.push_str(&format!("{notice}\n"));
    }
    print(&text)?;
    Ok(report_failures(&failures))
}

/// Puts painted rows on a sheet.
pub fn sheet(
    title: &str,
    painted: Vec<Painted>,
    orders: &[Arrangement],
    palette: &Palette,
    scale: &Scale,
    px: u32,
) -> ContactSheet {
    ContactSheet {
        title: title.to_owned(),
        subtitle: format!(
            "Each picture shows {} mm of lace; pin spacing {} mm, thread {:.2} mm. Pairs hang left to right as the bobbins show, again and again.",
            scale.window_mm(),
            scale.pin_spacing_mm,
            scale.thread_mm
        ),
        palette: palette.colours().iter().map(|c| (c.rgb.into(), c.name.clone())).collect(),
        columns: orders.to_vec(),
        rows: painted.into_iter().map(|p| p.row).collect(),
        px_per_mm: f64::from(px) / scale.window_mm(),
    }
}
