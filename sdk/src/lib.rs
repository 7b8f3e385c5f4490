//! What a contributor of a lace ground or filling needs.
//!
//! A contribution is one crate. It describes itself ([`Contribution::about`]) and
//! gives the repeat for some settings ([`Contribution::define`]);
//! [`contribution!`] does the rest. A complete contribution and its test:
//!
//! ```
//! use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};
//!
//! /// Stitches at a pin: id, title, moves.
//! const STITCHES: [(&str, &str, &str); 2] = [
//!     ("half", "half stitch, pin, half stitch", "CT pin CT"),
//!     ("cloth-twist", "cloth stitch and twist either side of the pin", "CTCT pin CTCT"),
//! ];
//!
//! /// The simplest ground there is.
//! pub struct Plain;
//!
//! impl Contribution for Plain {
//!     fn about() -> About {
//!         About::ground("plain", "Plain ground")
//!             .family("torchon")
//!             .also_called("de", "Torchongrund", "common practice")
//!             .used_in(["Torchon"])
//!             .notes("A stitch at every dot of the grid.")
//!             .source("common practice, from memory")
//!             .choose("stitch", "Stitch at every pin", &STITCHES)
//!             .choose_count("twists", "Extra twists between the pins", 0..=3, 0)
//!             .variety(Variety::new("plain", "Plain ground").notes("Colours run on the diagonals."))
//!             .variety(Variety::new("firm", "Firm ground").set("stitch", "cloth-twist"))
//!     }
//!
//!     fn define(settings: &Settings) -> Result<Repeat, Problem> {
//!         Grid::new((1, 1), (-1, 1))
//!             .dot("pin", (0, 0), settings.pick("stitch", &STITCHES)?)
//!             .twists(settings.count("twists")?)
//!             .repeat()
//!     }
//! }
//!
//! contribution!(Plain);
//!
//! // In a unit test, with the feature `check` in [dev-dependencies]:
//! # #[cfg(feature = "check")]
//! pairwise_sdk::check::<Plain>();
//! # assert_eq!(Plain::define(&Settings::variety(&Plain::about(), "firm")).unwrap().legs.len(), 2);
//! ```
//!
//! `Cargo.toml` needs `crate-type = ["cdylib", "rlib"]`: one for the component,
//! one for the tests.
//!
//! **Places.** `x` grows to the right and `y` down the pillow, in grid steps. One
//! step is half the spacing of the footside pins, so a torchon grid has its dots
//! where `x + y` is even. The origin may be anywhere in the repeat.
//!
//! **Stitches.** A stitch is written with `C` for cross, `T` for twist, `pin`
//! and, if needed, `twist-left`, `twist-right`, `pair-cross`, `pair-twist`:
//! `CT pin CT`, `CTCT`, `CTTT pin`. See [`work()`].
//!
//! **Legs.** On a [`Grid`] a pair that leaves a dot on the left goes down the
//! left-hand diagonal to the next dot, and one that leaves on the right goes down
//! the right-hand diagonal. If a dot is left out, the pair runs on to the one
//! after it. [`Grid::leg`] sends a pair elsewhere. Or work the repeat stitch by
//! stitch on a [`Pillow`]: the pairs hang there, each stitch takes two
//! neighbours, and the legs follow. A filling in torchon ground gets its
//! surroundings from [`in_torchon`].
//!
//! **Rules.** The same settings must always give the same repeat: a component has
//! no clock, no files, no random numbers and no imports at all.
//!
//! The plain types come from the interface (`wit/0.2.0/ground.wit`), which also
//! gives the limits of every field.

#![deny(missing_docs)]

mod about;
#[doc(hidden)]
pub mod bindings;
#[cfg(feature = "check")]
mod check;
mod grid;
mod inset;
mod motif;
mod pillow;
mod settings;
mod work;

/// A choice, as [`About::choose`] and [`About::choose_count`] make it.
///
/// ```
/// use pairwise_sdk::{About, Value};
///
/// let about = About::ground("plain", "Plain ground").choose_count("twists", "Extra twists", 0..=3, 1);
/// let twists = &about.choices[0];
/// assert_eq!((twists.id.as_str(), &twists.default), ("twists", &Value::Count(1)));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Choice;

/// The description of a contribution; start with [`About::ground`] or
/// [`About::filling`].
///
/// ```
/// use pairwise_sdk::{About, Variety};
///
/// let about = About::ground("plain", "Plain ground")
///     .used_in(["Torchon"])
///     .source("common practice, from memory")
///     .variety(Variety::new("plain", "Plain ground"));
/// assert_eq!(about.varieties.len(), 1);
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Description as About;

