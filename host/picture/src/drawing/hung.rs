//! Which thread lies where: threads are numbered by the places where they hang.

use lace::{Cell, Ground, Piece, ThreadEntry};

/// The numbers of the threads of a ground or of a piece.
#[derive(Debug)]
pub(crate) enum Hung<'a> {
    /// By their places among the threads that hang above the ground, without end; the
    /// first thread of the first pair has place 0.
    Ground(&'a Ground),
    /// As [`Piece::threads`] numbers them, by stitch and entry.
    Piece(Vec<[usize; 4]>),
}

impl Hung<'_> {
    pub fn of_piece(piece: &Piece) -> Hung<'static> {
        Hung::Piece(piece.threads_by_entry())
    }

    /// How many threads hang over one repeat of a ground.
    pub fn slots(&self) -> Option<i64> {
        match self {
            Hung::Ground(ground) => Some(2 * ground.hanging().pairs().len() as i64),
            Hung::Piece(_) => None,
        }
    }

    /// The thread that enters a stitch in a cell of the definition.
    pub fn thread(&self, entry: ThreadEntry, cell: Cell) -> i64 {
        match self {
            Hung::Ground(ground) => ground.hanging().origin(entry, ground.upright().to_upright(cell)),
            Hung::Piece(threads) => threads[entry.stitch][entry.position] as i64,
        }
    }
}
