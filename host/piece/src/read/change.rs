//! Changed stitches.

use catalogue::near::{listed, suggest};
use lace::{Change, Side, quote};

use super::Reader;
use super::area::GROUND;
use super::value::Fields;
use crate::design::DesignArea;

/// Most changes.
const MOST_CHANGES: usize = 2000;
const EDGES: [(&str, &[Side]); 3] =
    [("left", &[Side::Left]), ("right", &[Side::Right]), ("both", &[Side::Left, Side::Right])];

impl Reader<'_> {
    pub(super) fn changes(&mut self, fields: &mut Fields<'_>, areas: &[DesignArea]) -> Vec<Change> {
        let mut changes = Vec::new();
        for mut part in self.parts(fields, "stitch", MOST_CHANGES) {
            let place = part.get("at");
            let at = place.and_then(|value| self.place(value));
            let mut row = |reader: &mut Self, key: &'static str, example: &str| {
                part.get(key).map(|value| (reader.row(value, example), value.span()))
            };
            let from = row(self, "from", "from = 4");
            let to = row(self, "to", "to = 12");
            let bounds = (from.as_ref().and_then(|from| from.0), to.as_ref().and_then(|to| to.0));
            if let ((Some(first), Some(last)), Some((_, at))) = (bounds, &to)
                && first > last
            {
                let sentence = "the last row lies above the first";
                self.fault(at.clone(), sentence, format!("write from = {last} and to = {first}"));
            }
            let area = part.get("area");
            let within = area.and_then(|value| self.area_meant(value, areas));
            let edge = part.get("edge");
            let edges = edge.and_then(|value| self.one_of(value, &EDGES, "edge = \"left\""));
            let worked = part.get("instead-of");
            let instead = worked.and_then(|value| self.stitch(value, "instead-of = \"CT pin CT\""));
            let work = match part.get("work") {
                None => {
                    self.missing(&part, "work", "the new stitch, for example work = \"CTCT pin CTCT\"");
                    None
                }
                Some(value) => self.stitch(value, "work = \"CTCT pin CTCT\""),
            };
            self.leave(&part);
            let says_which =
                [place, area, edge, worked].iter().any(Option::is_some) || from.is_some() || to.is_some();
            if !says_which {
                let sentence = "nothing says which stitches are changed";
                let remedy = "add at = [0, 5], from = 4 and to = 12, area = \"roses\", edge = \"left\" or instead-of = \"CT pin CT\"";
                self.fault(part.at.clone(), sentence, remedy);
            }
            let Some(stitch) = work else { continue };
            let shown = place.map_or_else(|| part.at.clone(), toml::Spanned::span);
            self.places.changes.push(shown);
            changes.push(Change {
                at,
                from: bounds.0,
                to: bounds.1,
                area: within,
                edges: edges.unwrap_or_default().to_vec(),
                worked: instead,
                stitch,
            });
        }
        changes
    }

    fn area_meant(&mut self, value: &super::value::Value<'_>, areas: &[DesignArea]) -> Option<Option<usize>> {
        let name = self.words(value, "area = \"roses\"")?;
        if name == GROUND {
            return Some(None);
        }
        if let Some(k) = areas.iter().position(|area| area.name == name) {
            return Some(Some(k));
        }
        // An area with a fault of its own is there all the same.
        if !self.area_names.iter().any(|known| known == name) {
            let mut known: Vec<&str> = self.area_names.iter().map(String::as_str).collect();
            known.push(GROUND);
            let all = format!("there are {}", listed(&known));
            let remedy = suggest(name, known.iter().copied(), &all);
            self.fault(value.span(), format!("no area is called `{}`", quote(name)), remedy);
        }
        None
    }
}
