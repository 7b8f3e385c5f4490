//! The choices made, as [`crate::Contribution::define`] reads them.

use crate::{About, Problem, Setting, Value};

/// The choices made: one setting for every choice of
/// [`crate::Contribution::about`].
#[derive(Clone, Debug, PartialEq)]
pub struct Settings(Vec<Setting>);

impl From<Vec<Setting>> for Settings {
    fn from(settings: Vec<Setting>) -> Settings {
        Settings(settings)
    }
}

impl Settings {
    /// Every choice at its default. For tests; the host does this by itself.
    pub fn defaults(about: &About) -> Settings {
        let default = |c: &crate::Choice| Setting { choice: c.id.clone(), value: c.default.clone() };
        Settings(about.choices.iter().map(default).collect())
    }

    /// The choices of a variety. For tests; the host does this by itself.
    ///
    /// # Panics
    /// Where there is no such variety.
    pub fn variety(about: &About, id: &str) -> Settings {
        let found = about.varieties.iter().find(|v| v.id == id);
        let variety = found.unwrap_or_else(|| panic!("`{}` has no variety `{id}`", about.id));
        let settings = variety.settings.iter().cloned();
        settings.fold(Settings::defaults(about), |all, s| all.with(&s.choice, s.value))
    }

    /// The same with one choice changed. For tests.
    ///
    /// # Panics
    /// Where there is no such choice.
    #[must_use]
    pub fn with(mut self, choice: &str, value: impl Into<Value>) -> Settings {
        let found = self.0.iter_mut().find(|s| s.choice == choice);
        found.unwrap_or_else(|| panic!("there is no choice `{choice}`")).value = value.into();
        self
    }

    /// The option chosen, by its id.
    ///
    /// # Errors
    /// Where `choice` is not a choice among named options.
    pub fn named(&self, choice: &str) -> Result<&str, Problem> {
        match self.value(choice)? {
            Value::Named(option) => Ok(option),
            Value::Count(_) => {
                Err(Problem::new(format!("`{choice}` is a number, not a named option")).because_of(choice))
            }
        }
    }

    /// The number chosen.
    ///
    /// # Errors
    /// Where `choice` is not a choice of a number.
    pub fn count(&self, choice: &str) -> Result<i32, Problem> {
        match self.value(choice)? {
            Value::Count(count) => Ok(*count),
            Value::Named(_) => {
                Err(Problem::new(format!("`{choice}` is a named option, not a number")).because_of(choice))
            }
        }
    }

    /// What the option chosen stands for in the table that was given to
    /// [`About::choose`].
    ///
    /// # Errors
    /// Where `choice` is not a choice among these options.
    pub fn pick<'a, T>(&self, choice: &str, options: &'a [(&str, &str, T)]) -> Result<&'a T, Problem> {
        let chosen = self.named(choice)?;
        let found = options.iter().find(|(id, ..)| *id == chosen);
        found
            .map(|(.., stands_for)| stands_for)
            .ok_or_else(|| Problem::new(format!("`{choice}` has no option `{chosen}`")).because_of(choice))
    }

    fn value(&self, choice: &str) -> Result<&Value, Problem> {
        let found = self.0.iter().find(|s| s.choice == choice);
        found.map(|s| &s.value).ok_or_else(|| Problem::new(format!("`about` names no choice `{choice}`")))
    }
}
