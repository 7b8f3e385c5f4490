//! What is worked at a stitch: phrases separated by commas, each the name of a
//! work, a choice, or a stitch in words.

use std::ops::Range;

use lace::WordsError;
use pairwise_chart::Part;
use toml::Spanned;

use super::Reader;

/// A piece of a work.
enum Piece<'a> {
    /// A work defined in the chart, in words.
    Work(&'a str),
    /// The choice of this number.
    Choice(usize),
    /// A stitch in words.
    Words(String),
}

impl<'a> Reader<'a> {
    /// Checks the works that have names.
    pub(super) fn works(&mut self) {
        let file = self.file;
        for (name, work) in &file.works {
            if self.choice_called(name.get_ref()).is_some() {
                let sentence = format!("`{}` is a work and a choice", lace::quote(name.get_ref()));
                self.fault(name.span(), sentence, "rename one of them");
            }
            self.moves(work.get_ref(), work.span());
        }
    }

    /// Reads the work of a stitch.
    pub(super) fn work(&mut self, work: &Spanned<String>) -> Vec<Part> {
        let pieces = self.pieces(work.get_ref()).into_iter();
        pieces.map(|piece| self.part(piece, work.span())).collect()
    }

    /// Reads the moves of a work with a name, or else a stitch in words.
    pub(super) fn named_work_or_moves(&mut self, work: &Spanned<String>) -> String {
        match self.work_called(work.get_ref()) {
            Some(words) => moves_of_named(words),
            None => self.moves(work.get_ref(), work.span()),
        }
    }

    fn pieces(&self, work: &str) -> Vec<Piece<'a>> {
        let mut pieces = Vec::new();
        for phrase in work.split(',').map(str::trim) {
            match (self.named(phrase), pieces.last_mut()) {
                (Some(named), _) => pieces.push(named),
                // Phrases between two names are read together: a tally takes two
                // phrases.
                (None, Some(Piece::Words(words))) => {
                    words.push_str(", ");
                    words.push_str(phrase);
                }
                (None, _) => pieces.push(Piece::Words(phrase.to_owned())),
            }
        }
        pieces
    }

    fn named(&self, phrase: &str) -> Option<Piece<'a>> {
        let work = self.work_called(phrase).map(Piece::Work);
        work.or_else(|| self.choice_called(phrase).map(Piece::Choice))
    }

    fn part(&mut self, piece: Piece<'_>, at: Range<usize>) -> Part {
        match piece {
            Piece::Work(words) => Part::Moves(moves_of_named(words)),
            Piece::Words(words) => Part::Moves(self.moves(&words, at)),
            Piece::Choice(number) => {
                let choice = &self.file.choices[number];
                if choice.options.is_none() {
                    self.fault(
                        at,
                        format!(
                            "the choice `{}` is a number, not a stitch",
                            lace::quote(choice.id.get_ref())
                        ),
                        "give the choice `options`, or use it for `twists`",
                    );
                }
                Part::Chosen(number as u32)
            }
        }
    }

    /// Reads moves written in words.
    fn moves(&mut self, words: &str, at: Range<usize>) -> String {
        match lace::Stitch::from_words(words) {
            Ok(work) => work.to_string(),
            Err(why) => {
                let all = || format!("the phrases understood are {}", lace::STITCH_PHRASES);
                let sentence = why.to_string();
                match &why {
                    WordsError::NoStitch { phrase } => {
                        let works = self.file.works.keys();
                        let choices = self.file.choices.iter().filter(|choice| choice.options.is_some());
                        let known = works.chain(choices.map(|choice| &choice.id));
                        self.unknown(at, sentence, phrase, known.map(|name| name.get_ref().as_str()), all);
                    }
                    WordsError::Moves(_) => self.fault(at, sentence, all()),
                }
                String::new()
            }
        }
    }

    /// The work with this name, in words.
    fn work_called(&self, name: &str) -> Option<&'a str> {
        self.file.works.get(name).map(|work| work.get_ref().as_str())
    }
}

/// The moves of a work with a name. A fault in them is reported where the work is
/// defined.
fn moves_of_named(words: &str) -> String {
    lace::Stitch::from_words(words).map(|work| work.to_string()).unwrap_or_default()
}
