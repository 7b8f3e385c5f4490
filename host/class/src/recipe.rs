//! The recipe of a class, `pairwise-recipe/1`: which grounds, in which colours,
//! how large. Recipes are small TOML files, written by hand, so every fault comes
//! with its place and what to do.

mod colours;
mod file;
mod ground;
mod read;

use std::ops::Range;

use catalogue::{Change, Chosen};
use compare::palette::Palette;
use lace::Arrangement;
use picture::drawing::pricking::Paper;

use crate::area::Area;

pub use read::read;

/// The format that recipes name.
pub const FORMAT: &str = "pairwise-recipe/1";
/// Largest recipe, in bytes.
pub const MOST_BYTES: u64 = 1 << 18;

/// The recipe of a class.
#[derive(Clone, Debug)]
pub struct Recipe {
    /// The title.
    pub title: String,
    /// A line about the class; may be empty.
    pub class: String,
    /// Words for the cover; may be empty.
    pub notes: String,
    /// The paper.
    pub paper: Paper,
    /// Distance between two footside pins, mm; `None` for the usual one of each
    /// ground.
    pub pin_spacing_mm: Option<f64>,
    /// The thread as it is written.
    pub thread: Option<String>,
    /// The colours.
    pub palette: Palette,
    /// The grounds.
    pub grounds: Vec<RecipeGround>,
}

/// A ground of a recipe.
#[derive(Clone, Debug)]
pub struct RecipeGround {
    /// Its name as it is written.
    pub name: String,
    /// Changed choices.
    pub with: Vec<Change>,
    /// The arrangement of its colours.
    pub arrangement: Arrangement,
    /// Its own pin spacing, mm; `None` for that of the class.
    pub pin_spacing_mm: Option<f64>,
    /// The area of its pricking.
    pub area: Area,
    /// The teacher's notes; may be empty.
    pub notes: String,
    /// The ground itself.
    pub found: Found,
}

/// Whether the ground of a recipe can be worked.
#[derive(Clone, Debug)]
pub enum Found {
    /// It can be worked.
    Ground(Box<Chosen>),
    /// It cannot, for these reasons, one sentence each; empty if a fault of the
    /// recipe says so already.
    Missing(Vec<String>),
}

/// A recipe, as far as it could be read.
#[derive(Clone, Debug)]
pub struct ReadRecipe {
    /// The recipe, with the usual value wherever there is a fault; `None` if
    /// nothing can be read.
    pub recipe: Option<Recipe>,
    /// The faults, in the order of the lines.
    pub faults: Vec<RecipeFault>,
}

/// A fault of a recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeFault {
    /// Where it is, in bytes of the text.
    pub at: Range<usize>,
    /// Its line, counted from 1.
    pub line: usize,
    /// Its ground, counted from 0; `None` if it is not within one ground.
    pub ground: Option<usize>,
    /// What is wrong.
    pub sentence: String,
    /// What to do.
    pub remedy: String,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::ClassPaper;
    use crate::samples::catalogue;

    const RECIPE: &str = "format = \"pairwise-recipe/1\"
title = \"Bookmarks\"
colours = [\"navy\", { name = \"old rose\", rgb = \"#c08081\" }]
arrangement = \"A B\"
[[ground]]
name = \"torchon/plain\"
area = \"50x70\"
[[ground]]
name = \"broken\"
";

    #[test]
    fn what_a_recipe_leaves_out_gets_usual_values() {
        let ReadRecipe { recipe, faults } = read(RECIPE, Some(ClassPaper::Letter), &catalogue());
        assert_eq!(faults, []);
        let recipe = recipe.unwrap();
        assert_eq!((recipe.paper, recipe.pin_spacing_mm), (Paper::LETTER, None));
        assert_eq!(recipe.palette.names(), ["navy", "old rose"]);
        let [torchon, broken] = &recipe.grounds[..] else { panic!("{:?}", recipe.grounds) };
        assert_eq!(
            (torchon.area, torchon.arrangement.to_string()),
            (Area { width: 50.0, height: 70.0 }, "A B".to_owned())
        );
        assert!(matches!(&torchon.found, Found::Ground(chosen) if chosen.name() == "torchon/plain"));
        // A broken contribution is not a fault of the recipe.
        let Found::Missing(why) = &broken.found else { panic!("{broken:?}") };
        assert_eq!(why[..], ["The contribution more/broken.wasm could not be used: it is no component."]);
    }

    #[test]
    fn every_fault_has_its_place_and_the_rest_gets_usual_values() {
        let text = RECIPE.replace("navy", "nawy").replace("A B", "A C").replace("50x70", "50");
        let ReadRecipe { recipe, faults } = read(&text, None, &catalogue());
        let found: Vec<(usize, Option<usize>, &str, &str)> =
            faults.iter().map(|f| (f.line, f.ground, &text[f.at.clone()], f.sentence.as_str())).collect();
        assert_eq!(
            found,
            [
                (3, None, "\"nawy\"", "the colour `nawy` is not known"),
                (4, None, "\"A C\"", "the arrangement uses the letter C, but only 2 colours are given"),
                (7, Some(0), "\"50\"", "`50` is not an area"),
            ]
        );
        assert!(faults[0].remedy.starts_with("did you mean `navy`"), "{}", faults[0].remedy);
        let ground = &recipe.unwrap().grounds[0];
        assert_eq!(
            (ground.area, ground.arrangement.to_string()),
            (Area { width: 40.0, height: 60.0 }, "A".to_owned())
        );
        // A title that nobody can see is none.
        let unseen = read(&RECIPE.replace("Bookmarks", "\u{3164}\u{2800}"), None, &catalogue());
        assert_eq!(unseen.faults[0].sentence, "there is no title");
        // A text that is not a recipe at all gives nothing, and says why.
        let nothing = read("titel = 1", None, &catalogue());
        assert!(nothing.recipe.is_none() && nothing.faults.len() == 1, "{nothing:?}");
    }
}
