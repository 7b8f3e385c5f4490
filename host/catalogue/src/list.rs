//! Lists of varieties: what is computed for each, and how lists are filtered,
//! grouped and sorted.

mod arrange;
mod criterion;
mod found;

use std::fmt::Display;
use std::sync::Arc;

use indexmap::IndexMap;
use lace::{Grid, Ground, Measures, Stitch, Travel};
use rayon::prelude::*;

use crate::{About, Catalogue, Chosen, Entry, LeftOut, Meant, ResolveError, Variety};

pub use arrange::{Group, Grouping, SortBy, groups, sort};
pub use criterion::{Alone, Criteria, CriteriaError, Criterion};
pub use found::{Found, found_lines};

/// One variety in a list, with its computed facts.
#[derive(Clone, Debug)]
pub struct Listing {
    /// The variety.
    pub chosen: Chosen,
    /// Its measures on its pricking.
    pub measures: Measures,
    /// Threads of one repeat, counted by where they go.
    pub threads: ThreadCounts,
    /// Its different stitches, in order of first appearance.
    pub stitches: Vec<StitchCount>,
    /// The name that the search matched.
    pub found: Option<Found>,
}

/// Threads of one repeat, counted by where they go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ThreadCounts {
    /// Threads that travel to the left.
    pub left: usize,
    /// Threads that come back to their own columns.
    pub stay: usize,
    /// Threads that travel to the right.
    pub right: usize,
}

/// A stitch, and how often it is in a repeat.
#[derive(Clone, Debug, PartialEq)]
pub struct StitchCount {
    /// The stitch.
    pub stitch: Stitch,
    /// The number of times it is worked.
    pub times: usize,
}

/// What the threads of a variety do, and so the colours on them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ColoursGo {
    /// All travel across the lace, to the left or to the right.
    Travels,
    /// All come back to their own columns.
    Stays,
    /// Some travel, some stay.
    Both,
}

impl ColoursGo {
    /// The word for it, as users type it.
    pub const fn word(self) -> &'static str {
        match self {
            ColoursGo::Travels => "travels",
            ColoursGo::Stays => "stays",
            ColoursGo::Both => "both",
        }
    }
}

impl ThreadCounts {
    /// The threads of a ground.
    pub fn of(ground: &Ground) -> ThreadCounts {
        let mut threads = ThreadCounts::default();
        for course in ground.courses() {
            *match course.travel {
                Travel::Left => &mut threads.left,
                Travel::Stays => &mut threads.stay,
                Travel::Right => &mut threads.right,
            } += course.threads;
        }
        threads
    }

    /// What the colours on these threads do.
    pub const fn colours_go(self) -> ColoursGo {
        match self {
            ThreadCounts { left: 0, right: 0, .. } => ColoursGo::Stays,
            ThreadCounts { stay: 0, .. } => ColoursGo::Travels,
            _ => ColoursGo::Both,
        }
    }
}

impl Listing {
    /// Computes the facts of a variety on a pricking grid.
    pub fn new(chosen: Chosen, grid: &Grid) -> Listing {
        let stitches = chosen
            .ground
            .distinct_stitches()
            .into_iter()
            .map(|(stitch, places)| StitchCount { stitch: stitch.clone(), times: places.len() })
            .collect();
        Listing {
            measures: chosen.ground.measures(grid),
            threads: ThreadCounts::of(&chosen.ground),
            stitches,
            found: None,
            chosen,
        }
    }

    /// The contribution's description of itself.
    pub fn about(&self) -> &About {
        self.chosen.about()
    }

    /// The contribution's description of the variety.
    ///
    /// # Panics
    /// Never: a chosen variety is one of the contribution's.
    pub fn variety(&self) -> &Variety {
        &self.about().varieties[&self.chosen.variety]
    }

    /// Whether its colours travel or stay.
    pub fn colours_go(&self) -> ColoursGo {
        self.threads.colours_go()
    }

    /// Number of pairs across one repeat.
    pub fn pairs_across(&self) -> usize {
        self.measures.pairs_per_repeat
    }

    /// The different numbers of extra twists between stitches, fewest first.
    pub fn extra_twists(&self) -> Vec<u32> {
        let legs = self.chosen.ground.legs();
        let mut twists: Vec<u32> = legs.iter().map(|l| l.twists).filter(|&t| t > 0).collect();
        twists.sort_unstable();
        twists.dedup();
        twists
    }
}

/// A variety to list.
#[derive(Clone, Debug)]
pub struct Named {
    /// The contribution.
    pub entry: Arc<Entry>,
    /// Id of the variety.
    pub variety: String,
}

