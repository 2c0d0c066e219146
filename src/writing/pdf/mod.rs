//! The set-up sheet as a document for paper: real text in an embedded font, templates at true size,
//! nothing that depends on time or place.
//!
//! Boxes of elements are set, filled into pages, and the pages written: `sections`, `pagination`,
//! `file`.

mod bookmarks;
mod cards;
mod chapters;
mod columns;
mod contents;
mod document;
mod drawing;
mod embedded_fonts;
mod file;
mod fitted;
mod fonts;
mod glyphs;
mod layout_box;
mod page_content;
mod page_element;
mod page_place;
mod pagination;
mod paper;
mod points;
mod sections;
mod stream;
mod structure;
mod table;
mod tags;
mod templates;
mod tick_lists;
mod typesetter;

pub use document::{PdfDocument, pdf};
pub use paper::Paper;
