//! The page of faults and remedies: as part of a gallery, with pictures in files, or
//! on its own, with everything in one file.

use manual::page::{PicturePlace, page as parts};
use manual::pictures::{ExamplePictures, draw_all};
use minijinja::value::Serde;
use minijinja::{Error, Value, context};

use crate::GalleryError;
use crate::shared::Gallery;
use crate::{sources, templates, typeface};

/// Writes the page and its pictures.
pub fn write<E>(gallery: &Gallery<'_, E>) -> Result<(), GalleryError<E>> {
    let pictures = draw_all();
    for picture in pictures.iter().flatten().flatten() {
        gallery.write(&format!("faults/{}.svg", picture.name), picture.svg_file().as_bytes())?;
    }
    gallery.page("faults.html", "", "faults.html", contents(&pictures, PicturePlace::Folder("faults")))
}

/// The page on its own. `version` is that of the program, for the footer.
///
/// # Errors
/// A template that cannot be rendered, which is a fault of this program.
pub fn alone(version: &str) -> Result<String, Error> {
    let contents = context! {
        style => Value::from_safe_string(typeface::inlined(sources::STYLE)),
        version,
        ..contents(&draw_all(), PicturePlace::Inline)
    };
    templates::all()?.get_template("faults.html")?.render(contents)
}

fn contents(pictures: &[ExamplePictures], place: PicturePlace<'_>) -> Value {
    let layout = match place {
        PicturePlace::Inline => "alone.html",
        PicturePlace::Folder(_) => "frame.html",
    };
    context! { parts => Value::from(Serde(parts(pictures, place))), layout }
}
