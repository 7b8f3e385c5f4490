//! Which grounds are shown, and in what order.

use std::sync::Arc;

use catalogue::suggest;
use catalogue::{Catalogue, Chosen, Entry, GroundName, LeftOut};
use lace::Pattern;

use super::cells::{Cell, Drawn};
use crate::cli::{GridArgs, Sort};
use crate::failure::Failure;
use crate::request::choices::changes;

/// A ground asked for: its contribution, and the variety if one is meant.
type Wanted<'a> = (&'a Arc<Entry>, Option<String>);

/// The grounds to show.
pub struct Rows {
    /// The grounds, in the order in which they were asked for.
    pub chosen: Vec<Chosen>,
    /// How many `--only` and `--except` left out.
    pub left_out: usize,
}

/// The rows the user asked for; what fails is put aside.
pub fn rows<'a>(
    args: &GridArgs,
    catalogue: &'a Catalogue,
    left_out: &mut Vec<LeftOut>,
) -> Result<Rows, Failure> {
    let changes = changes(&args.choices)?;
    let wanted = asked(args, catalogue)?;
    for name in args.only.iter().chain(&args.except) {
        known(name, catalogue)?;
    }
    let all = wanted.len();
    let wanted: Vec<Wanted<'_>> = wanted
        .into_iter()
        .flat_map(|wanted| kept(wanted, &args.only))
        .filter(|w| !args.except.iter().any(|name| means(name, w)))
        .collect();
    if wanted.is_empty() && all > 0 {
        return Err(Failure::Value {
            what: "--only and --except leave no ground to show".to_owned(),
            help: "`pairwise grounds` lists all grounds; --varieties gives every variety a row".to_owned(),
        });
    }
    let grounds_left_out = all.saturating_sub(wanted.len());
    let mut chosen = Vec::new();
    for (entry, variety) in wanted {
        // A choice or variety that is not there is the user's mistake, said at
        // once; a ground that fails is put aside.
        entry.about().resolve(variety.as_deref(), &changes)?;
        match entry.choose(variety.as_deref(), &changes) {
            Ok(ground) => chosen.push(ground),
            Err(why) => left_out.push(LeftOut { file: entry.file().to_owned(), why: why.to_string() }),
        }
    }
    Ok(Rows { chosen, left_out: grounds_left_out })
}

/// What is named on the command line, or everything.
fn asked<'a>(args: &GridArgs, catalogue: &'a Catalogue) -> Result<Vec<Wanted<'a>>, Failure> {
    let names: Vec<String> = match args.grounds.as_slice() {
        [] => catalogue.entries().iter().map(|e| e.about().id.clone()).collect(),
        names => names.to_vec(),
    };
    let mut wanted: Vec<Wanted<'a>> = Vec::new();
    for name in &names {
        let name = GroundName::from(name.as_str());
        let entry = catalogue.entry(&name.ground)?;
        if args.varieties && name.variety.is_none() {
            wanted.extend(entry.about().varieties.keys().map(|v| (entry, Some(v.clone()))));
        } else {
            wanted.push((entry, name.variety));
        }
    }
    Ok(wanted)
}

/// The variety that is meant: without a word, the usual one.
fn variety<'a>((entry, variety): &'a Wanted<'_>) -> &'a str {
    variety.as_deref().unwrap_or_else(|| entry.about().usual_variety())
}

/// Whether a name means a ground: its id, its family, or one variety of it.
fn means(name: &str, wanted: &Wanted<'_>) -> bool {
    let about = wanted.0.about();
    let GroundName { ground, variety: of } = name.into();
    match of {
        Some(of) => ground == about.id && of == variety(wanted),
        None => name == about.id || name.eq_ignore_ascii_case(&about.family),
    }
}

