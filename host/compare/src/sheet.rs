//! Sheets: one ground in full, or its thread drawing, working diagram or
//! pricking alone.

use catalogue::Chosen;
use lace::{Arrangement, Grid, Ground};
use picture::colour::Rgb;
use picture::colour::vision::Vision;
use picture::drawing::pricking::{Paper, can_be_pricked, pricking};
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::working_diagram::{DiagramFit, DiagramLook, WorkingDiagram};
use picture::drawing::{Background, Drawing, Rect, Size, rect};
use picture::layout::Layout;
use picture::page::Fact;
use picture::page::sheet::{LEAST_PAGE, SheetLook, ground_sheet};

use crate::comparison::unsettled;
use crate::error::Error;
use crate::facts;
use crate::note::Note;
use crate::palette::Palette;
use crate::scale::Scale;
use crate::window::{Repeats, Shown, suiting};

/// Side of the lace in a thread drawing, in pin spacings.
const THREADS_SHOWN: f64 = 6.0;
/// Least and greatest side of a working diagram alone, in mm.
const DIAGRAM_MM: [f64; 2] = [120.0, 300.0];
/// Most stitches in one drawing.
pub const MAX_STITCHES: f64 = 50_000.0;

/// What a sheet shows.
#[derive(Clone, Debug)]
pub struct SheetRequest {
    /// The ground.
    pub chosen: Chosen,
    /// The arrangement of its pairs.
    pub arrangement: Arrangement,
    /// The colours themselves.
    pub palette: Palette,
    /// Colour vision to paint them for; `None` for normal vision.
    pub seen_by: Option<Vision>,
    /// Pin spacing and thread.
    pub scale: Scale,
    /// The one thing to show; `None` for everything on one page.
    pub show: Option<Show>,
    /// Width and height of what is shown alone, in mm; `None` for the usual size.
    pub area_mm: Option<[f64; 2]>,
    /// Paper of the page and of prickings.
    pub paper: Paper,
    /// Width of the sheet in pixels, for the shading of threads.
    pub px: u32,
    /// Whether pins are shown among the threads.
    pub pins: bool,
    /// How threads are drawn.
    pub style: Style,
    /// Whether the stitches of the working diagram are spaced evenly instead of
    /// placed on the pricking.
    pub balanced: bool,
    /// Background of the drawings; `None` for the one that suits each.
    pub background: Option<Background>,
}

/// What a sheet can show on its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Show {
    /// The threads as worked lace.
    Threads,
    /// The working diagram: a line for every pair, with its key.
    WorkingDiagram,
    /// The dots for the pins, actual size.
    Pricking,
}

/// A sheet.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Its pages: one, or several for a pricking or a long order of working.
    pub pages: Vec<Drawing>,
    /// Notes for the user.
    pub notes: Vec<Note>,
}

impl SheetRequest {
    /// Draws the sheet.
    ///
    /// # Errors
    /// Unusable prickings, paper that is too small, and areas that are too large.
    pub fn draw(&self) -> Result<Sheet, Error> {
        let grid = self.scale.grid(self.chosen.about())?;
        let alone = |page| Sheet { pages: vec![page], notes: Vec::new() };
        let sheet = match self.show {
            None => self.page(),
            Some(Show::Threads) => self.threads(&grid),
            Some(Show::WorkingDiagram) => Ok(alone(self.working_diagram(&grid)?)),
            Some(Show::Pricking) => Ok(Sheet { pages: self.pricking(&grid)?, notes: Vec::new() }),
        };
        let Sheet { pages, notes } = sheet?;
        let crowded = self.scale.note([self.chosen.about()]);
        Ok(Sheet { pages, notes: crowded.into_iter().chain(notes).collect() })
    }

    fn ground(&self) -> &Ground {
        &self.chosen.ground
    }

    /// Lays out the threads, with a note if they did not come to rest.
    fn layout(&self) -> Result<(Layout, Vec<Note>), Error> {
        let layout = self.scale.lay_out(&self.chosen)?;
        let notes = unsettled(&layout, &self.chosen).into_iter().collect();
        Ok((layout, notes))
    }

