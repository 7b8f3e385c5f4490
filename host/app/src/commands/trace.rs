//! `trace`: where every pair goes, and what to change to steer one.

mod picture;
mod why;

use ::picture::colour::Rgb;
use catalogue::Chosen;
use lace::{Arrangement, EdgeChange, EdgeStitches, Side, Stitch, StitchError, Trace};
use serde::Serialize;

use crate::cli::{Sources, TraceArgs};
use crate::colours::Palette;
use crate::commands::Outcome;
use crate::export::Format;
use crate::failure::Failure;
use crate::output::print;
use crate::pictures::Scale;
use crate::request::choices::GroundRequest;
use crate::sources;

/// Fewest pairs followed, and most rows, when the user does not say.
const USUAL_PAIRS: usize = 8;
const USUAL_ROWS: usize = 16;

/// What `--json` prints.
#[derive(Serialize)]
struct Traced<'a> {
    /// `pairwise-trace/1`.
    format: &'static str,
    ground: &'a str,
    variety: &'a str,
    arrangement: String,
    colours: Vec<&'a str>,
    /// The colours that hang in each place: left and right thread.
    hung: Vec<[u8; 2]>,
    #[serde(flatten)]
    trace: &'a Trace,
    sentences: &'a [String],
    pattern: lace::Pattern,
    period: lace::ColourPeriod,
}

/// What the user asked for, read.
struct Asked<'a> {
    args: &'a TraceArgs,
    chosen: Chosen,
    order: Arrangement,
    palette: Palette,
    scale: Scale,
}

/// Prints, and draws when asked to.
pub fn run(args: &TraceArgs, sources: &Sources) -> Result<Outcome, Failure> {
    if let Some(out) = &args.out {
        Format::of(out)?;
    }
    let scale = Scale::new(&args.gauge)?;
    let request = GroundRequest::new(&args.ground, &args.choices)?;
    let palette = Palette::read(args.dress.colours.as_deref())?;
    let order = palette.order(&args.dress.arrangement)?;
    palette.tell_confusions(Rgb::LINEN, order.colours());
    let palette = palette.painted(args.dress.seen_by);
    let edges = edges(args)?;
    let chosen = request.choose(&sources::catalogue(sources)?)?;
    let asked = Asked { args, chosen, order, palette, scale };
    if args.why.is_some() {
        return why::run(&asked).map(|()| Outcome::Done);
    }
    let trace = asked.trace(&edges)?;
    asked.check_places(trace.places)?;
    let ground = &asked.chosen.ground;
    let names: Vec<String> = asked.palette.colours().iter().map(|c| c.name.clone()).collect();
    let sentences = ground.trace_in_words(&trace, &asked.order, &names);
    if let Some(out) = &args.out {
        picture::draw(&asked, &trace, &sentences, out)?;
    }
    if args.json {
        let traced = Traced {
            format: "pairwise-trace/1",
            ground: &asked.chosen.about().id,
            variety: &asked.chosen.variety,
            arrangement: asked.order.to_string(),
            colours: names.iter().map(String::as_str).collect(),
            hung: trace.hung(&asked.order),
            trace: &trace,
            sentences: &sentences,
            pattern: ground.pattern(&asked.order),
            period: ground.colour_period(&asked.order),
        };
        let text = serde_json::to_string_pretty(&traced)?;
        print(&format!("{text}\n"))?;
        return Ok(Outcome::Done);
    }
    print(&asked.told(&trace, &sentences))?;
    Ok(Outcome::Done)
}

