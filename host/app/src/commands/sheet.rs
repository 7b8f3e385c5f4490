//! `sheet`: one ground in full, or its thread drawing, working diagram or
//! pricking alone.

use catalogue::Chosen;
use lace::{Arrangement, Grid, Ground};
use picture::colour::Rgb;
use picture::drawing::pricking::pricking;
use picture::drawing::threads::{Style, ThreadLook, draw_threads};
use picture::drawing::working_diagram::{DiagramLook, StepsShown, WorkingDiagram, diagram_grid};
use picture::drawing::{Background, Drawing, Rect, Size, rect};
use picture::layout::{Layout, lay_out};
use picture::page::Fact;
use picture::page::sheet::{LEAST_PAGE, SheetLook, ground_sheet};

use crate::area::Area;
use crate::cli::{SheetArgs, Show, Sources};
use crate::colours::{Palette, parse_colour};
use crate::commands::Outcome;
use crate::export::{Format, export};
use crate::facts::Facts;
use crate::failure::Failure;
use crate::output::print;
use crate::pictures::{Scale, tell_unsettled};
use crate::request::choices::GroundRequest;
use crate::sources;

/// How much lace a thread drawing shows either way, in pin spacings.
const THREADS_SHOWN: f64 = 6.0;
/// Side of a working diagram, mm.
const DIAGRAM_MM: f64 = 120.0;
/// Most stitches in one drawing.
const MAX_STITCHES: f64 = 50_000.0;

/// What the user asked for, read.
struct Wanted<'a> {
    args: &'a SheetArgs,
    chosen: Chosen,
    scale: Scale,
    grid: Grid,
    /// Two to a pair.
    colours: Vec<Rgb>,
    /// `None` without `--background`.
    background: Option<Background>,
}

/// Draws and writes the sheet.
pub fn run(args: &SheetArgs, sources: &Sources) -> Result<Outcome, Failure> {
    // Refuse what cannot be written before any work is done.
    Format::of(&args.out)?;
    let scale = Scale::new(&args.gauge)?;
    let request = GroundRequest::new(&args.ground, &args.choices)?;
    if args.sideways && args.show != Some(Show::Pricking) {
        return Err(Failure::Value {
            what: "only the paper of a pricking can be laid on its long side".to_owned(),
            help: "leave --sideways out, or draw the pricking alone: --show pricking --sideways".to_owned(),
        });
    }
    let palette = Palette::read(args.dress.colours.as_deref())?;
    let order = palette.order(&args.dress.arrangement)?;
    let background = match args.background.as_deref() {
        None => None,
        Some("none") => Some(Background::Transparent),
        Some(name) => Some(Background::Colour(parse_colour(name)?.rgb.into())),
    };
    let behind = if let Some(Background::Colour(colour)) = background { colour } else { Rgb::LINEN };
    palette.tell_confusions(behind, order.colours());
    let palette = palette.painted(args.dress.seen_by);
    let chosen = request.choose(&sources::catalogue(sources)?)?;
    let grid = scale.grid(chosen.about().angle)?;
    let colours = order.threads().into_iter().map(|c| palette.rgb(c).into()).collect();
    let wanted = Wanted { args, chosen, scale, grid, colours, background };
    let pages = match args.show {
        None => vec![wanted.page(&order)?],
        Some(Show::Threads) => vec![wanted.threads()?],
        Some(Show::Pairs) => vec![wanted.pairs()?],
        Some(Show::Pricking) => wanted.pricking()?,
    };
    export(&pages, &args.out, args.px)?;
    print(&format!("{}: {}\n", args.out.display(), wanted.told(&pages)))?;
    Ok(Outcome::Done)
}

