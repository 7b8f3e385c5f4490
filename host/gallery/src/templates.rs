//! The templates of the pages, ready to render.

use manual::glossary::look_up;
use minijinja::{Environment, Error, ErrorKind, HtmlEscape, State, Value};

use crate::sources::TEMPLATES;

/// All templates.
pub fn all() -> Result<Environment<'static>, Error> {
    let mut templates = Environment::new();
    templates.add_function("word", word);
    for (name, text) in TEMPLATES {
        templates.add_template(name, text)?;
    }
    Ok(templates)
}

/// `word(TEXT)` or `word(TEXT, TERM)` in a template: the text as a link to its
/// entry in the glossary. A word without an entry is an error in the template.
fn word(state: &State<'_, '_>, text: String, term: Option<String>) -> Result<Value, Error> {
    let term = term.unwrap_or_else(|| text.clone()).to_lowercase();
    let found = look_up(&term).ok_or_else(|| {
        Error::new(ErrorKind::InvalidOperation, format!("the glossary has no entry for `{term}`"))
    })?;
    let root = state.lookup("root").unwrap_or_default();
    Ok(Value::from_safe_string(format!(
        "<a class=\"word\" href=\"{root}glossary.html#{}\">{}</a>",
        found.anchor(),
        HtmlEscape(&text)
    )))
}

#[cfg(test)]
mod tests {
    use minijinja::context;
    use picture::colour::vision::contrast;
    use picture::colour::{Rgb, rgb};

    use super::*;
    use crate::sources::STYLE;

    #[test]
    fn every_word_that_a_template_links_is_in_the_glossary() {
        let mut linked = 0;
        for (name, text) in TEMPLATES {
            for call in text.split("word(").skip(1) {
                let arguments: Vec<&str> =
                    call.split(')').next().unwrap().split('"').skip(1).step_by(2).collect();
                let term = arguments.last().unwrap_or_else(|| panic!("{name}: word({call}"));
                assert!(look_up(&term.to_lowercase()).is_some(), "{name} links `{term}`");
                linked += 1;
            }
        }
        assert!(linked > 10, "{linked}");
    }

    #[test]
    fn a_link_to_no_entry_is_a_fault() {
        let templates = all().unwrap();
        let render = |text: &str| templates.render_named_str("x.html", text, context! { root => "../" });
        assert_eq!(
            render("{{ word('Pins', 'pin') }}").unwrap(),
            "<a class=\"word\" href=\"../glossary.html#pin\">Pins</a>"
        );
        assert!(format!("{:#}", render("{{ word('warp') }}").unwrap_err()).contains("`warp`"));
        // A contribution's text reaches pages as a value, and values are escaped.
        assert_eq!(render("{{ '<b>&\"' }}").unwrap(), "&lt;b&gt;&amp;&quot;");
    }

    // W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.3:
    // text at least 4.5 to 1 against what it stands on.
    #[test]
    fn text_stands_out_in_light_and_in_dark() {
        let colour = |scheme: &str, name: &str| -> Rgb {
            let value = scheme.split(&format!("--{name}: #")).nth(1).unwrap();
            let part = |k: usize| u8::from_str_radix(&value[2 * k..2 * k + 2], 16).unwrap();
            rgb(part(0), part(1), part(2))
        };
        let schemes: Vec<&str> = STYLE.split(":root {").skip(1).collect();
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
