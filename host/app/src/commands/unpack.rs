//! `unpack`: writes any variety of any ground as a chart to start from.

use std::path::Path;

use catalogue::text::path_name;
use catalogue::{About, Change, Contribution, GroundName};
use chart_files::chart_of;
use lace::{Ground, Repeat};
use sandbox::Source;

use crate::cli::UnpackArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{print, warn, write_file};
use crate::request::choices::changes;
use crate::request::sources::Sources;
use crate::sources::{self, open_sandbox};

/// Writes the chart to a file, or to standard output.
pub fn run(args: &UnpackArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let changes = changes(&args.choices)?;
    let unpacked = match in_file(&args.what) {
        Some((file, variety)) => {
            let source = Source::File(file.into());
            let plugin = open_sandbox(sources)?.load(&source).map_err(Failure::contribution)?;
            Unpacked::new(&plugin, variety.as_deref(), &changes)?
        }
        None => {
            let name = GroundName::from(args.what.as_str());
            let catalogue = sources::catalogue(sources)?;
            let entry = catalogue.entry(&name.ground)?;
            Unpacked::new(entry.contribution(), name.variety.as_deref(), &changes)?
        }
    };
    let text = unpacked.chart(args.id.as_deref())?;
    match &args.out {
        None => print(&text)?,
        Some(out) => {
            write_file(out, text.as_bytes())?;
            warn(&format!("{}: {}", path_name(out), unpacked.about.title_of(&unpacked.variety)));
        }
    }
    Ok(Outcome::Done)
}

/// A contribution in a file, and the variety named after it: `FILE.wasm` or
/// `FILE.wasm/VARIETY`.
fn in_file(what: &str) -> Option<(String, Option<String>)> {
    let (stem, rest) = what.split_once(".wasm")?;
    let file = format!("{stem}.wasm");
    Path::new(&file).is_file().then(|| (file, rest.strip_prefix('/').map(str::to_owned)))
}

/// A variety with its repeat, whether it can be worked or not.
struct Unpacked {
    about: About,
    variety: String,
    repeat: Repeat,
}

impl Unpacked {
    fn new(
        contribution: &dyn Contribution,
        variety: Option<&str>,
        changes: &[Change],
    ) -> Result<Unpacked, Failure> {
        let about = contribution.about();
        let repeat = contribution.define(&about.resolve(variety, changes)?).map_err(Failure::contribution)?;
        let variety = variety.unwrap_or_else(|| about.usual_variety()).to_owned();
        Ok(Unpacked { about: about.clone(), variety, repeat })
    }

    /// The text of the chart.
    fn chart(&self, id: Option<&str>) -> Result<String, Failure> {
        let Unpacked { about, variety, repeat } = self;
        let places = match Ground::new(repeat.clone()) {
            Ok(ground) => ground.places().to_vec(),
            Err(_) => {
                repeat.stitches.iter().map(|s| s.at).collect::<Option<_>>().ok_or_else(|| Failure::Value {
                    what: format!("{}/{variety} cannot be worked and gives no places", about.id),
                    help: "`pairwise check` says what is wrong with it".to_owned(),
                })?
            }
        };
        let id = id.map_or_else(|| format!("my-{}", about.id), str::to_owned);
        Ok(chart_of(about, variety, &id, repeat, &places))
    }
}
