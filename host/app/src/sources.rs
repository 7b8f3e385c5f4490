//! Where contributions come from: the program itself, and folders and files the
//! user names.

use std::cell::OnceCell;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use catalogue::text::path_name;
use catalogue::{Catalogue, Entry, LeftOut, Meant};
use sandbox::{Plugin, Sandbox, Source};

use crate::charts::{self, is_chart};
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
    /// The catalogue of the loaded contributions.
    pub fn catalogue(&self) -> Catalogue {
        Catalogue::new(self.plugins.iter().cloned(), self.left_out.clone())
    }
}

/// Loads the built-in contributions and those in the folders given.
pub fn load(sandbox: &Sandbox, sources: &Sources) -> Result<Loaded, Failure> {
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
    Ok(load(&open_sandbox(sources)?, sources)?.catalogue())
}

/// A chart or contribution named as a ground, and the variety named after it, as in
/// `FILE.toml/VARIETY`.
#[derive(Debug, PartialEq, Eq)]
pub struct GroundFile<'a> {
    /// The file.
    pub path: &'a Path,
    /// The variety.
    pub variety: Option<&'a OsStr>,
}

impl GroundFile<'_> {
    /// What is named like a file is one, even if it is a pipe or is not there: no
    /// ground has such a name.
    pub fn named(name: &OsStr) -> Option<GroundFile<'_>> {
        let is_file = |path: &Path| {
            path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("wasm")) || is_chart(path)
        };
        let path = Path::new(name);
        if is_file(path) {
            return Some(GroundFile { path, variety: None });
        }
        let parent = path.parent().filter(|parent| is_file(parent))?;
        Some(GroundFile { path: parent, variety: path.file_name() })
    }
}

/// The grounds that can be named: those of the catalogue, which is loaded when it is
/// first asked for, and those in files.
pub struct Grounds<'a> {
    sources: &'a Sources,
    sandbox: OnceCell<Sandbox>,
    catalogue: OnceCell<Catalogue>,
}

impl<'a> Grounds<'a> {
    /// The grounds from these sources.
    pub fn new(sources: &'a Sources) -> Grounds<'a> {
        Grounds { sources, sandbox: OnceCell::new(), catalogue: OnceCell::new() }
    }

    /// The sandbox that everything here is loaded in.
    pub fn sandbox(&self) -> Result<&Sandbox, Failure> {
        if let Some(open) = self.sandbox.get() {
            return Ok(open);
        }
        let opened = open_sandbox(self.sources)?;
        Ok(self.sandbox.get_or_init(|| opened))
    }

    /// The built-in contributions and those in the folders given.
    pub fn catalogue(&self) -> Result<&Catalogue, Failure> {
        if let Some(loaded) = self.catalogue.get() {
            return Ok(loaded);
        }
        let loaded = load(self.sandbox()?, self.sources)?.catalogue();
        Ok(self.catalogue.get_or_init(|| loaded))
    }

    /// The ground or variety with this name: any name it has, or a file.
    pub fn meant(&self, name: &OsStr) -> Result<Meant, Failure> {
        match GroundFile::named(name) {
            Some(file) => self.in_file(&file),
            None => Ok(self.catalogue()?.meant(&name.to_string_lossy())?),
        }
    }

    fn in_file(&self, GroundFile { path, variety }: &GroundFile<'_>) -> Result<Meant, Failure> {
        let source = if is_chart(path) {
            let chart = charts::open(path)?;
            Source::Ours { name: chart.text.name().to_owned(), bytes: chart.pack()?.into() }
        } else {
            std::fs::metadata(path).map_err(Failure::read(path))?;
            Source::File(path.to_path_buf())
        };
        let plugin = self.sandbox()?.load(&source).map_err(Failure::contribution)?;
        let variety = variety.map(OsStr::to_string_lossy);
        Ok(Meant::of_entry(&Arc::new(Entry::new(plugin)), variety.as_deref())?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_like_that_of_a_file_is_one_with_a_variety_behind_it() {
        let named = |name: &'static str| {
            GroundFile::named(name.as_ref()).map(|GroundFile { path, variety }| (path, variety))
        };
        assert_eq!(named("mine.wasm"), Some((Path::new("mine.wasm"), None)));
        assert_eq!(named("in/Mine.TOML"), Some((Path::new("in/Mine.TOML"), None)));
        assert_eq!(named("in/mine.toml/wide"), Some((Path::new("in/mine.toml"), Some(OsStr::new("wide")))));
        for name in ["rose", "rose/plain", "wasm", "Rose ground"] {
            assert_eq!(named(name), None, "{name}");
        }
    }
}
