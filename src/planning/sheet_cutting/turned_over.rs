//! Which pieces of a kind lie in the panel as they are drawn, and which turned over: where two that
//! cross are the same part, one has its half lap in front, the other one at the back.

use crate::infill::{Infilling, lies_turned_over};

/// Pieces made alike that lie turned over, their back faces in front.
#[derive(Debug, Default, PartialEq)]
pub(super) struct TurnedOver {
    pub(super) count: usize,
    /// Their names in the pattern.
    pub(super) names: Vec<String>,
    /// The names of those that lie as they are drawn.
    pub(super) as_drawn: Vec<String>,
}

/// Those of the pieces with a number, from 1, in the panel; what is trimmed of them included.
pub(super) fn turned_over(filled: &Infilling, number: usize) -> TurnedOver {
    let mut found = TurnedOver::default();
    let Some(at) = number.checked_sub(1) else {
        return found;
    };
    let Some(kind) = filled.kinds.get(at) else {
        return found;
    };
    for cell in &filled.cells {
        for piece in cell.pieces.iter().filter(|piece| piece.counts()) {
            let trimmed_from = filled.kinds.get(piece.kind).and_then(|kind| kind.whole);
            if piece.kind != at && trimmed_from != Some(at) {
                continue;
            }
            let over = lies_turned_over(kind, piece, piece.kind != at);
            found.count += usize::from(over);
            let names = match over {
                true => &mut found.names,
                false => &mut found.as_drawn,
            };
            if !names.contains(&piece.name) {
                names.push(piece.name.clone());
            }
        }
    }
    found
}
