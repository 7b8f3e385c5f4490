//! The settings that [`crate::Contribution::define`] reads.

use crate::{About, Problem, Setting, Value};

/// The settings: one for every choice of [`crate::Contribution::about`].
///
/// ```
/// # use pairwise_sdk::{About, Settings, Variety};
/// # const STITCHES: [(&str, &str, &str); 2] =
/// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
/// # let about = About::ground("plain", "Plain ground")
/// #     .choose("stitch", "Stitch", &STITCHES)
/// #     .choose_count("twists", "Extra twists", 0..=3, 1)
/// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
/// // `about` offers a choice of `stitch` and a number of `twists`.
/// let settings = Settings::defaults(&about);
/// assert_eq!((settings.named("stitch"), settings.count("twists")), (Ok("half"), Ok(1)));
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Settings(Vec<Setting>);

/// The settings as the interface passes them.
///
/// ```
/// use pairwise_sdk::{Setting, Settings, Value};
///
/// let chosen = vec![Setting { choice: "twists".to_owned(), value: Value::Count(2) }];
/// assert_eq!(Settings::from(chosen).count("twists"), Ok(2));
/// ```
impl From<Vec<Setting>> for Settings {
    fn from(settings: Vec<Setting>) -> Settings {
        Settings(settings)
    }
}

impl Settings {
    /// Every choice at its default. For tests; the host does this itself.
    ///
    /// ```
    /// # use pairwise_sdk::{About, Settings, Variety};
    /// # const STITCHES: [(&str, &str, &str); 2] =
    /// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
    /// # let about = About::ground("plain", "Plain ground")
    /// #     .choose("stitch", "Stitch", &STITCHES)
    /// #     .choose_count("twists", "Extra twists", 0..=3, 1)
    /// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
    /// assert_eq!(Settings::defaults(&about).named("stitch"), Ok("half"));
    /// ```
    pub fn defaults(about: &About) -> Settings {
        let default = |c: &crate::Choice| Setting { choice: c.id.clone(), value: c.default.clone() };
        Settings(about.choices.iter().map(default).collect())
    }

    /// The settings of a variety. For tests; the host does this itself.
    ///
    /// # Panics
    /// When there is no such variety.
    ///
    /// # Examples
    /// ```
    /// # use pairwise_sdk::{About, Settings, Variety};
    /// # const STITCHES: [(&str, &str, &str); 2] =
    /// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
    /// # let about = About::ground("plain", "Plain ground")
    /// #     .choose("stitch", "Stitch", &STITCHES)
    /// #     .choose_count("twists", "Extra twists", 0..=3, 1)
    /// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
    /// assert_eq!(Settings::variety(&about, "firm").named("stitch"), Ok("cloth"));
    /// ```
    pub fn variety(about: &About, id: &str) -> Settings {
        let found = about.varieties.iter().find(|v| v.id == id);
        let variety = found.unwrap_or_else(|| panic!("`{}` has no variety `{id}`", about.id));
        let settings = variety.settings.iter().cloned();
        settings.fold(Settings::defaults(about), |all, s| all.with(&s.choice, s.value))
    }

    /// The same with one choice changed. For tests.
    ///
    /// # Panics
    /// When there is no such choice.
    ///
    /// # Examples
    /// ```
    /// # use pairwise_sdk::{About, Settings, Variety};
    /// # const STITCHES: [(&str, &str, &str); 2] =
    /// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
    /// # let about = About::ground("plain", "Plain ground")
    /// #     .choose("stitch", "Stitch", &STITCHES)
    /// #     .choose_count("twists", "Extra twists", 0..=3, 1)
    /// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
    /// assert_eq!(Settings::defaults(&about).with("twists", 3).count("twists"), Ok(3));
    /// ```
    #[must_use]
    pub fn with(mut self, choice: &str, value: impl Into<Value>) -> Settings {
        let found = self.0.iter_mut().find(|s| s.choice == choice);
        found.unwrap_or_else(|| panic!("there is no choice `{choice}`")).value = value.into();
        self
    }

    /// The id of the chosen option.
    ///
    /// # Errors
    /// When `choice` is not a choice among named options.
    ///
    /// # Examples
    /// ```
    /// # use pairwise_sdk::{About, Settings, Variety};
    /// # const STITCHES: [(&str, &str, &str); 2] =
    /// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
    /// # let about = About::ground("plain", "Plain ground")
    /// #     .choose("stitch", "Stitch", &STITCHES)
    /// #     .choose_count("twists", "Extra twists", 0..=3, 1)
    /// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
    /// let settings = Settings::defaults(&about);
    /// assert_eq!(settings.named("stitch"), Ok("half"));
    /// assert_eq!(settings.named("twists").unwrap_err().sentence, "`twists` is a number, not a named option");
    /// ```
    pub fn named(&self, choice: &str) -> Result<&str, Problem> {
        match self.value(choice)? {
            Value::Named(option) => Ok(option),
            Value::Count(_) => {
                Err(Problem::new(format!("`{choice}` is a number, not a named option")).because_of(choice))
            }
        }
    }

    /// The chosen number.
    ///
    /// # Errors
    /// When `choice` is not a choice of a number.
    ///
    /// # Examples
    /// ```
    /// # use pairwise_sdk::{About, Settings, Variety};
    /// # const STITCHES: [(&str, &str, &str); 2] =
    /// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
    /// # let about = About::ground("plain", "Plain ground")
    /// #     .choose("stitch", "Stitch", &STITCHES)
    /// #     .choose_count("twists", "Extra twists", 0..=3, 1)
    /// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
    /// let settings = Settings::defaults(&about);
    /// assert_eq!(settings.count("twists"), Ok(1));
    /// assert_eq!(settings.count("pins").unwrap_err().sentence, "`about` names no choice `pins`");
    /// ```
    pub fn count(&self, choice: &str) -> Result<i32, Problem> {
        match self.value(choice)? {
            Value::Count(count) => Ok(*count),
            Value::Named(_) => {
                Err(Problem::new(format!("`{choice}` is a named option, not a number")).because_of(choice))
            }
        }
    }

    /// The value of the chosen option in the table that was given to
    /// [`About::choose`].
    ///
    /// # Errors
    /// When `choice` is not a choice among these options.
    ///
    /// # Examples
    /// ```
    /// # use pairwise_sdk::{About, Settings, Variety};
    /// # const STITCHES: [(&str, &str, &str); 2] =
    /// #     [("half", "half stitch", "CT"), ("cloth", "cloth stitch", "CTC")];
    /// # let about = About::ground("plain", "Plain ground")
    /// #     .choose("stitch", "Stitch", &STITCHES)
    /// #     .choose_count("twists", "Extra twists", 0..=3, 1)
    /// #     .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth"));
    /// let settings = Settings::variety(&about, "firm");
    /// assert_eq!(settings.pick("stitch", &STITCHES), Ok(&"CTC"));
    /// ```
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
