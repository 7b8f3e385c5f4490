//! The commands and options of `pairwise`, and the texts of `--help`.

use std::ffi::OsString;
use std::path::PathBuf;

use catalogue::span::Span;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use class::{Area, PaperSize};
use compare::comparison::Sort;
use lace::Pattern;

/// Compare bobbin-lace grounds and fillings in every arrangement of colours.
#[derive(Debug, Parser)]
#[command(
    name = "pairwise",
    version,
    max_term_width = 96,
    arg_required_else_help = true,
    after_help = "\
First steps:
  pairwise gallery                          make pages of every ground, to open in a browser
  pairwise grounds                          a table of all grounds and fillings
  pairwise grid rose --varieties            all rose grounds in every arrangement of two colours
  pairwise sheet rose                       one ground in full on a page to print
  pairwise trace torchon                    where each pair goes, row by row
  pairwise facts torchon/double             measures of one ground, and where its threads go

A ground is named `rose` or, for one of its varieties, `rose/VARIETY`; any other name it has will do
(Rosengrund, \"Rose ground\"), and so will a chart or contribution in a file (my-filling.toml).
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
    /// Also use the contributions (.wasm files) in this folder; may be repeated
    #[arg(long, value_name = "DIR", global = true, help_heading = "Contributions")]
    pub plugins: Vec<PathBuf>,
    /// Make contributions ready anew at every start, which takes longer; store nothing in your cache folder
    #[arg(long, global = true, help_heading = "Contributions")]
    pub no_cache: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Find grounds and fillings: a table of all, or everything about one
    Grounds(GroundsArgs),
    /// Draw grounds (rows) in arrangements of colours (columns) as one picture
    Grid(Box<GridArgs>),
    /// Make the gallery: a folder of pages and pictures to open in a browser
    Gallery(GalleryArgs),
    /// Draw one ground in full: worked, working diagram, pricking, facts and steps
    Sheet(SheetArgs),
    /// Print the handout of a class from its recipe: pages to work from, true to size
    Handout(HandoutArgs),
    /// Work out a whole piece, such as a bookmark, from a small text: its pairs, its pins, where each pair goes
    Piece(PieceArgs),
    /// Print everything computed about one ground
    Facts(FactsArgs),
    /// Follow every pair: where each colour goes, and what to change to steer it
    Trace(TraceArgs),
    /// Check contributions: whether the lace can be worked and holds together
    Check(CheckArgs),
    /// Explain a fault that `check` finds, or how charts are written
    Explain(ExplainArgs),
    /// Start a contribution of your own from a small working filling, or a piece
    New(NewArgs),
    /// Turn a chart into a contribution; needs nothing installed
    Pack(PackArgs),
    /// Write any ground as a chart, as a start for your own
    Unpack(UnpackArgs),
    /// Build a contribution from a Rust crate
    Build(BuildArgs),
    /// Print a script that lets your shell complete commands and options
    Completions(CompletionsArgs),
    /// Print the manual page for the program or for one command
    Man(ManArgs),
}

/// How grounds are chosen.
#[derive(Args, Debug)]
pub struct ChoiceArgs {
    /// Change one of the ground's choices, for example --with crossing=cloth
    #[arg(long = "with", value_name = "CHOICE=VALUE")]
    pub with: Vec<String>,
}

/// The pricking.
#[derive(Args, Clone, Copy, Debug)]
pub struct PrickingArgs {
    /// Distance between two footside pins, in mm; without it, the spacing at which each ground is usually pricked
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = number)]
    pub pin_spacing: Option<f64>,
    /// Angle between the footside and the diagonals of the grid, in degrees; without it, the angle at which each ground is usually pricked
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true, value_parser = number)]
    pub angle: Option<f64>,
}

/// The pricking and the thread.
#[derive(Args, Debug)]
pub struct GaugeArgs {
    #[command(flatten)]
    #[allow(missing_docs)]
    pub pricking: PrickingArgs,
    /// Thread: `30 wraps/cm` or `80/2 linen`; without it, one that suits the pin spacing of each ground (12 wraps between two footside pins)
    #[arg(long, value_name = "THREAD")]
    pub thread: Option<String>,
}

