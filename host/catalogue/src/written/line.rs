//! One line of a text, in pieces, and what is wrong with it.

use std::ops::Range;

use lace::quote;

use super::{Form, Mistake, values};

/// A line without its end.
#[derive(Clone, Copy, Debug)]
pub struct Line<'t> {
    words: &'t str,
    start: usize,
}

/// A piece of a line, by its range in the line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    pub what: What,
    pub at: Range<usize>,
}

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// Text in quotation marks.
    Quoted,
    /// Text that begins with a quotation mark and has none at its end.
    Unended,
    /// A name, a number or another run of characters.
    Bare,
    /// A bracket, comma, equals sign or colon.
    Sign(char),
}

const SIGNS: &str = "[]{}(),=:";
/// Quotation marks that no keyboard has, and those of them that are double.
const CURLY: &str =
    "\u{201c}\u{201d}\u{201e}\u{201f}\u{ab}\u{bb}\u{2039}\u{203a}\u{2018}\u{2019}\u{201a}\u{201b}";
const DOUBLE: &str = "\u{201c}\u{201d}\u{201e}\u{201f}\u{ab}\u{bb}";

impl<'t> Line<'t> {
    /// The lines of a text.
    pub fn all(text: &'t str) -> impl Iterator<Item = Line<'t>> {
        let mut start = 0;
        text.split('\n').map(move |words| {
            let line = Line { words: words.trim_end_matches('\r'), start };
            start += words.len() + 1;
            line
        })
    }

    /// The line at a place in a text; the last line if it is behind the end.
    pub fn around(text: &'t str, at: usize) -> Line<'t> {
        let lines = Line::all(text).take_while(|line| line.start <= at);
        lines.last().unwrap_or(Line { words: "", start: 0 })
    }

    /// Its range in the text.
    pub fn range(&self) -> Range<usize> {
        self.start..self.start + self.words.len()
    }

    /// Where it begins in the text.
    pub fn start(&self) -> usize {
        self.start
    }

    /// Its pieces, without what follows `#`.
    pub fn pieces(&self) -> Vec<Piece> {
        let mut pieces: Vec<Piece> = Vec::new();
        let mut rest = 0;
        while let Some(first) = self.words[rest..].chars().next() {
            let at = rest;
            match first {
                '#' => break,
                c if c.is_whitespace() => {
                    rest += c.len_utf8();
                    continue;
                }
                '"' | '\'' => {
                    let (end, what) = quoted(self.words, at, first);
                    rest = end;
                    pieces.push(Piece { what, at: at..end });
                }
                c if SIGNS.contains(c) => {
                    rest += 1;
                    pieces.push(Piece { what: What::Sign(c), at: at..rest });
                }
                _ => {
                    let ends = |c: char| c.is_whitespace() || SIGNS.contains(c) || "#\"'".contains(c);
                    rest = self.words[at..].find(ends).map_or(self.words.len(), |more| at + more);
                    pieces.push(Piece { what: What::Bare, at: at..rest });
                }
            }
        }
        pieces
    }

    /// What it says, without spaces around it and without what follows `#`.
    pub fn words(&self) -> &'t str {
        match self.pieces().as_slice() {
            [] => "",
            [first, .., last] => &self.words[first.at.start..last.at.end],
            [one] => &self.words[one.at.clone()],
        }
    }

    /// The range of [`Line::words`] in the text.
    pub fn shown(&self) -> Range<usize> {
        let pieces = self.pieces();
        match (pieces.first(), pieces.last()) {
            (Some(first), Some(last)) => self.start + first.at.start..self.start + last.at.end,
            _ => self.range(),
        }
    }

    fn of(&self, piece: &Piece) -> &'t str {
        &self.words[piece.at.clone()]
    }

    fn place(&self, piece: &Piece) -> Range<usize> {
        self.start + piece.at.start..self.start + piece.at.end
    }

    /// Quotation marks that only a word processor makes.
    pub fn curly_quotes(&self) -> Option<Mistake> {
        let pieces = self.pieces();
        let mut outside = pieces.iter().filter(|piece| piece.what != What::Quoted);
        let (k, mark) = outside.find_map(|piece| {
            // An apostrophe may be curly inside a text.
            let marks = if piece.what == What::Unended { DOUBLE } else { CURLY };
            let mark = self.of(piece).char_indices().find(|(_, c)| marks.contains(*c));
            mark.map(|(k, c)| (piece.at.start + k, c))
        })?;
        Some(Mistake::new(
            self.start + k..self.start + k + mark.len_utf8(),
            format!("the quotation mark {mark} is a curly one, as word processors make it"),
            "type straight ones, \" before and \" after the text, and save the file as plain text",
        ))
    }

