//! What drawing a ground may cost. All is counted, so that the same is drawn on
//! every machine and with any number of threads. What a repeat may hold is in
//! [`lace::limits`].

/// Most work for the layout of one ground, counted in contacts, edges and points of
/// the threads, times the evaluations of their energy; and in places compared when
/// contacts are searched. A core does some hundred millions of these in a second.
/// Where it is used up, the threads are drawn as they lie by then.
pub const LAYOUT_WORK: u64 = 1_000_000_000;
