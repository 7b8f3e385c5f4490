//! The picture of a trace: the lace with the pairs followed in their colours,
//! beside it the chart of their ways, and the sentences below.

use std::path::Path;

use lace::{Trace, point};
use picture::colour::Rgb;
use picture::drawing::font;
use picture::drawing::threads::{ThreadLook, draw_threads};
use picture::drawing::trace_chart::{GREY, TraceChartLook, draw_trace_chart};
use picture::drawing::{Anchor, Drawing, Face, Group, Shape, Text, rect};
use picture::layout::lay_out;

use super::Asked;
use crate::export::export;
use crate::failure::Failure;
use crate::output::print;
use crate::pictures::tell_unsettled;

const MARGIN: f64 = 8.0;
/// Width of the lace, mm, however much of it is shown.
const LACE: f64 = 100.0;
const STEP: f64 = 6.0;
/// Pixels of a PNG to the millimetre of the picture.
const PX_PER_MM: f64 = 6.0;

/// Draws and writes the picture.
pub(super) fn draw(
    asked: &Asked<'_>,
    trace: &Trace,
    sentences: &[String],
    out: &Path,
) -> Result<(), Failure> {
    let shown = asked.shown(trace);
    let hung = trace.hung(&asked.order);
    let look = TraceChartLook {
        colours: hung.iter().map(|&c| asked.rgb(c)).collect(),
        shown: shown.clone(),
        footsides: trace.footsides,
        step: (LACE * 1.2 / trace.places as f64).clamp(2.5, STEP),
    };
    let ways = draw_trace_chart(&trace.rows, &look);
    // Between footsides the edges of the lace are not drawn, so neither is it.
    let lace = if trace.footsides { None } else { Some(lace(asked, trace, &shown)?) };
    let lace_width = lace.as_ref().map_or(0.0, |l| l.width + MARGIN);
    let width = (2.0 * MARGIN + lace_width + ways.width).max(130.0);
    let top = MARGIN + 12.0;
    let words: Vec<String> =
        sentences.iter().flat_map(|s| font::wrapped(s, 3.4, Face::Regular, width - 2.0 * MARGIN)).collect();
    let body = ways.height.max(lace.as_ref().map_or(0.0, |l| l.height));
    let height = top + body + 6.0 + 4.8 * words.len() as f64 + MARGIN;
    let title = format!("{}: pairs hang {}", asked.chosen.title(), asked.order);
    let mut page = Drawing::new(width, height, title.clone());
    page.background = Rgb::WHITE.into();
    if let Some(lace) = &lace {
        page.place(lace, point(MARGIN, top), "lace-");
    }
    page.place(&ways, point(MARGIN + lace_width, top - 7.0), "ways-");
    let mut group = Group::new("words");
    let mut write = |words: &str, y: f64, size: f64, face: Face| {
        group.shapes.push(Shape::Text(Text {
            at: point(MARGIN, y),
            size,
            words: font::shortened(words, size, face, width - 2.0 * MARGIN),
            anchor: Anchor::Start,
            face,
            paint: Rgb::INK.into(),
        }));
    };
    write(&title, MARGIN + 4.0, 5.0, Face::Semibold);
    for (k, line) in words.iter().enumerate() {
        write(line, top + body + 8.0 + 4.8 * k as f64, 3.4, Face::Regular);
    }
    page.groups.push(group);
    export(&[page], out, (width * PX_PER_MM).round() as u32)?;
    if asked.args.json {
        return Ok(());
    }
    print(&format!(
        "{}: the ways of {} places over {} rows\n\n",
        out.display(),
        trace.places,
        trace.rows.len() - 1
    ))
}

/// The lace that the trace goes over, what is not followed in grey.
fn lace(asked: &Asked<'_>, trace: &Trace, shown: &[bool]) -> Result<Drawing, Failure> {
    let ground = &asked.chosen.ground;
    let grid = asked.scale.grid(asked.chosen.about().angle)?;
    let layout = lay_out(ground, &grid, asked.scale.thread_mm);
    tell_unsettled(&layout, &asked.chosen);
    let own = ground.hanging().pairs().len();
    let pairs = if trace.by_threads { trace.places / 2 } else { trace.places };
    let wide = pairs as f64 / own as f64 * ground.upright().width() * grid.step_x_mm();
    let rows = (trace.rows.len() - 1).max(1) as f64;
    let high = (rows * ground.upright().row_height() * grid.step_y_mm()).min(1.6 * wide);
    let times = LACE / wide;
    let threads = asked.order.extended(pairs).threads();
    let colours: Vec<Rgb> = threads
        .iter()
        .enumerate()
        .map(|(slot, &c)| {
            let unit = if trace.by_threads { slot } else { slot / 2 };
            if shown[unit] { asked.palette.rgb(c).into() } else { GREY }
        })
        .collect();
    let top = ground.top() * grid.step_y_mm();
    let look = ThreadLook::new(colours, PX_PER_MM * times);
    Ok(draw_threads(ground, &layout, rect(0.0, top, wide, high), &look).scaled(times))
}
