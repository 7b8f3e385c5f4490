//! The texts and values of contributions: texts made harmless, ids and ranges
//! checked, settings resolved, nonsense refused.

use catalogue::{Change, Kind, ResolveError, Settings, Value};
use sandbox::{SandboxError, limits};

use crate::support::{Answer, Options, Set, Text, load, torchon};

#[track_caller]
fn bad_about(text: Text, hint: &str) {
    let error = text.load().unwrap_err();
    let message = error.to_string();
    assert!(matches!(error, SandboxError::BadAbout { .. }), "{message}");
    assert!(message.starts_with("hostile.wasm: ") && message.contains(hint), "{message}");
    assert!(!message.chars().any(char::is_control), "{message:?}");
}

#[track_caller]
fn bad_repeat(change: impl FnOnce(&mut Answer), hint: &str) {
    let error = Text::answer(change).ask().unwrap_err();
    let message = error.to_string();
    assert!(matches!(error, SandboxError::BadRepeat { .. }), "{message}");
    assert!(message.starts_with("hostile (hostile.wasm): ") && message.contains(hint), "{message}");
    assert!(!message.chars().any(char::is_control), "{message:?}");
}

#[test]
fn torchon_says_what_it_is() {
    let about = load(torchon()).unwrap().about;
    assert_eq!((about.id.as_str(), about.kind, about.angle), ("torchon", Kind::Ground, 45.0));
    assert_eq!(about.varieties.get_index(0).unwrap().0, "plain");
    assert!(about.choices["stitch"].range.holds(&Value::Named("double".into())));
    assert_eq!(about.varieties["double"].settings["stitch"], Value::Named("double".into()));
}

#[test]
fn texts_are_made_harmless() {
    let about = Text::describing(|about| {
        about.title = "Red \u{1b}[31m\u{202E}ground\u{7}\n<b>".into();
        about.notes = "one\r\ntwo\u{200B}".into();
    })
    .load()
    .unwrap()
    .about;
    assert_eq!(about.title, "Red [31mground <b>");
    assert_eq!(about.notes, "one two");
}

#[test]
fn texts_and_lists_are_limited() {
    let long = |chars: usize| "x".repeat(chars);
    assert!(Text::describing(|s| s.title = long(limits::TITLE_CHARS)).load().is_ok());
    bad_about(
        Text::describing(|s| s.title = long(limits::TITLE_CHARS + 1)),
        "81 characters long; at most 80",
    );
    bad_about(Text::describing(|s| s.title = String::new()), "the title is empty");
    bad_about(Text::describing(|s| s.title = "\u{202E}\n".into()), "the title is empty");
    bad_about(Text::describing(|s| s.notes = long(limits::NOTES_CHARS + 1)), "the notes");
    bad_about(Text::describing(|s| s.languages = vec!["en".into(); 33]), "33 other names; at most 32");
    bad_about(Text::describing(|s| s.languages = vec!["<en>".into()]), "is no language");
    bad_about(Text::describing(|s| s.varieties = Vec::new()), "0 varieties; 1 to 64");
    bad_about(
        Text::describing(|s| s.varieties = vec![("v".into(), Vec::new()); 65]),
        "65 varieties; 1 to 64",
    );
    let count = || Options::Count(0, 1, Set::Count(0));
    bad_about(
        Text::describing(|s| s.choices = (0..17).map(|n| (format!("c{n}"), count())).collect()),
        "17 choices; 0 to 16",
    );
    let options =
        |n: usize| Options::Named((0..n).map(|n| format!("o{n}")).collect(), Set::Named("o0".into()));
    assert!(Text::describing(|s| s.choices = vec![("c".into(), options(32))]).load().is_ok());
    bad_about(
        Text::describing(|s| s.choices = vec![("c".into(), options(33))]),
        "33 options of `c`; 1 to 32",
    );
    bad_about(Text::describing(|s| s.choices = vec![("c".into(), options(0))]), "0 options of `c`");
}

#[test]
fn ids_are_plain_words_and_unique() {
    for bad in ["", "../../etc/passwd", "Rose", "a b", "a\u{202E}b", "\u{1b}[31m", "-x"] {
        bad_about(Text::describing(|s| s.id = bad.as_bytes().to_vec()), "the id is `");
    }
    bad_about(Text::describing(|s| s.family = "<b>".into()), "the family is `<b>`");
    bad_about(
        Text::describing(|s| s.varieties = vec![("a".into(), Vec::new()), ("B".into(), Vec::new())]),
        "the id of the 2nd variety is `B`",
    );
}

