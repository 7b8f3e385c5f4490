//! Limits on a contribution's description of itself.

/// Characters in a plain word (id).
pub const WORD_CHARS: usize = lace::limits::MAX_WORD;
/// Characters in a title or name.
pub const TITLE_CHARS: usize = 80;
/// Characters in a source or the sentence of a problem.
pub const SENTENCE_CHARS: usize = 400;
/// Characters in notes.
pub const NOTES_CHARS: usize = 4000;
/// Choices of a contribution.
pub const CHOICES: usize = 16;
/// Options of a choice.
pub const OPTIONS: usize = 32;
/// Varieties of a contribution.
pub const VARIETIES: usize = 64;
/// Other names, and laces, in one list.
pub const NAMES: usize = 32;
/// Values of a choice of a number: a hundred times what any ground needs, and few
/// enough to list.
pub const COUNT_VALUES: i64 = 10_000;
