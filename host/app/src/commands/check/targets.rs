//! What to check: files and named grounds.

use std::path::Path;

use catalogue::GroundName;

use crate::charts::is_chart;
use crate::cli::CheckArgs;
use crate::export::Format;
use crate::failure::Failure;

/// What to check; everything if nothing is named.
pub struct Targets {
    /// Contributions in files.
    pub files: Vec<String>,
    /// Charts.
    pub charts: Vec<String>,
    /// Grounds and varieties.
    pub names: Vec<GroundName>,
}

impl Targets {
    /// Sorts the targets named. Refuses `--picture` unless there is exactly one
    /// file.
    pub fn new(args: &CheckArgs) -> Result<Targets, Failure> {
        // What is named like a file is one, even if it is a pipe or is not there: no
        // ground has such a name.
        let is_file = |target: &String| {
            let path = Path::new(target);
            target.ends_with(".wasm") || is_chart(path) || path.is_file()
        };
        let (files, names): (Vec<String>, Vec<String>) = args.targets.iter().cloned().partition(is_file);
        let (charts, files) = files.into_iter().partition(|file| is_chart(Path::new(file)));
        let names = names.iter().map(|name| name.as_str().into()).collect();
        let targets = Targets { files, charts, names };
        if let Some(picture) = &args.picture {
            Format::of(picture)?;
            let files = targets.charts.len() + targets.files.len();
            if files != 1 {
                return Err(Failure::Value {
                    what: format!("--picture is for one file; there are {files}"),
                    help: "check one chart or contribution (.toml, .wasm) at a time, or leave --picture out"
                        .to_owned(),
                });
            }
        }
        Ok(targets)
    }

    /// Whether any target is a file.
    pub fn any_files(&self) -> bool {
        !self.files.is_empty() || !self.charts.is_empty()
    }
}
