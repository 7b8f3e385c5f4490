//! Our grounds and fillings against outside sources, and their descriptions
//! against what is computed.

use std::collections::{BTreeMap, BTreeSet};

use catalogue::{Change, Kind};
use lace::{Code, Ground, Stitch, Travel};
use pairwise_tests::data;
use pairwise_tests::house::plugins;
use pairwise_tests::traces::{Trace, traces};
use sandbox::Plugin;
use serde::Deserialize;

fn repeat(plugin: &Plugin, variety: &str) -> lace::Repeat {
    plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap()
}

/// Every variety by its name, `rose/plain`.
fn grounds(plugins: &[Plugin]) -> BTreeMap<String, Ground> {
    let each = plugins.iter().flat_map(|p| p.about.varieties.keys().map(move |v| (p, v)));
    each.map(|(p, v)| (format!("{}/{v}", p.about.id), Ground::new(repeat(p, v)).unwrap())).collect()
}

#[test]
fn there_are_many_and_none_has_findings() {
    let plugins = plugins();
    let count: usize = plugins.iter().map(|p| p.about.varieties.len()).sum();
    assert!(plugins.len() >= 20 && count >= 60, "{} with {count} varieties", plugins.len());
    for plugin in plugins {
        for variety in plugin.about.varieties.keys() {
            let findings = lace::check(&repeat(plugin, variety));
            let codes: Vec<Code> = findings.iter().map(|finding| finding.code).collect();
            // Mechlin is worked without pins (common practice, from memory).
            let expected = if plugin.about.id == "mechlin" { &[Code::NoPin][..] } else { &[] };
            assert_eq!(codes, expected, "{}/{variety}", plugin.about.id);
        }
    }
}

#[test]
fn each_description_answers_a_teachers_questions() {
    let plugins = plugins();
    let ids: BTreeSet<&str> = plugins.iter().map(|p| p.about.id.as_str()).collect();
    let mut titles = BTreeSet::new();
    for plugin in plugins {
        let about = &plugin.about;
        assert!(
            !about.laces.is_empty() && !about.notes.is_empty() && !about.source.is_empty(),
            "{}",
            about.id
        );
        assert_eq!(about.sits_in.is_some(), about.kind == Kind::Filling, "{}", about.id);
        assert!(about.sits_in.as_ref().is_none_or(|ground| ids.contains(ground.as_str())), "{}", about.id);
        let named = about.varieties.values().flat_map(|v| &v.other_names).chain(&about.other_names);
        for name in named {
            assert!(!name.source.is_empty() && !name.language.is_empty(), "{}: {}", about.id, name.name);
        }
        let mut works = Vec::new();
        for (id, variety) in &about.varieties {
            assert!(titles.insert(variety.title.clone()), "two are called {}", variety.title);
            assert!(!variety.source.is_empty() && !variety.notes.is_empty(), "{}/{id}", about.id);
            works.push(repeat(plugin, id));
        }
        for (k, one) in works.iter().enumerate() {
            assert!(works[..k].iter().all(|other| other != one), "{}: two varieties are the same", about.id);
        }
    }
}

// Notes about colours: they mention staying only where threads stay, and
// travelling only where threads travel. The crates' own tests count the threads.
#[test]
fn notes_about_colours_agree_with_the_threads() {
    let plugins = plugins();
    let grounds = grounds(plugins);
    for plugin in plugins {
        for (id, variety) in &plugin.about.varieties {
            let name = format!("{}/{id}", plugin.about.id);
            let courses = grounds[&name].courses();
            let says = |word: &str| {
                let words = variety.notes.split(|c: char| !c.is_alphabetic());
                words.map(str::to_lowercase).any(|w| w == word || w == format!("{word}s"))
            };
            let (stay, travel) = (
                courses.iter().any(|c| c.travel == Travel::Stays),
                courses.iter().any(|c| c.travel != Travel::Stays),
            );
            assert_eq!((says("stay"), says("travel")), (stay, travel), "{name}: {}", variety.notes);
        }
    }
}

#[derive(Deserialize)]
struct Words {
    named: Vec<Word>,
}

#[derive(Deserialize)]
struct Word {
    name: String,
    word: String,
}

// Source: stitch_words.json; words read in Th. de Dillmont, Encyclopedia of
// Needlework (Project Gutenberg 20776), J. Edkins, L. Halley and others.
#[test]
fn every_published_stitch_is_worked_somewhere() {
    let plugins = plugins();
    let grounds = grounds(plugins);
    let words: Words = data::json("stitch_words.json");
    assert!(words.named.len() >= 20);
    for Word { name, word } in words.named {
        let work: Stitch = word.parse().unwrap();
        // Cross and twist alone are moves, not stitches.
        let worked = |ground: &Ground| {
            ground.stitches().iter().any(|s| match work.moves() {
                [single] => s.stitch.moves().contains(single),
                _ => s.stitch == work,
            })
        };
        assert!(grounds.values().any(worked), "{name}: {word}");
    }
}

