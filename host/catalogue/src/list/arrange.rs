//! Grouping and sorting lists.

use indexmap::IndexMap;

use super::{ColoursGo, Listing};
use crate::Kind;
use crate::fold::fold;

/// How a list is grouped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grouping {
    /// Family, in catalogue order.
    Family,
    /// Grounds, then fillings.
    Kind,
    /// Lace; a ground used in several laces is listed under each.
    Lace,
    /// What the colours do.
    Colours,
}

/// How rows are sorted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SortBy {
    /// Name, alphabetically.
    Name,
    /// Pairs across one repeat, fewest first.
    Pairs,
    /// Pins per square cm, fewest first.
    Pins,
    /// Moves per square cm, fewest first.
    Moves,
}

/// A part of a list.
#[derive(Debug)]
pub struct Group<'l> {
    /// Its heading.
    pub heading: String,
    /// Its rows.
    pub rows: Vec<&'l Listing>,
}

/// Groups a list.
pub fn groups<'l>(by: Grouping, all: impl IntoIterator<Item = &'l Listing>) -> Vec<Group<'l>> {
    let mut groups: IndexMap<(usize, String), Vec<&'l Listing>> = IndexMap::new();
    for listing in all {
        let about = listing.about();
        // The number is the first sort key; then groups keep their order.
        let keys: Vec<(usize, String)> = match by {
            Grouping::Family => vec![(0, format!("Family {}", about.family))],
            Grouping::Kind => match about.kind {
                Kind::Ground => vec![(0, "Grounds".to_owned())],
                Kind::Filling => vec![(1, "Fillings".to_owned())],
            },
            Grouping::Lace if about.laces.is_empty() => vec![(1, "No lace named".to_owned())],
            Grouping::Lace => about.laces.iter().map(|lace| (0, lace.clone())).collect(),
            Grouping::Colours => match listing.colours_go() {
                ColoursGo::Travels => vec![(0, "Colours travel across the lace".to_owned())],
                ColoursGo::Both => vec![(1, "Some colours travel, some stay".to_owned())],
                ColoursGo::Stays => vec![(2, "Colours stay in their columns".to_owned())],
            },
        };
        for key in keys {
            let rows = groups.entry(key).or_default();
            // A ground may name a lace twice.
            if rows.last().is_none_or(|last| !std::ptr::eq(*last, listing)) {
                rows.push(listing);
            }
        }
    }
    if by == Grouping::Lace {
        groups.sort_by(|a, _, b, _| (a.0, fold(&a.1)).cmp(&(b.0, fold(&b.1))));
    } else {
        groups.sort_by(|a, _, b, _| a.0.cmp(&b.0));
    }
    groups.into_iter().map(|((_, heading), rows)| Group { heading, rows }).collect()
}

/// Sorts rows; ties keep their order.
pub fn sort(by: SortBy, rows: &mut [&Listing]) {
    match by {
        SortBy::Name => rows.sort_by_key(|listing| listing.chosen.name()),
        SortBy::Pairs => rows.sort_by_key(|listing| listing.pairs_across()),
        SortBy::Pins => rows.sort_by(|a, b| a.measures.pins_per_cm2.total_cmp(&b.measures.pins_per_cm2)),
        SortBy::Moves => rows.sort_by(|a, b| a.measures.moves_per_cm2.total_cmp(&b.measures.moves_per_cm2)),
    }
}

#[cfg(test)]
mod tests {
    use lace::Grid;

    use super::super::work_out;
    use super::*;
    use crate::Catalogue;
    use crate::samples::Sample;

    #[test]
    fn lists_are_divided_and_put_in_order() {
        let catalogue = Catalogue::new([Sample::new("rose"), Sample::new("point")], Vec::new());
        let named = catalogue.varieties();
        let (listings, _) = work_out(&named, |about| Grid::new(4.0, about.angle), || {});
        let headings =
            |by| groups(by, &listings).into_iter().map(|g| (g.heading, g.rows.len())).collect::<Vec<_>>();
        assert_eq!(headings(Grouping::Lace), [("Torchon".to_owned(), 4)]);
        assert_eq!(headings(Grouping::Kind), [("Grounds".to_owned(), 4)]);
        assert_eq!(headings(Grouping::Family), [("Family rose".to_owned(), 4)]);
        let mut rows: Vec<&Listing> = listings.iter().collect();
        sort(SortBy::Moves, &mut rows);
        let names: Vec<String> = rows.iter().map(|listing| listing.chosen.name()).collect();
        assert_eq!(names, ["rose/plain", "point/plain", "rose/twisted", "point/twisted"]);
        sort(SortBy::Name, &mut rows);
        assert_eq!(rows[0].chosen.name(), "point/plain");
    }
}