/// Pages and pictures are named after choices and options too.
#[test]
fn ids_can_name_files_on_every_system() {
    let count = |id: &str| (id.to_owned(), Options::Count(0, 1, Set::Count(0)));
    let named = |id: &str| Options::Named(vec!["a".into(), id.into()], Set::Named("a".into()));
    for device in ["con", "prn", "aux", "nul", "com1", "lpt9"] {
        let kept = format!("is `{device}`, a name that some systems keep for a device");
        bad_about(Text::describing(|s| s.id = device.as_bytes().to_vec()), &kept);
        let choices = vec![count("a"), count(device)];
        bad_about(Text::describing(|s| s.choices = choices), &format!("the id of the 2nd choice {kept}"));
        let choices = vec![("c".into(), named(device))];
        bad_about(
            Text::describing(|s| s.choices = choices),
            &format!("the id of the 2nd option of `c` {kept}"),
        );
    }
    for word in ["cone", "com", "com10", "nulls"] {
        assert!(
            Text::describing(|s| s.choices = vec![count(word), ("c".into(), named(word))]).load().is_ok()
        );
    }
}

#[test]
fn titles_can_be_seen() {
    for unseen in ["\u{3164}", "\u{2800} \u{2800}", "\u{200D}\u{200C}", "\u{FE0F}", "\u{115F}\u{1160}\u{34F}"]
    {
        bad_about(Text::describing(|s| s.title = unseen.into()), "only characters that cannot be seen");
        assert!(Text::describing(|s| s.title = format!("{unseen}Rose")).load().is_ok());
    }
}

#[test]
fn a_choice_of_a_number_has_few_enough_to_list() {
    let count = |least, most| {
        Text::describing(|s| s.choices = vec![("c".into(), Options::Count(least, most, Set::Count(least)))])
    };
    for (least, most) in [(0, 9_999), (i32::MIN, i32::MIN + 9_999), (i32::MAX - 9_999, i32::MAX), (7, 7)] {
        let about = count(least, most).load().unwrap().about;
        assert!(about.choices["c"].range.values().count() <= 10_000);
    }
    for (least, most) in [(0, 10_000), (i32::MIN, i32::MAX), (-1, i32::MAX)] {
        let values = i64::from(most) - i64::from(least) + 1;
        bad_about(
            count(least, most),
            &format!("choice `c` has {values} values, from {least} to {most}; at most 10000 are possible"),
        );
    }
}

/// For a duplicate id the message names both positions.
#[test]
fn duplicates_are_reported_with_both_positions() {
    let varieties = |ids: &[&str]| {
        let varieties = ids.iter().map(|id| ((*id).to_owned(), Vec::new())).collect();
        Text::describing(|s| s.varieties = varieties)
    };
    bad_about(varieties(&["v", "v"]), "two varieties called `v`, the 1st and the 2nd; rename one of them");
    bad_about(varieties(&["a", "v", "b", "c", "v"]), "two varieties called `v`, the 2nd and the 5th");
    let count = |id: &str| (id.to_owned(), Options::Count(0, 1, Set::Count(0)));
    let choices = |ids: &[&str]| {
        let choices = ids.iter().map(|id| count(id)).collect();
        Text::describing(|s| s.choices = choices)
    };
    bad_about(choices(&["c", "c"]), "two choices called `c`, the 1st and the 2nd");
    bad_about(choices(&["a", "b", "c", "b"]), "two choices called `b`, the 2nd and the 4th");
    let twice = Options::Named(vec!["a".into(), "o".into(), "o".into()], Set::Named("o".into()));
    bad_about(
        Text::describing(|s| s.choices = vec![("c".into(), twice)]),
        "two options of `c` called `o`, the 2nd and the 3rd",
    );
    bad_about(
        Text::describing(|s| {
            s.choices = vec![count("a"), count("b")];
            let set = |id: &str| (id.to_owned(), Set::Count(1));
            s.varieties = vec![("v".into(), vec![set("b"), set("a"), set("b")])];
        }),
        "variety `v` sets `b` twice, in its 1st and its 3rd setting",
    );
}

#[test]
fn a_text_that_is_not_utf_8_breaks_off() {
    let error = Text::describing(|s| s.id = vec![0xff, 0xfe, 0x80]).load().unwrap_err();
    assert!(matches!(error, SandboxError::Stopped { .. }), "{error}");
}