/// Shares of the threads by their distance across for each step down.
type Slopes = BTreeMap<i64, f64>;

fn share(slopes: &mut Slopes, across: f64, down: f64, share: f64) {
    *slopes.entry((1000.0 * across / down).round() as i64).or_default() += share;
}

/// The same for a trace whose period is `rows` grid steps high.
fn traced(trace: &Trace, rows: f64) -> Slopes {
    let around = trace.schedule.pairs_around as f64;
    let mut slopes = Slopes::new();
    for cycle in &trace.cycles {
        let across = cycle.net_turns as f64 * around;
        share(&mut slopes, across, cycle.periods as f64 * rows, cycle.slots.len() as f64 / (2.0 * around));
    }
    slopes
}

fn computed(ground: &Ground) -> Slopes {
    let runs: Vec<_> = ground.orbits().iter().map(|o| ground.lattice().place(o.cells)).collect();
    let down: f64 = runs.iter().map(|run| run.y).sum();
    let mut slopes = Slopes::new();
    runs.iter().for_each(|run| share(&mut slopes, run.x, run.y, run.y / down));
    slopes
}

#[test]
fn threads_agree_with_traces_from_outside() {
    /// Beginning of the trace's name, the variety, height of a period in grid steps.
    const SAME: [(&str, &str, f64); 13] = [
        ("torchon_W", "torchon/plain", 2.0),
        ("double_torchon_W", "torchon/double", 2.0),
        ("half_stitch_W", "torchon/half-stitch", 2.0),
        ("hole_twisted_dillmont_W", "torchon/twisted", 2.0),
        ("brussels_dillmont_W", "torchon/double-twisted", 2.0),
        ("bucks_net_two_extra_twists_W", "point/plain", 2.0),
        ("bucks_net_one_extra_twist_W", "point/light", 2.0),
        ("rose_standard_W", "rose/plain", 4.0),
        ("rose_doubled_W", "rose/doubled", 4.0),
        ("rose_halved_W", "rose/halved", 4.0),
        ("rose_half_cross_W", "rose/half-crossings", 4.0),
        ("rose_dbl_pin_W", "rose/double-pins", 4.0),
        ("brussels_dillmont_W", "brussels/plain", 2.0),
    ];
    /// Traces that are not a ground of the trade, or only a single unit.
    const OTHERS: [&str; 5] =
        ["cloth_everywhere", "cross_only", "CCT_mixed", "honeycomb_stitch_on", "rose_single"];
    let plugins = plugins();
    let grounds = grounds(plugins);
    for (name, trace) in &traces() {
        let same: Vec<_> = SAME.iter().filter(|(trace, ..)| name.starts_with(trace)).collect();
        assert_eq!(same.is_empty(), OTHERS.iter().any(|other| name.starts_with(other)), "{name}");
        for (_, variety, rows) in same {
            let ground = &grounds[*variety];
            assert_eq!(computed(ground), traced(trace, *rows), "{name}, {variety}");
            if *variety != "brussels/plain" {
                let worked: BTreeSet<String> =
                    ground.stitches().iter().map(|s| s.stitch.to_string()).collect();
                let written: BTreeSet<String> =
                    trace.schedule.steps.iter().map(|step| step.1.to_string()).collect();
                assert_eq!(worked, written, "{name}, {variety}");
            }
        }
    }
}

/// Tallies: how many dots lie between two of them along a diagonal, as their titles and
/// notes say. With `n` dots between, one dot of `(n + 1)` times `(n + 1)` is a tally.
#[test]
fn tallies_say_how_many_dots_lie_between() {
    let plugins = plugins();
    let grounds = grounds(plugins);
    for (name, between, title, share) in [
        ("tally/scattered", 2, "two dots between", "one dot in nine is a tally"),
        ("tally/close", 1, "one dot between", "one dot in four is a tally"),
        ("net-tally/scattered", 3, "three dots between", "one dot in sixteen is a tally"),
        ("net-tally/close", 1, "one dot between", "one dot in four is a tally"),
    ] {
        let (id, variety) = name.split_once('/').unwrap();
        let about = &plugins.iter().find(|p| p.about.id == id).unwrap().about;
        let said = &about.varieties[variety];
        assert!(said.title.ends_with(title) && said.notes.contains(share), "{name}: {said:?}");
        let stitches = grounds[name].stitches();
        let tallies = stitches.iter().filter(|s| s.stitch.words().starts_with("tally")).count();
        assert_eq!((tallies, stitches.len()), (1, (between + 1) * (between + 1)), "{name}");
    }
}

