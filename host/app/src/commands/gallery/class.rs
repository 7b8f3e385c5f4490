//! For the class: the grounds of a recipe in the colours of the class, and its
//! handout to print. What is wrong with the recipe is said on the page.

use std::path::Path;

use catalogue::Catalogue;
use compare::drawn_pairs::for_painting;
use compare::thumbnail::stencil;
use lace::colour_letter;
use minijinja::value::Serde;
use minijinja::{Value, context};
use picture::drawing::pricking::CAUTIONS_AT_LENGTH;
use rayon::prelude::*;
use serde::Serialize;

use super::{Gallery, LARGE_COLOURS, VARIETY_PX, explore, number};
use crate::class::{Class, InClass, Needs};
use crate::failure::Failure;
use crate::output::warn;
use crate::recipe::{Told, Wanted, read};

/// Most grounds that are laid side by side on one page.
const MOST_COMPARED: usize = 6;

/// A recipe as far as it can be shown.
pub struct ForClass {
    /// The name of its file.
    file: String,
    /// `None` where nothing of it can be read.
    class: Option<Class>,
    faults: Vec<Told>,
    /// The faults, each shown where it stands.
    failure: Option<Failure>,
}

#[derive(Serialize)]
struct FaultView {
    line: usize,
    sentence: String,
    remedy: String,
}

/// A ground of the class as the page shows it.
#[derive(Serialize, Default)]
struct GroundView {
    name: String,
    notes: String,
    faults: Vec<FaultView>,
    /// Why it is missing.
    why: Vec<String>,
    title: String,
    order: String,
    /// Its picture; empty where it is missing.
    file: String,
    alt: String,
    going: Vec<String>,
    materials: Vec<(String, String)>,
    rule: String,
    /// Its page in the gallery, if it has one.
    page: Option<String>,
    /// Where it is recoloured, beginning with the colours of the class.
    explore: Option<String>,
}

impl ForClass {
    /// Reads a recipe.
    ///
    /// # Errors
    /// There is no such file, or nothing that could be a recipe. Faults in it
    /// are no errors here.
    pub fn read(path: &Path, catalogue: &Catalogue) -> Result<ForClass, Failure> {
        let file = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let (recipe, faults, failure) = match read(path, None, catalogue) {
            Ok(recipe) => (Some(recipe), Vec::new(), None),
            Err(faulty) if faulty.told.is_empty() => return Err(faulty.failure),
            Err(faulty) => (faulty.recipe, faulty.told, Some(faulty.failure)),
        };
        Ok(ForClass { file, class: recipe.map(Class::new).transpose()?, faults, failure })
    }

    /// Says on standard error what is wrong with the recipe and what is missing.
    /// Returns whether anything is.
    pub fn tell(self) -> bool {
        let left_out = self.class.as_ref().map_or(0, |class| class.tell_left_out("class"));
        let faulty = self.failure.is_some();
        if let Some(failure) = self.failure {
            warn(&format!("{:?}", miette::Report::new(failure)));
            warn(
                "The gallery is made all the same; its page for the class says what is wrong. There is no handout.",
            );
        }
        faulty || left_out > 0
    }

    /// Faults of a ground of the recipe, or of none.
    fn faults(&self, ground: Option<usize>) -> Vec<FaultView> {
        let own = self.faults.iter().filter(|fault| fault.ground == ground);
        own.map(|fault| FaultView {
            line: fault.line,
            sentence: fault.sentence.trim_end_matches('.').to_owned(),
            remedy: fault.remedy.trim_end_matches('.').to_owned(),
        })
        .collect()
    }
}

/// Writes the page, its pictures and the handout.
pub fn page(gallery: &Gallery<'_>, of: &ForClass) -> Result<(), Failure> {
    let shown = match &of.class {
        None => context! {},
        Some(class) => shown(gallery, of, class)?,
    };
    let title = of.class.as_ref().map(|class| class.recipe.title.as_str()).filter(|title| !title.is_empty());
    gallery.page(
        "class.html",
        "",
        "class.html",
        context! {
            class => context! {
                title => title.unwrap_or("For the class"),
                recipe => of.file.clone(),
                faults => Value::from(Serde(of.faults(None))),
                faulty => of.faults.len(),
                ..shown
            },
        },
    )
}

