//! The grounds at hand: built in, and from folders the user names.

use std::path::PathBuf;

use indexmap::IndexMap;
use lace::Ground;
use sandbox::{About, Plugin, Sandbox, SandboxError, Source};

use crate::cli::Sources;
use crate::commands::report_failures;
use crate::failure::{Failure, suggest};
use crate::output::tell;

macro_rules! built_in {
    ($($id:literal),* $(,)?) => {
        /// The components the program carries, by id.
        pub const BUILT_IN: &[(&str, &[u8])] = &[
            $(($id, include_bytes!(concat!("../../../plugins/built/", $id, ".wasm")))),*
        ];
    };
}

built_in![
    "torchon",
    "rose",
    "single-rose",
    "rose-rows",
    "honeycomb",
    "pin-chain",
    "point",
    "star",
    "brussels",
    "mechlin",
    "valenciennes",
    "plait",
    "cloth",
    "trail",
    "diamond",
    "spider",
    "spiders",
    "tally",
    "net-tally",
    "flower",
];

/// All grounds that could be loaded, and what is wrong with the others.
pub struct Catalogue {
    /// The contributions, built-in ones first.
    pub plugins: Vec<Plugin>,
    /// Contributions that could not be used: where from, and why.
    pub failures: Vec<(String, String)>,
}

/// One variety of one ground, with all its choices made.
pub struct Chosen<'a> {
    /// The contribution.
    pub plugin: &'a Plugin,
    /// Id of the variety the choices began from.
    pub variety: String,
    /// Every choice with its value.
    pub settings: IndexMap<String, String>,
    /// The ground itself.
    pub ground: Ground,
}

impl Chosen<'_> {
    /// How the user names it: `rose/VARIETY`.
    pub fn name(&self) -> String {
        format!("{}/{}", self.plugin.about.id, self.variety)
    }

    /// What the lacemaker reads: the variety's title.
    pub fn title(&self) -> &str {
        self.plugin.about.varieties.get(&self.variety).map_or(&self.plugin.about.title, |v| &v.title)
    }
}

/// A sandbox with the compile cache where the user's system keeps caches.
pub fn open_sandbox(sources: &Sources) -> Result<Sandbox, Failure> {
    let cache = if sources.no_cache { None } else { cache_folder() };
    let sandbox = Sandbox::new(cache.as_deref()).map_err(contribution)?;
    if let Some(why) = sandbox.cache_refused() {
        tell(&format!("note: {why}"));
    }
    Ok(sandbox)
}

/// `pairwise` in the user's cache folder (XDG base directory specification).
fn cache_folder() -> Option<PathBuf> {
    let given = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|p| p.is_absolute());
    let base = given("XDG_CACHE_HOME")
        .or_else(|| given("LOCALAPPDATA"))
        .or_else(|| given("HOME").map(|home| home.join(".cache")))?;
    Some(base.join("pairwise"))
}

fn contribution(why: SandboxError) -> Failure {
    Failure::Contribution(why.to_string())
}

impl Catalogue {
    /// Loads what is built in and what lies in the folders given.
    pub fn load(sources: &Sources) -> Result<Catalogue, Failure> {
        let sandbox = open_sandbox(sources)?;
        let mut all: Vec<Source> = BUILT_IN
            .iter()
            .map(|(id, bytes)| Source::Bytes {
                name: format!("{id}.wasm (built in)"),
                bytes: (*bytes).into(),
            })
            .collect();
        for folder in &sources.plugins {
            let found = Source::folder(folder).map_err(contribution)?;
            if found.is_empty() {
                tell(&format!("note: {} holds no contributions (files ending in .wasm)", folder.display()));
            }
            all.extend(found);
        }
        let loaded = sandbox.load_all(&all);
        let failures = loaded.failures.iter().map(|why| {
            let text = why.to_string();
            match text.split_once(": ") {
                Some((file, rest)) if file.contains(".wasm") => (file.to_owned(), rest.to_owned()),
                _ => ("a contribution".to_owned(), text),
            }
        });
        Ok(Catalogue { failures: failures.collect(), plugins: loaded.plugins })
    }

    /// The contribution with an id.
    pub fn plugin(&self, id: &str) -> Result<&Plugin, Failure> {
        self.plugins.iter().find(|p| p.about.id == id).ok_or_else(|| {
            // It may be one of those that could not be used.
            report_failures(&self.failures);
            Failure::Unknown {
                what: "the ground",
                name: id.to_owned(),
                help: suggest(
                    id,
                    self.plugins.iter().map(|p| p.about.id.as_str()),
                    "`pairwise grounds` lists all grounds",
                ),
            }
        })
    }

    /// The ground a user names as `rose` or `rose/VARIETY`, with choices
    /// changed by `CHOICE=VALUE`.
    pub fn choose(&self, name: &str, with: &[String]) -> Result<Chosen<'_>, Failure> {
        let (id, variety) = match name.split_once('/') {
            Some((id, variety)) => (id, Some(variety)),
            None => (name, None),
        };
        let plugin = self.plugin(id)?;
        let changes = with.iter().map(|w| read_change(w)).collect::<Result<Vec<_>, _>>()?;
        choose(plugin, variety, &changes)
    }
}

/// Splits `CHOICE=VALUE`.
pub fn read_change(text: &str) -> Result<(String, String), Failure> {
    match text.split_once('=') {
        Some((choice, value)) => Ok((choice.trim().to_owned(), value.trim().to_owned())),
        None => Err(Failure::Value {
            what: format!("`{}` is not of the form CHOICE=VALUE", text.escape_debug()),
            help: "for example --with crossing=cloth; `pairwise grounds GROUND` lists its choices".to_owned(),
        }),
    }
}

/// Asks a contribution for a ground and checks it.
pub fn choose<'a>(
    plugin: &'a Plugin,
    variety: Option<&str>,
    changes: &[(String, String)],
) -> Result<Chosen<'a>, Failure> {
    let about: &About = &plugin.about;
    let settings = about.resolve(variety, changes).map_err(contribution)?;
    let repeat = plugin.define(&settings).map_err(contribution)?;
    let variety =
        variety.map_or_else(|| about.varieties.keys().next().cloned().unwrap_or_default(), str::to_owned);
    let ground = Ground::new(repeat).map_err(|findings| {
        let errors: Vec<String> = findings.iter().filter(|f| f.is_error()).map(ToString::to_string).collect();
        Failure::Contribution(format!(
            "{} ({}): {}/{variety} is not a ground that can be worked: {}",
            about.title,
            plugin.from,
            about.id,
            errors.join("; ")
        ))
    })?;
    Ok(Chosen {
        plugin,
        variety,
        settings: settings.iter().map(|(choice, value)| (choice.clone(), value.to_string())).collect(),
        ground,
    })
}
