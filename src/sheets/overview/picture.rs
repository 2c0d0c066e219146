//! A panel from the front, drawn with letters.

use super::dots::dots;
use super::letters::{LetterGrid, letters};
use super::room::Room;
use crate::instructions::overview::{CellOverview, GridFigures, Overview};
use crate::lattice::Lattice;
use std::collections::BTreeMap;

/// A picture made of letters, or why there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LetterPicture {
    /// Lines from the top.
    Drawn {
        /// The picture.
        lines: Vec<String>,
        /// How it is to be read, in one line.
        legend: String,
    },
    /// The room does not do for as many strips.
    TooFine,
}

/// Draws a panel. Strips of an upright grid are box-drawing letters, as far as there is room for a
/// letter between each two; all others are lines of braille dots.
pub fn letter_picture(lattice: &Lattice, overview: &Overview, room: Room) -> LetterPicture {
    let marks = Marks::of(&overview.cells);
    if let GridFigures::Square {
        pitches_x_mm,
        pitches_y_mm,
    } = &overview.grid
    {
        let grid = LetterGrid {
            pitches: [pitches_x_mm, pitches_y_mm],
            margins: overview.size.margin_mm,
            reveals: overview.size.reveal_mm.unwrap_or_default(),
            is_framed: overview.frame.is_some(),
        };
        if let Some(drawn) = letters(&grid, &overview.cells, &|cell| marks.mark(cell), room) {
            let scale = if drawn.is_to_scale {
                "about to scale"
            } else {
                "not to scale"
            };
            let legend = match marks.legend() {
                Some(legend) => format!("{legend}; {scale}"),
                None => scale.to_owned(),
            };
            return LetterPicture::Drawn {
                lines: drawn.lines,
                legend,
            };
        }
    }
    match dots(lattice, room) {
        Some(lines) => LetterPicture::Drawn {
            lines,
            legend: "centre lines and the region's edge, to scale".into(),
        },
        None => LetterPicture::TooFine,
    }
}

/// The letters of the map, with their patterns, in the order of the alphabet.
struct Marks<'a>(BTreeMap<char, &'a CellOverview>);

/// In a cell that stays open.
const OPEN: char = '\u{b7}';

impl<'a> Marks<'a> {
    fn of(cells: &'a [CellOverview]) -> Self {
        Marks(
            cells
                .iter()
                .filter_map(|cell| Some((cell.letter?, cell)))
                .collect(),
        )
    }

    /// None where no cell has a pattern.
    fn mark(&self, cell: &CellOverview) -> Option<char> {
        match cell.letter {
            None if self.0.is_empty() => None,
            letter => Some(letter.unwrap_or(OPEN)),
        }
    }

    fn legend(&self) -> Option<String> {
        let mut named: Vec<(&str, String)> = Vec::new();
        for (letter, cell) in &self.0 {
            let name = cell.pattern.as_deref().unwrap_or_default();
            // A pattern that the map turns has a letter for each lie.
            match named.iter_mut().find(|(known, _)| *known == name) {
                Some((_, letters)) => *letters += &format!(" {letter}"),
                None => named.push((name, letter.to_string())),
            }
        }
        let named = named.into_iter();
        let mut all: Vec<String> = named
            .map(|(name, letters)| format!("{letters} {name}"))
            .collect();
        if all.is_empty() {
            return None;
        }
        all.push(format!("{OPEN} open"));
        Some(all.join(", "))
    }
}
