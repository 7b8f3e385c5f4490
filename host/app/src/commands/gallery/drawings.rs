//! The drawings of a variety that pages show and visitors take away: threads,
//! working diagram with its key, pricking.

use catalogue::Chosen;
use compare::thumbnail::window;
use lace::Grid;
use picture::colour::Rgb;
use picture::drawing::pricking::{Paper, pin_places, pricking};
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::working_diagram::{DiagramLook, StepsShown, WorkingDiagram, diagram_key};
use picture::drawing::{Drawing, Group, Path, Rect, Shape};
use picture::export::pdf::to_pdf;
use picture::export::svg::to_svg;
use picture::layout::Layout;

use super::{Gallery, VARIETY_PX};
use crate::failure::Failure;

/// How much larger than the lace its working diagram is drawn, so that marks
/// can be read.
const DIAGRAM: f64 = 5.0;
/// How much of the lace before the first stitch a working diagram shows, in pin
/// spacings.
const EDGE: f64 = 0.3;
/// Width and height of the pricking that is to be printed, mm.
const PRINTED_MM: [f64; 2] = [120.0, 160.0];

/// What a page must know of the drawings.
pub struct Drawn {
    /// How much larger than the lace the working diagram is.
    pub enlarged: f64,
    /// Height of the key for a width of 1.
    pub key_height: f64,
}

/// Writes all drawings of a variety; the working diagram and the pricking show
/// the piece of lace that the large picture shows.
pub fn write(gallery: &Gallery<'_>, chosen: &Chosen, layout: &Layout) -> Result<Drawn, Failure> {
    let Gallery { scale, order, palette, folder, .. } = gallery;
    let (ground, name, side) = (&chosen.ground, chosen.name(), scale.large_window_mm());
    let write = |to: &str, what: &str, mut drawing: Drawing| {
        drawing.title = format!("{}: {what}", chosen.title());
        folder.write(&format!("{to}/{name}.svg"), to_svg(&drawing, "").as_bytes())
    };

    let colours = order.threads().into_iter().map(|c| palette.rgb(c).into()).collect();
    let px_per_mm = f64::from(VARIETY_PX) / side;
    let plain = ThreadLook { style: Style::Plain, ..ThreadLook::new(colours, px_per_mm) };
    // A whole repeat, but no more than that: these are the largest files.
    let measures = ground.measures(&layout.grid);
    let repeat = measures.repeat_width_mm.max(measures.repeat_height_mm).clamp(0.5 * side, 0.8 * side);
    write(
        "drawings",
        "thread drawing",
        draw_threads(ground, layout, window(ground, layout, repeat), &plain),
    )?;

    let numbered = DiagramLook { numbers: Some(StepsShown::of(ground)), ..DiagramLook::default() };
    let (enlarged, grid) = enlarged(&layout.grid);
    let wide = enlarged * side;
    // A little more at the edges where the work begins: its marks are not cut.
    let more = EDGE * grid.pin_spacing_mm();
    let shown = Rect { x: -more, y: ground.top() * grid.step_y_mm() - more, width: wide, height: wide };
    write("diagrams", "working diagram", WorkingDiagram::new(ground, &grid, numbered).draw(shown))?;
    let mut key = diagram_key(ground, wide);
    key.background = Rgb::WHITE.into();
    let key_height = key.height / key.width;
    write("keys", "key of the working diagram", key)?;
    write("prickings", "pricking", dots(chosen, layout, side))?;
    let area = window(ground, layout, 0.0);
    let area = Rect { width: PRINTED_MM[0], height: PRINTED_MM[1], ..area };
    let notes = format!(
        "{} mm between footside pins, diagonals {}\u{b0} from the footside. Every dot is a pin.",
        layout.grid.pin_spacing_mm(),
        layout.grid.angle_deg()
    );
    let pages = pricking(ground, &layout.grid, area, Paper::A4, chosen.title(), &notes)
        .map_err(|why| Failure::Contribution(why.to_string()))?;
    let pages = to_pdf(&pages).map_err(|why| Failure::Contribution(why.to_string()))?;
    folder.write(&format!("prickings/{name}.pdf"), &pages)?;
    Ok(Drawn { enlarged, key_height })
}

/// The grid of a working diagram, and how much larger it is. Where pins stand
/// far apart anyway it is no larger.
fn enlarged(grid: &Grid) -> (f64, Grid) {
    let larger = Grid::new(DIAGRAM * grid.pin_spacing_mm(), grid.angle_deg());
    larger.map_or((1.0, *grid), |larger| (DIAGRAM, larger))
}

/// A dot for every pin of the piece of lace that the large picture shows.
fn dots(chosen: &Chosen, layout: &Layout, side: f64) -> Drawing {
    let window = window(&chosen.ground, layout, side);
    let mut pricking = Drawing::new(side, side, String::new());
    pricking.background = Rgb::WHITE.into();
    let mut group = Group::new("pins");
    let radius = 0.06 * layout.grid.pin_spacing_mm();
    for pin in pin_places(&chosen.ground, &layout.grid, window) {
        let at = pin - lace::point(window.x, window.y);
        group.shapes.push(Shape::fill(Path::circle(at, radius), Rgb::INK));
    }
    pricking.groups.push(group);
    pricking
}
