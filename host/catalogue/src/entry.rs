//! A contribution in the catalogue, and the grounds chosen from it.

use std::fmt;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use indexmap::IndexMap;
use lace::{Finding, Ground, Repeat};
use thiserror::Error;

use crate::about::{About, Change, ResolveError, Settings, Value};
use crate::contribution::{Contribution, DefineError, LeftOut};
use crate::near::listed;

/// A contribution in the catalogue. It caches every ground chosen from it, so
/// that no repeat is defined or checked twice.
pub struct Entry {
    contribution: Box<dyn Contribution>,
    grounds: Mutex<IndexMap<Vec<Value>, Arc<OnceLock<Worked>>>>,
}

/// A ground, or why there is none.
type Worked = Result<Arc<Ground>, NoGround>;

/// Why settings give no ground.
#[derive(Clone)]
enum NoGround {
    /// There is no repeat.
    Define(DefineError),
    /// The repeat is not a ground: all findings.
    Findings(Vec<Finding>),
}

/// One variety of one ground that can be worked, with all its choices made.
/// Cheap to clone: the ground is shared.
#[derive(Clone)]
pub struct Chosen {
    /// The contribution.
    pub entry: Arc<Entry>,
    /// Id of the variety that the choices started from.
    pub variety: String,
    /// Every choice with its value.
    pub settings: Settings,
    /// The ground itself.
    pub ground: Arc<Ground>,
}

/// Why a ground cannot be chosen.
#[derive(Clone, Debug, Error)]
pub enum ChooseError {
    /// Nothing has this name.
    #[error("the ground `{id}` is not known")]
    UnknownGround {
        /// The name asked for.
        id: String,
        /// The names nearest to it.
        near: Vec<String>,
        /// Contributions that could not be used; the ground may be in one of them.
        left_out: Vec<LeftOut>,
    },
    /// Several grounds or varieties have this name.
    #[error("several grounds are called `{name}`: {}", listed(candidates))]
    Ambiguous {
        /// The name as typed.
        name: String,
        /// What it could mean, as users type it.
        candidates: Vec<String>,
    },
    /// An unknown variety, choice or value.
    #[error(transparent)]
    Unknown(#[from] ResolveError),
    /// The contribution gives no repeat for these choices.
    #[error(transparent)]
    Define(#[from] DefineError),
    /// The repeat cannot be worked.
    #[error("{title} ({file}): {name} is not a ground that can be worked: {}", errors(findings))]
    NotAGround {
        /// Title of the contribution.
        title: String,
        /// The name of its file.
        file: String,
        /// The variety, as `GROUND/VARIETY`.
        name: String,
        /// All findings, including warnings.
        findings: Vec<Finding>,
    },
}

fn errors(findings: &[Finding]) -> String {
    let errors: Vec<String> = findings.iter().filter(|f| f.is_error()).map(ToString::to_string).collect();
    errors.join("; ")
}

impl Entry {
    /// Wraps a contribution.
    pub fn new(contribution: impl Contribution + 'static) -> Entry {
        Entry { contribution: Box::new(contribution), grounds: Mutex::default() }
    }

    /// The contribution.
    pub fn contribution(&self) -> &dyn Contribution {
        &*self.contribution
    }

    /// The contribution's description of itself.
    pub fn about(&self) -> &About {
        self.contribution.about()
    }

    /// The name of its file in messages.
    pub fn file(&self) -> &str {
        self.contribution.file()
    }

    /// The repeat for some settings, whether it is a ground or not. This calls the
    /// contribution each time; for grounds there is [`Entry::choose`].
    ///
    /// # Errors
    /// If these settings give no repeat.
    pub fn define(&self, settings: &Settings) -> Result<Repeat, DefineError> {
        self.contribution.define(settings)
    }

    /// A variety (the usual one if none is named) with some choices changed.
    ///
    /// # Errors
    /// An unknown variety, choice or value, and choices that give no ground.
    pub fn choose(
        self: &Arc<Entry>,
        variety: Option<&str>,
        changes: &[Change],
    ) -> Result<Chosen, ChooseError> {
        let about = self.about();
        let settings = about.resolve(variety, changes)?;
        let variety = variety.unwrap_or_else(|| about.usual_variety()).to_owned();
        let ground = self.ground(&settings).map_err(|why| match why {
            NoGround::Define(why) => ChooseError::Define(why),
            NoGround::Findings(findings) => ChooseError::NotAGround {
                title: about.title.clone(),
                file: self.file().to_owned(),
                name: format!("{}/{variety}", about.id),
                findings,
            },
        })?;
        Ok(Chosen { entry: self.clone(), variety, settings, ground })
    }

    /// The ground for settings that name every choice, in order. If another thread
    /// is already computing it, this waits for the result.
    fn ground(&self, settings: &Settings) -> Worked {
        let place = {
            let mut grounds = self.grounds.lock().unwrap_or_else(PoisonError::into_inner);
            grounds.entry(settings.values().cloned().collect()).or_default().clone()
        };
        let work_out = || {
            let repeat = self.define(settings).map_err(NoGround::Define)?;
            Ground::new(repeat).map(Arc::new).map_err(NoGround::Findings)
        };
        place.get_or_init(work_out).clone()
    }
}

impl fmt::Debug for Entry {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Entry")
            .field("id", &self.about().id)
            .field("file", &self.file())
            .finish_non_exhaustive()
    }
}

impl Chosen {
    /// The contribution's description of itself.
    pub fn about(&self) -> &About {
        self.entry.about()
    }

