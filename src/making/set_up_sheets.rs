//! The booklet as a file.

use crate::instructions::booklet::Booklet;
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::{html, pdf};

/// What a set-up sheet is read on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetFormat {
    /// A screen: HTML.
    Page(html::Renewal),
    /// Paper: PDF.
    Document(pdf::Paper),
}

/// A set-up sheet.
#[derive(Debug, Clone)]
pub struct SetUpFile {
    /// All of it.
    pub bytes: Vec<u8>,
    /// Letters that the document's type lacks; a sign stands in their place.
    pub lacking: Vec<char>,
}

/// A booklet in a format.
///
/// # Errors
/// Where a figure is not finite.
pub fn set_up_file(
    booklet: &Booklet,
    format: SheetFormat,
    units: UnitSystem,
) -> Result<SetUpFile, NotPrintable> {
    Ok(match format {
        SheetFormat::Page(renewal) => SetUpFile {
            bytes: html::html(booklet, units, renewal)?.into_bytes(),
            lacking: Vec::new(),
        },
        SheetFormat::Document(paper) => {
            let document = pdf::pdf(booklet, paper, units)?;
            SetUpFile {
                bytes: document.bytes,
                lacking: document.lacking.into_iter().collect(),
            }
        }
    })
}
