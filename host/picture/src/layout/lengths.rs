//! How much thread lace needs, measured along the threads of the layout.

use lace::{Ground, ThreadEntry};

use super::Layout;

/// Thread length per length of lace, mm per mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadPerLength {
    /// For the shortest thread.
    pub least: f64,
    /// For the longest thread.
    pub most: f64,
}

/// How much thread a ground needs, measured in the plane of the lace. The extra
/// length for rising and falling over other threads is small and left out.
pub fn thread_per_length(ground: &Ground, layout: &Layout) -> ThreadPerLength {
    let mut lines = vec![[0.0; 4]; ground.stitches().len()];
    for (segment, line) in ground.braid().segments.iter().zip(&layout.lines) {
        let ThreadEntry { stitch, position } = segment.entry;
        let steps = line.windows(2).map(|two| two[1] - two[0]);
        lines[stitch][position] += steps.map(|s| libm::hypot(s.x, s.y)).sum::<f64>();
    }
    let mut found = ThreadPerLength { least: f64::INFINITY, most: 0.0 };
    for orbit in ground.orbits() {
        let length: f64 = orbit.entries.iter().map(|entry| lines[entry.stitch][entry.position]).sum();
        let down = layout.lattice.place(orbit.cells).y;
        // No thread is shorter than the lace; one that crosses nothing has no
        // line and hangs straight.
        let per = (length / down).max(1.0);
        found.least = found.least.min(per);
        found.most = found.most.max(per);
    }
    found
}

#[cfg(test)]
mod tests {
    use lace::samples::torchon;
    use lace::{Grid, Ground};

    use super::*;
    use crate::layout::lay_out;

    // In torchon ground worked half stitch, pin, half stitch every thread runs
    // along the diagonal: at 45 degrees at least the square root of two.
    #[test]
    fn a_diagonal_thread_is_longer_than_the_lace() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let layout = lay_out(&ground, &Grid::new(4.0, 45.0).unwrap(), 0.3);
        let ThreadPerLength { least, most } = thread_per_length(&ground, &layout);
        assert!(least >= 2f64.sqrt() - 1e-9 && most < 2.0, "{least} {most}");
        // The mean is the total length of all lines divided by the threads of the repeat.
        let total: f64 = layout
            .lines
            .iter()
            .map(|l| l.windows(2).map(|w| libm::hypot(w[1].x - w[0].x, w[1].y - w[0].y)).sum::<f64>())
            .sum();
        let area = layout.lattice.area();
        let threads_per_mm = 2.0 * ground.measures(&layout.grid).pairs_per_cm / 10.0;
        let mean = total / area / threads_per_mm;
        assert!(least <= mean + 1e-9 && mean <= most + 1e-9, "{least} {mean} {most}");
    }
}
