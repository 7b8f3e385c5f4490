//! A class: its recipe worked out, every ground laid out in the thread of the
//! class; what is needed, where colours go, and the handout to print.

use catalogue::Chosen;
use compare::comparison::unsettled;
use compare::palette::{Colour, Palette};
use compare::scale::{Pricking, Scale};
use picture::colour::Rgb;
use picture::drawing::pricking::pin_places;
use picture::drawing::{Size, rect};
use picture::export::pdf::to_tagged_pdf;
use picture::layout::{Layout, ThreadPerLength, lay_out, thread_per_length};
use picture::page::Fact;
use picture::page::handout::{Body, ClassSheet, Handout, Swatch, WorkedGround, handout};
use rayon::prelude::*;

use crate::commands::note_all;
use crate::failure::Failure;
use crate::output::warn;
use crate::recipe::{Recipe, Wanted};

/// Thread on every bobbin besides that in the lace, to hang on, to hold and to
/// tie off, m (common practice, no source).
const TO_HOLD_M: f64 = 0.5;
/// Most colours that have a line each among the materials.
const MOST_ROWS: usize = 6;

/// A recipe worked out.
pub struct Class {
    /// The recipe.
    pub recipe: Recipe,
    /// Its pricking and thread.
    pub scale: Scale,
    /// Of each ground that can be worked.
    layouts: Vec<Option<Layout>>,
}

/// A handout as a file.
pub struct Printed {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}

impl Class {
    /// Lays all grounds of a recipe out. Says on standard error which colours are
    /// hardly told apart.
    pub fn new(recipe: Recipe) -> Result<Class, Failure> {
        let pricking = Pricking { pin_spacing_mm: recipe.pin_spacing, angle_deg: None };
        let scale = Scale::new(pricking, recipe.thread.as_deref())?;
        note_all(scale.note());
        let layouts: Vec<Option<Layout>> = recipe
            .grounds
            .par_iter()
            .map(|wanted| {
                let Ok(chosen) = &wanted.chosen else { return Ok(None) };
                let grid = scale.grid(chosen.about().angle)?;
                Ok(Some(lay_out(&chosen.ground, &grid, scale.thread_mm)))
            })
            .collect::<Result<_, Failure>>()?;
        let hung = recipe.grounds.iter().map(|wanted| wanted.order.colours()).max().unwrap_or(0);
        note_all(recipe.palette.notes(Rgb::LINEN, hung));
        let class = Class { recipe, scale, layouts };
        for worked in class.all().filter_map(Result::ok) {
            note_all(unsettled(worked.layout, worked.chosen));
        }
        Ok(class)
    }

    /// Every ground of the recipe with its layout, or as it cannot be worked.
    pub fn all(&self) -> impl Iterator<Item = Result<InClass<'_>, &Wanted>> {
        self.recipe.grounds.iter().zip(&self.layouts).map(|(wanted, layout)| match (&wanted.chosen, layout) {
            (Ok(chosen), Some(layout)) => Ok(InClass { recipe: &self.recipe, wanted, chosen, layout }),
            _ => Err(wanted),
        })
    }

    /// Says on standard error which grounds are missing from something and why.
    /// Returns how many.
    pub fn tell_left_out(&self, from: &str) -> usize {
        let left_out: Vec<&Wanted> = self.all().filter_map(Result::err).collect();
        for wanted in &left_out {
            // What is at fault in the recipe is told with its line.
            let why = wanted.chosen.as_ref().err().filter(|why| !why.is_empty());
            if let Some(why) = why {
                warn(&format!("missing from the {from}: {}: {}", wanted.name, why.join(" ")));
            }
        }
        left_out.len()
    }

    /// The handout.
    pub fn handout(&self) -> Result<Printed, Failure> {
        let recipe = &self.recipe;
        let pages = handout(&Handout {
            title: recipe.title.clone(),
            class: recipe.class.clone(),
            notes: recipe.notes.clone(),
            paper: recipe.paper,
            colours: swatches(&recipe.palette),
            gauge: facts(self.gauge()),
            sheets: self.all().map(|one| one.map_or_else(missing, InClass::sheet)).collect(),
        });
        let bytes = to_tagged_pdf(&recipe.title, "en", &pages).map_err(|why| Failure::Value {
            what: why.to_string(),
            help: "this is a fault of pairwise itself; please report it with the recipe".to_owned(),
        })?;
        Ok(Printed { bytes, pages: pages.len() })
    }

    /// Pin spacing and thread in words.
    pub fn gauge(&self) -> Vec<(String, String)> {
        let thick = format!("{:.2} mm thick", self.scale.thread_mm);
        let thread = match &self.recipe.thread {
            Some(text) => format!("{}, {thick}", text.trim()),
            None => format!("{thick}, {:.0} wraps/cm", 10.0 / self.scale.thread_mm),
        };
        vec![
            ("Pin spacing".to_owned(), format!("{} mm between two footside pins", self.scale.pin_spacing_mm)),
            ("Thread".to_owned(), thread),
        ]
    }
}

