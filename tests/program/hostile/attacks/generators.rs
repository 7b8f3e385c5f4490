//! Makers of attacks: each varies at random one way in which a file once did harm.

use std::fmt::Write;
use std::path::Path;

use crate::contribution::Text;
use crate::random::Random;

/// A file that is to do harm.
pub struct Attack {
    /// Its name.
    pub file: String,
    pub bytes: Vec<u8>,
}

impl Attack {
    fn text(text: String) -> Attack {
        Attack { file: "attack.toml".to_owned(), bytes: text.into_bytes() }
    }

    fn contribution(bytes: Vec<u8>) -> Attack {
        Attack { file: "attack.wasm".to_owned(), bytes }
    }
}

/// Makes an attack.
type Generator = fn(&mut Random) -> Attack;

/// All of them, with their names.
pub const GENERATORS: &[(&str, Generator)] = &[
    ("far stitches", far_stitches),
    ("dense stitches", dense_stitches),
    ("wide repeats", wide_repeats),
    ("slow layouts", slow_layouts),
    ("many faults", many_faults),
    ("far columns", far_columns),
    ("changed texts", changed_texts),
    ("costly code", costly_code),
    ("slow code", slow_code),
    ("spoilt files", spoilt_files),
];

const HEAD: &str = "format = \"pairwise-chart/1\"\n[about]\nid = \"attack\"\ntitle = \"Attack\"\nsource = \"made up for a test\"\n";

/// A number of any size up to 10,000, of either sign.
fn far(random: &mut Random) -> f64 {
    let size = random.of_any_size(10_000) as f64;
    if random.below(2) == 0 { size } else { -size }
}

/// Two stitches, one of them far away.
fn far_stitches(random: &mut Random) -> Attack {
    let (x, y) = (far(random).trunc(), far(random).trunc());
    let [across, down] = [0, 0].map(|_| 1 + random.of_any_size(64));
    Attack::text(format!(
        "{HEAD}[repeat]\nacross = [{across}, 0]\ndown = [0, {down}]\n\
         [[stitch]]\nid = \"a\"\nat = [0, 0]\nwork = \"CT pin CT\"\n\
         left = {{ to = \"b\", at = [{}, {y}] }}\nright = {{ to = \"b\", at = [{x}, {y}] }}\n\
         [[stitch]]\nid = \"b\"\nat = [{x}, {y}]\nwork = \"CT pin CT\"\n\
         left = {{ to = \"a\", at = [0, {down}] }}\nright = {{ to = \"a\", at = [{across}, {down}] }}\n",
        x - across as f64
    ))
}

/// Torchon ground, its repeat `count` stitches wide, at a scale.
fn torchon(
    count: usize,
    scale: f64,
    mut work: impl FnMut(usize) -> String,
    mut twists: impl FnMut() -> usize,
) -> String {
    let at = |n: i64, m: i64| format!("[{}, {}]", n as f64 * scale, m as f64 * scale);
    let wide = count as i64;
    let mut text = format!("{HEAD}[repeat]\nacross = {}\ndown = {}\n", at(wide, wide), at(-1, 1));
    for n in 0..count {
        let k = n as i64;
        let next = (n + 1) % count;
        write!(
            text,
            "[[stitch]]\nid = \"s{n}\"\nat = {}\nwork = \"{}\"\n\
             left = {{ to = \"s{n}\", at = {}, twists = {} }}\nright = {{ to = \"s{next}\", at = {}, twists = {} }}\n",
            at(k, k),
            work(n),
            at(k - 1, k + 1),
            twists(),
            at(k + 1, k + 1),
            twists()
        )
        .unwrap();
    }
    text
}

/// Stitches of many moves in little room.
fn dense_stitches(random: &mut Random) -> Attack {
    let scale = 1.0 / random.of_any_size(16) as f64;
    let (count, moves) = (random.of_any_size(8), random.of_any_size(128));
    Attack::text(torchon(count, scale, |_| format!("{} pin", "CT".repeat(moves)), || 0))
}

/// Repeats as wide as charts can be.
fn wide_repeats(random: &mut Random) -> Attack {
    Attack::text(torchon(random.of_any_size(900), 1.0, |_| "CT pin CT".to_owned(), || 0))
}

/// Many different stitches, with many twists between them.
fn slow_layouts(random: &mut Random) -> Attack {
    let (count, most) = (random.of_any_size(300), random.of_any_size(64));
    let mut twists = Random(random.next());
    let work = |_| {
        let half = "CT".repeat(random.of_any_size(4));
        if random.below(2) == 0 { format!("{half} pin {half}") } else { half }
    };
    Attack::text(torchon(count, 1.0, work, || twists.below(most + 1)))
}

/// A chart with many faults, in one line or in many.
fn many_faults(random: &mut Random) -> Attack {
    let count = random.of_any_size(4000);
    let end = random.one_of(&["", "\n"]);
    let id = random.one_of(&["S S", "a", "é", "con"]);
    let stitches: String =
        (0..count).map(|_| format!("{{id=\"{id}\",at=[0,0],work=\"CTX\"}},{end}")).collect();
    Attack::text(format!(
        "format = \"pairwise-chart/1\"\nstitch = [{stitches}]\n[about]\nid=\"a b\"\ntitle=\"t\"\nsource=\"s\"\n[repeat]\nacross=[1,1]\ndown=[-1,1]\n"
    ))
}

