//! Every option of every command, given what it cannot take: refused with status 2,
//! the option named, something to do, and nothing written. The list comes from the
//! program's own definition, so that an option without a row fails.

use std::collections::{BTreeMap, BTreeSet};

use clap::{ArgAction, Command, CommandFactory};

use crate::cli::Cli;
use crate::support::{assert_refused, pairwise, text};

/// Options that need nothing else, with values that are refused and what is said.
/// `-` stands for an option that takes no value.
const ROWS: &[(&str, &[(&str, &str)])] = &[
    ("--plugins", &[("no-such-folder", "no-such-folder")]),
    ("--no-cache", &[("-", "")]),
    ("--search", &[(" - ", "no letter or digit"), ("xyzzy", "is not known")]),
    ("--family", &[("rosee", "did you mean")]),
    ("--kind", &[("edge", "possible values: ground, filling")]),
    ("--lace", &[("Torchn", "did you mean")]),
    ("--pins", &[("6-3", "write 3-6"), ("nan", "for example 3-6"), ("-1", "0-")]),
    ("--pairs-across", &[("x", "for example 3-6"), ("1e99-2", "3-6")]),
    ("--colours-go", &[("up", "possible values")]),
    ("--group", &[("size", "")]),
    ("--sort", &[("size", "possible values")]),
    ("--json", &[("-", "")]),
    (
        "--pin-spacing",
        &[("0", "0.5 to 100 mm"), ("inf", "0.5 to 100 mm"), ("-4", "mm"), ("wide", "give a number")],
    ),
    ("--angle", &[("90", "20 to 75"), ("nan", "20 to 75"), ("flat", "give a number")]),
    ("--thread", &[("rope", "wraps/cm"), ("0 tex", "0.02 to 10 mm")]),
    ("--only", &[("roze", "did you mean"), ("rose/plian", "did you mean")]),
    ("--except", &[("roze", "did you mean")]),
    (
        "--window",
        &[
            ("0", "1 to 200 mm"),
            ("201", "1 to 200 mm"),
            ("nan", "1 to 200 mm"),
            ("-3", "1 to 200 mm"),
            ("wide", "give a number"),
        ],
    ),
    ("--pattern", &[("stripes", "columns"), ("", "columns")]),
    ("--clear", &[("sixty", "hyphen"), ("90-60", "60-90"), ("inf", "hyphen"), ("101-", "0 to 100")]),
    ("--moves", &[("1e3-", "hyphen"), ("-10", "hyphen"), ("9-3", "3-9")]),
    ("--varieties", &[("-", "")]),
    ("--like", &[("rose", "GROUND,ARRANGEMENT"), ("rose,A C", "letter C"), ("roze,A", "did you mean")]),
    ("--size", &[("47", "from 48 to 1024"), ("1025", "from 48 to 1024"), ("big", "whole number")]),
    ("--page", &[("10", "600"), ("20001", "20000"), ("1.5", "whole number")]),
    ("--reduce", &[("15", "from 16 to 256"), ("257", "from 16 to 256")]),
    ("--index", &[("no/such/folder/list.json", "no/such/folder/list.json")]),
    (
        "--with",
        &[("crossing", "CHOICE=VALUE"), ("crossing=maybe", "it can be"), ("crosing=cloth", "did you mean")],
    ),
    ("--colours", &[("navi", "CSS colour"), ("", "CSS colour"), ("none.toml", "no such file")]),
    ("--seen-by", &[("cat", "possible values")]),
    ("--arrangement-length", &[("0", "from 1 to 24"), ("25", "from 1 to 24"), ("four", "whole number")]),
    (
        "--arrangement",
        &[
            ("A ?", "character 3"),
            ("A C", "letter C"),
            ("", "at least one pair"),
            ("graded", "graded cannot be hung"),
        ],
    ),
    ("--max", &[("0", "from 1 to"), ("100001", "100000"), ("many", "whole number")]),
    ("--named", &[("two by two", "2-and-2"), ("one-in-0", "2-and-2")]),
    ("--exchange", &[("-", "")]),
    ("--single-threads", &[("-", "")]),
    ("--recipe", &[("none.toml", "no such file"), (".", "a folder, not a recipe")]),
    ("--show", &[("lace", "possible values")]),
    ("--area", &[("40", "120x80"), ("0x5", "mm"), ("infxinf", "")]),
    ("--paper", &[("a44", ""), ("", "")]),
    ("--sideways", &[("-", "")]),
    ("--px", &[("47", "from 48 to 12000"), ("12001", "from 48 to 12000"), ("wide", "whole number")]),
    ("--plain", &[("-", "")]),
    ("--background", &[("greyish", "CSS colour")]),
    ("--balanced", &[("-", "")]),
    ("--pairs-hung", &[("0", "from 1 to 120"), ("121", "from 1 to 120"), ("all", "whole number")]),
    ("--rows", &[("0", "from 1 to 200"), ("201", "from 1 to 200")]),
    ("--pair", &[("0", "from 1 to"), ("999", "pairs are counted from 1"), ("first", "whole number")]),
    ("--colour", &[("C", "--colour B"), ("AB", "one letter"), ("7", "one letter")]),
    ("--footsides", &[("-", "")]),
    ("--edge", &[("loop", "CTCT pin CTCT")]),
    (
        "--edge-change",
        &[
            ("left=CT", "SIDE:NUMBER=STITCH"),
            ("left:0=CT", "left:2"),
            ("left:99=CT", "no edge stitch 99"),
            ("left:1=CX", "CTCT pin CTCT"),
        ],
    ),
    ("--why", &[("up", "possible values")]),
    ("--longest", &[("0", "from 1 to 10"), ("11", "from 1 to 10")]),
    ("--out", &[("no/such/folder/file.png", "no/such/folder")]),
    ("--picture", &[("drawn.jpg", ".png")]),
    ("--watch", &[("-", "one chart")]),
    ("--chart", &[("-", "")]),
    ("--piece", &[("-", "")]),
    (
        "--trace",
        &[("left", "\"left 3\""), ("", "colour navy"), ("left 0", "start right"), ("colour", "is no pair")],
    ),
    ("--id", &[("Not a word", "plain word"), ("con", "device")]),
];

