//! Palettes: the colours that the letters of an arrangement stand for.

use std::path::Path;
use std::str::FromStr;

use lace::arrangement::{MAX_COLOURS, letter};
use palette::Srgb;
use picture::colour::Rgb;
use picture::vision::{Vision, confusions};
use serde::Deserialize;
use toml::Spanned;

use crate::failure::Failure;
use crate::output::tell;

/// A palette file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PaletteFile {
    #[serde(default)]
    colour: Vec<Spanned<Dyed>>,
}

/// A colour in a palette file.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Dyed {
    name: String,
    rgb: Spanned<String>,
}

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

    /// The palette the user names: colours separated by commas, or a file of
    /// them, whose name ends in `.toml`; the usual colours without any.
    pub fn read(colours: Option<&str>) -> Result<Palette, Failure> {
        match colours {
            None => Ok(Palette::default()),
            Some(name) if name.to_ascii_lowercase().ends_with(".toml") => Palette::of_file(Path::new(name)),
            Some(list) => list.parse(),
        }
    }

    /// The palette in a file: `[[colour]]`, each with a `name` and `rgb`, a CSS
    /// colour name or `#rrggbb`.
    fn of_file(path: &Path) -> Result<Palette, Failure> {
        let text = std::fs::read_to_string(path).map_err(Failure::read(path))?;
        let at = |place: usize| text[..place.min(text.len())].matches('\n').count() + 1;
        let wrong = |line: usize, what: &str| Failure::Value {
            what: format!("{}, line {line}: {what}", path.display()),
            help: "write for each colour [[colour]], then name = \"teal\" and rgb = \"#007c80\"".to_owned(),
        };
        let file: PaletteFile = toml::from_str(&text)
            .map_err(|why| wrong(why.span().map_or(1, |span| at(span.start)), why.message().trim()))?;
        let colours = file
            .colour
            .iter()
            .map(|entry| {
                let Dyed { name, rgb } = entry.get_ref();
                let (line, rgb) = (at(rgb.span().start), rgb.get_ref());
                let found = parse_colour(rgb)
                    .map_err(|_| wrong(line, &format!("the colour `{}` is not known", rgb.escape_debug())))?;
                let name: String = name.chars().filter(|c| !c.is_control()).take(40).collect();
                Ok(Colour { name, rgb: found.rgb })
            })
            .collect::<Result<Vec<Colour>, Failure>>()?;
        match colours.len() {
            0 => Err(wrong(1, "there is no colour")),
            n if n > MAX_COLOURS => {
                Err(wrong(1, &format!("{n} colours; there are letters for {MAX_COLOURS}")))
            }
            _ => Ok(Palette(colours)),
        }
    }

    /// The palette as somebody sees it.
    pub fn seen_by(&self, vision: Vision) -> Palette {
        let seen = |c: &Colour| {
            let Rgb { r, g, b } = vision.sees(c.rgb.into());
            Colour { name: c.name.clone(), rgb: [r, g, b] }
        };
        Palette(self.0.iter().map(seen).collect())
    }

    /// Says on standard error which colours are hardly told apart, or hardly
    /// stand out from a background.
    pub fn tell_confusions(&self, background: Rgb) {
        for sentence in self.confusions(background) {
            tell(&format!("note: {sentence}"));
        }
    }

    fn confusions(&self, background: Rgb) -> Vec<String> {
        let colours: Vec<Rgb> = self.0.iter().map(|c| c.rgb.into()).collect();
        let names: Vec<String> = self.0.iter().map(|c| c.name.clone()).collect();
        confusions(&colours, background).iter().map(|c| c.sentence(&names)).collect()
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

    #[test]
    fn palettes_are_read_from_files_and_faults_named_by_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("threads.toml");
        let read = |text: &str| {
            std::fs::write(&path, text).unwrap();
            Palette::read(path.to_str())
        };
        let good = read(
            "[[colour]]\nname = \"old rose\"\nrgb = \"#c08081\"\n\n[[colour]]\nname = \"sea\"\nrgb = \"teal\"\n",
        );
        let colours: Vec<(String, [u8; 3])> =
            good.unwrap().colours().iter().map(|c| (c.name.clone(), c.rgb)).collect();
        assert_eq!(colours, [("old rose".to_owned(), [192, 128, 129]), ("sea".to_owned(), [0, 128, 128])]);
        for (text, words) in [
            ("[[colour]]\nname = \"a\"\nrgb = \"bluish\"\n", "line 3: the colour `bluish`"),
            ("[[colour]]\nname = \"a\"\n", "line 1: missing field `rgb`"),
            ("\n[[colour]\n", "line 2"),
            ("", "no colour"),
        ] {
            let said = read(text).unwrap_err().to_string();
            assert!(said.contains("threads.toml") && said.contains(words), "{said}");
        }
        assert!(Palette::read(Some("no-such.toml")).unwrap_err().to_string().contains("no-such.toml"));
    }

    #[test]
    fn the_usual_colours_are_told_apart_by_everybody() {
        assert_eq!(Palette::default().confusions(Rgb::LINEN), Vec::<String>::new());
        let alike: Palette = "navy,midnightblue".parse().unwrap();
        assert_eq!(alike.confusions(Rgb::LINEN).len(), 1);
    }
}
