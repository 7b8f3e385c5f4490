//! Palettes as text: `[[colour]]` tables in TOML, each with a `name` (any
//! words) and `rgb`, a CSS colour name or `#rrggbb`.

use catalogue::limits::SENTENCE_CHARS;
use catalogue::text::{clean_and_cut, is_visible};
use catalogue::written::{Form, Mistake, mistake};
use lace::limits::MAX_COLOURS;
use serde::Deserialize;
use thiserror::Error;
use toml::Spanned;

use super::{Colour, Palette};

/// Longest name of a colour, in characters; longer names are cut.
pub const NAME_CHARS: usize = 40;

/// Largest palette, in bytes.
pub const MOST_BYTES: u64 = 1 << 16;

/// What is wrong with a palette, and in which line.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("line {line}: {fault}")]
pub struct PaletteError {
    /// The line, counted from 1.
    pub line: usize,
    /// What is wrong there.
    pub fault: PaletteFault,
}

/// What is wrong with a palette.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PaletteFault {
    /// Bytes that are not text.
    #[error("this is not text in UTF-8")]
    NotText,
    /// Not TOML, or not the tables of a palette.
    #[error("{sentence}")]
    Form {
        /// What is wrong.
        sentence: String,
        /// What to do.
        remedy: String,
    },
    /// No colour at all.
    #[error("there is no colour")]
    Empty,
    /// More colours than there are letters.
    #[error("{0} colours; there are letters for {MAX_COLOURS}")]
    TooMany(usize),
    /// A colour without a name.
    #[error("the colour has no name")]
    NoName,
    /// Neither a CSS colour name nor `#rrggbb`.
    #[error("the colour `{0}` is not known")]
    UnknownColour(String),
}

impl PaletteFault {
    /// What to do.
    pub fn remedy(&self) -> &str {
        match self {
            PaletteFault::NotText => "save the file again as plain text, UTF-8",
            PaletteFault::Form { remedy, .. } => remedy,
            PaletteFault::Empty => {
                "write for each colour [[colour]], then name = \"old rose\" and rgb = \"#c08081\", \
                 each on a line of its own"
            }
            PaletteFault::TooMany(_) => "leave out this colour and those after it",
            PaletteFault::NoName => "write a name, for example name = \"old rose\"",
            PaletteFault::UnknownColour(_) => {
                "write a CSS colour name or #rrggbb, for example rgb = \"#c08081\" or rgb = \"teal\""
            }
        }
    }
}

/// What a palette looks like.
const FORM: Form<'_> = Form {
    what: "a palette",
    several: &["colour"],
    once: &[],
    examples: &[("name", "name = \"old rose\""), ("rgb", "rgb = \"#c08081\"")],
    more: "README.md",
};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    colour: Vec<Spanned<Entry>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    name: Spanned<String>,
    rgb: Spanned<String>,
}

