//! Palettes: the colours that the letters of an arrangement stand for.

use std::str::FromStr;

use lace::arrangement::{MAX_COLOURS, letter};
use palette::Srgb;

use crate::failure::Failure;

/// A colour with the name the user gave it.
#[derive(Clone, Debug, PartialEq)]
pub struct Colour {
    /// As written: a CSS name or `#rrggbb`.
    pub name: String,
    /// Red, green, blue.
    pub rgb: [u8; 3],
}

/// The colours of the letters A, B, C and so on.
#[derive(Clone, Debug, PartialEq)]
pub struct Palette(Vec<Colour>);

/// Two colours that most people tell apart, also when printed grey or seen
/// with weak red or green: dark blue and a light red earth.
const USUAL: [(&str, [u8; 3]); 2] = [("indigo", [0x1f, 0x3f, 0x77]), ("apricot", [0xe0, 0x7b, 0x39])];

impl Default for Palette {
    fn default() -> Palette {
        Palette(USUAL.iter().map(|&(name, rgb)| Colour { name: name.to_owned(), rgb }).collect())
    }
}

impl Palette {
    /// The colours, A first.
    pub fn colours(&self) -> &[Colour] {
        &self.0
    }

    /// Red, green, blue of a colour number; the last colour stands in for
    /// numbers past the end, which commands refuse beforehand.
    pub fn rgb(&self, colour: u8) -> [u8; 3] {
        self.0.get(colour as usize).or(self.0.last()).map_or([0; 3], |c| c.rgb)
    }

    /// Refuses an arrangement that uses letters without a colour.
    pub fn covers(&self, arrangement: &lace::Arrangement) -> Result<(), Failure> {
        let needed = arrangement.colours();
        if needed <= self.0.len() {
            return Ok(());
        }
        Err(Failure::Value {
            what: format!(
                "the arrangement `{arrangement}` uses the letter {}, but only {} colours are given",
                letter(needed as u8 - 1),
                self.0.len()
            ),
            help: format!("give {needed} colours, for example --colours navy,orange,teal"),
        })
    }
}

impl FromStr for Palette {
    type Err = Failure;

    fn from_str(text: &str) -> Result<Palette, Failure> {
        let colours: Vec<Colour> =
            text.split(',').map(|name| parse_colour(name.trim())).collect::<Result<_, _>>()?;
        if colours.len() > MAX_COLOURS {
            return Err(Failure::Value {
                what: format!("{} colours are given", colours.len()),
                help: format!("there are letters for {MAX_COLOURS} colours at most"),
            });
        }
        Ok(Palette(colours))
    }
}

/// Reads a CSS colour name or `#rrggbb`.
pub fn parse_colour(name: &str) -> Result<Colour, Failure> {
    let rgb: Option<Srgb<u8>> = if name.starts_with('#') {
        name.parse().ok()
    } else {
        palette::named::from_str(&name.to_ascii_lowercase())
    };
    match rgb {
        Some(c) => Ok(Colour { name: name.to_owned(), rgb: [c.red, c.green, c.blue] }),
        None => Err(Failure::Unknown {
            what: "the colour",
            name: name.to_owned(),
            help: "give CSS colour names or #rrggbb, separated by commas: --colours navy,#e07b39".to_owned(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_numbers_are_colours() {
        let palette: Palette = "navy, #E07B39,RebeccaPurple".parse().unwrap();
        let rgb: Vec<[u8; 3]> = palette.colours().iter().map(|c| c.rgb).collect();
        assert_eq!(rgb, [[0, 0, 128], [0xe0, 0x7b, 0x39], [102, 51, 153]]);
        for wrong in ["navi", "#12345", "", "navy,,red"] {
            assert!(wrong.parse::<Palette>().is_err(), "{wrong}");
        }
    }
}
