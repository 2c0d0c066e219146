//! A panel from the front, drawn with letters.

use super::dots::dots;
use super::letters::{LetterGrid, letters};
use super::room::Room;
use crate::instructions::overview::{CellOverview, GridFigures, Overview};
use crate::lattice::Lattice;

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

/// A letter for each pattern, in the order of the cells.
struct Marks<'a>(Vec<&'a str>);

/// In a cell that stays open.
const OPEN: char = '\u{b7}';

impl<'a> Marks<'a> {
    fn of(cells: &'a [CellOverview]) -> Self {
        let mut names: Vec<&str> = Vec::new();
        for name in cells.iter().filter_map(|cell| cell.pattern.as_deref()) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        Marks(names)
    }

    /// None where no cell has a pattern.
    fn mark(&self, cell: &CellOverview) -> Option<char> {
        let name = cell.pattern.as_deref();
        let at = self.0.iter().position(|known| Some(*known) == name);
        match at {
            Some(at) => Some(letter(at)),
            None if self.0.is_empty() => None,
            None => Some(OPEN),
        }
    }

    fn legend(&self) -> Option<String> {
        let names = self.0.iter().enumerate();
        let mut all: Vec<String> = names
            .map(|(at, name)| format!("{} {name}", letter(at)))
            .collect();
        if all.is_empty() {
            return None;
        }
        all.push(format!("{OPEN} open"));
        Some(all.join(", "))
    }
}

/// a, b, c; after z they begin again in capitals, and then nobody could tell them apart anyway.
fn letter(at: usize) -> char {
    let all = ('a'..='z').chain('A'..='Z');
    all.cycle().nth(at % 52).unwrap_or('a')
}
