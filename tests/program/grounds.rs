//! The `grounds` command as a user runs it.

use std::path::Path;
use std::process::Output;

use crate::contribution::{Description, Options, Set, Text};
use crate::support::{pairwise, text};
use serde_json::Value;

fn grounds(folder: &Path, args: &[&str]) -> Output {
    pairwise(folder, &[&["grounds"], args].concat())
}

/// Runs a mistaken command: it must end with status 2 and print all of `words`.
#[track_caller]
fn assert_refused(args: &[&str], words: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let out = grounds(folder.path(), args);
    let message = text(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{args:?}: {message}");
    assert!(out.stdout.is_empty(), "{args:?}: {}", text(&out.stdout));
    // Long messages are wrapped: compare without line breaks.
    let flat = |text: &str| text.split(|c: char| c.is_whitespace() || c == '│').collect::<String>();
    for word in words {
        assert!(flat(&message).contains(&flat(word)), "{args:?} should say {word}: {message}");
    }
}

/// The output of `grounds`, which must succeed.
fn stdout(args: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let out = grounds(folder.path(), args);
    assert_eq!(out.status.code(), Some(0), "{args:?}: {}", text(&out.stderr));
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    text(&out.stdout)
}

fn json(args: &[&str]) -> Value {
    serde_json::from_str(&stdout(&[args, &["--json"]].concat())).unwrap()
}

/// Every ground and variety of a list.
fn varieties(list: &Value) -> Vec<(&Value, &Value)> {
    let grounds = list["grounds"].as_array().unwrap();
    grounds.iter().flat_map(|g| g["varieties"].as_array().unwrap().iter().map(move |v| (g, v))).collect()
}

/// The names as users type them.
fn names(list: &Value) -> Vec<String> {
    let name =
        |(g, v): &(&Value, &Value)| format!("{}/{}", g["id"].as_str().unwrap(), v["id"].as_str().unwrap());
    varieties(list).iter().map(name).collect()
}

/// The names of the varieties that `keep` accepts.
fn names_of(list: &Value, keep: impl Fn(&Value, &Value) -> bool) -> Vec<String> {
    let all = names(list);
    let kept = varieties(list).into_iter().map(|(g, v)| keep(g, v));
    all.into_iter().zip(kept).filter(|(_, keep)| *keep).map(|(name, _)| name).collect()
}

/// The headings of a table, each with the names below it.
fn parts(table: &str) -> Vec<(String, Vec<String>)> {
    let mut parts: Vec<(String, Vec<String>)> = Vec::new();
    let table = table.split("\nFound by\n").next().unwrap();
    for line in table.lines().skip(1) {
        match line.strip_prefix("  ") {
            None if line.contains("variet") && !line.contains('.') => {
                parts.push((line.to_owned(), Vec::new()))
            }
            Some(row) if !row.starts_with(' ') && row.contains('/') => {
                let name = row.split_whitespace().next().unwrap();
                parts.last_mut().unwrap().1.push(name.to_owned());
            }
            _ => {}
        }
    }
    parts
}

fn rows(table: &str) -> Vec<String> {
    parts(table).into_iter().flat_map(|(_, rows)| rows).collect()
}

#[track_caller]
fn assert_fits(text: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
    }
}

#[test]
fn one_table_names_every_variety_below_its_family() {
    let list = json(&[]);
    let table = stdout(&[]);
    for heading in ["name", "title", "kind", "pairs", "pins", "colours"] {
        assert!(table.lines().next().unwrap().contains(heading), "{table}");
    }
    let parts = parts(&table);
    let mut shown = 0;
    for (heading, rows) in &parts {
        let family = heading.strip_prefix("Family ").unwrap().split(',').next().unwrap();
        assert_eq!(*rows, names_of(&list, |g, _| g["family"] == family), "{heading}");
        assert!(heading.contains(&format!(", {} variet", rows.len())), "{heading}");
        shown += rows.len();
    }
    assert_eq!(shown, names(&list).len());
    let headings: Vec<&String> = parts.iter().map(|(heading, _)| heading).collect();
    let mut once = headings.clone();
    once.dedup();
    assert_eq!(headings, once, "each family stands together");
    // Common practice, no source: torchon travels, double torchon stays, rose
    // ground hangs on four pairs.
    let row = |name: &str| table.lines().find(|l| l.trim_start().starts_with(&format!("{name} "))).unwrap();
    assert!(row("torchon/plain").ends_with("travels"));
    assert!(row("torchon/double").ends_with("stays"));
    assert!(row("torchon/half-stitch").ends_with("both"));
    assert!(row("rose/plain").contains("ground       4   12.5  travels"), "{}", row("rose/plain"));
}