/// What a command needs so that only the option tested can be wrong. The files named
/// are not there.
const NEEDED: &[(&str, &[&str])] = &[
    ("grid", &["rose"]),
    ("sheet", &["rose"]),
    ("facts", &["rose"]),
    ("trace", &["rose"]),
    ("handout", &["recipe.toml"]),
    ("piece", &["piece.toml"]),
    ("unpack", &["rose"]),
    ("pack", &["no-chart.toml"]),
    ("build", &["no-crate"]),
];

/// Options that are refused without others.
const WITH: &[(&str, &[&str])] = &[
    ("--area", &["--show", "threads"]),
    ("--sideways", &["--show", "pricking"]),
    ("--edge", &["--footsides"]),
    ("--edge-change", &["--footsides", "--rows", "4"]),
    ("--why", &["--pair", "1"]),
    ("--longest", &["--why", "stays", "--pair", "1"]),
];

/// Values that are refused, each with what the message must say.
type Refused = &'static [(&'static str, &'static str)];

/// Options of a command that mean something else there, with what is refused.
const OF_ONE: &[(&str, &str, Refused)] = &[
    ("grounds", "--group", &[("size", "possible values")]),
    ("grounds", "--sort", &[("size", "possible values")]),
    // Without --show it means nothing.
    ("sheet", "--window", &[("32", "--show"), ("wide", "give a number")]),
    ("sheet", "--pins", &[("-", "")]),
    ("explain", "--page", &[("faults.pdf", ".html"), ("no/such/folder/faults.html", "no/such/folder")]),
    ("gallery", "--out", &[("/dev/null", "/dev/null")]),
    // They use no contributions, or need a file first.
    ("explain", "--plugins", &[]),
    ("new", "--plugins", &[]),
    ("pack", "--plugins", &[]),
    // The file comes first.
    ("piece", "--plugins", &[]),
    ("piece", "--out", &[("piece.jpg", ".pdf"), ("piece", ".svg")]),
    ("piece", "--pins", &[("-", "")]),
    ("piece", "--wish", &[("up", "is no wish"), ("left 3 ends at the top", "down the left edge")]),
    ("build", "--plugins", &[]),
    ("completions", "--plugins", &[]),
    ("man", "--plugins", &[]),
    ("gallery", "--max", &[("1000", "--max 256"), ("0", "from 1 to")]),
    ("handout", "--paper", &[("a3", "possible values")]),
    ("handout", "--out", &[("class.png", ".pdf")]),
    (
        "sheet",
        "--out",
        &[("sheet.jpg", ".pdf"), ("sheet", ".svg"), ("no/such/folder/a.pdf", "no/such/folder")],
    ),
    (
        "pack",
        "--out",
        &[("chart.toml", "let it end in .wasm"), ("", "a value is required"), ("x.wasm", "no-chart.toml")],
    ),
    (
        "build",
        "--out",
        &[("crate.rs", "let it end in .wasm"), ("", "a value is required"), ("x.wasm", "no-crate")],
    ),
    ("grid", "--out", &[("grid.svg", ".png"), ("no/such/folder/grid.png", "no/such/folder")]),
    ("trace", "--out", &[("ways.gif", ".png"), ("no/such/folder/ways.png", "no/such/folder")]),
    ("unpack", "--out", &[("no/such/folder/x.toml", "no/such/folder"), ("rose.wasm", "let it end in .toml")]),
    ("man", "--out", &[("/dev/null", "cannot write /dev/null"), ("", "a value is required")]),
];

