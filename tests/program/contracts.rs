//! What other programs rely on: the JSON formats, completions and manual pages.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::machine::has;
use crate::schema;
use crate::support::{assert_refused, pairwise, text};

/// Runs a command that prints JSON, with any exit status.
fn json(args: &[&str]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let out = pairwise(folder.path(), args);
    assert!(matches!(out.status.code(), Some(0 | 1)), "{args:?}: {}", text(&out.stderr));
    schema::read(&out.stdout)
}

#[test]
fn facts_match_their_schema() {
    for args in [
        &["facts", "torchon", "--json"][..],
        &["facts", "spider", "--with", "legs=4", "--json"],
        &["facts", "flower", "--pin-spacing", "3.5", "--angle", "60", "--json"],
        &["facts", "point", "--thread", "20 tex", "--json"],
    ] {
        json(args);
    }
}

#[test]
fn traces_match_their_schema() {
    for args in [
        &["trace", "torchon", "--json"][..],
        &["trace", "rose", "--footsides", "--rows", "5", "--json"],
        &["trace", "honeycomb", "--arrangement", "A B C", "--colours", "navy,gold,white", "--json"],
    ] {
        json(args);
    }
}

#[test]
fn the_catalogue_matches_its_schema() {
    let all = json(&["grounds", "--json"]);
    assert!(all["grounds"].as_array().unwrap().len() > 10);
    json(&["grounds", "--search", "tull", "--pin-spacing", "2", "--json"]);
}

#[test]
fn check_results_match_their_schema() {
    let good = json(&["check", "rose", "torchon/double", "--json"]);
    assert_eq!(good["settings"].as_array().unwrap().len(), 1);
}

/// So do the findings on a chart, with the texts that `explain` prints for them.
#[test]
fn findings_on_a_chart_match_their_schema() {
    let folder = tempfile::tempdir().unwrap();
    let chart = "format = \"pairwise-chart/1\"\n[about]\nid = \"odd\"\ntitle = \"Odd\"\nsource = \"made up\"\n\
                 [repeat]\nacross = [1, 1]\ndown = [-1, 1]\n\
                 [[stitch]]\nid = \"only\"\nat = [0, 0]\nwork = \"cross the left pair over the right\"\n";
    std::fs::write(folder.path().join("odd.toml"), chart).unwrap();
    let out = pairwise(folder.path(), &["check", "odd.toml", "--json"]);
    assert_eq!(out.status.code(), Some(1), "{}", text(&out.stderr));
    let report = schema::read(&out.stdout);
    let findings = report["grounds"][0]["findings"].as_array().unwrap();
    let codes: Vec<&str> = findings.iter().map(|f| f["code"].as_str().unwrap()).collect();
    assert_eq!(codes, ["lifts-off", "no-pin"]);
    for finding in findings {
        let code = finding["code"].as_str().unwrap();
        let long = text(&pairwise(folder.path(), &["explain", code]).stdout);
        // Long texts are broken into lines, also at hyphens.
        let flat = |text: &str| text.split_whitespace().collect::<String>();
        for key in ["why", "remedy"] {
            let words = flat(finding[key].as_str().unwrap());
            assert!(flat(&long).contains(&words), "{code}: {words}");
        }
        assert!(
            long.starts_with(&format!("{code}, ")) && long.contains(finding["severity"].as_str().unwrap())
        );
    }
}

#[test]
fn the_index_of_a_grid_matches_its_schema() {
    let folder = tempfile::tempdir().unwrap();
    for more in [
        &[][..],
        &["--like", "torchon/plain,A A B B"],
        &["--seen-by", "protan", "--arrangement-length", "12"],
    ] {
        let args = [&["grid", "torchon", "rose", "--max", "5", "--size", "48", "--index", "list.json"], more];
        let out = pairwise(folder.path(), &args.concat());
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        let list = schema::read(&std::fs::read(folder.path().join("list.json")).unwrap());
        assert!(!list["cells"].as_array().unwrap().is_empty());
    }
}

/// The order of working can be followed on a pillow: every stitch of the repeat comes,
/// and each takes the pairs that earlier ones left, or that hang.
#[test]
fn facts_give_the_order_of_working() {
    for name in ["torchon", "rose", "rose-rows", "point", "spider", "flower", "trail"] {
        let facts = json(&["facts", name, "--json"]);
        let repeat = &facts["repeat"];
        let legs = repeat["legs"].as_array().unwrap();
        let order = &facts["order"];
        let number = |value: &Value| value.as_u64().unwrap();
        let width = number(&order["pairs"]);
        assert!(width <= number(&order["repeats"]) * number(&facts["pairs_across"]), "{name}");
        // The exit by which the pair in each place left its last stitch.
        let mut last: Vec<Option<Value>> = vec![None; width as usize];
        let (mut seen, mut times) = (BTreeSet::new(), BTreeMap::<&str, u64>::new());
        for step in order["steps"].as_array().unwrap() {
            let id = step["stitch"].as_str().unwrap();
            let [left, right] = [0, 1].map(|k| number(&step["pairs"][k]));
            assert!(left >= 1 && right == left + 1 && right <= width, "{name}: {step}");
            assert!(seen.insert((id, step["cell"].to_string())), "{name}: {step} comes twice");
            *times.entry(id).or_default() += 1;
            for (k, (place, side)) in [(left, "left"), (right, "right")].into_iter().enumerate() {
                let leg = legs.iter().find(|leg| leg["to"] == serde_json::json!([id, side])).unwrap();
                assert_eq!(leg["twists"], step["twists"][k], "{name}: {step}");
                let from = last[place as usize - 1].replace(serde_json::json!([id, side]));
                assert!(from.is_none_or(|from| from == leg["from"]), "{name}: {step}");
            }
        }
        for stitch in repeat["stitches"].as_array().unwrap() {
            let worked = times.get(stitch["id"].as_str().unwrap()).copied().unwrap_or(0);
            assert!(worked >= number(&order["rows"]).pow(2), "{name}: {stitch}");
        }
    }
}