    /// Its name as users type it: `rose/VARIETY`.
    pub fn name(&self) -> String {
        format!("{}/{}", self.about().id, self.variety)
    }

    /// The variety's title.
    pub fn title(&self) -> &str {
        self.about().title_of(&self.variety)
    }

    /// Every choice with its value as users type it.
    pub fn settings_as_typed(&self) -> IndexMap<String, String> {
        self.settings.iter().map(|(choice, value)| (choice.clone(), value.to_string())).collect()
    }
}

impl fmt::Debug for Chosen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Chosen")
            .field("name", &self.name())
            .field("settings", &self.settings)
            .finish_non_exhaustive()
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use rayon::prelude::*;

    use super::*;
    use crate::samples::Sample;

    #[test]
    fn a_repeat_is_defined_only_once() {
        let calls = Arc::new(AtomicUsize::new(0));
        let count = calls.clone();
        let entry = Arc::new(Entry::new(Sample::new("rose").watched(move || {
            count.fetch_add(1, Ordering::Relaxed);
        })));
        let chosen: Vec<Chosen> = (0..64_usize)
            .into_par_iter()
            .map(|n| {
                // The usual variety sets nothing, so these are two grounds.
                let variety = ["plain", "twisted"][n % 2];
                entry.choose(Some(variety), &[]).unwrap()
            })
            .collect();
        assert_eq!(calls.load(Ordering::Relaxed), 2);
        assert!(Arc::ptr_eq(&chosen[0].ground, &chosen[2].ground));
        assert!(!Arc::ptr_eq(&chosen[0].ground, &chosen[1].ground));
        // The same choices reached differently are the same ground.
        let same = entry.choose(None, &[Change::new("twists", 1)]).unwrap();
        assert!(Arc::ptr_eq(&same.ground, &chosen[1].ground));
        assert_eq!((same.name().as_str(), same.title()), ("rose/plain", "Plain rose"));
        assert_eq!(calls.load(Ordering::Relaxed), 2);
    }

    #[test]
    fn errors_say_why_there_is_no_ground() {
        let entry = Arc::new(Entry::new(Sample::new("rose")));
        let error = |variety, changes: &[Change]| entry.choose(variety, changes).unwrap_err().to_string();
        assert_eq!(
            error(Some("plian"), &[]),
            "rose has no variety `plian` (did you mean `plain`?); there are plain, twisted"
        );
        assert_eq!(
            error(None, &[Change::new("twists", 9)]),
            "rose: `twists` cannot be `9`; it can be a whole number from 0 to 3"
        );
        assert_eq!(error(None, &[Change::new("twists", 2)]), "two twists are not to be had");
        let message = error(None, &[Change::new("twists", 3)]);
        assert!(
            message.starts_with("Rose ground (rose.wasm): rose/plain is not a ground that can be worked: "),
            "{message}"
        );
    }
}
