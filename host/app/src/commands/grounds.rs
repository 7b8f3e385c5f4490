//! `grounds`: the list of grounds, in short or with varieties and choices.

use serde::Serialize;

use crate::catalogue::Catalogue;
use crate::cli::{GroundsArgs, Sources};
use crate::commands::report_failures;
use crate::failure::Failure;
use crate::output::print;

#[derive(Serialize)]
struct List<'a> {
    format: &'static str,
    grounds: Vec<Entry<'a>>,
}

#[derive(Serialize)]
struct Entry<'a> {
    id: &'a str,
    title: &'a str,
    kind: sandbox::Kind,
    family: &'a str,
    varieties: Vec<VarietyEntry<'a>>,
    from: &'a str,
}

#[derive(Serialize)]
struct VarietyEntry<'a> {
    id: &'a str,
    title: &'a str,
}

/// Prints the list as text or JSON. Returns whether a contribution failed.
pub fn run(args: &GroundsArgs, sources: &Sources) -> Result<bool, Failure> {
    let catalogue = Catalogue::load(sources)?;
    let plugins = match args.grounds.as_slice() {
        [] => catalogue.plugins.iter().collect(),
        names => names.iter().map(|n| catalogue.plugin(n)).collect::<Result<Vec<_>, _>>()?,
    };
    let mut text = String::new();
    if args.json {
        let grounds = plugins
            .iter()
            .map(|p| Entry {
                id: &p.about.id,
                title: &p.about.title,
                kind: p.about.kind,
                family: &p.about.family,
                varieties: p
                    .about
                    .varieties
                    .iter()
                    .map(|(id, v)| VarietyEntry { id, title: &v.title })
                    .collect(),
                from: &p.from,
            })
            .collect();
        let list = List { format: "pairwise-grounds/1", grounds };
        text = serde_json::to_string_pretty(&list)?;
        text.push('\n');
    } else if args.grounds.is_empty() {
        for plugin in plugins {
            let about = &plugin.about;
            let count = about.varieties.len();
            let kind = if about.kind == sandbox::Kind::Ground { "ground" } else { "filling" };
            text.push_str(&format!(
                "{:<14} {:<34} {kind:<8} {count:>3} {}\n",
                about.id,
                about.title,
                if count == 1 { "variety" } else { "varieties" }
            ));
        }
        text.push_str("\n`pairwise grounds NAME` lists the varieties and choices of one.\n");
    } else {
        for plugin in plugins {
            let about = &plugin.about;
            text.push_str(&format!("{} ({})\n", about.title, about.id));
            text.push_str(&format!(
                "  {}\n  Source: {}\n  From: {}\n\nVarieties\n",
                about.notes, about.source, plugin.from
            ));
            for (id, variety) in &about.varieties {
                text.push_str(&format!("  {:<28} {}\n", format!("{}/{id}", about.id), variety.title));
            }
            if !about.choices.is_empty() {
                text.push_str("\nChoices\n");
            }
            for (id, choice) in &about.choices {
                text.push_str(&format!(
                    "  --with {id}=...   {}\n      {}; usually {}\n",
                    choice.title,
                    choice.range.in_words(),
                    choice.default
                ));
            }
            text.push('\n');
        }
    }
    print(&text)?;
    Ok(report_failures(&catalogue.failures))
}
