//! Looking up a ground by any of its names: its id, its title, its other names in
//! any language, and those of its varieties. Case, accents, spaces and hyphens
//! make no difference.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::fold::fold;
use crate::limits::TITLE_CHARS;
use crate::near::near_names;
use crate::text::clean_and_cut;
use crate::{About, Catalogue, Change, ChooseError, Chosen, Entry, GroundName, OtherName};

/// A ground that a name stands for.
#[derive(Clone, Debug)]
pub struct Meant {
    /// The contribution.
    pub entry: Arc<Entry>,
    /// The variety named; `None` for the usual variety, or all of them.
    pub variety: Option<String>,
}

impl Meant {
    /// The ground in this variety, or the usual one, with some choices changed.
    ///
    /// # Errors
    /// An unknown variety, choice or value, and choices that give no ground.
    pub fn choose(&self, changes: &[Change]) -> Result<Chosen, ChooseError> {
        self.entry.choose(self.variety.as_deref(), changes)
    }

    /// A contribution, with what stands after `/` as the name of a variety. One that
    /// it does not have is kept as it is, so that what looks it up can say what there
    /// is.
    ///
    /// # Errors
    /// A name that several of its varieties have.
    pub fn of_entry(entry: &Arc<Entry>, variety: Option<&str>) -> Result<Meant, ChooseError> {
        let about = entry.about();
        let id = match variety {
            None => None,
            Some(id) if about.varieties.contains_key(id) => Some(id.to_owned()),
            Some(name) => match varieties_called(about, &fold(name)).as_slice() {
                [] => Some(name.to_owned()),
                [id] => Some((*id).to_owned()),
                several => {
                    let names = several.iter().map(|id| GroundName::of_variety(&about.id, id));
                    return Err(ambiguous(name, names));
                }
            },
        };
        Ok(Meant { entry: entry.clone(), variety: id })
    }

    fn name(&self) -> GroundName {
        GroundName { ground: self.entry.about().id.clone(), variety: self.variety.clone() }
    }
}

impl Catalogue {
    /// The ground or variety that a name stands for: `NAME`, or `GROUND/VARIETY`. An
    /// id comes before every other name, the title of a ground before other names of
    /// others, and a ground before its own varieties.
    ///
    /// # Errors
    /// [`ChooseError::UnknownGround`] if nothing is called so, and
    /// [`ChooseError::Ambiguous`] if several grounds are.
    pub fn meant(&self, name: &str) -> Result<Meant, ChooseError> {
        if let Some(one) = only(name, self.called(name))? {
            return Ok(one);
        }
        let GroundName { ground, variety } = GroundName::from(name);
        let mut grounds = self.called(&ground);
        grounds.retain(|meant| meant.variety.is_none());
        match (only(&ground, grounds)?, variety) {
            (Some(Meant { entry, .. }), Some(variety)) => Meant::of_entry(&entry, Some(&variety)),
            _ => Err(self.unknown(&ground)),
        }
    }

    /// Everything with this name.
    fn called(&self, name: &str) -> Vec<Meant> {
        let ground = |entry: &Arc<Entry>| Meant { entry: entry.clone(), variety: None };
        if let Some(entry) = self.get(name) {
            return vec![ground(entry)];
        }
        let folded = fold(name);
        if folded.is_empty() {
            return Vec::new();
        }
        let by_id = self.entries().iter().filter(|entry| fold(&entry.about().id) == folded);
        let by_id: Vec<Meant> = by_id.map(ground).collect();
        if !by_id.is_empty() {
            return by_id;
        }
        let by_title = self.entries().iter().filter(|entry| fold(&entry.about().title) == folded);
        let by_title: Vec<Meant> = by_title.map(ground).collect();
        if !by_title.is_empty() {
            return by_title;
        }
        let of_entry = |entry: &Arc<Entry>| -> Vec<Meant> {
            let about = entry.about();
            if is_one_of(&folded, &about.other_names) {
                return vec![ground(entry)];
            }
            let variety = |id: &str| Meant { entry: entry.clone(), variety: Some(id.to_owned()) };
            varieties_called(about, &folded).into_iter().map(variety).collect()
        };
        self.entries().iter().flat_map(of_entry).collect()
    }

    /// No ground has this name. The ids near to it are suggested, or else other names.
    fn unknown(&self, name: &str) -> ChooseError {
        let all = || self.entries().iter().map(|entry| entry.about());
        let mut near = near_names(name, all().map(|about| about.id.as_str()));
        if near.is_empty() {
            let names: BTreeSet<&str> = all().flat_map(names).collect();
            near = near_names(name, names);
        }
        ChooseError::UnknownGround {
            id: clean_and_cut(name, TITLE_CHARS),
            near: near.into_iter().map(str::to_owned).collect(),
            left_out: self.left_out().to_vec(),
        }
    }
}

