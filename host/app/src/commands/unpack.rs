//! `unpack`: any variety of any ground as a chart to begin from.

use std::path::Path;

use chart_files::{Origin, write};
use lace::{Ground, Point, Repeat};
use sandbox::{Plugin, Source};

use crate::catalogue::{Catalogue, open_sandbox, read_change};
use crate::cli::{Sources, UnpackArgs};
use crate::failure::Failure;
use crate::output::{print, tell, write_file};

/// Writes the chart to a file, or to standard output.
pub fn run(args: &UnpackArgs, sources: &Sources) -> Result<(), Failure> {
    let contribution = |why: sandbox::SandboxError| Failure::Contribution(why.to_string());
    let changes = args.choosing.with.iter().map(|w| read_change(w)).collect::<Result<Vec<_>, _>>()?;
    let (file, named) = match args.what.split_once(".wasm") {
        Some((stem, rest)) if Path::new(&format!("{stem}.wasm")).is_file() => {
            (Some(format!("{stem}.wasm")), rest.strip_prefix('/').map(str::to_owned))
        }
        _ => (None, None),
    };
    let loaded;
    let catalogue;
    let (plugin, variety) = match &file {
        Some(file) => {
            loaded = open_sandbox(sources)?.load(&Source::File(file.into())).map_err(contribution)?;
            (&loaded, named)
        }
        None => {
            catalogue = Catalogue::load(sources)?;
            let (id, variety) = match args.what.split_once('/') {
                Some((id, variety)) => (id, Some(variety.to_owned())),
                None => (args.what.as_str(), None),
            };
            (catalogue.plugin(id)?, variety)
        }
    };
    let about = &plugin.about;
    let settings = about.resolve(variety.as_deref(), &changes).map_err(contribution)?;
    let repeat = plugin.define(&settings).map_err(contribution)?;
    let variety = variety.or_else(|| about.varieties.keys().next().cloned()).unwrap_or_default();
    let places = match Ground::new(repeat.clone()) {
        Ok(ground) => ground.places().to_vec(),
        Err(_) => {
            repeat.stitches.iter().map(|s| s.at).collect::<Option<_>>().ok_or_else(|| Failure::Value {
                what: format!("{}/{variety} cannot be worked and gives no places", about.id),
                help: "`pairwise check` says what is wrong with it".to_owned(),
            })?
        }
    };
    let id = args.id.clone().unwrap_or_else(|| format!("my-{}", about.id));
    let text = chart(plugin, &variety, &id, &repeat, &places);
    match &args.out {
        None => print(&text),
        Some(out) => {
            write_file(out, text.as_bytes())?;
            tell(&format!("{}: {}", out.display(), title(plugin, &variety)));
            Ok(())
        }
    }
}

/// The title of a variety.
fn title<'a>(plugin: &'a Plugin, variety: &str) -> &'a str {
    plugin.about.varieties.get(variety).map_or(&plugin.about.title, |v| &v.title)
}

/// A variety as the text of a chart with the id `id`; `places` are those of
/// the stitches of its repeat.
pub fn chart(plugin: &Plugin, variety: &str, id: &str, repeat: &Repeat, places: &[Point]) -> String {
    let about = &plugin.about;
    let said = about.varieties.get(variety);
    let names = about.other_names.iter().chain(said.iter().flat_map(|v| &v.other_names));
    let origin = Origin {
        id,
        title: title(plugin, variety),
        sits_in: about.sits_in.as_deref(),
        family: &about.family,
        laces: about.laces.iter().map(String::as_str).collect(),
        names: names.map(|n| [n.language.as_str(), &n.name, &n.source]).collect(),
        angle: about.angle,
        notes: said.map_or(about.notes.as_str(), |v| &v.notes),
        source: said.map_or(about.source.as_str(), |v| &v.source),
    };
    format!(
        "# {}/{variety} as a chart. Change what you like, then: pairwise check FILE\n{}",
        about.id,
        write(&origin, repeat, places)
    )
}