impl Asked<'_> {
    fn trace(&self, edges: &EdgeStitches) -> Result<Trace, Failure> {
        let ground = &self.chosen.ground;
        let own = ground.hanging().pairs().len();
        let least = self.args.pairs.map_or(USUAL_PAIRS.max(self.order.pairs().len()), usize::from);
        let pairs = match self.args.pairs {
            Some(_) => least.next_multiple_of(own),
            None => {
                let once = ground.pairs_until_both_repeat(self.order.pairs().len());
                least.next_multiple_of(once)
            }
        };
        let wrong = |why: lace::TraceError| Failure::Value {
            what: why.to_string(),
            help: "give a smaller --pairs or --rows".to_owned(),
        };
        let rows = self.args.rows.map(usize::from);
        if self.args.footsides {
            let rows = rows.unwrap_or(USUAL_ROWS);
            return ground.trace_between_footsides(pairs / own, rows, edges).map_err(wrong);
        }
        let mut trace = ground.trace(pairs, rows.unwrap_or(USUAL_ROWS)).map_err(wrong)?;
        if rows.is_none()
            && let Some(back) = trace.returns.iter().copied().collect::<Option<Vec<usize>>>()
            && let Some(&last) = back.iter().max()
        {
            trace.rows.truncate(last.max(4) + 1);
        }
        Ok(trace)
    }

    /// Refuses pairs and colours that are not there.
    fn check_places(&self, places: usize) -> Result<(), Failure> {
        if let Some(wrong) = self.args.pair.iter().find(|p| !(1..=places).contains(*p)) {
            return Err(Failure::Value {
                what: format!("there is no pair {wrong}"),
                help: format!("pairs are counted from 1 to {places} here; --pairs follows more"),
            });
        }
        let used = self.order.colours();
        let known = |c: &char| c.is_ascii_uppercase() && usize::from(*c as u8 - b'A') < used;
        if let Some(wrong) = self.args.colour.iter().find(|c| !known(c)) {
            return Err(Failure::Value {
                what: format!("the order {} has no colour {}", self.order, wrong.escape_debug()),
                help: "give one of its letters, for example --colour B".to_owned(),
            });
        }
        Ok(())
    }

    /// Which pairs (threads) are followed: all, unless the user says.
    fn shown(&self, trace: &Trace) -> Vec<bool> {
        let all = self.args.pair.is_empty() && self.args.colour.is_empty();
        let hung = trace.hung(&self.order);
        (0..trace.places)
            .map(|k| {
                let number = if trace.by_threads { k / 2 + 1 } else { k + 1 };
                let letter = |c: &u8| self.args.colour.contains(&lace::colour_letter(*c));
                all || self.args.pair.contains(&number) || hung[k].iter().any(letter)
            })
            .collect()
    }

    fn rgb(&self, colours: [u8; 2]) -> [Rgb; 2] {
        colours.map(|c| self.palette.rgb(c).into())
    }

    /// The trace as text: sentences, then a line for each pair followed.
    fn told(&self, trace: &Trace, sentences: &[String]) -> String {
        let ground = &self.chosen.ground;
        let rows = trace.rows.len() - 1;
        let unit = if trace.by_threads { "threads" } else { "pairs" };
        let where_worked = if trace.footsides { "between two footsides" } else { "on an endless width" };
        let mut text =
            format!("{} ({}), pairs hang {}\n", self.chosen.title(), self.chosen.name(), self.order);
        text.push_str(&format!("{} {unit} over {rows} rows of repeats, {where_worked}\n\n", trace.places));
        for sentence in sentences {
            text.push_str(&format!("  {sentence}\n"));
        }
        let result = ground.pattern(&self.order);
        if !trace.footsides {
            text.push_str(&format!("  The colours make {}.\n", pattern_in_words(result)));
        }
        if trace.by_threads {
            text.push_str("\n  Some stitches part the threads of a pair, so single threads are followed.\n");
        }
        text.push_str(&format!("\n{:<18} place after each row\n", "begins in place"));
        text.push_str(&format!("{:<18}", ""));
        let cell = if trace.places >= 100 { 4 } else { 3 };
        let shown_rows = rows.min((80 - 18 - 14) / cell);
        for row in 0..=shown_rows {
            text.push_str(&format!("{row:>cell$}"));
        }
        text.push_str(if trace.footsides { "  footsides\n" } else { "  is back\n" });
        let hung = trace.hung(&self.order);
        for (k, shown) in self.shown(trace).into_iter().enumerate() {
            if !shown {
                continue;
            }
            let order = Arrangement::of_threads(&hung[k]);
            text.push_str(&format!("{:>3}  {:<13}", k + 1, self.named(hung[k], &order)));
            for row in &trace.rows[..=shown_rows] {
                let place = row[k].rem_euclid(trace.places as i64) + 1;
                text.push_str(&format!("{place:>cell$}"));
            }
            let end = if trace.footsides {
                let visits: Vec<String> = trace.visits[k]
                    .iter()
                    .take(3)
                    .map(|v| format!("{} {}", if v.side == Side::Left { "left" } else { "right" }, v.row))
                    .collect();
                visits.join(", ")
            } else {
                trace.returns[k].map_or("not yet".to_owned(), |r| format!("row {r}"))
            };
            text.push_str(&format!("  {end}\n"));
        }
        if shown_rows < rows {
            text.push_str(&format!("(rows {} to {rows} are in --json)\n", shown_rows + 1));
        }
        text
    }

    fn named(&self, colours: [u8; 2], order: &Arrangement) -> String {
        let names: Vec<&str> = colours
            .iter()
            .take(if colours[0] == colours[1] { 1 } else { 2 })
            .filter_map(|&c| self.palette.colours().get(usize::from(c)).map(|c| c.name.as_str()))
            .collect();
        format!("{order} {}", names.join("/")).chars().take(13).collect()
    }
}

/// A pattern for the sentence "the colours make …".
fn pattern_in_words(pattern: lace::Pattern) -> String {
    match pattern {
        lace::Pattern::Plain => "no pattern: all pairs have one colour".to_owned(),
        lace::Pattern::EvenMix => "an even mix".to_owned(),
        other => other.words().to_owned(),
    }
}

/// The edge stitches the user asks for.
fn edges(args: &TraceArgs) -> Result<EdgeStitches, Failure> {
    let work = |text: &str| -> Result<Stitch, Failure> {
        text.parse().map_err(|wrong: StitchError| Failure::Value {
            what: format!("`{}` is no edge stitch: {wrong}", text.escape_debug()),
            help: "write crosses and twists as C and T, for example \"CTCT pin CTCT\"".to_owned(),
        })
    };
    let changes = args
        .edge_change
        .iter()
        .map(|text| {
            let wrong = || Failure::Value {
                what: format!("`{}` is not of the form SIDE:NUMBER=STITCH", text.escape_debug()),
                help: "for example --edge-change left:2=\"CT pin CT\"".to_owned(),
            };
            let (place, stitch) = text.split_once('=').ok_or_else(wrong)?;
            let (side, number) = place.split_once(':').ok_or_else(wrong)?;
            let side = match side.trim() {
                "left" => Side::Left,
                "right" => Side::Right,
                _ => return Err(wrong()),
            };
            let number: usize = number.trim().parse().ok().filter(|&n| n > 0).ok_or_else(wrong)?;
            Ok(EdgeChange { side, number, stitch: work(stitch)? })
        })
        .collect::<Result<_, Failure>>()?;
    Ok(EdgeStitches { stitch: work(&args.edge)?, changes })
}
