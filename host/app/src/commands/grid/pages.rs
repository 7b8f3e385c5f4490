//! Writing pages one after the other, so that memory holds only one at a time.

use std::path::{Path, PathBuf};

use compare::comparison::{Comparison, PicturePlace};
use report::grid::Page;

use crate::cli::GridArgs;
use crate::failure::Failure;
use crate::output::write_file;
use crate::progress::Progress;

/// The pages written.
pub struct Written {
    /// Each page.
    pub pages: Vec<Page>,
    /// The page number of each picture, and its position on that page.
    pub places: Vec<(usize, PicturePlace)>,
}

/// Paints and writes the pages of a comparison.
pub fn write(comparison: &Comparison, args: &GridArgs) -> Result<Written, Failure> {
    let pages = comparison.pages(args.page);
    let progress = Progress::new(pages.len(), "Painting pages");
    let mut written = Written { pages: Vec::with_capacity(pages.len()), places: Vec::new() };
    for number in 0..pages.len() {
        let painted = pages.paint(number);
        let image = match args.reduce {
            Some(most) => painted.image.reduced(most),
            None => painted.image,
        };
        let path = path(&args.out, number, pages.len());
        let (width, height) = (image.width(), image.height());
        write_file(&path, &image.into_png(pages.px_per_mm()))?;
        let file = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        written.pages.push(Page { file, width, height });
        written.places.extend(painted.places.into_iter().map(|place| (number, place)));
        progress.step();
    }
    Ok(written)
}

/// The file of a page: the name given, with a number if there are several pages.
pub fn path(out: &Path, number: usize, pages: usize) -> PathBuf {
    if pages == 1 {
        return out.to_owned();
    }
    let mut name = out.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{}", number + 1));
    if let Some(ending) = out.extension() {
        name.push(".");
        name.push(ending);
    }
    out.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_are_numbered_before_the_ending() {
        assert_eq!(path(Path::new("a/grid.png"), 0, 1), Path::new("a/grid.png"));
        assert_eq!(path(Path::new("a/grid.png"), 1, 3), Path::new("a/grid-2.png"));
        assert_eq!(path(Path::new("my.class.png"), 0, 2), Path::new("my.class-1.png"));
        assert_eq!(path(Path::new("grid"), 9, 12), Path::new("grid-10"));
    }
}
