//! The drawings of a variety that pages show and offer for download: threads,
//! working diagram with its key, pricking.

use compare::thumbnail::window;
use lace::Grid;
use picture::colour::Rgb;
use picture::drawing::pricking::{Paper, pin_places, pricking};
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::working_diagram::{DiagramLook, StepsShown, WorkingDiagram, diagram_key};
use picture::drawing::{Drawing, Group, Path, Rect, Shape};
use picture::export::pdf::to_pdf;
use picture::export::svg::to_svg;

use crate::GalleryError;
use crate::drawn_variety::DrawnVariety;
use crate::shared::{Gallery, VARIETY_PX};

/// Scale of a working diagram against its lace at the widest pin spacing shown, so
/// that its marks are legible.
const ENLARGED: f64 = 5.0;
/// How much of the lace before the first stitch a working diagram shows, in pin
/// spacings.
const EDGE: f64 = 0.3;
/// Width and height of the pricking to print, in mm.
const PRINTED_MM: [f64; 2] = [120.0, 160.0];
/// Radius of a dot in a pricking, in pin spacings.
const DOT: f64 = 0.06;

/// What the page needs to know about a working diagram.
pub struct DiagramSize {
    /// Its scale against the lace.
    pub enlarged: f64,
    /// Height of its key divided by the width.
    pub key_height: f64,
}

/// Writes all drawings of a variety. The pricking shows the piece of lace that the
/// large picture shows; the working diagram as many pin spacings for every ground,
/// in a drawing of the same size.
pub fn write<E>(
    gallery: &Gallery<'_, E>,
    variety: &DrawnVariety<'_>,
) -> Result<DiagramSize, GalleryError<E>> {
    let side = gallery.scale().large_window_mm();
    let write = |folder: &str, what: &str, mut drawing: Drawing| {
        drawing.title = format!("{}: {what}", variety.chosen.title());
        let path = format!("{folder}/{}.svg", variety.chosen.name());
        gallery.write(&path, to_svg(&drawing, "").as_bytes())
    };
    let own_side = gallery.scale().diagram_window_mm(variety.chosen.about());
    write("drawings", "thread drawing", threads(gallery, variety, own_side))?;
    let (enlarged, grid) = enlarged(variety.grid(), ENLARGED * side / own_side);
    write("diagrams", "working diagram", working_diagram(variety, &grid, enlarged * own_side))?;
    let mut key = diagram_key(variety.ground(), enlarged * own_side);
    key.background = Rgb::WHITE.into();
    let key_height = key.height / key.width;
    write("keys", "key of the working diagram", key)?;
    write("prickings", "pricking", dots(variety, side))?;
    let pdf = printed_pricking(gallery, variety)?;
    gallery.write(&format!("prickings/{}.pdf", variety.chosen.name()), &pdf)?;
    Ok(DiagramSize { enlarged, key_height })
}

/// The threads of one whole repeat and no more, because these are the largest
/// files.
fn threads<E>(gallery: &Gallery<'_, E>, variety: &DrawnVariety<'_>, side: f64) -> Drawing {
    let (ground, layout) = (variety.ground(), &variety.layout);
    let measures = ground.measures(&layout.grid);
    let repeat = measures.repeat_width_mm.max(measures.repeat_height_mm).clamp(0.5 * side, 0.8 * side);
    let colours = gallery.painted.of_threads(&gallery.arrangement.threads());
    let px_per_mm = f64::from(VARIETY_PX) / side;
    let plain = ThreadLook { style: Style::Plain, ..ThreadLook::new(colours, px_per_mm) };
    draw_threads(ground, layout, window(ground, layout, repeat), &plain)
}

fn working_diagram(variety: &DrawnVariety<'_>, grid: &Grid, wide: f64) -> Drawing {
    let ground = variety.ground();
    let numbered = DiagramLook { numbers: Some(StepsShown::of(ground)), ..DiagramLook::default() };
    // A little more at the edges where the work begins: its marks are not cut.
    let more = EDGE * grid.pin_spacing_mm();
    let window = Rect { x: -more, y: ground.top() * grid.step_y_mm() - more, width: wide, height: wide };
    WorkingDiagram::new(ground, grid, numbered).draw(window)
}

/// The grid of a working diagram so many times as large as its lace, and that
/// number, which is 1 where the pins are far apart anyway.
fn enlarged(grid: &Grid, times: f64) -> (f64, Grid) {
    let larger = Grid::new(times * grid.pin_spacing_mm(), grid.angle_deg());
    larger.map_or((1.0, *grid), |larger| (times, larger))
}

/// A dot for every pin of the piece of lace that the large picture shows.
fn dots(variety: &DrawnVariety<'_>, side: f64) -> Drawing {
    let (ground, layout) = (variety.ground(), &variety.layout);
    let window = window(ground, layout, side);
    let mut pricking = Drawing::new(side, side, String::new());
    pricking.background = Rgb::WHITE.into();
    let mut group = Group::new("pins");
    let radius = DOT * layout.grid.pin_spacing_mm();
    for pin in pin_places(ground, &layout.grid, window) {
        let at = pin - lace::point(window.x, window.y);
        group.shapes.push(Shape::fill(Path::circle(at, radius), Rgb::INK));
    }
    pricking.groups.push(group);
    pricking
}

/// A pricking to print, as a PDF file.
fn printed_pricking<E>(
    gallery: &Gallery<'_, E>,
    variety: &DrawnVariety<'_>,
) -> Result<Vec<u8>, GalleryError<E>> {
    let (ground, layout) = (variety.ground(), &variety.layout);
    let [width, height] = PRINTED_MM;
    let area = Rect { width, height, ..window(ground, layout, 0.0) };
    let notes = format!(
        "{}, diagonals {}\u{b0} from the footside. Every dot is a pin.",
        gallery.scale().spacing_in_words(variety.chosen.about()),
        layout.grid.angle_deg()
    );
    let title = variety.chosen.title();
    let pages = pricking(ground, &layout.grid, area, Paper::A4, title, &notes)?;
    Ok(to_pdf(&pages)?)
}
