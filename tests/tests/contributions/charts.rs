//! Charts: reading, writing, packing, and the place of every fault.

use crate::machine;
use chart_files::{pack, read};
use lace::{Ground, Stitch};
use pairwise_tests::charts::{defined, same, text, written};
use pairwise_tests::house::plugins;
use pairwise_tests::schedule::Schedule;
use proptest::prelude::*;
use sandbox::{Sandbox, Source};

const PAGE: &str = include_str!("../../../plugins/CHARTS.md");

/// The complete charts on the page.
fn charts_of_the_page() -> Vec<&'static str> {
    let blocks = PAGE.split("```toml\n").skip(1).map(|rest| rest.split("```").next().unwrap());
    blocks.filter(|block| block.contains("format = ")).collect()
}

#[test]
fn every_variety_survives_being_written_as_a_chart() {
    let sandbox = Sandbox::new(None).unwrap();
    let mut packed = 0;
    for plugin in plugins() {
        for (k, variety) in plugin.about.varieties.keys().enumerate() {
            let name = format!("{}/{variety}", plugin.about.id);
            let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
            let chart = written(&repeat);
            let read = read(&chart).unwrap_or_else(|faults| panic!("{name}: {faults:?}\n{chart}"));
            assert!(same(&defined(&read).unwrap(), &repeat), "{name}\n{chart}");
            // Packed, it gives the same answers in the sandbox.
            if k == 0 {
                let bytes = pack(&read.chart).unwrap();
                let back = sandbox.load(&Source::Bytes { name: name.clone(), bytes: bytes.into() }).unwrap();
                assert_eq!(back.about.pin_spacing_mm, Some(4.0), "{name}");
                let answer = back.define(&back.about.resolve(None, &[]).unwrap()).unwrap();
                assert!(same(&answer, &repeat), "{name}");
                let [one, other] = [answer, repeat].map(|repeat| Ground::new(repeat).unwrap());
                assert_eq!(one.orbits(), other.orbits(), "{name}");
                packed += 1;
            }
        }
    }
    assert!(packed >= 20);
}

#[test]
fn the_charts_on_the_page_are_grounds_in_every_variety() {
    let charts = charts_of_the_page();
    assert!(charts.len() >= 2, "the rose ground and another");
    let sandbox = Sandbox::new(None).unwrap();
    for chart in charts {
        let read = read(chart).unwrap_or_else(|faults| panic!("{faults:?}\n{chart}"));
        let bytes = pack(&read.chart).unwrap();
        assert_eq!(pack(&read.chart).unwrap(), bytes, "the same chart gives the same bytes");
        let plugin = sandbox.load(&Source::Bytes { name: "page".into(), bytes: bytes.into() }).unwrap();
        for variety in plugin.about.varieties.keys() {
            let repeat = plugin.define(&plugin.about.resolve(Some(variety), &[]).unwrap()).unwrap();
            let findings = lace::check(&repeat);
            assert!(findings.is_empty(), "{variety}: {findings:?}");
        }
    }
}

// The crate that reads charts, rebuilt, answers like the committed component.
#[test]
fn the_component_for_charts_built_again_answers_the_same() {
    let folder = std::env::var_os("PAIRWISE_REBUILT");
    if !machine::has("components built again, PAIRWISE_REBUILT", folder.is_some()) {
        return;
    }
    let folder = folder.unwrap();
    let rebuilt = std::fs::read(std::path::Path::new(&folder).join("guest.wasm")).unwrap();
    let sandbox = Sandbox::new(None).unwrap();
    for chart in charts_of_the_page() {
        let chart = read(chart).unwrap().chart;
        let answers = [pack(&chart).unwrap(), pairwise_chart::pack(&rebuilt, &chart).unwrap()].map(|bytes| {
            let plugin = sandbox.load(&Source::Bytes { name: "chart".into(), bytes: bytes.into() }).unwrap();
            let varieties = plugin.about.varieties.keys();
            let define = |v: &String| plugin.define(&plugin.about.resolve(Some(v), &[]).unwrap()).unwrap();
            (plugin.about.title.clone(), varieties.map(define).collect::<Vec<_>>())
        });
        assert_eq!(answers[0], answers[1]);
    }
}

// The rose ground on the page is our own.
#[test]
fn the_rose_on_the_page_is_the_rose_ground() {
    let rose = charts_of_the_page()[0];
    let chart = read(rose).unwrap();
    let plugin = plugins().iter().find(|plugin| plugin.about.id == "rose").unwrap();
    let repeat = plugin.define(&plugin.about.resolve(None, &[]).unwrap()).unwrap();
    let [one, other] = [defined(&chart).unwrap(), repeat].map(|repeat| Ground::new(repeat).unwrap());
    assert_eq!(one.orbits().len(), other.orbits().len());
    let cells = |ground: &Ground| {
        let mut cells: Vec<_> = ground.orbits().iter().map(|o| o.cells).collect();
        cells.sort_unstable();
        cells
    };
    assert_eq!(cells(&one), cells(&other));
}

