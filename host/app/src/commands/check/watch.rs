//! Checking a chart again whenever it is saved.

use std::path::Path;
use std::time::{Duration, SystemTime};

use catalogue::text::path_name;

use super::picture::Pictures;
use super::targets::Targets;
use crate::charts;
use crate::cli::CheckArgs;
use crate::commands::{Outcome, report};
use crate::failure::Failure;
use crate::output::warn;
use crate::request::sources::Sources;

/// How often the file is checked for changes.
const EVERY: Duration = Duration::from_millis(250);

/// Watches one chart until the program is interrupted.
pub fn run(args: &CheckArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let [chart] = args.targets.as_slice() else {
        return Err(Failure::Value {
            what: format!("--watch is for one chart; there are {}", args.targets.len()),
            help: "name one file that ends in .toml".to_owned(),
        });
    };
    let path = Path::new(chart);
    if !charts::is_chart(path) {
        return Err(Failure::Value {
            what: format!("{} is not a chart", path_name(path)),
            help: "--watch is for charts: files that end in .toml".to_owned(),
        });
    }
    let saved = |path: &Path| -> Option<(SystemTime, u64)> {
        let file = std::fs::metadata(path).ok()?;
        Some((file.modified().ok()?, file.len()))
    };
    std::fs::metadata(path).map_err(Failure::read(path))?;
    let pictures = match &args.picture {
        Some(file) => Pictures::To(file.clone()),
        None => Pictures::NamedAfterChart,
    };
    let targets = Targets::new(args)?;
    let mut seen = None;
    loop {
        let now = saved(path);
        // While an editor saves, the file may be gone for a moment.
        if now.is_some() && now != seen {
            seen = now;
            warn(&format!("--- {}", path_name(path)));
            match super::once(&targets, &pictures, false, sources) {
                Ok(_) => warn("--- waiting until it is saved again; Ctrl+C ends this"),
                Err(Failure::NobodyReads) => return Ok(Outcome::Done),
                Err(failure) => report(failure),
            }
        }
        std::thread::sleep(EVERY);
    }
}
