//! The `grid` command as a user runs it.

use std::path::Path;
use std::process::Output;

use crate::support::{assert_refused, command, pairwise};
use serde_json::Value;

fn run(folder: &Path, args: &[&str], threads: Option<&str>) -> Output {
    let mut run = command(folder, &[&["grid"], args].concat());
    if let Some(threads) = threads {
        run.env("RAYON_NUM_THREADS", threads);
    }
    run.output().unwrap()
}

/// Runs `grid`, which must succeed, and returns its notes.
fn grid(folder: &Path, args: &[&str]) -> String {
    let out = run(folder, args, None);
    let notes = String::from_utf8(out.stderr).unwrap();
    assert_eq!(out.status.code(), Some(0), "{args:?}: {notes}");
    notes
}

fn index(folder: &Path, name: &str) -> Value {
    serde_json::from_slice(&std::fs::read(folder.join(name)).unwrap()).unwrap()
}

fn cells(index: &Value) -> &Vec<Value> {
    index["cells"].as_array().unwrap()
}

fn texts<'a>(index: &'a Value, key: &str) -> Vec<&'a str> {
    cells(index).iter().map(|c| c[key].as_str().unwrap()).collect()
}

/// A decoded picture: width, height, RGB.
struct Picture(usize, usize, Vec<u8>);

impl Picture {
    fn read(path: &Path) -> Picture {
        let file = std::io::BufReader::new(std::fs::File::open(path).unwrap());
        let mut decoder = png::Decoder::new(file);
        decoder.set_transformations(png::Transformations::EXPAND);
        let mut reader = decoder.read_info().unwrap();
        let mut data = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut data).unwrap();
        assert_eq!(info.color_type, png::ColorType::Rgb);
        Picture(info.width as usize, info.height as usize, data)
    }

    fn part(&self, [x, y, width, height]: [usize; 4]) -> Vec<u8> {
        assert!(x + width <= self.0 && y + height <= self.1, "inside the picture");
        (y..y + height).flat_map(|row| &self.2[3 * (row * self.0 + x)..][..3 * width]).copied().collect()
    }
}

fn place(cell: &Value) -> [usize; 4] {
    ["x", "y", "width", "height"].map(|key| cell[key].as_u64().unwrap() as usize)
}

#[test]
fn the_index_gives_the_place_and_facts_of_every_picture() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    grid(at, &["torchon", "torchon/double", "rose", "--size", "64", "--index", "grid.json"]);
    let list = index(at, "grid.json");
    assert_eq!(list["format"], "pairwise-grid/1");
    assert_eq!(list["pages"][0]["file"], "grid.png");
    let orders = list["left_out"]["orders_shown"].as_u64().unwrap() as usize;
    assert_eq!(cells(&list).len(), 3 * orders);
    let picture = Picture::read(&at.join("grid.png"));
    for cell in cells(&list).iter().step_by(7) {
        // The same cell drawn alone.
        let name = format!("{}/{}", cell["ground"].as_str().unwrap(), cell["variety"].as_str().unwrap());
        let order = cell["order"].as_str().unwrap();
        let args = ["--arrangement", order, "--size", "64", "--out", "one.png", "--index", "one.json"];
        grid(at, &[&[name.as_str()], &args[..]].concat());
        let one = index(at, "one.json");
        assert_eq!(cells(&one).len(), 1);
        let alone = Picture::read(&at.join("one.png")).part(place(&cells(&one)[0]));
        assert_eq!(picture.part(place(cell)), alone, "{name} in {order}");
        for same in
            ["pattern", "clearness", "words", "visible_shares", "thread_length_shares", "period_across_mm"]
        {
            assert_eq!(cell[same], cells(&one)[0][same], "{name} in {order}: {same}");
        }
    }
    for cell in cells(&list) {
        let sum = |key: &str| cell[key].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).sum::<f64>();
        assert!((sum("thread_length_shares") - 1.0).abs() < 1e-3);
        assert!((sum("visible_shares") + cell["open_share"].as_f64().unwrap() - 1.0).abs() < 1e-3);
        // Colours meet somewhere, unless there is only one.
        let plain = cell["pattern"] == "plain";
        assert_eq!(cell["crossings_of_two_colours_share"] == 0.0, plain);
        assert_eq!(cell["crossings_mean_contrast"].is_null(), plain);
        // Common practice, no source: the double ground keeps colours in columns, that
        // of a single pair too; only columns of single pairs next to each other do not
        // stand out.
        let alternate = ["A B A B", "B A B A"].contains(&cell["order"].as_str().unwrap());
        if cell["variety"] == "double" && cell["pattern"] != "plain" && !alternate {
            assert_eq!(cell["pattern"], "columns");
            let words = cell["words"].as_str().unwrap();
            assert!(
                words.starts_with("columns, ") && words.contains(" % clear, repeating every "),
                "{words}"
            );
        }
    }
}

