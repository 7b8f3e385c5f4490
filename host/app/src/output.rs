//! Output: lines to the terminal, and files and folders that appear complete or
//! not at all.

mod file;
mod folder;
mod gallery;
mod pages;
mod place;
mod terminal;
mod unfinished;

pub use file::{write_file, write_new_file};
pub use folder::NewFolder;
pub use gallery::NewGallery;
pub use pages::{Earlier, PageOf, marked, page_path, remove_earlier};
pub use terminal::{note, print, warn};
pub use unfinished::outlive_full_files;