impl Catalogue {
    /// The varieties of all grounds.
    pub fn varieties(&self) -> Vec<Named> {
        let of_entry = |entry: &Arc<Entry>| -> Vec<Named> {
            let named = |id: &String| Named { entry: entry.clone(), variety: id.clone() };
            entry.about().varieties.keys().map(named).collect()
        };
        self.entries().iter().flat_map(of_entry).collect()
    }
}

/// The varieties meant: each once, grouped by ground in the ground's order. A ground
/// named without a variety means all of its varieties.
///
/// # Errors
/// An unknown variety.
pub fn varieties_meant(all: &[Meant]) -> Result<Vec<Named>, ResolveError> {
    let mut named: IndexMap<&str, (&Arc<Entry>, Vec<&str>)> = IndexMap::new();
    for Meant { entry, variety } in all {
        let about = entry.about();
        about.resolve(variety.as_deref(), &[])?;
        let (_, varieties) = named.entry(&about.id).or_insert_with(|| (entry, Vec::new()));
        let meant = |id: &&str| variety.as_deref().is_none_or(|variety| variety == *id);
        varieties.extend(about.varieties.keys().map(String::as_str).filter(meant));
    }
    let in_order = |(entry, varieties): (&Arc<Entry>, Vec<&str>)| {
        let ids = entry.about().varieties.keys().filter(|id| varieties.contains(&id.as_str()));
        ids.map(|id| Named { entry: entry.clone(), variety: id.clone() }).collect::<Vec<_>>()
    };
    Ok(named.into_values().flat_map(in_order).collect())
}

/// Computes the facts of varieties on all processors, each on its own pricking
/// grid; `step` is called after each. Those that fail are returned separately.
pub fn work_out<E: Display>(
    named: &[Named],
    grid: impl Fn(&About) -> Result<Grid, E> + Sync,
    step: impl Fn() + Sync,
) -> (Vec<Listing>, Vec<LeftOut>) {
    let results: Vec<Result<Listing, LeftOut>> = named
        .par_iter()
        .map(|Named { entry, variety }| {
            let left_out = |why: String| LeftOut { file: entry.file().to_owned(), why };
            let listing = grid(entry.about()).map_err(|why| left_out(why.to_string())).and_then(|grid| {
                let chosen = entry.choose(Some(variety), &[]).map_err(|why| left_out(why.to_string()))?;
                Ok(Listing::new(chosen, &grid))
            });
            step();
            listing
        })
        .collect();
    let (mut listings, mut left_out) = (Vec::new(), Vec::new());
    for result in results {
        match result {
            Ok(listing) => listings.push(listing),
            Err(out) => left_out.push(out),
        }
    }
    (listings, left_out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::Sample;

    #[test]
    fn varieties_come_once_and_in_the_order_of_their_ground() {
        let catalogue = Catalogue::new([Sample::new("rose"), Sample::new("point")], Vec::new());
        let ids = |names: &[&str]| {
            let meant: Vec<Meant> = names.iter().map(|name| catalogue.meant(name).unwrap()).collect();
            let named =
                if meant.is_empty() { catalogue.varieties() } else { varieties_meant(&meant).unwrap() };
            named.iter().map(|n| format!("{}/{}", n.entry.about().id, n.variety)).collect::<Vec<_>>()
        };
        assert_eq!(ids(&[]), ["rose/plain", "rose/twisted", "point/plain", "point/twisted"]);
        assert_eq!(
            ids(&["point/twisted", "rose/plain", "point"]),
            ["point/plain", "point/twisted", "rose/plain"]
        );
        let unknown = varieties_meant(&[catalogue.meant("rose/plian").unwrap()]).unwrap_err();
        assert!(matches!(unknown, ResolveError::UnknownVariety { near: Some(near), .. } if near == "plain"));
    }

    #[test]
    fn what_fails_is_put_aside() {
        let catalogue = Catalogue::new([Sample::new("rose")], Vec::new());
        let named = catalogue.varieties();
        let (listings, left_out) = work_out(&named, |about| Grid::new(4.0, about.angle), || {});
        assert_eq!((listings.len(), left_out.len()), (2, 0));
        assert_eq!(listings[0].stitches[0].times, 1);
        assert_eq!(listings[1].extra_twists(), [1]);
        let (listings, left_out) = work_out(&named, |_| Err::<Grid, _>("no angle"), || {});
        assert!(listings.is_empty());
        assert_eq!(left_out[1], LeftOut { file: "rose.wasm".into(), why: "no angle".into() });
    }
}
