//! Trying strangers' contributions in processes of their own.
//!
//! Each is this program, started again with [`ASKED`] and limits on its memory
//! and time. It reads contributions from its standard input, one after the other,
//! and answers each with a line; when its input is closed, as when the program
//! that started it has ended, so does it. If one dies over a contribution, only
//! that contribution is left out.

pub mod child;
mod death;

use std::ffi::OsString;
use std::io::{self, BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::{Mutex, PoisonError};

use catalogue::trouble::in_words;
use sandbox::{SandboxError, Trial};
use serde::{Deserialize, Serialize};

/// The hidden command that a process is started with.
pub const ASKED: &str = "try-contributions";

/// What a process is asked: this line, then the contribution's bytes.
#[derive(Serialize, Deserialize)]
struct Question {
    /// The name in messages.
    name: String,
    /// The number of bytes that follow.
    bytes: usize,
}

/// What it answers.
#[derive(Serialize, Deserialize)]
struct Answer {
    /// What is wrong with the contribution, if anything.
    why: Option<String>,
}

/// Processes that try contributions, as many as are asked of them at once.
#[derive(Default)]
pub struct Processes {
    idle: Mutex<Vec<Process>>,
}

impl Trial for Processes {
    fn try_out(&self, name: &str, bytes: &[u8], cache: &Path) -> Result<(), SandboxError> {
        let failed = |why| SandboxError::Tried { file: name.to_owned(), why };
        let used = self.idle.lock().unwrap_or_else(PoisonError::into_inner).pop();
        // One that has tried others may die of what these left behind. Only what
        // kills a new one is to blame for it.
        let answered = used.and_then(|mut process| Some((process.ask(name, bytes).ok()?, process)));
        let (answer, process) = match answered {
            Some(answered) => answered,
            None => {
                let mut process = Process::start(cache).map_err(|why| failed(not_started(&why)))?;
                match process.ask(name, bytes) {
                    Ok(answer) => (answer, process),
                    Err(why) => return Err(failed(process.death(&why))),
                }
            }
        };
        self.idle.lock().unwrap_or_else(PoisonError::into_inner).push(process);
        answer.why.map_or(Ok(()), |why| Err(failed(why)))
    }
}

fn not_started(why: &io::Error) -> String {
    format!(
        "could not be tried, because the program cannot start itself again ({}): allow it another process",
        in_words(why)
    )
}

/// One of them.
struct Process {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
}

impl Process {
    fn start(cache: &Path) -> io::Result<Process> {
        let mut command = Command::new(this_program()?);
        // One thread: there is a process for every core already.
        command.arg(ASKED).arg(cache).env("RAYON_NUM_THREADS", "1");
        // What it says when it dies is said better here.
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn()?;
        match (child.stdin.take(), child.stdout.take()) {
            (Some(to), Some(from)) => Ok(Process { child, to, from: BufReader::new(from) }),
            _ => Err(io::Error::other("it has no input or output")),
        }
    }

    fn ask(&mut self, name: &str, bytes: &[u8]) -> io::Result<Answer> {
        let mut question = serde_json::to_vec(&Question { name: name.to_owned(), bytes: bytes.len() })?;
        question.push(b'\n');
        self.to.write_all(&question)?;
        self.to.write_all(bytes)?;
        self.to.flush()?;
        let mut answer = String::new();
        self.from.read_line(&mut answer)?;
        Ok(serde_json::from_str(&answer)?)
    }

    /// What it died of, in a sentence.
    fn death(mut self, why: &io::Error) -> String {
        // It may also live, and have answered nonsense.
        let _ = self.child.kill();
        match self.child.wait() {
            Ok(status) => death::in_words(status),
            Err(_) => death::unknown(&in_words(why)),
        }
    }
}

impl Drop for Process {
    /// Ends it at once: whatever it may still be doing is of no use to anybody.
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// This program, even if its file has been replaced meanwhile.
fn this_program() -> io::Result<PathBuf> {
    let running = Path::new("/proc/self/exe");
    if cfg!(target_os = "linux") && running.exists() {
        Ok(running.to_owned())
    } else {
        std::env::current_exe()
    }
}

/// The folder of the cache if this process was started to try contributions.
pub fn asked(mut arguments: impl Iterator<Item = OsString>) -> Option<PathBuf> {
    arguments.next()?;
    (arguments.next()? == ASKED).then(|| arguments.next().map(PathBuf::from))?
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Here the program that is started again is the one with these tests, which
    /// runs none and answers nonsense.
    #[test]
    fn a_process_that_does_not_answer_leaves_out_only_what_it_was_asked() {
        let processes = Processes::default();
        let folder = tempfile::tempdir().unwrap();
        for name in ["one.wasm", "two.wasm"] {
            let why = processes.try_out(name, b"bytes", folder.path()).unwrap_err();
            let said = why.to_string();
            assert!(said.starts_with(&format!("{name}: brought down the process that tried it (")), "{said}");
        }
        assert!(processes.idle.lock().unwrap().is_empty());
    }

    #[test]
    fn only_its_own_command_is_its_own() {
        let asked = |words: &[&str]| asked(words.iter().map(OsString::from));
        assert_eq!(asked(&["pairwise", ASKED, "cache"]), Some(PathBuf::from("cache")));
        assert_eq!(asked(&["pairwise", "grounds", ASKED]), None);
        assert_eq!(asked(&["pairwise"]), None);
    }
}
