//! `handout`: the printed pages of a class, from its recipe.

use lace::Ground;
use picture::colour::Rgb;
use picture::drawing::rect;
use picture::handout::{Body, ClassSheet, Handout, Swatch, Worked, handout};
use picture::layout::{Layout, lay_out};
use picture::lengths::thread_per_length;
use picture::pdf::to_tagged_pdf;
use picture::pricking::pin_places;
use rayon::prelude::*;

use crate::catalogue::{Catalogue, Chosen};
use crate::cli::{Gauge, HandoutArgs, Pricking, Sources};
use crate::colours::Palette;
use crate::commands::report_failures;
use crate::export::Format;
use crate::failure::Failure;
use crate::output::{print, tell, write_file};
use crate::pictures::{Scale, tell_unsettled};
use crate::recipe::{Recipe, Wanted, read};

/// Thread on every bobbin besides that in the lace, to hang on, to hold and to
/// tie off, m (common practice, no source).
const TO_HOLD_M: f64 = 0.5;
/// Most colours that have a line each among the materials.
const MOST_ROWS: usize = 6;

/// Makes the handout. Returns whether something in it is missing or a
/// contribution failed.
pub fn run(args: &HandoutArgs, sources: &Sources) -> Result<bool, Failure> {
    // Refuse what cannot be written before any work is done.
    if Format::of(&args.out)? != Format::Pdf {
        return Err(Failure::Value {
            what: format!("a handout is several pages, and {} holds one", args.out.display()),
            help: "let the name end in .pdf".to_owned(),
        });
    }
    let catalogue = Catalogue::load(sources)?;
    let recipe = read(&args.recipe, args.paper, &catalogue)?;
    let pricking = Pricking { pin_spacing: recipe.pin_spacing, angle: None };
    let scale = Scale::new(&Gauge { pricking, thread: recipe.thread.clone() })?;
    let hung = recipe.grounds.iter().map(|wanted| wanted.order.colours()).max().unwrap_or(0);
    recipe.palette.tell_confusions(Rgb::LINEN, hung);

    let layouts: Vec<Option<Layout>> = recipe
        .grounds
        .par_iter()
        .map(|wanted| {
            let Ok(chosen) = &wanted.chosen else { return Ok(None) };
            let grid = scale.grid(chosen.plugin.about.angle)?;
            Ok(Some(lay_out(&chosen.ground, &grid, scale.thread_mm)))
        })
        .collect::<Result<_, Failure>>()?;
    let sheets: Vec<ClassSheet<'_>> = recipe
        .grounds
        .iter()
        .zip(&layouts)
        .map(|(wanted, layout)| match (&wanted.chosen, layout) {
            (Ok(chosen), Some(layout)) => {
                tell_unsettled(layout, chosen);
                Ok(worked(&recipe, wanted, chosen, layout))
            }
            (Err(why), _) => Ok(missing(wanted, why)),
            (Ok(_), None) => unreachable!("every ground was laid out"),
        })
        .collect::<Result<_, Failure>>()?;
    let left_out: Vec<&Wanted<'_>> = recipe.grounds.iter().filter(|w| w.chosen.is_err()).collect();
    for wanted in &left_out {
        let why = wanted.chosen.as_ref().err().map(|why| why.join(" ")).unwrap_or_default();
        tell(&format!("missing from the handout: {}: {why}", wanted.name));
    }
    let pages = handout(&Handout {
        title: recipe.title.clone(),
        class: recipe.class.clone(),
        notes: recipe.notes.clone(),
        paper: recipe.paper,
        colours: swatches(&recipe.palette),
        gauge: gauge(&recipe, &scale),
        sheets,
    });
    let bytes = to_tagged_pdf(&recipe.title, "en", &pages).map_err(|why| Failure::Value {
        what: why.to_string(),
        help: "this is a fault of pairwise itself; please report it with the recipe".to_owned(),
    })?;
    write_file(&args.out, &bytes)?;
    let failed = report_failures(&catalogue.failures);
    let grounds = recipe.grounds.len() - left_out.len();
    print(&format!(
        "{}: {grounds} {} on {} pages of {} by {} mm\n",
        args.out.display(),
        if grounds == 1 { "ground" } else { "grounds" },
        pages.len(),
        recipe.paper.width,
        recipe.paper.height
    ))?;
    Ok(failed || !left_out.is_empty())
}