    /// Two to a pair.
    fn colours(&self) -> Vec<Rgb> {
        self.palette.seen_by(self.seen_by).of_threads(&self.arrangement.threads())
    }

    fn thread_look(&self, px_per_mm: f64) -> ThreadLook {
        let shaded = ThreadLook::new(self.colours(), px_per_mm);
        // A plain drawing has outlines, which stand out on white.
        let usual = if self.style == Style::Plain { Rgb::WHITE.into() } else { shaded.background };
        ThreadLook {
            style: self.style,
            pins: self.pins,
            background: self.background.unwrap_or(usual),
            ..shaded
        }
    }

    fn pair_look(&self) -> DiagramLook {
        DiagramLook {
            colours: self.colours(),
            balanced: self.balanced,
            numbers: true,
            background: self.background.unwrap_or(Rgb::WHITE.into()),
            ..DiagramLook::default()
        }
    }

    fn area(&self, usual: [f64; 2]) -> [f64; 2] {
        self.area_mm.unwrap_or(usual)
    }

    /// The window of an area, starting at the topmost stitch.
    fn window(&self, [width, height]: [f64; 2], grid: &Grid) -> Result<Rect, Error> {
        let ground = self.ground();
        let cell = ground.lattice().area() * grid.step_x_mm() * grid.step_y_mm();
        let stitches = width * height / cell * ground.stitches().len() as f64;
        if stitches > MAX_STITCHES {
            return Err(Error::TooManyStitches { width, height, stitches });
        }
        Ok(rect(0.0, ground.top() * grid.step_y_mm(), width, height))
    }

    fn titled(&self, mut drawing: Drawing, what: &str) -> Drawing {
        drawing.title = format!("{}: {what}", self.chosen.title());
        drawing
    }

    /// Pixels per millimetre of a drawing `width` mm wide; for a vector drawing,
    /// the scale it will be viewed at.
    fn px_per_mm(&self, width: f64) -> f64 {
        f64::from(self.px) / width
    }

    fn threads(&self, grid: &Grid) -> Result<Sheet, Error> {
        let shown = self.shown(grid);
        let window = self.window(self.area([shown.window_mm; 2]), grid)?;
        let look = self.thread_look(self.px_per_mm(window.width));
        let (layout, mut notes) = self.layout()?;
        if self.area_mm.is_none() {
            notes.extend(shown.note(&self.chosen.name()));
        }
        let drawing = draw_threads(self.ground(), &layout, window, &look);
        Ok(Sheet { pages: vec![self.titled(drawing, "thread drawing")], notes })
    }

    /// What a thread drawing shows: what is asked for, or whole repeats.
    fn shown(&self, grid: &Grid) -> Shown {
        let (ground, usual) = (self.ground(), THREADS_SHOWN * grid.pin_spacing_mm());
        let given = self.scale.given_window_mm();
        Shown {
            window_mm: given.unwrap_or_else(|| suiting(ground, grid, [&self.arrangement], usual)),
            usual_mm: given.unwrap_or(usual),
            repeats: Repeats::new(ground, grid, &self.arrangement),
        }
    }

    fn working_diagram(&self, grid: &Grid) -> Result<Drawing, Error> {
        // Nothing is cut off unless a size is asked for.
        let fits: fn(&Ground, &Grid, bool, Size) -> DiagramFit =
            if self.area_mm.is_some() { DiagramFit::new } else { DiagramFit::whole };
        let fit = |side: f64| {
            let [width, height] = self.area([side, side]);
            let size = Size { width, height };
            (size, fits(self.ground(), grid, self.balanced, size))
        };
        // As small as its numbers allow.
        let [least, most] = DIAGRAM_MM;
        let larger = (0..).map(|k| least + 10.0 * f64::from(k)).take_while(|side| *side < most);
        let (size, fit) = larger.map(fit).find(|(_, fit)| fit.numbered).unwrap_or_else(|| fit(most));
        self.window([size.width, size.height], &fit.grid)?;
        let diagram = WorkingDiagram::new(self.ground(), &fit.grid, self.pair_look());
        Ok(self.titled(diagram.draw_with_key(size), "working diagram"))
    }

