//! The order of working as steps in words. Each stitch is a step, except that the
//! four stitches of a windmill are one.

use crate::ground::Ground;
use crate::repeat::Side;
use crate::words::number::{in_runs, listed, times};
use crate::words::windmill::is_windmill;
use crate::working::order::{OrderOfWorking, Step, TurnsTo};

impl Ground {
    /// The steps of an order of working in words, one line each, without numbers.
    /// Pairs are counted from 1 at the left as they lie.
    pub fn steps_in_words(&self, order: &OrderOfWorking) -> Vec<String> {
        let in_words = |steps: &[Step]| match steps {
            [step] => {
                let turns_to = step.turns_to.map_or("", TurnsTo::in_words);
                format!("{turns_to}{}", self.step_in_words(step))
            }
            windmill => self.windmill_in_words(windmill),
        };
        self.steps_by_line(order).into_iter().map(in_words).collect()
    }

    /// For each stitch of an order of working, the number of the step in words that
    /// tells it, from 1.
    pub fn step_numbers(&self, order: &OrderOfWorking) -> Vec<usize> {
        let lines = self.steps_by_line(order).into_iter().zip(1..);
        lines.flat_map(|(steps, number)| steps.iter().map(move |_| number)).collect()
    }

    /// The stitches of an order of working, those that are told in one line together.
    fn steps_by_line<'a>(&self, order: &'a OrderOfWorking) -> Vec<&'a [Step]> {
        let (own, closing) = order.steps.split_at(order.own);
        // A stitch that comes again to close the unit has a number of its own.
        let comes_again = |steps: &[Step]| {
            steps.iter().any(|step| closing.iter().any(|closing| closing.stitch == step.stitch))
        };
        let mut lines = Vec::with_capacity(order.steps.len());
        for mut rest in [own, closing] {
            while !rest.is_empty() {
                let windmill =
                    rest.get(..4).is_some_and(|four| is_windmill(self, four) && !comes_again(four));
                let (line, after) = rest.split_at(if windmill { 4 } else { 1 });
                lines.push(line);
                rest = after;
            }
        }
        lines
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
        let words = self.stitch_in_words(step.stitch);
        format!("{twist}{words} with pairs {left} and {right}")
    }

    /// How the work goes on after the last step: beside it, and in the next row.
    pub fn going_on_in_words(&self, order: &OrderOfWorking) -> String {
        let with = |places: usize| format!("pairs {} to {}", places + 1, places + order.pairs);
        let right = with(order.right.places);
        let below = match order.below.places {
            0 => format!("The next row is the same again with {}", with(0)),
            places => format!("The next row lies between: the same with {}", with(places)),
        };
        let numbers = self.step_numbers(order);
        let closing = &numbers[order.own..];
        let worked = if closing.is_empty() {
            String::new()
        } else {
            let again: Vec<usize> = order.closed_by().into_iter().map(|k| numbers[k]).collect();
            format!(", without {}, which {} of this row", steps(&again), are(closing))
        };
        format!(
            "In a wider piece, work the same again to the right with {right}, and so on, before the next row. {below}{worked}."
        )
    }
}

impl TurnsTo {
    /// How a step begins.
    const fn in_words(self) -> &'static str {
        match self {
            TurnsTo::Ground => "now the ground beside it: ",
            TurnsTo::Weaving => "now the weaving: ",
            TurnsTo::BackToWeaving => "back to the weaving: ",
            TurnsTo::OtherWeaving(Side::Left) => "now the weaving farther left: ",
            TurnsTo::OtherWeaving(Side::Right) => "now the weaving farther right: ",
        }
    }
}

impl OrderOfWorking {
    /// What to know before the first step: how many pairs hang, and how they are
    /// counted.
    pub fn start_in_words(&self) -> String {
        format!("Hang {} pairs. Count them from the left, as they lie at that moment.", self.pairs)
    }

    /// Which of the first stitches of the next row are worked already when the unit is
    /// closed, in rising order.
    fn closed_by(&self) -> Vec<usize> {
        let (own, closing) = self.steps.split_at(self.own);
        let worked = |step: &Step| closing.iter().any(|closing| closing.stitch == step.stitch);
        (0..own.len()).filter(|&k| worked(&own[k])).collect()
    }
}

/// `step 3`, `steps 1 and 2`.
fn steps(numbers: &[usize]) -> String {
    let word = if numbers.len() == 1 { "step" } else { "steps" };
    format!("{word} {}", listed(&in_runs(numbers)))
}

/// `is step 3`, `are steps 7 and 8`.
fn are(numbers: &[usize]) -> String {
    format!("{} {}", if numbers.len() == 1 { "is" } else { "are" }, steps(numbers))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::repeat::samples::{rose, torchon};

    #[test]
    fn the_rose_is_described_step_by_step() {
        let ground = Ground::new(rose("CTCT", "CT pin CT")).unwrap();
        let order = ground.order_of_working();
        assert_eq!(
            ground.steps_in_words(&order),
            [
                "cloth stitch and twist with pairs 1 and 2",
                "cloth stitch and twist with pairs 3 and 4",
                "half stitch, pin, half stitch with pairs 2 and 3",
                "half stitch, pin, half stitch with pairs 1 and 2",
                "half stitch, pin, half stitch with pairs 3 and 4",
                "half stitch, pin, half stitch with pairs 2 and 3",
                "cloth stitch and twist with pairs 1 and 2",
                "cloth stitch and twist with pairs 3 and 4",
            ]
        );
        assert_eq!(
            order.start_in_words(),
            "Hang 4 pairs. Count them from the left, as they lie at that moment."
        );
        assert_eq!(
            ground.going_on_in_words(&order),
            "In a wider piece, work the same again to the right with pairs 5 to 8, and so on, before the next row. \
             The next row lies between: the same with pairs 3 to 6, without steps 1 and 2, which are steps 7 and 8 of this row."
        );
    }

    #[test]
    fn the_next_diagonals_lie_between() {
        let ground = Ground::new(torchon("CT pin CT", 0)).unwrap();
        assert_eq!(
            ground.going_on_in_words(&ground.order_of_working()),
            "In a wider piece, work the same again to the right with pairs 7 to 12, and so on, before the next row. \
             The next row lies between: the same with pairs 4 to 9."
        );
    }

    #[test]
    fn extra_twists_come_before_the_stitch() {
        let mut repeat = torchon("CT pin", 0);
        repeat.legs[0].twists = 2;
        let ground = Ground::new(repeat).unwrap();
        let words = ground.steps_in_words(&ground.order_of_working());
        assert_eq!(words[0], "twist pair 4 twice; half stitch, pin with pairs 3 and 4");
        assert_eq!(words[1], "twist pair 3 twice; half stitch, pin with pairs 2 and 3");
    }
}