    /// A text without a quotation mark before or after it.
    pub fn missing_quote(&self) -> Option<Mistake> {
        let pieces = self.pieces();
        let unended = pieces.iter().position(|piece| piece.what == What::Unended)?;
        // `title = My filling"`: what looks like a beginning is the end.
        if let Some(first) = pieces[..unended].iter().find(|piece| self.is_text(piece, &pieces)) {
            let at = self.start + first.at.start..self.range().end;
            return Some(Mistake::new(
                at,
                "this text has no quotation mark before it",
                "write \" before it, as after it",
            ));
        }
        Some(Mistake::new(
            self.start + pieces[unended].at.start..self.shown().end,
            "the text that begins here has no quotation mark after it",
            "write \" after it, on the same line",
        ))
    }

    /// Whether a piece is text where a value should be.
    fn is_text(&self, piece: &Piece, pieces: &[Piece]) -> bool {
        let before = pieces.iter().take_while(|other| other.at.end <= piece.at.start).last();
        let a_value = before.is_some_and(|before| matches!(before.what, What::Sign('=' | '[' | ',')));
        let key = pieces.iter().find(|other| other.at.start >= piece.at.end);
        let is_key = key.is_some_and(|key| key.what == What::Sign('='));
        piece.what == What::Bare
            && a_value
            && !is_key
            && self.of(piece).starts_with(char::is_alphabetic)
            && !["true", "false", "inf", "nan"].contains(&self.of(piece))
    }

    /// What is wrong with it, if that can be seen.
    pub fn mistake(&self, form: &Form<'_>) -> Option<Mistake> {
        let pieces = self.pieces();
        let first = pieces.first()?;
        if pieces.iter().any(|piece| piece.what == What::Sign('(')) {
            let sentence = "round brackets mean nothing here";
            return Some(Mistake::new(self.shown(), sentence, "write square brackets: [0, 0]"));
        }
        // Other lines go on with what an earlier one began.
        if (first.what == What::Bare || first.what == What::Sign('='))
            && let Some(mistake) = self.name_and_equals(&pieces, form)
        {
            return Some(mistake);
        }
        self.values(&pieces).or_else(|| self.more(&pieces))
    }

    /// Whether it begins with a name and an equals sign.
    fn name_and_equals(&self, pieces: &[Piece], form: &Form<'_>) -> Option<Mistake> {
        let sign = |piece: &Piece| matches!(piece.what, What::Sign('=' | ':'));
        let Some(k) = pieces.iter().position(sign) else {
            let remedy = match form.examples.first() {
                Some((_, example)) => {
                    format!("write a name, =, and what it is: {example}; a note begins with #")
                }
                None => "a note begins with #".to_owned(),
            };
            return Some(Mistake::new(self.shown(), "this line says nothing", remedy));
        };
        let name = &self.words[pieces[0].at.start..pieces[k].at.start];
        let name = quote(name.trim());
        if pieces[k].what == What::Sign(':') {
            let sentence = format!("a colon follows `{name}`");
            return Some(Mistake::new(self.place(&pieces[k]), sentence, format!("write {name} = instead")));
        }
        match k {
            0 => Some(Mistake::new(self.shown(), "there is no name before the =", "write one before it")),
            1 if pieces.len() == 2 => Some(Mistake::new(
                self.shown(),
                format!("nothing follows `{name} =`"),
                "write it behind the =, on the same line",
            )),
            1 => None,
            _ => Some(Mistake::new(
                self.start + pieces[0].at.start..self.start + pieces[k - 1].at.end,
                format!("`{name}` is more than one word"),
                format!("write {} instead", name.split_whitespace().collect::<Vec<_>>().join("-")),
            )),
        }
    }

