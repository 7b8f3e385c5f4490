//! Runs of the program within bounds of memory and processor time, and what came
//! of them.

use std::collections::BTreeMap;
use std::fmt;
use std::path::Path;
use std::process::{Command, Output};

/// Address space, in KiB.
const MEMORY_KIB: u64 = 2 << 20;
/// Processor time, in seconds.
const SECONDS: u64 = 60;

/// A run that has ended.
pub struct Limited {
    command: String,
    out: Output,
    /// Its exit status; -1 if a signal ended it.
    pub status: i32,
    /// Processor time it took, in seconds; 0 where the system does not tell.
    seconds: f64,
}

/// Runs the program in a folder, with bounds where the system has a shell that
/// sets them. Compiled code of strangers has a cache of its own there.
pub fn run(folder: &Path, args: &[&str]) -> Limited {
    let program = env!("CARGO_BIN_EXE_pairwise");
    let mut run = if cfg!(unix) {
        let mut shell = Command::new("sh");
        let bounds = format!("ulimit -v {MEMORY_KIB}; ulimit -t {SECONDS}");
        shell.args(["-c", &format!("{bounds}; \"$0\" \"$@\"; status=$?; times >&2; exit $status"), program]);
        shell
    } else {
        Command::new(program)
    };
    let cache = Path::new(env!("CARGO_TARGET_TMPDIR")).join("attackers");
    let mut out = run.args(args).env("XDG_CACHE_HOME", cache).current_dir(folder).output().unwrap();
    let seconds = if cfg!(unix) { take_times(&mut out) } else { 0.0 };
    Limited { command: args.join(" "), status: out.status.code().unwrap_or(-1), out, seconds }
}

/// Takes the two lines of `times` (POSIX) off the end of standard error: user and
/// system time of the shell, then of what it ran.
fn take_times(out: &mut Output) -> f64 {
    let text = String::from_utf8_lossy(&out.stderr).into_owned();
    let mut lines: Vec<&str> = text.lines().collect();
    let children = lines.pop().unwrap_or_default();
    lines.pop();
    let seconds = children.split_whitespace().filter_map(|time| {
        let (minutes, seconds) = time.strip_suffix('s')?.split_once('m')?;
        Some(60.0 * minutes.parse::<f64>().ok()? + seconds.replace(',', ".").parse::<f64>().ok()?)
    });
    let seconds = seconds.sum();
    out.stderr = lines.join("\n").into_bytes();
    seconds
}

impl Limited {
    /// What it printed to standard error.
    pub fn error(&self) -> String {
        String::from_utf8_lossy(&self.out.stderr).into_owned()
    }

    /// All that it printed.
    pub fn printed(&self) -> String {
        format!("{}{}", String::from_utf8_lossy(&self.out.stdout), self.error())
    }

    /// The ids of the grounds that `grounds --json` lists and that are not built in.
    pub fn strangers(&self) -> Vec<String> {
        let Ok(list) = serde_json::from_slice::<serde_json::Value>(&self.out.stdout) else {
            return Vec::new();
        };
        let grounds = list["grounds"].as_array().into_iter().flatten();
        let strangers =
            grounds.filter(|ground| ground["from"].as_str().is_some_and(|from| from.contains("mine")));
        strangers.map(|ground| ground["id"].as_str().unwrap().to_owned()).collect()
    }

    /// Checks that it ended as the program says it does: with a status of its own,
    /// and words if that is not 0.
    pub fn check(&self, file: &str) {
        let (command, said) = (&self.command, self.error());
        assert!((0..=2).contains(&self.status), "`{command}` on {file} ended with {}: {said}", self.status);
        assert!(!said.contains("panicked"), "`{command}` on {file}: {said}");
        if self.status != 0 {
            assert!(!self.printed().trim().is_empty(), "`{command}` on {file} says nothing");
        }
        super::terminal::harmless(command, &self.out);
        let most = 64 << 10;
        let printed = self.out.stderr.len();
        assert!(printed < most, "`{command}` on {file} prints {printed} bytes of faults");
    }
}

/// The message of a test that failed.
pub fn message(why: &(dyn std::any::Any + Send)) -> String {
    let text = why.downcast_ref::<String>().cloned();
    text.or_else(|| why.downcast_ref::<&str>().map(|s| (*s).to_owned())).unwrap_or_default()
}

/// What became of many attacks, by their kind.
#[derive(Default)]
pub struct Table(BTreeMap<&'static str, Row>);

#[derive(Default)]
struct Row {
    attacks: usize,
    broke: usize,
    /// Runs by their status.
    runs: [usize; 3],
    seconds: f64,
}

impl Table {
    /// Adds an attack; `runs` is `None` if the program broke.
    pub fn add(&mut self, kind: &'static str, runs: Option<&[Limited]>) {
        let row = self.0.entry(kind).or_default();
        row.attacks += 1;
        row.broke += usize::from(runs.is_none());
        for run in runs.into_iter().flatten() {
            row.runs[run.status as usize] += 1;
            row.seconds = row.seconds.max(run.seconds);
        }
    }

    /// How many attacks broke the program.
    pub fn broke(&self) -> usize {
        self.0.values().map(|row| row.broke).sum()
    }
}

impl fmt::Display for Table {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "{:<16}{:>8}{:>7}{:>8}{:>8}{:>8}{:>10}",
            "kind", "attacks", "broke", "done", "found", "refused", "most s"
        )?;
        for (kind, row) in &self.0 {
            let [done, found, refused] = row.runs;
            writeln!(
                f,
                "{kind:<16}{:>8}{:>7}{done:>8}{found:>8}{refused:>8}{:>10.1}",
                row.attacks, row.broke, row.seconds
            )?;
        }
        Ok(())
    }
}
