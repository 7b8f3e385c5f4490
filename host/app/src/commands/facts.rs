//! `facts`: everything computed about one ground.

use catalogue::Chosen;
use compare::facts;
use compare::scale::Scale;
use picture::layout::Layout;
use report::facts::Facts;

use crate::cli::FactsArgs;
use crate::commands::{Outcome, note_all};
use crate::failure::Failure;
use crate::output::print;
use crate::request::choices::GroundRequest;
use crate::request::gauge::scale;
use crate::request::sources::Sources;
use crate::sources::Grounds;

/// Prints the facts as text or JSON.
pub fn run(args: &FactsArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let scale = scale(&args.gauge)?;
    let request = GroundRequest::new(&args.ground, &args.choices)?;
    let chosen = request.choose(&Grounds::new(sources))?;
    note_all(scale.note([chosen.about()]));
    let layout = scale.lay_out(&chosen)?;
    print(&if args.json {
        report::pretty(&Facts::of(&chosen, &layout))?
    } else {
        text(&chosen, &scale, &layout)
    })?;
    Ok(Outcome::Done)
}

/// The facts as text.
fn text(chosen: &Chosen, scale: &Scale, layout: &Layout) -> String {
    let ground = &chosen.ground;
    let choices = &chosen.about().choices;
    let mut text = format!("{} ({})\n", chosen.title(), chosen.name());
    for (choice, value) in &chosen.settings {
        let title = choices.get(choice).map_or(choice, |c| &c.title);
        text.push_str(&format!("  {title:<24} {value}\n"));
    }
    text.push_str("\nStitches\n");
    for (k, placed) in ground.stitches().iter().enumerate() {
        let (id, stitch) = (&placed.id, &placed.stitch);
        text.push_str(&format!(
            "  {id:<24} {:<20} {}\n",
            stitch.letters().unwrap_or_default(),
            ground.stitch_in_words(k)
        ));
    }
    text.push_str(&format!("\nWhere the threads go\n  {}\n", ground.travel_sentence()));
    text.push_str(&format!(
        "\nAt {}, {} degrees from the footside, thread {:.2} mm\n",
        scale.spacing_in_words(chosen.about()),
        layout.grid.angle_deg(),
        layout.thread_mm
    ));
    for (name, value) in facts::in_words(ground, &layout.grid) {
        text.push_str(&format!("  {name:<24} {value}\n"));
    }
    let how = &layout.report;
    text.push_str(&format!(
        "\nThreads in the picture\n  The threads have {}; those that do not cross lie at least {:.2} thread widths\n  apart, from middle to middle.\n",
        if how.converged { "settled" } else { "not quite settled" },
        how.clearance
    ));
    for warning in ground.warnings() {
        text.push_str(&format!("\nwarning at {}: {warning}\n  {}\n", warning.place, warning.code.remedy()));
    }
    text
}
