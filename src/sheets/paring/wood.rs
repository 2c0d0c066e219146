//! The pieces' own wood in words.

use crate::instructions::pare::PieceWood;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// The pieces' own wood.
pub(super) fn remark(wood: &PieceWood) -> Phrase {
    let mut remark = phrase!(
        "Wood of the pieces: {} thick as seen from the front, {} deep; their front face lies {} behind the strips', their back face {} before theirs.",
        Mm(wood.thickness_mm),
        Mm(wood.depth_mm),
        Mm(wood.setback_mm),
        Mm(wood.behind_mm)
    );
    if wood.fit_mm != 0.0 {
        remark.append(phrase!(
            " Lengths are for cells {} {} from wall to wall than the clear opening under Cell.",
            Mm(wood.fit_mm.abs()),
            if wood.fit_mm > 0.0 {
                "wider"
            } else {
                "narrower"
            }
        ));
    }
    remark
}