#[test]
fn defaults_varieties_and_angles_must_lie_in_range() {
    let named = |default: Set| Options::Named(vec!["a".into(), "b".into()], default);
    let choice = |options| Text::describing(|s| s.choices = vec![("c".into(), options)]);
    bad_about(choice(named(Set::Named("x".into()))), "choice `c` is `x` by default; it can be a, b");
    bad_about(choice(named(Set::Count(0))), "choice `c` is `0` by default; it can be a, b");
    for wrong in [Set::Count(4), Set::Count(0), Set::Count(i32::MIN)] {
        bad_about(choice(Options::Count(1, 3, wrong)), "` by default; it can be a whole number from 1 to 3");
    }
    bad_about(
        choice(Options::Count(1, 3, Set::Named("a".into()))),
        "choice `c` is `a` by default; it can be a whole number from 1 to 3",
    );
    bad_about(choice(Options::Count(3, 1, Set::Count(2))), "the smaller number comes first");
    let variety = |settings: Vec<(String, Set)>| {
        Text::describing(|s| {
            s.choices = vec![("c".into(), named(Set::Named("a".into())))];
            s.varieties = vec![("v".into(), settings)];
        })
    };
    assert!(variety(vec![("c".into(), Set::Named("b".into()))]).load().is_ok());
    bad_about(
        variety(vec![("d".into(), Set::Named("b".into()))]),
        "variety `v` sets `d`, which is not one of its choices; the choices are c",
    );
    bad_about(variety(vec![("cc".into(), Set::Named("b".into()))]), "the choices are c (did you mean `c`?)");
    bad_about(
        Text::describing(|s| s.varieties = vec![("v".into(), vec![("d".into(), Set::Count(1))])]),
        "variety `v` sets `d`, which is not one of its choices; there are no choices",
    );
    bad_about(
        variety(vec![("c".into(), Set::Named("x".into()))]),
        "variety `v` sets `c` to `x`; it can be a, b",
    );
    bad_about(variety(vec![("c".into(), Set::Count(2))]), "variety `v` sets `c` to `2`; it can be a, b");
    bad_about(
        Text::describing(|s| {
            s.choices = vec![("c".into(), Options::Count(1, 3, Set::Count(1)))];
            s.varieties = vec![("v".into(), vec![("c".into(), Set::Count(7))])];
        }),
        "variety `v` sets `c` to `7`; it can be a whole number from 1 to 3",
    );
    bad_about(
        variety(vec![("c".into(), Set::Named("a".into())), ("c".into(), Set::Named("b".into()))]),
        "twice",
    );
    for angle in [0.0, 19.9, 75.1, -45.0, f64::NAN, f64::INFINITY] {
        bad_about(Text::describing(|s| s.angle = angle), "it lies between 20 and 75");
    }
    for spacing in [0.0, 0.4, 100.1, -4.0, f64::NAN, f64::INFINITY] {
        bad_about(Text::describing(|s| s.pin_spacing = Some(spacing)), "it lies between 0.5 and 100");
    }
    for spacing in [None, Some(0.5), Some(1.75), Some(100.0)] {
        let plugin = Text::describing(|s| s.pin_spacing = spacing).load().unwrap();
        assert_eq!(plugin.about.pin_spacing_mm, spacing);
    }
}

