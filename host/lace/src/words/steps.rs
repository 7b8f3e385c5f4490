//! The order of working as steps in words.

use crate::ground::Ground;
use crate::words::number::times;
use crate::working::order::Step;

impl Ground {
    /// The steps of [`Ground::order_of_working`] in words, one line each,
    /// without numbers. Pairs are counted from 1 at the left as they lie.
    pub fn steps_in_words(&self, repeats: usize, rows: usize) -> Vec<String> {
        self.order_of_working(repeats, rows).iter().map(|step| self.step_in_words(step)).collect()
    }

    fn step_in_words(&self, step: &Step) -> String {
        let (left, right) = (step.left_pair + 1, step.left_pair + 2);
        let twist = match step.twists.map(|n| n as usize) {
            [0, 0] => String::new(),
            [n, m] if n == m => format!("twist pairs {left} and {right} {}; ", times(n)),
            [n, 0] => format!("twist pair {left} {}; ", times(n)),
            [0, n] => format!("twist pair {right} {}; ", times(n)),
            [n, m] => format!("twist pair {left} {} and pair {right} {}; ", times(n), times(m)),
        };
        let words = self.stitches()[step.stitch].stitch.words();
        format!("{twist}{words} with pairs {left} and {right}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    #[test]
    fn the_rose_is_described_step_by_step() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        assert_eq!(
            ground.steps_in_words(1, 1),
            [
                // The bottom pin of the unit above lies level with the crossings.
                "half stitch, pin, half stitch with pairs 2 and 3",
                "cloth stitch and twist with pairs 1 and 2",
                "half stitch, pin, half stitch with pairs 1 and 2",
                "cloth stitch and twist with pairs 3 and 4",
                "half stitch, pin, half stitch with pairs 3 and 4",
            ]
        );
        let top = ground.stitches().iter().position(|s| s.id == "top").unwrap();
        let worked = ground.order_of_working(2, 1).iter().any(|s| s.stitch == top && s.left_pair == 3);
        assert!(worked, "the top pin joins two repeats");
    }

    #[test]
    fn extra_twists_come_before_the_stitch() {
        let mut repeat = torchon("CT pin", 0);
        repeat.legs[0].twists = 2;
        let ground = Ground::new(repeat).unwrap();
        let words = ground.steps_in_words(2, 2);
        assert_eq!(words[0], "twist pair 3 twice; half stitch, pin with pairs 2 and 3");
        assert_eq!(words[1], "twist pair 2 twice; half stitch, pin with pairs 1 and 2");
    }
}
