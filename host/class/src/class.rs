//! A class: a recipe with every ground laid out in the thread of the class.

use catalogue::Chosen;
use compare::comparison::unsettled;
use compare::error::Error;
use compare::note::Note;
use compare::scale::{Pricking, Scale, thread_in_words};
use lace::Thread;
use picture::layout::Layout;
use picture::page::Fact;
use rayon::prelude::*;

use crate::needs::{rate, time};
use crate::recipe::{Found, Recipe, RecipeGround};

/// A recipe with all its grounds laid out.
#[derive(Clone, Debug)]
pub struct Class {
    /// The recipe.
    pub recipe: Recipe,
    /// Its pin spacing and thread.
    pub scale: Scale,
    /// The layout of each ground that can be worked.
    layouts: Vec<Option<Layout>>,
}

/// A ground of a class.
#[derive(Clone, Copy, Debug)]
pub enum Member<'c> {
    /// It can be worked.
    Worked(ClassGround<'c>),
    /// It cannot be shown.
    Missing(MissingGround<'c>),
}

/// A ground of a class that can be worked.
#[derive(Clone, Copy, Debug)]
pub struct ClassGround<'c> {
    pub(crate) class: &'c Class,
    /// Its entry in the recipe.
    pub wanted: &'c RecipeGround,
    /// The ground.
    pub chosen: &'c Chosen,
    /// Its layout.
    pub layout: &'c Layout,
}

/// A ground of a class that cannot be shown.
#[derive(Clone, Copy, Debug)]
pub struct MissingGround<'c> {
    /// Its entry in the recipe.
    pub wanted: &'c RecipeGround,
    /// Why it is missing, one sentence each; empty if a fault of the recipe says
    /// so already.
    pub why: &'c [String],
}

impl Member<'_> {
    /// Number of pins in its area; none if it is missing.
    fn pins(self) -> usize {
        match self {
            Member::Worked(ground) => ground.pins(),
            Member::Missing(_) => 0,
        }
    }
}

impl Class {
    /// Lays out all grounds of a recipe, on all processors.
    ///
    /// # Errors
    /// An unusable pin spacing, thread or angle.
    pub fn new(recipe: Recipe) -> Result<Class, Error> {
        let pricking = Pricking { pin_spacing_mm: recipe.pin_spacing_mm, angle_deg: None };
        let scale = Scale::new(pricking, recipe.thread.as_deref())?;
        let spacing = |wanted: &RecipeGround| match &wanted.found {
            Found::Ground(chosen) => Some(scale.spaced(wanted.pin_spacing_mm).pin_spacing_mm(chosen.about())),
            Found::Missing(_) => None,
        };
        let scale = scale.showing_spacings(recipe.grounds.iter().filter_map(spacing));
        let lay_out = |wanted: &RecipeGround| match &wanted.found {
            Found::Ground(chosen) => scale.spaced(wanted.pin_spacing_mm).lay_out(chosen).map(Some),
            Found::Missing(_) => Ok(None),
        };
        let layouts = recipe.grounds.par_iter().map(lay_out).collect::<Result<_, _>>()?;
        Ok(Class { recipe, scale, layouts })
    }

    /// Notes for the teacher: lace that will be crowded, colours that are hard to
    /// tell apart, threads that did not come to rest.
    pub fn notes(&self) -> Vec<Note> {
        let colours = self.recipe.grounds.iter().map(|wanted| wanted.arrangement.colours()).max();
        let unsettled = self.members().filter_map(|member| match member {
            Member::Worked(ground) => unsettled(ground.layout, ground.chosen),
            Member::Missing(_) => None,
        });
        let colour_notes = self.recipe.palette.notes(None, colours.unwrap_or(0));
        self.crowded().into_iter().chain(colour_notes).chain(unsettled).collect()
    }

    /// The note about the ground that is crowded most, if any is.
    fn crowded(&self) -> Option<Note> {
        let notes = self.members().filter_map(|member| match member {
            Member::Worked(ground) => ground.scale().note([ground.chosen.about()]),
            Member::Missing(_) => None,
        });
        let wraps = |note: &Note| match note {
            Note::Crowded { wraps, .. } => *wraps,
            _ => f64::INFINITY,
        };
        notes.min_by(|a, b| wraps(a).total_cmp(&wraps(b)))
    }

    /// Every ground of the recipe, in order.
    pub fn members(&self) -> impl Iterator<Item = Member<'_>> {
        self.recipe.grounds.iter().zip(&self.layouts).map(|(wanted, layout)| match (&wanted.found, layout) {
            (Found::Ground(chosen), Some(layout)) => {
                Member::Worked(ClassGround { class: self, wanted, chosen, layout })
            }
            (Found::Missing(why), _) => Member::Missing(MissingGround { wanted, why }),
            (Found::Ground(_), None) => Member::Missing(MissingGround { wanted, why: &[] }),
        })
    }

    /// The grounds that are missing.
    pub fn missing(&self) -> impl Iterator<Item = MissingGround<'_>> {
        self.members().filter_map(|member| match member {
            Member::Worked(_) => None,
            Member::Missing(missing) => Some(missing),
        })
    }

    /// Pin spacing, thread and working time in words.
    pub fn gauge(&self) -> Vec<Fact> {
        let given = self.scale.given_pin_spacing_mm();
        let spacing = match given {
            Some(spacing) => format!("{spacing} mm between two footside pins"),
            None => "the usual one of each ground".to_owned(),
        };
        let thread = match (&self.recipe.thread, given) {
            (Some(text), _) => match text.parse::<Thread>() {
                Ok(thread) => format!("{}, {:.2} mm thick", text.trim(), thread.diameter_mm()),
                Err(_) => text.trim().to_owned(),
            },
            (None, Some(spacing)) => thread_in_words(Thread::suiting(spacing)),
            (None, None) => "one that suits the pin spacing of each ground".to_owned(),
        };
        let mut facts = vec![Fact::new("Pin spacing", spacing), Fact::new("Thread", thread)];
        let pins: usize = self.members().map(Member::pins).sum();
        if pins > 0 {
            facts.push(Fact::new("Pins in all", format!("{pins}, {}, at {}", time(pins), rate())));
        }
        facts
    }
}

impl<'c> ClassGround<'c> {
    /// The scale with its own pin spacing, if it has one.
    pub fn scale(self) -> Scale {
        self.class.scale.spaced(self.wanted.pin_spacing_mm)
    }

    /// Its thread in words.
    pub fn thread(self) -> String {
        thread_in_words(self.scale().thread(self.chosen.about()))
    }

    /// The class it belongs to.
    pub fn class(self) -> &'c Class {
        self.class
    }

    /// Its name, with the choices that were changed.
    pub fn name(self) -> String {
        let with: Vec<String> =
            self.wanted.with.iter().map(|with| format!("{} {}", with.choice, with.value)).collect();
        let with = if with.is_empty() { String::new() } else { format!(" with {}", with.join(", ")) };
        let own = &self.wanted.name;
        let name = if own.contains('/') { own.clone() } else { self.chosen.name() };
        format!("{name}{with}")
    }

    /// Where each colour goes, in a sentence or two.
    pub fn travel(self) -> Vec<String> {
        let (ground, arrangement) = (&self.chosen.ground, &self.wanted.arrangement);
        // On an endless width the number of rows does not change the sentences.
        match ground.trace(arrangement.pairs().len(), 1) {
            Ok(trace) => ground.trace_in_words(&trace, arrangement, &self.class.recipe.palette.names()),
            Err(_) => vec![ground.travel_sentence()],
        }
    }
}