/// Colours, and the arrangements to show them in.
#[derive(Args, Debug)]
pub struct ArrangementArgs {
    /// Colours for the letters A, B, ...: CSS names or #rrggbb, separated by commas, or a palette file ending in .toml
    #[arg(long, value_name = "COLOURS")]
    pub colours: Option<OsString>,
    /// Paint the colours as a person with this colour blindness sees them, or in grey
    #[arg(long, value_name = "HOW")]
    pub seen_by: Option<SeenBy>,
    /// Length of the arrangements: the pairs after which the colours repeat
    #[arg(long, value_name = "PAIRS", default_value_t = 4, value_parser = whole::<u16>(1, 24))]
    pub arrangement_length: u16,
    /// Show this arrangement instead of all, for example "A A B B", "4A 4B" or 2-and-2; may be repeated
    #[arg(long, value_name = "ARRANGEMENT")]
    pub arrangement: Vec<String>,
    /// Show at most this many arrangements
    #[arg(long, value_name = "N", default_value_t = 16, value_parser = whole::<u32>(1, 100_000))]
    pub max: u32,
    /// Keep only arrangements of this name: one-colour, one-in-4, 2-and-2, half-and-half, graded or symmetrical; may be repeated
    #[arg(long, value_name = "NAME", conflicts_with = "arrangement")]
    pub named: Vec<String>,
    /// Count arrangements that differ only by swapping colours as one
    #[arg(long, conflicts_with = "arrangement")]
    pub exchange: bool,
    /// Let the two threads of a pair have different colours, as after an open start
    #[arg(long, conflicts_with = "arrangement")]
    pub single_threads: bool,
}

/// Colours in one arrangement.
#[derive(Args, Debug)]
pub struct ColourArgs {
    /// Colours for the letters A, B, ...: CSS names or #rrggbb, separated by commas, or a palette file ending in .toml
    #[arg(long, value_name = "COLOURS")]
    pub colours: Option<OsString>,
    /// How the colours hang from left to right, repeating, for example "A B", "4A 4B" or 2-and-2
    #[arg(long, value_name = "ARRANGEMENT", default_value = "A A B B")]
    pub arrangement: String,
    /// Paint the colours as a person with this colour blindness sees them, or in grey
    #[arg(long, value_name = "HOW")]
    pub seen_by: Option<SeenBy>,
}

/// Options of `grounds`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise grounds                                every ground and filling, by family
  pairwise grounds rose                           one in full: its varieties, names and sources
  pairwise grounds --search tullgrund             by any name, in any language
  pairwise grounds --lace torchon --colours-go travels
  pairwise grounds --kind ground --pins 0-5 --sort pins
  pairwise grounds --group lace --pairs-across 2-4
  pairwise grounds --family rose --json")]
pub struct GroundsArgs {
    /// Print everything about these grounds or varieties (GROUND/VARIETY); without any, print a table of all
    #[arg(value_name = "GROUND")]
    pub grounds: Vec<OsString>,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub filters: FilterArgs,
    /// Group the rows of the table by this
    #[arg(long, value_name = "WHAT", default_value = "family", conflicts_with_all = ["grounds", "json"])]
    pub group: Grouping,
    /// Sort the rows of each group by this; without it, rows stay in catalogue order
    #[arg(long, value_name = "WHAT", conflicts_with_all = ["grounds", "json"])]
    pub sort: Option<ListSort>,
    /// Print JSON (format pairwise-grounds/1)
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub pricking: PrickingArgs,
}

/// Which varieties `grounds` and `grid` keep.
#[derive(Args, Debug)]
#[command(next_help_heading = "Keep only")]
pub struct FilterArgs {
    /// Grounds with this in one of their names: name to type, title, other names in any language, lace or family; case and accents do not matter
    #[arg(long, value_name = "WORD")]
    pub search: Option<String>,
    /// Grounds of this family, for example rose; may be repeated
    #[arg(long, value_name = "WORD")]
    pub family: Vec<String>,
    /// Grounds, which fill an area of any size, or fillings, which are set into a ground
    #[arg(long, value_name = "KIND")]
    pub kind: Option<KindWanted>,
    /// Grounds used in this lace, for example torchon; case and accents do not matter; may be repeated
    #[arg(long, value_name = "WORD")]
    pub lace: Vec<String>,
    /// Grounds with this many pins per square cm at the pin spacing given or usual for each, for example 3-6; 3- means 3 or more
    #[arg(long, value_name = "LEAST-MOST", allow_negative_numbers = true)]
    pub pins: Option<Span>,
    /// Grounds with this many pairs across one repeat, for example 2-4; 4 means exactly 4
    #[arg(long, value_name = "LEAST-MOST", allow_negative_numbers = true)]
    pub pairs_across: Option<Span>,
    /// Grounds whose threads, and so the colours on them, do this
    #[arg(long, value_name = "HOW")]
    pub colours_go: Option<ColoursGo>,
}

