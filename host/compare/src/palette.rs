//! Palettes: the colours that the letters of an arrangement stand for.

mod file;

use std::collections::BTreeSet;
use std::str::FromStr;

use ::palette::{Srgb, named};
use lace::limits::MAX_COLOURS;
use lace::{Arrangement, ArrangementName};
use picture::colour::Rgb;
use picture::colour::backdrop::backdrop;
use picture::colour::vision::{Vision, confusions};
use picture::page::contact_sheet::NamedColour;

pub use file::{MOST_BYTES, NAME_CHARS, PaletteError, PaletteFault};

use crate::error::Error;
use crate::note::Note;

/// A colour with the name the user gave it.
#[derive(Clone, Debug, PartialEq)]
pub struct Colour {
    /// As written: a CSS name or `#rrggbb`; from a palette file any text on one
    /// line, without control characters.
    pub name: String,
    /// Red, green, blue.
    pub rgb: [u8; 3],
}

/// The colours of the letters A, B, C and so on, and of the cloth behind the lace.
#[derive(Clone, Debug, PartialEq)]
pub struct Palette {
    colours: Vec<Colour>,
    backdrop: Rgb,
}

/// The usual colours, which most people can tell apart.
const USUAL: [(&str, Rgb); 2] = [("indigo", Rgb::INDIGO), ("apricot", Rgb::APRICOT)];

impl Default for Palette {
    fn default() -> Palette {
        Palette::of(
            USUAL
                .iter()
                .map(|&(name, Rgb { r, g, b })| Colour { name: name.to_owned(), rgb: [r, g, b] })
                .collect(),
        )
    }
}

impl Palette {
    /// A palette of 1 to [`MAX_COLOURS`] colours, A first, on linen.
    pub fn of(colours: Vec<Colour>) -> Palette {
        Palette { colours, backdrop: Rgb::LINEN }
    }

    /// The same on a cloth on which all colours of these arrangements stand out,
    /// if there is one.
    pub fn behind<'a>(self, arrangements: impl IntoIterator<Item = &'a Arrangement>) -> Palette {
        let worn: BTreeSet<u8> =
            arrangements.into_iter().flat_map(|arrangement| arrangement.pairs()).flatten().copied().collect();
        let worn: Vec<Rgb> = worn.into_iter().map(|colour| self.rgb(colour).into()).collect();
        Palette { backdrop: backdrop(&worn), ..self }
    }

    /// The cloth behind the lace.
    pub fn backdrop(&self) -> Rgb {
        self.backdrop
    }

    /// The colours, A first.
    pub fn colours(&self) -> &[Colour] {
        &self.colours
    }

    /// The names of the colours, A first.
    pub fn names(&self) -> Vec<String> {
        self.colours.iter().map(|colour| colour.name.clone()).collect()
    }

    /// Red, green, blue of a colour number. Numbers past the end, which are
    /// refused when arrangements are read, give the last colour.
    pub fn rgb(&self, colour: u8) -> [u8; 3] {
        self.colours.get(colour as usize).or(self.colours.last()).map_or([0; 3], |c| c.rgb)
    }

    /// The colours of threads, given their colour numbers.
    pub fn of_threads(&self, threads: &[u8]) -> Vec<Rgb> {
        threads.iter().map(|&colour| self.rgb(colour).into()).collect()
    }

    /// Each colour with its name, A first.
    pub fn swatches(&self) -> Vec<NamedColour> {
        let swatch = |c: &Colour| NamedColour { colour: c.rgb.into(), name: c.name.clone() };
        self.colours.iter().map(swatch).collect()
    }

    /// The palette as seen with some colour vision; unchanged for `None`.
    pub fn seen_by(&self, vision: Option<Vision>) -> Palette {
        let Some(vision) = vision else { return self.clone() };
        let seen = |c: &Colour| {
            let Rgb { r, g, b } = vision.sees(c.rgb.into());
            Colour { name: c.name.clone(), rgb: [r, g, b] }
        };
        Palette { colours: self.colours.iter().map(seen).collect(), ..*self }
    }

    /// Notes about those of the first `used` colours that are hard to tell apart,
    /// or hard to see on a background; `None` for the cloth that suits them.
    pub fn notes(&self, background: Option<Rgb>, used: usize) -> Vec<Note> {
        let used = self.colours.iter().take(used);
        let (colours, names): (Vec<Rgb>, Vec<String>) =
            used.map(|c| (Rgb::from(c.rgb), c.name.clone())).unzip();
        let background = background.unwrap_or_else(|| backdrop(&colours));
        confusions(&colours, background).iter().map(|c| Note::Colours(c.sentence(&names))).collect()
    }

    /// Reads an arrangement of these colours: a name, such as `2-and-2`, or letters.
    ///
    /// # Errors
    /// A text that is not an arrangement, letters without a colour, and a name that
    /// takes other colours than these.
    pub fn arrangement(&self, text: &str) -> Result<Arrangement, Error> {
        let given = self.colours.len();
        if let Ok(name) = text.parse::<ArrangementName>() {
            return name.arrangement(given).ok_or(Error::NotInColours { name, given });
        }
        let arrangement: Arrangement = text.parse()?;
        if arrangement.colours() > given {
            return Err(Error::ColourMissing { arrangement, given });
        }
        Ok(arrangement)
    }
}

