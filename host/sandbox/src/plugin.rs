//! Loaded contributions: their descriptions are known and they are ready to
//! define repeats.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::OnceLock;

use catalogue::text::clean_and_cut;
use catalogue::text::path_name;
use catalogue::trouble::in_words;
use catalogue::{About, Contribution, DefineError, Settings};
use indexmap::IndexMap;
use rayon::prelude::*;
use tempfile::TempDir;
use wasmtime::component::{Component, Instance, InstancePre, Linker};
use wasmtime::{Engine, Store};

use crate::about::about_in;
use crate::compiled::{Cache, Key};
use crate::component;
use crate::define;
use crate::engine::{self, Guard, stopped};
use crate::error::{Call, Fault, Result, SandboxError};
use crate::limits;
use crate::source::Source;
use crate::trial::{Judge, Trial};
use crate::versions::{Answer, KNOWN, Unanswered, Version};

/// Runs contributions. One sandbox serves any number of contributions on any
/// number of threads.
pub struct Sandbox {
    engine: Engine,
    cache: Option<Cache>,
    cache_refused: Option<String>,
    versions: &'static [Version],
    trial: Option<Box<dyn Trial>>,
    /// Where what was tried is compiled to if there is no cache.
    private: OnceLock<Option<(Cache, TempDir)>>,
}

/// One contribution, ready to define repeats.
pub struct Plugin {
    /// Its checked description.
    pub about: About,
    /// The name of its file in messages.
    pub from: String,
    /// What its description took.
    pub described: Used,
    engine: Engine,
    ready: Ready,
}

/// A component, ready to be called in its version of the interface.
struct Ready {
    component: InstancePre<Guard>,
    version: &'static Version,
}

/// The resources one call used.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Used {
    /// WebAssembly instructions, of [`limits::INSTRUCTIONS`].
    pub instructions: u64,
    /// Memory in bytes, of [`limits::MEMORY_BYTES`].
    pub memory_bytes: usize,
}

/// The result of loading several contributions.
#[derive(Debug)]
pub struct Loaded {
    /// The contributions that can be used, in the order of their sources.
    pub plugins: Vec<Plugin>,
    /// What is wrong with the others, in the order of their sources.
    pub failures: Vec<SandboxError>,
}

impl std::fmt::Debug for Plugin {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Plugin").field("id", &self.about.id).field("from", &self.from).finish_non_exhaustive()
    }
}

impl Sandbox {
    /// A sandbox that caches compiled code in the folder `cache`. Without one, every
    /// contribution is compiled each time. A folder that cannot be used safely is
    /// not used ([`Sandbox::cache_refused`] says why).
    ///
    /// # Errors
    /// When this machine cannot run WebAssembly.
    pub fn new(cache: Option<&Path>) -> Result<Sandbox> {
        let engine = engine::engine().map_err(|why| machinery("this computer", Fault::NoMachine, &why))?;
        let (cache, cache_refused) = match cache.map(|folder| (folder, Cache::open(folder))) {
            None => (None, None),
            Some((_, Ok(cache))) => (Some(cache), None),
            Some((folder, Err(why))) => (
                None,
                Some(format!(
                    "{}: compiled grounds are not kept there ({}); they are compiled each time",
                    path_name(folder),
                    in_words(&why)
                )),
            ),
        };
        let private = OnceLock::new();
        Ok(Sandbox { engine, cache, cache_refused, versions: KNOWN, trial: None, private })
    }

    /// Has strangers' contributions tried before they are compiled or run here:
    /// all but [`Source::Ours`]. Without a trial, whoever made this sandbox vouches
    /// for everything that it loads.
    #[must_use]
    pub fn with_trial(self, trial: impl Trial + 'static) -> Sandbox {
        Sandbox { trial: Some(Box::new(trial)), ..self }
    }

    /// A sandbox without a cache that knows other versions of the interface.
    #[cfg(test)]
    pub(crate) fn knowing(versions: &'static [Version]) -> Result<Sandbox> {
        Ok(Sandbox { versions, ..Sandbox::new(None)? })
    }

    /// Why the cache folder is not used, if it is not.
    pub fn cache_refused(&self) -> Option<&str> {
        self.cache_refused.as_deref()
    }

    /// Loads one contribution and its description.
    ///
    /// # Errors
    /// When anything is wrong with it; see [`SandboxError`] and [`crate::limits`].
    pub fn load(&self, source: &Source) -> Result<Plugin> {
        let loaded = self.load_one(source);
        self.thin_out();
        loaded
    }

    fn load_one(&self, source: &Source) -> Result<Plugin> {
        let from = source.name();
        let bytes = source.bytes()?;
        unless_it_panics(&from, || {
            let compiled = self.compiled(source, &from, &bytes)?;
            self.describe(&from, &compiled)
        })
    }

