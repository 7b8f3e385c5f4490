//! What all pages of a gallery share.

use compare::palette::Palette;
use compare::scale::Scale;
use indexmap::IndexSet;
use lace::{Arrangement, colour_letter, number};
use minijinja::value::merge_maps;
use minijinja::{Environment, Value, context};
use picture::colour::vision::Vision;
use picture::page::contact_sheet::NamedColour;

use crate::plan::GalleryPlan;
use crate::{GalleryError, sources, templates, typeface};

/// Side of the picture beside a variety, in pixels.
pub const VARIETY_PX: u32 = 480;

/// Most colours in a picture on the index page, which has many pictures, and in
/// all others, where one byte for each pixel is the limit.
pub const SMALL_COLOURS: u16 = 48;
pub const LARGE_COLOURS: u16 = 256;

/// Stores a file, given its path with slashes and its bytes. Called on any thread.
pub type Sink<'a, E> = dyn Fn(&str, &[u8]) -> Result<(), E> + Sync + 'a;

/// A gallery being written.
pub struct Gallery<'a, E> {
    /// The plan it is written from.
    pub plan: &'a GalleryPlan<'a>,
    /// The colours as they are painted.
    pub painted: Palette,
    /// The arrangement of single pictures.
    pub arrangement: Arrangement,
    sink: &'a Sink<'a, E>,
    templates: Environment<'static>,
    common: Value,
}

impl<'a, E> Gallery<'a, E> {
    pub fn new(plan: &'a GalleryPlan<'a>, sink: &'a Sink<'a, E>) -> Result<Gallery<'a, E>, GalleryError<E>> {
        let painted = plan.request.palette.seen_by(plan.request.seen_by).behind(&plan.arrangements.shown);
        let arrangement = of_single_pictures(&plan.arrangements.shown);
        Ok(Gallery {
            templates: templates::all()?,
            common: common(plan, &painted),
            plan,
            painted,
            arrangement,
            sink,
        })
    }

    /// Pin spacing and thread.
    pub fn scale(&self) -> &Scale {
        &self.plan.request.scale
    }

    /// The colours themselves.
    pub fn palette(&self) -> &Palette {
        &self.plan.request.palette
    }

    /// The arrangements in tables.
    pub fn arrangements(&self) -> &[Arrangement] {
        &self.plan.arrangements.shown
    }

    /// The title of a ground, if it has a page.
    pub fn title_of(&self, id: &str) -> Option<&str> {
        let found = self.plan.grounds.iter().find(|ground| ground.about().id == id);
        found.map(|ground| ground.about().title.as_str())
    }

    pub fn write(&self, path: &str, bytes: &[u8]) -> Result<(), GalleryError<E>> {
        (self.sink)(path, bytes).map_err(GalleryError::Write)
    }

    /// Writes a page; `root` is the path from it to the folder of the gallery.
    pub fn page(&self, path: &str, root: &str, template: &str, what: Value) -> Result<(), GalleryError<E>> {
        let page = self.templates.get_template(template)?.render(context! {
            root => Value::from_safe_string(root.to_owned()),
            ..merge_maps([what, self.common.clone()])
        })?;
        self.write(path, page.as_bytes())
    }

    /// Writes style sheets, typeface and script.
    pub fn write_sources(&self) -> Result<(), GalleryError<E>> {
        self.write("style.css", sources::STYLE.as_bytes())?;
        self.write("explore.css", sources::EXPLORE_STYLE.as_bytes())?;
        typeface::FILES.iter().try_for_each(|(path, bytes)| self.write(path, bytes))?;
        self.write("chosen.js", sources::CHOSEN_SCRIPT.as_bytes())?;
        self.write("explore.js", sources::SCRIPT.as_bytes())
    }

    /// The arrangement of single pictures with its colours by name: `indigo and
    /// apricot, hung A A B B`.
    pub fn hung(&self) -> String {
        let colours = self.painted.colours();
        let worn = self.arrangement.pairs().iter().flatten().map(|&c| usize::from(c));
        let worn: IndexSet<usize> = worn.map(|c| c.min(colours.len() - 1)).collect();
        let names: Vec<&str> = worn.iter().map(|&c| colours[c].name.as_str()).collect();
        let names = match names.split_last() {
            Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
            _ => names.concat(),
        };
        format!("{names}, hung {}", self.arrangement)
    }
}

/// The values available to every template.
fn common(plan: &GalleryPlan<'_>, painted: &Palette) -> Value {
    let scale = &plan.request.scale;
    let swatch = |(k, NamedColour { colour, name }): (usize, NamedColour)| {
        context! { letter => colour_letter(k as u8).to_string(), name, hex => colour.to_string() }
    };
    context! {
        version => plan.request.version,
        scale => context! {
            pin_spacing_mm => scale.given_pin_spacing_mm().map(number),
            thread_mm => scale.given_thread().map(|thread| number(thread.diameter_mm())),
            small_mm => number(scale.window_mm()),
            large_mm => number(scale.large_window_mm()),
        },
        pairs => plan.arrangements.pairs,
        seen_by => plan.request.seen_by.map(Vision::words),
        palette => painted.swatches().into_iter().enumerate().map(swatch).collect::<Vec<_>>(),
        small_px => small_px(scale),
        large_px => VARIETY_PX,
        has_class => plan.request.class.is_some(),
    }
}

/// Side of a picture on the index page, in pixels: its lace is the corner of the
/// large picture, at the same scale.
pub fn small_px(scale: &Scale) -> u32 {
    (f64::from(VARIETY_PX) * scale.window_mm() / scale.large_window_mm()).round() as u32
}

/// The arrangement for single pictures: the first with more than one colour,
/// in equal parts and side by side.
fn of_single_pictures(shown: &[Arrangement]) -> Arrangement {
    let halves = |arrangement: &&Arrangement| {
        let pairs = arrangement.pairs();
        let first = pairs.iter().filter(|p| **p == pairs[0]).count();
        first * 2 == pairs.len() && pairs.windows(2).any(|w| w[0] == w[1])
    };
    let found = shown.iter().find(halves).or(shown.last());
    found.cloned().unwrap_or(Arrangement::of_pairs(&[0]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn single_pictures_hang_two_colours_side_by_side_half_of_each() {
        let shown = |all: &[&str]| {
            let all: Vec<Arrangement> = all.iter().map(|text| text.parse().unwrap()).collect();
            of_single_pictures(&all).to_string()
        };
        assert_eq!(shown(&["A A A A", "A B A B", "A A B B", "A B B A"]), "A A B B");
        assert_eq!(shown(&["A", "A B"]), "A B");
        assert_eq!(shown(&[]), "A");
    }
}