impl Palette {
    /// Reads a palette in TOML: 1 to [`MAX_COLOURS`] colours.
    ///
    /// # Errors
    /// The first fault, with its line.
    pub fn from_toml(bytes: &[u8]) -> Result<Palette, PaletteError> {
        let wrong = |place: usize, fault: PaletteFault| {
            let line = 1 + bytes.iter().take(place).filter(|&&byte| byte == b'\n').count();
            PaletteError { line, fault }
        };
        let text =
            std::str::from_utf8(bytes).map_err(|why| wrong(why.valid_up_to(), PaletteFault::NotText))?;
        let file: File = toml::from_str(text).map_err(|why| {
            let Mistake { at, sentence, remedy } = mistake(text, why.message(), why.span(), &FORM);
            let sentence = clean_and_cut(&sentence, SENTENCE_CHARS);
            wrong(at.start, PaletteFault::Form { sentence, remedy: clean_and_cut(&remedy, SENTENCE_CHARS) })
        })?;
        if file.colour.is_empty() {
            return Err(wrong(0, PaletteFault::Empty));
        }
        if let Some(over) = file.colour.get(MAX_COLOURS) {
            return Err(wrong(over.span().start, PaletteFault::TooMany(file.colour.len())));
        }
        let colour = |entry: &Spanned<Entry>| {
            let Entry { name, rgb } = entry.get_ref();
            let cleaned = clean_and_cut(name.get_ref(), NAME_CHARS);
            if !is_visible(&cleaned) {
                return Err(wrong(name.span().start, PaletteFault::NoName));
            }
            let found: Colour = rgb.get_ref().trim().parse().map_err(|_| {
                let unknown = clean_and_cut(rgb.get_ref(), NAME_CHARS);
                wrong(rgb.span().start, PaletteFault::UnknownColour(unknown))
            })?;
            Ok(Colour { name: cleaned, rgb: found.rgb })
        };
        Ok(Palette::of(file.colour.iter().map(colour).collect::<Result<_, _>>()?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wrong(text: &[u8]) -> String {
        Palette::from_toml(text).unwrap_err().to_string()
    }

    #[test]
    fn palettes_are_read_and_faults_named_by_line() {
        let good = Palette::from_toml(
            b"[[colour]]\nname = \"old rose\"\nrgb = \"#c08081\"\n\n[[colour]]\nname = \"sea\"\nrgb = \"teal\"\n",
        );
        let colours: Vec<(String, [u8; 3])> =
            good.unwrap().colours().iter().map(|c| (c.name.clone(), c.rgb)).collect();
        assert_eq!(colours, [("old rose".to_owned(), [192, 128, 129]), ("sea".to_owned(), [0, 128, 128])]);
        for (text, words) in [
            ("[[colour]]\nname = \"a\"\nrgb = \"bluish\"\n", "line 3: the colour `bluish`"),
            (
                "[[colour]]\nname = \"a\"\nrgb = \"red\"\n\n[[colour]]\nname = \"b\"\nrgb = 5\n",
                "line 7: here stands a number, and text is needed",
            ),
            ("[[colour]]\nname = \"a\"\n", "line 1: `rgb` is missing here"),
            ("[[colour]]\nrgb = \"red\"\nname = \" \\u0007\"\n", "line 3: the colour has no name"),
            ("[[colour]]\nrgb = \"red\"\nname = \"\u{3164}\"\n", "line 3: the colour has no name"),
            ("[[color]]\nname = \"a\"\nrgb = \"red\"\n", "line 1: `color` means nothing here"),
            ("\n[[colour]\n", "line 2"),
            ("[[colour]]\nname = éé\n", "line 2"),
            ("", "no colour"),
        ] {
            let wrong = wrong(text.as_bytes());
            assert!(wrong.contains(words), "{wrong}");
        }
        let many = |n: usize| "[[colour]]\nname = \"a\"\nrgb = \"red\"\n".repeat(n);
        let most = Palette::from_toml(many(MAX_COLOURS).as_bytes()).unwrap();
        assert_eq!(most.colours().len(), MAX_COLOURS);
        let over = Palette::from_toml(many(MAX_COLOURS + 2).as_bytes()).unwrap_err();
        assert_eq!((over.line, over.fault), (3 * MAX_COLOURS + 1, PaletteFault::TooMany(28)));
        assert_eq!(wrong(b"[[colour]]\nname = \"caf\xe9\"\n"), "line 2: this is not text in UTF-8");
    }

    // Palette files are passed around and saved by different editors.
    #[test]
    fn texts_of_palettes_come_out_clean() {
        let names = Palette::from_toml(
            "\u{feff}[[colour]]\r\nname = \"\\u001b[31m old\\n rose\\u202e\"\r\nrgb = \" teal \"\r\n"
                .as_bytes(),
        );
        assert_eq!(
            names.unwrap().colours()[0],
            Colour { name: "[31m old rose".to_owned(), rgb: [0, 128, 128] }
        );
        for text in [
            "[[colour]]\nname = \"a\"\n\"\\u001b[31mred\" = \"x\"\n",
            "[[colour]]\nname = \"a\"\nrgb = \"\\u001b[31m\"\n",
        ] {
            let wrong = wrong(text.as_bytes());
            assert!(!wrong.contains(char::is_control) && wrong.contains("line 3"), "{wrong:?}");
        }
    }
}
