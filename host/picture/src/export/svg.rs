//! A drawing as SVG.
//!
//! Sizes are in millimetres. Every group of the drawing becomes a named group;
//! letters are outlines, so that they look the same without the font. A page that
//! contains the SVG can recolour it without redrawing: class `k` of the threads
//! takes the CSS variable `--thread-k` in viewers that support `color-mix()`;
//! others show the colours as drawn.

use std::fmt::Write;

use indexmap::{IndexMap, IndexSet};
use lace::{Point, number_to, point};

use crate::colour::{Rgb, Tone};
use crate::drawing::font;
use crate::drawing::{Background, Cap, Drawing, Face, Ink, Paint, Path, Shape, Step, Stroke, Text};

/// The drawing as the text of an SVG file.
///
/// `prefix` is put before every name in it, so that one page can hold several.
/// Only its letters, digits, hyphens and underscores are kept.
pub fn to_svg(drawing: &Drawing, prefix: &str) -> String {
    written(drawing, prefix, false)
}

/// The drawing as an element of an HTML page: one picture, labelled by its title,
/// whose width is set by the page. `prefix` is as for [`to_svg`] and must differ
/// for each picture of the page.
pub fn to_inline_svg(drawing: &Drawing, prefix: &str) -> String {
    written(drawing, prefix, true)
}

