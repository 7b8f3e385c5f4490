//! `unpack`: writes any variety of any ground as a chart to start from.

use catalogue::text::path_name;
use catalogue::{About, Change, Meant};
use chart_files::chart_of;
use lace::{Ground, Repeat};

use crate::cli::UnpackArgs;
use crate::commands::Outcome;
use crate::failure::Failure;
use crate::output::{print, warn, write_file};
use crate::request::choices::changes;
use crate::request::sources::Sources;
use crate::request::{endings, ids};
use crate::sources::Grounds;

/// Writes the chart to a file, or to standard output.
pub fn run(args: &UnpackArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if let Some(id) = &args.id {
        ids::check(id)?;
    }
    if let Some(out) = &args.out {
        endings::check(out, &["toml"], "a chart")?;
    }
    let changes = changes(&args.choices)?;
    let unpacked = Unpacked::new(&Grounds::new(sources).meant(&args.what)?, &changes)?;
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

/// A variety with its repeat, whether it can be worked or not.
struct Unpacked {
    about: About,
    variety: String,
    repeat: Repeat,
}

impl Unpacked {
    fn new(Meant { entry, variety }: &Meant, changes: &[Change]) -> Result<Unpacked, Failure> {
        let about = entry.about();
        let settings = about.resolve(variety.as_deref(), changes)?;
        let repeat = entry.define(&settings).map_err(Failure::contribution)?;
        let variety = variety.clone().unwrap_or_else(|| about.usual_variety().to_owned());
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
