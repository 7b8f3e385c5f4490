//! Pieces: from their texts to every thread, against values from outside, against the
//! facts of the trade, and against a second simple program here.

mod pictures;
mod simple;

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::{Value, json};

use crate::random::Random;
use crate::schema;
use crate::support::{assert_refused, pairwise, text};
use simple::{Place, Worked, moved};

/// What `pairwise piece` makes of a text, with more arguments: status, what it prints,
/// what it says.
fn run(piece: &str, more: &[&str]) -> (i32, String, String) {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("piece.toml"), piece).unwrap();
    let out = pairwise(folder.path(), &[&["piece", "piece.toml"], more].concat());
    let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().collect();
    assert_eq!(left.len(), 1, "something is left behind");
    (out.status.code().unwrap(), text(&out.stdout), text(&out.stderr))
}

/// The piece as JSON.
#[track_caller]
fn made(piece: &str) -> Value {
    let (status, printed, said) = run(piece, &["--json"]);
    assert_eq!(status, 0, "{said}\n{piece}");
    schema::read(printed.as_bytes())
}

/// What is printed, without line breaks and with single spaces.
#[track_caller]
fn told(piece: &str, more: &[&str]) -> String {
    let (status, printed, said) = run(piece, more);
    assert_eq!(status, 0, "{said}\n{piece}");
    printed.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn head(start: &str, finish: &str, width: usize, sides: usize, ground: &str) -> String {
    format!(
        "format = \"pairwise-piece/1\"\ntitle = \"A piece\"\n[outline]\nstart = \"{start}\"\nfinish = \"{finish}\"\n\
         width = {width}\nsides = {sides}\n[ground]\nname = \"{ground}\"\n"
    )
}

/// The text of a case of `bookmark_traces.json`: torchon ground of half stitches, roses
/// where pairs cross without a pin, and every stitch as the case has it.
fn text_of(case: &Value) -> String {
    let whole = |key: &str| case[key].as_u64().unwrap() as usize;
    let width = whole("edge_pins_each_side_of_the_point") + 1;
    let mut text = head("pointed", "straight", width, whole("edge_pins_below_the_widest"), "torchon");
    let stitches = case["stitches"].as_array().unwrap();
    let crossings = stitches.iter().filter(|s| s.get("crossing_of_pairs_going").is_some());
    let rows: Vec<i64> = crossings.map(|s| s["at"][1].as_i64().unwrap()).collect();
    if let Some(top) = rows.iter().min() {
        // One rose has four crossings; four roses share some and have twelve.
        let units = if rows.len() == 12 { 2 } else { 1 };
        text += &format!(
            "[[area]]\nname = \"roses\"\nground = \"rose\"\nat = [0, {top}]\nunits = [{units}, {units}]\n"
        );
    }
    for stitch in stitches {
        text += &format!("[[stitch]]\nat = {}\nwork = {}\n", stitch["at"], stitch["moves"]);
    }
    text
}

/// Nine pieces, every thread from its first stitch to its last and where it ends, as a
/// separate program has it.
#[test]
fn threads_go_where_another_program_says() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/bookmark_traces.json");
    let all: Value = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
    let cases = all["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 9);
    for case in cases {
        let name = &case["name"];
        let piece = made(&text_of(case));
        let worked = Worked::of(&piece);
        let place = |value: &Value| Place::of(value);
        let wanted: BTreeMap<Place, String> = case["stitches"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| (place(&s["at"]), s["moves"].as_str().unwrap().to_owned()))
            .collect();
        let stitches: BTreeMap<Place, String> = piece["stitches"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| (place(&s["at"]), s["moves"].as_str().unwrap().to_owned()))
            .collect();
        assert_eq!(stitches, wanted, "{name}");
        let paths = case["paths"].as_object().unwrap();
        assert_eq!(piece["threads"].as_array().unwrap().len(), paths.len(), "{name}");
        for thread in piece["threads"].as_array().unwrap() {
            let called = format!("{}, thread {}", thread["pair"].as_str().unwrap(), thread["thread"]);
            let went = thread["stitches"].as_array().unwrap().iter().map(|id| worked.place(id));
            let wanted = paths[&called].as_array().unwrap().iter().map(place);
            assert!(went.eq(wanted), "{name}: {called}");
        }
        // Where each pair would go on to below the last row.
        let half = case["edge_pins_each_side_of_the_point"].as_i64().unwrap();
        let mut ends = serde_json::Map::new();
        for (from, side, threads) in &worked.ends {
            let [x, y] = worked.place(from).whole();
            let (x, y, enters) = match side.as_str() {
                "left" if x == -half => (x, y + 2, "left"),
                "right" if x == half => (x, y + 2, "right"),
                "left" => (x - 1, y + 1, "right"),
                _ => (x + 1, y + 1, "left"),
            };
            let called = threads.iter().map(|(pair, thread)| json!(format!("{pair}, thread {thread}")));
            ends.insert(format!("{x},{y},{enters}"), called.collect());
        }
        assert_eq!(Value::Object(ends), case["ends"], "{name}");
    }
}

/// A pointed bookmark with half stitches in the ground and cloth stitch and twist at the
/// edges; `more` changes it.
fn bookmark(more: &str) -> String {
    head("pointed", "straight", 5, 6, "torchon")
        + "[edge]\nstitch = \"cloth stitch and twist, pin, cloth stitch and twist\"\nfirst = \"CTCT\"\n\
           [colours]\nall = \"white\"\nstart = \"navy\"\n\"left 4\" = \"gold\"\n\"right 4\" = \"gold\"\n"
        + more
}

// Common practice, no source: half stitch at the first pins below the widest place, and
// the two pairs of the start run down the straight edges.
#[test]
fn half_stitch_below_the_widest_place_sends_the_pairs_of_the_start_down_the_edges() {
    let half = "half stitch, pin, half stitch";
    let piece = bookmark(&format!(
        "[[stitch]]\nat = [-4, 6]\nwork = \"{half}\"\n[[stitch]]\nat = [4, 6]\nwork = \"{half}\"\n"
    ));
    let said = told(&piece, &[]);
    for words in [
        "rows 6 to 16: start left (navy) runs down it for 10 rows",
        "rows 6 to 16: start right (navy) runs down it for 10 rows",
        "row 6: half stitch, pin, half stitch",
        "start left 0, 0 navy hangs on below -4, 16, number 1 from the left",
        "10 pairs",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    // They meet below the first pin and cross the piece along the diagonals.
    let way = told(&piece, &["--trace", "start right"]);
    for words in [
        "The pair start right, navy, is hung at 0, 0",
        "at 0, 2 goes over to the right half stitch, pin, half stitch",
        "at 3, 5 goes over to the right",
        "at 4, 6 goes over to the right half stitch, pin, half stitch right edge",
        "at 4, 16 turns back to the right",
        "It hangs on below 4, 16, number 10 from the left",
    ] {
        assert!(way.contains(words), "{words}: {way}");
    }
    assert_eq!(told(&piece, &["--trace", "Start  Right"]), way);
    let both = told(&piece, &["--trace", "colour navy"]);
    assert!(both.contains("The pair start left, navy") && both.contains(&way), "{both}");
}

// The same: cloth stitch and twist there too, and they go back in, while the last pairs
// hung run down the edges.
#[test]
fn cloth_stitch_and_twist_there_sends_them_back_in() {
    let piece = bookmark("");
    let said = told(&piece, &[]);
    for words in [
        "rows 4 to 16: left 4 (gold) runs down it for 12 rows",
        "rows 4 to 16: right 4 (gold) runs down it for 12 rows",
        "left 4 -4, 4 gold hangs on below -4, 16, number 1 from the left",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let way = told(&piece, &["--trace", "start left"]);
    assert!(way.contains("at -4, 6 turns back to the right cloth stitch and twist"), "{way}");
    assert!(way.contains("at -3, 7 goes over to the right"), "{way}");
}

#[test]
fn colours_hang_by_place_and_by_pair() {
    let piece = head("pointed", "straight", 4, 4, "torchon")
        + "[footside]\npassives = 2\n\
           [colours]\nall = \"white\"\nstart = [\"navy\", \"gold\"]\nleft = \"teal\"\n\"left 2\" = [\"red\", \"teal\"]\n\
           passive = { name = \"old rose\", rgb = \"#c08081\" }\n\"edge right\" = \"navy\"\n";
    let piece = made(&piece);
    let of = |name: &str| {
        let pairs = piece["pairs"].as_array().unwrap();
        pairs.iter().find(|pair| pair["id"] == name).unwrap()["colours"].clone()
    };
    for (name, colours) in [
        // One bobbin of either in both pairs of an open start.
        ("start left", ["navy", "gold"]),
        ("start right", ["navy", "gold"]),
        ("left 1", ["teal", "teal"]),
        ("left 2", ["red", "teal"]),
        ("right 3", ["white", "white"]),
        ("passive left 2", ["old rose", "old rose"]),
        ("edge left", ["white", "white"]),
        ("edge right", ["navy", "navy"]),
    ] {
        assert_eq!(of(name), json!(colours), "{name}");
    }
    let palette: Vec<&str> =
        piece["palette"].as_array().unwrap().iter().map(|colour| colour["name"].as_str().unwrap()).collect();
    assert_eq!(palette.len(), 6, "{palette:?}");
    assert_eq!(piece["counts"]["pairs"], piece["pairs"].as_array().unwrap().len());
}

/// What a change picks: by place, row, area, edge, and what was worked so far.
#[test]
fn stitches_are_changed_where_all_that_is_said_holds() {
    let roses = head("pointed", "pointed", 7, 6, "torchon")
        + "[[area]]\nname = \"roses\"\nground = \"rose\"\nat = [0, 6]\nunits = [1, 1]\n";
    let with = |change: &str| made(&format!("{roses}[[stitch]]\n{change}\nwork = \"CTC\"\n"));
    let changed = |piece: &Value| -> Vec<Place> {
        let stitches = piece["stitches"].as_array().unwrap().iter();
        stitches.filter(|s| s["moves"] == "CTC").map(|s| Place::of(&s["at"])).collect()
    };
    assert_eq!(changed(&with("at = [0, 2]")), [Place::at(0.0, 2.0)]);
    let rows = changed(&with("from = 3\nto = 4\narea = \"ground\""));
    assert!(rows.len() == 9 && rows.iter().all(|at| (3..=4).contains(&at.whole()[1])), "{rows:?}");
    assert_eq!(changed(&with("area = \"roses\"")).len(), 8);
    let crossings = changed(&with("area = \"roses\"\ninstead-of = \"CTCT\""));
    assert_eq!(crossings.len(), 4);
    assert!(crossings.iter().all(|at| at.whole().iter().sum::<i64>().rem_euclid(2) == 1), "{crossings:?}");
    let left = changed(&with("edge = \"left\"\nfrom = 6\nto = 18"));
    assert!(left.len() == 7 && left.iter().all(|at| at.whole()[0] == -6), "{left:?}");
    assert_eq!(changed(&with("edge = \"both\"\nfrom = 6\nto = 18")).len(), 14);
}

/// Any ground can be named, in a chart or a contribution too; what is wrong with it is
/// told at its line.
#[test]
fn charts_and_contributions_are_grounds_of_pieces() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let go = |args: &[&str]| {
        let out = pairwise(at, args);
        (out.status.code().unwrap(), text(&out.stdout) + &text(&out.stderr))
    };
    assert_eq!(go(&["new", "small", "--chart"]).0, 0);
    std::fs::create_dir(at.join("in")).unwrap();
    std::fs::rename(at.join("small.toml"), at.join("in/small.toml")).unwrap();
    assert_eq!(go(&["pack", "in/small.toml", "--out", "in/packed.wasm"]).0, 0);
    let piece =
        |ground: &str| std::fs::write(at.join("in/piece.toml"), head("straight", "straight", 6, 9, ground));
    let mut printed = Vec::new();
    // Files are looked for beside the piece.
    for ground in ["small.toml", "small.toml/light", "packed.wasm", "packed.wasm/light"] {
        piece(ground).unwrap();
        let (status, said) = go(&["piece", "in/piece.toml", "--json"]);
        assert_eq!(status, 0, "{ground}: {said}");
        printed.push(said);
    }
    assert!(printed[0] == printed[2] && printed[1] == printed[3] && printed[0] != printed[1]);
    piece("small/light").unwrap();
    assert_eq!(go(&["piece", "in/piece.toml", "--plugins", "in"]).0, 0);
    std::fs::write(at.join("in/broken.toml"), "format = \"pairwise-chart/1\"\n[about]\nid = 3\n").unwrap();
    std::fs::write(at.join("in/broken.wasm"), "not this").unwrap();
    for ground in ["broken.toml", "broken.wasm", "nowhere.toml", "nowhere.wasm", "small.toml/never"] {
        piece(ground).unwrap();
        let (status, said) = go(&["piece", "in/piece.toml"]);
        assert_eq!(status, 2, "{ground}: {said}");
        assert!(said.contains("piece.toml:9:8") && said.contains("help:"), "{ground}: {said}");
    }
    // A contribution that fails is told with its reason, at the line that wants it.
    piece("broken").unwrap();
    let (status, said) = go(&["piece", "in/piece.toml", "--plugins", "in"]);
    assert!(status == 2 && said.contains("broken.wasm could not be used"), "{said}");
}

#[test]
fn a_new_piece_works_and_replaces_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let go = |args: &[&str]| {
        let out = pairwise(folder.path(), args);
        (out.status.code().unwrap(), text(&out.stdout) + &text(&out.stderr))
    };
    let (status, said) = go(&["new", "roses", "--piece"]);
    assert!(status == 0 && said.contains("pairwise piece roses.toml"), "{said}");
    let (status, said) = go(&["piece", "roses.toml"]);
    assert!(
        status == 0 && said.contains("2 by 2 units of rose/plain") && said.contains("18 pairs"),
        "{said}"
    );
    assert_eq!(go(&["check", "roses.toml"]), (0, "roses.toml: no findings\n".to_owned()));
    let written = std::fs::read(folder.path().join("roses.toml")).unwrap();
    assert_eq!(go(&["new", "roses", "--piece"]).0, 2);
    assert_eq!(go(&["new", "roses", "--chart"]).0, 2);
    assert_eq!(std::fs::read(folder.path().join("roses.toml")).unwrap(), written);
    assert_refused(&["new", "roses", "--piece", "--chart"], &["cannot be used with"]);
    assert_refused(&["new", "My roses", "--piece"], &["plain word"]);
}

/// The example that `--help` teaches with works as it stands.
#[test]
fn the_example_of_the_help_works() {
    let folder = tempfile::tempdir().unwrap();
    let help = text(&pairwise(folder.path(), &["piece", "--help"]).stdout);
    let from = help.find("  format = ").unwrap();
    let to = help[from..].find("\n\n").unwrap();
    let (status, said, why) = run(&help[from..from + to], &[]);
    assert!(status == 0 && said.contains("roses: 2 by 2 units of rose/plain"), "{said}{why}");
}

/// A piece that cannot be worked: its findings at their lines, on every way to them.
#[test]
fn findings_are_told_at_the_lines_they_concern() {
    let base = head("pointed", "pointed", 7, 6, "torchon");
    let area = |name: &str, at: &str, more: &str| {
        format!("[[area]]\nname = \"{name}\"\nground = \"rose\"\nat = {at}\n{more}\n")
    };
    for (more, code, line) in [
        (area("far", "[0, 20]", "units = [2, 2]"), "area-sticks-out", 11),
        (
            area("one", "[0, 6]", "units = [1, 1]") + &area("two", "[0, 8]", "units = [1, 1]"),
            "areas-overlap",
            11,
        ),
        (area("odd", "[1, 6]", "units = [1, 1]"), "pairs-do-not-match", 11),
        (
            area("even", "[0, 6]", "units = [1, 1]") + "[[stitch]]\nat = [-5, 1]\nwork = \"CT\"\n",
            "no-stitch-there",
            16,
        ),
        ("[[stitch]]\nedge = \"left\"\nfrom = 30\nwork = \"CT\"\n".to_owned(), "no-stitch-there", 10),
    ] {
        let piece = base.clone() + &more;
        let (status, printed, said) = run(&piece, &["--json"]);
        assert_eq!(status, 1, "{said}{printed}");
        assert!(said.contains(&format!("piece.toml:{line}:")), "{code}: {said}");
        let json = schema::read(printed.as_bytes());
        let findings = json["findings"].as_array().unwrap();
        let found =
            findings.iter().find(|f| f["code"] == code).unwrap_or_else(|| panic!("{code}: {findings:?}"));
        assert!(found["line"] == line && found["severity"] == "error", "{found}");
        assert!(json["stitches"] == json!([]) && json["title"] == "A piece");
        let (status, printed, said) = run(&piece, &[]);
        let flat: String = said.split(|c: char| c.is_whitespace() || c == '│').collect();
        assert!(status == 1 && printed.is_empty() && flat.contains("Whyitmatters"), "{printed}{said}");
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("piece.toml"), &piece).unwrap();
        let checked = pairwise(folder.path(), &["check", "piece.toml"]);
        assert_eq!(checked.status.code(), Some(1));
        assert!(text(&checked.stdout).contains(code), "{}", text(&checked.stdout));
    }
    // Several at once, one of them at the number of pairs.
    let both =
        base.replace("[outline]", "most-pairs = 9\n[outline]") + "[[stitch]]\nat = [1, 0]\nwork = \"CT\"\n";
    let (_, printed, said) = run(&both, &["--json"]);
    let codes: Vec<Value> = schema::read(printed.as_bytes())["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["code"].clone())
        .collect();
    assert_eq!(codes, ["no-stitch-there", "too-many-pairs"], "{said}");
    assert!(said.contains("piece.toml:3:14") && said.contains("takes 14 pairs, but it may have 9"), "{said}");
}

/// Everything that is wrong is told at once, each at its line and place.
#[test]
fn all_faults_are_told_at_once() {
    let bad = "format = \"pairwise-piece/2\"\ntitel = \"x\"\npin-spacing = nan\nangle = 99\nthread = \"rope\"\n\
        thickness = 50\nmost-pairs = 1\n[outline]\nstart = \"roundish\"\nfinish = 3\nwidth = 1000000\n\
        sides = 99999999999999999999\n[ground]\nname = \"torchn\"\n[edge]\nstitch = \"half stitsch\"\nfirst = \"pin\"\n\
        [footside]\npassives = 3\n[[area]]\nname = \"roses\"\nground = \"rose\"\n\
        with = { crossing = \"maybe\", colour = 1.5 }\nat = [0.3, 6]\nunits = [0, 5]\nanchor = 1\n\
        [[area]]\nname = \"roses\"\nground = \"rose\"\nat = [1]\nrows = 2\nunits = [1, 1]\n\
        [[area]]\nname = \"ground\"\nground = \"spider/never\"\nat = [inf, 3]\nanchor = \"x\"\n\
        [[stitch]]\nwork = \"CT\"\n[[stitch]]\narea = \"rses\"\nedge = \"top\"\nfrom = 9\nto = 3\n\
        [[stitch]]\nat = \"here\"\nfrom = -1\nto = 1e300\ninstead-of = \"knit\"\nwork = \"pin, pin\"\n\
        [colours]\nall = \"navi\"\n\"left 0\" = \"navy\"\nstart = [\"navy\"]\ntop = { name = \"x\" }\nright = 3\n";
    let (status, printed, said) = run(bad, &[]);
    assert!(status == 2 && printed.is_empty(), "{printed}");
    let flat: String = said.split(|c: char| c.is_whitespace() || c == '│').collect::<String>();
    for words in [
        "the format is `pairwise-piece/2`",
        "`title` is missing here",
        "did you mean `title`?",
        "this number cannot be meant",
        "a grid angle of 99 degrees",
        "`rope` is not a thread size",
        "a thread of `50 mm` cannot be worked",
        "`most-pairs` cannot be 1",
        "`roundish` cannot stand here",
        "here stands a whole number, and words in quotation marks are needed",
        "a piece cannot be 1000000 pins wide",
        "99999999999999999999 pins down each side are more than a piece can have",
        "the ground `torchn` is not known",
        "did you mean `torchon`?",
        "`half stitsch` is no stitch",
        "this stitch has no moves",
        "a footside with 3 passive pairs",
        "`crossing` cannot be `maybe`",
        "a choice takes a word in quotation marks or a whole number",
        "0.3, 6 is no place on the grid",
        "0 units cannot be worked here",
        "two areas are called `roses`",
        "an area is a diamond of `units` or a band of `rows`, not both",
        "here stands one value, and 2 are needed",
        "`ground` is the ground of the piece",
        "has no variety `never`",
        "nothing says how large the area is",
        "nothing says which stitches are changed",
        "no area is called `rses`",
        "the last row lies above the first",
        "no piece has a row -1",
        "`knit` is no stitch",
        "the colour `navi` is not known",
        "`left 0` is no pair and no place",
        "a colour has a name and rgb",
        "this is not a colour",
    ] {
        let words: String = words.split_whitespace().collect();
        assert!(flat.contains(&words), "{words}: {said}");
    }
}

#[test]
fn what_cannot_be_read_or_meant_is_refused() {
    let good = head("pointed", "pointed", 5, 4, "torchon");
    for (wrong, words) in [
        (String::new(), "`format` is missing"),
        ("[outline".to_owned(), "bracket"),
        (good.replace("title", "title = \"b\"\ntitle"), "given twice"),
        (good.replace("[outline]", "[[outline]]"), "there can be only one `outline`"),
        (good.clone() + "[area]\nname = \"x\"\n", "each area begins with two brackets"),
        (good.replace("[ground]\nname = \"torchon\"\n", ""), "`ground` is missing"),
        (good.replace("width = 5", "width = 1"), "cannot be 1 pins wide"),
        (good.replace("width = 5", "width = 61"), "cannot be 61 pins wide"),
        (good.replace("width = 5", "width = 5.5"), "here stands a number, and a whole number"),
        (good.replace("sides = 4", "sides = 201"), "201 pins down each side"),
        (good.replace("sides = 4", "sides = -1"), "-1 pins"),
        (good.replace("sides = 4", "sides = 200"), "make it 401 rows long at most"),
        (head("straight", "straight", 5, 0, "torchon"), "nothing is left between"),
        (head("pointed", "pointed", 5, 0, "torchon") + "[footside]\n", "this piece has none"),
        (
            head("straight", "straight", 5, 3, "torchon") + "[edge]\nfirst = \"CTCT\"\n",
            "only a pointed start",
        ),
        (good.clone() + "[colours]\n\"left 9\" = \"navy\"\n", "the piece has no pair `left 9`"),
        (good.clone() + "[colours]\ntop = \"navy\"\n", "no pair is hung there"),
        (good.clone() + "[colours]\nleft = \"navy\"\nLeft = \"gold\"\n", "`Left` is given twice"),
        (good.replace("\"torchon\"", "\"torchon\"\nfirst-pin = \"zzz\""), "this ground has no stitch `zzz`"),
        (good.replace("title = \"A piece\"", "title = \"\u{200b} \""), "there is no title"),
    ] {
        let (status, printed, said) = run(&wrong, &["--json"]);
        let flat = said.split(|c: char| c.is_whitespace() || c == '│').collect::<String>();
        let words: String = words.split_whitespace().collect();
        assert!(status == 2 && printed.is_empty() && flat.contains(&words), "{words}: {said}");
        assert!(!said.contains("panicked"), "{said}");
    }
    let (status, _, said) = run(&good, &["--trace", "left 9"]);
    assert!(status == 2 && said.contains("left 1 to 4"), "{said}");
    let (status, _, said) = run(&good, &["--trace", "colour red"]);
    assert!(status == 2 && said.contains("its colours are indigo"), "{said}");
    assert_refused(&["piece", "nowhere.toml"], &["nowhere.toml", "no such file"]);
    assert_refused(&["piece", "."], &["a folder, not a piece"]);
}

/// A random piece: every outline, ground, edge, and areas and changes here and there.
fn random_piece(random: &mut Random) -> String {
    const GROUNDS: [&str; 8] =
        ["torchon", "torchon/double", "rose", "rose/doubled", "honeycomb", "spider", "point", "diamond"];
    const STITCHES: [&str; 8] = [
        "CT pin CT",
        "CTCT pin CTCT",
        "CTC pin CTC",
        "CTT pin CT",
        "TC pin CTC",
        "CTCT pin",
        "C pin TC",
        "CTCTCT",
    ];
    const TIPS: [&str; 2] = ["pointed", "straight"];
    let (start, finish) = (random.one_of(&TIPS), random.one_of(&TIPS));
    let (width, sides) = (2 + random.below(9), random.below(9) + usize::from(start == finish));
    let mut text = head(start, finish, width, sides, random.one_of(&GROUNDS));
    if random.below(2) == 0 {
        text += &format!("[edge]\nstitch = \"{}\"\n", random.one_of(&STITCHES));
    }
    if sides > 0 && random.below(3) == 0 {
        text += &format!(
            "[footside]\npassives = {}\nedge = \"{}\"\n",
            1 + random.below(2),
            random.one_of(&STITCHES)
        );
    }
    if random.below(2) == 0 {
        let middle = if start == "pointed" { 0 } else { width - 1 };
        let down = 2 + random.below(2 * width + 2 * sides);
        // A place where there is a pin.
        let down = down + (down + middle) % 2;
        let ground = random.one_of(&["rose", "torchon/double", "rose/doubled"]);
        let shape = match random.below(3) {
            0 => "rows = 1".to_owned(),
            _ => format!("units = [{}, {}]", 1 + random.below(2), 1 + random.below(2)),
        };
        text += &format!(
            "[[area]]\nname = \"set in\"\nground = \"{ground}\"\nat = [{middle}, {down}]\n{shape}\n"
        );
    }
    for _ in 0..random.below(4) {
        let from = random.below(width + 1);
        text += &format!(
            "[[stitch]]\nfrom = {from}\nto = {}\nwork = \"{}\"\n",
            from + 2,
            random.one_of(&STITCHES)
        );
    }
    text + "[colours]\nall = [\"navy\", \"white\"]\n"
}

/// Random pieces: what is printed is traced again from stitches and legs alone, worked
/// through on a simple pillow, and its pairs are counted at every level.
#[test]
fn random_pieces_hold_on_the_pillow() {
    let mut random = Random(41);
    let mut worked_out = 0;
    for _ in 0..80 {
        let text = random_piece(&mut random);
        let (status, printed, said) = run(&text, &["--json"]);
        assert!(matches!(status, 0 | 1), "{said}\n{text}");
        let piece = schema::read(printed.as_bytes());
        if status == 1 {
            let errors = piece["findings"].as_array().unwrap().iter().filter(|f| f["severity"] == "error");
            assert!(errors.count() > 0, "{text}");
            continue;
        }
        worked_out += 1;
        let worked = Worked::of(&piece);
        for thread in piece["threads"].as_array().unwrap() {
            let key = (thread["pair"].as_str().unwrap().to_owned(), thread["thread"].as_u64().unwrap());
            assert_eq!(json!(worked.paths[&key]), thread["stitches"], "{key:?}\n{text}");
        }
        simple::pairs_are_conserved(&piece, &worked).unwrap_or_else(|why| panic!("{why}\n{text}"));
        simple::worked_on_a_pillow(&piece).unwrap_or_else(|why| panic!("{why}\n{text}"));
    }
    assert!(worked_out >= 40, "only {worked_out} can be worked");
}

/// The simple program tells a wrong piece from a right one.
#[test]
fn the_simple_program_finds_what_is_wrong() {
    assert_eq!(moved([1, 2, 3, 4], "CT pin CT"), [4, 3, 2, 1]);
    assert_eq!(moved([1, 2, 3, 4], "CTCT pin CTCT"), [1, 2, 3, 4]);
    let piece = made(&head("pointed", "pointed", 4, 3, "torchon"));
    assert_eq!(simple::worked_on_a_pillow(&piece), Ok(()));
    // Two stitches that do not wait for each other's pairs.
    let mut swapped = piece.clone();
    swapped["order"].as_array_mut().unwrap().swap(0, 1);
    assert!(simple::worked_on_a_pillow(&swapped).is_err());
    // Two pairs that cross without a stitch.
    let mut crossed = piece.clone();
    let legs = crossed["legs"].as_array_mut().unwrap();
    let inner: Vec<usize> =
        (0..legs.len()).filter(|&k| legs[k]["from"][0] == 3 || legs[k]["from"][0] == 5).collect();
    let [a, b] = [inner[0], inner[inner.len() - 1]];
    let to = legs[a]["to"].clone();
    legs[a]["to"] = std::mem::replace(&mut legs[b]["to"], to);
    assert!(simple::worked_on_a_pillow(&crossed).is_err());
}
