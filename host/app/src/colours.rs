//! Palettes: the colours that the letters of an arrangement stand for.

use std::path::Path;
use std::str::FromStr;

use catalogue::text::{clean, clean_and_cut};
use lace::{Arrangement, ArrangementError};
use lace::{colour_letter, limits::MAX_COLOURS};
use palette::Srgb;
use picture::colour::Rgb;
use picture::colour::vision::{Vision, confusions};
use serde::Deserialize;
use toml::Spanned;

use crate::cli::SeenBy;
use crate::failure::Failure;
use crate::output::note;

/// Longest name of a colour, in characters; what is longer is cut.
pub const NAME_CHARS: usize = 40;

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
    name: Spanned<String>,
    rgb: Spanned<String>,
}

/// A colour with the name the user gave it.
#[derive(Clone, Debug, PartialEq)]
pub struct Colour {
    /// As written: a CSS name or `#rrggbb`; from a palette file any words, on
    /// one line, without control characters.
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
    /// A palette of some colours, A first: 1 to [`MAX_COLOURS`] of them.
    pub fn of(colours: Vec<Colour>) -> Palette {
        Palette(colours)
    }

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
            Some(list) => list.parse().map_err(|why| match Path::new(list).is_file() {
                true => Failure::Value {
                    what: format!("{list} is a file, but not named as a palette"),
                    help: "palette files end in .toml: rename it".to_owned(),
                },
                false => why,
            }),
        }
    }

    /// The palette in a file: `[[colour]]`, each with a `name` (any words) and
    /// `rgb`, a CSS colour name or `#rrggbb`; 1 to [`MAX_COLOURS`] of them.
    fn of_file(path: &Path) -> Result<Palette, Failure> {
        let bytes = std::fs::read(path).map_err(Failure::read(path))?;
        let wrong = |place: usize, what: &str, help: &str| {
            let line = 1 + bytes.iter().take(place).filter(|&&byte| byte == b'\n').count();
            Failure::Value { what: format!("{}, line {line}: {what}", path.display()), help: help.to_owned() }
        };
        let form = "write for each colour [[colour]], then name = \"old rose\" and rgb = \"#c08081\", \
                    each on a line of its own";
        let text = std::str::from_utf8(&bytes).map_err(|why| {
            wrong(why.valid_up_to(), "this is not text in UTF-8", "save the file again as plain text, UTF-8")
        })?;
        // What the reader of TOML says may repeat what stands in the file.
        let file: PaletteFile = toml::from_str(text)
            .map_err(|why| wrong(why.span().map_or(0, |span| span.start), &clean(why.message()), form))?;
        if file.colour.is_empty() {
            return Err(wrong(0, "there is no colour", form));
        }
        if let Some(over) = file.colour.get(MAX_COLOURS) {
            let what = format!("{} colours; there are letters for {MAX_COLOURS}", file.colour.len());
            return Err(wrong(over.span().start, &what, "leave out this colour and those after it"));
        }
        let colours = file.colour.iter().map(|entry| {
            let Dyed { name, rgb } = entry.get_ref();
            let cleaned = clean_and_cut(name.get_ref(), NAME_CHARS);
            if cleaned.is_empty() {
                return Err(wrong(
                    name.span().start,
                    "the colour has no name",
                    "write a name, for example name = \"old rose\"",
                ));
            }
            let found = parse_colour(rgb.get_ref().trim()).map_err(|_| {
                wrong(
                    rgb.span().start,
                    &format!("the colour `{}` is not known", clean_and_cut(rgb.get_ref(), NAME_CHARS)),
                    "write a CSS colour name or #rrggbb, for example rgb = \"#c08081\" or rgb = \"teal\"",
                )
            })?;
            Ok(Colour { name: cleaned, rgb: found.rgb })
        });
        Ok(Palette(colours.collect::<Result<_, _>>()?))
    }

    /// The palette as it is to be painted: as somebody sees it, if anybody is
    /// named.
    pub fn painted(&self, who: Option<SeenBy>) -> Palette {
        who.map_or_else(|| self.clone(), |who| self.seen_by(who.vision()))
    }

    /// The palette as somebody sees it.
    pub fn seen_by(&self, vision: Vision) -> Palette {
        let seen = |c: &Colour| {
            let Rgb { r, g, b } = vision.sees(c.rgb.into());
            Colour { name: c.name.clone(), rgb: [r, g, b] }
        };
        Palette(self.0.iter().map(seen).collect())
    }

    /// Says on standard error which of the first `used` colours are hardly told
    /// apart, or hardly stand out from a background.
    pub fn tell_confusions(&self, background: Rgb, used: usize) {
        for sentence in self.warnings(background, used) {
            note(&format!("{sentence}"));
        }
    }

    /// Which of the first `used` colours are hardly told apart, or hardly stand
    /// out from a background: a sentence for each, without a full stop.
    pub fn warnings(&self, background: Rgb, used: usize) -> Vec<String> {
        let used = self.0.iter().take(used);
        let (colours, names): (Vec<Rgb>, Vec<String>) =
            used.map(|c| (Rgb::from(c.rgb), c.name.clone())).unzip();
        confusions(&colours, background).iter().map(|c| c.sentence(&names)).collect()
    }

    /// Reads a colour order for which there are colours.
    pub fn order(&self, text: &str) -> Result<Arrangement, Failure> {
        let order: Arrangement = text.parse().map_err(|wrong: ArrangementError| Failure::Value {
            what: wrong.to_string(),
            help: "for example --arrangement \"A A B B\"".to_owned(),
        })?;
        self.covers(&order)?;
        Ok(order)
    }

    /// Refuses an arrangement that uses letters without a colour.
    fn covers(&self, arrangement: &Arrangement) -> Result<(), Failure> {
        let needed = arrangement.colours();
        if needed <= self.0.len() {
            return Ok(());
        }
        Err(Failure::Value {
            what: format!(
                "the arrangement `{arrangement}` uses the letter {}, but only {} colours are given",
                colour_letter(needed as u8 - 1),
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
            (
                "[[colour]]\nname = \"a\"\nrgb = \"red\"\n\n[[colour]]\nname = \"b\"\nrgb = 5\n",
                "line 7: invalid",
            ),
            ("[[colour]]\nname = \"a\"\n", "line 1: missing field `rgb`"),
            ("[[colour]]\nrgb = \"red\"\nname = \" \\u0007\"\n", "line 3: the colour has no name"),
            ("[[color]]\nname = \"a\"\nrgb = \"red\"\n", "line 1: unknown field `color`, expected `colour`"),
            ("\n[[colour]\n", "line 2"),
            ("[[colour]]\nname = éé\n", "line 2"),
            ("", "no colour"),
        ] {
            let said = read(text).unwrap_err().to_string();
            assert!(said.contains("threads.toml") && said.contains(words), "{said}");
        }
        let many = |n: usize| "[[colour]]\nname = \"a\"\nrgb = \"red\"\n".repeat(n);
        assert_eq!(read(&many(MAX_COLOURS)).unwrap().colours().len(), MAX_COLOURS);
        let said = read(&many(MAX_COLOURS + 2)).unwrap_err().to_string();
        assert!(said.contains(&format!("line {}: 28 colours", 3 * MAX_COLOURS + 1)), "{said}");
        std::fs::write(&path, b"[[colour]]\nname = \"caf\xe9\"\n").unwrap();
        let said = Palette::read(path.to_str()).unwrap_err().to_string();
        assert!(said.contains("line 2: this is not text in UTF-8"), "{said}");
        let other = folder.path().join("threads.txt");
        std::fs::copy(&path, &other).unwrap();
        let said = Palette::read(other.to_str()).unwrap_err().to_string();
        assert!(said.contains("threads.txt is a file, but not named as a palette"), "{said}");
        assert!(Palette::read(Some("no-such.toml")).unwrap_err().to_string().contains("no-such.toml"));
    }

    // Palette files are passed from hand to hand; editors write them in their
    // own ways.
    #[test]
    fn texts_of_palette_files_reach_the_terminal_clean() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("Threads.TOML");
        let read = |text: &str| {
            std::fs::write(&path, text).unwrap();
            Palette::read(path.to_str())
        };
        let names =
            read("\u{feff}[[colour]]\r\nname = \"\\u001b[31m old\\n rose\\u202e\"\r\nrgb = \" teal \"\r\n");
        assert_eq!(
            names.unwrap().colours()[0],
            Colour { name: "[31m old rose".to_owned(), rgb: [0, 128, 128] }
        );
        for text in [
            "[[colour]]\nname = \"a\"\n\"\\u001b[31mred\" = \"x\"\n",
            "[[colour]]\nname = \"a\"\nrgb = \"\\u001b[31m\"\n",
        ] {
            let said = read(text).unwrap_err().to_string();
            assert!(!said.contains(char::is_control) && said.contains("line 3"), "{said:?}");
        }
    }

    #[test]
    fn the_usual_colours_are_told_apart_by_everybody() {
        assert_eq!(Palette::default().warnings(Rgb::LINEN, 2), Vec::<String>::new());
    }

    #[test]
    fn only_the_colours_in_use_are_warned_of() {
        let palette: Palette = "navy,orange,midnightblue,linen".parse().unwrap();
        let said = |used| palette.warnings(Rgb::LINEN, used);
        assert_eq!(said(2), Vec::<String>::new());
        let [alike] = &said(3)[..] else { panic!("{:?}", said(3)) };
        assert!(alike.starts_with("navy and midnightblue look almost the same to everybody ("), "{alike}");
        let [_, faint] = &said(9)[..] else { panic!("{:?}", said(9)) };
        assert!(faint.starts_with("linen hardly stands out"), "{faint}");
    }

    #[test]
    fn a_palette_as_somebody_sees_it_keeps_its_names() {
        let palette: Palette = "red,teal".parse().unwrap();
        for vision in Vision::ALL {
            let seen = palette.seen_by(vision);
            for (before, after) in palette.colours().iter().zip(seen.colours()) {
                assert_eq!(before.name, after.name);
                assert_eq!(Rgb::from(after.rgb), vision.sees(before.rgb.into()));
                assert_ne!(before.rgb, after.rgb, "{vision:?}");
            }
        }
    }
}