fn shown(gallery: &Gallery<'_>, of: &ForClass, class: &Class) -> Result<Value, Failure> {
    let recipe = &class.recipe;
    let pages = if of.faults.is_empty() {
        let printed = class.handout()?;
        gallery.folder.write("class.pdf", &printed.bytes)?;
        Some(printed.pages)
    } else {
        None
    };
    let all: Vec<Result<InClass<'_>, &Wanted>> = class.all().collect();
    let grounds = all
        .par_iter()
        .enumerate()
        .map(|(k, one)| match one {
            Ok(ground) => {
                Ok(GroundView { faults: of.faults(Some(k)), ..worked(gallery, class, k, *ground)? })
            }
            Err(wanted) => Ok(GroundView {
                name: wanted.name.clone(),
                notes: wanted.notes.clone(),
                faults: of.faults(Some(k)),
                why: wanted.chosen.as_ref().err().cloned().unwrap_or_default(),
                ..GroundView::default()
            }),
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    let first = recipe.grounds.first();
    let address = first.and_then(|first| explore::address(gallery, &first.order, &recipe.palette));
    let mut picks: Vec<String> = all
        .iter()
        .filter_map(|one| one.as_ref().ok().filter(|ground| in_gallery(gallery, ground)))
        .map(|ground| ground.chosen.name())
        .collect();
    picks.dedup();
    picks.truncate(MOST_COMPARED);
    let beginning = address.clone().map_or_else(String::new, |address| format!("{address}&"));
    let colours = recipe.palette.colours().iter().enumerate();
    Ok(context! {
        class => recipe.class.clone(),
        notes => recipe.notes.clone(),
        gauge => class.gauge(),
        colours => colours.map(|(k, c)| context! {
            letter => colour_letter(k as u8).to_string(),
            name => c.name.clone(),
            hex => picture::colour::Rgb::from(c.rgb).to_string(),
        }).collect::<Vec<_>>(),
        pages,
        paper => format!("{} by {} mm", recipe.paper.width, recipe.paper.height),
        large_mm => number(class.scale.large_window_mm()),
        compare => (picks.len() > 1).then(|| format!("compare.html#{beginning}pick={}", picks.join(","))),
        explore => address.map(|address| format!("explore.html#{address}")),
        grounds => Value::from(Serde(grounds)),
        cautions => CAUTIONS_AT_LENGTH,
    })
}

/// Whether the gallery shows a ground just as the recipe wants it.
fn in_gallery(gallery: &Gallery<'_>, ground: &InClass<'_>) -> bool {
    ground.wanted.with.is_empty() && gallery.titles.contains_key(ground.chosen.about().id.as_str())
}

/// Draws a ground of the class and says what is computed.
fn worked(
    gallery: &Gallery<'_>,
    class: &Class,
    number: usize,
    ground: InClass<'_>,
) -> Result<GroundView, Failure> {
    let InClass { wanted, chosen, layout, .. } = ground;
    let (side, order) = (class.scale.large_window_mm(), &wanted.order);
    let pairs = for_painting(order.pairs().len());
    let palette = class.recipe.palette.seen_by(gallery.begin.seen_by);
    let colours: Vec<_> =
        order.extended(pairs).threads().into_iter().map(|c| palette.rgb(c).into()).collect();
    let image = stencil(&chosen.ground, layout, side, VARIETY_PX, pairs).paint(&colours);
    let file = format!("class/{}.png", number + 1);
    gallery.folder.write(&file, &image.reduced(LARGE_COLOURS).to_png(f64::from(VARIETY_PX) / side))?;
    let Needs { materials, rule } = ground.needs();
    let about = chosen.about();
    let shown = in_gallery(gallery, &ground);
    let address = explore::address(gallery, order, &class.recipe.palette).filter(|_| shown);
    Ok(GroundView {
        name: ground.name(),
        notes: wanted.notes.clone(),
        title: chosen.title().to_owned(),
        order: order.to_string(),
        alt: format!("{} worked, hung {order}. {}", chosen.title(), chosen.ground.travel_sentence()),
        file,
        going: ground.going(),
        materials,
        rule,
        page: shown.then(|| format!("grounds/{}.html#variety-{}", about.id, chosen.variety)),
        explore: address.map(|address| format!("explore.html#{address}&search={}", chosen.name())),
        ..GroundView::default()
    })
}
