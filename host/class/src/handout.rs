//! The handout of a class: a PDF file to print.

use lace::colour_letter;
use picture::export::pdf::{PdfError, to_tagged_pdf};
use picture::page::contact_sheet::NamedColour;
use picture::page::handout::{Body, ClassSheet, Handout, Swatch, WorkedGround, handout};

use crate::class::{Class, ClassGround, Member, MissingGround};
use crate::needs::Needs;

/// A finished handout.
#[derive(Clone, Debug)]
pub struct Printed {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// Number of pages.
    pub pages: usize,
}

impl Class {
    /// Makes the handout. The same class gives the same bytes.
    ///
    /// # Errors
    /// A page that cannot be written as PDF, which is a fault of this program.
    pub fn handout(&self) -> Result<Printed, PdfError> {
        let recipe = &self.recipe;
        let pages = handout(&Handout {
            title: recipe.title.clone(),
            class: recipe.class.clone(),
            notes: recipe.notes.clone(),
            paper: recipe.paper,
            colours: self.swatches(),
            gauge: self.gauge(),
            sheets: self.members().map(sheet).collect(),
        });
        Ok(Printed { bytes: to_tagged_pdf(&recipe.title, "en", &pages)?, pages: pages.len() })
    }

    fn swatches(&self) -> Vec<Swatch> {
        let colours = self.recipe.palette.swatches().into_iter().enumerate();
        colours
            .map(|(k, NamedColour { colour, name })| Swatch { letter: colour_letter(k as u8), name, colour })
            .collect()
    }
}

fn sheet(member: Member<'_>) -> ClassSheet<'_> {
    match member {
        Member::Worked(ground) => worked_sheet(ground),
        Member::Missing(missing) => missing_sheet(missing),
    }
}

fn worked_sheet(ground: ClassGround<'_>) -> ClassSheet<'_> {
    let ClassGround { class, wanted, chosen, layout } = ground;
    let Needs { materials, rule } = ground.needs();
    ClassSheet {
        title: chosen.title().to_owned(),
        subtitle: format!(
            "{}. {}, diagonals {}\u{b0} from the footside. Hang on {}, repeating.",
            ground.name(),
            ground.scale().spacing_in_words(chosen.about()),
            layout.grid.angle_deg(),
            wanted.arrangement
        ),
        notes: wanted.notes.clone(),
        body: Body::Worked(Box::new(WorkedGround {
            ground: &chosen.ground,
            layout,
            colours: class.recipe.palette.of_threads(&wanted.arrangement.threads()),
            arrangement: wanted.arrangement.to_string(),
            area: wanted.area.size(),
            materials,
            rule,
            travel: ground.travel(),
            travel_in_brief: vec![chosen.ground.travel_sentence()],
        })),
    }
}

fn missing_sheet(missing: MissingGround<'_>) -> ClassSheet<'_> {
    let name = &missing.wanted.name;
    let mut why =
        vec![format!("The ground {name} is not in this handout: no pictures, pricking, steps or materials.")];
    why.extend_from_slice(missing.why);
    why.push("All other pages are complete. Put this right and print this page again.".to_owned());
    ClassSheet {
        title: name.clone(),
        subtitle: "This page could not be made.".to_owned(),
        notes: missing.wanted.notes.clone(),
        body: Body::Missing { why },
    }
}

#[cfg(test)]
mod tests {
    use crate::class::{Class, Member};
    use crate::recipe::read;
    use crate::samples::catalogue;

    #[test]
    fn a_class_says_what_it_needs_and_prints_the_same_bytes_each_time() {
        let text = "format = \"pairwise-recipe/1\"\ntitle = \"Bookmarks\"\n[[ground]]\nname = \"torchon\"\n";
        let class = Class::new(read(text, None, &catalogue()).recipe.unwrap()).unwrap();
        let Some(Member::Worked(ground)) = class.members().next() else { panic!("torchon is missing") };
        assert_eq!((ground.name().as_str(), class.missing().count()), ("torchon/plain", 0));
        let materials = ground.needs().materials;
        let of = |label: &str| &materials.iter().find(|fact| fact.label == label).unwrap().value;
        // A pair hangs at every 2 mm of the 40: 4 mm between pins, two pairs to a pin.
        assert_eq!(of("Pairs"), "20, on 40 bobbins");
        assert_eq!(of("Area"), "40 \u{d7} 60 mm");
        assert!(of("Thread").starts_with("0.33 mm thick, 30 wraps/cm"), "{materials:?}");
        let printed = class.handout().unwrap();
        assert_eq!(printed.bytes, class.handout().unwrap().bytes);
        assert!(printed.bytes.starts_with(b"%PDF") && printed.pages >= 3);
    }
    // An area without a pin spacing of its own takes the class's, and without that the
    // usual one of its ground.
    #[test]
    fn an_area_has_its_own_pin_spacing_or_that_of_the_class() {
        let text = "format = \"pairwise-recipe/1\"\ntitle = \"Samples\"\n[[ground]]\nname = \"torchon\"\n\
                    [[ground]]\nname = \"torchon\"\npin-spacing = 2\n";
        let pairs = |text: &str| -> Vec<String> {
            let read = read(text, None, &catalogue());
            assert_eq!(read.faults, []);
            let class = Class::new(read.recipe.unwrap()).unwrap();
            let needs = class.members().map(|member| match member {
                Member::Worked(ground) => ground.needs().materials.remove(2).value,
                Member::Missing(missing) => panic!("{missing:?}"),
            });
            needs.collect()
        };
        // 40 mm: two pairs to a pin.
        assert_eq!(pairs(text), ["20, on 40 bobbins", "40, on 80 bobbins"]);
        let of_class = text.replacen("[[ground]]", "pin-spacing = 5\n[[ground]]", 1);
        assert_eq!(pairs(&of_class), ["16, on 32 bobbins", "40, on 80 bobbins"]);
        let wrong = read(&text.replace("= 2", "= 0"), None, &catalogue());
        assert!(wrong.faults[0].sentence.contains("cannot be pricked"), "{:?}", wrong.faults);
    }
}
