//! Pages of one picture in several files, and those that an earlier run left.
//!
//! Every page carries a mark: a text chunk (W3C, Portable Network Graphics, third
//! edition, 11.3.3.3, `tEXt`) that says which page of how many it is, with a
//! checksum of all else in the file. Only a page with a mark that still fits may
//! go when a new run has fewer pages. What anybody has made or changed stays.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::place::parent;

/// The keyword of the mark.
const KEYWORD: &[u8] = b"pairwise page\0";
/// Bytes of a chunk that are not its data: length, kind and checksum.
const FRAME: usize = 12;
/// Bytes of the signature of a PNG file.
const SIGNATURE: usize = 8;

/// A page of a picture: its number, from 1, and how many there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PageOf {
    /// Its number, counted from 1.
    pub number: usize,
    /// How many there are.
    pub all: usize,
}

/// What became of the pages of an earlier run.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Earlier {
    /// Files removed.
    pub removed: Vec<PathBuf>,
    /// Files named like pages that stay, since they are not provably pages that
    /// nobody has changed.
    pub kept: Vec<PathBuf>,
}

/// The file of a page: the name given, with a number if there are several pages.
pub fn page_path(out: &Path, page: PageOf) -> PathBuf {
    if page.all == 1 {
        return out.to_owned();
    }
    let mut name = out.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{}", page.number));
    if let Some(ending) = out.extension() {
        name.push(".");
        name.push(ending);
    }
    out.with_file_name(name)
}

/// A PNG file with the mark of a page.
pub fn marked(mut png: Vec<u8>, page: PageOf) -> Vec<u8> {
    let end = png.len().saturating_sub(FRAME);
    let mark = mark(page, &png);
    png.splice(end..end, mark);
    png
}

/// The chunk that marks a page, given all else in its file.
fn mark(PageOf { number, all }: PageOf, rest: &[u8]) -> Vec<u8> {
    let text = format!("{number} of {all}, {:08x}", crc32fast::hash(rest));
    let data = [b"tEXt", KEYWORD, text.as_bytes()].concat();
    let length = (data.len() - 4) as u32;
    [&length.to_be_bytes()[..], &data, &crc32fast::hash(&data).to_be_bytes()].concat()
}

/// Which page a file is; `None` if it has no mark, or was changed since.
fn page_in(png: &[u8]) -> Option<PageOf> {
    let mut at = SIGNATURE;
    loop {
        let length = u32::from_be_bytes(png.get(at..at + 4)?.try_into().ok()?) as usize;
        let end = at.checked_add(length)?.checked_add(FRAME)?;
        let chunk = png.get(at..end)?;
        let data = &chunk[4..chunk.len() - 4];
        if let Some(text) = data.strip_prefix(b"tEXt").and_then(|data| data.strip_prefix(KEYWORD)) {
            let (page, _) = std::str::from_utf8(text).ok()?.split_once(", ")?;
            let (number, all) = page.split_once(" of ")?;
            let page = PageOf { number: number.parse().ok()?, all: all.parse().ok()? };
            let rest = [&png[..at], &png[end..]].concat();
            return (chunk == mark(page, &rest)).then_some(page);
        }
        at = end;
    }
}

/// Removes what an earlier run left beside the `pages` pages of `out`: pages with
/// higher numbers, those with numbers if there is one page now, and the one without
/// a number if there are several.
///
/// # Errors
/// If a page cannot be read or removed.
pub fn remove_earlier(out: &Path, pages: usize) -> io::Result<Earlier> {
    let mut earlier = Earlier::default();
    for (number, path) in named_like_pages(out, pages)? {
        let is_one = |page: PageOf| match number {
            Some(number) => page.number == number && page.all > 1,
            None => page.all == 1,
        };
        if page_in(&fs::read(&path)?).is_some_and(is_one) {
            fs::remove_file(&path)?;
            earlier.removed.push(path);
        } else {
            earlier.kept.push(path);
        }
    }
    Ok(earlier)
}

/// The ordinary files that are named like pages of `out` but are none of its
/// `pages` pages, each with its number.
fn named_like_pages(out: &Path, pages: usize) -> io::Result<Vec<(Option<usize>, PathBuf)>> {
    let mut found = Vec::new();
    // Where a folder can be written to but not looked into, nothing is removed.
    let Ok(entries) = fs::read_dir(parent(out)) else { return Ok(found) };
    for entry in entries {
        let entry = entry?;
        if !entry.file_type()?.is_file() {
            continue;
        }
        let path = out.with_file_name(entry.file_name());
        match number_of(out, &entry.file_name()) {
            Some(number) if pages == 1 || number > pages => found.push((Some(number), path)),
            None if pages > 1 && Some(&*entry.file_name()) == out.file_name() => found.push((None, path)),
            _ => {}
        }
    }
    found.sort();
    Ok(found)
}