/// Ground or filling.
///
/// ```
/// use pairwise_sdk::{About, Kind};
///
/// assert_eq!(About::ground("rose", "Rose ground").kind, Kind::Ground);
/// assert_eq!(About::filling("tally", "Tallies", "torchon").kind, Kind::Filling);
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Kind;

/// The leg of one pair, as [`Grid`] and [`Pillow`] find it.
///
/// ```
/// let repeat = pairwise_sdk::Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat().unwrap();
/// // The pair that leaves on the left comes to the same stitch one repeat `down`.
/// let leg = repeat.legs[0];
/// assert_eq!((leg.from, leg.to, leg.cell_across, leg.cell_down), (0, 0, 0, 1));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Leg;

/// One move, as [`work()`] reads it.
///
/// ```
/// use pairwise_sdk::{Move, work};
///
/// assert_eq!(work("CT twist-left"), Ok(vec![Move::Cross, Move::Twist, Move::TwistLeft]));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Move;

/// One option of a choice.
///
/// ```
/// use pairwise_sdk::{About, OptionOf, Range};
///
/// let about = About::ground("plain", "Plain ground")
///     .choose("stitch", "Stitch", &[("half", "half stitch", "CT")]);
/// let half = OptionOf { id: "half".to_owned(), title: "half stitch".to_owned() };
/// assert_eq!(about.choices[0].range, Range::Named(vec![half]));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::OptionOf;

/// A trade name, as [`About::also_called`] makes it.
///
/// ```
/// let about = pairwise_sdk::About::ground("rose", "Rose ground")
///     .also_called("de", "Rosengrund", "common practice");
/// assert_eq!(about.other_names[0].name, "Rosengrund");
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::OtherName;

/// A place in grid steps.
///
/// ```
/// use pairwise_sdk::{Grid, Point};
///
/// let repeat = Grid::new((1, 1), (-1, 1)).dot("pin", (0.5, 0), "CT pin CT").repeat().unwrap();
/// assert_eq!(repeat.down, Point { x: -1.0, y: 1.0 });
/// assert_eq!(repeat.stitches[0].at, Some(Point { x: 0.5, y: 0.0 }));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Point;

/// A refusal in words.
///
/// ```
/// let problem = pairwise_sdk::Problem::new("nine rows do not fit").because_of("rows");
/// assert_eq!(problem.choice.as_deref(), Some("rows"));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Problem;

/// The possible values of a choice.
///
/// ```
/// use pairwise_sdk::{About, Range};
///
/// let about = About::ground("plain", "Plain ground").choose_count("twists", "Extra twists", 0..=3, 1);
/// assert_eq!(about.choices[0].range, Range::Count((0, 3)));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Range;

/// A repeat, as [`Grid::repeat`] and [`Pillow::repeat`] give it.
///
/// ```
/// let repeat = pairwise_sdk::Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat().unwrap();
/// assert_eq!((repeat.stitches.len(), repeat.legs.len()), (1, 2));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Repeat;

/// The value set for one choice.
///
/// ```
/// use pairwise_sdk::{Setting, Value, Variety};
///
/// let variety = Variety::new("firm", "Firm ground").set("twists", 2);
/// assert_eq!(variety.settings, [Setting { choice: "twists".to_owned(), value: Value::Count(2) }]);
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Setting;

/// The left or right side of a stitch.
///
/// ```
/// use pairwise_sdk::{Grid, Side};
///
/// let repeat = Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat().unwrap();
/// // Down the left-hand diagonal, into the next stitch on its right.
/// assert_eq!((repeat.legs[0].from_side, repeat.legs[0].to_side), (Side::Left, Side::Right));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Side;

/// A stitch with its place and moves.
///
/// ```
/// let repeat = pairwise_sdk::Pillow::new(2, 2).dot("pin", (0, 0), "CT pin CT").repeat((1, 1), 1).unwrap();
/// assert_eq!((repeat.stitches[0].id.as_str(), repeat.stitches[0].work.len()), ("pin", 5));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Stitch;

/// The value of a choice.
///
/// ```
/// use pairwise_sdk::Value;
///
/// assert_eq!(Value::from("half"), Value::Named("half".to_owned()));
/// assert_eq!(Value::from(2), Value::Count(2));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Value;

