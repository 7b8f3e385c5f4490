//! The request of the `sheet` command.

use compare::note::Note;
use compare::palette::Colour;
use compare::scale::Scale;
use compare::sheet::{SheetRequest, Show};
use picture::colour::Rgb;
use picture::drawing::Background;
use picture::drawing::pricking::Paper;
use picture::drawing::threads::Style;

use super::choices::GroundRequest;
use super::colours::ArrangementRequest;
use super::gauge::scale;
use crate::cli::{self, SheetArgs};
use crate::failure::Failure;
use crate::sources::Grounds;

/// A sheet whose ground has not been looked up yet.
pub struct UnresolvedSheet<'a> {
    args: &'a SheetArgs,
    scale: Scale,
    ground: GroundRequest,
    colours: ArrangementRequest,
    background: Option<Background>,
}

impl<'a> UnresolvedSheet<'a> {
    /// Reads the arguments.
    pub fn read(args: &'a SheetArgs) -> Result<UnresolvedSheet<'a>, Failure> {
        let scale = scale(&args.gauge)?.with_window(args.window)?;
        if args.window.is_some() && args.show != Some(cli::Show::Threads) {
            return Err(Failure::Value {
                what: "--window is how much lace the drawing of the threads shows".to_owned(),
                help: "give --area for a working diagram or a pricking, or --show threads".to_owned(),
            });
        }
        let ground = GroundRequest::new(&args.ground, &args.choices)?;
        if args.sideways && args.show != Some(cli::Show::Pricking) {
            return Err(Failure::Value {
                what: "only the paper of a pricking can be turned on its side".to_owned(),
                help: "leave --sideways out, or draw the pricking alone: --show pricking --sideways"
                    .to_owned(),
            });
        }
        let colours = ArrangementRequest::read(&args.colours)?;
        let background = match args.background.as_deref() {
            None => None,
            Some("none") => Some(Background::Transparent),
            Some(name) => Some(Background::Colour(name.parse::<Colour>()?.rgb.into())),
        };
        Ok(UnresolvedSheet { args, scale, ground, colours, background })
    }

    /// Notes for the user about the colours.
    pub fn notes(&self) -> Vec<Note> {
        let ArrangementRequest { palette, arrangement, .. } = &self.colours;
        let background = match self.background {
            Some(Background::Colour(colour)) => Some(colour),
            // What lies behind a transparent picture is taken to be pale.
            Some(Background::Transparent) => Some(Rgb::LINEN),
            None => None,
        };
        palette.notes(background, arrangement.colours())
    }

    /// Looks up the ground.
    pub fn resolve(self, grounds: &Grounds<'_>) -> Result<SheetRequest, Failure> {
        let UnresolvedSheet { args, scale, ground, colours, background } = self;
        Ok(SheetRequest {
            chosen: ground.choose(grounds)?,
            arrangement: colours.arrangement,
            palette: colours.palette,
            seen_by: colours.seen_by,
            scale,
            show: args.show.map(Show::from),
            area_mm: args.area.map(|area| [area.width, area.height]),
            paper: paper(args),
            px: args.px,
            pins: args.pins,
            style: if args.plain { Style::Plain } else { Style::Shaded },
            balanced: args.balanced,
            background,
        })
    }
}

fn paper(args: &SheetArgs) -> Paper {
    let paper = args.paper.0;
    if args.sideways { paper.turned() } else { paper }
}

impl From<cli::Show> for Show {
    fn from(show: cli::Show) -> Show {
        match show {
            cli::Show::Threads => Show::Threads,
            cli::Show::Pairs => Show::WorkingDiagram,
            cli::Show::Pricking => Show::Pricking,
        }
    }
}
