//! Which glyphs of the fonts a document uses: only these are embedded.

use super::fonts::FontWeight;
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;

/// The glyphs that are used of both fonts.
#[derive(Default)]
pub(super) struct UsedGlyphs {
    plain: FontGlyphs,
    bold: FontGlyphs,
}

impl UsedGlyphs {
    pub(super) fn of(&self, weight: FontWeight) -> &FontGlyphs {
        match weight {
            FontWeight::Plain => &self.plain,
            FontWeight::Bold => &self.bold,
        }
    }

    pub(super) fn of_mut(&mut self, weight: FontWeight) -> &mut FontGlyphs {
        match weight {
            FontWeight::Plain => &mut self.plain,
            FontWeight::Bold => &mut self.bold,
        }
    }
}

/// The glyphs of a font that are used, under their numbers in the file.
#[derive(Default)]
pub(super) struct FontGlyphs {
    pub(super) glyphs: GlyphRemapper,
    /// New number -> what it stands for.
    pub(super) letters: BTreeMap<u16, UsedLetter>,
}

/// A letter that is used.
#[derive(Clone, Copy)]
pub(super) struct UsedLetter {
    /// Number of its glyph in the whole font.
    pub(super) glyph: u16,
    pub(super) letter: char,
}
