//! A class: a recipe with every ground laid out in the thread of the class.

use catalogue::Chosen;
use compare::comparison::unsettled;
use compare::error::Error;
use compare::note::Note;
use compare::scale::{Pricking, Scale};
use picture::colour::Rgb;
use picture::layout::Layout;
use picture::page::Fact;
use rayon::prelude::*;

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

impl Class {
    /// Lays out all grounds of a recipe, on all processors.
    ///
    /// # Errors
    /// An unusable pin spacing, thread or angle.
    pub fn new(recipe: Recipe) -> Result<Class, Error> {
        let pricking = Pricking { pin_spacing_mm: recipe.pin_spacing_mm, angle_deg: None };
        let scale = Scale::new(pricking, recipe.thread.as_deref())?;
        let lay_out = |wanted: &RecipeGround| match &wanted.found {
            Found::Ground(chosen) => scale.lay_out(&chosen.ground, chosen.about().angle).map(Some),
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
        let colour_notes = self.recipe.palette.notes(Rgb::LINEN, colours.unwrap_or(0));
        self.scale.note().into_iter().chain(colour_notes).chain(unsettled).collect()
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

    /// Pin spacing and thread in words.
    pub fn gauge(&self) -> Vec<Fact> {
        let thick = format!("{:.2} mm thick", self.scale.thread_mm);
        let thread = match &self.recipe.thread {
            Some(text) => format!("{}, {thick}", text.trim()),
            None => format!("{thick}, {:.0} wraps/cm", 10.0 / self.scale.thread_mm),
        };
        let spacing = format!("{} mm between two footside pins", self.scale.pin_spacing_mm);
        vec![Fact::new("Pin spacing", spacing), Fact::new("Thread", thread)]
    }
}

impl<'c> ClassGround<'c> {
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