#[test]
fn a_table_that_is_too_large_goes_on_several_pages_with_its_heads() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let args = ["--size", "64", "--page", "700", "--index", "grid.json"];
    grid(
        at,
        &[&["torchon", "rose", "honeycomb", "cloth", "spider", "point", "--varieties"], &args[..]].concat(),
    );
    let list = index(at, "grid.json");
    let pages = list["pages"].as_array().unwrap();
    assert!(pages.len() > 2 && !at.join("grid.png").exists());
    let pictures: Vec<Picture> =
        pages.iter().map(|p| Picture::read(&at.join(p["file"].as_str().unwrap()))).collect();
    for (k, (page, picture)) in pages.iter().zip(&pictures).enumerate() {
        assert_eq!(page["file"], format!("grid-{}.png", k + 1));
        assert_eq!(
            [page["width"].as_u64(), page["height"].as_u64()],
            [Some(picture.0 as u64), Some(picture.1 as u64)]
        );
        assert!(picture.0 <= 700 && picture.1 <= 700, "{} by {}", picture.0, picture.1);
    }
    // Every cell once, and none overlapping another on its page.
    let mut seen: Vec<(&str, [usize; 4])> = Vec::new();
    for cell in cells(&list) {
        let (page, here) = (cell["page"].as_str().unwrap(), place(cell));
        for (other, there) in &seen {
            let apart = here[0].abs_diff(there[0]) >= 64 || here[1].abs_diff(there[1]) >= 64;
            assert!(*other != page || apart);
        }
        seen.push((page, here));
    }
    // The head of a column is the same on the pages that show it, and so is
    // the head of a row.
    let find = |ground: &str, order: &str| {
        let mut all = cells(&list).iter();
        all.find(|c| c["ground"] == ground && c["order"] == order).unwrap()
    };
    let of = |cell: &Value| {
        let file = cell["page"].as_str().unwrap();
        pages.iter().position(|p| p["file"] == file).unwrap()
    };
    let first = |page: usize| {
        let of_page = cells(&list).iter().filter(|c| of(c) == page).map(place);
        [of_page.clone().map(|p| p[0]).min().unwrap(), of_page.map(|p| p[1]).min().unwrap()]
    };
    let (a, b) = (find("torchon", "A A A B"), find("spider", "A A A B"));
    assert_ne!(of(a), of(b));
    let head = |cell: &Value| {
        let top = first(of(cell))[1];
        pictures[of(cell)].part([place(cell)[0], top - 40, 64, 40])
    };
    let heads = [head(a), head(b)];
    assert_eq!(heads[0], heads[1]);
    assert!(heads[0].chunks(3).any(|p| p != &heads[0][..3]), "something stands there");
    let orders: Vec<&str> = cells(&list)
        .iter()
        .filter(|c| c["title"] == a["title"])
        .map(|c| c["order"].as_str().unwrap())
        .collect();
    let far = find("torchon", orders[orders.len() - 1]);
    assert_ne!(of(a), of(far));
    let label = |cell: &Value| pictures[of(cell)].part([20, place(cell)[1], 140, 64]);
    assert_eq!(label(a), label(far));
}

