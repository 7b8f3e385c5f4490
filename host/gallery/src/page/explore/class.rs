//! The class as the script knows it: what its recipe says that a page neither
//! shows nor changes, so that a recipe saved from a page still has it.

use class::recipe::RecipeGround;
use class::{ClassPaper, Member};
use lace::number;
use report::explore::{Class, ClassGround};

use super::swatches;
use crate::shared::Gallery;

/// The class of a gallery, if there is one that can be worked.
pub fn of<E>(gallery: &Gallery<'_, E>) -> Option<Class> {
    let class = gallery.plan.request.class.as_ref()?.class.as_ref()?;
    let recipe = &class.recipe;
    let is_its_paper = |paper: &ClassPaper| paper.paper() == recipe.paper;
    let paper = ClassPaper::ALL.into_iter().find(is_its_paper).unwrap_or(ClassPaper::A4);
    let grounds = class.members().filter_map(|member| match member {
        // A ground with changed choices is not in the gallery.
        Member::Worked(ground) if ground.wanted.with.is_empty() => {
            Some(class_ground(ground.chosen.name(), ground.wanted))
        }
        _ => None,
    });
    Some(Class {
        title: recipe.title.clone(),
        class: recipe.class.clone(),
        notes: recipe.notes.clone(),
        paper: paper.name().to_owned(),
        pin_spacing_mm: recipe.pin_spacing_mm,
        thread: recipe.thread.clone(),
        colours: swatches(recipe.palette.swatches()),
        grounds: grounds.collect(),
    })
}

fn class_ground(name: String, wanted: &RecipeGround) -> ClassGround {
    ClassGround {
        name,
        arrangement: wanted.arrangement.to_string(),
        pin_spacing_mm: wanted.pin_spacing_mm,
        area: format!("{}x{}", number(wanted.area.width), number(wanted.area.height)),
        notes: wanted.notes.clone(),
    }
}