#[test]
fn completions_are_scripts_that_shells_can_read() {
    let folder = tempfile::tempdir().unwrap();
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let out = pairwise(folder.path(), &["completions", shell]);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        let script = text(&out.stdout);
        assert!(script.contains("pairwise") && script.contains("handout"), "{shell}");
        // Those that can check a script without running it; bash everybody has.
        let there = Command::new(shell).arg("--version").output().is_ok();
        let checks = match shell {
            "bash" => has(shell, there),
            "fish" | "zsh" => there,
            _ => false,
        };
        if checks {
            let mut check = Command::new(shell);
            let mut check = check.arg("-n").stdin(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
            check.stdin.take().unwrap().write_all(script.as_bytes()).unwrap();
            let checked = check.wait_with_output().unwrap();
            assert!(
                checked.status.success() && checked.stderr.is_empty(),
                "{shell}: {}",
                text(&checked.stderr)
            );
        }
    }
    assert_refused(&["completions", "cobol"], &["invalid value 'cobol'"]);
}

#[test]
fn bash_completes_commands_options_and_values() {
    if !has("bash", Command::new("bash").arg("--version").output().is_ok()) {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let script = text(&pairwise(folder.path(), &["completions", "bash"]).stdout);
    let complete = |words: &[&str]| -> Vec<String> {
        let line = words.join(" ");
        let ask = format!(
            "{script}\nCOMP_WORDS=({line})\n[ -z '{0}' ] && COMP_WORDS+=('')\nCOMP_CWORD={1}\n_pairwise pairwise '{0}' '{2}'\nprintf '%s\\n' \"${{COMPREPLY[@]}}\"",
            words[words.len() - 1],
            words.len() - 1,
            words[words.len() - 2],
        );
        let out = Command::new("bash").args(["--norc", "-c", &ask]).output().unwrap();
        assert!(out.status.success(), "{}", text(&out.stderr));
        text(&out.stdout).lines().map(str::to_owned).collect()
    };
    assert_eq!(complete(&["pairwise", "hand"]), ["handout"]);
    assert_eq!(complete(&["pairwise", "trace", "--foot"]), ["--footsides"]);
    assert_eq!(complete(&["pairwise", "grid", "--seen-by", "pro"]), ["protan"]);
    assert_eq!(complete(&["pairwise", "completions", "z"]), ["zsh"]);
}

#[test]
fn manual_pages_are_printed_and_installed() {
    let folder = tempfile::tempdir().unwrap();
    let print = |args: &[&str]| {
        let out = pairwise(folder.path(), args);
        assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
        text(&out.stdout)
    };
    let line = print(&["man", "--out", "share/man/man1"]);
    let pages = crate::support::files_in(&folder.path().join("share/man/man1"));
    assert_eq!(line, format!("share/man/man1: {} manual pages\n", pages.len()));
    for page in &pages {
        let installed = std::fs::read_to_string(folder.path().join("share/man/man1").join(page)).unwrap();
        let name = page.to_str().unwrap().strip_suffix(".1").unwrap();
        let printed = match name.strip_prefix("pairwise-") {
            Some(command) => print(&["man", command]),
            None => print(&["man"]),
        };
        assert_eq!(printed, installed, "{name}");
    }
    assert_refused(&["man", "gird"], &["the command `gird` is not known", "did you mean `grid`"]);
    assert_refused(&["man", "grid", "--out", "x"], &["cannot be used with"]);
}

/// Pages display correctly: `man` reports no fault, and no line is wider than the
/// terminal.
#[test]
fn manual_pages_can_be_read() {
    let there = |program: &str| Command::new(program).arg("--version").output().is_ok();
    if !has("man", there("man") && there("groff")) {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    pairwise(folder.path(), &["man", "--out", "."]);
    let pages = crate::support::files_in(folder.path());
    assert!(pages.len() > 10);
    for page in pages {
        let path = folder.path().join(&page);
        let read = Command::new("man")
            .args(["--warnings", "--encoding=UTF-8", "--locale=C", "--local-file"])
            .arg(&path)
            .envs([("MANWIDTH", "80"), ("MANPAGER", "cat")])
            .env_remove("MAN_KEEP_FORMATTING")
            .output()
            .unwrap();
        assert!(read.status.success() && read.stderr.is_empty(), "{page:?}: {}", text(&read.stderr));
        let read = text(&read.stdout);
        for line in read.lines() {
            assert!(line.chars().count() <= 80, "{page:?}: {line}");
        }
        let source = std::fs::read_to_string(path).unwrap();
        for option in source.lines().filter_map(|line| line.split("\\fB\\-\\-").nth(1)) {
            let name = option.split("\\fR").next().unwrap().replace("\\-", "-");
            assert!(read.contains(&format!("--{name}")), "{page:?}: --{name}");
        }
    }
}
