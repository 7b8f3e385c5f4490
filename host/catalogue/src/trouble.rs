//! What a system says went wrong with a file or folder, in plain words.

use std::io::{Error, ErrorKind};

/// Why something failed. A reason of our own is passed on; of the system's, only
/// what it means.
pub fn in_words(why: &Error) -> String {
    if let Some(own) = why.get_ref() {
        return own.to_string();
    }
    let words = match why.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "the system does not allow it",
        ErrorKind::AlreadyExists => "something of that name is there already",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "a part of its path is a file, where a folder should be",
        ErrorKind::DirectoryNotEmpty => "the folder is not empty",
        ErrorKind::ReadOnlyFilesystem => "nothing can be written on this disk",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your share of the disk is used up",
        ErrorKind::FileTooLarge => "the file would be too large for this disk",
        ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy => "another program is using it",
        ErrorKind::InvalidFilename => "no file can have such a name",
        ErrorKind::CrossesDevices => "it lies on another disk",
        ErrorKind::TooManyLinks => "too many links lead to it",
        ErrorKind::OutOfMemory => "there is not enough memory",
        ErrorKind::Interrupted => "it was interrupted",
        ErrorKind::TimedOut => "the disk did not answer",
        ErrorKind::BrokenPipe => "nobody reads it any more",
        ErrorKind::UnexpectedEof => "it ends too early",
        ErrorKind::InvalidData => "it does not hold what it should",
        ErrorKind::Unsupported => "the system cannot do this",
        _ => {
            return why
                .raw_os_error()
                .map_or_else(refused, |number| format!("{} (its error {number})", refused()));
        }
    };
    words.to_owned()
}

fn refused() -> String {
    "the system refuses it".to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_words_of_the_system_are_left() {
        assert_eq!(in_words(&ErrorKind::NotFound.into()), "there is no such file or folder");
        assert_eq!(in_words(&Error::other("it is a pipe")), "it is a pipe");
        for number in 0..200 {
            let why = Error::from_raw_os_error(number);
            let words = in_words(&why);
            let theirs = why.to_string();
            let theirs = theirs.split(" (os error").next().unwrap_or_default();
            assert!(!words.contains("os error") && !words.is_empty(), "{words}");
            assert!(!words.eq_ignore_ascii_case(theirs), "{words}");
        }
    }
}
