//! A piece worked out from its design: its stitches, its pairs in their colours, and
//! what was found, each with its line.

use std::ops::Range;

use compare::palette::Palette;
use lace::{PairName, Piece, PieceCode, PieceFinding, Side};

use crate::colours::{Whose, of_pairs};
use crate::design::Design;
use crate::{Fault, colours};

/// A piece worked out.
#[derive(Clone, Debug)]
pub struct Worked {
    /// What its text says.
    pub design: Design,
    /// The piece itself.
    pub piece: Piece,
    /// For every pair the colours of its left and right thread when hung, by their
    /// position in the palette.
    pub colours: Vec<[usize; 2]>,
    /// The colours that hang anywhere.
    pub palette: Palette,
    /// Warnings.
    pub warnings: Vec<Located>,
}

/// A finding with its place in the text.
#[derive(Clone, Debug, PartialEq)]
pub struct Located {
    /// The finding.
    pub finding: PieceFinding,
    /// Where the parts stand that it concerns, in bytes of the text; never empty.
    pub at: Vec<Range<usize>>,
    /// The line of the first, counted from 1.
    pub line: usize,
    /// The areas it concerns, by their names; `None` is the ground of the piece.
    pub areas: Vec<Option<String>>,
}

/// Why a design cannot be worked.
#[derive(Clone, Debug, PartialEq)]
pub enum Unworkable {
    /// Findings, at least one of them an error.
    Findings(Vec<Located>),
    /// Faults of the text that show only when the pairs are known.
    Faults(Vec<Fault>),
}

impl Worked {
    /// Works out a design.
    ///
    /// # Errors
    /// All findings when at least one is an error, and colours for pairs that the piece
    /// does not have.
    pub fn new(design: Design) -> Result<Worked, Unworkable> {
        let located = |findings: Vec<PieceFinding>| {
            findings.into_iter().map(|finding| Located::new(finding, &design)).collect::<Vec<_>>()
        };
        let piece = match Piece::new(&design.plan()) {
            Ok(piece) => piece,
            Err(findings) => return Err(Unworkable::Findings(located(findings))),
        };
        let warnings = located(piece.warnings().to_vec());
        let faults: Vec<Fault> = design
            .hung
            .iter()
            .enumerate()
            .filter_map(|(k, hung)| not_hung(&design, k, hung, &piece))
            .collect();
        if !faults.is_empty() {
            return Err(Unworkable::Faults(faults));
        }
        let mut colours = of_pairs(&design.hung, &piece);
        let palette = worn(&mut colours, &design.palette);
        Ok(Worked { colours, palette, warnings, piece, design })
    }

    /// The name of a thread's colour.
    pub fn colour(&self, colour: usize) -> &str {
        self.palette.colours().get(colour).map_or("", |colour| colour.name.as_str())
    }
}

/// The colours that are worn, and their positions renumbered to suit.
fn worn(colours: &mut [[usize; 2]], palette: &Palette) -> Palette {
    let used = |colour: usize| colours.iter().flatten().any(|&one| one == colour);
    let worn: Vec<usize> = (0..palette.colours().len()).filter(|&colour| used(colour)).collect();
    for one in colours.iter_mut().flatten() {
        *one = worn.iter().position(|colour| colour == one).unwrap_or(0);
    }
    Palette::of(worn.iter().map(|&colour| palette.colours()[colour].clone()).collect())
}

/// Colours for pairs that are not there.
fn not_hung(design: &Design, k: usize, hung: &colours::Hung, piece: &Piece) -> Option<Fault> {
    if piece.pairs().iter().any(|pair| hung.whose.means(pair.name)) {
        return None;
    }
    let at = design.places.hung[k].clone();
    let (sentence, remedy) = match hung.whose {
        Whose::Pair(name) => {
            (format!("the piece has no pair `{name}`"), format!("it has {}", hung_pairs(piece)))
        }
        _ => (
            "no pair is hung there".to_owned(),
            format!("leave this line out; the piece has {}", hung_pairs(piece)),
        ),
    };
    Some(Fault { line: design.places.line(&at), at, sentence, remedy })
}

/// The pairs of a piece: `start left and right, left 1 to 6, right 1 to 6`.
pub(crate) fn hung_pairs(piece: &Piece) -> String {
    let names = || piece.pairs().iter().map(|pair| pair.name);
    let mut parts: Vec<String> = Vec::new();
    let mut run =
        |called: &str, number: &dyn Fn(PairName) -> Option<usize>| match names().filter_map(number).max() {
            None => {}
            Some(0) => parts.push(called.to_owned()),
            Some(1) => parts.push(format!("{called} 1")),
            Some(last) => parts.push(format!("{called} 1 to {last}")),
        };
    run("start left, start right", &|name| matches!(name, PairName::Start(_)).then_some(0));
    run("top", &|name| if let PairName::Top(n) = name { Some(n) } else { None });
    for side in Side::BOTH {
        let word = side.word();
        run(word, &|name| if let PairName::Side(of, n) = name { (of == side).then_some(n) } else { None });
        run(&format!("passive {word}"), &|name| {
            if let PairName::Passive(of, n) = name { (of == side).then_some(n) } else { None }
        });
        run(&format!("edge {word}"), &|name| (name == PairName::Edge(side)).then_some(0));
    }
    parts.join(", ")
}

impl Located {
    fn new(finding: PieceFinding, design: &Design) -> Located {
        let places = &design.places;
        let mut at: Vec<Range<usize>> = finding.change.iter().map(|&k| places.changes[k].clone()).collect();
        at.extend(finding.areas.iter().flatten().map(|&k| places.areas[k].clone()));
        if at.is_empty() {
            at.push(match finding.code {
                PieceCode::BadOutline | PieceCode::AreaSticksOut => places.outline.clone(),
                PieceCode::TooManyPairs => places.most_pairs.clone(),
                _ => places.ground.clone(),
            });
        }
        let line = places.line(&at[0]);
        let areas = finding.areas.iter().map(|area| area.map(|k| design.areas[k].name.clone())).collect();
        Located { finding, at, line, areas }
    }

    /// Whether it keeps the piece from being worked.
    pub fn is_error(&self) -> bool {
        self.finding.code.severity() == lace::Severity::Error
    }
}