#[test]
fn nothing_is_wider_than_80_columns() {
    for args in [
        &[][..],
        &["--family", "rose"],
        &["--kind", "ground"],
        &["--kind", "filling"],
        &["--lace", "torchon"],
        &["--pins", "5-"],
        &["--pairs-across", "2-4"],
        &["--colours-go", "travels"],
        &["--colours-go", "stays"],
        &["--colours-go", "both"],
        &["--search", "ground"],
        &["--group", "kind"],
        &["--group", "lace"],
        &["--group", "colours"],
        &["--sort", "moves"],
        &["--group", "lace", "--sort", "moves", "--angle", "58.5", "--pin-spacing", "2.25"],
    ] {
        assert_fits(&stdout(args));
    }
    let list = json(&[]);
    let ids: Vec<&str> =
        list["grounds"].as_array().unwrap().iter().map(|g| g["id"].as_str().unwrap()).collect();
    assert_fits(&stdout(&ids));
}

/// A contribution with the longest names allowed.
#[test]
fn the_longest_names_are_wrapped_and_not_cut() {
    let folder = tempfile::tempdir().unwrap();
    let long = |letter: &str| letter.repeat(40);
    let text_of = Text::describing(|s| {
        s.id = long("g").into_bytes();
        s.family = long("f");
        s.title = format!("{} {}", "t".repeat(60), "u".repeat(19));
        s.notes = "w".repeat(500);
        s.varieties = vec![(long("v"), Vec::new()), ("short".into(), Vec::new())];
    });
    std::fs::create_dir(folder.path().join("mine")).unwrap();
    std::fs::write(folder.path().join("mine/long.wasm"), text_of.core()).unwrap();
    for args in [&["--plugins", "mine"][..], &["--plugins", "mine", &long("g")]] {
        let out = grounds(folder.path(), args);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        let printed = text(&out.stdout);
        assert_fits(&printed);
        let unbroken: String = printed.split_whitespace().collect();
        assert!(unbroken.contains(&format!("{}/{}", long("g"), long("v"))), "{printed}");
        assert!(unbroken.contains(&long("f")), "{printed}");
    }
}

