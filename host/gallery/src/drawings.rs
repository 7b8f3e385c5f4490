//! The drawings of a variety that pages show and offer for download: threads,
//! working diagram with its key, pricking, and a page to print with all of them.

use compare::sheet::SheetRequest;
use compare::thumbnail::window;
use lace::Grid;
use picture::colour::Rgb;
use picture::drawing::pricking::{Paper, pin_places, pricking};
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::working_diagram::{DiagramLook, WorkingDiagram, diagram_key, legible_at};
use picture::drawing::{Drawing, Group, Path, Rect, Shape, Size, Step, Stroke};
use picture::export::pdf::to_pdf;
use picture::export::svg::to_svg;

use crate::GalleryError;
use crate::drawn_variety::DrawnVariety;
use crate::shared::{Gallery, VARIETY_PX};

/// Least scale of a working diagram against its lace at the widest pin spacing shown,
/// so that its marks are legible.
const ENLARGED: f64 = 5.0;
/// Width and height of the pricking to print, in mm.
const PRINTED_MM: [f64; 2] = [120.0, 160.0];
/// Width of a page in pixels, for the shading of its threads.
const SHEET_PX: u32 = 1600;
/// Radius of a dot in a pricking, in pin spacings.
const DOT: f64 = 0.06;

/// What the page needs to know about a working diagram.
pub struct DiagramSize {
    /// Its scale against the lace.
    pub enlarged: f64,
    /// Its width and height against those of a picture.
    pub side: f64,
    /// Height of its key divided by the width.
    pub key_height: f64,
}

/// Writes all drawings of a variety. The pricking shows the piece of lace that the
/// large picture shows; the working diagram at least as many pin spacings for every
/// ground, and the whole order of working.
pub fn write<E>(
    gallery: &Gallery<'_, E>,
    variety: &DrawnVariety<'_>,
) -> Result<DiagramSize, GalleryError<E>> {
    let side = variety.large.window_mm;
    let write = |folder: &str, what: &str, mut drawing: Drawing| {
        drawing.title = format!("{}: {what}", variety.chosen.title());
        let path = format!("{folder}/{}.svg", variety.chosen.name());
        gallery.write(&path, to_svg(&drawing, "").as_bytes())
    };
    let own_side = gallery.scale().diagram_window_mm(variety.chosen.about());
    write("drawings", "thread drawing", threads(gallery, variety, own_side))?;
    let (enlarged, grid) = enlarged(gallery, variety);
    let (diagram, wide) = working_diagram(gallery, variety, &grid);
    let window = diagram.window(Size { width: wide, height: wide });
    write("diagrams", "working diagram", diagram.draw(window))?;
    let mut key = diagram_key(variety.ground(), wide);
    key.background = Rgb::WHITE.into();
    let key_height = key.height / key.width;
    write("keys", "key of the working diagram", key)?;
    write("prickings", "pricking", dots(variety, side))?;
    let pdf = printed_pricking(gallery, variety)?;
    gallery.write(&format!("prickings/{}.pdf", variety.chosen.name()), &pdf)?;
    let pdf = printed_sheet(gallery, variety)?;
    gallery.write(&format!("sheets/{}.pdf", variety.chosen.name()), &pdf)?;
    Ok(DiagramSize { enlarged, side: wide / (ENLARGED * variety.large.usual_mm), key_height })
}

/// The threads of one whole repeat and no more, because these are the largest
/// files.
fn threads<E>(gallery: &Gallery<'_, E>, variety: &DrawnVariety<'_>, side: f64) -> Drawing {
    let (ground, layout) = (variety.ground(), &variety.layout);
    let measures = ground.measures(&layout.grid);
    let repeat = measures.repeat_width_mm.max(measures.repeat_height_mm).max(0.5 * side);
    let colours = gallery.painted.of_threads(&gallery.arrangement.threads());
    let px_per_mm = f64::from(VARIETY_PX) / side;
    let plain = ThreadLook { style: Style::Plain, ..ThreadLook::new(colours, px_per_mm) };
    draw_threads(ground, layout, window(ground, layout, repeat), &plain)
}

/// Width and height of the lace that the working diagram of a variety shows, mm.
pub fn diagram_mm<E>(gallery: &Gallery<'_, E>, variety: &DrawnVariety<'_>) -> f64 {
    let (times, grid) = enlarged(gallery, variety);
    working_diagram(gallery, variety, &grid).1 / times
}

/// The working diagram, and the side of a square that shows the whole order of
/// working, mm.
fn working_diagram<'a, E>(
    gallery: &Gallery<'_, E>,
    variety: &'a DrawnVariety<'_>,
    grid: &Grid,
) -> (WorkingDiagram<'a>, f64) {
    let look = DiagramLook { numbers: true, ..DiagramLook::default() };
    let diagram = WorkingDiagram::new(variety.ground(), grid, look);
    let side = (ENLARGED * gallery.scale().large_window_mm()).max(diagram.side());
    (diagram, side)
}

/// The grid of a working diagram, and its scale against the lace, which is 1 where
/// the pins are far apart anyway.
fn enlarged<E>(gallery: &Gallery<'_, E>, variety: &DrawnVariety<'_>) -> (f64, Grid) {
    let (scale, grid) = (gallery.scale(), variety.grid());
    let least = ENLARGED * scale.large_window_mm() / scale.diagram_window_mm(variety.chosen.about());
    let times = legible_at(variety.ground(), grid).ceil().max(least);
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
    // A line without length and with round ends is a dot.
    let mut pins = Path::new();
    for pin in pin_places(ground, &layout.grid, window) {
        let at = pin - lace::point(window.x, window.y);
        pins.steps.extend([Step::Move(at), Step::Line(at)]);
    }
    group.shapes.push(Shape::stroke(pins, Stroke::new(Rgb::INK, 2.0 * radius)));
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

/// A page to print with everything about a variety on it, as `pairwise sheet` makes
/// it, as a PDF file.
fn printed_sheet<E>(
    gallery: &Gallery<'_, E>,
    variety: &DrawnVariety<'_>,
) -> Result<Vec<u8>, GalleryError<E>> {
    let request = SheetRequest {
        chosen: variety.chosen.clone(),
        arrangement: gallery.arrangement.clone(),
        palette: gallery.palette().clone(),
        seen_by: gallery.plan.request.seen_by,
        scale: *gallery.scale(),
        show: None,
        area_mm: None,
        paper: Paper::A4,
        px: SHEET_PX,
        pins: false,
        style: Style::Shaded,
        balanced: false,
        background: None,
    };
    Ok(to_pdf(&request.page_as_laid_out(&variety.layout)?)?)
}