    /// Tries a stranger's contribution in this process, which ought to have limits
    /// of its own: compiles it, asks it for its description and the repeats of all
    /// its varieties, and hands these to `judge`. If it passes, its compiled code
    /// is put into the cache. A variety without a repeat does not fail it.
    ///
    /// # Errors
    /// Everything for which it could not be loaded, and too many instructions in
    /// all ([`limits::ALL_INSTRUCTIONS`]).
    pub fn try_out(&self, source: &Source, judge: &mut dyn Judge) -> Result<()> {
        let from = source.name();
        let bytes = source.bytes()?;
        unless_it_panics(&from, || {
            judge.begin();
            component::look_through(&from, &bytes)?;
            let compiled = component::compile(&from, &self.engine, &bytes)?;
            let plugin = self.describe(&from, &compiled)?;
            plugin.judged(judge)?;
            if let Some(cache) = &self.cache {
                cache.put(&Key::new(&self.engine, &bytes), &compiled);
            }
            Ok(())
        })
    }

    /// Deletes entries of the cache, the oldest first, if there are too many.
    fn thin_out(&self) {
        if let Some(cache) = &self.cache {
            cache.thin_out();
        }
    }

    /// Loads several contributions in parallel. A fault in one never affects the
    /// others. Of two with the same id the first is used and the second fails.
    pub fn load_all(&self, sources: &[Source]) -> Loaded {
        let results: Vec<Result<Plugin>> = sources.par_iter().map(|source| self.load_one(source)).collect();
        self.thin_out();
        let mut loaded = Loaded { plugins: Vec::new(), failures: Vec::new() };
        let mut first: IndexMap<String, String> = IndexMap::new();
        for result in results {
            match result {
                Ok(plugin) => match first.get(&plugin.about.id) {
                    Some(first) => loaded.failures.push(SandboxError::SameId {
                        id: plugin.about.id,
                        first: first.clone(),
                        second: plugin.from,
                    }),
                    None => {
                        first.insert(plugin.about.id.clone(), plugin.from.clone());
                        loaded.plugins.push(plugin);
                    }
                },
                Err(failure) => loaded.failures.push(failure),
            }
        }
        loaded
    }

    fn describe(&self, from: &str, compiled: &Component) -> Result<Plugin> {
        let version = component::version(from, &self.engine, compiled, self.versions)?;
        let component = Linker::new(&self.engine)
            .instantiate_pre(compiled)
            .map_err(|why| machinery(from, Fault::NotReady, &why))?;
        let ready = Ready { component, version };
        let mut described = Used::default();
        let answer = call(from, &self.engine, &ready, Call::About, &mut described, version.about)?;
        let about = about_in(from, answer)?;
        Ok(Plugin { about, from: from.to_owned(), described, engine: self.engine.clone(), ready })
    }

    fn compiled(&self, source: &Source, from: &str, bytes: &[u8]) -> Result<Component> {
        component::look_through(from, bytes)?;
        let trial = self.trial.as_deref().filter(|_| !source.is_ours());
        let cache = match trial {
            None => self.cache.as_ref(),
            Some(_) => Some(self.cache_of_trials(from)?),
        };
        let Some(cache) = cache else { return component::compile(from, &self.engine, bytes) };
        let key = Key::new(&self.engine, bytes);
        if let Some(compiled) = cache.get(&self.engine, &key) {
            return Ok(compiled);
        }
        if let Some(trial) = trial {
            trial.try_out(from, bytes, cache.folder())?;
            // Without an entry there was no room for it. These bytes have passed,
            // so compiling them here does no harm either.
            let kept = cache.get(&self.engine, &key);
            return kept.map_or_else(|| component::compile(from, &self.engine, bytes), Ok);
        }
        let compiled = component::compile(from, &self.engine, bytes)?;
        cache.put(&key, &compiled);
        Ok(compiled)
    }

    /// The cache, or else a private folder that is deleted with this sandbox.
    fn cache_of_trials(&self, from: &str) -> Result<&Cache> {
        if let Some(cache) = &self.cache {
            return Ok(cache);
        }
        let make = || {
            let folder = tempfile::Builder::new().prefix("pairwise-").tempdir().ok()?;
            Some((Cache::open(folder.path()).ok()?, folder))
        };
        let private = self.private.get_or_init(make).as_ref();
        private.map(|(cache, _)| cache).ok_or_else(|| SandboxError::Tried {
            file: from.to_owned(),
            why: "there is no folder to compile it in: allow temporary files, or a cache folder of your own"
                .to_owned(),
        })
    }
}