#[test]
fn filters_keep_exactly_what_was_asked_for() {
    let list = json(&[]);
    let laces = |g: &Value, word: &str| {
        g["laces"].as_array().unwrap().iter().any(|l| l.as_str().unwrap().to_lowercase().contains(word))
    };
    let pins = |v: &Value| v["measures"]["pins_per_cm2"].as_f64().unwrap();
    let pairs = |v: &Value| v["pairs_across"].as_u64().unwrap();
    type Keeps<'a> = Box<dyn Fn(&Value, &Value) -> bool + 'a>;
    let cases: Vec<(&[&str], Keeps<'_>)> = vec![
        (&["--family", "ROSE"], Box::new(|g, _| g["family"] == "rose")),
        (
            &["--family", "rose", "--family", "torchon"],
            Box::new(|g, _| g["family"] == "rose" || g["family"] == "torchon"),
        ),
        (&["--kind", "ground"], Box::new(|g, _| g["kind"] == "ground")),
        (&["--kind", "filling"], Box::new(|g, _| g["kind"] == "filling")),
        (&["--lace", "TORCHON"], Box::new(|g, _| laces(g, "torchon"))),
        (&["--lace", "tonder"], Box::new(|g, _| laces(g, "tønder"))),
        (&["--pins", "5-8"], Box::new(|_, v| (5.0..=8.0).contains(&pins(v)))),
        (&["--pins", "12.5-"], Box::new(|_, v| pins(v) >= 12.5)),
        (&["--pairs-across", "2-4"], Box::new(|_, v| (2..=4).contains(&pairs(v)))),
        (&["--pairs-across", "4"], Box::new(|_, v| pairs(v) == 4)),
        (&["--colours-go", "travels"], Box::new(|_, v| v["threads"]["stay"] == 0)),
        (
            &["--colours-go", "stays"],
            Box::new(|_, v| v["threads"]["left"] == 0 && v["threads"]["right"] == 0),
        ),
        (&["--colours-go", "both"], Box::new(|_, v| v["colours_go"] == "both")),
        (
            &["--kind", "ground", "--colours-go", "stays", "--pairs-across", "3-"],
            Box::new(|g, v| g["kind"] == "ground" && v["colours_go"] == "stays" && pairs(v) >= 3),
        ),
        (
            &["rose", "--colours-go", "stays"],
            Box::new(|g, v| g["id"] == "rose" && v["colours_go"] == "stays"),
        ),
    ];
    for (args, keep) in cases {
        let expected = names_of(&list, keep);
        assert!(!expected.is_empty() && expected.len() < names(&list).len(), "{args:?} would prove nothing");
        assert_eq!(names(&json(args)), expected, "{args:?}");
        if args[0].starts_with('-') {
            let mut shown = rows(&stdout(args));
            // The table keeps families together.
            let mut expected = expected;
            shown.sort();
            expected.sort();
            assert_eq!(shown, expected, "{args:?}");
        }
    }
}

/// Pins per square centimetre depend on the pin spacing: half the spacing, four
/// times the pins (plain arithmetic).
#[test]
fn pins_are_counted_at_the_pin_spacing_given() {
    let pins = |args: &[&str]| {
        let list = json(args);
        varieties(&list)[0].1["measures"]["pins_per_cm2"].as_f64().unwrap()
    };
    let (wide, close) = (pins(&["torchon/plain"]), pins(&["torchon/plain", "--pin-spacing", "2"]));
    assert!((close - 4.0 * wide).abs() < 1e-9, "{wide} {close}");
    // One pin on a square whose diagonals are the pin spacing: 2 / (0.4 cm)².
    assert!((wide - 12.5).abs() < 1e-9, "{wide}");
    let span = ["--pins", "49-51", "--family", "torchon"];
    assert!(!rows(&stdout(&[&span[..], &["--pin-spacing", "2"]].concat())).is_empty());
    assert_refused(&span, &["--pins 49-51 alone leaves none", "pins per square cm"]);
}

#[test]
fn the_table_is_grouped_and_sorted_as_asked() {
    let list = json(&[]);
    for (heading, rows) in parts(&stdout(&["--group", "kind"])) {
        let kind = if heading.starts_with("Grounds, ") { "ground" } else { "filling" };
        assert_eq!(rows, names_of(&list, |g, _| g["kind"] == kind), "{heading}");
    }
    let mut go = Vec::new();
    for (heading, rows) in parts(&stdout(&["--group", "colours"])) {
        let word = match heading.split(',').next().unwrap() {
            "Colours travel across the lace" => "travels",
            "Some colours travel" => "both",
            _ => "stays",
        };
        assert_eq!(rows, names_of(&list, |_, v| v["colours_go"] == word), "{heading}");
        go.push(word);
    }
    assert_eq!(go, ["travels", "both", "stays"]);
    for (heading, rows) in parts(&stdout(&["--group", "lace"])) {
        let lace = heading.split(", ").next().unwrap();
        let expected = names_of(&list, |g, _| match g["laces"].as_array().unwrap().as_slice() {
            [] => lace == "No lace named",
            laces => laces.iter().any(|l| l == lace),
        });
        assert_eq!(rows, expected, "{heading}");
    }
    let measure = |name: &str, of: &str| {
        let found = names(&list).iter().position(|n| n == name).unwrap();
        varieties(&list)[found].1["measures"][of].as_f64().unwrap()
    };
    for (sort, of) in [("pairs", "pairs_per_repeat"), ("pins", "pins_per_cm2"), ("moves", "moves_per_cm2")] {
        for (heading, rows) in parts(&stdout(&["--sort", sort])) {
            let values: Vec<f64> = rows.iter().map(|name| measure(name, of)).collect();
            assert!(values.is_sorted(), "{sort} in {heading}: {values:?}");
        }
    }
    for (heading, rows) in parts(&stdout(&["--sort", "name"])) {
        assert!(rows.is_sorted(), "{heading}: {rows:?}");
    }
    assert!(stdout(&["--sort", "moves"]).lines().next().unwrap().contains("moves"));
}