#[test]
fn the_number_of_threads_does_not_change_the_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    for args in
        [&["--group"][..], &["--like", "rose/plain,A A B B"], &["--sort", "open"], &["--sort", "clearest"]]
    {
        let mut made: Vec<Vec<Vec<u8>>> = Vec::new();
        for threads in ["1", "4"] {
            let usual =
                ["--varieties", "--size", "48", "--max", "5", "--page", "900", "--index", "grid.json"];
            let out = run(at, &[&usual, args].concat(), Some(threads));
            assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
            let mut files: Vec<_> = std::fs::read_dir(at).unwrap().map(|f| f.unwrap().path()).collect();
            files.sort();
            made.push(files.iter().map(|f| std::fs::read(f).unwrap()).collect());
            for file in files {
                std::fs::remove_file(file).unwrap();
            }
        }
        assert!(made[0].len() >= 2);
        assert!(made[0] == made[1], "{args:?}");
    }
}

#[test]
fn grounds_are_kept_left_out_and_sorted() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let rows = |args: &[&str]| {
        let usual = ["--arrangement", "A A B B", "--size", "48", "--index", "grid.json"];
        let notes = grid(at, &[args, &usual[..]].concat());
        let list = index(at, "grid.json");
        let names = cells(&list)
            .iter()
            .map(|c| format!("{}/{}", c["ground"].as_str().unwrap(), c["variety"].as_str().unwrap()));
        (names.collect::<Vec<_>>(), list["left_out"]["grounds"].as_u64().unwrap(), notes)
    };
    let (all, none, _) = rows(&["--varieties"]);
    assert_eq!(none, 0);
    let (spiders, left_out, notes) = rows(&["--varieties", "--only", "spider"]);
    assert!(spiders.len() > 1 && spiders.iter().all(|n| n.starts_with("spider")));
    assert_eq!(left_out as usize, all.len() - spiders.len());
    assert!(notes.contains(&format!("left out {left_out} of {} grounds", all.len())), "{notes}");
    let (others, _, _) = rows(&["--varieties", "--except", "spider", "--except", "rose/plain"]);
    assert_eq!(others.len(), all.len() - spiders.len() - 1);
    assert!(!others.iter().any(|n| n.starts_with("spider") || n == "rose/plain"));
    // A variety named is shown even though each ground has only one row.
    assert_eq!(rows(&["--only", "torchon/double"]).0, ["torchon/double"]);
    let (by_name, _, _) = rows(&["--varieties", "--sort", "name"]);
    assert!(by_name.is_sorted());
    rows(&["--varieties", "--sort", "open"]);
    let list = index(at, "grid.json");
    let open: Vec<f64> = cells(&list).iter().map(|c| c["open_share"].as_f64().unwrap()).collect();
    assert!(open.windows(2).all(|w| w[0] + 1e-4 >= w[1]), "{open:?}");
    for (sort, measure) in [("pairs", "pairs_per_cm"), ("pins", "pins_per_cm2"), ("moves", "moves_per_cm2")] {
        let values: Vec<f64> = rows(&["torchon", "rose", "cloth", "spider", "--sort", sort])
            .0
            .iter()
            .map(|name| {
                let out = pairwise(Path::new("."), &["facts", name, "--json"]);
                let facts: Value = serde_json::from_slice(&out.stdout).unwrap();
                facts["measures"][measure].as_f64().unwrap()
            })
            .collect();
        assert!(values.is_sorted(), "{sort}: {values:?}");
    }
    // Each kind of pattern comes in one block.
    rows(&["--varieties", "--sort", "pattern"]);
    let list = index(at, "grid.json");
    let mut kinds = texts(&list, "pattern");
    kinds.dedup();
    let once = kinds.len();
    kinds.sort_unstable();
    kinds.dedup();
    assert_eq!(kinds.len(), once);
}

