//! What the document is divided into: its contents and its bookmarks.

use super::page_place::PagePlace;

/// Something with a heading, and where it begins.
#[derive(Debug, Clone)]
pub(super) struct ContentsEntry {
    pub(super) heading: String,
    pub(super) place: PagePlace,
}

/// An entry of the contents with those below it.
#[derive(Debug, Clone)]
pub(super) struct Chapter {
    pub(super) own: ContentsEntry,
    pub(super) sections: Vec<ContentsEntry>,
}

impl Chapter {
    /// Its own entry, then its sections'.
    pub(super) fn entries(&self) -> impl Iterator<Item = &ContentsEntry> {
        std::iter::once(&self.own).chain(&self.sections)
    }
}
