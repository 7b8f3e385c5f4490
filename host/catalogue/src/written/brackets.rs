//! Brackets that are opened and not closed, and the other way round. Parsers report
//! them at the lines that follow.

use super::Mistake;
use super::line::{Line, Piece, What};

/// A bracket that is not closed, or that closes nothing.
pub fn unclosed(text: &str) -> Option<Mistake> {
    let mut open: Vec<(char, usize)> = Vec::new();
    let mut goes_on = true;
    let mut several_lines = false;
    for line in Line::all(text) {
        let pieces = line.pieces();
        // Texts of several lines may hold anything.
        let marks = line.range();
        if text[marks].matches("\"\"\"").count() % 2 == 1 {
            several_lines = !several_lines;
            continue;
        }
        if several_lines || pieces.is_empty() {
            continue;
        }
        if let Some(&(bracket, at)) = open.last()
            && (is_heading(&pieces) || begins_anew(&pieces) && (bracket == '[' || !goes_on))
        {
            return Some(not_closed(bracket, at));
        }
        for piece in &pieces {
            let What::Sign(sign) = piece.what else { continue };
            let at = line.start() + piece.at.start;
            match sign {
                '[' | '{' => open.push((sign, at)),
                ']' | '}' => {
                    let opens = if sign == ']' { '[' } else { '{' };
                    match open.pop() {
                        Some((bracket, _)) if bracket == opens => {}
                        Some((bracket, at)) => return Some(not_closed(bracket, at)),
                        None => {
                            let sentence = format!("the bracket {sign} closes nothing");
                            let remedy = format!("write {opens} where it should begin, or leave it out");
                            return Some(Mistake::new(at..at + 1, sentence, remedy));
                        }
                    }
                }
                _ => {}
            }
        }
        goes_on = pieces.last().is_some_and(|last| matches!(last.what, What::Sign(',' | '{' | '[')));
    }
    open.first().map(|&(bracket, at)| not_closed(bracket, at))
}

fn not_closed(bracket: char, at: usize) -> Mistake {
    let closes = if bracket == '[' { ']' } else { '}' };
    let sentence = format!("the bracket {bracket} that begins here is not closed");
    Mistake::new(at..at + 1, sentence, format!("write {closes} where it should end"))
}

/// Whether a line begins something new: a name and an equals sign.
fn begins_anew(pieces: &[Piece]) -> bool {
    matches!(pieces, [name, equals, ..] if name.what == What::Bare && equals.what == What::Sign('='))
}

/// Whether a line is a heading, as `[about]` and `[[stitch]]` are.
fn is_heading(pieces: &[Piece]) -> bool {
    let signs = |sign: char| pieces.iter().filter(|piece| piece.what == What::Sign(sign)).count();
    let names = pieces.iter().filter(|piece| piece.what == What::Bare).count();
    pieces[0].what == What::Sign('[')
        && names == 1
        && pieces.len() == 1 + signs('[') + signs(']')
        && signs('[') == signs(']')
}