#[test]
fn cells_are_grouped_by_pattern_and_sorted_by_likeness() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let usual = ["--varieties", "--size", "48", "--max", "6", "--index", "grid.json"];
    grid(at, &[&usual[..], &["--group"]].concat());
    let list = index(at, "grid.json");
    let all = cells(&list).len();
    let mut kinds = texts(&list, "pattern");
    kinds.dedup();
    let order = [
        "plain",
        "columns",
        "rows",
        "diagonals-left",
        "diagonals-right",
        "zigzags",
        "checks",
        "spots",
        "even-mix",
    ];
    let places: Vec<usize> = kinds.iter().map(|k| order.iter().position(|o| o == k).unwrap()).collect();
    assert!(places.len() > 3 && places.is_sorted_by(|a, b| a < b), "{kinds:?}");
    grid(at, &[&usual[..], &["--like", "rose/plain,A A B B"]].concat());
    let list = index(at, "grid.json");
    assert_eq!(cells(&list).len(), all);
    let first = &cells(&list)[0];
    assert_eq!([&first["ground"], &first["variety"], &first["order"]], ["rose", "plain", "A A B B"]);
    let alike: Vec<f64> = cells(&list).iter().map(|c| c["alike"].as_f64().unwrap()).collect();
    assert_eq!(alike[0], 1.0);
    assert!(alike.windows(2).all(|w| w[0] >= w[1]) && alike[alike.len() - 1] < 0.7, "{alike:?}");
    // A ground not among those shown is added.
    grid(
        at,
        &[
            "torchon",
            "--size",
            "48",
            "--like",
            "rose, A B C C",
            "--colours",
            "navy,gold,teal",
            "--max",
            "3",
            "--index",
            "grid.json",
        ],
    );
    let list = index(at, "grid.json");
    assert_eq!(texts(&list, "ground"), ["rose", "torchon", "torchon", "torchon"]);
}

#[test]
fn pictures_are_kept_by_their_pattern_and_sorted_by_how_clear_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let usual = ["--varieties", "--size", "48", "--max", "6", "--index", "grid.json"];
    grid(at, &usual);
    let all = index(at, "grid.json");
    let clearness = |c: &Value| c["clearness"].as_f64().unwrap();
    for cell in cells(&all) {
        let none = ["plain", "even-mix"].contains(&cell["pattern"].as_str().unwrap());
        assert_eq!(clearness(cell) == 0.0, none, "{cell}");
        assert!((0.0..=1.0).contains(&clearness(cell)));
        let words = cell["words"].as_str().unwrap();
        let said = words.split(" % clear").next().and_then(|words| words.rsplit(' ').next());
        let near = |said: &str| (said.parse::<f64>().unwrap() - 100.0 * clearness(cell)).abs() < 0.51;
        assert!(none || said.is_some_and(near), "{cell}");
    }
    // One command: clear checks that are quick to work.
    let wish = ["--pattern", "checks", "--sort", "clearest", "--moves", "0-100", "--clear", "20-"];
    let notes = grid(at, &[&usual[..], &wish].concat());
    let kept = index(at, "grid.json");
    assert!(cells(&kept).len() > 2, "{}", cells(&kept).len());
    assert!(texts(&kept, "pattern").iter().all(|pattern| *pattern == "checks"));
    let clear: Vec<f64> = cells(&kept).iter().map(clearness).collect();
    assert!(clear.windows(2).all(|w| w[0] >= w[1]) && clear.iter().all(|c| *c > 0.19), "{clear:?}");
    let names = |list: &Value| {
        let name =
            |c: &Value| format!("{}/{}", c["ground"].as_str().unwrap(), c["variety"].as_str().unwrap());
        cells(list).iter().map(name).collect::<Vec<_>>()
    };
    for name in names(&kept) {
        let out = pairwise(Path::new("."), &["facts", &name, "--json"]);
        let facts: Value = serde_json::from_slice(&out.stdout).unwrap();
        assert!(facts["measures"]["moves_per_cm2"].as_f64().unwrap() <= 100.0, "{name}");
    }
    // All that fit are kept, and what was left out is counted.
    let grounds_left_out = kept["left_out"]["grounds"].as_u64().unwrap() as usize;
    assert!(
        grounds_left_out > 0 && notes.contains(&format!("--moves left out {grounds_left_out} of")),
        "{notes}"
    );
    let left_out = kept["left_out"]["pictures"].as_u64().unwrap() as usize;
    let orders = kept["left_out"]["orders_shown"].as_u64().unwrap() as usize;
    let grounds = cells(&all).len() / orders - grounds_left_out;
    assert_eq!(cells(&kept).len() + left_out, grounds * orders);
    assert!(notes.contains("--pattern and --clear left out"), "{notes}");
    // In a table, rows are sorted by their clearest picture.
    grid(at, &[&usual[..], &["--sort", "clearest"]].concat());
    let list = index(at, "grid.json");
    let best: Vec<f64> =
        cells(&list).chunks(orders).map(|row| row.iter().map(clearness).fold(0.0, f64::max)).collect();
    assert!(best.len() > 20 && best.windows(2).all(|w| w[0] >= w[1]), "{best:?}");
}

