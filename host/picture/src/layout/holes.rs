//! The holes between the threads: the segments round each hole, unrolled into one
//! plane, and the pins in it. Threads can only touch across a hole, so contacts
//! are searched hole by hole.

use lace::{Braid, Cell, Walk};

/// A segment on the border of a hole.
#[derive(Clone, Copy, Debug)]
pub(super) struct Border {
    /// The segment, by its out dart.
    pub segment: usize,
    /// Whether the hole lies on its right, seen along the thread.
    pub along: bool,
    /// Cell of the crossing it leaves, with the hole in one piece.
    pub cell: Cell,
}

/// A hole: its border clockwise on the pillow.
#[derive(Clone, Debug)]
pub(super) struct Hole {
    pub border: Vec<Border>,
    pub pins: Vec<PinInHole>,
}

/// A pin in a hole.
#[derive(Clone, Copy, Debug)]
pub(super) struct PinInHole {
    /// Position in [`Braid::pins`].
    pub pin: usize,
    /// Cell of its stitch, with the hole in one piece.
    pub cell: Cell,
}

/// All holes of a braid.
pub(super) fn holes(braid: &Braid) -> Vec<Hole> {
    let mut home = vec![(usize::MAX, Cell::ORIGIN); braid.segments.len()];
    let mut holes: Vec<Hole> = Vec::new();
    for face in braid.map.faces() {
        let mut at = Cell::ORIGIN;
        let mut border = Vec::with_capacity(face.len());
        for Walk { edge: segment, along } in face {
            let step = braid.segments[segment].cell;
            let after = if along { at + step } else { at - step };
            let cell = if along { at } else { after };
            if !along {
                home[segment] = (holes.len(), cell);
            }
            border.push(Border { segment, along, cell });
            at = after;
        }
        holes.push(Hole { border, pins: Vec::new() });
    }
    // A pin lies to the right of the thread at its left, as seen on the pillow:
    // on the left of that thread, seen along the thread on its way down.
    for (p, pin) in braid.pins.iter().enumerate() {
        let (hole, cell) = home[pin.left.segment];
        holes[hole].pins.push(PinInHole { pin: p, cell: cell - pin.left.cell });
    }
    holes
}
