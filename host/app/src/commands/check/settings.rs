//! Trying the choices of a contribution: does every set give a ground, and the
//! same ground twice?

use catalogue::{Change, Range};
use indexmap::IndexMap;
use lace::Ground;
use report::check::{Refused, Settings};
use sandbox::{Plugin, SandboxError, Used, limits};

/// Up to this many sets of choices, each set is tried. If there are more, only
/// every pair of values is tried.
const ALL: usize = 256;
/// Most sets that are tried.
const MOST: usize = 1024;

/// The results of asking a contribution for many sets of choices, each twice.
pub struct SettingsTried {
    ground: String,
    /// Number of sets of choices tried, each twice.
    sets: usize,
    /// Whether these are all possible sets.
    all: bool,
    /// Number of pairs of values left out because there are too many.
    left_out: usize,
    /// Whether every repeat returned is a ground.
    grounds: bool,
    /// Sets that give no ground, with the reason. That is allowed for a set that
    /// no variety names.
    refused: Vec<Refused>,
    /// Sets that failed, or gave a different answer the second time.
    failed: Vec<Refused>,
    most_instructions: u64,
    most_memory_bytes: usize,
    /// Instructions of all calls together.
    instructions: u64,
    /// Whether these were too many to try all sets.
    stopped: bool,
}

impl SettingsTried {
    /// Tries every variety and the values of all choices.
    pub fn of(plugin: &Plugin) -> SettingsTried {
        let (mut sets, all) = sets(plugin);
        let left_out = sets.len().saturating_sub(MOST);
        sets.truncate(MOST);
        let mut tried = SettingsTried {
            ground: plugin.about.id.clone(),
            sets: sets.len(),
            all,
            left_out,
            grounds: true,
            refused: Vec::new(),
            failed: Vec::new(),
            most_instructions: 0,
            most_memory_bytes: 0,
            instructions: 0,
            stopped: false,
        };
        for (done, changes) in sets.iter().enumerate() {
            if tried.instructions > limits::CHECK_INSTRUCTIONS {
                tried.stop_after(done);
                break;
            }
            tried.ask(plugin, changes);
        }
        tried
    }

    /// Asks for one set of choices, twice.
    fn ask(&mut self, plugin: &Plugin, changes: &[Change]) {
        let named: Vec<String> = changes.iter().map(ToString::to_string).collect();
        let named = if named.is_empty() { "nothing chosen".to_owned() } else { named.join(" ") };
        let repeat = match self.define(plugin, changes) {
            Ok(repeat) => repeat,
            Err(SandboxError::Problem { sentence, .. }) => {
                return self.refused.push(Refused(named, sentence));
            }
            Err(why) => return self.failed.push(Refused(named, why.to_string())),
        };
        if !self.define(plugin, changes).is_ok_and(|again| again == repeat) {
            self.failed.push(Refused(named.clone(), "the second answer is different".to_owned()));
        }
        let Err(findings) = Ground::new(repeat) else { return };
        self.grounds = false;
        // The usual settings have been checked as a variety.
        if !changes.is_empty() {
            let why = findings.iter().find(|f| f.is_error());
            self.refused.push(Refused(named, why.map_or_else(String::new, |f| f.sentence.clone())));
        }
    }

    /// Asks once, and counts what the call used, even if it fails.
    fn define(&mut self, plugin: &Plugin, changes: &[Change]) -> Result<lace::Repeat, SandboxError> {
        let mut used = Used::default();
        let repeat = plugin.define_counting(&plugin.about.resolve(None, changes)?, &mut used);
        self.instructions += used.instructions;
        self.most_instructions = self.most_instructions.max(used.instructions);
        self.most_memory_bytes = self.most_memory_bytes.max(used.memory_bytes);
        repeat
    }