#[test]
fn any_name_is_found_without_regard_to_case_and_accents() {
    // The word, what it finds, and the name it matches.
    for (word, ground, found) in [
        ("tullgrund", "point", "point: other name (de) “Tüllgrund”"),
        ("TÜLLGRUND", "point", "point: other name (de) “Tüllgrund”"),
        ("tu\u{308}llgrund", "point", "point: other name (de) “Tüllgrund”"),
        ("fond a la vierge", "rose", "rose: other name (fr) “fond à la vierge”"),
        ("Tonder", "point", "point: lace “Tønder”"),
        ("half-stitch ground", "torchon", "torchon/half-stitch: title “Half stitch ground”"),
    ] {
        let printed = stdout(&["--search", word]);
        assert!(
            rows(&printed).iter().any(|name| name.starts_with(&format!("{ground}/"))),
            "{word}: {printed}"
        );
        assert!(printed.contains("\nFound by\n") && printed.contains(found), "{word}: {printed}");
        let list = json(&["--search", word]);
        assert_eq!(names(&list).len(), rows(&printed).len(), "{word}");
    }
    // A variety's name finds only that variety; a ground's name finds all of them.
    let list = json(&["torchon", "--search", "twisted hole"]);
    assert_eq!(names(&list), ["torchon/twisted"]);
    let found = &varieties(&list)[0].1["found_by"];
    assert_eq!(
        *found,
        serde_json::json!({"what": "other name", "name": "twisted hole ground", "language": "en"})
    );
    assert!(list["grounds"][0].get("found_by").is_none());
    let list = json(&["spider", "--search", "araignee"]);
    assert_eq!(list["grounds"][0]["found_by"]["name"], "araignée");
    assert_eq!(names(&list), names(&json(&["spider"])));
    assert!(json(&[])["grounds"][0].get("found_by").is_none());
    // Together with another filter.
    let both = rows(&stdout(&["--search", "tullgrund", "--colours-go", "stays"]));
    assert!(
        both.contains(&"point/light".to_owned()) && !both.contains(&"point/plain".to_owned()),
        "{both:?}"
    );
    assert!(stdout(&["point", "--search", "tullgrund"]).contains("Found by point: other name (de)"));
}