#[test]
fn what_is_alike_is_grouped_and_sorted() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let usual =
        ["torchon", "rose", "spider", "--varieties", "--size", "48", "--max", "6", "--index", "grid.json"];
    let like = ["--like", "rose/plain,A A B B"];
    let shown = |args: &[&str]| {
        grid(at, &[&usual[..], &like, args].concat());
        let list = index(at, "grid.json");
        let first = &cells(&list)[0];
        assert_eq!([&first["ground"], &first["order"]], ["rose", "A A B B"]);
        assert_eq!(first["alike"], 1.0);
        list
    };
    let number = |c: &Value, key: &str| c[key].as_f64().unwrap();
    // By kind, and in each the most alike first.
    let list = shown(&["--group"]);
    let others = &cells(&list)[1..];
    let kinds: Vec<&[Value]> = others.chunk_by(|a, b| a["pattern"] == b["pattern"]).collect();
    let mut names: Vec<&Value> = kinds.iter().map(|kind| &kind[0]["pattern"]).collect();
    let count = names.len();
    names.sort_by_key(|name| name.as_str());
    names.dedup();
    assert!(count > 2 && names.len() == count, "{names:?}");
    for kind in kinds {
        assert!(kind.windows(2).all(|w| number(&w[0], "alike") >= number(&w[1], "alike")));
    }
    // By another measure.
    let list = shown(&["--sort", "clearest"]);
    assert!(cells(&list)[1..].windows(2).all(|w| number(&w[0], "clearness") >= number(&w[1], "clearness")));
    // By ground, and those of one ground the most alike first.
    let list = shown(&["--sort", "name"]);
    let name = |c: &Value| format!("{}/{}", c["ground"].as_str().unwrap(), c["variety"].as_str().unwrap());
    let others = &cells(&list)[1..];
    assert!(others.windows(2).all(|w| name(&w[0]) < name(&w[1])
        || name(&w[0]) == name(&w[1]) && number(&w[0], "alike") >= number(&w[1], "alike")));
    // Only one kind; the one named stays.
    let list = shown(&["--pattern", "checks"]);
    assert!(cells(&list).len() > 1 && texts(&list, "pattern")[1..].iter().all(|kind| *kind == "checks"));
}

