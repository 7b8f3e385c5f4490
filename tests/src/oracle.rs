//! What must hold for any bytes of a contribution: they are refused with a
//! message, or their results keep the rules and have been checked. Used by the
//! tests on random bytes and the fuzz targets.

use catalogue::text;
use lace::Ground;
use sandbox::{Plugin, Sandbox, SandboxError, Source, limits};

/// How far some bytes got.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Came {
    /// They are not a contribution.
    Refused,
    /// They describe themselves, but define no repeat.
    Said,
    /// They define a faulty repeat.
    Defined,
    /// They define a ground.
    Ground,
}

/// The file name used here.
const NAME: &str = "random.wasm";

/// Loads bytes and asks for the usual repeat.
///
/// # Panics
/// If a result breaks a rule: that is what the tests look for.
pub fn component(sandbox: &Sandbox, bytes: &[u8]) -> Came {
    let source = Source::Bytes { name: NAME.to_owned(), bytes: bytes.to_vec().into() };
    let plugin = match sandbox.load(&source) {
        Ok(plugin) => plugin,
        Err(why) => {
            check_refusal(&why);
            return Came::Refused;
        }
    };
    check_about(&plugin);
    defined(&plugin)
}

/// A refusal names the file and says what is wrong, on one line. It is never an
/// internal error, as when a library gives up on the bytes.
fn check_refusal(why: &SandboxError) {
    let message = why.to_string();
    assert!(!matches!(why, SandboxError::Machinery { .. }), "{message}");
    assert!(message.contains(NAME) || matches!(why, SandboxError::Problem { .. }), "{message}");
    assert!(message.len() > NAME.len() + 8 && message.len() < 2000, "{message}");
    assert_eq!(text::clean(&message), message, "it would not be shown as it is");
}

/// Checks that a contribution's description keeps the rules.
fn check_about(plugin: &Plugin) {
    let about = &plugin.about;
    let plain = |text: &str, most: usize| {
        assert_eq!(text::clean(text), text);
        assert!(text.chars().count() <= most, "{text}");
    };
    assert!(text::is_plain_word(&about.id) && !text::is_device(&about.id), "{}", about.id);
    assert!(text::is_plain_word(&about.family), "{}", about.family);
    assert!((20.0..=75.0).contains(&about.angle), "{}", about.angle);
    plain(&about.title, limits::TITLE_CHARS);
    plain(&about.notes, limits::NOTES_CHARS);
    plain(&about.source, limits::SENTENCE_CHARS);
    about.laces.iter().for_each(|lace| plain(lace, limits::TITLE_CHARS));
    about.other_names.iter().for_each(|other| plain(&other.name, limits::TITLE_CHARS));
    assert!((1..=limits::VARIETIES).contains(&about.varieties.len()));
    assert!(about.choices.len() <= limits::CHOICES);
    for (id, choice) in &about.choices {
        assert!(text::is_plain_word(id) && choice.range.holds(&choice.default), "{id}");
        plain(&choice.title, limits::TITLE_CHARS);
    }
    for (id, variety) in &about.varieties {
        assert!(text::is_plain_word(id) && !text::is_device(id), "{id}");
        plain(&variety.title, limits::TITLE_CHARS);
        let settings = about.resolve(Some(id), &[]).expect("its settings lie in their ranges");
        assert_eq!(settings.len(), about.choices.len());
    }
}

/// Checks that a repeat is a ground only if it has no errors.
fn defined(plugin: &Plugin) -> Came {
    let settings = plugin.about.resolve(None, &[]).expect("there is a usual variety");
    let repeat = match plugin.define(&settings) {
        Ok(repeat) => repeat,
        Err(why) => {
            check_refusal(&why);
            return Came::Said;
        }
    };
    assert!(repeat.stitches.len() <= limits::STITCHES && repeat.legs.len() <= 2 * limits::STITCHES);
    let findings = lace::check(&repeat);
    let faulty = findings.iter().any(lace::Finding::is_error);
    for finding in &findings {
        let sentence = finding.to_string();
        assert!(!sentence.is_empty() && !sentence.chars().any(char::is_control), "{sentence:?}");
    }
    match Ground::new(repeat) {
        Ok(ground) => {
            assert!(!faulty, "{findings:?}");
            assert!(!ground.orbits().is_empty() && !ground.travel_sentence().is_empty());
            Came::Ground
        }
        Err(same) => {
            assert!(faulty, "{same:?}");
            Came::Defined
        }
    }
}