/// A named set of choices; start with [`Variety::new`].
///
/// ```
/// use pairwise_sdk::{About, Settings, Variety};
///
/// let about = About::ground("plain", "Plain ground")
///     .choose_count("twists", "Extra twists", 0..=3, 0)
///     .variety(Variety::new("twisted", "Plain ground with a twist").set("twists", 1));
/// assert_eq!(Settings::variety(&about, "twisted").count("twists"), Ok(1));
/// ```
#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::Variety;
#[cfg(feature = "check")]
pub use check::{check, to_lace, travels};
pub use grid::Grid;
pub use inset::{TORCHON, in_torchon, square};
pub use motif::{spider, tally};
pub use pillow::Pillow;
pub use settings::Settings;
pub use work::work;

/// One ground or filling with its varieties.
///
/// ```
/// # use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety};
/// # struct Plain;
/// # impl Contribution for Plain {
/// #     fn about() -> About {
/// #         About::ground("plain", "Plain ground").variety(Variety::new("plain", "Plain ground"))
/// #     }
/// #     fn define(_: &Settings) -> Result<Repeat, Problem> {
/// #         Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat()
/// #     }
/// # }
/// assert_eq!(Plain::about().id, "plain");
/// assert_eq!(Plain::define(&Settings::defaults(&Plain::about())).unwrap().stitches.len(), 1);
/// ```
pub trait Contribution {
    /// The description of the contribution; start with [`About::ground`] or
    /// [`About::filling`].
    ///
    /// ```
    /// # use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety};
    /// # struct Plain;
    /// # impl Contribution for Plain {
    /// #     fn about() -> About {
    /// #         About::ground("plain", "Plain ground").variety(Variety::new("plain", "Plain ground"))
    /// #     }
    /// #     fn define(_: &Settings) -> Result<Repeat, Problem> {
    /// #         Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat()
    /// #     }
    /// # }
    /// assert_eq!(Plain::about().title, "Plain ground");
    /// ```
    fn about() -> About;

    /// The repeat for these settings. The host makes sure that every choice of
    /// [`Contribution::about`] is set to a value in its range.
    ///
    /// # Errors
    /// A [`Problem`], in a lacemaker's words, when these settings give no ground.
    ///
    /// # Examples
    /// ```
    /// # use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety};
    /// # struct Plain;
    /// # impl Contribution for Plain {
    /// #     fn about() -> About {
    /// #         About::ground("plain", "Plain ground").variety(Variety::new("plain", "Plain ground"))
    /// #     }
    /// #     fn define(_: &Settings) -> Result<Repeat, Problem> {
    /// #         Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat()
    /// #     }
    /// # }
    /// let settings = Settings::variety(&Plain::about(), "plain");
    /// assert_eq!(Plain::define(&settings).unwrap().legs.len(), 2);
    /// ```
    fn define(settings: &Settings) -> Result<Repeat, Problem>;
}

impl<T: Contribution> bindings::exports::pairwise::ground::ground::Guest for T {
    fn about() -> About {
        T::about()
    }

    fn define(settings: Vec<Setting>) -> Result<Repeat, Problem> {
        T::define(&Settings::from(settings))
    }
}

/// Makes the crate a contribution: exports the type that implements
/// [`Contribution`] when compiled to WebAssembly. Natively it exports nothing;
/// tests call the trait.
///
/// ```
/// # use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety};
/// # struct Plain;
/// # impl Contribution for Plain {
/// #     fn about() -> About {
/// #         About::ground("plain", "Plain ground").variety(Variety::new("plain", "Plain ground"))
/// #     }
/// #     fn define(_: &Settings) -> Result<Repeat, Problem> {
/// #         Grid::new((1, 1), (-1, 1)).dot("pin", (0, 0), "CT pin CT").repeat()
/// #     }
/// # }
/// pairwise_sdk::contribution!(Plain);
/// ```
#[macro_export]
macro_rules! contribution {
    ($contribution:ident) => {
        const _: fn() -> $crate::About = <$contribution as $crate::Contribution>::about;
        #[cfg(target_arch = "wasm32")]
        $crate::bindings::export_contribution!($contribution with_types_in $crate::bindings);
    };
}

impl Problem {
    /// A problem from one sentence.
    ///
    /// ```
    /// let problem = pairwise_sdk::Problem::new("a spider of nine legs does not fit between its neighbours");
    /// assert_eq!(problem.choice, None);
    /// ```
    pub fn new(sentence: impl Into<String>) -> Problem {
        Problem { choice: None, sentence: sentence.into() }
    }

    /// Names the choice that is to blame.
    ///
    /// ```
    /// let problem = pairwise_sdk::Problem::new("nine legs do not fit").because_of("legs");
    /// assert_eq!(problem.choice.as_deref(), Some("legs"));
    /// ```
    #[must_use]
    pub fn because_of(mut self, choice: &str) -> Problem {
        self.choice = Some(choice.to_owned());
        self
    }
}
