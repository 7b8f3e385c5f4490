//! The colours of the pairs.

use catalogue::suggest;
use catalogue::text::{clean_and_cut, is_visible};
use compare::palette::{Colour, NAME_CHARS, Palette};
use lace::limits::MAX_COLOURS;
use lace::quote;
use toml::de::DeValue;

use super::Reader;
use super::value::{Fields, Value};
use crate::colours::{Hung, Whose};
use crate::names::pair_name;

/// The ways to write colours.
const FORM: &str = "all = \"navy\", start = [\"navy\", \"white\"] for a pair with one bobbin of either, or \
                    { name = \"old rose\", rgb = \"#c08081\" } for a colour of your own";

impl Reader<'_> {
    /// The colours that are named, and where they hang. Where nothing is said, the first
    /// of the usual colours hangs.
    pub(super) fn colours(&mut self, fields: &mut Fields<'_>) -> (Palette, Vec<Hung>) {
        let mut named: Vec<Colour> = Vec::new();
        let mut hung: Vec<Hung> = Vec::new();
        let entries = match fields.get("colours") {
            None => None,
            Some(value) if value.get_ref().is_table() => value.get_ref().as_table(),
            Some(value) => {
                self.fault(
                    value.span(),
                    "colours are a part of their own",
                    "begin it with [colours], then all = \"navy\"",
                );
                None
            }
        };
        let mut entries: Vec<_> = entries.into_iter().flatten().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        for (key, value) in entries {
            let name = key.get_ref().trim();
            let place = Whose::PLACES
                .iter()
                .find(|(place, _)| place.eq_ignore_ascii_case(name))
                .map(|(_, whose)| *whose);
            let Some(whose) = place.or_else(|| pair_name(name).map(Whose::Pair)) else {
                let places = Whose::PLACES.iter().map(|(place, _)| *place);
                let other = "write all, start, top, left, right, passive or edge, or a pair such as \"left 3\", \"start right\", \"edge left\" or \"passive left 1\"";
                let sentence = format!("`{}` is no pair and no place", quote(name));
                self.fault(key.span(), sentence, suggest(name, places, other));
                continue;
            };
            if hung.iter().any(|other| other.whose == whose) {
                self.fault(key.span(), format!("`{}` is given twice", quote(name)), "leave one of them out");
                continue;
            }
            let Some(colours) = self.hung_colours(value, &mut named) else { continue };
            hung.push(Hung { whose, colours });
            self.places.hung.push(key.span());
        }
        // Pairs of which nothing is said hang in the usual colour.
        if hung.iter().all(|hung| hung.whose != Whose::All) {
            let usual = Palette::default().colours()[0].clone();
            let position = position(&mut named, usual);
            hung.push(Hung { whose: Whose::All, colours: [position; 2] });
            self.places.hung.push(0..0);
        }
        if named.len() > MAX_COLOURS
            && let Some(at) = fields.get("colours").map(toml::Spanned::span)
        {
            let sentence =
                format!("there are {} different colours; a piece has room for {MAX_COLOURS}", named.len());
            self.fault(at, sentence, "use some of them for several pairs");
            named.truncate(MAX_COLOURS);
        }
        (Palette::of(named), hung)
    }

    /// One colour for both threads, or two.
    fn hung_colours(&mut self, value: &Value<'_>, named: &mut Vec<Colour>) -> Option<[usize; 2]> {
        if value.get_ref().is_array() {
            let two = self.list(value, 2, "two colours are", FORM)?;
            let [left, right] = two else { return None };
            let [left, right] = [left, right].map(|one| self.colour(one, named));
            return Some([left?, right?]);
        }
        self.colour(value, named).map(|colour| [colour; 2])
    }

    fn colour(&mut self, entry: &Value<'_>, named: &mut Vec<Colour>) -> Option<usize> {
        let text = |key: &str| entry.get_ref().get(key).and_then(|value| value.get_ref().as_str());
        let (name, rgb) = match entry.get_ref() {
            DeValue::String(name) => (name.as_ref(), name.as_ref()),
            DeValue::Table(table) => match (text("name"), text("rgb")) {
                (Some(name), Some(rgb)) if table.len() == 2 => (name, rgb),
                _ => {
                    self.fault(
                        entry.span(),
                        "a colour has a name and rgb, both in quotes",
                        format!("write {FORM}"),
                    );
                    return None;
                }
            },
            _ => {
                self.fault(entry.span(), "this is not a colour", format!("write {FORM}"));
                return None;
            }
        };
        let name = clean_and_cut(name, NAME_CHARS);
        let Ok(found) = rgb.trim().parse::<Colour>() else {
            let sentence = format!("the colour `{}` is not known", clean_and_cut(rgb, NAME_CHARS));
            let remedy = suggest(rgb, palette::named::names(), "give a CSS colour name or #rrggbb");
            self.fault(entry.span(), sentence, remedy);
            return None;
        };
        if !is_visible(&name) {
            self.fault(entry.span(), "the colour has no name", format!("write {FORM}"));
            return None;
        }
        Some(position(named, Colour { name, rgb: found.rgb }))
    }
}

/// The position of a colour among those named, at the end if it is new.
fn position(named: &mut Vec<Colour>, colour: Colour) -> usize {
    named.iter().position(|known| *known == colour).unwrap_or_else(|| {
        named.push(colour);
        named.len() - 1
    })
}
