//! The commands and options of `pairwise`, and what `--help` teaches.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::area::{Area, PaperSize};

/// Compare bobbin-lace grounds and fillings in every colour order.
#[derive(Debug, Parser)]
#[command(
    name = "pairwise",
    version,
    max_term_width = 96,
    arg_required_else_help = true,
    after_help = "\
First steps:
  pairwise gallery                          make pages with every ground, then open them
  pairwise grounds                          list what there is
  pairwise grid rose --varieties            all rose grounds in every order of two colours
  pairwise sheet rose                       one ground in full on a page to print
  pairwise facts torchon/double             what one ground takes and where its threads go

A ground is named `rose` or, for one of its varieties, `rose/VARIETY`.
Lengths are in millimetres; colours are CSS names or #rrggbb."
)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Where contributions come from.
    #[command(flatten)]
    pub sources: Sources,
}

/// Where contributions come from.
#[derive(Args, Debug)]
pub struct Sources {
    /// Add the contributions (.wasm files) in this folder; may be repeated
    #[arg(long, value_name = "DIR", global = true, help_heading = "Contributions")]
    pub plugins: Vec<PathBuf>,
    /// Compile contributions anew instead of keeping compiled code in your cache folder
    #[arg(long, global = true, help_heading = "Contributions")]
    pub no_cache: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// List the grounds and fillings there are
    Grounds(GroundsArgs),
    /// Draw grounds (rows) in colour orders (columns) as one picture
    Grid(GridArgs),
    /// Make the class gallery: a folder of pages and pictures to open in a browser
    Gallery(GalleryArgs),
    /// Draw one ground in full: worked, working diagram, pricking, facts and steps
    Sheet(SheetArgs),
    /// Say everything computed about one ground
    Facts(FactsArgs),
    /// Check contributions: whether the lace can be worked and holds together
    Check(CheckArgs),
    /// Explain a finding of `check`
    Explain(ExplainArgs),
    /// Build a contribution from a Rust crate
    Build(BuildArgs),
}

/// How grounds are chosen.
#[derive(Args, Debug)]
pub struct Choosing {
    /// Set a choice of the ground differently, for example --with crossing=cloth
    #[arg(long = "with", value_name = "CHOICE=VALUE")]
    pub with: Vec<String>,
}

/// The pricking and the thread.
#[derive(Args, Debug)]
pub struct Gauge {
    /// Distance between two footside pins, in mm
    #[arg(long, value_name = "MM", default_value_t = 4.0, allow_negative_numbers = true)]
    pub pin_spacing: f64,
    /// Thread: `30 wraps/cm` or `20 tex`; without it, one that suits the pin spacing (12 wraps between two footside pins)
    #[arg(long, value_name = "THREAD")]
    pub thread: Option<String>,
    /// Angle between the footside and the diagonals of the grid, in degrees; without it, the angle at which each ground is usually pricked
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    pub angle: Option<f64>,
}

/// The colours and how many pairs hang in them.
#[derive(Args, Debug)]
pub struct Colouring {
    /// Colours for the letters A, B, ...: CSS names or #rrggbb, separated by commas
    #[arg(long, value_name = "COLOURS")]
    pub colours: Option<String>,
    /// How many pairs the colour order has before it begins again
    #[arg(long, value_name = "N", default_value_t = 4, value_parser = clap::value_parser!(u16).range(1..=24))]
    pub pairs: u16,
    /// Show this colour order instead of all, for example "A A B B" or "4A 4B"; may be repeated
    #[arg(long, value_name = "ORDER")]
    pub arrangement: Vec<String>,
    /// Show at most this many colour orders
    #[arg(long, value_name = "N", default_value_t = 16, value_parser = clap::value_parser!(u16).range(1..=256))]
    pub max: u16,
}

/// Options of `grounds`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise grounds
  pairwise grounds rose
  pairwise grounds --json")]
pub struct GroundsArgs {
    /// Show these grounds with their varieties and choices; all in short without any
    #[arg(value_name = "GROUND")]
    pub grounds: Vec<String>,
    /// Print JSON (format pairwise-grounds/1)
    #[arg(long)]
    pub json: bool,
}

/// Options of `grid`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise grid                                   every ground in every order of two colours
  pairwise grid rose torchon --varieties          their varieties, one below the other
  pairwise grid rose --pairs 8 --max 24           longer colour orders
  pairwise grid --colours navy,gold,white --arrangement \"A B C B\"
  pairwise grid torchon/plain torchon/double --arrangement \"A A B B\" --out two.png")]
pub struct GridArgs {
    /// Grounds to show, one row each; all without any
    #[arg(value_name = "GROUND")]
    pub grounds: Vec<String>,
    /// Give every variety a row
    #[arg(long)]
    pub varieties: bool,
    /// Width and height of each picture, in pixels
    #[arg(long, value_name = "PX", default_value_t = 160, value_parser = clap::value_parser!(u32).range(48..=1024))]
    pub size: u32,
    /// The picture to write
    #[arg(short, long, value_name = "FILE", default_value = "grid.png")]
    pub out: PathBuf,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choosing: Choosing,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub colouring: Colouring,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: Gauge,
}

