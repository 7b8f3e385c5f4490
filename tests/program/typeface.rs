//! The typeface of the pages, opened (W3C, WOFF File Format 1.0).

use std::collections::BTreeSet;
use std::io::Read;

use rustybuzz::ttf_parser::cmap;

/// The characters of a text for which a face has no glyph, ignoring invisible
/// ones.
pub fn lacking(face: &[u8], text: &str) -> BTreeSet<char> {
    let letters = letters(face);
    assert!(!letters.contains(&'\u{4e00}'), "a face cannot have everything");
    text.chars().filter(|c| !c.is_control() && !letters.contains(c)).collect()
}

/// The characters for which a face has a glyph.
fn letters(face: &[u8]) -> BTreeSet<char> {
    assert!(face.starts_with(b"wOFF"), "a face for pages");
    let number = |at: usize| u32::from_be_bytes(face[at..at + 4].try_into().unwrap()) as usize;
    let tables = usize::from(u16::from_be_bytes([face[12], face[13]]));
    // Tag, offset, compressed length, original length, checksum.
    let entry = (0..tables).map(|k| 44 + 20 * k).find(|&at| &face[at..at + 4] == b"cmap").unwrap();
    let (from, length, opened) = (number(entry + 4), number(entry + 8), number(entry + 12));
    let mut table = face[from..from + length].to_vec();
    if length < opened {
        table.clear();
        flate2::read::ZlibDecoder::new(&face[from..from + length]).read_to_end(&mut table).unwrap();
    }
    assert_eq!(table.len(), opened);
    let mut letters = BTreeSet::new();
    for part in cmap::Table::parse(&table).unwrap().subtables.into_iter().filter(|part| part.is_unicode()) {
        part.codepoints(|code| letters.extend(char::from_u32(code)));
    }
    letters
}
