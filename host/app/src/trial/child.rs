//! The process that tries strangers' contributions.

use std::io::{self, BufRead, Read};
use std::path::Path;

use catalogue::{About, LeftOut};
use lace::{Grid, Ground, Repeat, Thread};
use picture::layout::lay_out;
use sandbox::{Judge, Sandbox, Source};

use super::{Answer, Question};
use crate::failure::Failure;
use crate::output::print;

/// The most crossings of threads that are laid out for one contribution, besides
/// those of its usual variety.
const CROSSINGS: usize = 400;

/// Tries the contributions on standard input until it is closed.
pub fn run(cache: &Path) -> Result<(), Failure> {
    limits::memory();
    let sandbox = Sandbox::new(Some(cache)).map_err(Failure::contribution)?;
    let mut questions = io::stdin().lock();
    loop {
        let mut line = String::new();
        if questions.read_line(&mut line).is_ok_and(|read| read == 0) {
            return Ok(());
        }
        let question: Question = serde_json::from_str(&line)?;
        let mut bytes = vec![0; question.bytes];
        questions.read_exact(&mut bytes).map_err(Failure::read(Path::new("standard input")))?;
        let answer = try_out(&sandbox, question.name, bytes);
        print(&format!("{}\n", serde_json::to_string(&answer)?))?;
    }
}

fn try_out(sandbox: &Sandbox, name: String, bytes: Vec<u8>) -> Answer {
    let source = Source::Bytes { name, bytes: bytes.into() };
    let tried = sandbox.try_out(&source, &mut LaidOut::default());
    Answer { why: tried.err().map(|why| LeftOut::from(&why).why) }
}

/// Works out and lays out the repeats of a contribution, as the commands do. What
/// comes out is of no interest: only that it does no harm.
#[derive(Default)]
struct LaidOut {
    crossings: usize,
}

impl Judge for LaidOut {
    fn begin(&mut self) {
        limits::time();
    }

    fn repeat(&mut self, about: &About, repeat: Repeat) {
        let Ok(ground) = Ground::new(repeat) else { return };
        let first = self.crossings == 0;
        self.crossings += ground.braid().nodes.len();
        if !first && self.crossings > CROSSINGS {
            return;
        }
        const PIN_SPACING_MM: f64 = 4.0;
        if let Ok(grid) = Grid::new(PIN_SPACING_MM, about.angle) {
            lay_out(&ground, &grid, Thread::suiting(PIN_SPACING_MM).diameter_mm());
        }
    }
}

/// Limits of this process, which the system enforces.
#[cfg(unix)]
mod limits {
    use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
    use rustix::time::{ClockId, clock_gettime};
    use sandbox::limits::{TRIAL_BYTES, TRIAL_SECONDS};

    /// Limits its memory. A process that dies leaves no image of it behind.
    pub fn memory() {
        limit(Resource::As, TRIAL_BYTES);
        limit(Resource::Core, 0);
    }

    /// Limits the time that the processor may work from now on.
    pub fn time() {
        let worked = clock_gettime(ClockId::ProcessCPUTime).tv_sec.unsigned_abs();
        limit(Resource::Cpu, worked + 1 + TRIAL_SECONDS);
    }

    /// Sets a limit, or leaves a tighter one that was set from outside.
    fn limit(of: Resource, to: u64) {
        let Rlimit { maximum, .. } = getrlimit(of);
        let current = Some(maximum.map_or(to, |most| most.min(to)));
        // A system that refuses leaves the limits that are counted.
        let _ = setrlimit(of, Rlimit { current, maximum });
    }
}

/// Without such limits, those that are counted remain.
#[cfg(not(unix))]
mod limits {
    pub fn memory() {}

    pub fn time() {}
}
