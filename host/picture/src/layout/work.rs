//! The work of a layout, counted so that it ends at the same step on every machine.

/// Work done so far, and the most that is allowed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Work {
    spent: u64,
    most: u64,
}

impl Work {
    /// No work yet.
    pub fn new(most: u64) -> Work {
        Work { spent: 0, most }
    }

    /// Counts some work.
    pub fn count(&mut self, steps: usize) {
        self.spent = self.spent.saturating_add(steps as u64);
    }

    /// Counts all that is left.
    pub fn give_up(&mut self) {
        self.spent = self.spent.max(self.most);
    }

    /// How much is left.
    pub fn left(&self) -> u64 {
        self.most.saturating_sub(self.spent)
    }

    /// Whether all that is allowed is done.
    pub fn is_done(&self) -> bool {
        self.spent >= self.most
    }

    /// How much is done.
    pub fn spent(&self) -> u64 {
        self.spent
    }
}
