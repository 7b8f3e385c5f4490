//! Which grounds a grid shows: those named, or all, minus those left out.

use std::sync::Arc;

use catalogue::{Catalogue, Change, Chosen, Entry, GroundName, LeftOut, suggest};

use crate::cli::GridArgs;
use crate::failure::Failure;

/// A row asked for: its contribution, and the variety if one is named.
type Row<'a> = (&'a Arc<Entry>, Option<String>);

/// The grounds to show.
pub struct ShownGrounds {
    /// The grounds, in the order asked for.
    pub chosen: Vec<Chosen>,
    /// Number of grounds left out by `--only` and `--except`.
    pub left_out: usize,
}

/// The grounds the user asked for; those that fail are set aside.
pub fn shown_grounds(
    args: &GridArgs,
    changes: &[Change],
    catalogue: &Catalogue,
    left_out: &mut Vec<LeftOut>,
) -> Result<ShownGrounds, Failure> {
    let rows = asked(args, catalogue)?;
    for name in args.only.iter().chain(&args.except) {
        known(name, catalogue)?;
    }
    let all = rows.len();
    let rows: Vec<Row<'_>> = rows
        .into_iter()
        .flat_map(|row| kept(row, &args.only))
        .filter(|row| !args.except.iter().any(|name| means(name, row)))
        .collect();
    if rows.is_empty() && all > 0 {
        return Err(Failure::Value {
            what: "--only and --except leave no ground to show".to_owned(),
            help: "`pairwise grounds` lists all grounds; --varieties gives every variety a row".to_owned(),
        });
    }
    let grounds_left_out = all.saturating_sub(rows.len());
    let mut chosen = Vec::new();
    for (entry, variety) in rows {
        // An unknown choice or variety is the user's mistake and ends the
        // command; a ground that fails is only set aside.
        entry.about().resolve(variety.as_deref(), changes)?;
        match entry.choose(variety.as_deref(), changes) {
            Ok(ground) => chosen.push(ground),
            Err(why) => left_out.push(LeftOut { file: entry.file().to_owned(), why: why.to_string() }),
        }
    }
    Ok(ShownGrounds { chosen, left_out: grounds_left_out })
}

/// The grounds named on the command line, or all.
fn asked<'a>(args: &GridArgs, catalogue: &'a Catalogue) -> Result<Vec<Row<'a>>, Failure> {
    let names: Vec<String> = match args.grounds.as_slice() {
        [] => catalogue.entries().iter().map(|e| e.about().id.clone()).collect(),
        names => names.to_vec(),
    };
    let mut rows: Vec<Row<'a>> = Vec::new();
    for name in &names {
        let name = GroundName::from(name.as_str());
        let entry = catalogue.entry(&name.ground)?;
        if args.varieties && name.variety.is_none() {
            rows.extend(entry.about().varieties.keys().map(|v| (entry, Some(v.clone()))));
        } else {
            rows.push((entry, name.variety));
        }
    }
    Ok(rows)
}

/// The variety named; without a name, the usual one.
fn variety<'a>((entry, variety): &'a Row<'_>) -> &'a str {
    variety.as_deref().unwrap_or_else(|| entry.about().usual_variety())
}

/// Whether a name matches a ground: its id, its family, or one of its varieties.
fn means(name: &str, row: &Row<'_>) -> bool {
    let about = row.0.about();
    let GroundName { ground, variety: of } = name.into();
    match of {
        Some(of) => ground == about.id && of == variety(row),
        None => name == about.id || name.eq_ignore_ascii_case(&about.family),
    }
}

/// The varieties of a ground that `--only` keeps. A variety named there is shown
/// even if otherwise only the usual variety would be.
fn kept<'a>(row: Row<'a>, only: &[String]) -> Vec<Row<'a>> {
    if only.is_empty() || only.iter().any(|name| means(name, &row)) {
        return vec![row];
    }
    let (entry, None) = row else { return Vec::new() };
    only.iter()
        .map(|name| GroundName::from(name.as_str()))
        .filter(|name| name.variety.is_some() && name.ground == entry.about().id)
        .map(|name| (entry, name.variety))
        .collect()
}

/// Refuses a name that matches nothing.
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
