//! Everything that can go wrong with a contribution, each with a sentence and a
//! remedy.

use std::fmt;
use std::io;
use std::path::PathBuf;

use catalogue::text::path_name;
use catalogue::trouble::in_words;
use catalogue::{LeftOut, ResolveError};
use thiserror::Error;

use crate::limits;

/// The two calls into a contribution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Call {
    /// Asks what it is.
    About,
    /// Asks for the repeat for some choices.
    Define,
}

impl fmt::Display for Call {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Call::About => "about",
            Call::Define => "define",
        })
    }
}

/// Why a call into a contribution did not finish. The sentences are for people who were
/// given the file; in parentheses is what those who made it want to know.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Stopped {
    /// It used up its instructions.
    #[error(
        "does not come to an end (more than {} instructions): ask whoever made this file to look for an endless loop",
        grouped(limits::INSTRUCTIONS)
    )]
    Instructions,
    /// It asked for too much memory.
    #[error(
        "asks for more and more memory (more than {} MiB): ask whoever made this file to look for a list that grows without end",
        limits::MEMORY_BYTES >> 20
    )]
    Memory,
    /// It asked for too large a table.
    #[error(
        "asks for too large a table (more than {} elements): ask whoever made this file to compile it without such tables",
        grouped(limits::TABLE_ELEMENTS as u64)
    )]
    Table,
    /// It called itself too deeply.
    #[error(
        "calls itself again and again (more than {} KiB of stack): ask whoever made this file to look for a function that calls itself without end",
        limits::STACK_BYTES >> 10
    )]
    Stack,
    /// It handed over too much.
    #[error(
        "hands over far too much (more than {} MiB): ask whoever made this file to look for a list or text that is too long",
        limits::DATA_BYTES >> 20
    )]
    Data,
    /// It gave up of its own accord.
    #[error("gave up: ask whoever made this file to run its unit tests, which show why")]
    GaveUp,
    /// It broke a rule of WebAssembly or of the interface. What a library says of it.
    #[error(
        "broke off ({}): ask whoever made this file to build it again and to run its unit tests",
        broken(_0)
    )]
    BrokeOff(String),
}

/// Why bytes cannot be run as WebAssembly, in plain words. `why` is what a library
/// says, or a rule of our own.
fn not_webassembly(why: &str) -> String {
    if why.starts_with("it ") {
        return why.to_owned();
    }
    let says = |words: &[&str]| words.iter().any(|word| why.contains(word));
    let plain = if says(&["magic"]) {
        "it does not begin as WebAssembly does"
    } else if says(&["unexpected end", "unexpected EOF", "end-of-file"]) {
        "its end is missing"
    } else if says(&["support is not enabled", "not enabled", "feature"]) {
        "it uses a part of WebAssembly that is not allowed here"
    } else {
        "it breaks the rules of WebAssembly"
    };
    let place = why.rsplit_once("at offset 0x").map(|(_, rest)| rest);
    let place = place.map(|rest| rest.chars().take_while(char::is_ascii_hexdigit).collect::<String>());
    match place.and_then(|hex| u64::from_str_radix(&hex, 16).ok()) {
        Some(byte) => format!("{plain}, at byte {byte}"),
        None => plain.to_owned(),
    }
}

/// Why a contribution broke off, in plain words.
fn broken(why: &str) -> &'static str {
    let says = |words: &[&str]| words.iter().any(|word| why.contains(word));
    if says(&["divide by zero"]) {
        "it divides by nought"
    } else if says(&["overflow", "conversion"]) {
        "a number grows too large"
    } else if says(&["table access", "uninitialized element", "indirect call", "null reference"]) {
        "it calls a function that is not there"
    } else if says(&["unaligned", "utf-8", "string", "list", "`char`", "discriminant", "pointer"]) {
        "its answer cannot be read"
    } else if says(&["out of bounds"]) {
        "it reaches beyond its memory"
    } else if says(&["resource limit"]) {
        "it has too many parts"
    } else {
        "it breaks a rule of WebAssembly"
    }
}

pub(crate) fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (n, digit) in digits.chars().enumerate() {
        if n > 0 && (digits.len() - n).is_multiple_of(3) {
            out.push(' ');
        }
        out.push(digit);
    }
    out
}

