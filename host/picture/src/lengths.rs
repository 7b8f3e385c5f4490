//! How much thread lace takes: measured along the threads as they lie.

use lace::Ground;

use crate::layout::Layout;

/// Millimetres of thread in a millimetre of the lace's length: of the threads
/// of a ground the one that takes least and the one that takes most. Measured
/// in the plane of the lace: what a thread rises and falls over others comes on
/// top and is small.
pub fn thread_per_length(ground: &Ground, layout: &Layout) -> [f64; 2] {
    let mut lines = vec![[0.0; 4]; ground.stitches().len()];
    for (segment, line) in ground.braid().segments.iter().zip(&layout.lines) {
        let steps = line.windows(2).map(|two| two[1] - two[0]);
        lines[segment.entry.stitch][segment.entry.position] +=
            steps.map(|s| libm::hypot(s.x, s.y)).sum::<f64>();
    }
    let mut ends = [f64::INFINITY, 0.0_f64];
    for orbit in ground.orbits() {
        let length: f64 = orbit.entries.iter().map(|e| lines[e.stitch][e.position]).sum();
        let down = layout.lattice().place(orbit.cells).y;
        // No thread of a ground comes to less than the lace is long; one that
        // crosses nothing has no line and hangs straight.
        let per = (length / down).max(1.0);
        ends = [ends[0].min(per), ends[1].max(per)];
    }
    ends
}

#[cfg(test)]
mod tests {
    use lace::samples::torchon;
    use lace::{Grid, Ground};

    use super::*;
    use crate::layout::lay_out;

    // In a torchon ground of half stitch, pin, half stitch every thread runs
    // along the diagonal: at 45 degrees never less than the root of two.
    #[test]
    fn a_diagonal_takes_more_than_its_length_down() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        let layout = lay_out(&ground, &Grid::new(4.0, 45.0).unwrap(), 0.3);
        let [least, most] = thread_per_length(&ground, &layout);
        assert!(least >= 2f64.sqrt() - 1e-9 && most < 2.0, "{least} {most}");
        // The total is that of all lines, shared by the threads of the repeat.
        let total: f64 = layout
            .lines
            .iter()
            .map(|l| l.windows(2).map(|w| libm::hypot(w[1].x - w[0].x, w[1].y - w[0].y)).sum::<f64>())
            .sum();
        let area = layout.lattice().area();
        let threads_per_mm = 2.0 * ground.measures(&layout.grid).pairs_per_cm / 10.0;
        let mean = total / area / threads_per_mm;
        assert!(least <= mean + 1e-9 && mean <= most + 1e-9, "{least} {mean} {most}");
    }
}