// Burnside counts themselves are checked against published sequences elsewhere.
#[test]
fn notices_say_what_was_left_out_and_what_was_rounded() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let notes = |args: &[&str]| grid(at, &[args, &["--size", "48", "--index", "grid.json"]].concat());
    let words = notes(&["rose", "--arrangement-length", "6", "--max", "5"]);
    assert!(words.contains("the repeat of Rose ground has 4 pairs: 6 pairs are rounded up to 8"), "{words}");
    let list = index(at, "grid.json");
    assert!(texts(&list, "order").iter().all(|o| o.split(' ').count() == 8));
    let all = list["left_out"]["orders_at_most"].as_u64().unwrap();
    assert!(words.contains(&format!("5 of {all} arrangements that look different")), "{words}");
    assert_eq!(list["left_out"]["orders_left_out_at_least"], all - 5);
    // All arrangements that the note counts can be shown.
    let words = notes(&["rose", "--arrangement-length", "8", "--max", "1000"]);
    assert!(!words.contains("--max"), "{words}");
    assert_eq!(cells(&index(at, "grid.json")).len() as u64, all);
    // Very large numbers are counted too.
    let words = notes(&["rose", "--arrangement-length", "24", "--max", "3", "--colours", "navy,gold,teal"]);
    assert!(
        words.contains("3 of ") && words.contains(",") && words.contains("arrangements that look different")
    );
    let words = notes(&["rose", "torchon", "--arrangement-length", "24", "--max", "3"]);
    assert!(words.contains("3 of "), "{words}");
    // With repeats of several sizes nothing is refused or rounded.
    let words = notes(&["rose", "torchon", "--arrangement-length", "6", "--max", "3"]);
    assert!(
        words.contains("arrangement of 6 pairs") && words.contains("after 12 pairs (Rose ground)"),
        "{words}"
    );
    assert!(texts(&index(at, "grid.json"), "order").iter().all(|o| o.split(' ').count() == 6));
    let words = notes(&["torchon", "--arrangement-length", "4"]);
    assert!(words.is_empty(), "{words}");
}

#[test]
fn arrangements_are_chosen_by_name_by_look_and_by_thread() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let orders = |args: &[&str]| {
        grid(at, &[args, &["--size", "48", "--max", "5000", "--index", "grid.json"]].concat());
        let list = index(at, "grid.json");
        let name = |c: &Value| c["name"].as_str().map(str::to_owned);
        let pairs = cells(&list).iter().map(|c| (c["order"].as_str().unwrap().to_owned(), name(c)));
        pairs.collect::<Vec<_>>()
    };
    let named =
        orders(&["torchon", "--arrangement-length", "8", "--named", "one-in-4", "--named", "2-and-2"]);
    assert!(named.iter().any(|(_, n)| n.as_deref() == Some("one-in-4")));
    assert!(named.iter().any(|(_, n)| n.as_deref() == Some("2-and-2")));
    assert!(named.iter().all(|(_, n)| ["one-in-4", "2-and-2"].contains(&n.as_deref().unwrap())));
    // The longest arrangements in many colours at once.
    let long = orders(&[
        "torchon",
        "--arrangement-length",
        "24",
        "--named",
        "one-in-24",
        "--colours",
        "navy,gold,teal",
    ]);
    assert!(!long.is_empty() && long.iter().all(|(o, _)| o.split(' ').count() == 24));
    let all = orders(&["torchon", "--arrangement-length", "4"]).len();
    let exchanged = orders(&["torchon", "--arrangement-length", "4", "--exchange"]).len();
    assert!(exchanged < all, "{exchanged} of {all}");
    let single = orders(&["torchon", "--arrangement-length", "2", "--single-threads"]);
    assert!(single.iter().any(|(o, _)| o.contains('/')), "{single:?}");
}