/// Options of `gallery`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise gallery
  pairwise gallery --out evening-class --colours navy,gold
  pairwise gallery --plugins my-fillings

The folder opens from disk in any browser; nothing is fetched from a network.")]
pub struct GalleryArgs {
    /// The folder to make; a gallery that stands there is replaced
    #[arg(short, long, value_name = "DIR", default_value = "pairwise-gallery")]
    pub out: PathBuf,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub colouring: Colouring,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: Gauge,
}

/// Options of `sheet`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise sheet rose                                    one page to print, sheet.pdf
  pairwise sheet rose --out rose.png --px 1600           the same page as a picture
  pairwise sheet torchon/double --show threads --pins --out double.svg
  pairwise sheet rose --show pairs --balanced --out diagram.pdf
  pairwise sheet point --show pricking --pin-spacing 3 --angle 60 --area 300x40 --out pricking.pdf

Print at 100 % (actual size) and measure the 50 mm scale before you pin.")]
pub struct SheetArgs {
    /// The ground, for example `rose` or `rose/VARIETY`
    #[arg(value_name = "GROUND")]
    pub ground: String,
    /// The file to write: its ending, .pdf, .svg or .png, says what kind it is
    #[arg(short, long, value_name = "FILE", default_value = "sheet.pdf")]
    pub out: PathBuf,
    /// Draw one thing alone instead of the whole page
    #[arg(long, value_name = "WHAT")]
    pub show: Option<Show>,
    /// Width and height in mm of what --show draws, for example 120x80
    #[arg(long, value_name = "WIDTHxHEIGHT", requires = "show")]
    pub area: Option<Area>,
    /// Paper of the page and of prickings: a4, letter, a3, or width and height in mm such as 200x250
    #[arg(long, value_name = "PAPER", default_value = "a4")]
    pub paper: PaperSize,
    /// Lay the paper of a pricking on its long side
    #[arg(long, requires = "show")]
    pub sideways: bool,
    /// Width of a PNG picture in pixels; other files are shaded as finely as a picture of this width
    #[arg(long, value_name = "PX", default_value_t = 1600, value_parser = clap::value_parser!(u32).range(48..=12000))]
    pub px: u32,
    /// Show pins among the threads
    #[arg(long)]
    pub pins: bool,
    /// Draw threads flat with an outline, to save ink
    #[arg(long)]
    pub plain: bool,
    /// Colour behind the drawing: a CSS name, #rrggbb, or `none` for transparent
    #[arg(long, value_name = "COLOUR")]
    pub background: Option<String>,
    /// Spread the stitches of the working diagram evenly instead of over the dots of the pricking
    #[arg(long)]
    pub balanced: bool,
    /// Colours for the letters A, B, ...: CSS names or #rrggbb, separated by commas
    #[arg(long, value_name = "COLOURS")]
    pub colours: Option<String>,
    /// The order in which colours hang, over and over, for example "A B" or "4A 4B"
    #[arg(long, value_name = "ORDER", default_value = "A A B B")]
    pub arrangement: String,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choosing: Choosing,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: Gauge,
}

/// What a sheet can show alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Show {
    /// The threads as worked lace
    Threads,
    /// The working diagram: a line for every pair, with its key
    Pairs,
    /// The dots for the pins at their true size
    Pricking,
}

/// Options of `facts`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise facts rose
  pairwise facts rose --with crossing=cloth
  pairwise facts torchon/double --pin-spacing 3 --json")]
pub struct FactsArgs {
    /// The ground, for example `rose` or `rose/VARIETY`
    #[arg(value_name = "GROUND")]
    pub ground: String,
    /// Print JSON (format pairwise-facts/1), with the repeat itself
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choosing: Choosing,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: Gauge,
}

/// Options of `check`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise check                    every ground that is built in
  pairwise check my-filling.wasm    a contribution in a file
  pairwise check rose/plain

The exit status is 0 without errors, 1 with errors, 2 when something cannot be read.
`pairwise explain CODE` says what a finding means.")]
pub struct CheckArgs {
    /// Files (.wasm) or names of grounds; all grounds without any
    #[arg(value_name = "FILE|GROUND")]
    pub targets: Vec<String>,
    /// Print JSON (format pairwise-check/1)
    #[arg(long)]
    pub json: bool,
}

/// Options of `explain`.
#[derive(Args, Debug)]
pub struct ExplainArgs {
    /// The code of a finding, for example `lifts-off`; all codes without one
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
}

/// Options of `build`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise build plugins/rose
  pairwise build my-filling --out my-filling.wasm

Needs a Rust toolchain that can make WebAssembly: `rustup target add wasm32-unknown-unknown`.")]
pub struct BuildArgs {
    /// Folder of the crate
    #[arg(value_name = "CRATE")]
    pub krate: PathBuf,
    /// The component to write; without it, the crate's ground with `.wasm` in this folder
    #[arg(short, long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}