impl Plugin {
    /// The repeat for these settings; choices that are not set have their defaults.
    /// The same settings always give the same repeat. It is not yet checked to be a
    /// ground.
    ///
    /// # Errors
    /// A setting that does not exist, the contribution's own
    /// [`SandboxError::Problem`], a call that failed, or a repeat of more than 2000
    /// stitches, 4000 legs or 256 moves in a stitch.
    pub fn define(&self, settings: &Settings) -> Result<lace::Repeat> {
        self.define_measured(settings).map(|(repeat, _)| repeat)
    }

    /// Like [`Plugin::define`], with the resources the call used.
    ///
    /// # Errors
    /// As [`Plugin::define`].
    pub fn define_measured(&self, settings: &Settings) -> Result<(lace::Repeat, Used)> {
        let mut used = Used::default();
        self.define_counting(settings, &mut used).map(|repeat| (repeat, used))
    }

    /// Like [`Plugin::define`], and counts what the call used even if it fails.
    ///
    /// # Errors
    /// As [`Plugin::define`].
    pub fn define_counting(&self, settings: &Settings, used: &mut Used) -> Result<lace::Repeat> {
        let settings = define::settings_out(&self.about.complete(settings)?);
        let answer = call(&self.from, &self.engine, &self.ready, Call::Define, used, |store, instance| {
            (self.ready.version.define)(store, instance, &settings)
        })?;
        let answer = answer.map_err(|answer| define::problem(&self.about, answer))?;
        define::repeat_in(answer).map_err(|what| SandboxError::BadRepeat {
            plugin: self.about.id.clone(),
            file: self.from.clone(),
            what,
        })
    }

    /// Asks for the repeats of all varieties, one after the other, and hands them
    /// on.
    fn judged(&self, judge: &mut dyn Judge) -> Result<()> {
        let mut all = self.described.instructions;
        for variety in self.about.varieties.keys() {
            judge.begin();
            let mut used = Used::default();
            let settings = self.about.resolve(Some(variety), &[])?;
            let repeat = self.define_counting(&settings, &mut used);
            all += used.instructions;
            if all > limits::ALL_INSTRUCTIONS {
                return Err(SandboxError::TooMuchInAll { file: self.from.clone() });
            }
            if let Ok(repeat) = repeat {
                judge.repeat(&self.about, repeat);
            }
        }
        Ok(())
    }
}

impl Contribution for Plugin {
    fn about(&self) -> &About {
        &self.about
    }

    fn file(&self) -> &str {
        &self.from
    }

    fn define(&self, settings: &Settings) -> std::result::Result<lace::Repeat, DefineError> {
        Plugin::define(self, settings).map_err(DefineError::new)
    }
}

/// Makes one call in a new store, and counts what it used.
fn call<T>(
    from: &str,
    engine: &Engine,
    ready: &Ready,
    call: Call,
    used: &mut Used,
    ask: impl FnOnce(&mut Store<Guard>, &Instance) -> Answer<T>,
) -> Result<T> {
    let mut store = engine::store(engine).map_err(|why| machinery(from, Fault::NotReady, &why))?;
    // Code that runs at instantiation counts towards the call.
    let answer = match ready.component.instantiate(&mut store) {
        Ok(instance) => ask(&mut store, &instance),
        Err(why) => Err(Unanswered::Stopped(why)),
    };
    used.instructions = limits::INSTRUCTIONS - store.get_fuel().unwrap_or(0);
    used.memory_bytes = store.data().memory();
    answer.map_err(|unanswered| match unanswered {
        Unanswered::WrongTypes(why) => wrong_types(from, &why),
        Unanswered::Stopped(why) => failed(from, call, &why),
    })
}

/// Libraries read unchecked bytes. If one of them panics over a file, only that
/// file fails.
fn unless_it_panics<T>(from: &str, work: impl FnOnce() -> Result<T>) -> Result<T> {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| {
        let (file, why) = (from.to_owned(), "a library gave up over this file".to_owned());
        Err(SandboxError::Machinery { file, fault: Fault::GaveUp, why })
    })
}

fn failed(from: &str, call: Call, why: &wasmtime::Error) -> SandboxError {
    SandboxError::Stopped { file: from.to_owned(), call, why: stopped(why) }
}

fn wrong_types(file: &str, why: &wasmtime::Error) -> SandboxError {
    SandboxError::WrongTypes { file: file.to_owned(), why: clean_and_cut(&format!("{why:#}"), 300) }
}

fn machinery(file: &str, fault: Fault, why: &wasmtime::Error) -> SandboxError {
    SandboxError::Machinery { file: file.to_owned(), fault, why: clean_and_cut(&format!("{why:#}"), 300) }
}
