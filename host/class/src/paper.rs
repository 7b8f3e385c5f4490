//! Paper sizes for handouts.

use picture::drawing::pricking::Paper;

/// Paper of a handout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClassPaper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

impl ClassPaper {
    /// All of them.
    pub const ALL: [ClassPaper; 2] = [ClassPaper::A4, ClassPaper::Letter];

    /// Its size.
    pub const fn paper(self) -> Paper {
        match self {
            ClassPaper::A4 => Paper::A4,
            ClassPaper::Letter => Paper::LETTER,
        }
    }

    /// Its name, as written in recipes.
    pub const fn name(self) -> &'static str {
        match self {
            ClassPaper::A4 => "A4",
            ClassPaper::Letter => "Letter",
        }
    }

    /// The paper with this name, in upper or lower case.
    pub fn named(name: &str) -> Option<ClassPaper> {
        ClassPaper::ALL.into_iter().find(|paper| paper.name().eq_ignore_ascii_case(name))
    }
}