    fn pricking(&self, grid: &Grid) -> Result<Vec<Drawing>, Error> {
        let field = self.paper.field();
        let window = self.window(self.area([field.width, field.height]), grid)?;
        let notes = format!("{}. Every dot is a pin.", self.gauge_in_words(grid));
        let mut pages = pricking(self.ground(), grid, window, self.paper, self.chosen.title(), &notes)?;
        if let Some(background) = self.background {
            pages.iter_mut().for_each(|page| page.background = background);
        }
        Ok(pages)
    }

    /// The page with everything on it.
    fn page(&self) -> Result<Sheet, Error> {
        let (layout, notes) = self.layout()?;
        Ok(Sheet { pages: self.page_as_laid_out(&layout)?, notes })
    }

    /// The page with everything on it, and those of an order of working that has no
    /// room there, with threads that lie as laid out.
    ///
    /// # Errors
    /// Unusable prickings, and paper that is too small.
    pub fn page_as_laid_out(&self, layout: &Layout) -> Result<Vec<Drawing>, Error> {
        let Paper { width, height } = self.paper;
        if width < LEAST_PAGE.width || height < LEAST_PAGE.height {
            return Err(Error::PageTooSmall { width, height });
        }
        let grid = self.scale.grid(self.chosen.about())?;
        let [least, _] = DIAGRAM_MM;
        can_be_pricked(self.ground(), &grid, rect(0.0, 0.0, least, least))?;
        let seen_by = match self.seen_by {
            Some(vision) => format!(" Colours as seen {}.", vision.words()),
            None => String::new(),
        };
        let facts = facts::in_words(self.ground(), &layout.grid).into_iter();
        let look = SheetLook {
            title: self.chosen.title().to_owned(),
            subtitle: format!("{}.", self.gauge_in_words(&layout.grid)),
            hanging: format!("Hang on {}, repeating.{seen_by}", self.arrangement),
            threads: self.thread_look(self.px_per_mm(width)),
            repeat: self.repeat(&layout.grid),
            pairs: self.pair_look(),
            travel: self.ground().travel_sentence(),
            facts: facts.map(|(label, value)| Fact::new(label, value)).collect(),
            paper: self.paper,
        };
        Ok(ground_sheet(self.ground(), layout, &look))
    }

    /// The distances after which lace and colours repeat, mm; infinite where too far
    /// to say.
    fn repeat(&self, grid: &Grid) -> Size {
        let period = self.ground().colour_period(&self.arrangement);
        Size {
            width: period.steps_across * grid.step_x_mm(),
            height: period.down.map_or(f64::INFINITY, |down| down.steps * grid.step_y_mm()),
        }
    }