/// Anything that can go wrong with a contribution. Every message names the file
/// or the contribution and says what to do; texts in it that come from the
/// file have been made harmless.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum SandboxError {
    /// The file cannot be read.
    #[error("{file}: cannot be read ({}): check that the file is there and may be read", in_words(why))]
    Unreadable {
        /// The file.
        file: String,
        /// The system's message.
        why: io::Error,
    },
    /// The folder of contributions cannot be read.
    #[error(
        "{}: the folder cannot be read ({}): name a folder that holds contributions (files ending in .wasm)",
        path_name(folder),
        in_words(why)
    )]
    NoFolder {
        /// The folder.
        folder: PathBuf,
        /// The system's message.
        why: io::Error,
    },
    /// The file is too large.
    #[error("{file}: is larger than {} MiB: compile it for size, without debug information", limits::FILE_BYTES >> 20)]
    TooLarge {
        /// The file.
        file: String,
    },
    /// The file is not valid WebAssembly, or uses a feature that is not allowed.
    #[error(
        "{file}: is not a contribution this program can run ({}): build it again with `pairwise build`",
        not_webassembly(why)
    )]
    Invalid {
        /// The file.
        file: String,
        /// The validator's message.
        why: String,
    },
    /// The contribution has imports.
    #[error("{file}: wants to import {}, but a contribution may import nothing at all: build it for wasm32-unknown-unknown, without files, clock, chance or printing", imports.join(", "))]
    Imports {
        /// The file.
        file: String,
        /// The first of its imports.
        imports: Vec<String>,
    },
    /// The component does not carry the interface.
    #[error(
        "{file}: does not export `{}`: it is WebAssembly, but not a contribution; build it with `pairwise build`",
        crate::INTERFACE
    )]
    NoInterface {
        /// The file.
        file: String,
    },
    /// The component carries another version of the interface.
    #[error(
        "{file}: is made for version {found} of the interface, this program speaks {}: build it again with the `sdk` that belongs to this program",
        crate::VERSION
    )]
    OtherVersion {
        /// The file.
        file: String,
        /// The version it carries.
        found: String,
    },
    /// The component carries a version newer than this program.
    #[error(
        "{file}: is made for version {found} of the interface, which is newer than this program; it knows {}: update the program",
        known.join(", ")
    )]
    NewerVersion {
        /// The file.
        file: String,
        /// The version it carries.
        found: String,
        /// The versions this program knows, the oldest first.
        known: Vec<&'static str>,
    },
    /// The exported functions do not have the types of the interface.
    #[error(
        "{file}: exports `{}`, but not with its types: build it again with the `sdk` that belongs to this program",
        crate::INTERFACE
    )]
    WrongTypes {
        /// The file.
        file: String,
        /// The library's message.
        why: String,
    },
    /// Its description breaks a rule of the interface.
    #[error("{file}: {what}: correct its `about`")]
    BadAbout {
        /// The file.
        file: String,
        /// What is wrong, with the rule.
        what: String,
    },
    /// Its repeat breaks a rule of the interface.
    #[error("{plugin} ({file}): {what}: correct its `define`")]
    BadRepeat {
        /// Id of the contribution.
        plugin: String,
        /// The file.
        file: String,
        /// What is wrong, with the rule.
        what: String,
    },
    /// A call did not finish.
    #[error("{file}: `{call}` {why}")]
    Stopped {
        /// The file.
        file: String,
        /// The call.
        call: Call,
        /// What happened.
        why: Stopped,
    },
    /// Its description and its varieties together take too much.
    #[error(
        "{file}: its description and its varieties together take more than {} instructions: work out less, or less often",
        grouped(limits::ALL_INSTRUCTIONS)
    )]
    TooMuchInAll {
        /// The file.
        file: String,
    },
    /// It was left out when it was tried in a process of its own.
    #[error("{file}: {why}")]
    Tried {
        /// The file.
        file: String,
        /// What is wrong and what to do, in a sentence.
        why: String,
    },
    /// The contribution refuses these choices.
    #[error("{plugin}: {sentence}{}", choice.as_ref().map_or_else(String::new, |c| format!(" (choose another value for `{c}`)")))]
    Problem {
        /// Id of the contribution.
        plugin: String,
        /// The choice to blame, if it names one.
        choice: Option<String>,
        /// Its sentence.
        sentence: String,
    },
    /// A variety, choice or value that does not exist.
    #[error(transparent)]
    Unknown(#[from] ResolveError),
    /// Two contributions with the same id.
    #[error(
        "{second}: has the id `{id}`, as {first} has: remove one of the two or give it another id in its `about`; {first} is used"
    )]
    SameId {
        /// The id.
        id: String,
        /// The file that came first; it is used.
        first: String,
        /// The file that came second.
        second: String,
    },
    /// The machinery itself failed.
    #[error("{file}: {fault}")]
    Machinery {
        /// The file, or the machine.
        file: String,
        /// What failed.
        fault: Fault,
        /// What a library says of it; not for users.
        why: String,
    },
}