    /// What is wrong with the values and what stands between them.
    fn values(&self, pieces: &[Piece]) -> Option<Mistake> {
        let mut depth = 0;
        for (k, piece) in pieces.iter().enumerate() {
            match piece.what {
                What::Sign('[' | '{') => depth += 1,
                What::Sign(']' | '}') => depth -= 1,
                _ => {}
            }
            let next = pieces.get(k + 1);
            let begins =
                |piece: &Piece| matches!(piece.what, What::Bare | What::Quoted | What::Sign('[' | '{'));
            let ends =
                |piece: &Piece| matches!(piece.what, What::Bare | What::Quoted | What::Sign(']' | '}'));
            if let Some(next) = next.filter(|next| depth > 0 && ends(piece) && begins(next)) {
                return Some(self.no_comma(piece, next));
            }
            if self.is_text(piece, pieces) {
                let words = self.bare_text(pieces, k);
                let sentence = format!(
                    "the text `{}` stands without quotation marks",
                    quote(&self.words[words.clone()])
                );
                let remedy = format!("write \"{}\"", quote(&self.words[words.clone()]));
                return Some(Mistake::new(
                    self.start + words.start..self.start + words.end,
                    sentence,
                    remedy,
                ));
            }
            let before = k.checked_sub(1).map(|k| &pieces[k]);
            let a_value = before.is_some_and(|before| matches!(before.what, What::Sign('=' | '[' | ',')));
            let is_key = next.is_some_and(|next| next.what == What::Sign('='));
            if piece.what == What::Bare
                && a_value
                && !is_key
                && let Some((sentence, remedy)) = values::no_number(self.of(piece))
            {
                return Some(Mistake::new(self.place(piece), sentence, remedy));
            }
            if piece.what == What::Quoted && bad_escape(self.of(piece)) {
                let sentence = "the sign \\ does not stand for itself in a text";
                return Some(Mistake::new(self.place(piece), sentence, "write / instead, or \\\\"));
            }
        }
        None
    }

    /// The words that stand without quotation marks from a piece on.
    fn bare_text(&self, pieces: &[Piece], first: usize) -> Range<usize> {
        let bare = pieces[first..].iter().take_while(|piece| piece.what == What::Bare);
        let end = bare.last().map_or(pieces[first].at.end, |last| last.at.end);
        pieces[first].at.start..end
    }

    fn no_comma(&self, piece: &Piece, next: &Piece) -> Mistake {
        let both = [self.of(piece), self.of(next)];
        let remedy = match both.map(values::number_meant) {
            [Some(one), Some(other)] => format!("write a comma between the two numbers: [{one}, {other}]"),
            _ => "write a comma between them".to_owned(),
        };
        Mistake::new(
            self.start + piece.at.start..self.start + next.at.end,
            format!("no comma stands between {} and {}", both[0], both[1]),
            remedy,
        )
    }

    /// What follows a value that has ended.
    fn more(&self, pieces: &[Piece]) -> Option<Mistake> {
        let equals = pieces.iter().position(|piece| piece.what == What::Sign('='))?;
        let mut depth = 0;
        let end = pieces.iter().enumerate().skip(equals + 1).find_map(|(k, piece)| {
            match piece.what {
                What::Sign('[' | '{') => depth += 1,
                What::Sign(']' | '}') => depth -= 1,
                _ => {}
            }
            (depth == 0).then_some(k)
        })?;
        let rest = pieces.get(end + 1)?;
        let at = self.start + rest.at.start..self.shown().end;
        if pieces[end].what == What::Quoted
            && pieces[end + 1..].iter().any(|piece| piece.what == What::Quoted)
        {
            return Some(Mistake::new(
                self.start + pieces[end].at.start..at.end,
                "a quotation mark inside the text ends it",
                "leave the inner ones out, or write ' for them",
            ));
        }
        if rest.what == What::Sign(',') {
            let both = [&pieces[end], pieces.get(end + 2)?].map(|piece| values::number_meant(self.of(piece)));
            let [Some(one), Some(other)] = both else {
                return Some(Mistake::new(at, "more follows here", "put square brackets round a list"));
            };
            return Some(Mistake::new(
                self.start + pieces[end].at.start..at.end,
                "a comma stands in a number, or brackets are missing round two",
                format!("write {one}.{other} for one number, [{one}, {other}] for two"),
            ));
        }
        Some(Mistake::new(
            at,
            "more follows here than belongs to this line",
            "begin a new line before it, or write # before a note",
        ))
    }
}

/// Where a text in quotation marks ends, and whether it does.
fn quoted(words: &str, start: usize, mark: char) -> (usize, What) {
    // Three marks begin a text of several lines, of which the rest is not looked at.
    let three: String = std::iter::repeat_n(mark, 3).collect();
    if words[start..].starts_with(&three) {
        let inner = start + 3;
        let end = words[inner..].find(&three).map_or(words.len(), |more| inner + more + 3);
        return (end, What::Quoted);
    }
    let mut escaped = false;
    for (k, c) in words[start + 1..].char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if mark == '"' => escaped = true,
            c if c == mark => return (start + 1 + k + 1, What::Quoted),
            _ => {}
        }
    }
    (words.len(), What::Unended)
}

/// Whether a text holds a backslash that stands for nothing.
fn bad_escape(quoted: &str) -> bool {
    let mut chars = quoted.chars();
    if chars.next() != Some('"') {
        return false;
    }
    while let Some(c) = chars.next() {
        if c == '\\' && !chars.next().is_some_and(|next| "btnfre\"\\uUx".contains(next)) {
            return true;
        }
    }
    false
}