/// The number of a page of `out` with this file name.
fn number_of(out: &Path, name: &OsStr) -> Option<usize> {
    let before: OsString = [out.file_stem()?, OsStr::new("-")].into_iter().collect();
    let after =
        out.extension().map_or_else(OsString::new, |ending| [OsStr::new("."), ending].into_iter().collect());
    let (name, before, after) = (name.to_str()?, before.to_str()?, after.to_str()?);
    let digits = name.strip_prefix(before)?.strip_suffix(after)?;
    let number: usize = digits.parse().ok()?;
    (number > 0 && number.to_string() == digits).then_some(number)
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use picture::colour::Rgb;
    use picture::export::image::Image;

    use super::*;

    fn file(page: PageOf) -> Vec<u8> {
        marked(Image::new(3, 2, Some(Rgb::LINEN)).to_png(10.0), page)
    }

    #[test]
    fn pages_are_numbered_before_the_ending() {
        let path = |out: &str, number, all| page_path(Path::new(out), PageOf { number, all });
        assert_eq!(path("a/grid.png", 1, 1), Path::new("a/grid.png"));
        assert_eq!(path("a/grid.png", 2, 3), Path::new("a/grid-2.png"));
        assert_eq!(path("my.class.png", 1, 2), Path::new("my.class-1.png"));
        assert_eq!(path("grid", 10, 12), Path::new("grid-10"));
        for (out, name, number) in [
            ("a/grid.png", "grid-2.png", Some(2)),
            ("grid", "grid-10", Some(10)),
            ("grid.png", "grid-02.png", None),
            ("grid.png", "grid-0.png", None),
            ("grid.png", "grid-+2.png", None),
            ("grid.png", "grid-2.jpg", None),
            ("grid.png", "my-grid-2.png", None),
            ("grid.png", "grid.png", None),
        ] {
            assert_eq!(number_of(Path::new(out), OsStr::new(name)), number, "{out}, {name}");
        }
    }

    #[test]
    fn a_marked_page_is_a_picture_and_is_known_until_it_is_changed() {
        let page = PageOf { number: 2, all: 3 };
        let file = file(page);
        let reader = png::Decoder::new(Cursor::new(&file)).read_info().unwrap();
        assert_eq!((reader.info().width, reader.info().height), (3, 2));
        assert_eq!(page_in(&file), Some(page));
        for at in 0..file.len() {
            let mut changed = file.clone();
            changed[at] ^= 1;
            assert_eq!(page_in(&changed), None, "byte {at}");
        }
        assert_eq!(page_in(&Image::new(3, 2, None).to_png(10.0)), None);
        assert_eq!(page_in(b"no picture"), None);
    }

    #[test]
    fn only_unchanged_pages_of_an_earlier_run_go() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let page = |number, all| file(PageOf { number, all });
        let files = [
            ("grid.png", page(1, 1)),
            ("grid-1.png", page(1, 3)),
            // Written under this name as a picture of its own.
            ("grid-2.png", page(1, 1)),
            ("grid-3.png", [page(3, 3), b"more".to_vec()].concat()),
            ("grid-4.png", b"mine".to_vec()),
            ("grid-5.png", page(5, 5)),
            ("other-2.png", page(2, 2)),
        ];
        for (name, bytes) in &files {
            fs::write(at(name), bytes).unwrap();
        }
        fs::create_dir(at("grid-6.png")).unwrap();
        #[cfg(unix)]
        std::os::unix::fs::symlink(at("other-2.png"), at("grid-7.png")).unwrap();
        let earlier = remove_earlier(&at("grid.png"), 1).unwrap();
        assert_eq!(earlier.removed, ["grid-1.png", "grid-5.png"].map(at));
        assert_eq!(earlier.kept, ["grid-2.png", "grid-3.png", "grid-4.png"].map(at));
        for (name, bytes) in &files {
            let gone = earlier.removed.contains(&at(name));
            assert_eq!(fs::read(at(name)).ok(), (!gone).then(|| bytes.clone()), "{name}");
        }
        // With several pages the one without a number is of an earlier run.
        let earlier = remove_earlier(&at("grid.png"), 3).unwrap();
        assert_eq!((earlier.removed, earlier.kept), (vec![at("grid.png")], vec![at("grid-4.png")]));
        assert!(at("grid-6.png").is_dir() && at("grid-2.png").is_file());
    }
}
