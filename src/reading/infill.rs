//! The table `[infill]`: the pieces in the cells.

use super::fields::Fields;
use super::infill_map::{PatternChoice, read_choice};
use crate::infill::EdgeCells;
use crate::lattice::{Infill, PieceSection, PieceWay, StripSection, USUAL_FOLD_SKIN_MM};
use crate::units::Kind;

/// Rough pieces are this much longer where a job does not say, mm.
///
/// What paring needs, twice, since a piece has two ends: half a millimetre that the saw has torn, and
/// three last strokes of 0.15 mm to fit it (both common practice, no source). A stroke of depth x
/// takes x / sin J off the length, most at the sharpest of the common jig angles, 22.5 degrees:
/// 2 x (0.5 + 3 x 0.15 / sin 22.5) = 3.35, and a little over.
const USUAL_ALLOWANCE_MM: f64 = 3.5;

/// The table `[infill]`.
pub(super) struct InfillTable {
    pub(super) infill: Infill,
    pub(super) edge: EdgeCells,
    pub(super) choice: PatternChoice,
}

/// `strip`: the strips' section; nothing where it is wrong, which is told already.
pub(super) fn read_infill(fields: Fields<'_>, strip: Option<&StripSection>) -> Option<InfillTable> {
    let choice = read_choice(&fields);
    let allowance = fields.quantity_or("allowance", Kind::Length, USUAL_ALLOWANCE_MM);
    let fold_skin = fields.quantity_or("fold_skin", Kind::Length, USUAL_FOLD_SKIN_MM);
    let edges = [("leave", EdgeCells::Leave), ("fill", EdgeCells::Fill)];
    let edge = fields.choice_or_usual("edge", &edges);
    let way = fields.choice_or_usual("way", &PieceWay::ALL.map(|way| (way.name(), way)));
    let section = read_section(&fields, strip);
    fields.finish();
    Some(InfillTable {
        infill: Infill {
            allowance: allowance?,
            fold_skin: fold_skin?,
            section: section?,
            way: way?,
        },
        edge: edge?,
        choice: choice?,
    })
}

/// The pieces' own section, where one of its figures is given; the others are the strips'.
fn read_section(fields: &Fields<'_>, strip: Option<&StripSection>) -> Option<Option<PieceSection>> {
    let own = ["thickness", "depth", "setback", "fit"];
    let given = own.map(|key| fields.has(key)).contains(&true);
    let usual = strip.map(StripSection::for_pieces);
    let of_strips = |figure: fn(&PieceSection) -> f64| usual.as_ref().map_or(0.0, figure);
    let thickness = fields.quantity_or(
        "thickness",
        Kind::Length,
        of_strips(|section| section.thickness),
    );
    let depth = fields.quantity_or("depth", Kind::Length, of_strips(|section| section.depth));
    let setback = fields.quantity_or("setback", Kind::Length, 0.0);
    let fit = fields.quantity_or("fit", Kind::SignedLength, 0.0);
    fields.alias(fields.path("setback"), fields.path("depth"));
    let section = PieceSection {
        thickness: thickness?,
        depth: depth?,
        setback: setback?,
        fit: fit?,
        clearance: of_strips(|section| section.clearance),
    };
    Some(given.then_some(section))
}
