//! Which grounds a grid shows: those named, or all, minus those left out.

use std::sync::Arc;

use catalogue::fold::same;
use catalogue::list::{Criteria, Criterion, Listing};
use catalogue::{Catalogue, Change, ChooseError, Chosen, Entry, LeftOut, Meant, suggest};
use compare::scale::Scale;

use super::filters::{criteria, refused};
use crate::cli::GridArgs;
use crate::failure::Failure;
use crate::sources::Grounds;

/// The grounds to show.
pub struct ShownGrounds {
    /// The grounds, in the order asked for.
    pub chosen: Vec<Chosen>,
    /// Number of grounds left out by `--only`, `--except` and the filters.
    pub left_out: usize,
}

/// The grounds the user asked for; those that fail are set aside.
pub fn shown_grounds(
    args: &GridArgs,
    changes: &[Change],
    scale: &Scale,
    grounds: &Grounds<'_>,
    left_out: &mut Vec<LeftOut>,
) -> Result<ShownGrounds, Failure> {
    // Pins are counted once the pictures are laid out.
    let mut criteria = criteria(&args.filters);
    criteria.retain(|criterion| !matches!(criterion, Criterion::Pins(_)));
    let rows = asked(args, grounds)?;
    let names = |names: &[String]| -> Result<Vec<Wanted>, Failure> {
        names.iter().map(|name| wanted(name, grounds.catalogue()?)).collect()
    };
    let (only, except) = (names(&args.only)?, names(&args.except)?);
    let all = rows.len();
    let rows: Vec<Meant> = rows
        .into_iter()
        .flat_map(|row| kept(row, &only))
        .filter(|row| !except.iter().any(|wanted| wanted.means(row)))
        .collect();
    if rows.is_empty() && all > 0 {
        return Err(Failure::Value {
            what: "--only and --except leave no ground to show".to_owned(),
            help: "`pairwise grounds` lists all grounds; --varieties gives every variety a row".to_owned(),
        });
    }
    let mut chosen = Vec::new();
    let mut failed = 0;
    for row in rows {
        // An unknown choice or variety is the user's mistake and ends the
        // command; a ground that fails is only set aside.
        row.entry.about().resolve(row.variety.as_deref(), changes)?;
        match row.choose(changes) {
            Ok(ground) => chosen.push(ground),
            Err(why) => {
                left_out.push(LeftOut { file: row.entry.file().to_owned(), why: why.to_string() });
                failed += 1;
            }
        }
    }
    if !criteria.is_empty() {
        let criteria = Criteria::new(criteria, grounds.catalogue()?).map_err(refused)?;
        let listing = |chosen: Chosen| -> Result<Listing, Failure> {
            let grid = scale.grid(chosen.about())?;
            Ok(Listing::new(chosen, &grid))
        };
        let listings = chosen.into_iter().map(listing).collect::<Result<_, _>>()?;
        let listings = criteria.keep(listings).map_err(refused)?;
        chosen = listings.into_iter().map(|listing| listing.chosen).collect();
    }
    Ok(ShownGrounds { left_out: all.saturating_sub(chosen.len() + failed), chosen })
}

/// The grounds named on the command line, or all.
fn asked(args: &GridArgs, grounds: &Grounds<'_>) -> Result<Vec<Meant>, Failure> {
    let all = |entry: &Arc<Entry>| Meant { entry: entry.clone(), variety: None };
    let rows: Vec<Meant> = match args.grounds.as_slice() {
        [] => grounds.catalogue()?.entries().iter().map(all).collect(),
        names => names.iter().map(|name| grounds.meant(name)).collect::<Result<_, _>>()?,
    };
    let with_varieties = |row: Meant| -> Vec<Meant> {
        if !args.varieties || row.variety.is_some() {
            return vec![row];
        }
        let ids = row.entry.about().varieties.keys();
        ids.map(|id| Meant { entry: row.entry.clone(), variety: Some(id.clone()) }).collect()
    };
    Ok(rows.into_iter().flat_map(with_varieties).collect())
}

/// What `--only` and `--except` name.
enum Wanted {
    /// Every ground with this id or of this family.
    Family(String),
    /// A ground, or one variety of it.
    Ground(Meant),
}

impl Wanted {
    /// Whether it names a row.
    fn means(&self, row: &Meant) -> bool {
        let about = row.entry.about();
        match self {
            Wanted::Family(name) => same(name, &about.id) || same(name, &about.family),
            Wanted::Ground(Meant { entry, variety }) => {
                let shown = || row.variety.as_deref().unwrap_or_else(|| about.usual_variety());
                entry.about().id == about.id && variety.as_deref().is_none_or(|id| id == shown())
            }
        }
    }
}

/// Reads the name of a ground, variety or family.
fn wanted(name: &str, catalogue: &Catalogue) -> Result<Wanted, Failure> {
    let families = || catalogue.entries().iter().map(|entry| entry.about().family.as_str());
    if families().any(|family| same(family, name)) {
        return Ok(Wanted::Family(name.to_owned()));
    }
    match catalogue.meant(name) {
        Ok(Meant { entry, variety })
            if variety.as_ref().is_none_or(|id| entry.about().varieties.contains_key(id)) =>
        {
            Ok(Wanted::Ground(Meant { entry, variety }))
        }
        Err(why @ ChooseError::Ambiguous { .. }) => Err(why.into()),
        _ => Err(unknown(name, catalogue)),
    }
}

/// Refuses a name that matches nothing.
fn unknown(name: &str, catalogue: &Catalogue) -> Failure {
    let all = catalogue.entries().iter().map(|entry| entry.about());
    let varieties: Vec<String> =
        all.clone().flat_map(|about| about.varieties.keys().map(|v| format!("{}/{v}", about.id))).collect();
    let ids = all.flat_map(|about| [about.id.as_str(), about.family.as_str()]);
    let mut names: Vec<&str> = ids.chain(varieties.iter().map(String::as_str)).collect();
    names.sort_unstable();
    names.dedup();
    Failure::Unknown {
        what: "the ground, variety or family",
        name: name.to_owned(),
        help: suggest(name, names, "`pairwise grounds` lists all grounds and families"),
    }
}

/// The varieties of a ground that `--only` keeps. A variety named there is shown
/// even if otherwise only the usual variety would be.
fn kept(row: Meant, only: &[Wanted]) -> Vec<Meant> {
    if only.is_empty() || only.iter().any(|wanted| wanted.means(&row)) {
        return vec![row];
    }
    let Meant { entry, variety: None } = row else { return Vec::new() };
    let of_entry = |wanted: &Wanted| match wanted {
        Wanted::Ground(meant) if meant.entry.about().id == entry.about().id => Some(meant.clone()),
        _ => None,
    };
    only.iter().filter_map(of_entry).collect()
}