fn written(drawing: &Drawing, prefix: &str, inline: bool) -> String {
    let prefix: String =
        prefix.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-' || *c == '_').collect();
    let mut writer = Writer { drawing, prefix, tones: IndexSet::new(), glyphs: IndexMap::new() };
    let mut body = String::new();
    let mut clips = String::new();
    for (k, group) in drawing.groups.iter().enumerate() {
        let clip = group.clip.map(|r| {
            let id = format!("{}clip-{k}", writer.prefix);
            let [x, y, w, h] = [r.x, r.y, r.width, r.height].map(number);
            let _ = writeln!(
                clips,
                r#"<clipPath id="{id}"><rect x="{x}" y="{y}" width="{w}" height="{h}"/></clipPath>"#
            );
            format!(r#" clip-path="url(#{id})""#)
        });
        let id = escaped(&format!("{}{}", writer.prefix, group.id));
        let _ = writeln!(body, r#"<g id="{id}"{}>"#, clip.unwrap_or_default());
        for shape in &group.shapes {
            writer.shape(&mut body, shape);
        }
        body.push_str("</g>\n");
    }
    let [w, h] = [drawing.width, drawing.height].map(number);
    let title = escaped(&drawing.title);
    let mut svg = if inline {
        let name = format!("{}title", writer.prefix);
        format!(
            "<svg role=\"img\" aria-labelledby=\"{name}\" viewBox=\"0 0 {w} {h}\">\n<title id=\"{name}\">{title}</title>\n"
        )
    } else {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">\n<title>{title}</title>\n"
        )
    };
    svg.push_str(&writer.style());
    if !clips.is_empty() || !writer.glyphs.is_empty() {
        let _ = writeln!(svg, "<defs>\n{clips}{}</defs>", writer.letters());
    }
    if let Background::Colour(background) = drawing.background {
        let _ = writeln!(svg, r#"<rect width="{w}" height="{h}" fill="{background}"/>"#);
    }
    svg.push_str(&body);
    svg.push_str("</svg>\n");
    svg
}

struct Writer<'a> {
    drawing: &'a Drawing,
    prefix: String,
    /// The classes and tones of threads in use.
    tones: IndexSet<(usize, Tone)>,
    /// The glyphs in use, and their names.
    glyphs: IndexMap<(Face, u16), String>,
}

impl Writer<'_> {
    fn colour(&self, class: usize) -> Rgb {
        self.drawing.colours.get(class).copied().unwrap_or(Rgb::BLACK)
    }

    /// Attributes that paint areas (`what` is `fill`) or lines (`stroke`), and the
    /// classes by which a page can recolour them.
    fn paint(&mut self, paint: Paint, what: &str) -> (String, Option<String>) {
        let (colour, class) = match paint.ink {
            Ink::Fixed(colour) => (colour, None),
            Ink::Thread { class, tone } => {
                self.tones.insert((class, tone));
                let name = format!("{p}t{class} {p}{what}{}", tone_name(tone), p = self.prefix);
                (tone.rgb(self.colour(class)), Some(name))
            }
        };
        let mut text = format!(r#" {what}="{colour}""#);
        if paint.opacity < 1.0 {
            let _ = write!(text, r#" {what}-opacity="{}""#, number(f64::from(paint.opacity)));
        }
        (text, class)
    }

    fn shape(&mut self, body: &mut String, shape: &Shape) {
        match shape {
            Shape::Path { path, fill, stroke } => self.path(body, path, *fill, *stroke),
            Shape::Text(text) => self.text(body, text),
        }
    }

    fn path(&mut self, body: &mut String, path: &Path, fill: Option<Paint>, stroke: Option<Stroke>) {
        let mut attributes = String::new();
        let mut classes = Vec::new();
        match fill {
            Some(paint) => {
                let (text, class) = self.paint(paint, "fill");
                attributes.push_str(&text);
                classes.extend(class);
            }
            None => attributes.push_str(r#" fill="none""#),
        }
        if let Some(stroke) = stroke {
            let (text, class) = self.paint(stroke.paint, "stroke");
            attributes.push_str(&text);
            classes.extend(class);
            let _ = write!(attributes, r#" stroke-width="{}" stroke-linejoin="round""#, number(stroke.width));
            if stroke.cap == Cap::Round {
                attributes.push_str(r#" stroke-linecap="round""#);
            }
            if let Some([dash, gap]) = stroke.dash {
                let _ = write!(attributes, r#" stroke-dasharray="{} {}""#, number(dash), number(gap));
            }
        }
        if !classes.is_empty() {
            let _ = write!(attributes, r#" class="{}""#, classes.join(" "));
        }
        let _ = writeln!(body, r#"<path{attributes} d="{}"/>"#, data(path));
    }

    fn text(&mut self, body: &mut String, text: &Text) {
        let (paint, class) = self.paint(text.paint, "fill");
        let class = class.map(|c| format!(r#" class="{c}""#)).unwrap_or_default();
        let words = escaped(&font::plain_words(&text.words));
        let _ = write!(body, r#"<g role="img" aria-label="{words}"{paint}{class}>"#);
        for glyph in font::set(text).0 {
            let count = self.glyphs.len();
            let prefix = &self.prefix;
            let name =
                self.glyphs.entry((text.face, glyph.id)).or_insert_with(|| format!("{prefix}letter-{count}"));
            let _ = write!(
                body,
                r##"<use href="#{name}" transform="translate({} {}) scale({})"/>"##,
                number(glyph.at.x),
                number(glyph.at.y),
                number(text.size)
            );
        }
        body.push_str("</g>\n");
    }

    /// The glyphs in use, one em high.
    fn letters(&self) -> String {
        let mut letters = String::new();
        for ((face, id), name) in &self.glyphs {
            let outline = font::glyph_outline(*face, *id, 1.0, point(0.0, 0.0));
            let _ = writeln!(letters, r#"<path id="{name}" d="{}"/>"#, data(&outline));
        }
        letters
    }

    /// The rules by which a page recolours threads.
    fn style(&self) -> String {
        if self.tones.is_empty() {
            return String::new();
        }
        let p = &self.prefix;
        let mut rules = String::from("<style>@supports (color: color-mix(in srgb, red, blue)) {\n");
        let classes: IndexSet<usize> = self.tones.iter().map(|(class, _)| *class).collect();
        for class in classes {
            let _ =
                writeln!(rules, ".{p}t{class} {{ color: var(--thread-{class}, {}) }}", self.colour(class));
        }
        let tones: IndexSet<Tone> = self.tones.iter().map(|(_, tone)| *tone).collect();
        for tone in tones {
            let other = if tone.percent() < 0 { "black" } else { "white" };
            let mixed = match tone.percent().unsigned_abs() {
                0 => "currentColor".to_owned(),
                share => format!("color-mix(in srgb, currentColor {}%, {other})", 100 - share),
            };
            for what in ["fill", "stroke"] {
                let _ = writeln!(rules, ".{p}{what}{} {{ {what}: {mixed} }}", tone_name(tone));
            }
        }
        rules.push_str("}</style>\n");
        rules
    }
}

/// The name of a tone in class names.
fn tone_name(tone: Tone) -> String {
    match tone.percent() {
        0 => "-plain".into(),
        dark if dark < 0 => format!("-dark-{}", -i32::from(dark)),
        light => format!("-light-{light}"),
    }
}

/// A length rounded to a thousandth of a millimetre (of an em, in letters), in
/// short form.
fn number(value: f64) -> String {
    number_to(value, 3)
}

/// The steps of a path, each relative to the previous one, in whole thousandths
/// of a millimetre (of an em, in letters) so that rounding errors do not add up.
fn data(path: &Path) -> String {
    let thousandths = |p: Point| [p.x, p.y].map(|v| (v * 1000.0).round() as i64);
    let mut text = String::with_capacity(12 * path.steps.len());
    let put = |text: &mut String, letter: char, from: [i64; 2], points: &[Point]| {
        text.push(letter);
        // A space goes where the numbers would run together: a second point begins
        // another number.
        let (mut bare, mut pointed) = (true, false);
        for p in points.iter().map(|&p| thousandths(p)) {
            for k in 0..2 {
                let number = short(p[k] - from[k]);
                let apart = number.starts_with('-') || (pointed && number.starts_with('.'));
                if !bare && !apart {
                    text.push(' ');
                }
                text.push_str(&number);
                (bare, pointed) = (false, number.contains('.'));
            }
        }
    };
    let (mut here, mut first) = ([0, 0], [0, 0]);
    for step in &path.steps {
        match *step {
            Step::Move(p) => {
                put(&mut text, 'M', [0, 0], &[p]);
                (here, first) = (thousandths(p), thousandths(p));
            }
            Step::Line(p) => {
                put(&mut text, 'l', here, &[p]);
                here = thousandths(p);
            }
            Step::Curve(a, b, p) => {
                put(&mut text, 'c', here, &[a, b, p]);
                here = thousandths(p);
            }
            Step::Close => {
                text.push('Z');
                here = first;
            }
        }
    }
    text
}

/// Thousandths as a decimal number without needless characters.
fn short(thousandths: i64) -> String {
    let text = number(thousandths as f64 / 1000.0);
    match text.strip_prefix("0.") {
        Some(rest) => format!(".{rest}"),
        None => text.strip_prefix("-0.").map_or(text.clone(), |rest| format!("-.{rest}")),
    }
}

/// Text for XML: markup is escaped, control characters are left out.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => safe.push(c),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_minus_zero() {
        assert_eq!(
            [number(1.5), number(-0.0001), number(210.0), number(0.12345)],
            ["1.5", "0", "210", "0.123"]
        );
    }

    #[test]
    fn paths_are_written_step_by_step() {
        let p = point;
        let path = Path {
            steps: vec![
                Step::Move(p(1.0, 2.0)),
                Step::Line(p(1.5, 1.25)),
                Step::Curve(p(1.5, 1.5), p(2.0, 2.0), p(3.0004, 2.0)),
                Step::Close,
                Step::Move(p(-0.5, 0.0)),
            ],
        };
        assert_eq!(data(&path), "M1 2l.5-.75c0 .25.5.75 1.5.75ZM-.5 0");
    }

    #[test]
    fn markup_in_text_is_escaped() {
        let drawing = Drawing::new(10.0, 10.0, "<script>&\"\u{7}");
        let svg = to_svg(&drawing, "a\"b c");
        assert!(svg.contains("<title>&lt;script&gt;&amp;&quot;</title>"), "{svg}");
    }

    #[test]
    fn pictures_on_one_page_have_unique_names_and_titles() {
        let mut drawing = Drawing::new(10.0, 5.0, "A <pin>");
        drawing.groups.push(crate::drawing::Group::new("pins"));
        let [one, two] = ["one-", "two-"].map(|prefix| to_inline_svg(&drawing, prefix));
        assert!(
            one.starts_with(r#"<svg role="img" aria-labelledby="one-title" viewBox="0 0 10 5">"#),
            "{one}"
        );
        assert!(one.contains(r#"<title id="one-title">A &lt;pin&gt;</title>"#), "{one}");
        let names = |svg: &str| -> Vec<String> {
            svg.split(" id=\"")
                .skip(1)
                .map(|rest| rest.split('"').next().unwrap_or_default().to_owned())
                .collect()
        };
        assert_eq!(names(&one), ["one-title", "one-pins"]);
        assert!(names(&two).iter().all(|name| !names(&one).contains(name)));
    }
}
