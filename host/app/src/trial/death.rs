//! What a process died of that tried a contribution, in a sentence that says what
//! to do.

use std::fmt::Display;
use std::process::ExitStatus;

use sandbox::limits;

/// What it died of.
pub fn in_words(status: ExitStatus) -> String {
    match signal(status) {
        Some(Signal::Time) => format!(
            "takes more than {} seconds of the processor to be tried: make its repeat or its code smaller",
            limits::TRIAL_SECONDS
        ),
        Some(Signal::Memory) => format!(
            "takes more than {} MiB of memory to be tried: make its repeat or its code smaller",
            limits::TRIAL_BYTES >> 20
        ),
        None => unknown(&number(status)),
    }
}

/// The sentence for a death that no limit explains.
pub fn unknown(why: &dyn Display) -> String {
    format!("brought down the process that tried it ({why}): build it again with `pairwise build`")
}

/// What the system says of the death: a number, for those who look for the cause.
fn number(status: ExitStatus) -> String {
    #[cfg(unix)]
    if let Some(signal) = std::os::unix::process::ExitStatusExt::signal(&status) {
        return format!("its signal {signal}");
    }
    status.code().map_or_else(|| "no reason is known".to_owned(), |code| format!("its status {code}"))
}

/// Signals that say which limit was passed.
enum Signal {
    Time,
    Memory,
}

#[cfg(unix)]
fn signal(status: ExitStatus) -> Option<Signal> {
    use rustix::process::Signal as System;
    let signal = std::os::unix::process::ExitStatusExt::signal(&status)?;
    if signal == System::XCPU.as_raw() {
        Some(Signal::Time)
    } else if signal == System::ABORT.as_raw() {
        // What a program does that gets no memory.
        Some(Signal::Memory)
    } else {
        None
    }
}

#[cfg(not(unix))]
fn signal(_: ExitStatus) -> Option<Signal> {
    None
}

#[cfg(all(test, unix))]
mod tests {
    use std::os::unix::process::ExitStatusExt;

    use rustix::process::Signal as System;

    use super::*;

    #[test]
    fn each_death_has_its_sentence() {
        let said = |signal: System| in_words(ExitStatus::from_raw(signal.as_raw()));
        assert!(said(System::XCPU).starts_with("takes more than 30 seconds of the processor"));
        assert!(said(System::ABORT).starts_with("takes more than 1024 MiB of memory"));
        assert!(in_words(ExitStatus::from_raw(101 << 8)).contains("(its status 101)"));
        assert!(
            said(System::SEGV)
                .starts_with("brought down the process that tried it (its signal 11): build it again")
        );
    }
}
