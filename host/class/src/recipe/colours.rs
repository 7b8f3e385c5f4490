//! The colours of a recipe, and their arrangements.

use catalogue::suggest;
use catalogue::text::{clean_and_cut, is_visible};
use compare::error::Error;
use compare::palette::{Colour, NAME_CHARS, Palette};
use lace::limits::MAX_COLOURS;
use lace::{Arrangement, colour_letter};
use toml::{Spanned, Value};

use super::read::Reader;

/// The two ways to write colours.
const FORM: &str =
    "write colours = [\"navy\", \"#e07b39\"] or colours = [{ name = \"old rose\", rgb = \"#c08081\" }]";

impl Reader<'_> {
    pub(super) fn palette(&mut self, list: &Spanned<Vec<Spanned<Value>>>) -> Palette {
        let entries = list.get_ref();
        if entries.is_empty() {
            self.fault(list.span(), "there is no colour", FORM);
            return Palette::default();
        }
        if let Some(over) = entries.get(MAX_COLOURS) {
            let sentence =
                format!("there are {} colours; there are letters for {MAX_COLOURS}", entries.len());
            self.fault(over.span(), sentence, "leave out this colour and those after it");
        }
        // A faulty colour keeps its letter, so that arrangements using the letter
        // do not become faulty too.
        let unknown = || Colour { name: "unknown colour".to_owned(), rgb: [0; 3] };
        let mut colours: Vec<Colour> =
            entries.iter().take(MAX_COLOURS).filter_map(|entry| self.colour(entry)).collect();
        colours.resize_with(entries.len().min(MAX_COLOURS), unknown);
        Palette::of(colours)
    }

    fn colour(&mut self, entry: &Spanned<Value>) -> Option<Colour> {
        let text = |key: &str| entry.get_ref().get(key).and_then(Value::as_str);
        let (name, rgb) = match entry.get_ref() {
            Value::String(name) => (name.as_str(), name.as_str()),
            Value::Table(table) if table.len() == 2 => match (text("name"), text("rgb")) {
                (Some(name), Some(rgb)) => (name, rgb),
                _ => {
                    self.fault(entry.span(), "a colour has a name and rgb, both in quotes", FORM);
                    return None;
                }
            },
            _ => {
                self.fault(entry.span(), "this is not a colour", FORM);
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
            self.fault(entry.span(), "the colour has no name", FORM);
            return None;
        }
        Some(Colour { name, rgb: found.rgb })
    }

    pub(super) fn arrangement(&mut self, text: &Spanned<String>, palette: &Palette) -> Arrangement {
        let has = palette.colours().len();
        match palette.arrangement(text.get_ref()) {
            Ok(read) => return read,
            Err(Error::ColourMissing { arrangement, .. }) => {
                let wants = arrangement.colours();
                let given = if has == 1 {
                    "only one colour is".to_owned()
                } else {
                    format!("only {has} colours are")
                };
                self.fault(
                    text.span(),
                    format!(
                        "the arrangement uses the letter {}, but {given} given",
                        colour_letter(wants as u8 - 1)
                    ),
                    format!(
                        "give {wants} colours in `colours`, or use letters up to {}",
                        colour_letter(has as u8 - 1)
                    ),
                );
            }
            Err(why) => self.fault(
                text.span(),
                why.to_string(),
                "for example arrangement = \"A A B B\", arrangement = \"4A 4B\" or arrangement = \"2-and-2\"",
            ),
        }
        Arrangement::of_pairs(&[0])
    }
}