/// What can fail in the machinery itself, which is nobody's fault who reads it.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum Fault {
    /// Nothing can be run at all.
    #[error(
        "it cannot run contributions, and the grounds built in are contributions too: use the program on another computer"
    )]
    NoMachine,
    /// This contribution cannot be made ready.
    #[error("could not be made ready to run: build it again with `pairwise build`")]
    NotReady,
    /// A library gave up over the file.
    #[error(
        "could not be read to its end, because of a fault in this program: leave the file out, and report it to the makers of the program"
    )]
    GaveUp,
}

impl SandboxError {
    /// The file at fault, as named in messages; `None` when no file is at fault.
    pub fn file(&self) -> Option<&str> {
        match self {
            SandboxError::Unreadable { file, .. }
            | SandboxError::TooLarge { file }
            | SandboxError::Invalid { file, .. }
            | SandboxError::Imports { file, .. }
            | SandboxError::NoInterface { file }
            | SandboxError::OtherVersion { file, .. }
            | SandboxError::NewerVersion { file, .. }
            | SandboxError::WrongTypes { file, .. }
            | SandboxError::BadAbout { file, .. }
            | SandboxError::BadRepeat { file, .. }
            | SandboxError::Stopped { file, .. }
            | SandboxError::TooMuchInAll { file }
            | SandboxError::Tried { file, .. }
            | SandboxError::SameId { second: file, .. }
            | SandboxError::Machinery { file, .. } => Some(file),
            SandboxError::NoFolder { .. } | SandboxError::Problem { .. } | SandboxError::Unknown(_) => None,
        }
    }
}

impl From<&SandboxError> for LeftOut {
    /// Splits the message into the file and what is wrong with it.
    fn from(why: &SandboxError) -> LeftOut {
        let text = why.to_string();
        let file = why.file().unwrap_or("a contribution").to_owned();
        let why = text.strip_prefix(&format!("{file}: ")).unwrap_or(&text).to_owned();
        LeftOut { file, why }
    }
}

/// A result with a [`SandboxError`].
pub type Result<T> = std::result::Result<T, SandboxError>;

#[cfg(test)]
mod tests {
    use wasmtime::Trap;

    use super::*;

    #[test]
    fn every_trap_is_told_in_plain_words_and_not_in_those_of_the_library() {
        let told = |trap: Trap| Stopped::BrokeOff(trap.to_string()).to_string();
        for (trap, words) in [
            (Trap::IntegerDivisionByZero, "it divides by nought"),
            (Trap::IntegerOverflow, "a number grows too large"),
            (Trap::BadConversionToInteger, "a number grows too large"),
            (Trap::MemoryOutOfBounds, "it reaches beyond its memory"),
            (Trap::TableOutOfBounds, "it calls a function that is not there"),
            (Trap::IndirectCallToNull, "it calls a function that is not there"),
            (Trap::BadSignature, "it calls a function that is not there"),
            (Trap::NullReference, "it calls a function that is not there"),
            (Trap::StringOutOfBounds, "its answer cannot be read"),
            (Trap::ListOutOfBounds, "its answer cannot be read"),
            (Trap::InvalidChar, "its answer cannot be read"),
            (Trap::InvalidDiscriminant, "its answer cannot be read"),
            (Trap::UnalignedPointer, "its answer cannot be read"),
            (Trap::CannotLeaveComponent, "it breaks a rule of WebAssembly"),
        ] {
            let told = told(trap);
            assert!(told.starts_with(&format!("broke off ({words}): ask ")), "{trap}: {told}");
        }
        for trap in (0..=u8::MAX).filter_map(Trap::from_u8) {
            let theirs = trap.to_string();
            let theirs = theirs.trim_start_matches("wasm trap: ");
            assert!(!told(trap).contains(theirs), "{theirs}");
        }
    }

    #[test]
    fn a_fault_of_the_machinery_does_not_quote_a_library() {
        let why = "failed to find a pre-opened frobnicator".to_owned();
        for fault in [Fault::NoMachine, Fault::NotReady, Fault::GaveUp] {
            let told = SandboxError::Machinery { file: "a.wasm".to_owned(), fault, why: why.clone() };
            let told = told.to_string();
            assert!(told.starts_with("a.wasm: ") && !told.contains(&why), "{told}");
        }
    }
}
