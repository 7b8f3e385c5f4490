//! Where contributions come from: the program itself, and folders the user
//! names.

use std::path::PathBuf;
use std::sync::Arc;

use catalogue::text::path_name;
use catalogue::{Catalogue, ChooseError, LeftOut};
use sandbox::{Plugin, Sandbox, Source};

use crate::failure::Failure;
use crate::output::note;
use crate::request::sources::Sources;
use crate::trial::Processes;

macro_rules! built_in {
    ($($id:literal),* $(,)?) => {
        /// The built-in components, by id.
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

/// A sandbox whose compile cache is in the user's cache folder, and which has
/// strangers' contributions tried in processes of their own.
pub fn open_sandbox(sources: &Sources) -> Result<Sandbox, Failure> {
    let cache = if sources.cached { cache_folder() } else { None };
    let sandbox = Sandbox::new(cache.as_deref()).map_err(Failure::contribution)?;
    let sandbox = sandbox.with_trial(Processes::default());
    if let Some(why) = sandbox.cache_refused() {
        note(why);
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

/// The built-in contributions and those in the folders given.
pub struct Loaded {
    /// The contributions that can be used, built-in ones first.
    pub plugins: Vec<Arc<Plugin>>,
    /// Those that cannot.
    pub left_out: Vec<LeftOut>,
}

impl Loaded {
    /// The contribution with this id.
    pub fn plugin(&self, id: &str) -> Result<&Arc<Plugin>, Failure> {
        let known = self.plugins.iter().map(|plugin| plugin.about.id.as_str());
        let found = self.plugins.iter().find(|plugin| plugin.about.id == id);
        Ok(found.ok_or_else(|| ChooseError::unknown_ground(id, known, &self.left_out))?)
    }

    /// The catalogue of the loaded contributions.
    pub fn catalogue(&self) -> Catalogue {
        Catalogue::new(self.plugins.iter().cloned(), self.left_out.clone())
    }
}

/// Loads the built-in contributions and those in the folders given.
pub fn load(sources: &Sources) -> Result<Loaded, Failure> {
    let sandbox = open_sandbox(sources)?;
    let mut all: Vec<Source> = BUILT_IN
        .iter()
        .map(|(id, bytes)| Source::Ours { name: format!("{id}.wasm (built in)"), bytes: (*bytes).into() })
        .collect();
    for folder in &sources.folders {
        let found = Source::folder(folder).map_err(Failure::contribution)?;
        if found.is_empty() {
            note(&format!("{} contains no contributions (files ending in .wasm)", path_name(folder)));
        }
        all.extend(found);
    }
    let loaded = sandbox.load_all(&all);
    Ok(Loaded {
        plugins: loaded.plugins.into_iter().map(Arc::new).collect(),
        left_out: loaded.failures.iter().map(LeftOut::from).collect(),
    })
}

/// The catalogue of the built-in contributions and those in the folders given.
pub fn catalogue(sources: &Sources) -> Result<Catalogue, Failure> {
    load(sources).map(|loaded| loaded.catalogue())
}
