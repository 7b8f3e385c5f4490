//! Texts about a ground that several pages share.

use catalogue::{About, Chosen, Kind};
use compare::scale::Scale;
use compare::window::Shown;
use lace::{Course, Ground, Stitch, Travel, count, number};

/// "Ground" or "Filling".
pub fn kind(about: &About) -> &'static str {
    if about.kind == Kind::Ground { "Ground" } else { "Filling" }
}

/// A family's id in words: `Point ground` for `point-ground`.
pub fn family_in_words(id: &str) -> String {
    let words = id.replace('-', " ");
    let words = words.trim();
    let mut rest = words.chars();
    rest.next().map_or_else(String::new, |first| first.to_uppercase().chain(rest).collect())
}

/// A line with pairs, pins and their distance, and where colours go.
pub fn in_a_line(chosen: &Chosen, scale: &Scale) -> String {
    let counts = chosen.ground.counts();
    format!(
        "{}, {}; {}; {}",
        count(counts.pairs, "pair", "pairs"),
        count(counts.pins, "pin", "pins"),
        scale.spacing_in_short(chosen.about()),
        travel_in_short(chosen.ground.courses())
    )
}

/// How much lace a picture shows: `24 by 24 mm`, with what there is to say about
/// it.
pub fn window_in_words(shown: &Shown) -> String {
    let mm = number(shown.window_mm);
    let mut words = vec![format!("{mm} by {mm} mm")];
    if shown.scale_in_words().is_some() {
        words.push(format!("{} times as much lace as usual", number(shown.times())));
    }
    words.extend(shown.part_in_words());
    words.join("; ")
}

/// Where colours go, in a few words.
fn travel_in_short(courses: &[Course]) -> &'static str {
    let goes = |way: Travel| courses.iter().any(|c| c.travel == way);
    match (goes(Travel::Left), goes(Travel::Right), goes(Travel::Stays)) {
        (false, false, _) => "colours stay",
        (true, true, false) => "colours travel both ways",
        (true, false, false) => "colours travel left",
        (false, true, false) => "colours travel right",
        (_, _, true) => "some colours stay, some travel",
    }
}

/// A kind of stitch of a ground in letters, if it has any, with its name.
pub fn stitch_in_words(ground: &Ground, stitch: &Stitch) -> String {
    let words = ground.kind_in_words(stitch);
    match stitch.letters() {
        Some(letters) => format!("{letters} ({words})"),
        None => words,
    }
}

#[cfg(test)]
mod tests {
    use lace::Direction;

    use super::*;

    #[test]
    fn families_are_shown_as_words() {
        assert_eq!(family_in_words("torchon"), "Torchon");
        assert_eq!(family_in_words("half-stitch-grounds"), "Half stitch grounds");
        assert_eq!(family_in_words("3-pairs-"), "3 pairs");
    }

    #[test]
    fn a_few_words_say_where_colours_go() {
        let course = |travel, columns| Course {
            travel,
            direction: Direction { columns, rows: 1 },
            slope: columns as f64,
            threads: 4,
        };
        let (left, right) = (course(Travel::Left, -1), course(Travel::Right, 1));
        let stays = course(Travel::Stays, 0);
        for (courses, words) in [
            (&[stays][..], "colours stay"),
            (&[left, right], "colours travel both ways"),
            (&[left], "colours travel left"),
            (&[right], "colours travel right"),
            (&[left, stays, right], "some colours stay, some travel"),
        ] {
            assert_eq!(travel_in_short(courses), words);
        }
    }
}
