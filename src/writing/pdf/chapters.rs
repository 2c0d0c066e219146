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
    /// The same so many pages later.
    pub(super) fn moved(mut self, pages: usize) -> Chapter {
        self.own.place.page += pages;
        for section in &mut self.sections {
            section.place.page += pages;
        }
        self
    }

    /// Its own entry, then its sections'.
    pub(super) fn entries(&self) -> impl Iterator<Item = &ContentsEntry> {
        std::iter::once(&self.own).chain(&self.sections)
    }
}