/// The kind kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum KindWanted {
    /// Fills an area of any size
    Ground,
    /// Set into a ground
    Filling,
}

/// What the threads of a variety do, and so the colours that hang on them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ColoursGo {
    /// All travel across the lace, to the left or to the right
    #[value(alias = "travel")]
    Travels,
    /// All come back to their own columns
    #[value(alias = "stay")]
    Stays,
    /// Some travel, some stay
    Both,
}

/// How the table of `grounds` is grouped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Grouping {
    /// Family, in catalogue order
    Family,
    /// Grounds, then fillings
    Kind,
    /// Lace; a ground used in several laces is listed under each
    Lace,
    /// What the colours do
    Colours,
}

/// How `grounds` sorts its rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ListSort {
    /// Name, alphabetically
    Name,
    /// Pairs across one repeat, fewest first
    Pairs,
    /// Pins per square cm, fewest first
    Pins,
    /// Moves per square cm, fewest first; adds a column for them
    Moves,
}

/// Options of `grid`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise grid                                   every ground in every arrangement of two colours
  pairwise grid rose torchon --varieties          their varieties, one below the other
  pairwise grid rose --arrangement-length 8 --max 24       longer arrangements
  pairwise grid --varieties --group               everything, grouped by the kind of pattern it makes
  pairwise grid --varieties --pattern checks --sort clearest --moves 0-100   clear checks, quick to work
  pairwise grid --varieties --like rose/plain,\"A A B B\"   everything, most alike first
  pairwise grid --varieties --except spider --sort open    most open first
  pairwise grid --varieties --lace torchon --pairs-across 2-4   only some, as in `pairwise grounds`
  pairwise grid --colours navy,gold,white --arrangement \"A B C B\"
  pairwise grid torchon/plain torchon/double --arrangement \"A A B B\" --out two.png")]
pub struct GridArgs {
    /// Grounds to show, one row each, by name or as a chart or contribution in a file; without any, all grounds
    #[arg(value_name = "GROUND")]
    pub grounds: Vec<OsString>,
    /// Give every variety a row
    #[arg(long)]
    pub varieties: bool,
    /// Keep only this ground, variety (GROUND/VARIETY) or family; may be repeated
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
    /// Leave out this ground, variety (GROUND/VARIETY) or family; may be repeated
    #[arg(long, value_name = "NAME")]
    pub except: Vec<String>,
    /// Sort by this; without it, grounds stay as given, or in catalogue order
    #[arg(long, value_name = "WHAT", value_parser = sort_word())]
    pub sort: Option<Sort>,
    /// Group every ground in every arrangement by the kind of pattern
    #[arg(long)]
    pub group: bool,
    /// Find what looks like this picture, for example rose/plain,"A A B B"; most alike first, unless --sort says otherwise
    #[arg(
        long,
        value_name = "GROUND,ARRANGEMENT",
        long_help = "\
Find what looks like this ground in this arrangement, which comes first: for example \
--like rose/plain,\"A A B B\". The others follow, most alike first; --sort puts them in another order, \
--group in a section for each kind of pattern.

Five things are compared, each scored from 0 (nothing alike) to 1 (the same), and weighted: the kind \
of pattern 35 % (half of that for diagonals that run the other way, or for checks and spots), how much \
of each colour shows 20 %, how often threads of different colours cross 20 %, how much of the picture \
is open 15 %, and how many mm apart the colours repeat, across and down, 10 %."
    )]
    pub like: Option<String>,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub window: WindowArgs,
    /// Width and height of each picture, in pixels
    #[arg(long, value_name = "PX", default_value_t = 160, value_parser = whole::<u32>(48, 1024))]
    pub size: u32,
    /// The picture to write; several pages are numbered, grid-1.png and so on
    #[arg(short, long, value_name = "FILE", default_value = "grid.png")]
    pub out: PathBuf,
    /// Largest width and height of a page, in pixels; what does not fit goes on further pages
    #[arg(long, value_name = "PX", default_value_t = 5000, value_parser = whole::<u32>(600, 20_000))]
    pub page: u32,
    /// Use at most this many colours, 16 to 256, to make files smaller: with 128 they take about a third of the room and look almost the same
    #[arg(long, value_name = "COLOURS", value_parser = whole::<u16>(16, 256))]
    pub reduce: Option<u16>,
    /// Write a list of all pictures with their places and facts as JSON (format pairwise-grid/1)
    #[arg(long, value_name = "FILE")]
    pub index: Option<PathBuf>,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choices: ChoiceArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub arrangements: ArrangementArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: GaugeArgs,
    // Last, since its heading goes on.
    #[command(flatten)]
    #[allow(missing_docs)]
    pub keep: KeepArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub filters: FilterArgs,
}

