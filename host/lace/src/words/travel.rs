//! Where threads go, in a teacher's words.

use crate::ground::Ground;
use crate::threads::courses::{Course, Travel};
use crate::words::number::{number, spelt};

impl Travel {
    /// `travels left`, `stays`, `travels right`.
    pub const fn words(self) -> &'static str {
        match self {
            Travel::Left => "travels left",
            Travel::Stays => "stays",
            Travel::Right => "travels right",
        }
    }
}

impl Ground {
    /// Where the threads go, in a teacher's words.
    pub fn travel_sentence(&self) -> String {
        let courses = self.courses();
        let keeps = self.keeps_pairs();
        let (one, many) = if keeps { ("pair", "pairs") } else { ("thread", "threads") };
        if let [only] = courses
            && only.travel == Travel::Stays
        {
            return format!("Every {one} stays: none travels across the lace.");
        }
        if let [left, right] = courses
            && left.travel == Travel::Left
            && left.threads == right.threads
            && self.upright().are_opposite(left.direction, right.direction)
        {
            let pace = pace(right.slope).unwrap_or_else(|| format!("{DIAGONAL}s"));
            return format!(
                "Every {one} travels: half of them down to the left and half down to the right, {pace}."
            );
        }
        let number = |threads: usize| if keeps { threads.div_ceil(2) } else { threads };
        let total = number(courses.iter().map(|c| c.threads).sum());
        let parts: Vec<String> = courses.iter().map(|c| part(c, number(c.threads))).collect();
        let all = if courses.iter().all(|c| c.travel != Travel::Stays) { "Every" } else { "Not every" };
        format!("{all} {one} travels. Of {} {many} in a repeat, {}.", spelt(total), parts.join("; "))
    }
}

/// `two travel down to the left along the diagonal`.
fn part(course: &Course, n: usize) -> String {
    let side = match course.travel {
        Travel::Stays if n == 1 => return "one stays in its own column".to_owned(),
        Travel::Stays => return format!("{} stay in their own columns", spelt(n)),
        Travel::Left => "left",
        Travel::Right => "right",
    };
    let s = if n == 1 { "s" } else { "" };
    let pace = pace(course.slope).map_or_else(|| format!(" {DIAGONAL}"), |pace| format!(", {pace}"));
    format!("{} travel{s} down to the {side}{pace}", spelt(n))
}

/// The way of a pair that goes one dot across for every dot down.
pub(crate) const DIAGONAL: &str = "along the diagonal";

/// How fast a pair or thread travels across, as part of a sentence; `None` along
/// the diagonal. `slope` is in grid steps across for every step down, to either
/// side.
pub(crate) fn pace(slope: f64) -> Option<String> {
    let slope = slope.abs();
    let dots = number(slope);
    if dots == "1" {
        None
    } else if slope < 1.0 {
        Some(format!("one dot across for every {} down", number(1.0 / slope)))
    } else {
        Some(format!("{dots} dots across for every dot down"))
    }
}