#[test]
fn faults_are_reported_at_their_place_with_a_remedy() {
    let rose = charts_of_the_page()[0];
    let line_of = |at: usize, text: &str| text[..at].matches('\n').count() + 1;
    // The changed text, the message, the remedy.
    for (from, to, said, remedy) in [
        (
            "format = \"pairwise-chart/1\"",
            "format = \"pairwise-chart/9\"",
            "the format is `pairwise-chart/9`",
            "pairwise-chart/1",
        ),
        (
            "work = \"crossing\"",
            "work = \"crossin\"",
            "`crossin` is no stitch",
            "did you mean `crossing`? the phrases understood are half stitch",
        ),
        (
            "to = \"top\"",
            "to = \"topp\"",
            "no stitch is called `topp`",
            "did you mean `top`? the stitches are",
        ),
        ("id = \"bottom\"", "id = \"top\"", "two stitches are called `top`", "rename"),
        ("id = \"bottom\"", "id = \"Bottom pin\"", "`Bottom pin` cannot be the id of a stitch", "a to z"),
        ("across = [2, 2]", "across = [2]", "here is 1 number, and 2 are needed", "[2, 0]"),
        ("down = [-2, 2]", "down = -2, 2", "brackets are missing", "[-2, 2] for two"),
        ("[about]", "[abut]", "`abut` means nothing here", "did you mean `about`?"),
    ] {
        assert!(rose.contains(from), "{from}");
        let spoilt = rose.replacen(from, to, 1);
        let faults = read(&spoilt).unwrap_err();
        let fault = &faults[0];
        assert!(fault.sentence.contains(said), "{to}: {fault:?}");
        assert!(fault.remedy.contains(remedy), "{to}: {fault:?}");
        if !said.starts_with("unknown") && !said.is_empty() {
            let written = line_of(spoilt.find(to.split('=').next_back().unwrap()).unwrap(), &spoilt);
            let told = line_of(fault.at.start, &spoilt);
            assert!(told == written || said.starts_with("two stitches"), "{to}: line {told}, not {written}");
        }
    }
}

/// The names in a remedy are few, however many there are.
#[test]
fn a_remedy_lists_the_first_names_and_counts_the_others() {
    for stitches in [1, 12, 13, 42, 700] {
        let mut chart =
            "format = \"pairwise-chart/1\"\nabout = { id = \"a\", title = \"A\", source = \"none\" }\n\
            repeat = { across = [1, 1], down = [-1, 1] }\n"
                .to_owned();
        for n in 0..stitches {
            let to = "left = { to = \"somewhere else\" }";
            chart += &format!("[[stitch]]\nid = \"pin-{n}\"\nat = [0, 0]\nwork = \"CT\"\n{to}\n");
        }
        let faults = read(&chart).unwrap_err();
        assert_eq!(faults.len(), stitches);
        let remedy = &faults[0].remedy;
        assert_eq!(remedy.matches("`pin-").count(), stitches.min(12), "{remedy}");
        let more = format!("`pin-11` and {} more", stitches.saturating_sub(12));
        assert_eq!(remedy.ends_with(&more), stitches > 12, "{remedy}");
    }
}

