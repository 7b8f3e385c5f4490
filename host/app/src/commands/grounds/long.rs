//! Some grounds in full, as text.

use catalogue::list::{Listing, StitchCount, found_lines};
use catalogue::{Choice, Kind, OtherName};

use super::{by_ground, put};

/// Every ground shown, in full.
pub fn all_about(listings: &[Listing]) -> String {
    let mut text = String::new();
    for varieties in by_ground(listings) {
        about_one(varieties, &mut text);
    }
    text
}

fn about_one(varieties: &[Listing], text: &mut String) {
    let chosen = &varieties[0].chosen;
    let about = chosen.about();
    put(text, "", "", &format!("{} ({})", about.title, about.id));
    let set_in = about.sits_in.as_ref().map_or_else(String::new, |id| format!(", usually set in {id}"));
    let kind = match about.kind {
        Kind::Ground => "Ground",
        Kind::Filling => "Filling",
    };
    put(text, "  ", "", &format!("{kind} of the family {}{set_in}", about.family));
    put(text, "  ", "", &about.notes);
    put(text, "  ", "Also called: ", &names(&about.other_names));
    put(text, "  ", "Used in: ", &about.laces.join(", "));
    put(
        text,
        "  ",
        "Angle: ",
        &format!("usually {} degrees between the footside and the diagonals", about.angle),
    );
    if let Some(spacing) = about.pin_spacing_mm {
        let pins = format!("usually {spacing} mm between two footside pins");
        put(text, "  ", "Pin spacing: ", &pins);
    }
    put(text, "  ", "Source: ", &about.source);
    put(text, "  ", "From: ", chosen.entry.file());
    for line in found_lines(varieties) {
        put(text, "  ", "Found by ", &line);
    }
    let m = &varieties[0].measures;
    text.push_str("\nVarieties");
    put(
        text,
        "",
        " ",
        &format!(
            "({} mm between footside pins, {} degrees)",
            plain(m.pin_spacing_mm),
            plain(m.angle_from_footside_deg)
        ),
    );
    for listing in varieties {
        one_variety(listing, text);
    }
    if !about.choices.is_empty() {
        text.push_str("\nChoices\n");
    }
    for (id, choice) in &about.choices {
        one_choice(id, choice, text);
    }
    text.push('\n');
}

fn one_variety(listing: &Listing, text: &mut String) {
    put(text, "  ", "", &listing.chosen.name());
    let variety = listing.variety();
    put(text, "    ", "", &variety.title);
    put(text, "    ", "Also called: ", &names(&variety.other_names));
    put(text, "    ", "", &variety.notes);
    put(text, "    ", "Stitches: ", &stitches(listing));
    put(text, "    ", "Colours: ", &listing.chosen.ground.travel_sentence());
    put(text, "    ", "Takes: ", &takes(listing));
    put(text, "    ", "How hard: ", &how_hard(listing));
    if variety.source != listing.about().source {
        put(text, "    ", "Source: ", &variety.source);
    }
}

fn one_choice(id: &str, choice: &Choice, text: &mut String) {
    put(text, "  ", &format!("--with {id}=...  "), &choice.title);
    put(text, "      ", "", &format!("{}; usually {}", choice.range.in_words(), choice.default));
}

/// Every different stitch of a repeat, and how often it is worked.
fn stitches(listing: &Listing) -> String {
    let all: Vec<String> = listing
        .stitches
        .iter()
        .map(|StitchCount { stitch, times }| {
            let words = listing.chosen.ground.kind_in_words(stitch);
            match stitch.letters().filter(|letters| !letters.is_empty() && *letters != words) {
                Some(letters) => format!("{times} \u{d7} {letters} ({words})"),
                None => format!("{times} \u{d7} {words}"),
            }
        })
        .collect();
    all.join("; ")
}

/// Pairs, stitches and pins of one repeat, and how dense the lace is.
fn takes(listing: &Listing) -> String {
    let m = &listing.measures;
    format!(
        "{} across, {} and {} in a repeat; {} pairs per cm, {} pins per cm\u{b2}",
        count(m.pairs_per_repeat, "pair", "pairs"),
        count(m.stitches_per_repeat, "stitch", "stitches"),
        count(m.pins_per_repeat, "pin", "pins"),
        plain(m.pairs_per_cm),
        plain(m.pins_per_cm2)
    )
}

/// How hard it is to work, as far as it can be counted: moves, pairs, and
/// different stitches to remember.
fn how_hard(listing: &Listing) -> String {
    let m = &listing.measures;
    let remember = match listing.stitches.len() {
        1 => "one stitch to remember".to_owned(),
        n => format!("{n} different stitches to remember"),
    };
    let twists: Vec<String> = listing.extra_twists().iter().map(ToString::to_string).collect();
    let twists = match twists.as_slice() {
        [] => String::new(),
        [one] if one == "1" => ", and 1 extra twist on pairs between them".to_owned(),
        all => format!(", and {} extra twists on pairs between them", all.join(" or ")),
    };
    format!(
        "{} with {} in a repeat, {} to the cm\u{b2}; {remember}{twists}",
        count(m.moves_per_repeat, "move", "moves"),
        count(m.pairs_per_repeat, "pair", "pairs"),
        plain(m.moves_per_cm2)
    )
}

fn names(names: &[OtherName]) -> String {
    let one = |n: &OtherName| {
        let source = if n.source.is_empty() { String::new() } else { format!(", {}", n.source) };
        format!("{} ({}{source})", n.name, n.language)
    };
    names.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// A number with at most two decimals.
fn plain(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
