//! The page for the class: the grounds of a recipe in the colours of the class,
//! and its handout to print. Faults in the recipe are listed on the page.

use class::recipe::RecipeFault;
use class::{Class, ClassGround, Member, MissingGround, Needs};
use compare::thumbnail::Thumbnail;
use compare::window::{Repeats, Shown, suiting};
use lace::colour_letter;
use minijinja::value::Serde;
use minijinja::{Value, context};
use picture::drawing::pricking::CAUTIONS_AT_LENGTH;
use picture::page::Fact;
use picture::page::contact_sheet::NamedColour;
use rayon::prelude::*;
use serde::Serialize;

use super::explore;
use super::words::window_in_words;
use crate::GalleryError;
use crate::plan::ClassRequest;
use crate::shared::{Gallery, LARGE_COLOURS, VARIETY_PX};

/// Most grounds compared side by side on one page.
const MOST_COMPARED: usize = 6;

#[derive(Serialize)]
struct FaultView {
    line: usize,
    sentence: String,
    remedy: String,
}

/// A ground of the class as the page shows it.
#[derive(Default, Serialize)]
struct GroundView {
    name: String,
    notes: String,
    faults: Vec<FaultView>,
    /// Why it is missing.
    why: Vec<String>,
    title: String,
    arrangement: String,
    /// How much lace its picture shows.
    window: String,
    /// Its picture; empty if the ground is missing.
    file: String,
    alt: String,
    travel: Vec<String>,
    materials: Vec<(String, String)>,
    rule: String,
    /// Its page in the gallery, if it has one.
    page: Option<String>,
    /// Link to recolour it, starting from the colours of the class.
    explore: Option<String>,
}

/// Writes the page, its pictures and the handout.
pub fn write<E: Send>(gallery: &Gallery<'_, E>, request: &ClassRequest) -> Result<(), GalleryError<E>> {
    let title = request.class.as_ref().map(|class| class.recipe.title.as_str());
    let what = context! {
        title => title.filter(|title| !title.is_empty()).unwrap_or("For the class"),
        recipe => request.file.clone(),
        faults => Value::from(Serde(faults(request, None))),
        faulty => request.faults.len(),
        shown => MOST_FAULTS,
    };
    let what = match &request.class {
        None => what,
        Some(class) => context! { ..what, ..class_view(gallery, request, class)? },
    };
    gallery.page("class.html", "", "class.html", context! { class => what })
}

/// Most faults that the page shows; the rest are counted.
const MOST_FAULTS: usize = 50;

/// Faults in one ground of the recipe, or (`None`) outside any ground.
fn faults(request: &ClassRequest, ground: Option<usize>) -> Vec<FaultView> {
    let own = request.faults.iter().take(MOST_FAULTS).filter(|fault| fault.ground == ground);
    let without_stop = |text: &str| text.trim_end_matches('.').to_owned();
    let view = |fault: &RecipeFault| FaultView {
        line: fault.line,
        sentence: without_stop(&fault.sentence),
        remedy: without_stop(&fault.remedy),
    };
    own.map(view).collect()
}

/// The contents of the page for a class that can be worked.
fn class_view<E: Send>(
    gallery: &Gallery<'_, E>,
    request: &ClassRequest,
    class: &Class,
) -> Result<Value, GalleryError<E>> {
    let recipe = &class.recipe;
    let pages = write_handout(gallery, request, class)?;
    let members: Vec<Member<'_>> = class.members().collect();
    let view = |(k, member): (usize, &Member<'_>)| -> Result<GroundView, GalleryError<E>> {
        let view = match *member {
            Member::Worked(ground) => worked_view(gallery, k, ground)?,
            Member::Missing(missing) => missing_view(missing),
        };
        Ok(GroundView { faults: faults(request, Some(k)), ..view })
    };
    let grounds = members.par_iter().enumerate().map(view).collect::<Result<Vec<_>, _>>()?;
    let colours = recipe.palette.swatches().into_iter().enumerate();
    let links = Links::new(gallery, class, &members);
    Ok(context! {
        class => recipe.class.clone(),
        notes => recipe.notes.clone(),
        gauge => pairs(class.gauge()),
        colours => colours.map(|(k, NamedColour { colour, name })| context! {
            letter => colour_letter(k as u8).to_string(),
            name,
            hex => colour.to_string(),
        }).collect::<Vec<_>>(),
        pages,
        paper => format!("{} by {} mm", recipe.paper.width, recipe.paper.height),
        compare => links.compare,
        explore => links.explore,
        grounds => Value::from(Serde(grounds)),
        cautions => CAUTIONS_AT_LENGTH,
    })
}

