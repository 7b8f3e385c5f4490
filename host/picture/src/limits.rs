//! What drawing a ground may cost. All is counted, so that the same is drawn on
//! every machine and with any number of threads. What a repeat may hold is in
//! [`lace::limits`].

/// Most work for the layout of one ground, counted in contacts, edges and points of
/// the threads, times the evaluations of their energy; and in places compared when
/// contacts are searched: some seconds of a core. Where it is used up, the threads
/// are drawn as they lie by then.
pub const LAYOUT_WORK: u64 = 500_000_000;

/// Most contacts between threads that are kept at a time. A layout with more is
/// given up in the same way.
pub const CONTACTS: usize = 1 << 22;
