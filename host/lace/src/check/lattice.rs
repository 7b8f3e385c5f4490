//! Whether the lattice spreads the repeat over an area, in rows that come back
//! level.

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::lattice::Lattice;
use crate::lattice::upright::UprightLattice;
use crate::limits::{MAX_LEVEL_SEARCH, MIN_ROW_HEIGHT, MIN_STITCH_AREA};
use crate::words::number::count;

pub(super) fn stands_upright(report: &mut Report<'_>) -> Option<UprightLattice> {
    let (lattice, stitches) = (&report.repeat.lattice, report.repeat.stitches.len());
    match upright(lattice, stitches) {
        Ok(upright) => Some(upright),
        Err(fault) => {
            report.say(fault.code, Place::Repeat, fault.sentence);
            None
        }
    }
}

struct Fault {
    code: Code,
    sentence: String,
}

fn upright(lattice: &Lattice, stitches: usize) -> Result<UprightLattice, Fault> {
    let bad = |sentence: String| Fault { code: Code::BadLattice, sentence };
    let Lattice { across, down } = lattice;
    let area = lattice.area();
    let size = across.x.abs() + across.y.abs() + down.x.abs() + down.y.abs();
    let nothing = 1e-9 * size * size;
    if area <= nothing {
        let how = if area < -nothing { "in the wrong order" } else { "in one line" };
        return Err(bad(format!("the steps across and down lie {how}")));
    }
    if area < MIN_STITCH_AREA * stitches as f64 {
        let stitches = count(stitches, "stitch", "stitches");
        return Err(bad(format!("the repeat covers {area:.4} square grid steps, too few for {stitches}")));
    }
    let upright = UprightLattice::new(lattice).ok_or_else(|| Fault {
        code: Code::NeverLevel,
        sentence: format!("no whole numbers of steps, up to {MAX_LEVEL_SEARCH}, lead straight across"),
    })?;
    let height = upright.row_height();
    if height < MIN_ROW_HEIGHT {
        return Err(bad(format!("the next row of repeats lies only {height:.4} grid steps below")));
    }
    Ok(upright)
}