#[test]
fn mistakes_are_named_with_a_remedy_and_leave_nothing_behind() {
    for (args, words) in [
        (&["--only", "roze"][..], &["roze", "`rose`"][..]),
        (&["--except", "rose/plane"], &["rose/plane", "`rose/plain`"]),
        (&["rose", "--only", "torchon"], &["no ground to show", "--varieties"]),
        (&["--like", "rose"], &["GROUND,ARRANGEMENT", "rose/plain"]),
        (&["--like", "roze,A B"], &["roze", "`rose`"]),
        (&["--like", "rose,A ?"], &["character 3"]),
        (&["--like", "rose,A B C"], &["letter C"]),
        (&["--pattern", "stripes"], &["stripes", "columns", "even-mix"]),
        (&["--pattern", ""], &["columns"]),
        (&["--clear", "sixty"], &["sixty", "hyphen"]),
        (&["--clear", "90-60"], &["90-60", "60-90"]),
        (&["--clear=-5"], &["hyphen"]),
        (&["--clear", "inf"], &["hyphen"]),
        (&["--clear", "NaN-100"], &["hyphen"]),
        (&["no-such-ground", "--clear", "101-"], &["101- % clear", "0 to 100"]),
        (&["--moves", "1e3-"], &["1e3-", "hyphen"]),
        (&["--moves=-10"], &["hyphen"]),
        (&["--pins", "6-3"], &["3-6"]),
        (&["--moves", "0-1"], &["0-1 moves per square cm", "these have", "--moves"]),
        (&["--pins", "9000-"], &["9000- pins", "--pins"]),
        (
            &["torchon", "--arrangement", "A A A B", "--size", "48", "--pattern", "columns"],
            &["no picture shows columns", "here are diagonals to the right (1)", "--pattern"],
        ),
        (
            &[
                "torchon",
                "--arrangement",
                "A A A B",
                "--size",
                "48",
                "--pattern",
                "diagonals",
                "--clear",
                "99-",
            ],
            &["99- % clear", "the clearest of these is", "--clear"],
        ),
        (
            &["torchon", "--size", "48", "--pattern", "plain", "--clear", "1-"],
            &["no picture shows plain, 1- % clear", "the clearest of these is 0 %"],
        ),
        (&["--named", "two by two"], &["2-and-2"]),
        (&["torchon", "--named", "one-in-5"], &["one-in-5", "--arrangement-length"]),
        (&["--named", "2-and-2", "--arrangement", "A B"], &["--arrangement"]),
        (&["--sort", "size"], &["open"]),
        (&["--seen-by", "cat"], &["deutan"]),
        (&["--page", "10"], &["600"]),
        (&["torchon", "--index", "grid.png"], &["grid.png", "--index grid.json"]),
        (&["torchon", "--size", "48", "--out", "no/such/folder/grid.png"], &["no/such/folder/grid.png"]),
        // Before anything is looked up.
        (&["no-such-ground", "--out", "grid.svg"], &["grid.svg cannot hold this picture", "end in .png"]),
        (
            &["no-such-ground", "--out", "class.pdf"],
            &["class.pdf cannot hold this picture", "`pairwise sheet`"],
        ),
    ] {
        assert_refused(&[&["grid"], args].concat(), words);
    }
}

#[test]
fn a_picture_in_few_colours_is_smaller_and_looks_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let args = ["torchon", "rose", "--max", "4", "--size", "96", "-o"];
    grid(folder.path(), &[&args[..], &["all.png"]].concat());
    grid(folder.path(), &[&args[..], &["few.png", "--reduce", "64"]].concat());
    let size = |name: &str| std::fs::metadata(folder.path().join(name)).unwrap().len();
    assert!(size("few.png") * 2 < size("all.png"), "{} and {}", size("few.png"), size("all.png"));
    let [all, few] = ["all.png", "few.png"].map(|name| Picture::read(&folder.path().join(name)));
    assert_eq!((all.0, all.1), (few.0, few.1));
    let colours: std::collections::BTreeSet<&[u8]> = few.2.chunks(3).collect();
    assert!(colours.len() <= 64, "{}", colours.len());
    let apart: f64 = all.2.iter().zip(&few.2).map(|(a, b)| f64::from(a.abs_diff(*b))).sum();
    assert!(apart / (all.2.len() as f64) < 4.0, "{}", apart / all.2.len() as f64);
    assert_refused(&["grid", "--reduce", "1000"], &["from 16 to 256"]);
}

