//! `grounds`: the front door of the catalogue. A table of all varieties, or all
//! about some grounds; filters and a search by any name.

mod entry;
mod json;
mod keep;
mod long;
mod table;

use rayon::prelude::*;
use sandbox::Plugin;
use textwrap::{Options, WordSeparator, WordSplitter};

use crate::catalogue::{Catalogue, choose};
use crate::cli::{GroundsArgs, Sources};
use crate::commands::report_failures;
use crate::failure::Failure;
use crate::output::print;
use crate::progress::Progress;
use entry::Entry;
use keep::Filters;

/// How wide text may be, in columns of a terminal.
const WIDTH: usize = 80;

/// One ground with those of its varieties that are shown.
struct Shown<'a> {
    plugin: &'a Plugin,
    entries: Vec<Entry<'a>>,
}

/// Prints the table, all about some grounds, or JSON. Returns whether a
/// contribution failed.
pub fn run(args: &GroundsArgs, sources: &Sources) -> Result<bool, Failure> {
    // Any usual angle will do to check the spacing.
    args.pricking.grid(45.0)?;
    let catalogue = Catalogue::load(sources)?;
    let filters = Filters::new(&args.keep, &catalogue)?;
    let wanted = wanted(args, &catalogue)?;
    let mut failures = catalogue.failures.clone();
    let entries = worked_out(args, wanted, &mut failures)?;
    let entries = filters.apply(entries)?;
    let mut shown: Vec<Shown<'_>> = Vec::new();
    for entry in entries {
        match shown.iter_mut().find(|s| s.plugin.about.id == entry.plugin.about.id) {
            Some(ground) => ground.entries.push(entry),
            None => shown.push(Shown { plugin: entry.plugin, entries: vec![entry] }),
        }
    }
    let text = if args.json {
        json::json(&shown)?
    } else if args.grounds.is_empty() {
        table::table(args, &shown)
    } else {
        long::all_about(&shown)
    };
    print(&text)?;
    Ok(report_failures(&failures))
}

/// The varieties named, or all: each once, those of a ground together.
fn wanted<'a>(args: &GroundsArgs, catalogue: &'a Catalogue) -> Result<Vec<(&'a Plugin, &'a str)>, Failure> {
    let mut named: Vec<(&Plugin, Vec<&str>)> = Vec::new();
    let all = |plugin: &'a Plugin| plugin.about.varieties.keys().map(String::as_str).collect::<Vec<_>>();
    if args.grounds.is_empty() {
        named = catalogue.plugins.iter().map(|plugin| (plugin, all(plugin))).collect();
    }
    for name in &args.grounds {
        let (id, variety) = name.split_once('/').map_or((name.as_str(), None), |(i, v)| (i, Some(v)));
        let plugin = catalogue.plugin(id)?;
        let mut varieties = all(plugin);
        if let Some(variety) = variety {
            plugin.about.resolve(Some(variety), &[]).map_err(|why| Failure::Contribution(why.to_string()))?;
            varieties.retain(|v| *v == variety);
        }
        match named.iter_mut().find(|(p, _)| p.about.id == id) {
            Some((_, before)) => before.extend(varieties),
            None => named.push((plugin, varieties)),
        }
    }
    Ok(named
        .into_iter()
        .flat_map(|(plugin, varieties)| {
            all(plugin).into_iter().filter(move |v| varieties.contains(v)).map(move |v| (plugin, v))
        })
        .collect())
}

/// Every variety worked out; those that fail are put aside.
fn worked_out<'a>(
    args: &GroundsArgs,
    wanted: Vec<(&'a Plugin, &'a str)>,
    failures: &mut Vec<(String, String)>,
) -> Result<Vec<Entry<'a>>, Failure> {
    let progress = Progress::new(wanted.len(), "working out varieties");
    let results: Vec<Result<Entry<'a>, (String, String)>> = wanted
        .par_iter()
        .map(|&(plugin, variety)| {
            let done = args
                .pricking
                .grid(plugin.about.angle)
                .and_then(|grid| Ok(Entry::new(choose(plugin, Some(variety), &[])?, plugin, &grid)));
            progress.step();
            done.map_err(|why| (plugin.from.clone(), why.to_string()))
        })
        .collect();
    drop(progress);
    let mut entries = Vec::new();
    for result in results {
        match result {
            Ok(entry) => entries.push(entry),
            Err(failure) => failures.push(failure),
        }
    }
    Ok(entries)
}

/// A paragraph, broken at 80 columns between words (ids keep their hyphens);
/// nothing where there is nothing to say.
fn put(text: &mut String, indent: &str, label: &str, said: &str) {
    if said.is_empty() {
        return;
    }
    let first = format!("{indent}{label}");
    let next = format!("{indent}{}", if label.is_empty() { "" } else { "  " });
    text.push_str(&textwrap::fill(said, broken(WIDTH).initial_indent(&first).subsequent_indent(&next)));
    text.push('\n');
}

/// How text is broken.
fn broken<'a>(width: usize) -> Options<'a> {
    Options::new(width).word_separator(WordSeparator::AsciiSpace).word_splitter(WordSplitter::NoHyphenation)
}