/// Reads a whole number from `least` to `most`.
fn whole<T: TryFrom<u32> + Clone + Send + Sync + 'static>(
    least: u32,
    most: u32,
) -> impl TypedValueParser<Value = T> {
    move |text: &str| {
        let number = text.parse().ok().filter(|number| (least..=most).contains(number));
        let number = number.and_then(|number| T::try_from(number).ok());
        number.ok_or_else(|| format!("give a whole number from {least} to {most}"))
    }
}

/// Reads a number; what it may be depends on what it is for.
fn number(text: &str) -> Result<f64, &'static str> {
    text.parse().map_err(|_| "give a number, for example 4 or 3.5")
}

/// Reads the letter of a colour.
fn letter(text: &str) -> Result<char, &'static str> {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(letter), None) if letter.is_ascii_alphabetic() => Ok(letter.to_ascii_uppercase()),
        _ => Err("give one letter of the arrangement, for example B"),
    }
}

/// What `grid` keeps besides what `grounds` does.
#[derive(Args, Debug)]
#[command(next_help_heading = "Keep only")]
pub struct KeepArgs {
    /// Pictures with this kind of pattern; may be repeated
    #[arg(long = "pattern", value_name = "KIND", value_parser = pattern_word())]
    pub patterns: Vec<PatternWanted>,
    /// Pictures whose pattern is this clear, in per cent: 60- means 60 or more
    #[arg(long, value_name = "LEAST-MOST", allow_negative_numbers = true)]
    pub clear: Option<Span>,
    /// Grounds with this many moves per square cm at the pin spacing given, for example 0-100: the fewer, the quicker to work
    #[arg(long, value_name = "LEAST-MOST", allow_negative_numbers = true)]
    pub moves: Option<Span>,
}

/// A kind of pattern, or diagonals of either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PatternWanted {
    /// One kind.
    Kind(Pattern),
    /// Diagonals to the left or to the right.
    Diagonals,
}

impl PatternWanted {
    /// The word for diagonals of either side.
    const DIAGONALS: &'static str = "diagonals";

    /// The kinds it stands for.
    pub fn patterns(&self) -> &[Pattern] {
        match self {
            PatternWanted::Kind(pattern) => std::slice::from_ref(pattern),
            PatternWanted::Diagonals => &[Pattern::DiagonalsLeft, Pattern::DiagonalsRight],
        }
    }
}

/// Reads a kind of pattern.
fn pattern_word() -> impl TypedValueParser<Value = PatternWanted> {
    let kinds = Pattern::ALL.iter().map(|pattern| pattern.word());
    PossibleValuesParser::new(kinds.chain([PatternWanted::DIAGONALS])).try_map(|word| {
        let found = Pattern::ALL.iter().find(|pattern| pattern.word() == word);
        let kind = found.copied().map(PatternWanted::Kind);
        kind.or((word == PatternWanted::DIAGONALS).then_some(PatternWanted::Diagonals)).ok_or("no such word")
    })
}