#[test]
fn settings_are_resolved_or_the_mistake_is_reported() {
    let plugin = load(torchon()).unwrap();
    let resolve = |variety: Option<&str>, with: &[(&str, &str)]| {
        let with: Vec<_> = with.iter().map(|(choice, value)| Change::new(*choice, value)).collect();
        plugin.about.resolve(variety, &with)
    };
    let settings = resolve(Some("double"), &[("twists", "2")]).unwrap();
    let expected = [("stitch", Value::Named("double".into())), ("twists", Value::Count(2))];
    assert!(settings.iter().map(|(c, v)| (c.as_str(), v)).eq(expected.iter().map(|(c, v)| (*c, v))));
    let repeat = plugin.define(&settings).unwrap();
    assert_eq!(repeat.stitches[0].stitch.to_string(), "CTCT pin CTCT");
    assert_eq!(repeat.legs[0].twists, 2);

    let message = |variety, with: &[(&str, &str)]| resolve(variety, with).unwrap_err().to_string();
    let text = message(Some("duoble"), &[]);
    assert!(
        text.starts_with("torchon has no variety `duoble` (did you mean `double`?); there are plain, "),
        "{text}"
    );
    assert_eq!(
        message(None, &[("stich", "half")]),
        "torchon has no choice `stich` (did you mean `stitch`?); there are stitch, twists"
    );
    let text = message(None, &[("stitch", "dooble")]);
    assert!(text.contains("cannot be `dooble` (did you mean `double`?); it can be half-half, "), "{text}");
    for wrong in ["4", "-1", "two", "1.5", "99999999999"] {
        let text = message(None, &[("twists", wrong)]);
        assert!(
            text.ends_with(&format!("cannot be `{wrong}`; it can be a whole number from 0 to 3")),
            "{text}"
        );
    }
    let mut settings = plugin.about.defaults();
    settings.insert("twists".into(), Value::Count(9));
    assert!(matches!(
        plugin.define(&settings),
        Err(SandboxError::Unknown(ResolveError::UnknownValue { .. }))
    ));
    settings.insert("twists".into(), Value::Named("half".into()));
    assert!(matches!(
        plugin.define(&settings),
        Err(SandboxError::Unknown(ResolveError::UnknownValue { .. }))
    ));
    assert!(plugin.define(&Settings::new()).is_ok(), "what is not set is at its default");
}

#[test]
fn a_refusal_is_passed_on_in_its_own_words() {
    // Case 1 of the result, no choice to blame, a sentence in memory.
    let refusing = Text {
        fields: r#"(data (i32.const 65536) "\01\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\40\00\01\00\10\00\00\00")
                   (data (i32.const 65600) "Too\1b many twists")"#
            .into(),
        ..Text::define("(return (i32.const 65536))")
    };
    let error = refusing.ask().unwrap_err();
    assert_eq!(error.to_string(), "hostile: Too many twists");
}

#[test]
fn an_invalid_repeat_is_refused() {
    bad_repeat(|a| a.stitches[0].0 = "a\u{1b}b".into(), "a stitch is called `a b`");
    bad_repeat(|a| a.legs[0].2 = 1, "a leg names stitch 1, but the last is number 0");
    bad_repeat(|a| a.legs[1].0 = u32::MAX, "a leg names stitch 4294967295");
    bad_repeat(|a| a.stitches[0].1 = vec![0, 6, 6], "at `pin` a stitch holds one pin");
    bad_repeat(|a| a.stitches[0].1 = vec![0; limits::MOVES + 1], "256 moves at most");
    bad_repeat(|a| a.stitches = vec![("s".into(), vec![0]); limits::STITCHES + 1], "2001 stitches");
    bad_repeat(|a| a.legs = vec![(0, 0, 0, 1); 2 * limits::STITCHES + 1], "4001 legs");
    bad_repeat(|a| a.stitches.clear(), "a leg names stitch 0");
    let work = vec![0; limits::MOVES];
    let most = limits::ALL_MOVES / limits::MOVES;
    let many = |n: usize| vec![("s".to_owned(), work.clone()); n];
    assert!(Text::answer(|a| a.stitches = many(most)).ask().is_ok());
    bad_repeat(|a| a.stitches = many(most + 1), "moves and twists in all; at most 10000");
}

/// The sandbox lets wrong numbers and wiring through; `lace::check` finds them.
#[test]
fn a_repeat_that_is_not_a_ground_is_found_by_the_check() {
    let found = |change: &dyn Fn(&mut Answer)| {
        let repeat = Text::answer(change).ask().unwrap();
        lace::check(&repeat).into_iter().any(|finding| finding.is_error())
    };
    assert!(!found(&|_| {}));
    assert!(found(&|a| a.across = (f64::NAN, 1.0)));
    assert!(found(&|a| a.across = (f64::INFINITY, 1.0)));
    assert!(found(&|a| a.across = (1e300, 1.0)));
    assert!(found(&|a| a.legs.truncate(1)));
    assert!(found(&|a| a.legs.clear()));
    assert!(found(&|a| a.twists = u32::MAX));
    assert!(found(&|a| {
        a.stitches.clear();
        a.legs.clear();
    }));
}

#[test]
fn sides_and_moves_that_do_not_exist_break_off() {
    for change in [(|a: &mut Answer| a.stitches[0].1 = vec![7]) as fn(&mut Answer), |a| a.legs[0].1 = 2] {
        let error = Text::answer(change).ask().unwrap_err();
        assert!(matches!(error, SandboxError::Stopped { .. }), "{error}");
    }
}
