//! The page of findings: among the pages of a gallery, with pictures in files,
//! or by itself, with everything in one file.

use manual::page::{PicturePlace, page as parts};
use manual::pictures::{ExamplePictures, draw_all};
use minijinja::value::Serde;
use minijinja::{Environment, Value, context};

use super::Gallery;
use crate::failure::Failure;

/// Writes the page and its pictures.
pub fn page(gallery: &Gallery<'_>) -> Result<(), Failure> {
    let pictures = draw_all();
    for picture in pictures.iter().flatten().flatten() {
        gallery.folder.write(&format!("findings/{}.svg", picture.name), picture.svg_file().as_bytes())?;
    }
    gallery.page("findings.html", "", "findings.html", contents(&pictures, PicturePlace::Folder("findings")))
}

/// The page by itself.
pub fn alone(pages: &Environment<'_>) -> Result<String, Failure> {
    let style = Value::from_safe_string(::gallery::typeface::inlined(::gallery::sources::STYLE));
    let contents = context! {
        style,
        version => env!("CARGO_PKG_VERSION"),
        ..contents(&draw_all(), PicturePlace::Inline)
    };
    Ok(pages.get_template("findings.html")?.render(contents)?)
}

fn contents(pictures: &[ExamplePictures], place: PicturePlace<'_>) -> Value {
    let layout = match place {
        PicturePlace::Inline => "alone.html",
        PicturePlace::Folder(_) => "frame.html",
    };
    context! { parts => Value::from(Serde(parts(pictures, place))), layout }
}
