//! Reading a piece from its file, and working it out.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use catalogue::Meant;
use catalogue::text::path_name;
use piece::{Fault, Located, MOST_BYTES, Missing, Unworkable, Worked};

use crate::failure::Failure;
use crate::faults::{ShownText, TextFaults};
use crate::input::text_in;
use crate::sources::{GroundFile, Grounds};

/// The text of a piece.
pub struct PieceFile {
    path: PathBuf,
    text: String,
    shown: ShownText,
}

/// What came of a piece.
pub enum Made {
    /// It is worked out.
    Worked(Box<Worked>),
    /// It cannot be worked.
    Unworkable {
        /// Its title.
        title: String,
        /// Why.
        found: Vec<Located>,
    },
    /// Its text has faults, each shown at its line.
    Faulty(TextFaults),
}

impl PieceFile {
    /// Reads the file of a piece.
    pub fn open(path: &Path) -> Result<PieceFile, Failure> {
        Ok(PieceFile::of(path, &text_in(path, MOST_BYTES, "a piece", "pieces are small texts")?))
    }

    /// A piece with this text.
    pub fn of(path: &Path, text: &str) -> PieceFile {
        PieceFile {
            path: path.to_owned(),
            text: text.to_owned(),
            shown: ShownText::new(&path_name(path), text),
        }
    }

    /// Works it out.
    pub fn made(&self, grounds: &Grounds<'_>) -> Result<Made, Failure> {
        // Whatever is wrong with one ground is a fault of its line, but without any
        // contributions there is nothing to look up.
        grounds.catalogue()?;
        let design = match piece::read(&self.text, &|name| self.look_up(name, grounds)) {
            Ok(design) => design,
            Err(faults) => return Ok(Made::Faulty(self.faults(&faults))),
        };
        let title = design.title.clone();
        Ok(match Worked::new(design) {
            Ok(worked) => Made::Worked(Box::new(worked)),
            Err(Unworkable::Findings(found)) => Made::Unworkable { title, found },
            Err(Unworkable::Faults(faults)) => Made::Faulty(self.faults(&faults)),
        })
    }

    /// A ground by its name, or in a file, which is looked for beside the piece.
    fn look_up(&self, name: &str, grounds: &Grounds<'_>) -> Result<Meant, Missing> {
        if GroundFile::named(name.as_ref()).is_none() {
            let catalogue = grounds.catalogue().map_err(missing)?;
            return Ok(catalogue.meant(name)?);
        }
        let beside: OsString = self.path.parent().unwrap_or(Path::new("")).join(name).into();
        grounds.meant(&beside).map_err(missing)
    }

    fn faults(&self, faults: &[Fault]) -> TextFaults {
        self.shown.report(faults.iter().map(|fault| {
            self.shown.fault(vec![fault.at.clone().into()], fault.sentence.clone(), fault.remedy.clone())
        }))
    }

    /// Findings, each shown where the parts stand that it concerns.
    pub fn show(&self, found: &[Located]) -> TextFaults {
        self.shown.report(found.iter().map(|one| {
            let finding = &one.finding;
            let severity = if one.is_error() { "error" } else { "warning" };
            let sentence = format!("{severity} {}: {}", finding.code.word(), finding.sentence);
            let remedy = format!("{}. Why it matters: {}", finding.remedy, finding.code.why());
            self.shown.fault(one.at.iter().cloned().map(Into::into).collect(), sentence, remedy)
        }))
    }
}

/// Why a file gives no ground, in one sentence.
fn missing(failure: Failure) -> Missing {
    use miette::Diagnostic;
    let help = failure.help().map(|help| help.to_string());
    let remedy = help.unwrap_or_else(|| "`pairwise check`, with the name of the file, says more".to_owned());
    Missing::Other { sentence: failure.to_string(), remedy }
}
