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

/// Why a call into a contribution did not finish.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Stopped {
    /// It used up its instructions.
    #[error("used more than {} instructions: probably an endless loop", grouped(limits::INSTRUCTIONS))]
    Instructions,
    /// It asked for too much memory.
    #[error("asked for more than {} MiB of memory: probably a list that grows without end", limits::MEMORY_BYTES >> 20)]
    Memory,
    /// It asked for too large a table.
    #[error("asked for a table of more than {} elements: compile it without them", grouped(limits::TABLE_ELEMENTS as u64))]
    Table,
    /// It called itself too deeply.
    #[error("used more than {} KiB of stack: probably a function that calls itself without end", limits::STACK_BYTES >> 10)]
    Stack,
    /// It handed over too much.
    #[error("handed over more than {} MiB: a repeat takes far less, look for a list or text that is too long", limits::DATA_BYTES >> 20)]
    Data,
    /// It gave up of its own accord.
    #[error(
        "gave up: a panic, or the like, in the contribution; run its unit tests, where the message is shown"
    )]
    GaveUp,
    /// It broke a rule of WebAssembly or of the interface.
    #[error("broke off ({}): a fault in the contribution or in the compiler that made it", broken(_0))]
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
    let says = |word: &str| why.contains(word);
    match () {
        () if says("divide by zero") => "it divides by nought",
        () if says("overflow") || says("conversion") => "a number grows too large",
        () if says("out of bounds") => "it reaches beyond its memory",
        () if says("uninitialized element") || says("indirect call") || says("null reference") => {
            "it calls a function that is not there"
        }
        () if says("unaligned") || says("utf-8") || says("string") || says("pointer") => {
            "its answer cannot be read"
        }
        () => "it breaks a rule of WebAssembly",
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
    #[error(
        "{file}: could not be run on this machine; the other grounds still work; please report it with these words: {why}"
    )]
    Machinery {
        /// The file, or the machine.
        file: String,
        /// Its message.
        why: String,
    },
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