/// Writes the handout if the recipe has no faults. Returns its number of pages.
fn write_handout<E>(
    gallery: &Gallery<'_, E>,
    request: &ClassRequest,
    class: &Class,
) -> Result<Option<usize>, GalleryError<E>> {
    if !request.faults.is_empty() {
        return Ok(None);
    }
    let printed = class.handout()?;
    gallery.write("class.pdf", &printed.bytes)?;
    Ok(Some(printed.pages))
}

/// Links to compare and recolour the grounds of the class.
struct Links {
    compare: Option<String>,
    explore: Option<String>,
}

impl Links {
    fn new<E>(gallery: &Gallery<'_, E>, class: &Class, members: &[Member<'_>]) -> Links {
        let recipe = &class.recipe;
        let first = recipe.grounds.first();
        let address = first.map(|first| explore::address(&first.arrangement, &recipe.palette));
        let mut picks: Vec<String> = members
            .iter()
            .filter_map(|member| match member {
                Member::Worked(ground) if in_gallery(gallery, ground) => Some(ground.chosen.name()),
                _ => None,
            })
            .collect();
        picks.dedup();
        picks.truncate(MOST_COMPARED);
        let colours = address.as_ref().map_or_else(String::new, |address| format!("{address}&"));
        // Each in its own arrangement.
        let compared = || format!("compare.html#class=1&{colours}pick={}", picks.join(","));
        Links {
            compare: (picks.len() > 1).then(compared),
            explore: address.map(|address| format!("explore.html#{address}")),
        }
    }
}

/// Whether the gallery shows a ground exactly as in the recipe.
fn in_gallery<E>(gallery: &Gallery<'_, E>, ground: &ClassGround<'_>) -> bool {
    ground.wanted.with.is_empty() && gallery.title_of(&ground.chosen.about().id).is_some()
}

fn missing_view(missing: MissingGround<'_>) -> GroundView {
    GroundView {
        name: missing.wanted.name.clone(),
        notes: missing.wanted.notes.clone(),
        why: missing.why.to_vec(),
        ..GroundView::default()
    }
}

/// Draws a ground of the class and collects what is computed about it.
fn worked_view<E>(
    gallery: &Gallery<'_, E>,
    position: usize,
    ground: ClassGround<'_>,
) -> Result<GroundView, GalleryError<E>> {
    let ClassGround { wanted, chosen, .. } = ground;
    let arrangement = &wanted.arrangement;
    let Needs { materials, rule } = ground.needs();
    let about = chosen.about();
    let (shown, picture) = (in_gallery(gallery, &ground), shown(ground));
    let address = explore::address(arrangement, &ground.class().recipe.palette);
    Ok(GroundView {
        name: ground.name(),
        notes: wanted.notes.clone(),
        title: chosen.title().to_owned(),
        arrangement: arrangement.to_string(),
        alt: format!("{} worked, hung {arrangement}. {}", chosen.title(), chosen.ground.travel_sentence()),
        file: write_picture(gallery, position, ground, picture.window_mm)?,
        window: window_in_words(&picture),
        travel: ground.travel(),
        materials: pairs(materials),
        rule,
        page: shown.then(|| format!("grounds/{}.html#{address}&at=variety-{}", about.id, chosen.variety)),
        explore: shown.then(|| format!("explore.html#{address}&search={}", chosen.name())),
        ..GroundView::default()
    })
}

/// Writes the picture of a ground in the colours of the class. Returns its
/// path.
fn write_picture<E>(
    gallery: &Gallery<'_, E>,
    position: usize,
    ground: ClassGround<'_>,
    window_mm: f64,
) -> Result<String, GalleryError<E>> {
    let ClassGround { wanted, chosen, layout, .. } = ground;
    let painted = ground.class().recipe.palette.seen_by(gallery.plan.request.seen_by);
    let painted = painted.behind([&wanted.arrangement]);
    let drawn = Thumbnail::new(&chosen.ground, layout.clone(), window_mm, VARIETY_PX);
    let image = drawn.paint(&wanted.arrangement, &painted).reduced(LARGE_COLOURS);
    let file = format!("class/{}.png", position + 1);
    gallery.write(&file, &image.to_png(f64::from(VARIETY_PX) / window_mm))?;
    Ok(file)
}

/// What the picture of a ground of the class shows.
fn shown(ground: ClassGround<'_>) -> Shown {
    let ClassGround { wanted, chosen, layout, .. } = ground;
    let usual_mm = ground.class().scale.large_window_mm();
    // What a recipe asks for is shown as a whole, however wide all else is.
    Shown {
        window_mm: suiting(&chosen.ground, &layout.grid, [&wanted.arrangement], usual_mm),
        usual_mm,
        repeats: Repeats::new(&chosen.ground, &layout.grid, &wanted.arrangement),
    }
}

/// Facts as pairs of name and value.
fn pairs(facts: Vec<Fact>) -> Vec<(String, String)> {
    facts.into_iter().map(|fact| (fact.label, fact.value)).collect()
}