// Pages 2 and 3 of an earlier grid beside a new one would be taken for its own.
#[test]
fn pages_of_an_earlier_grid_go_and_what_may_be_the_users_stays() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let many = ["torchon", "rose", "--varieties", "--arrangement", "A B", "--size", "128", "--page", "600"];
    grid(folder.path(), &many);
    assert!(at("grid-2.png").exists() && !at("grid.png").exists());
    let mine = std::fs::read(at("grid-1.png")).unwrap();
    std::fs::write(at("grid-2.png"), b"mine").unwrap();
    std::fs::write(at("other-1.png"), &mine).unwrap();
    let said = grid(folder.path(), &["torchon", "--arrangement", "A B"]);
    assert!(said.contains("removed what an earlier grid of this name had more of: grid-1.png"), "{said}");
    assert!(said.contains("not removed because they may be yours: grid-2.png"), "{said}");
    assert!(at("grid.png").exists() && !at("grid-1.png").exists() && !at("grid-3.png").exists());
    assert_eq!(std::fs::read(at("grid-2.png")).unwrap(), b"mine");
    assert_eq!(std::fs::read(at("other-1.png")).unwrap(), mine);
    // Another name is another grid.
    let said = grid(folder.path(), &["torchon", "--arrangement", "A B", "--out", "next.png"]);
    assert!(!said.contains("removed") && at("grid.png").exists(), "{said}");
    // A page without a number is none of several.
    std::fs::remove_file(at("grid-2.png")).unwrap();
    let said = grid(folder.path(), &many);
    assert!(said.contains("had more of: grid.png"), "{said}");
    assert!(at("grid-1.png").exists() && !at("grid.png").exists());
}

#[test]
fn pictures_show_whole_repeats_or_say_that_they_do_not() {
    let folder = tempfile::tempdir().unwrap();
    grid(
        folder.path(),
        &["--varieties", "--arrangement", "A A B B", "--arrangement", "4A 5B", "--index", "grid.json"],
    );
    let list = index(folder.path(), "grid.json");
    let usual = list["window_mm"].as_f64().unwrap();
    let (mut wide, mut part) = (0, 0);
    for cell in cells(&list) {
        let mm = |key: &str| cell[key].as_f64();
        let window = mm("window_mm").unwrap();
        assert!([1.0, 2.0, 3.0, 4.0].contains(&(window / usual)), "{cell}");
        let fits = |size: Option<f64>| size.is_some_and(|size| size <= window + 1e-3);
        let whole = fits(mm("period_across_mm")) && fits(mm("period_down_mm"));
        assert_eq!(cell["shows_whole_colours"], whole, "{cell}");
        wide += usize::from(window > usual);
        part += usize::from(!whole);
    }
    assert!(wide > 5 && part > 5 && part < cells(&list).len() / 2, "{wide}, {part}");
    // What is asked for is shown of all, whole or not.
    grid(
        folder.path(),
        &["rose", "torchon", "--arrangement", "4A 5B", "--window", "20", "--index", "grid.json"],
    );
    let list = index(folder.path(), "grid.json");
    assert!(
        cells(&list).iter().all(|cell| cell["window_mm"] == 20.0 && cell["shows_whole_colours"] == false)
    );
    for (wrong, said) in
        [("0", "a picture cannot show 0 mm of lace"), ("201", "201"), ("nan", "NaN"), ("-3", "-3")]
    {
        assert_refused(&["grid", "torchon", "--window", wrong], &[said, "--window 32"]);
    }
    assert_refused(&["sheet", "torchon", "--show", "pairs", "--window", "20"], &["--window", "--area"]);
}

// White thread on linen would hardly be seen.
#[test]
fn white_thread_brings_a_darker_cloth() {
    let folder = tempfile::tempdir().unwrap();
    for (colours, cloth) in [("white,navy", [0x6b, 0x7a, 0x8c]), ("teal,navy", [232, 224, 208])] {
        let said = grid(
            folder.path(),
            &["torchon", "--arrangement", "A B", "--colours", colours, "--index", "grid.json"],
        );
        assert!(!said.contains("hardly stands out"), "{said}");
        let list = index(folder.path(), "grid.json");
        let part = Picture::read(&folder.path().join("grid.png")).part(place(&cells(&list)[0]));
        let bare = part.chunks(3).filter(|pixel| *pixel == cloth).count();
        assert!(bare * 20 > part.len() / 3, "{colours}: {bare} of {}", part.len() / 3);
    }
}
