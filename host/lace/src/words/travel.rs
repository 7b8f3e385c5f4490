//! Where threads go, in a teacher's words.

use crate::ground::Ground;
use crate::threads::courses::{Course, Travel};
use crate::words::number::number;

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
            return format!("Every {one} stays in its own column: colours hang in stripes down the lace.");
        }
        if let [left, right] = courses
            && left.travel == Travel::Left
            && left.threads == right.threads
            && self.upright().are_opposite(left.direction, right.direction)
        {
            return format!(
                "Every {one} travels: half of them to the left and half to the right, {}.",
                pace(right.slope)
            );
        }
        let number = |threads: usize| if keeps { threads.div_ceil(2) } else { threads };
        let total = number(courses.iter().map(|c| c.threads).sum());
        let parts: Vec<String> = courses.iter().map(|c| part(c, number(c.threads))).collect();
        let all = if courses.iter().all(|c| c.travel != Travel::Stays) { "Every" } else { "Not every" };
        format!("{all} {one} travels. Of {total} {many} in a repeat {}.", parts.join("; "))
    }
}

/// `2 travel to the left, one dot across for every dot down`.
fn part(course: &Course, n: usize) -> String {
    let (s, pace) = (if n == 1 { "s" } else { "" }, pace(course.slope));
    match course.travel {
        Travel::Left => format!("{n} travel{s} to the left, {pace}"),
        Travel::Stays if n == 1 => "1 stays in its own column".to_owned(),
        Travel::Stays => format!("{n} stay in their own columns"),
        Travel::Right => format!("{n} travel{s} to the right, {pace}"),
    }
}

/// How fast a pair or thread travels across, as part of a sentence. `slope` is
/// in grid steps across for every step down, to either side.
pub(crate) fn pace(slope: f64) -> String {
    let slope = slope.abs();
    let dots = number(slope);
    if dots == "1" {
        "one dot across for every dot down".to_owned()
    } else if slope < 1.0 {
        format!("one dot across for every {} down", number(1.0 / slope))
    } else {
        format!("{dots} dots across for every dot down")
    }
}
