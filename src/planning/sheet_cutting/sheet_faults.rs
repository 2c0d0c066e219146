//! Why parts cannot be cut from the sheets that there are, and what would help.

use super::nesting::{Extent, NestError};
use crate::finding::{Document, Finding};
use crate::instructions::laser::Ware;
use crate::machines::Laser;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm};

/// What a kind of parts is cut from.
#[derive(Debug, Clone, Copy)]
pub(super) struct SheetNeed {
    pub(super) ware: Ware,
    /// Of the sheet, mm.
    pub(super) thickness: f64,
}

pub(super) fn too_thick(need: SheetNeed, laser: &Laser) -> Finding {
    let text = phrase!(
        "{} are cut from sheet {} thick; this machine cuts up to {}",
        need.ware.name(),
        Mm(need.thickness),
        Mm(laser.thickest)
    );
    let field = if laser.cutter.is_some() {
        "cutter.thickest"
    } else {
        "laser.thickest"
    };
    let fault = Finding::error("sheet-too-thick", field, text);
    fault.hint("a stronger machine; or saw and pare them, or notch bundles on a router")
}

/// Kinds of parts that no sheet serves together. A strip lies on its side, so that its thickness
/// as seen from the front is the sheet's; a piece lies as seen from the front, so that the sheet is
/// as thick as the panel is deep.
pub(super) fn two_sheets(one: SheetNeed, other: SheetNeed) -> Finding {
    let text = phrase!(
        "{} are cut from sheet {} thick, {} from sheet {} thick: they cannot share one",
        one.ware.name(),
        Mm(one.thickness),
        other.ware.name(),
        Mm(other.thickness)
    );
    Finding::error("two-sheets", "what", text)
        .in_document(Document::Request)
        .hint(
        "draw them one after the other; guide blocks, story sticks and base inserts go with either, on sheet of any thickness",
    )
}

/// A part that does not fit blames the side of the sheet that is too short.
pub(super) fn nest_fault(error: &NestError, wares: &[Ware]) -> Finding {
    let NestError::TooLarge { size, room, .. } = error else {
        return Finding::error("does-not-fit-sheet", "sheet.length", error.phrase())
            .hint("larger sheets, or less margin");
    };
    let long = size.along - room.along;
    let wide = size.across - room.across;
    let mut hint = match (long > 0.0, wide > 0.0) {
        (true, true) => phrase!(
            "a sheet {} longer along the grain and {} wider across it",
            AtLeast(long),
            AtLeast(wide)
        ),
        (false, _) => phrase!(
            "the length is enough: a sheet {} wider across the grain",
            AtLeast(wide)
        ),
        (true, false) => phrase!("a sheet {} longer along the grain", AtLeast(long)),
    };
    hint.append(turning(*size, *room, wares));
    if long > 0.0 && wares.contains(&Ware::Strips) {
        hint.append(phrase!("; or build the panel in parts"));
    }
    let field = if long > 0.0 {
        "sheet.length"
    } else {
        "sheet.width"
    };
    Finding::error("does-not-fit-sheet", field, error.phrase()).hint(hint)
}

fn turning(size: Extent, room: Extent, wares: &[Ware]) -> Phrase {
    if size.across > room.along || size.along > room.across {
        return phrase!("; turning it does not help");
    }
    if wares
        .iter()
        .any(|ware| matches!(ware, Ware::Strips | Ware::Pieces | Ware::Lapped))
    {
        return phrase!(
            "; it would fit turned, but parts are not turned: the grain runs along them"
        );
    }
    phrase!(
        "; it would fit turned: exchange the sheet's length and width in a profile for it and lay the sheet the other way"
    )
}