impl Wanted<'_> {
    fn ground(&self) -> &Ground {
        &self.chosen.ground
    }

    /// Lays the threads out; says when they did not come to rest.
    fn layout(&self) -> Layout {
        let layout = lay_out(self.ground(), &self.grid, self.scale.thread_mm);
        tell_unsettled(&layout, &self.chosen);
        layout
    }

    fn thread_look(&self, px_per_mm: f64) -> ThreadLook {
        ThreadLook {
            style: if self.args.plain { Style::Plain } else { Style::Shaded },
            pins: self.args.pins,
            background: self
                .background
                .unwrap_or(if self.args.plain { Rgb::WHITE } else { Rgb::LINEN }.into()),
            ..ThreadLook::new(self.colours.clone(), px_per_mm)
        }
    }

    fn pair_look(&self) -> DiagramLook {
        DiagramLook {
            colours: self.colours.clone(),
            balanced: self.args.balanced,
            numbers: Some(StepsShown::of(self.ground())),
            background: self.background.unwrap_or(Rgb::WHITE.into()),
            ..DiagramLook::default()
        }
    }

    fn area(&self, width: f64, height: f64) -> Area {
        self.args.area.unwrap_or(Area { width, height })
    }

    /// The window of an area that begins at the topmost stitch.
    fn window(&self, area: Area, grid: &Grid) -> Result<Rect, Failure> {
        let cell = self.ground().lattice().area() * grid.step_x_mm() * grid.step_y_mm();
        let stitches = area.width * area.height / cell * self.ground().stitches().len() as f64;
        if stitches > MAX_STITCHES {
            return Err(Failure::Value {
                what: format!("{} by {} mm hold about {stitches:.0} stitches", area.width, area.height),
                help: format!("give a smaller --area: at most {MAX_STITCHES} stitches are drawn"),
            });
        }
        Ok(rect(0.0, self.ground().top() * grid.step_y_mm(), area.width, area.height))
    }

    fn titled(&self, mut drawing: Drawing, what: &str) -> Drawing {
        drawing.title = format!("{}: {what}", self.chosen.title());
        drawing
    }

    /// Pixels to the millimetre of a drawing `width` mm wide; where it is not
    /// made of pixels, the scale at which it will be looked at.
    fn px_per_mm(&self, width: f64) -> f64 {
        f64::from(self.args.px) / width
    }

    fn threads(&self) -> Result<Drawing, Failure> {
        let side = THREADS_SHOWN * self.scale.pin_spacing_mm;
        let window = self.window(self.area(side, side), &self.grid)?;
        let look = self.thread_look(self.px_per_mm(window.width));
        Ok(self.titled(draw_threads(self.ground(), &self.layout(), window, &look), "thread drawing"))
    }

    fn pairs(&self) -> Result<Drawing, Failure> {
        let area = self.area(DIAGRAM_MM, DIAGRAM_MM);
        let grid = diagram_grid(self.ground(), &self.grid, area.width);
        let window = self.window(area, &grid)?;
        let size = Size { width: window.width, height: window.height };
        let diagram = WorkingDiagram::new(self.ground(), &grid, self.pair_look());
        Ok(self.titled(diagram.draw_with_key(size), "working diagram"))
    }

    fn pricking(&self) -> Result<Vec<Drawing>, Failure> {
        let paper = self.args.paper.0;
        let paper = if self.args.sideways { paper.turned() } else { paper };
        let field = paper.field();
        let window = self.window(self.area(field.width, field.height), &self.grid)?;
        let notes = format!("{}. Every dot is a pin.", self.gauge_in_words());
        let mut pages = pricking(self.ground(), &self.grid, window, paper, self.chosen.title(), &notes)
            .map_err(|why| Failure::Value {
                what: why.to_string(),
                help: "choose a larger --paper or another --area".to_owned(),
            })?;
        if let Some(background) = self.background {
            for page in &mut pages {
                page.background = background;
            }
        }
        Ok(pages)
    }

    fn page(&self, order: &Arrangement) -> Result<Drawing, Failure> {
        let paper = self.args.paper.0;
        if paper.width < LEAST_PAGE.width || paper.height < LEAST_PAGE.height {
            return Err(Failure::Value {
                what: format!(
                    "paper of {} by {} mm is too small for the whole page",
                    paper.width, paper.height
                ),
                help: format!(
                    "give paper of {} by {} mm or more, such as a4 or letter, or draw one thing alone with --show",
                    LEAST_PAGE.width, LEAST_PAGE.height
                ),
            });
        }
        let about = self.chosen.about();
        let layout = self.layout();
        let facts = Facts::new(
            &about.id,
            &self.chosen.variety,
            self.chosen.settings_as_typed(),
            self.ground(),
            &layout,
        );
        let seen_by = self
            .args
            .dress
            .seen_by
            .map_or_else(String::new, |who| format!(", as seen {}", who.vision().words()));
        let look = SheetLook {
            title: self.chosen.title().to_owned(),
            subtitle: format!("{}. Hang on {order}, repeating{seen_by}.", self.gauge_in_words()),
            threads: self.thread_look(self.px_per_mm(paper.width)),
            pairs: self.pair_look(),
            travel: facts.travel.clone(),
            facts: facts.lines().into_iter().map(|(label, value)| Fact::new(label, value)).collect(),
            paper,
        };
        Ok(ground_sheet(self.ground(), &layout, &look))
    }

    fn gauge_in_words(&self) -> String {
        format!(
            "{} mm between footside pins, diagonals {}\u{b0} from the footside, thread {:.2} mm",
            self.grid.pin_spacing_mm(),
            self.grid.angle_deg(),
            self.scale.thread_mm
        )
    }

    fn told(&self, pages: &[Drawing]) -> String {
        let what = match self.args.show {
            None => "one page about",
            Some(Show::Threads) => "the threads of",
            Some(Show::Pairs) => "the working diagram of",
            Some(Show::Pricking) => "the pricking of",
        };
        let size = match pages {
            [page] => format!("{} by {} mm", page.width, page.height),
            pages => format!("{} pages", pages.len()),
        };
        format!("{what} {}, {size}", self.chosen.title())
    }
}
