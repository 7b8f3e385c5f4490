//! Filters on varieties, and the search by any name.

use catalogue::Kind;
use catalogue::list::{self, Alone, CriteriaError, Criterion};
use catalogue::near::{did_you_mean, listed};

use crate::cli::{self, FilterArgs};
use crate::failure::Failure;

/// What a variety must meet, in the order of the options in the help text.
pub fn criteria(args: &FilterArgs) -> Vec<Criterion> {
    let several = |words: &Vec<String>| (!words.is_empty()).then(|| words.clone());
    let criteria = [
        args.search.clone().map(Criterion::Search),
        several(&args.family).map(Criterion::Families),
        args.kind.map(|kind| Criterion::Kind(kind.into())),
        several(&args.lace).map(Criterion::Laces),
        args.pins.map(Criterion::Pins),
        args.pairs_across.map(Criterion::PairsAcross),
        args.colours_go.map(|go| Criterion::ColoursGo(go.into())),
    ];
    criteria.into_iter().flatten().collect()
}

/// Why nothing is left, with the options as the user types them.
pub fn refused(why: CriteriaError) -> Failure {
    let unknown = |what, word: &str, near: &[String], all: &str| Failure::Unknown {
        what,
        name: word.escape_debug().to_string(),
        help: did_you_mean(near, all),
    };
    let there_are = |known: &[String]| format!("there are {}", listed(known));
    match &why {
        CriteriaError::EmptySearch(word) => Failure::Value {
            what: format!("--search `{}` has no letter or digit", word.escape_debug()),
            help: "give a name or part of one, for example --search tullgrund".to_owned(),
        },
        CriteriaError::UnknownName { word, near } => {
            unknown("the name", word, near, "`pairwise grounds` lists everything there is")
        }
        CriteriaError::UnknownFamily { word, near, known } => {
            unknown("the family", word, near, &there_are(known))
        }
        CriteriaError::UnknownLace { word, near, known } => {
            unknown("the lace", word, near, &there_are(known))
        }
        CriteriaError::NothingLeft { alone, of } => nothing_left(alone, *of),
    }
}

fn nothing_left(all: &[Alone], of: usize) -> Failure {
    let asked: Vec<String> = all.iter().map(|alone| typed(&alone.criterion)).collect();
    let one_by_one = all.iter().zip(&asked).map(|(alone, option)| {
        let at = if matches!(alone.criterion, Criterion::Pins(_)) { " at this pin spacing" } else { "" };
        let exists = format!("{}{at}", alone.exists);
        match (alone.kept, all.len()) {
            (0, 1) => exists,
            (0, _) => format!("{option} alone leaves none ({exists})"),
            (kept, _) => format!("{option} alone leaves {kept} of {of}"),
        }
    });
    Failure::Value {
        what: format!(
            "{} {} no ground or filling",
            asked.join(" "),
            if asked.len() == 1 { "leaves" } else { "together leave" }
        ),
        help: one_by_one.collect::<Vec<_>>().join("; "),
    }
}

/// A criterion as its option on the command line.
fn typed(criterion: &Criterion) -> String {
    match criterion {
        Criterion::Search(word) => option("search", word),
        Criterion::Families(words) => options("family", words),
        Criterion::Kind(Kind::Ground) => option("kind", "ground"),
        Criterion::Kind(Kind::Filling) => option("kind", "filling"),
        Criterion::Laces(words) => options("lace", words),
        Criterion::Pins(span) => option("pins", &span.to_string()),
        Criterion::PairsAcross(span) => option("pairs-across", &span.to_string()),
        Criterion::ColoursGo(go) => option("colours-go", go.word()),
    }
}

fn option(name: &str, value: &str) -> String {
    if value.contains(char::is_whitespace) {
        format!("--{name} \"{}\"", value.escape_debug())
    } else {
        format!("--{name} {}", value.escape_debug())
    }
}

fn options(name: &str, values: &[String]) -> String {
    values.iter().map(|value| option(name, value)).collect::<Vec<_>>().join(" ")
}

impl From<cli::KindWanted> for Kind {
    fn from(kind: cli::KindWanted) -> Kind {
        match kind {
            cli::KindWanted::Ground => Kind::Ground,
            cli::KindWanted::Filling => Kind::Filling,
        }
    }
}

impl From<cli::ColoursGo> for list::ColoursGo {
    fn from(go: cli::ColoursGo) -> list::ColoursGo {
        match go {
            cli::ColoursGo::Travels => list::ColoursGo::Travels,
            cli::ColoursGo::Stays => list::ColoursGo::Stays,
            cli::ColoursGo::Both => list::ColoursGo::Both,
        }
    }
}

impl From<cli::Grouping> for list::Grouping {
    fn from(by: cli::Grouping) -> list::Grouping {
        match by {
            cli::Grouping::Family => list::Grouping::Family,
            cli::Grouping::Kind => list::Grouping::Kind,
            cli::Grouping::Lace => list::Grouping::Lace,
            cli::Grouping::Colours => list::Grouping::Colours,
        }
    }
}

impl From<cli::ListSort> for list::SortBy {
    fn from(by: cli::ListSort) -> list::SortBy {
        match by {
            cli::ListSort::Name => list::SortBy::Name,
            cli::ListSort::Pairs => list::SortBy::Pairs,
            cli::ListSort::Pins => list::SortBy::Pins,
            cli::ListSort::Moves => list::SortBy::Moves,
        }
    }
}