#[test]
fn faults_in_choices_varieties_and_exits_are_marked() {
    let holes = charts_of_the_page()[1];
    // The changed text; the first fault: the text marked, the sentence, the remedy.
    for (from, to, marked, said, remedy) in [
        (
            "work = \"stitch\"",
            "work = \"stich\"",
            "\"stich\"",
            "`stich` is no stitch",
            "did you mean `stitch`?",
        ),
        (
            "work = \"stitch\"",
            "work = \"long-twists\"",
            "\"long-twists\"",
            "the choice `long-twists` is a number, not a stitch",
            "use it for `twists`",
        ),
        (
            "work = \"stitch\"",
            "work = \"half stitch, stitch, pin, pin\"",
            "\"half stitch, stitch, pin, pin\"",
            "pin",
            "the phrases understood are half stitch",
        ),
        (
            "{ id = \"firm\"",
            "{ id = \"light\"",
            "\"light\"",
            "two options are called `light`",
            "rename one of them",
        ),
        ("usual = 2", "usual = 5", "5", "5 is not from 0 to 4", "choose a `usual` between them"),
        (
            "count = [0, 4]",
            "count = [4, 0]",
            "[4, 0]",
            "from 4 to 0 there is no number",
            "the smaller number first",
        ),
        (
            "count = [0, 4]",
            "count = [0, 2000000000]",
            "[0, 2000000000]",
            "from 0 to 2000000000 there are too many numbers",
            "at most 10000 are possible",
        ),
        (
            "count = [0, 4]",
            "count = [-9223372036854775808, 9223372036854775807]",
            "[-9223372036854775808, 9223372036854775807]",
            "there are too many numbers",
            "at most 10000 are possible",
        ),
        (
            "count = [0, 4]\nusual = 2",
            "count = [3000000000, 3000000004]\nusual = 3000000000",
            "[3000000000, 3000000004]",
            "the numbers from 3000000000 to 3000000004 are too large",
            "nothing in a chart",
        ),
        (
            "{ id = \"firm\"",
            "{ id = \"nul\"",
            "\"nul\"",
            "`nul` cannot be the id of an option: some systems keep this name for a device",
            "choose another name",
        ),
        (
            "id = \"long-twists\"",
            "id = \"com1\"",
            "\"com1\"",
            "`com1` cannot be the id of a choice: some systems keep this name for a device",
            "choose another name",
        ),
        (
            "\"long-twists\" }",
            "\"long-twist\" }",
            "\"long-twist\"",
            "is no choice of a number",
            "`long-twists`?",
        ),
        ("\"long-twists\" }", "-1 }", "-1", "-1 twists cannot be made", "give 0 to"),
        (
            "[-1, 3]",
            "[-1, 2]",
            "[-1, 2]",
            "`right` never stands at [-1, 2]",
            "it stands at [1, 1] and in steps of [2, 2] and [-2, 2] from there",
        ),
        (
            "enters = \"left\"",
            "enters = \"top\"",
            "\"top\"",
            "`top` is no side",
            "write \"left\" or \"right\"",
        ),
        (
            "to = \"right\", at = [-1, 3], enters = \"left\", ",
            "at = [1, 1], ",
            "[1, 1]",
            "`at` says nothing without `to`",
            "leave it out",
        ),
        ("set = { stitch", "set = { stich", "stich", "there is no choice `stich`", "did you mean `stitch`?"),
        (
            "\"light\", long",
            "\"ligth\", long",
            "\"ligth\"",
            "`stitch` has no option `ligth`",
            "did you mean `light`?",
        ),
        ("\"light\", long", "3, long", "3", "`stitch` is set to a number", "in quotation marks"),
        ("long-twists = 1", "long-twists = 5", "5", "`long-twists` cannot be 5", "from 0 to 4"),
        (
            "long-twists = 1",
            "long-twists = \"1\"",
            "\"1\"",
            "`long-twists` is set to a word",
            "without quotation marks",
        ),
    ] {
        assert!(holes.contains(from), "{from}");
        let spoilt = holes.replacen(from, to, 1);
        let faults = read(&spoilt).unwrap_err();
        // Others may follow from it.
        let fault = &faults[0];
        assert_eq!(&spoilt[fault.at.clone()], marked, "{fault:?}");
        assert!(fault.sentence.contains(said), "{to}: {fault:?}");
        assert!(fault.remedy.contains(remedy), "{to}: {fault:?}");
    }
}

fn schedule() -> impl Strategy<Value = Schedule> {
    let usual =
        ["CT pin CT", "CTCT pin CTCT", "CTCT", "CTC", "CT pin", "CTTT pin", "TCT", "CTC twist-right pin CTC"];
    let work = prop::sample::select(usual.to_vec()).prop_map(|text| text.parse::<Stitch>().unwrap());
    (2usize..5, prop::collection::vec((0usize..5, work.clone()), 0..10), prop::collection::vec(work, 5))
        .prop_map(|(pairs, mut steps, more)| {
            steps.iter_mut().for_each(|step| step.0 %= pairs);
            steps.extend((0..pairs).zip(more));
            Schedule { pairs_around: pairs, steps }
        })
}

proptest! {
    #[test]
    fn any_ground_comes_back_from_its_chart(schedule in schedule()) {
        let repeat = schedule.repeat();
        if let Ok(ground) = Ground::new(repeat.clone()) {
            let mut placed = repeat;
            for (stitch, at) in placed.stitches.iter_mut().zip(ground.places()) {
                stitch.at = Some(*at);
            }
            let chart = written(&placed);
            let back = read(&chart).unwrap();
            prop_assert!(same(&defined(&back).unwrap(), &placed), "{}", chart);
            prop_assert_eq!(written(&defined(&back).unwrap()), chart);
        }
    }

    #[test]
    fn changed_charts_are_answered(cuts in prop::collection::vec((0usize..4000, 0usize..12, "[a-z0-9\\[\\]={}\",. \n-]{0,6}"), 1..6), which in 0usize..2) {
        let mut chart = charts_of_the_page()[which].to_owned();
        for (at, long, put) in cuts {
            let at = (0..=at % chart.len().max(1)).rev().find(|at| chart.is_char_boundary(*at)).unwrap_or(0);
            let end = (at + long..=chart.len()).find(|end| chart.is_char_boundary(*end)).unwrap_or(chart.len()).max(at);
            chart.replace_range(at..end, &put);
        }
        text(&chart);
    }

    #[test]
    fn any_text_at_all_is_answered(chart in "(?s).{0,400}") {
        text(&chart);
    }
}
