//! `facts`: everything computed about one ground.

use picture::layout::lay_out;

use crate::cli::{FactsArgs, Sources};
use crate::commands::Outcome;
use crate::facts::Facts;
use crate::failure::Failure;
use crate::output::print;
use crate::pictures::Scale;
use crate::request::choices::GroundRequest;
use crate::sources;

/// Prints the facts as text or JSON.
pub fn run(args: &FactsArgs, sources: &Sources) -> Result<Outcome, Failure> {
    let scale = Scale::new(&args.gauge)?;
    let request = GroundRequest::new(&args.ground, &args.choices)?;
    let chosen = request.choose(&sources::catalogue(sources)?)?;
    let about = chosen.about();
    let grid = scale.grid(about.angle)?;
    let layout = lay_out(&chosen.ground, &grid, scale.thread_mm);
    let facts = Facts::new(&about.id, &chosen.variety, chosen.settings_as_typed(), &chosen.ground, &layout);
    if args.json {
        let text = serde_json::to_string_pretty(&facts)?;
        print(&format!("{text}\n"))?;
        return Ok(Outcome::Done);
    }
    let mut text = format!("{} ({})\n", chosen.title(), chosen.name());
    for (choice, value) in &chosen.settings {
        text.push_str(&format!("  {:<24} {value}\n", about.choices.get(choice).map_or(choice, |c| &c.title)));
    }
    text.push_str("\nStitches\n");
    for stitch in chosen.ground.stitches() {
        text.push_str(&format!(
            "  {:<24} {:<20} {}\n",
            stitch.id,
            stitch.stitch.to_string(),
            stitch.stitch.words()
        ));
    }
    text.push_str(&format!("\nWhere the threads go\n  {}\n", facts.travel));
    text.push_str(&format!(
        "\nAt {} mm between footside pins, {} degrees from the footside, thread {:.2} mm\n",
        scale.pin_spacing_mm,
        grid.angle_deg(),
        scale.thread_mm
    ));
    for (name, value) in facts.lines() {
        text.push_str(&format!("  {name:<24} {value}\n"));
    }
    let how = &facts.layout;
    text.push_str(&format!(
        "\nThreads in the picture\n  {} after {} steps, {:.4} of a thread's tension left over;\n  threads that do not cross keep {:.2} thread widths or more between their middles\n",
        if how.settled { "came to rest" } else { "did not quite come to rest" },
        how.iterations,
        how.residual_tensions,
        how.clearance_thread_widths
    ));
    for warning in facts.warnings {
        text.push_str(&format!("\nwarning at {}: {warning}\n  {}\n", warning.place, warning.code.remedy()));
    }
    print(&text)?;
    Ok(Outcome::Done)
}
