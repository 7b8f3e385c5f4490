//! What a contributor of a lace ground or filling needs.
//!
//! A contribution is one crate. It says what it is ([`Contribution::about`])
//! and gives the repeat for the choices made ([`Contribution::define`]);
//! [`contribution!`] does the rest. A whole contribution and its test:
//!
//! ```
//! use pairwise_sdk::{About, Contribution, Grid, Problem, Repeat, Settings, Variety, contribution};
//!
//! /// What may be worked at a pin: id, what the lacemaker reads, the moves.
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
//! `Cargo.toml` asks for `crate-type = ["cdylib", "rlib"]`: the component and
//! the library that tests use.
//!
//! **Where things lie.** `x` grows to the right, `y` down the pillow, in grid
//! steps; one step is half the spacing of the footside pins, so a torchon grid
//! has its dots where `x + y` is even. The origin is anywhere in the repeat.
//!
//! **How a stitch is written.** `C` cross, `T` twist, `pin`, and, where they are
//! needed, `twist-left`, `twist-right`, `pair-cross`, `pair-twist`:
//! `CT pin CT`, `CTCT`, `CTTT pin`. See [`work()`].
//!
//! **How legs are found.** On a [`Grid`] a pair that leaves a dot on the left
//! goes down the left-hand diagonal to the next dot there, one that leaves on
//! the right down the right-hand diagonal. Leaving a dot out lets the pair run
//! on to the one behind it. Where a ground does otherwise, [`Grid::leg`] says so.
//! Or work the repeat stitch after stitch on a [`Pillow`]: the pairs hang there,
//! each stitch takes two neighbours, and all legs follow. A filling that sits in
//! torchon ground gets its surroundings from [`in_torchon`].
//!
//! **Rules of the house.** The same settings must always give the same repeat:
//! a component has no clock, no files, no chance and no imports at all.
//!
//! The plain types are those of the interface (`wit/ground.wit`), which also
//! says the limits of every field.

mod about;
#[doc(hidden)]
pub mod bindings;
#[cfg(all(feature = "check", not(target_arch = "wasm32")))]
mod check;
mod grid;
mod inset;
mod motif;
mod pillow;
mod settings;
mod work;

#[doc(inline)]
pub use bindings::exports::pairwise::ground::ground::{
    Choice, Description as About, Kind, Leg, Move, OptionOf, OtherName, Point, Problem, Range, Repeat,
    Setting, Side, Stitch, Value, Variety,
};
#[cfg(all(feature = "check", not(target_arch = "wasm32")))]
pub use check::{check, to_lace, travels};
pub use grid::Grid;
pub use inset::{TORCHON, in_torchon, square};
pub use motif::{spider, tally};
pub use pillow::Pillow;
pub use settings::Settings;
pub use work::work;

/// One ground or filling with its varieties.
pub trait Contribution {
    /// What the contribution is; begin with [`About::ground`] or
    /// [`About::filling`].
    fn about() -> About;

    /// The repeat for these choices. The host has made sure that every choice
    /// of [`Contribution::about`] is there and inside its range.
    ///
    /// # Errors
    /// A [`Problem`] where these choices give no ground, in a lacemaker's words.
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
    pub fn new(sentence: impl Into<String>) -> Problem {
        Problem { choice: None, sentence: sentence.into() }
    }

    /// Names the choice that is to blame.
    #[must_use]
    pub fn because_of(mut self, choice: &str) -> Problem {
        self.choice = Some(choice.to_owned());
        self
    }
}