    /// Leaves out all sets but the first, which took as many instructions as
    /// trying sets may take.
    fn stop_after(&mut self, sets: usize) {
        self.left_out += self.sets - sets;
        self.sets = sets;
        self.all = false;
        self.stopped = true;
    }

    /// Whether anything is wrong.
    pub fn failed(&self) -> bool {
        !self.failed.is_empty()
    }

    /// For the terminal.
    pub fn in_words(&self) -> String {
        let sets = if self.sets == 1 { "1 set".to_owned() } else { format!("{} sets", self.sets) };
        let which = match (self.all, self.left_out) {
            (true, _) => "all there are".to_owned(),
            (false, more) if self.stopped => {
                format!("{more} more would take too long")
            }
            (false, 0) => "every two values together".to_owned(),
            (false, more) => format!("every two values together, except {more} such sets"),
        };
        let mut text = format!("{}: {sets} of choices tried twice ({which})", self.ground);
        if self.grounds && self.refused.is_empty() && self.failed.is_empty() {
            text.push_str(", every one gives a ground, the same both times");
        }
        text.push_str(&format!(
            "; at most {:.2} % of the instructions and {:.1} of {} MiB of memory that a call may use\n",
            100.0 * self.most_instructions as f64 / limits::INSTRUCTIONS as f64,
            self.most_memory_bytes as f64 / f64::from(1 << 20),
            limits::MEMORY_BYTES >> 20,
        ));
        const SHOWN: usize = 5;
        for (what, list) in [("error", &self.failed), ("note", &self.refused)] {
            for Refused(set, why) in list.iter().take(SHOWN) {
                text.push_str(&format!("  {what} with {set}: {why}\n"));
            }
            if list.len() > SHOWN {
                text.push_str(&format!("  {what}: {} more like these\n", list.len() - SHOWN));
            }
        }
        text
    }
}

impl From<SettingsTried> for Settings {
    fn from(tried: SettingsTried) -> Settings {
        Settings {
            ground: tried.ground,
            sets: tried.sets,
            all: tried.all,
            left_out: tried.left_out,
            grounds: tried.grounds,
            refused: tried.refused,
            failed: tried.failed,
            most_instructions: tried.most_instructions,
            most_memory_bytes: tried.most_memory_bytes,
        }
    }
}

/// The sets of choices to try, and whether these are all possible sets.
fn sets(plugin: &Plugin) -> (Vec<Vec<Change>>, bool) {
    let choices: IndexMap<&str, Vec<String>> =
        plugin.about.choices.iter().map(|(id, choice)| (id.as_str(), values(&choice.range))).collect();
    let many = choices.values().try_fold(1_usize, |many, values| many.checked_mul(values.len()));
    if many.is_some_and(|many| many <= ALL) {
        let mut sets: Vec<Vec<Change>> = vec![Vec::new()];
        for (choice, values) in &choices {
            let more = sets.iter().flat_map(|set| {
                values.iter().map(move |value| {
                    let mut set = set.clone();
                    set.push(Change::new(*choice, value));
                    set
                })
            });
            sets = more.collect();
        }
        return (sets, true);
    }
    let mut sets = Vec::new();
    for (k, (one, ones)) in choices.iter().enumerate() {
        for (other, others) in choices.iter().skip(k + 1) {
            for first in ones {
                for second in others {
                    sets.push(vec![Change::new(*one, first), Change::new(*other, second)]);
                }
            }
        }
    }
    (sets, false)
}

/// The values of a choice; for a wide range its ends and some in between.
fn values(range: &Range) -> Vec<String> {
    match range {
        Range::Named(options) => options.keys().cloned().collect(),
        Range::Count { least, most } => {
            const FEW: i64 = 8;
            let (least, most) = (i64::from(*least), i64::from(*most));
            if most - least <= FEW {
                (least..=most).map(|n| n.to_string()).collect()
            } else {
                (0..=FEW).map(|k| (least + (most - least) * k / FEW).to_string()).collect()
            }
        }
    }
}
