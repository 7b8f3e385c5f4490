//! A contribution in the catalogue, and the grounds that were chosen from it.

use std::fmt;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use indexmap::IndexMap;
use lace::{Finding, Ground, Repeat};
use thiserror::Error;

use crate::about::{About, Change, ResolveError, Settings, Value};
use crate::contribution::{Contribution, DefineError, LeftOut};
use crate::near::near_names;

/// A contribution in the catalogue. It keeps every ground that was chosen from
/// it, so that no repeat is defined or checked a second time.
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
    /// The repeat is no ground: all findings.
    Findings(Vec<Finding>),
}

/// One variety of one ground, with all its choices made and found to be one
/// that can be worked. A copy costs next to nothing: the ground is shared.
#[derive(Clone)]
pub struct Chosen {
    /// The contribution.
    pub entry: Arc<Entry>,
    /// Id of the variety the choices began from.
    pub variety: String,
    /// Every choice with its value.
    pub settings: Settings,
    /// The ground itself.
    pub ground: Arc<Ground>,
}

/// Why a ground that was asked for cannot be had.
#[derive(Clone, Debug, Error)]
pub enum ChooseError {
    /// No contribution is called so.
    #[error("the ground `{id}` is not known")]
    UnknownGround {
        /// The id asked for.
        id: String,
        /// The ids nearest to it.
        near: Vec<String>,
        /// Contributions that could not be used: it may be one of them.
        left_out: Vec<LeftOut>,
    },
    /// A variety, choice or value that is not there.
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
        /// What its file is called.
        file: String,
        /// The variety, as `GROUND/VARIETY`.
        name: String,
        /// All that was found, warnings too.
        findings: Vec<Finding>,
    },
}

impl ChooseError {
    /// No contribution is called so, of those whose ids are known.
    pub fn unknown_ground<'k>(
        id: &str,
        known: impl IntoIterator<Item = &'k str>,
        left_out: &[LeftOut],
    ) -> ChooseError {
        ChooseError::UnknownGround {
            id: id.to_owned(),
            near: near_names(id, known).into_iter().map(str::to_owned).collect(),
            left_out: left_out.to_vec(),
        }
    }
}

fn errors(findings: &[Finding]) -> String {
    let errors: Vec<String> = findings.iter().filter(|f| f.is_error()).map(ToString::to_string).collect();
    errors.join("; ")
}

impl Entry {
    /// A contribution from which nothing has been chosen yet.
    pub fn new(contribution: impl Contribution + 'static) -> Entry {
        Entry { contribution: Box::new(contribution), grounds: Mutex::default() }
    }

    /// The contribution.
    pub fn contribution(&self) -> &dyn Contribution {
        &*self.contribution
    }

    /// What the contribution says of itself.
    pub fn about(&self) -> &About {
        self.contribution.about()
    }

    /// What its file is called in messages.
    pub fn file(&self) -> &str {
        self.contribution.file()
    }

    /// The repeat for some settings, whether it is a ground or not. The
    /// contribution is asked each time; for grounds there is [`Entry::choose`].
    ///
    /// # Errors
    /// Where these settings give no repeat.
    pub fn define(&self, settings: &Settings) -> Result<Repeat, DefineError> {
        self.contribution.define(settings)
    }

    /// A variety (without a name the usual one) with some choices made
    /// otherwise.
    ///
    /// # Errors
    /// Where a variety, choice or value is not there, and where the choices give
    /// no ground.
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

    /// The ground for settings that name every choice, in the order of the
    /// choices. Whoever asks for one that another thread is working out waits
    /// for it.
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
    /// What the contribution says of itself.
    pub fn about(&self) -> &About {
        self.entry.about()
    }

    /// How the user names it: `rose/VARIETY`.
    pub fn name(&self) -> String {
        format!("{}/{}", self.about().id, self.variety)
    }

    /// What the lacemaker reads: the variety's title.
    pub fn title(&self) -> &str {
        self.about().title_of(&self.variety)
    }

    /// Every choice with its value as it is typed.
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
    fn a_repeat_is_defined_once_however_many_ask() {
        let asked = Arc::new(AtomicUsize::new(0));
        let count = asked.clone();
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
        assert_eq!(asked.load(Ordering::Relaxed), 2);
        assert!(Arc::ptr_eq(&chosen[0].ground, &chosen[2].ground));
        assert!(!Arc::ptr_eq(&chosen[0].ground, &chosen[1].ground));
        // The same choices by another way are the same ground.
        let same = entry.choose(None, &[("twists".into(), "1".into())]).unwrap();
        assert!(Arc::ptr_eq(&same.ground, &chosen[1].ground));
        assert_eq!((same.name().as_str(), same.title()), ("rose/plain", "Plain rose"));
        assert_eq!(asked.load(Ordering::Relaxed), 2);
    }

    #[test]
    fn what_gives_no_ground_says_why() {
        let entry = Arc::new(Entry::new(Sample::new("rose")));
        let told = |variety, changes: &[Change]| entry.choose(variety, changes).unwrap_err().to_string();
        assert_eq!(
            told(Some("plian"), &[]),
            "rose has no variety `plian` (did you mean `plain`?); there are plain, twisted"
        );
        assert_eq!(
            told(None, &[("twists".into(), "9".into())]),
            "rose: `twists` cannot be `9`; it can be a whole number from 0 to 3"
        );
        assert_eq!(told(None, &[("twists".into(), "2".into())]), "two twists are not to be had");
        let told = told(None, &[("twists".into(), "3".into())]);
        assert!(
            told.starts_with("Rose ground (rose.wasm): rose/plain is not a ground that can be worked: "),
            "{told}"
        );
    }
}
