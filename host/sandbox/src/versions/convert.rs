//! Conversion from the types of another version of the interface, where the newest
//! has the same. They are generated anew for every version, so the functions are
//! written once and made for each.

/// Makes functions that convert the types in the module `$older` to those in
/// `wire`, and settings the other way. Descriptions differ and are converted by
/// each version itself.
macro_rules! conversions {
    ($older:ident) => {
        fn kind(raw: $older::Kind) -> wire::Kind {
            match raw {
                $older::Kind::Ground => wire::Kind::Ground,
                $older::Kind::Filling => wire::Kind::Filling,
            }
        }

        fn setting_out(set: &wire::Setting) -> $older::Setting {
            $older::Setting {
                choice: set.choice.clone(),
                value: match &set.value {
                    wire::Value::Named(id) => $older::Value::Named(id.clone()),
                    wire::Value::Count(count) => $older::Value::Count(*count),
                },
            }
        }

        fn problem(raw: $older::Problem) -> wire::Problem {
            wire::Problem { choice: raw.choice, sentence: raw.sentence }
        }

        fn names(raw: Vec<$older::OtherName>) -> Vec<wire::OtherName> {
            let name = |n: $older::OtherName| wire::OtherName {
                language: n.language,
                name: n.name,
                source: n.source,
            };
            raw.into_iter().map(name).collect()
        }

        fn value(raw: $older::Value) -> wire::Value {
            match raw {
                $older::Value::Named(id) => wire::Value::Named(id),
                $older::Value::Count(count) => wire::Value::Count(count),
            }
        }

        fn choice(raw: $older::Choice) -> wire::Choice {
            let option = |o: $older::OptionOf| wire::OptionOf { id: o.id, title: o.title };
            wire::Choice {
                id: raw.id,
                title: raw.title,
                range: match raw.range {
                    $older::Range::Named(options) => {
                        wire::Range::Named(options.into_iter().map(option).collect())
                    }
                    $older::Range::Count(range) => wire::Range::Count(range),
                },
                default: value(raw.default),
            }
        }

        fn variety(raw: $older::Variety) -> wire::Variety {
            let setting = |s: $older::Setting| wire::Setting { choice: s.choice, value: value(s.value) };
            wire::Variety {
                id: raw.id,
                title: raw.title,
                other_names: names(raw.other_names),
                settings: raw.settings.into_iter().map(setting).collect(),
                notes: raw.notes,
                source: raw.source,
            }
        }

        fn repeat(raw: $older::Repeat) -> wire::Repeat {
            let point = |p: $older::Point| wire::Point { x: p.x, y: p.y };
            let side = |s: $older::Side| match s {
                $older::Side::Left => wire::Side::Left,
                $older::Side::Right => wire::Side::Right,
            };
            let work = |m: $older::Move| match m {
                $older::Move::Cross => wire::Move::Cross,
                $older::Move::Twist => wire::Move::Twist,
                $older::Move::TwistLeft => wire::Move::TwistLeft,
                $older::Move::TwistRight => wire::Move::TwistRight,
                $older::Move::PairCross => wire::Move::PairCross,
                $older::Move::PairTwist => wire::Move::PairTwist,
                $older::Move::Pin => wire::Move::Pin,
            };
            let stitch = |s: $older::Stitch| wire::Stitch {
                id: s.id,
                at: s.at.map(point),
                work: s.work.into_iter().map(work).collect(),
            };
            let leg = |l: $older::Leg| wire::Leg {
                from: l.from,
                from_side: side(l.from_side),
                to: l.to,
                to_side: side(l.to_side),
                cell_across: l.cell_across,
                cell_down: l.cell_down,
                twists: l.twists,
            };
            wire::Repeat {
                across: point(raw.across),
                down: point(raw.down),
                stitches: raw.stitches.into_iter().map(stitch).collect(),
                legs: raw.legs.into_iter().map(leg).collect(),
            }
        }
    };
}

pub(super) use conversions;