    fn gauge_in_words(&self, grid: &Grid) -> String {
        format!(
            "{}, diagonals {}\u{b0} from the footside, thread {:.2} mm",
            self.scale.spacing_in_words(self.chosen.about()),
            grid.angle_deg(),
            self.scale.thread(self.chosen.about()).diameter_mm()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::chosen;
    use crate::scale::Pricking;
    use lace::samples::torchon;
    use picture::drawing::Shape;

    fn request(show: Option<Show>) -> SheetRequest {
        let palette = Palette::default();
        SheetRequest {
            chosen: chosen("Torchon", torchon("CT pin CT", 0)),
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
        }
    }

    #[test]
    fn a_sheet_has_the_size_asked_for() {
        let size = |request: SheetRequest| {
            let pages = request.draw().unwrap().pages;
            (pages.len(), pages[0].width, pages[0].height)
        };
        assert_eq!(size(request(None)), (1, 210.0, 297.0));
        assert_eq!(size(request(Some(Show::Threads))), (1, 24.0, 24.0));
        let area_mm = Some([30.0, 20.0]);
        assert_eq!(size(SheetRequest { area_mm, ..request(Some(Show::Threads)) }), (1, 30.0, 20.0));
        // Nine pairs hang over 36 mm: more than usual is shown, or what is asked for.
        let arrangement: Arrangement = "4A 5B".parse().unwrap();
        let nine = SheetRequest { arrangement, ..request(Some(Show::Threads)) };
        let said = |request: &SheetRequest| {
            request.draw().unwrap().notes.iter().map(ToString::to_string).collect::<Vec<_>>()
        };
        assert_eq!(
            said(&nine),
            ["the picture of torchon/plain shows 48 mm of lace, 2 times as much as usual"]
        );
        assert_eq!(size(nine.clone()), (1, 48.0, 48.0));
        let scale = nine.scale.with_window(Some(20.0)).unwrap();
        let nine = SheetRequest { scale, ..nine };
        assert_eq!(
            said(&nine),
            ["the picture of torchon/plain shows part of a repeat of the colours, 36 mm across by 36 mm"]
        );
        assert_eq!(size(nine), (1, 20.0, 20.0));
        let wide = SheetRequest { area_mm: Some([500.0, 40.0]), ..request(Some(Show::Pricking)) };
        assert!(size(wide).0 > 1);
    }

    // Up to the longest arrangement that can be given.
    #[test]
    fn the_whole_arrangement_is_on_the_sheet_however_long() {
        for (pairs, pages) in [(4, 1), (24, 1), (60, 1), (90, 1), (512, 2)] {
            let letters: Vec<&str> = (0..pairs).map(|k| if k % 7 < 3 { "A" } else { "B" }).collect();
            let arrangement: Arrangement = letters.join(" ").parse().unwrap();
            let sheet = SheetRequest { arrangement, ..request(None) }.draw().unwrap();
            assert_eq!(sheet.pages.len(), pages, "{pairs} pairs");
            let shapes = sheet.pages.iter().flat_map(Drawing::shapes);
            let words = shapes.filter_map(|shape| match shape {
                Shape::Text(text) => Some(text.words.as_str()),
                Shape::Path { .. } => None,
            });
            let words = words.collect::<Vec<_>>().join(" ");
            let whole = format!("Hang on {}, repeating.", letters.join(" "));
            assert!(words.contains(&whole), "{pairs} pairs: {words}");
            assert!(words.contains("Pins"), "{pairs} pairs: {words}");
        }
    }

    // Also beside a sentence that the enlarged picture is cut.
    #[test]
    fn all_facts_are_on_the_sheet_whatever_stands_above_them() {
        for arrangement in ["A A B B", "3A 4B", "50A 14B", "100A 14B"] {
            let request = SheetRequest { arrangement: arrangement.parse().unwrap(), ..request(None) };
            let pages = request.draw().unwrap().pages;
            let set: Vec<&str> = pages[0]
                .shapes()
                .filter_map(|shape| match shape {
                    Shape::Text(text) => Some(text.words.trim_end()),
                    Shape::Path { .. } => None,
                })
                .collect();
            let grid = request.scale.grid(request.chosen.about()).unwrap();
            for (label, _) in facts::in_words(request.ground(), &grid) {
                assert!(set.contains(&label), "{arrangement}: {label}");
            }
        }
    }

    #[test]
    fn what_has_no_room_is_refused() {
        let huge = SheetRequest { area_mm: Some([2000.0, 2000.0]), ..request(Some(Show::Threads)) };
        assert!(matches!(huge.draw(), Err(Error::TooManyStitches { .. })));
        let small = SheetRequest { paper: Paper { width: 100.0, height: 100.0 }, ..request(None) };
        assert!(matches!(small.draw(), Err(Error::PageTooSmall { .. })));
    }

    #[test]
    fn what_lies_behind_suits_the_drawing_unless_it_is_chosen() {
        let behind = |style, background| {
            let request = SheetRequest { style, background, ..request(Some(Show::Threads)) };
            request.draw().unwrap().pages[0].background
        };
        assert_eq!(behind(Style::Shaded, None), Rgb::LINEN.into());
        assert_eq!(behind(Style::Plain, None), Rgb::WHITE.into());
        assert_eq!(behind(Style::Plain, Some(Background::Transparent)), Background::Transparent);
        assert_eq!(behind(Style::Shaded, Some(Rgb::BLACK.into())), Rgb::BLACK.into());
        // White thread brings a darker cloth.
        let white = SheetRequest { palette: "white,navy".parse().unwrap(), ..request(Some(Show::Threads)) };
        assert_eq!(white.draw().unwrap().pages[0].background, Rgb::SLATE.into());
    }
}
