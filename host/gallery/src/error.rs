//! What can go wrong while a gallery is written.

use thiserror::Error;

/// Why a gallery could not be written. `E` is the error of the file sink.
#[derive(Debug, Error)]
pub enum GalleryError<E> {
    /// A file could not be stored.
    #[error("{0}")]
    Write(E),
    /// A ground could not be pricked or drawn.
    #[error(transparent)]
    Compare(#[from] compare::error::Error),
    /// A document that cannot be written as PDF: a fault of this program.
    #[error(transparent)]
    Pdf(#[from] picture::export::pdf::PdfError),
    /// A template that cannot be rendered: a fault of this program.
    #[error(transparent)]
    Page(#[from] minijinja::Error),
    /// Data that cannot be written as JSON: a fault of this program.
    #[error(transparent)]
    Json(#[from] serde_json::Error),
}

impl<E> From<picture::drawing::pricking::PrickingError> for GalleryError<E> {
    fn from(why: picture::drawing::pricking::PrickingError) -> Self {
        GalleryError::Compare(why.into())
    }
}

impl<E> From<lace::GridError> for GalleryError<E> {
    fn from(why: lace::GridError) -> Self {
        GalleryError::Compare(why.into())
    }
}