fn swatches(palette: &Palette) -> Vec<Swatch> {
    let swatch = |(k, colour): (usize, &crate::colours::Colour)| Swatch {
        letter: lace::arrangement::letter(k as u8),
        name: colour.name.clone(),
        colour: colour.rgb.into(),
    };
    palette.colours().iter().enumerate().map(swatch).collect()
}

/// Pin spacing and thread for the cover.
fn gauge(recipe: &Recipe<'_>, scale: &Scale) -> Vec<(String, String)> {
    let thick = format!("{:.2} mm thick", scale.thread_mm);
    let thread = match &recipe.thread {
        Some(text) => format!("{}, {thick}", text.trim()),
        None => format!("{thick}, {:.0} wraps/cm", 10.0 / scale.thread_mm),
    };
    vec![
        ("Pin spacing".to_owned(), format!("{} mm between two footside pins", scale.pin_spacing_mm)),
        ("Thread".to_owned(), thread),
    ]
}

fn missing<'a>(wanted: &Wanted<'_>, why: &[String]) -> ClassSheet<'a> {
    let mut sentences = vec![format!(
        "The ground {} is not in this handout: no pictures, pricking, steps or materials.",
        wanted.name
    )];
    sentences.extend(why.iter().cloned());
    sentences.push("All other pages are complete. When this is mended, print this page again.".to_owned());
    ClassSheet {
        title: wanted.name.clone(),
        subtitle: "This page could not be made.".to_owned(),
        notes: wanted.notes.clone(),
        body: Body::Missing { why: sentences },
    }
}

fn worked<'a>(
    recipe: &Recipe<'_>,
    wanted: &Wanted<'_>,
    chosen: &'a Chosen<'_>,
    layout: &'a Layout,
) -> ClassSheet<'a> {
    let with: Vec<String> = wanted.with.iter().map(|(choice, value)| format!("{choice} {value}")).collect();
    let with = if with.is_empty() { String::new() } else { format!(" with {}", with.join(", ")) };
    let name = if wanted.name.contains('/') { wanted.name.clone() } else { chosen.name() };
    let Needs { materials, rule } = needs(recipe, wanted, &chosen.ground, layout);
    ClassSheet {
        title: chosen.title().to_owned(),
        subtitle: format!(
            "{name}{with}. Diagonals {}\u{b0} from the footside. Pairs hang {}, again and again.",
            layout.grid.angle_deg(),
            wanted.order
        ),
        notes: wanted.notes.clone(),
        body: Body::Worked(Box::new(Worked {
            ground: &chosen.ground,
            layout,
            colours: wanted.order.threads().into_iter().map(|c| recipe.palette.rgb(c).into()).collect(),
            order: wanted.order.to_string(),
            area: (wanted.area.width, wanted.area.height),
            materials,
            rule,
            going: going(recipe, wanted, &chosen.ground),
            going_in_brief: vec![chosen.ground.travel_sentence()],
        })),
    }
}

/// Where each colour goes.
fn going(recipe: &Recipe<'_>, wanted: &Wanted<'_>, ground: &Ground) -> Vec<String> {
    let names: Vec<String> = recipe.palette.colours().iter().map(|c| c.name.clone()).collect();
    // Rows do not matter to the words of an endless width.
    match ground.trace(wanted.order.pairs().len(), 1) {
        Ok(trace) => ground.trace_in_words(&trace, &wanted.order, &names),
        Err(_) => vec![ground.travel_sentence()],
    }
}

/// What is needed for an area, and by which rule.
struct Needs {
    materials: Vec<(String, String)>,
    rule: String,
}

fn needs(recipe: &Recipe<'_>, wanted: &Wanted<'_>, ground: &Ground, layout: &Layout) -> Needs {
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
        format!("{named} ({})", lace::arrangement::letter(colour))
    };
    let [least, most] = thread_per_length(ground, layout);
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
        let row = |&(c, n): &(u8, usize)| format!("{n} {}", lace::arrangement::letter(c));
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