/// Reads what `grid` sorts by.
fn sort_word() -> impl TypedValueParser<Value = Sort> {
    let words = Sort::ALL.iter().map(|by| PossibleValue::new(by.word()).help(by.means()));
    PossibleValuesParser::new(words).try_map(|word| {
        let found = Sort::ALL.iter().find(|by| by.word() == word);
        found.copied().ok_or("no such word")
    })
}

/// How the colours are seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SeenBy {
    /// Red-blind: cannot tell red from green; red looks dark
    Protan,
    /// Green-blind: cannot tell red from green
    Deutan,
    /// Blue-blind: cannot tell blue from green
    Tritan,
    /// In black and white
    Grey,
}

/// How much lace pictures show.
#[derive(Args, Clone, Copy, Debug)]
pub struct WindowArgs {
    /// Width and height of the lace in every picture, in mm; without it, a picture shows a whole repeat of the stitches and of the colours
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = number)]
    pub window: Option<f64>,
}

/// Options of `gallery`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise gallery
  pairwise gallery --out evening-class --colours navy,gold
  pairwise gallery --plugins my-fillings
  pairwise gallery --recipe evening-class.toml           with a page for the class and its handout

The pages open from disk in any browser; nothing is loaded from a network.")]
pub struct GalleryArgs {
    /// The folder to make; an older gallery of that name is replaced, unless you have put files of your own into it
    #[arg(short, long, value_name = "DIR", default_value = "pairwise-gallery")]
    pub out: PathBuf,
    /// The recipe of a class (format pairwise-recipe/1): adds a page with its grounds in its colours, and its handout to print
    #[arg(long, value_name = "RECIPE")]
    pub recipe: Option<PathBuf>,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub window: WindowArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub arrangements: ArrangementArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: GaugeArgs,
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
    /// The ground, for example `rose`, `rose/VARIETY`, or a chart or contribution in a file
    #[arg(value_name = "GROUND")]
    pub ground: OsString,
    /// The file to write; its ending, .pdf, .svg or .png, sets the kind
    #[arg(short, long, value_name = "FILE", default_value = "sheet.pdf")]
    pub out: PathBuf,
    /// Draw one thing alone instead of the whole page
    #[arg(long, value_name = "WHAT")]
    pub show: Option<Show>,
    /// Width and height in mm of what --show draws, for example 120x80
    #[arg(long, value_name = "WIDTHxHEIGHT", requires = "show")]
    pub area: Option<Area>,
    /// Width and height in mm of the lace that --show threads draws; without it, a whole repeat of the stitches and of the colours
    #[arg(
        long,
        value_name = "MM",
        requires = "show",
        conflicts_with = "area",
        allow_negative_numbers = true,
        value_parser = number
    )]
    pub window: Option<f64>,
    /// Paper of the page and of prickings: a4, letter, a3, or width and height in mm such as 200x250
    #[arg(long, value_name = "PAPER", default_value = "a4")]
    pub paper: PaperSize,
    /// Turn the paper of a pricking on its side (landscape)
    #[arg(long, requires = "show")]
    pub sideways: bool,
    /// Width of a PNG picture in pixels; the shading in other files is as fine as in a picture of this width
    #[arg(long, value_name = "PX", default_value_t = 1600, value_parser = whole::<u32>(48, 12000))]
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
    /// Space the stitches of the working diagram evenly instead of placing them on the pricking
    #[arg(long)]
    pub balanced: bool,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub colours: ColourArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choices: ChoiceArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: GaugeArgs,
}

/// Options of `handout`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise handout evening-class.toml -o class.pdf
  pairwise handout evening-class.toml -o class.pdf --paper letter
  pairwise handout evening-class.toml -o class.pdf --plugins my-fillings

A recipe is a small text, for example
  format = \"pairwise-recipe/1\"
  title = \"Two-colour bookmarks\"
  colours = [\"navy\", \"gold\"]
  [[ground]]
  name = \"rose/plain\"
  area = \"40x120\"

Print at 100 % (actual size) and measure the 50 mm scales before you pin.")]
pub struct HandoutArgs {
    /// The recipe (format pairwise-recipe/1)
    #[arg(value_name = "RECIPE")]
    pub recipe: PathBuf,
    /// The PDF to write
    #[arg(short, long, value_name = "FILE", default_value = "handout.pdf")]
    pub out: PathBuf,
    /// The paper; without it, the recipe's paper, or a4
    #[arg(long, value_name = "PAPER", ignore_case = true)]
    pub paper: Option<ClassPaper>,
}

/// Paper for a handout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ClassPaper {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 inches
    Letter,
}