/// What `--only` keeps of a ground. A variety named there is shown even where
/// the ground stands only for its usual one.
fn kept<'a>(wanted: Wanted<'a>, only: &[String]) -> Vec<Wanted<'a>> {
    if only.is_empty() || only.iter().any(|name| means(name, &wanted)) {
        return vec![wanted];
    }
    let (entry, None) = wanted else { return Vec::new() };
    only.iter()
        .map(|name| GroundName::from(name.as_str()))
        .filter(|name| name.variety.is_some() && name.ground == entry.about().id)
        .map(|name| (entry, name.variety))
        .collect()
}

/// Refuses a name that means nothing there is.
fn known(name: &str, catalogue: &Catalogue) -> Result<(), Failure> {
    let all = catalogue.entries().iter().map(|entry| entry.about());
    let varieties: Vec<String> =
        all.clone().flat_map(|about| about.varieties.keys().map(|v| format!("{}/{v}", about.id))).collect();
    let ids = all.flat_map(|about| [about.id.as_str(), about.family.as_str()]);
    let mut names: Vec<&str> = ids.chain(varieties.iter().map(String::as_str)).collect();
    names.sort_unstable();
    names.dedup();
    if names.iter().any(|known| *known == name || !name.contains('/') && known.eq_ignore_ascii_case(name)) {
        return Ok(());
    }
    Err(Failure::Unknown {
        what: "the ground, variety or family",
        name: name.to_owned(),
        help: suggest(name, names, "`pairwise grounds` lists all grounds and families"),
    })
}

/// Puts grounds in order, those that are alike as they were. `cells` are those
/// of each ground in turn.
pub fn order(sort: Sort, drawn: &[Drawn], cells: &[Vec<Cell>]) -> Vec<usize> {
    let mut numbers: Vec<usize> = (0..drawn.len()).collect();
    let measure = |k: usize| -> f64 {
        let measures = drawn[k].chosen.ground.measures(&drawn[k].grid);
        match sort {
            Sort::Pairs => measures.pairs_per_cm,
            Sort::Pins => measures.pins_per_cm2,
            Sort::Moves => measures.moves_per_cm2,
            Sort::Open => -drawn[k].thumbnail.open(),
            Sort::Name | Sort::Pattern => 0.0,
        }
    };
    match sort {
        Sort::Name => numbers.sort_by_key(|&k| drawn[k].chosen.name()),
        Sort::Pattern => numbers.sort_by_key(|&k| patterns(&cells[k])),
        _ => numbers.sort_by(|&a, &b| measure(a).total_cmp(&measure(b))),
    }
    numbers
}

/// The kind of pattern that a ground makes most often, one colour apart; then
/// those of all its orders.
fn patterns(cells: &[Cell]) -> (Pattern, Vec<Pattern>) {
    let all: Vec<Pattern> = cells.iter().map(|c| c.pattern).collect();
    let often = |p: Pattern| all.iter().filter(|q| **q == p).count();
    let most = Pattern::ALL
        .into_iter()
        .filter(|p| *p != Pattern::Plain && often(*p) > 0)
        // Of several the first in the list of kinds.
        .rev()
        .max_by_key(|p| often(*p))
        .unwrap_or(Pattern::Plain);
    (most, all)
}

/// What stands below the title of a row: the name to type, the works, where
/// threads go.
pub fn notes(chosen: &Chosen) -> Vec<String> {
    let mut works: Vec<String> = Vec::new();
    for stitch in chosen.ground.stitches() {
        let work = stitch.stitch.to_string();
        if !works.contains(&work) {
            works.push(work);
        }
    }
    works.truncate(3);
    let courses = chosen.ground.courses();
    let stay = courses.iter().filter(|c| c.travel == lace::Travel::Stays).map(|c| c.threads).sum::<usize>();
    let all: usize = courses.iter().map(|c| c.threads).sum();
    let travel = match stay {
        0 => "all threads travel".to_owned(),
        n if n == all => "all threads stay".to_owned(),
        n => format!("{n} of {all} threads stay"),
    };
    vec![chosen.name(), works.join(", "), travel]
}
