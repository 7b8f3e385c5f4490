//! The templates of the pages and what they can ask for.

use ::gallery::sources::TEMPLATES;
use manual::glossary::{Term, look_up};
use minijinja::value::Serde;
use minijinja::{Environment, Error, ErrorKind, HtmlEscape, State, Value, context};
use serde::Serialize;

use crate::failure::Failure;

/// All templates, ready to be filled.
pub fn pages() -> Result<Environment<'static>, Failure> {
    let mut pages = Environment::new();
    pages.add_function("word", word);
    for (name, text) in TEMPLATES {
        pages.add_template(name, text)?;
    }
    Ok(pages)
}

/// `word(TEXT)` or `word(TEXT, ENTRY)` in a template: the text as a link to its
/// entry in the glossary. A word without an entry is a fault of the template.
fn word(state: &State<'_, '_>, text: String, of: Option<String>) -> Result<Value, Error> {
    let of = of.unwrap_or_else(|| text.clone()).to_lowercase();
    let entry = look_up(&of).ok_or_else(|| {
        Error::new(ErrorKind::InvalidOperation, format!("the glossary has no entry for `{of}`"))
    })?;
    let root = state.lookup("root").unwrap_or_default();
    Ok(Value::from_safe_string(format!(
        "<a class=\"word\" href=\"{root}glossary.html#{}\">{}</a>",
        entry.anchor(),
        HtmlEscape(&text)
    )))
}

#[derive(Serialize)]
struct TermView {
    word: &'static str,
    anchor: String,
    also: &'static [&'static str],
    meaning: &'static str,
    origin: String,
    see: Vec<[String; 2]>,
}

/// What the page of the glossary shows: entries, and the letters they begin with.
pub fn glossary(entries: &[Term]) -> Value {
    let mut letters: indexmap::IndexMap<char, String> = indexmap::IndexMap::new();
    for entry in entries {
        let first = entry.word.chars().next().map_or('?', |c| c.to_ascii_uppercase());
        letters.entry(first).or_insert(entry.anchor());
    }
    let views: Vec<TermView> = entries
        .iter()
        .map(|entry| TermView {
            word: entry.word,
            anchor: entry.anchor(),
            also: entry.also,
            meaning: entry.meaning,
            origin: entry.origin.words(),
            see: entry.see.iter().map(|word| [(*word).to_owned(), word.replace(' ', "-")]).collect(),
        })
        .collect();
    let letters: Vec<(String, String)> = letters.into_iter().map(|(c, a)| (c.to_string(), a)).collect();
    context! { entries => Value::from(Serde(views)), letters => Value::from(Serde(letters)) }
}

#[cfg(test)]
mod tests {
    use picture::colour::vision::contrast;
    use picture::colour::{Rgb, rgb};

    use super::*;

    #[test]
    fn every_word_that_a_template_links_is_in_the_glossary() {
        let mut linked = 0;
        for (name, text) in TEMPLATES {
            for call in text.split("word(").skip(1) {
                let arguments: Vec<&str> =
                    call.split(')').next().unwrap().split('"').skip(1).step_by(2).collect();
                let of = arguments.last().unwrap_or_else(|| panic!("{name}: word({call}"));
                assert!(look_up(&of.to_lowercase()).is_some(), "{name} links `{of}`");
                linked += 1;
            }
        }
        assert!(linked > 10, "{linked}");
    }

    #[test]
    fn a_link_to_no_entry_is_a_fault() {
        let pages = pages().unwrap();
        let render = |text: &str| pages.render_named_str("x.html", text, context! { root => "../" });
        assert_eq!(
            render("{{ word('Pins', 'pin') }}").unwrap(),
            "<a class=\"word\" href=\"../glossary.html#pin\">Pins</a>"
        );
        assert!(format!("{:#}", render("{{ word('warp') }}").unwrap_err()).contains("`warp`"));
        // A contribution's text comes to pages as a value, and values are escaped.
        assert_eq!(render("{{ '<b>&\"' }}").unwrap(), "&lt;b&gt;&amp;&quot;");
    }

    // W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.3:
    // text at least 4.5 to 1 against what it stands on.
    #[test]
    fn text_stands_out_in_light_and_in_dark() {
        let style = ::gallery::sources::STYLE;
        let colour = |scheme: &str, name: &str| -> Rgb {
            let value = scheme.split(&format!("--{name}: #")).nth(1).unwrap();
            let part = |k: usize| u8::from_str_radix(&value[2 * k..2 * k + 2], 16).unwrap();
            rgb(part(0), part(1), part(2))
        };
        let schemes: Vec<&str> = style.split(":root {").skip(1).collect();
        assert_eq!(schemes.len(), 3, "light, dark, printed");
        for scheme in schemes {
            for text in ["ink", "quiet", "link"] {
                for on in ["paper", "card"] {
                    let ratio = contrast(colour(scheme, text), colour(scheme, on));
                    assert!(ratio >= 4.5, "{text} on {on}: {ratio:.2}");
                }
            }
        }
    }
}
