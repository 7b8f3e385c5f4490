//! Writing pages one after the other, so that memory holds only one at a time.

use std::path::{Path, PathBuf};

use catalogue::near::listed;
use catalogue::text::path_name;
use compare::comparison::{Comparison, PicturePlace};
use report::grid::Page;

use crate::cli::GridArgs;
use crate::failure::Failure;
use crate::output::{Earlier, PageOf, marked, note, page_path, remove_earlier, write_file};
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
        let page = PageOf { number: number + 1, all: pages.len() };
        let path = page_path(&args.out, page);
        let (width, height) = (image.width(), image.height());
        write_file(&path, &marked(image.into_png(pages.px_per_mm()), page))?;
        let file = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        written.pages.push(Page { file, width, height });
        written.places.extend(painted.places.into_iter().map(|place| (number, place)));
        progress.step();
    }
    Ok(written)
}

/// Removes the pages that an earlier run with more pages left beside these, and
/// tells the user; what may be the user's own stays, and is named.
pub fn clear_earlier(out: &Path, pages: usize) -> Result<(), Failure> {
    let Earlier { removed, kept } = remove_earlier(out, pages).map_err(Failure::write(out))?;
    if !removed.is_empty() {
        note(&format!("removed what an earlier grid of this name had more of: {}", names(&removed)));
    }
    if !kept.is_empty() {
        note(&format!(
            "not of this grid, though named like its pages, and not removed because they may be yours: {}",
            names(&kept)
        ));
    }
    Ok(())
}

fn names(files: &[PathBuf]) -> String {
    let names = files.iter().map(|file| path_name(file.file_name().unwrap_or_default().as_ref()));
    listed(names)
}