/// Pairs that contradict each other.
const CONTRADICTIONS: &[&[&str]] = &[
    &["grounds", "rose", "--group", "kind"],
    &["grounds", "--json", "--sort", "pins"],
    &["grid", "--named", "2-and-2", "--arrangement", "A B"],
    &["grid", "--exchange", "--arrangement", "A B"],
    &["grid", "--single-threads", "--arrangement", "A B"],
    &["grid", "torchon", "--index", "grid.png"],
    &["grid", "rose", "--only", "torchon"],
    &["grid", "rose", "--family", "torchon"],
    &["sheet", "rose", "--area", "40x40"],
    &["sheet", "rose", "--sideways"],
    &["sheet", "rose", "--sideways", "--show", "threads"],
    &["sheet", "rose", "--pin-spacing", "0.5"],
    &["sheet", "rose", "--pin-spacing", "0.5", "--show", "pricking"],
    &["trace", "torchon", "--edge", "CT"],
    &["trace", "torchon", "--edge-change", "left:1=CT"],
    &["trace", "torchon", "--why", "stays"],
    &["trace", "torchon", "--why", "stays", "--pair", "1", "--json"],
    &["trace", "torchon", "--why", "stays", "--pair", "1", "--footsides"],
    &["piece", "piece.toml", "--trace", "left 1", "--json"],
    &["new", "roses", "--piece", "--chart"],
    &["check", "--watch", "--json"],
    &["check", "--watch", "rose"],
    &["explain", "lifts-off", "--page", "faults.html"],
    &["man", "grid", "--out", "pages"],
];

/// Every option of the program by its commands.
fn options() -> BTreeMap<String, BTreeSet<String>> {
    let mut program = Cli::command();
    program.build();
    let named = |command: &Command| -> BTreeSet<String> {
        let given = command.get_arguments().filter(|arg| !arg.is_positional());
        let given = given.filter(|arg| {
            !matches!(
                arg.get_action(),
                ArgAction::Help | ArgAction::HelpShort | ArgAction::HelpLong | ArgAction::Version
            )
        });
        given.filter_map(|arg| Some(format!("--{}", arg.get_long()?))).collect()
    };
    let commands = program.get_subcommands().filter(|command| command.get_name() != "help");
    commands.map(|command| (command.get_name().to_owned(), named(command))).collect()
}

fn found<'t, T>(table: &'t [(&str, T)], name: &str) -> Option<&'t T> {
    table.iter().find(|(known, _)| *known == name).map(|(_, row)| row)
}

/// The values that an option of a command refuses.
fn refused_values(command: &str, option: &str) -> Option<&'static [(&'static str, &'static str)]> {
    let own = OF_ONE.iter().find(|(of, name, _)| *of == command && *name == option).map(|(_, _, row)| *row);
    own.or_else(|| found(ROWS, option).copied())
}

#[test]
fn every_option_refuses_what_it_cannot_take() {
    let mut without = Vec::new();
    for (command, options) in options() {
        for option in options {
            let Some(values) = refused_values(&command, &option) else {
                without.push(format!("{command} {option}"));
                continue;
            };
            for (value, words) in values.iter().filter(|(value, _)| *value != "-") {
                let mut args = vec![command.as_str()];
                args.extend(found(NEEDED, &command).copied().unwrap_or_default());
                args.extend(found(WITH, &option).copied().unwrap_or_default());
                let given = format!("{option}={value}");
                args.push(&given);
                assert_refused(&args, &[words]);
            }
        }
    }
    assert!(without.is_empty(), "no row for {}", without.join(", "));
}

/// A flag takes no value, and every option is refused by commands that do not have it.
#[test]
fn unknown_options_and_values_are_refused() {
    for command in options().into_keys() {
        assert_refused(&[&command, "--no-such-option"], &["--no-such-option"]);
        for option in ["--footsides", "--varieties", "--chart", "--balanced"] {
            let given = format!("{option}=yes");
            let folder = tempfile::tempdir().unwrap();
            let out = pairwise(folder.path(), &[&command, &given]);
            assert_eq!(out.status.code(), Some(2), "{command} {given}");
            let said = text(&out.stderr);
            assert!(said.contains(option), "{command} {given}: {said}");
        }
    }
}

#[test]
fn contradictions_are_refused() {
    for args in CONTRADICTIONS {
        assert_refused(args, &[]);
    }
}

/// Rows that no option has any more are taken out.
#[test]
fn every_row_is_an_option() {
    let all: BTreeSet<String> = options().into_values().flatten().collect();
    for (option, row) in ROWS {
        assert!(row.is_empty() || all.contains(*option), "{option}");
    }
    for (command, option, _) in OF_ONE {
        assert!(options()[*command].contains(*option), "{command} {option}");
    }
}
