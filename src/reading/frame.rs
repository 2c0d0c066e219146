//! The `[frame]` table of a job file.

use super::fields::Fields;
use crate::finding::Finding;
use crate::lattice::{Frame, Margins, MemberWidths, StripSection};
use crate::opening::{Framing, MemberFaces};
use crate::units::Kind;

/// What the table says.
pub(super) struct FrameTable {
    pub(super) frame: Frame,
    pub(super) margin_is_given: bool,
}

/// Trimmed ends stop so far before their mortises' floors where a job does not say: room for glue and
/// dust, so that the rails come home. Common practice, no source, mm.
const USUAL_END_GAP_MM: f64 = 0.5;

/// A frame; its rails start at the outermost strips and hold the panel in their middle where the
/// job does not say. `strip`: nothing where it is wrong, which is told already; what follows from it
/// is then wrong as well, and goes nowhere.
pub(super) fn read_frame(fields: Fields<'_>, strip: Option<&StripSection>) -> Option<FrameTable> {
    let strip_thickness = strip.map_or(0.0, |strip| strip.thickness);
    let strip_depth = strip.map_or(0.0, |strip| strip.depth);
    let thickness = fields.required_quantity("thickness", Kind::Length);
    let mortise_depth = fields.required_quantity("mortise_depth", Kind::Length);
    let margin = fields.quantity_or("margin", Kind::Length, strip_thickness / 2.0);
    let margin_is_given = fields.has("margin");
    let middle = (thickness.unwrap_or_default() - strip_depth) / 2.0;
    let setback = fields.quantity_or("setback", Kind::Length, middle);
    let clearance = fields.quantity_or("clearance", Kind::Length, 0.0);
    fields.alias(fields.path("end_gap"), fields.path("mortise_depth"));
    let end_gap = fields.quantity_or("end_gap", Kind::Length, USUAL_END_GAP_MM);
    let widths = read_widths(&fields);
    fields.finish();
    let frame = Frame {
        margins: Margins::even(margin?),
        thickness: thickness?,
        setback: setback?,
        mortise_depth: mortise_depth?,
        clearance: clearance?,
        end_gap: end_gap?,
        widths: widths?,
    };
    Some(FrameTable {
        frame,
        margin_is_given,
    })
}

impl FrameTable {
    /// What the frame is to the opening that it goes into, or that it has.
    pub(super) fn framing(&self, fields: &Fields<'_>) -> Option<Framing> {
        match &self.frame.widths {
            None => Some(Framing::Unmeasured),
            Some(MemberWidths::Same(width)) => Some(Framing::Members(MemberFaces {
                bottom: *width,
                right: *width,
                top: *width,
                left: *width,
            })),
            Some(MemberWidths::Each(widths)) => {
                let &[bottom, right, top, left] = widths.as_slice() else {
                    let text = format!("{} widths for the four members round an opening", widths.len());
                    let hint = "in this order: lower rail, right stile, upper rail, left stile; or `width` for all of them";
                    fields.report(
                        Finding::error("lists-differ", "frame.widths", text).hint(hint),
                    );
                    return None;
                };
                Some(Framing::Members(MemberFaces {
                    bottom,
                    right,
                    top,
                    left,
                }))
            }
        }
    }
}

/// `width` for all members, or `widths`, one for each; a frame without is told without its mitres.
fn read_widths(fields: &Fields<'_>) -> Option<Option<MemberWidths>> {
    let each = fields.has("widths");
    if fields.has("width") && each {
        fields.report(
            Finding::error(
                "both-given",
                fields.path("widths"),
                "`width` is given as well",
            )
            .hint("leave one out: `width` is that of all members, `widths` has one for each"),
        );
        return None;
    }
    if fields.has("width") {
        let width = fields.positive_length("width")?;
        return Some(Some(MemberWidths::Same(width)));
    }
    if !each {
        return Some(None);
    }
    let widths = fields.quantities("widths", Kind::Length)?;
    let path = fields.path("widths");
    let none = (0..).zip(&widths).filter(|(_, width)| **width <= 0.0);
    let none: Vec<usize> = none.map(|(at, _)| at).collect();
    for at in &none {
        let text = "this must be above zero";
        fields.report(Finding::error(
            "not-positive",
            format!("{path}[{at}]"),
            text,
        ));
    }
    none.is_empty().then_some(Some(MemberWidths::Each(widths)))
}