/// A fault far to the right, or far down.
fn far_columns(random: &mut Random) -> Attack {
    let filler = random.one_of(&[" ", "\t", "\n", "\u{a0}", "#é\n"]);
    let room = filler.repeat(random.of_any_size(300_000));
    let format = random.one_of(&["pairwise-chart/1", "pairwise-recipe/1"]);
    Attack::text(format!(
        "format = \"{format}\"\n[about]\ntitle=\"t\"\nsource=\"s\"\nid = {room}{}",
        random.one_of(&["3", "\"A B\"", "[", "\"a\" x"])
    ))
}

const NINES: &str = "99999999999999999999999999999999999999999999999999999999999999999999999999999999";

/// The texts of the house, spoilt.
fn changed_texts(random: &mut Random) -> Attack {
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let file = random.one_of(&["gallery/evening-class.toml", "host/app/src/commands/new/chart.toml"]);
    let mut text: Vec<char> = std::fs::read_to_string(house.join(file)).unwrap().chars().collect();
    for _ in 0..=random.below(5) {
        let at = random.below(text.len());
        let end = (at + random.of_any_size(40)).min(text.len());
        let new = random.one_of(&[
            "",
            "\"",
            "[",
            "]",
            "=",
            "\n",
            NINES,
            "-1",
            "1e308",
            "nan",
            "inf",
            "\u{1b}[31m",
            "\u{202e}",
            "\u{3164}",
            "'''",
            "\u{0}",
            "9223372036854775807",
            "[[stitch]]\n",
            "[[ground]]\n",
        ]);
        match random.below(3) {
            0 => drop(text.splice(at..end, new.chars())),
            1 => drop(text.splice(at..at, new.chars())),
            _ => {
                let again: Vec<char> = text[at..end].repeat(random.of_any_size(200));
                drop(text.splice(at..at, again));
            }
        }
    }
    Attack::text(text.into_iter().collect())
}

/// Code that is dear to compile: blocks with many parameters, many locals, wide
/// tables of branches, one inside the other or one after the other.
fn costly_code(random: &mut Random) -> Attack {
    let (blocks, parameters) = (random.of_any_size(2000), random.of_any_size(1000));
    let targets = random.of_any_size(2000);
    let types = "i64 ".repeat(parameters);
    let given = "(i64.const 1)".repeat(parameters);
    let dropped = "drop ".repeat(parameters);
    let one = match random.below(4) {
        0 => format!("(loop (param {types}) (result {types}))"),
        1 => format!("(block (param {types}) (result {types}) (br_if 0 (i32.const 0)))"),
        2 => format!("(if (param {types}) (result {types}) (i32.const 0) (then) (else))"),
        _ => format!(
            "(block (param {types}) (result {types}) (br_table {} (i32.const 0)))",
            "0 ".repeat(targets)
        ),
    };
    // As much as a file may hold.
    let count = blocks.min((1 << 20) / one.len().max(1)).max(1);
    let locals = "i64 ".repeat(random.of_any_size(40_000));
    let fields = format!("(func (local {locals}) {given} {} {dropped})", one.repeat(count));
    Attack::contribution(Text::fields(&fields).core())
}

/// Code of few instructions that keeps the machine busy for long.
fn slow_code(random: &mut Random) -> Attack {
    let bytes = random.of_any_size(2 << 20).min((32 << 16) - 8192);
    let times = random.of_any_size(1_000_000_000);
    let work = match random.below(5) {
        0 => format!("(memory.fill (i32.const 8192) (i32.const 0) (i32.const {bytes}))"),
        1 => format!("(memory.copy (i32.const 8192) (i32.const 8200) (i32.const {}))", bytes - bytes.min(8)),
        2 => "(drop (memory.grow (i32.const 0)))".to_owned(),
        3 => "(drop (f64.sqrt (f64.div (f64.const 1) (f64.const 3))))".to_owned(),
        _ => "(drop (i64.rem_u (i64.const -1) (i64.const 3)))".to_owned(),
    };
    let unrolled = work.repeat(random.of_any_size(100));
    let code = format!(
        "(global.set $left (i32.const {times}))\
         (loop $again {unrolled} (global.set $left (i32.sub (global.get $left) (i32.const 1)))\
         (br_if $again (global.get $left)))"
    );
    let fields = "(global $left (mut i32) (i32.const 0))".to_owned();
    let mut text = if random.below(2) == 0 { Text::about(&code) } else { Text::define(&code) };
    text.fields = fields;
    Attack::contribution(text.core())
}

/// A built-in contribution with bytes changed.
fn spoilt_files(random: &mut Random) -> Attack {
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../plugins/built");
    let file = random.one_of(&["torchon", "rose", "spider", "flower"]);
    let mut bytes = std::fs::read(house.join(file).with_extension("wasm")).unwrap();
    for _ in 0..random.of_any_size(64) {
        let at = random.below(bytes.len());
        bytes[at] = random.next() as u8;
    }
    Attack::contribution(bytes)
}
