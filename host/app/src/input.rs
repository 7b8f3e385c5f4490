//! Reading small texts that people write. What is no ordinary file, too large or
//! not text is refused.

use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, Read};
use std::path::Path;

use catalogue::text::path_name;

use crate::failure::Failure;

/// The text in a file. `kind` is what the file should be, for example `a chart`;
/// `remedy` is the advice if it has more than `most` bytes.
pub fn text_in(path: &Path, most: u64, kind: &str, remedy: &str) -> Result<String, Failure> {
    let bytes = bytes_in(path, most, kind, remedy)?;
    String::from_utf8(bytes)
        .map_err(|_| refused(path, "this is not text in UTF-8", "save the file again as plain text, UTF-8"))
}

/// The bytes of an ordinary file. Never more than `most` and one are read, whatever
/// the system says about its size.
pub fn bytes_in(path: &Path, most: u64, kind: &str, remedy: &str) -> Result<Vec<u8>, Failure> {
    // Opening a pipe would wait until somebody writes to it.
    ordinary(path, &path.metadata().map_err(Failure::read(path))?, kind)?;
    let file = open(path).map_err(Failure::read(path))?;
    // It may have been exchanged meanwhile.
    let there = file.metadata().map_err(Failure::read(path))?;
    ordinary(path, &there, kind)?;
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes).map_err(Failure::read(path))?;
    let read = bytes.len() as u64;
    if read > most {
        let size = match there.len() {
            size if size >= read => format!("{size}"),
            _ => format!("more than {most}"),
        };
        return Err(refused(path, &format!("{size} bytes are too many for {kind}"), remedy));
    }
    Ok(bytes)
}

fn open(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use rustix::fs::OFlags;
        use std::os::unix::fs::OpenOptionsExt;
        options.custom_flags((OFlags::NONBLOCK | OFlags::NOCTTY).bits() as i32);
    }
    options.open(path)
}

fn ordinary(path: &Path, there: &Metadata, kind: &str) -> Result<(), Failure> {
    if there.is_file() {
        return Ok(());
    }
    let what = if there.is_dir() { "a folder" } else { "a device or a pipe" };
    Err(refused(
        path,
        &format!("this is {what}, not {kind}"),
        "name an ordinary file; what a pipe delivers can be saved as one first",
    ))
}

fn refused(path: &Path, what: &str, help: &str) -> Failure {
    Failure::Value { what: format!("{}: {what}", path_name(path)), help: help.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(path: &Path, most: u64) -> String {
        text_in(path, most, "a chart", "make it smaller").unwrap_err().to_string()
    }

    #[test]
    fn a_file_may_have_so_many_bytes_and_no_more() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("chart.toml");
        for size in [0u64, 1, 99, 100] {
            std::fs::write(&path, "x".repeat(size as usize)).unwrap();
            assert_eq!(text_in(&path, 100, "a chart", "").unwrap().len() as u64, size);
        }
        std::fs::write(&path, "x".repeat(101)).unwrap();
        assert!(said(&path, 100).ends_with("chart.toml: 101 bytes are too many for a chart"));
        // Without reading it: there is no such room.
        File::create(&path).unwrap().set_len(1 << 40).unwrap();
        assert!(said(&path, 1 << 20).ends_with("1099511627776 bytes are too many for a chart"));
        std::fs::write(&path, b"caf\xe9").unwrap();
        assert!(said(&path, 100).ends_with("this is not text in UTF-8"));
    }

    #[test]
    fn only_ordinary_files_are_read() {
        let folder = tempfile::tempdir().unwrap();
        assert!(said(folder.path(), 100).ends_with("this is a folder, not a chart"));
        #[cfg(unix)]
        {
            let link = folder.path().join("endless.toml");
            std::os::unix::fs::symlink("/dev/zero", &link).unwrap();
            let pipe = folder.path().join("pipe.toml");
            let made = std::process::Command::new("mkfifo").arg(&pipe).status().unwrap();
            assert!(made.success());
            for path in [Path::new("/dev/zero"), Path::new("/dev/null"), &link, &pipe] {
                let said = said(path, 100);
                assert!(said.ends_with("this is a device or a pipe, not a chart"), "{said}");
            }
        }
        // The size of these files is said to be nothing.
        if cfg!(target_os = "linux") {
            let said = said(Path::new("/proc/self/status"), 100);
            assert!(said.ends_with("more than 100 bytes are too many for a chart"), "{said}");
        }
    }
}
