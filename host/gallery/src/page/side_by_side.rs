//! Every ground in every arrangement.

use minijinja::value::Serde;
use minijinja::{Value, context};

use super::table::{CELL_PX, Row, columns};
use crate::GalleryError;
use crate::shared::Gallery;

/// Writes the page.
pub fn write<E>(gallery: &Gallery<'_, E>, rows: &[Row]) -> Result<(), GalleryError<E>> {
    let left_out = gallery.plan.arrangements.left_out();
    let what = context! {
        columns => columns(gallery.arrangements()),
        rows => Value::from(Serde(rows)),
        cell_px => CELL_PX,
        left_out => u64::try_from(left_out).unwrap_or(u64::MAX),
    };
    gallery.page("side-by-side.html", "", "side-by-side.html", what)
}