#[test]
fn json_carries_everything_about_every_variety() {
    let list = json(&[]);
    assert_eq!(list["format"], "pairwise-grounds/1");
    for ground in list["grounds"].as_array().unwrap() {
        for key in ["id", "title", "family", "notes", "source", "from"] {
            assert!(ground[key].is_string(), "{key}: {ground}");
        }
        assert!(["ground", "filling"].contains(&ground["kind"].as_str().unwrap()));
        assert!((20.0..=75.0).contains(&ground["angle_degrees"].as_f64().unwrap()));
        assert!(ground["laces"].is_array() && ground["other_names"].is_array());
        assert!(ground["sits_in"].is_string() || ground["sits_in"].is_null());
        assert!(!ground["varieties"].as_array().unwrap().is_empty());
    }
    for (ground, variety) in varieties(&list) {
        for key in ["id", "title", "notes", "source"] {
            assert!(variety[key].is_string(), "{key}: {variety}");
        }
        let names = [&ground["other_names"], &variety["other_names"]];
        for name in names.into_iter().flat_map(|n| n.as_array().unwrap()) {
            assert!(["language", "name", "source"].iter().all(|key| name[key].is_string()), "{name}");
        }
        let number = |value: &Value| value.as_u64().unwrap();
        let threads = &variety["threads"];
        let all = number(&threads["left"]) + number(&threads["stay"]) + number(&threads["right"]);
        assert_eq!(all, 2 * number(&variety["pairs_across"]), "two threads hang in a pair: {variety}");
        let go = match (number(&threads["stay"]), all - number(&threads["stay"])) {
            (0, _) => "travels",
            (_, 0) => "stays",
            _ => "both",
        };
        assert_eq!(variety["colours_go"], go);
        // Counted again from the works and their letters.
        let works = variety["works"].as_array().unwrap();
        let in_works = |wanted: &dyn Fn(&str) -> u64| -> u64 {
            let of = |w: &Value| number(&w["stitches"]) * wanted(w["moves"].as_str().unwrap());
            works.iter().map(of).sum()
        };
        assert_eq!(in_works(&|_| 1), number(&variety["stitches"]));
        assert_eq!(in_works(&|w| w.contains("pin").into()), number(&variety["pins"]));
        assert_eq!(variety["moves"]["pins"], variety["pins"]);
        let m = &variety["measures"];
        let twists = &m["pair_twists_in_stitches_per_repeat"];
        if works.iter().all(|w| !w["moves"].as_str().unwrap().contains('-')) {
            let letters = |letter: char| in_works(&|w| w.matches(letter).count() as u64);
            assert_eq!(letters('C'), number(&variety["moves"]["crosses"]), "{variety}");
            assert_eq!(2 * letters('T'), number(twists), "{variety}");
        }
        assert_eq!(
            number(&variety["moves"]["pair_twists"]),
            number(twists) + number(&m["pair_twists_on_legs_per_repeat"])
        );
        let number = |key: &str| m[key].as_f64().unwrap();
        let cm2 = number("repeat_width_mm") * number("repeat_height_mm") / 100.0;
        assert!((number("pins_per_cm2") * cm2 - number("pins_per_repeat")).abs() < 1e-9, "{variety}");
        assert!((number("moves_per_cm2") * cm2 - number("moves_per_repeat")).abs() < 1e-9, "{variety}");
    }
    // Every id once.
    let mut ids = names(&list);
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), names(&list).len());
    // Filters do not change the entries they keep.
    let rose = json(&["--family", "rose"]);
    for (_, variety) in varieties(&rose) {
        assert!(varieties(&list).iter().any(|(_, v)| *v == variety), "{variety}");
    }
    // The same bytes every time.
    assert_eq!(stdout(&["--json"]), stdout(&["--json"]));
}

#[test]
fn a_ground_in_full_says_how_hard_it_is() {
    let printed = stdout(&["rose"]);
    let flat = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "Rose ground (rose)",
        "Ground of the family rose",
        "Also called: ",
        "fond à la vierge (fr, common practice)",
        "Used in: Torchon",
        "Angle: usually 45 degrees",
        "Source: ",
        "From: rose.wasm (built in)",
        "4 × CT pin CT (half stitch, pin, half stitch)",
        // Six stitches, four of four moves and two of four, on 8 mm by 4 mm.
        "24 moves with 4 pairs in a repeat, 75 to the cm²; 2 different stitches to remember",
        "--with crossing=...",
    ] {
        assert!(flat.contains(words), "{words}: {printed}");
    }
    // A title comes before the same name of another ground.
    for (name, id) in [("Rose ground", "(rose)"), ("Rosengrund", "(rose)"), ("Brussels ground", "(brussels)")]
    {
        assert!(stdout(&[name]).contains(id), "{name}");
    }
    let one = stdout(&["torchon/twisted", "torchon/double"]);
    assert!(one.contains("torchon/twisted") && one.contains("torchon/double"), "{one}");
    assert!(!one.contains("torchon/plain"), "{one}");
    assert!(one.contains("one stitch to") && one.contains("twisted hole ground (en, "), "{one}");
    // A variety named twice is printed once.
    assert_eq!(stdout(&["rose", "rose/plain"]), printed);
}

