//! Colours, their arrangement, and the colour vision they are painted for.

use std::ffi::OsStr;
use std::path::Path;

use catalogue::text::path_name;
use compare::arrangements::{ArrangementsWanted, DistinctWanted};
use compare::error::Error;
use compare::note::Note;
use compare::palette::{MOST_BYTES, Palette};
use lace::Arrangement;
use picture::colour::vision::Vision;

use crate::cli::{ArrangementArgs, ColourArgs, SeenBy};
use crate::failure::Failure;
use crate::input::bytes_in;

/// Colours and the arrangements asked for.
pub struct ArrangementsRequest {
    /// The colours themselves.
    pub palette: Palette,
    /// The colour vision they are painted for.
    pub seen_by: Option<Vision>,
    /// The arrangements.
    pub wanted: ArrangementsWanted,
}

impl ArrangementsRequest {
    /// Reads the arguments.
    pub fn read(args: &ArrangementArgs) -> Result<ArrangementsRequest, Failure> {
        let palette = palette(args.colours.as_deref())?;
        let wanted = match args.arrangement.as_slice() {
            [] => ArrangementsWanted::Distinct(DistinctWanted {
                pairs: usize::from(args.arrangement_length),
                most: args.max as usize,
                names: args.named.iter().map(|name| Ok(name.parse()?)).collect::<Result<_, Error>>()?,
                exchange: args.exchange,
                single_threads: args.single_threads,
            }),
            given => ArrangementsWanted::Given(
                given.iter().map(|text| palette.arrangement(text)).collect::<Result<_, _>>()?,
            ),
        };
        Ok(ArrangementsRequest { palette, seen_by: args.seen_by.map(Vision::from), wanted })
    }

    /// Notes for the user about the colours.
    pub fn notes(&self) -> Vec<Note> {
        self.palette.notes(None, self.palette.colours().len())
    }
}

/// Colours in one arrangement.
pub struct ArrangementRequest {
    /// The colours themselves.
    pub palette: Palette,
    /// The colour vision they are painted for.
    pub seen_by: Option<Vision>,
    /// Their arrangement.
    pub arrangement: Arrangement,
}

impl ArrangementRequest {
    /// Reads the arguments.
    pub fn read(args: &ColourArgs) -> Result<ArrangementRequest, Failure> {
        let palette = palette(args.colours.as_deref())?;
        let arrangement = palette.arrangement(&args.arrangement)?;
        Ok(ArrangementRequest { palette, seen_by: args.seen_by.map(Vision::from), arrangement })
    }
}

/// The palette the user asks for: colours separated by commas, or a file whose
/// name ends in `.toml`; without either, the usual colours.
fn palette(colours: Option<&OsStr>) -> Result<Palette, Failure> {
    let Some(colours) = colours else { return Ok(Palette::default()) };
    let file = Path::new(colours);
    if file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml")) {
        return palette_file(file);
    }
    colours.to_string_lossy().parse().map_err(|why: Error| match file.is_file() {
        true => Failure::Value {
            what: format!("{} is a file, but not named as a palette", path_name(file)),
            help: "palette files end in .toml: rename it".to_owned(),
        },
        false => why.into(),
    })
}

fn palette_file(path: &Path) -> Result<Palette, Failure> {
    let bytes = bytes_in(path, MOST_BYTES, "a palette", "palettes are small texts of 26 colours at most")?;
    Palette::from_toml(&bytes).map_err(|why| Failure::Value {
        what: format!("{}, {why}", path_name(path)),
        help: why.fault.remedy().to_owned(),
    })
}

impl From<SeenBy> for Vision {
    fn from(seen_by: SeenBy) -> Vision {
        match seen_by {
            SeenBy::Protan => Vision::Protan,
            SeenBy::Deutan => Vision::Deutan,
            SeenBy::Tritan => Vision::Tritan,
            SeenBy::Grey => Vision::Grey,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn palette_files_are_known_by_their_ending_and_named_with_their_faults() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("Threads.TOML");
        std::fs::write(&path, "[[colour]]\nname = \"old rose\"\nrgb = \"#c08081\"\n").unwrap();
        assert_eq!(palette(Some(path.as_os_str())).unwrap().names(), ["old rose"]);
        std::fs::write(&path, "[[colour]]\nname = \"a\"\nrgb = \"bluish\"\n").unwrap();
        let wrong = palette(Some(path.as_os_str())).unwrap_err().to_string();
        assert!(wrong.ends_with("Threads.TOML, line 3: the colour `bluish` is not known"), "{wrong}");
        let other = folder.path().join("threads.txt");
        std::fs::copy(&path, &other).unwrap();
        let wrong = palette(Some(other.as_os_str())).unwrap_err().to_string();
        assert!(wrong.contains("threads.txt is a file, but not named as a palette"), "{wrong}");
        assert!(palette(Some("no-such.toml".as_ref())).unwrap_err().to_string().contains("no-such.toml"));
    }
}