/// Every name that can be typed for a ground or one of its varieties, except ids.
fn names(about: &About) -> impl Iterator<Item = &str> {
    let varieties = about.varieties.values();
    let of_varieties = varieties
        .flat_map(|variety| std::iter::once(variety.title.as_str()).chain(others(&variety.other_names)));
    std::iter::once(about.title.as_str()).chain(others(&about.other_names)).chain(of_varieties)
}

fn others(names: &[OtherName]) -> impl Iterator<Item = &str> {
    names.iter().map(|other| other.name.as_str())
}

fn is_one_of(folded: &str, names: &[OtherName]) -> bool {
    others(names).any(|name| fold(name) == folded)
}

/// The ids of the varieties with this folded name: by their ids, or else by their
/// other names.
fn varieties_called<'a>(about: &'a About, folded: &str) -> Vec<&'a str> {
    if folded.is_empty() {
        return Vec::new();
    }
    let ids = |is: &dyn Fn(&str) -> bool| -> Vec<&'a str> {
        about.varieties.keys().map(String::as_str).filter(|id| is(id)).collect()
    };
    let by_id = ids(&|id| fold(id) == folded);
    if !by_id.is_empty() {
        return by_id;
    }
    ids(&|id| {
        let variety = &about.varieties[id];
        fold(&variety.title) == folded || is_one_of(folded, &variety.other_names)
    })
}

/// The only one of several, if there are any.
fn only(name: &str, mut all: Vec<Meant>) -> Result<Option<Meant>, ChooseError> {
    match all.len() {
        0 | 1 => Ok(all.pop()),
        _ => Err(ambiguous(name, all.iter().map(Meant::name))),
    }
}

fn ambiguous(name: &str, names: impl Iterator<Item = GroundName>) -> ChooseError {
    ChooseError::Ambiguous {
        name: clean_and_cut(name, TITLE_CHARS),
        candidates: names.map(|name| name.to_string()).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::Sample;

    fn found(catalogue: &Catalogue, name: &str) -> String {
        match catalogue.meant(name) {
            Ok(meant) => meant.name().to_string(),
            Err(ChooseError::Ambiguous { candidates, .. }) => candidates.join(" or "),
            Err(why) => why.to_string(),
        }
    }

    #[test]
    fn any_name_that_means_one_thing_is_a_name() {
        let catalogue = Catalogue::new(
            [
                Sample::new("rose").also_called("Rosengrund"),
                Sample::new("point").titled("Point ground").also_called("Tüllgrund"),
            ],
            Vec::new(),
        );
        for (name, meant) in [
            ("rose", "rose"),
            ("ROSE", "rose"),
            ("Rose ground", "rose"),
            ("rosengrund", "rose"),
            ("TULLGRUND", "point"),
            ("rose/twisted", "rose/twisted"),
            ("Rosengrund/TWISTED", "rose/twisted"),
            ("rose/Twisted rose", "rose/twisted"),
            ("point-ground / twisted", "point/twisted"),
            // Both have such a variety.
            ("twisted", "rose/twisted or point/twisted"),
            ("Twisted rose", "rose/twisted or point/twisted"),
            // What is not there is refused by what looks the variety up.
            ("rose/never", "rose/never"),
            ("roze", "the ground `roze` is not known"),
            ("roze/plain", "the ground `roze` is not known"),
            ("", "the ground `` is not known"),
            (" - ", "the ground `-` is not known"),
        ] {
            assert_eq!(found(&catalogue, name), meant, "{name}");
        }
    }

    #[test]
    fn a_title_comes_before_the_other_names_of_others() {
        let catalogue = Catalogue::new(
            [
                Sample::new("rose").titled("Rose ground").also_called("Rosengrund"),
                Sample::new("honeycomb").titled("Honeycomb").also_called("Rose ground"),
                Sample::new("old").titled("Old ground").also_called("Rosen grund"),
            ],
            Vec::new(),
        );
        for (name, meant) in [
            ("Rose ground", "rose"),
            ("rose-ground/twisted", "rose/twisted"),
            // No title: both have it as another name.
            ("Rosengrund", "rose or old"),
        ] {
            assert_eq!(found(&catalogue, name), meant, "{name}");
        }
    }

    #[test]
    fn an_id_comes_first_and_other_names_are_suggested_if_no_id_is_near() {
        let catalogue = Catalogue::new(
            [
                Sample::new("rose"),
                Sample::new("point").also_called("Rose"),
                Sample::new("net").also_called("Tüll"),
            ],
            Vec::new(),
        );
        assert_eq!(found(&catalogue, "Rose"), "rose");
        let near = |name: &str| match catalogue.meant(name) {
            Err(ChooseError::UnknownGround { near, .. }) => near,
            other => panic!("{name}: {other:?}"),
        };
        assert_eq!(near("roze"), ["rose"]);
        assert_eq!(near("twisted rsoe")[0], "Twisted rose");
    }
}