/// A ground of a class that can be worked.
#[derive(Clone, Copy)]
pub struct InClass<'c> {
    recipe: &'c Recipe,
    /// What the recipe says of it.
    pub wanted: &'c Wanted,
    /// The ground.
    pub chosen: &'c Chosen,
    /// Its layout.
    pub layout: &'c Layout,
}

/// What is needed for an area, and by which rule.
pub struct Needs {
    /// What, and how much.
    pub materials: Vec<(String, String)>,
    /// How the thread was reckoned.
    pub rule: String,
}

impl<'c> InClass<'c> {
    /// Its name with the choices that are made otherwise.
    pub fn name(self) -> String {
        let with = &self.wanted.with;
        let with: Vec<String> = with.iter().map(|(choice, value)| format!("{choice} {value}")).collect();
        let with = if with.is_empty() { String::new() } else { format!(" with {}", with.join(", ")) };
        let own = &self.wanted.name;
        let name = if own.contains('/') { own.clone() } else { self.chosen.name() };
        format!("{name}{with}")
    }

    /// Its page of the handout.
    fn sheet(self) -> ClassSheet<'c> {
        let InClass { recipe, wanted, chosen, layout } = self;
        let Needs { materials, rule } = self.needs();
        ClassSheet {
            title: chosen.title().to_owned(),
            subtitle: format!(
                "{}. Diagonals {}\u{b0} from the footside. Hang on {}, repeating.",
                self.name(),
                layout.grid.angle_deg(),
                wanted.order
            ),
            notes: wanted.notes.clone(),
            body: Body::Worked(Box::new(WorkedGround {
                ground: &chosen.ground,
                layout,
                colours: recipe.palette.of_threads(&wanted.order.threads()),
                arrangement: wanted.order.to_string(),
                area: Size { width: wanted.area.width, height: wanted.area.height },
                materials: facts(materials),
                rule,
                travel: self.going(),
                travel_in_brief: vec![chosen.ground.travel_sentence()],
            })),
        }
    }

    /// Where each colour goes.
    pub fn going(self) -> Vec<String> {
        let InClass { recipe, wanted, chosen, .. } = self;
        let ground = &chosen.ground;
        let names: Vec<String> = recipe.palette.colours().iter().map(|c| c.name.clone()).collect();
        // Rows do not matter to the words of an endless width.
        match ground.trace(wanted.order.pairs().len(), 1) {
            Ok(trace) => ground.trace_in_words(&trace, &wanted.order, &names),
            Err(_) => vec![ground.travel_sentence()],
        }
    }

    /// What its area needs.
    pub fn needs(self) -> Needs {
        let InClass { recipe, wanted, chosen, layout } = self;
        let ground = &chosen.ground;
        let (width, height) = (wanted.area.width, wanted.area.height);
        let grid = &layout.grid;
        let measures = ground.measures(grid);
        // A pair that hangs on the very edge is not counted twice.
        let pairs = (measures.pairs_per_cm * width / 10.0 - 1e-9).ceil().max(1.0) as usize;
        let threads = wanted.order.extended(pairs).threads();
        let mut bobbins: Vec<(u8, usize)> = Vec::new();
        for colour in 0..wanted.order.colours() as u8 {
            let own = threads.iter().filter(|&&c| c == colour).count();
            if own > 0 {
                bobbins.push((colour, own));
            }
        }
        let name = |colour: u8| {
            let named = recipe.palette.colours().get(colour as usize).map_or("", |c| c.name.as_str());
            format!("{named} ({})", lace::colour_letter(colour))
        };
        let ThreadPerLength { least, most } = thread_per_length(ground, layout);
        // Up to whole tenths of a metre.
        let metres = |per: f64| ((per * height / 1000.0 + TO_HOLD_M) * 10.0 - 1e-9).ceil() / 10.0;
        let (few, many) = (metres(least), metres(most));
        let each = if few == many { format!("{many:.1} m") } else { format!("{few:.1} to {many:.1} m") };
        let top = ground.top() * grid.step_y_mm();
        let pins = pin_places(ground, grid, rect(0.0, top, width, height).grown(1e-6)).len();
        let times = match (format!("{least:.1}"), format!("{most:.1}")) {
            (one, other) if one == other => one,
            (one, other) => format!("{one} to {other}"),
        };
        let mut materials = vec![
            ("Area".to_owned(), format!("{width} \u{d7} {height} mm")),
            ("Pairs".to_owned(), format!("{pairs}, on {} bobbins", 2 * pairs)),
            ("Thread on each bobbin".to_owned(), each),
        ];
        let in_all = |n: usize| (n as f64 * many).ceil();
        if bobbins.len() <= MOST_ROWS {
            let row = |&(c, n): &(u8, usize)| (name(c), format!("{n} bobbins, {:.0} m at most", in_all(n)));
            materials.extend(bobbins.iter().map(row));
        } else {
            let row = |&(c, n): &(u8, usize)| format!("{n} {}", lace::colour_letter(c));
            let rows = bobbins.iter().map(row).collect::<Vec<_>>();
            materials.push(("Bobbins".to_owned(), rows.join(", ")));
            materials.push(("Thread in all".to_owned(), format!("{:.0} m at most", in_all(2 * pairs))));
        }
        materials.push(("Pins".to_owned(), pins.to_string()));
        Needs {
            materials,
            rule: format!(
                "Measured along the threads as drawn, they are {times} times as long as the lace. Half a metre is added on each bobbin to hang on, to hold and to tie off, and the sum rounded up to a tenth of a metre. Pairs and pins for edges come on top."
            ),
        }
    }
}

fn facts(lines: Vec<(String, String)>) -> Vec<Fact> {
    lines.into_iter().map(|(label, value)| Fact::new(label, value)).collect()
}

fn swatches(palette: &Palette) -> Vec<Swatch> {
    let swatch = |(k, colour): (usize, &Colour)| Swatch {
        letter: lace::colour_letter(k as u8),
        name: colour.name.clone(),
        colour: colour.rgb.into(),
    };
    palette.colours().iter().enumerate().map(swatch).collect()
}

fn missing<'a>(wanted: &Wanted) -> ClassSheet<'a> {
    let mut sentences = vec![format!(
        "The ground {} is not in this handout: no pictures, pricking, steps or materials.",
        wanted.name
    )];
    sentences.extend(wanted.chosen.as_ref().err().into_iter().flatten().cloned());
    sentences.push("All other pages are complete. When this is mended, print this page again.".to_owned());
    ClassSheet {
        title: wanted.name.clone(),
        subtitle: "This page could not be made.".to_owned(),
        notes: wanted.notes.clone(),
        body: Body::Missing { why: sentences },
    }
}