#[test]
fn mistakes_are_named_with_a_remedy() {
    for (args, words) in [
        (&["roze"][..], &["roze", "`rose`"][..]),
        (&["rose/plian"], &["plian", "`plain`"]),
        (&["--family", "rosee"], &["the family `rosee` is not known", "did you mean `rose`", "torchon"]),
        (&["--lace", "Torchn"], &["the lace `Torchn`", "`Torchon`"]),
        (&["--lace", "-"], &["the lace `-`", "there are"]),
        (&["--search", "Tuellgrund"], &["`Tuellgrund` is not known", "`Tüllgrund`"]),
        (&["--search", "xyzzy"], &["`xyzzy` is not known", "pairwise grounds"]),
        (&["--search", " - "], &["no letter", "--search tullgrund"]),
        (&["--pins", "6-3"], &["6-3", "write 3-6"]),
        (&["--pins", "few"], &["few", "for example 3-6"]),
        (&["--pins", "-6"], &["0-6 is 6 or less"]),
        (&["--pairs-across", "2-x"], &["2-x", "for example 3-6"]),
        (&["--pins", "500-600"], &["--pins 500-600 leaves no ground or filling", "pins per square cm"]),
        (&["--pairs-across", "999"], &["--pairs-across 999 leaves no", "pairs across a repeat are "]),
        (
            &["--kind", "ground", "--pairs-across", "999"],
            &[
                "together leave no ground",
                "--kind ground alone leaves ",
                "--pairs-across 999 alone leaves none",
            ],
        ),
        (&["torchon", "--kind", "filling"], &["--kind filling leaves no", "only grounds"]),
        (&["torchon", "--family", "rose"], &["the families here are torchon"]),
        (&["torchon/plain", "--colours-go", "stays"], &["--colours-go stays leaves no", "travels"]),
        (&["torchon", "--lace", "honiton"], &["the laces here are Torchon"]),
        (&["--colours-go", "sideways"], &["sideways", "travels", "stays", "both"]),
        (&["--kind", "edge"], &["edge", "ground", "filling"]),
        (&["--group", "size"], &["size", "family", "lace"]),
        (&["rose", "--group", "kind"], &["--group", "cannot be used with"]),
        (&["--json", "--sort", "pins"], &["--sort", "cannot be used with"]),
        (&["--pin-spacing", "0"], &["pin spacing", "--pin-spacing 4"]),
        (&["--angle", "10"], &["10 degrees", "--angle 60"]),
    ] {
        assert_refused(args, words);
    }
}

/// Runs `grounds` with a folder of contributions and returns its standard error;
/// it must end with status 1 and still list the others.
fn refused(files: &[(&str, Vec<u8>)]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let mine = folder.path().join("mine");
    std::fs::create_dir(&mine).unwrap();
    for (name, bytes) in files {
        std::fs::write(mine.join(name), bytes).unwrap();
    }
    let out = grounds(folder.path(), &["--plugins", "mine"]);
    assert_eq!(out.status.code(), Some(1), "{}", text(&out.stderr));
    assert!(rows(&text(&out.stdout)).contains(&"rose/plain".to_owned()));
    text(&out.stderr)
}