/// Options of `piece`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise new bookmark --piece                      write an example to change
  pairwise piece bookmark.toml                       pairs, pins, edges, ends
  pairwise piece bookmark.toml --trace \"start left\"  one pair, stitch by stitch
  pairwise piece bookmark.toml --trace \"colour navy\"
  pairwise piece bookmark.toml --json

A piece is a small text:
  format = \"pairwise-piece/1\"
  title = \"Bookmark with four roses\"
  pin-spacing = 5               # mm; usual: that of the ground
  most-pairs = 30               # more is a finding
  [outline]
  start = \"pointed\"             # or \"straight\"
  finish = \"pointed\"
  width = 9                     # pins across
  sides = 8                     # pins down each straight side
  [ground]
  name = \"torchon\"              # a ground, variety or chart
  with = { stitch = \"half\" }    # its choices
  [edge]
  stitch = \"CTCT pin CTCT\"      # usual: as in the ground
  first = \"pin CTCT\"            # at the first pin of a point
  [[area]]
  name = \"roses\"
  ground = \"rose\"
  at = [0, 6]                   # its top pin: to the right, down
  units = [2, 2]                # a diamond; rows = 3 is a band
  [[stitch]]                    # worked otherwise
  at = [-8, 10]
  work = \"half stitch, pin, half stitch\"
  [colours]
  all = \"white\"
  start = [\"navy\", \"white\"]     # one bobbin of either in each
  \"left 3\" = \"navy\"             # a pair by its name

Places are counted from the first pin: that of a pointed start, or the left one of a straight start. \
Stitches are written in words or letters. There can also stand
  at the top    notes, angle, thread (\"30 wraps/cm\"), thickness (mm)
  [ground]      first-pin: the name of its stitch on the first pin
  [footside]    passives (1 or 2), stitch, edge
  [[area]]      with; anchor: the name of its stitch at the place
  [[stitch]]    from and to (rows), area, edge, instead-of
  [colours]     top, left, right, passive, edge, or pairs by name

The exit status is 0 if the piece can be worked, 1 if it cannot, 2 if the text has faults.")]
pub struct PieceArgs {
    /// The piece (format pairwise-piece/1)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Follow a pair from its first pin to its last, for example "left 3" or "start right"; or a colour: "colour navy"
    #[arg(long, value_name = "PAIR", conflicts_with = "json")]
    pub trace: Option<String>,
    /// Say what to change so that a pair or a colour goes where you want it: "left 3 down the left edge", "colour navy ends at the right"
    #[arg(long, value_name = "WISH", conflicts_with_all = ["json", "trace"])]
    pub wish: Option<String>,
    /// Write pictures to a file; its ending, .pdf, .svg or .png, sets the kind. With --wish, of the changed piece
    #[arg(short, long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Draw one thing alone; without it a .pdf shows all three, other files the worked piece
    #[arg(long, value_name = "WHAT", requires = "out")]
    pub show: Option<Show>,
    /// Paper of the pricking: a4, letter, a3, or width and height in mm such as 200x250
    #[arg(long, value_name = "PAPER", default_value = "a4")]
    pub paper: PaperSize,
    /// Width of a PNG picture in pixels; the shading in other files is as fine as in a picture of this width
    #[arg(long, value_name = "PX", default_value_t = 1600, value_parser = whole::<u32>(48, 12000))]
    pub px: u32,
    /// Show pins among the threads
    #[arg(long)]
    pub pins: bool,
    /// Print JSON (format pairwise-piece/1): every stitch, pair and thread
    #[arg(long)]
    pub json: bool,
}

/// What a sheet can show on its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Show {
    /// The threads as worked lace
    Threads,
    /// The working diagram: a line for every pair, with its key
    Pairs,
    /// The dots for the pins, actual size
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
    /// The ground, for example `rose`, `rose/VARIETY`, or a chart or contribution in a file
    #[arg(value_name = "GROUND")]
    pub ground: OsString,
    /// Print JSON (format pairwise-facts/1), with the repeat itself
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choices: ChoiceArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: GaugeArgs,
}

/// Options of `trace`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise trace torchon --arrangement \"A A B B\" --colours white,gold
  pairwise trace rose --pair 3 --out pair-3.png            pair 3 in its colour, all others grey
  pairwise trace torchon --footsides --edge-change left:2=\"CT pin CT\"
  pairwise trace torchon --why stays --pair 1              what to change so that pair 1 stays

Places are counted from 1 at the left. Rows are rows of repeats.")]
pub struct TraceArgs {
    /// The ground, for example `rose`, `rose/VARIETY`, or a chart or contribution in a file
    #[arg(value_name = "GROUND")]
    pub ground: OsString,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub colours: ColourArgs,
    /// Hang on this many pairs, rounded up to whole repeats; without it, enough for arrangement and repeat to start together again, 8 or more
    #[arg(long, value_name = "N", value_parser = whole::<u16>(1, 120))]
    pub pairs_hung: Option<u16>,
    /// Number of rows of repeats to follow; without it, until every pair is back in its place, at most 16
    #[arg(long, value_name = "N", value_parser = whole::<u16>(1, 200))]
    pub rows: Option<u16>,
    /// Follow this pair, counted from 1 at the left; may be repeated
    #[arg(long, value_name = "N", value_parser = whole::<u16>(1, 1000))]
    pub pair: Vec<u16>,
    /// Follow the pairs of this colour, a letter of the arrangement; may be repeated
    #[arg(long, value_name = "LETTER", value_parser = letter)]
    pub colour: Vec<char>,
    /// Work between two footsides: one more pair runs along each side
    #[arg(long)]
    pub footsides: bool,
    /// The stitch worked where a pair comes to a footside
    #[arg(long, value_name = "STITCH", default_value = "CTCT pin CTCT", requires = "footsides")]
    pub edge: String,
    /// Work one edge stitch differently, for example left:2="CT pin CT"; may be repeated
    #[arg(long, value_name = "SIDE:NUMBER=STITCH", requires = "footsides")]
    pub edge_change: Vec<String>,
    /// Find what to change so that the pair named with --pair goes this way
    #[arg(long, value_name = "WISH", requires = "pair", conflicts_with_all = ["footsides", "json", "colour"])]
    pub why: Option<Wish>,
    /// Longest stitch that --why tries, in moves
    #[arg(long, value_name = "MOVES", default_value_t = 8, value_parser = whole::<u16>(1, 10))]
    pub longest: u16,
    /// Draw the trace to this file, ending in .png, .svg or .pdf
    #[arg(short, long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Print JSON (format pairwise-trace/1)
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choices: ChoiceArgs,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub gauge: GaugeArgs,
}

/// Where a pair is to go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Wish {
    /// It comes back to its own column
    Stays,
    /// Across the lace to the left
    Left,
    /// Across the lace to the right
    Right,
}

/// Options of `check`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise check                    every built-in ground
  pairwise check my-filling.toml    a chart; nothing is written
  pairwise check my-filling.toml --watch
  pairwise check my-filling.wasm    a contribution in a file
  pairwise check bookmark.toml      a piece
  pairwise check rose/plain

The exit status is 0 if there are no errors, 1 if there are, 2 if something cannot be read.
`pairwise explain CODE` says more about a fault.")]
pub struct CheckArgs {
    /// Charts and pieces (.toml), contributions (.wasm) or names of grounds; without any, all grounds
    #[arg(value_name = "FILE|GROUND")]
    pub targets: Vec<OsString>,
    /// Draw the chart or contribution as written, with its faults marked, to this file (.png, .svg, .pdf)
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// Check one chart again whenever it is saved, until you press Ctrl+C, and draw it each time: to ID-check.png, or as --picture says
    #[arg(long, conflicts_with = "json")]
    pub watch: bool,
    /// Print JSON (format pairwise-check/1)
    #[arg(long)]
    pub json: bool,
}

/// Options of `explain`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise explain                      all faults in a list
  pairwise explain lifts-off            one, with a bad and a good chart
  pairwise explain --page faults.html   all of them with pictures, to read or print
  pairwise explain charts               how a ground or filling is written as a chart")]
pub struct ExplainArgs {
    /// The code of a fault, for example `lifts-off`, or `charts` for how charts are written; without it, all codes
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
    /// Write all faults as one page (.html), with pictures of the charts
    #[arg(long, value_name = "FILE", conflicts_with = "code")]
    pub page: Option<PathBuf>,
}

/// Options of `new`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise new my-filling --chart                 a chart, written by hand; then see `pairwise explain charts`
  pairwise new bookmark --piece                   a piece; then see `pairwise piece --help`
  pairwise new my-filling                         a crate in Rust; then read my-filling/README.md

The crate needs nothing but Rust to build. Make it outside the folder of this program.")]
pub struct NewArgs {
    /// Its name, as users will type it: a plain word (a to z, 0 to 9, -)
    #[arg(value_name = "NAME")]
    pub name: String,
    /// Start a chart, which is written by hand and needs no compiler, instead of a crate
    #[arg(long)]
    pub chart: bool,
    /// Start a piece instead: a bookmark with four roses, as a small text
    #[arg(long, conflicts_with = "chart")]
    pub piece: bool,
}

/// Options of `pack`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise new my-filling --chart          start one
  pairwise check my-filling.toml           what is wrong, where, and what to do
  pairwise pack my-filling.toml            makes my-filling.wasm
  pairwise gallery --plugins .             show it beside the built-in grounds

`pairwise explain charts` explains charts line by line.")]
pub struct PackArgs {
    /// The chart
    #[arg(value_name = "CHART")]
    pub chart: PathBuf,
    /// The contribution to write; without it, the chart's id with `.wasm` in this folder
    #[arg(short, long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// Options of `unpack`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise unpack rose --out my-rose.toml
  pairwise unpack spider/two --with twists=3
  pairwise unpack somebodys.wasm/large --id ours")]
pub struct UnpackArgs {
    /// A ground, a variety (GROUND/VARIETY), or a chart or contribution (FILE.wasm or FILE.wasm/VARIETY)
    #[arg(value_name = "WHAT")]
    pub what: OsString,
    /// The chart to write; without it, the chart is printed
    #[arg(short, long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// The id in the chart; without it, the ground's id with `my-` in front
    #[arg(long, value_name = "ID")]
    pub id: Option<String>,
    #[command(flatten)]
    #[allow(missing_docs)]
    pub choices: ChoiceArgs,
}

/// Options of `build`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise build plugins/rose
  pairwise build my-filling --out my-filling.wasm

Needs a Rust toolchain that compiles to WebAssembly: `rustup target add wasm32-unknown-unknown`.")]
pub struct BuildArgs {
    /// Folder of the crate
    #[arg(value_name = "CRATE")]
    pub krate: PathBuf,
    /// The file to write; without it, one named after the ground, such as rose.wasm, in this folder
    #[arg(short, long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// Options of `completions`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise completions bash > ~/.local/share/bash-completion/completions/pairwise
  pairwise completions zsh > ~/.zfunc/_pairwise
  pairwise completions fish > ~/.config/fish/completions/pairwise.fish
  pairwise completions powershell >> $PROFILE

Make the folder first if it does not exist, and open a new terminal afterwards; then the Tab key \
completes what you type. Zsh finds ~/.zfunc if ~/.zshrc says, before any compinit,
  fpath+=~/.zfunc
  autoload -U compinit && compinit")]
pub struct CompletionsArgs {
    /// Your shell
    #[arg(value_name = "SHELL")]
    pub shell: Shell,
}

/// Options of `man`.
#[derive(Args, Debug)]
#[command(after_help = "\
Examples:
  pairwise man                                    the page for the program
  pairwise man grid                               the page for one command
  pairwise man grid > grid.1 && man ./grid.1      read it without installing it
  pairwise man --out ~/.local/share/man/man1      install all pages where `man` finds them

After the last one, `man pairwise` and `man pairwise-grid` show the pages.")]
pub struct ManArgs {
    /// The command, for example `grid`; without it, the program as a whole
    #[arg(value_name = "COMMAND")]
    pub name: Option<String>,
    /// Write the pages for the program and every command into this folder; it is made if needed
    #[arg(short, long, value_name = "DIR", conflicts_with = "name")]
    pub out: Option<PathBuf>,
}