impl FromStr for Palette {
    type Err = Error;

    /// Reads colours separated by commas.
    fn from_str(text: &str) -> Result<Palette, Error> {
        let colours: Vec<Colour> =
            text.split(',').map(|name| name.trim().parse()).collect::<Result<_, _>>()?;
        if colours.len() > MAX_COLOURS {
            return Err(Error::TooManyColours(colours.len()));
        }
        Ok(Palette::of(colours))
    }
}

impl FromStr for Colour {
    type Err = Error;

    /// Reads a CSS colour name or `#rrggbb`.
    fn from_str(name: &str) -> Result<Colour, Error> {
        let rgb: Option<Srgb<u8>> = if name.starts_with('#') {
            name.parse().ok()
        } else {
            named::from_str(&name.to_ascii_lowercase())
        };
        let rgb = rgb.ok_or_else(|| Error::UnknownColour(name.to_owned()))?;
        Ok(Colour { name: name.to_owned(), rgb: [rgb.red, rgb.green, rgb.blue] })
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
            assert!(matches!(wrong.parse::<Palette>(), Err(Error::UnknownColour(_))), "{wrong}");
        }
        let many = vec!["navy"; MAX_COLOURS + 1].join(",");
        assert_eq!(many.parse::<Palette>(), Err(Error::TooManyColours(MAX_COLOURS + 1)));
    }

    #[test]
    fn arrangements_need_a_colour_for_each_letter() {
        let palette = Palette::default();
        assert_eq!(palette.arrangement("2A B").unwrap().to_string(), "A A B");
        let why = palette.arrangement("A B C").unwrap_err();
        assert_eq!(
            why.to_string(),
            "the arrangement `A B C` uses the letter C, but only 2 colours are given"
        );
        assert!(matches!(palette.arrangement("A ?"), Err(Error::Arrangement(_))));
        assert_eq!(palette.arrangement("2-and-2").unwrap().to_string(), "A A B B");
        assert_eq!(palette.arrangement("two and two").unwrap().to_string(), "A A B B");
        assert!(matches!(palette.arrangement("graded"), Err(Error::NotInColours { given: 2, .. })));
    }

    #[test]
    fn the_usual_colours_are_told_apart_by_everybody() {
        assert_eq!(Palette::default().notes(None, 2), []);
    }

    #[test]
    fn only_the_colours_in_use_are_warned_of() {
        let palette: Palette = "navy,orange,midnightblue,linen".parse().unwrap();
        let notes =
            |used| palette.notes(Some(Rgb::LINEN), used).iter().map(ToString::to_string).collect::<Vec<_>>();
        assert_eq!(notes(2), Vec::<String>::new());
        let [alike] = &notes(3)[..] else { panic!("{:?}", notes(3)) };
        assert!(alike.starts_with("navy and midnightblue look almost the same to everybody ("), "{alike}");
        let [_, faint] = &notes(9)[..] else { panic!("{:?}", notes(9)) };
        assert!(faint.starts_with("linen hardly stands out"), "{faint}");
        // Where the cloth is chosen to suit them, it does.
        assert_eq!(palette.notes(None, 9).len(), 1);
    }

    #[test]
    fn the_cloth_suits_the_colours_that_are_worn() {
        let palette: Palette = "navy,white".parse().unwrap();
        let behind = |text: &str| palette.clone().behind([&text.parse().unwrap()]).backdrop();
        assert_eq!([behind("A"), behind("A A B"), behind("A/B")], [Rgb::LINEN, Rgb::SLATE, Rgb::SLATE]);
        assert_eq!(palette.behind([]).seen_by(Some(Vision::Grey)).backdrop(), Rgb::LINEN);
    }

    #[test]
    fn a_palette_as_somebody_sees_it_keeps_its_names() {
        let palette: Palette = "red,teal".parse().unwrap();
        assert_eq!(palette.seen_by(None), palette);
        for vision in Vision::ALL {
            let seen = palette.seen_by(Some(vision));
            for (before, after) in palette.colours().iter().zip(seen.colours()) {
                assert_eq!(before.name, after.name);
                assert_eq!(Rgb::from(after.rgb), vision.sees(before.rgb.into()));
                assert_ne!(before.rgb, after.rgb, "{vision:?}");
            }
        }
    }
}