#[test]
fn faulty_contributions_are_named_with_both_places() {
    let component = |change: &dyn Fn(&mut Description)| Text::describing(change).core();
    let one_id = |title: &str| {
        component(&|s| {
            s.id = b"lattice".to_vec();
            s.title = title.into();
        })
    };
    let printed = refused(&[("first.wasm", one_id("One")), ("second.wasm", one_id("Another"))]);
    for words in ["left out mine/second.wasm", "has the id `lattice`, as mine/first.wasm has"] {
        assert!(printed.contains(words), "{words}: {printed}");
    }
    let printed = refused(&[("rose.wasm", component(&|s| s.id = b"rose".to_vec()))]);
    assert!(
        printed.contains("left out mine/rose.wasm: has the id `rose`, as rose.wasm (built in) has"),
        "{printed}"
    );

    let count = |id: &str, default: i32| (id.to_owned(), Options::Count(1, 3, Set::Count(default)));
    let variety = |id: &str, settings: &[(&str, Set)]| {
        (id.to_owned(), settings.iter().map(|(c, v)| ((*c).to_owned(), v.clone())).collect::<Vec<_>>())
    };
    type Change<'a> = &'a dyn Fn(&mut Description);
    let cases: [(Change<'_>, &str); 6] = [
        (
            &|s| s.varieties = ["a", "v", "b", "c", "v"].map(|id| variety(id, &[])).to_vec(),
            "two varieties called `v`, the 2nd and the 5th",
        ),
        (
            &|s| s.choices = vec![count("rows", 1), count("rows", 1)],
            "two choices called `rows`, the 1st and the 2nd",
        ),
        (
            &|s| s.choices = vec![count("rows", 4)],
            "choice `rows` is `4` by default; it can be a whole number from 1 to 3",
        ),
        (
            &|s| {
                s.choices = vec![count("rows", 1), count("legs", 1)];
                s.varieties = vec![variety("wide", &[("row", Set::Count(2))])];
            },
            "variety `wide` sets `row`, which is not one of its choices; the choices are rows, legs (did you mean `rows`?)",
        ),
        (
            &|s| {
                s.choices = vec![count("rows", 1)];
                s.varieties = vec![variety("wide", &[("rows", Set::Count(9))])];
            },
            "variety `wide` sets `rows` to `9`; it can be a whole number from 1 to 3",
        ),
        (
            &|s| {
                s.choices = vec![count("rows", 1)];
                s.varieties = vec![variety("wide", &[("rows", Set::Named("many".into()))])];
            },
            "variety `wide` sets `rows` to `many`; it can be a whole number from 1 to 3",
        ),
    ];
    for (change, words) in cases {
        let printed = refused(&[("faulty.wasm", component(change))]);
        assert!(
            printed.contains("left out mine/faulty.wasm: ") && printed.contains(words),
            "{words}: {printed}"
        );
        assert!(printed.contains(": correct its `about`"), "{printed}");
    }
}

/// A variety that is not a ground is left out and named; the rest is listed.
#[test]
fn a_variety_that_cannot_be_worked_is_named() {
    let nowhere = Text::answer(|a| a.legs.truncate(1)).core();
    let printed = refused(&[("loose.wasm", nowhere)]);
    assert!(printed.contains("left out mine/loose.wasm: "), "{printed}");
    assert!(printed.contains("hostile/plain is not a ground that can be worked"), "{printed}");
}

/// The table of all varieties as in `gallery/varieties.md`.
fn table() -> String {
    let list = json(&[]);
    let (of, text) = (
        |v: &Value, key: &str| v[key].to_string(),
        |v: &Value, key: &str| v[key].as_str().unwrap().to_owned(),
    );
    let mut table = format!(
        "# All grounds and fillings\n\n{} varieties of {} grounds and fillings, family by family. Stitches, pins and pairs are those of one repeat. `PAIRWISE_BLESS=1 cargo test --workspace --test program the_table_in_the_gallery` writes this page anew.\n\n| name | title | family | kind | stitches | pins | pairs | colours | source |\n|---|---|---|---|---:|---:|---:|---|---|\n",
        varieties(&list).len(),
        list["grounds"].as_array().unwrap().len(),
    );
    let mut families: Vec<String> = Vec::new();
    for (ground, _) in varieties(&list) {
        let family = text(ground, "family");
        if !families.contains(&family) {
            families.push(family);
        }
    }
    for family in families {
        for (ground, variety) in varieties(&list) {
            if ground["family"] == *family {
                table.push_str(&format!(
                    "| {}/{} | {} | {family} | {} | {} | {} | {} | {} | {} |\n",
                    text(ground, "id"),
                    text(variety, "id"),
                    text(variety, "title"),
                    text(ground, "kind"),
                    of(variety, "stitches"),
                    of(variety, "pins"),
                    of(variety, "pairs_across"),
                    text(variety, "colours_go"),
                    text(variety, "source").replace('|', "/"),
                ));
            }
        }
    }
    table
}

#[test]
fn the_table_in_the_gallery_is_up_to_date() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../gallery/varieties.md");
    let table = table();
    if std::env::var_os("PAIRWISE_BLESS").is_some() {
        std::fs::write(&file, &table).unwrap();
        panic!("written: read it, then run the tests without PAIRWISE_BLESS");
    }
    let kept = std::fs::read_to_string(&file).unwrap();
    assert!(kept == table, "{} is out of date", file.display());
}