/// Common practice, no source: a tally is square, a leaf pointed. Of everything woven in
/// the catalogue, with whatever choices, only flowers and leaved plaits have leaves.
#[test]
fn what_is_woven_is_called_tally_or_leaf_as_in_the_trade() {
    let mut found = BTreeMap::<&str, usize>::new();
    for plugin in plugins() {
        let about = &plugin.about;
        for variety in about.varieties.keys() {
            // The usual choices, and every other value of each.
            let others = about.choices.iter().flat_map(|(id, choice)| {
                choice.range.values().map(move |value| vec![Change::new(id, &value)])
            });
            for changes in std::iter::once(Vec::new()).chain(others) {
                let settings = about.resolve(Some(variety), &changes).unwrap();
                let ground = Ground::new(plugin.define(&settings).unwrap()).unwrap();
                let name = if ["flower", "plait"].contains(&about.id.as_str()) { "leaf" } else { "tally" };
                for (k, placed) in ground.stitches().iter().enumerate() {
                    let plain = placed.stitch.words();
                    let words = ground.stitch_in_words(k);
                    let at = format!("{}/{variety} {changes:?} {}", about.id, placed.id);
                    if plain.starts_with("tally") {
                        assert_eq!(words, plain.replacen("tally", name, 1), "{at}");
                        *found.entry(&about.id).or_default() += 1;
                    } else {
                        assert_eq!(words, plain, "{at}");
                    }
                    assert_eq!(ground.kind_in_words(&placed.stitch), words, "{at}");
                    assert_eq!(ground.repeat().stitch_in_words(k, ground.places()), words, "{at}");
                }
            }
        }
    }
    assert_eq!(found.into_keys().collect::<Vec<_>>(), ["flower", "honeycomb", "net-tally", "plait", "tally"]);
}

/// Names of the trade that a teacher would look for (common practice, from memory).
#[test]
fn grounds_are_found_by_the_names_a_teacher_knows() {
    let about = |id: &str| &plugins().iter().find(|p| p.about.id == id).unwrap().about;
    assert_eq!(about("pin-chain").laces, ["Bucks Point", "Chantilly", "Lille", "Tønder"]);
    assert_eq!(about("honeycomb").laces, ["Bucks Point", "Chantilly", "Lille", "Torchon", "Tønder"]);
    // Rose ground as such is called so (J. Edkins, online lace tutorial; L. Halley), not
    // single varieties of it.
    let rose = about("rose");
    for name in ["five-hole ground", "cinq trous"] {
        assert!(rose.other_names.iter().any(|other| other.name == name), "{name}");
        let mut named = rose.varieties.values().flat_map(|variety| &variety.other_names);
        assert!(named.all(|other| other.name != name), "{name}");
    }
    // "Called in Flanders" droschel: Mrs. Bury Palliser, History of Lace, 1902, page 119.
    let droschel = about("brussels").other_names.iter().find(|other| other.name == "droschel");
    assert_eq!(droschel.map(|other| other.language.as_str()), Some("nl"));
    let dutch = about("honeycomb").other_names.iter().find(|n| n.language == "nl");
    assert_eq!(dutch.map(|n| n.name.as_str()), Some("rozengrond"));
    assert!(about("flower").notes.contains("The name is ours."));
    // A tally is square, a leaf pointed: only leaves are called so.
    let tallies = [about("tally"), about("net-tally")];
    assert!(tallies.iter().all(|about| !about.notes.contains("leaf") && !about.notes.contains("leaves")));
}

/// A tally stands in every other hole of the honeycomb, in every second row (common
/// practice, no source), and both pairs leave it twisted (J. Edkins, online lace tutorial,
/// tally).
#[test]
fn tallies_leave_every_other_hole_of_the_honeycomb_round() {
    let grounds = grounds(plugins());
    let (open, filled) = (&grounds["honeycomb/plain"], &grounds["honeycomb/tallies"]);
    let pins = |ground: &Ground| ground.stitches().iter().filter(|s| s.stitch.pin().is_some()).count();
    // Three pins for every hole.
    assert_eq!((pins(open), pins(filled)), (3, 6));
    let tally = filled.stitches().iter().position(|s| s.stitch.words().starts_with("tally")).unwrap();
    assert_eq!(filled.stitches().len(), 7);
    let leaving: Vec<u32> =
        filled.legs().iter().filter(|leg| leg.from.stitch == tally).map(|leg| leg.twists).collect();
    assert_eq!(leaving, [1, 1]);
}

/// The round ground is that of Bruges (Mrs. Bury Palliser, History of Lace, 1902, page 133).
/// The pins of a plait of four half stitches stand nearer than in the square mesh, whose
/// plaits lie straight.
#[test]
fn the_round_mesh_of_valenciennes_is_smaller_than_the_square_one() {
    let grounds = grounds(plugins());
    let height = |name: &str| grounds[name].repeat().lattice.down.y;
    assert!(height("valenciennes/round") < 0.8 * height("valenciennes/four"));
    let work = |name: &str| -> Vec<String> {
        grounds[name].stitches().iter().map(|s| s.stitch.to_string()).collect()
    };
    assert_eq!(work("valenciennes/round"), work("valenciennes/four"));
}
