//! The `[frame]` table of a job file.

use super::fields::Fields;
use crate::finding::Finding;
use crate::lattice::{
    ByStrips, CornerJoint, Frame, Margins, MemberWidths, Recess, RecessKind, StripSection,
    TenonWish,
};
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
    let setback_is_given = fields.has("setback");
    let setback = fields.quantity_or("setback", Kind::Length, middle);
    let clearance = fields.quantity_or("clearance", Kind::Length, 0.0);
    fields.alias(fields.path("end_gap"), fields.path("mortise_depth"));
    let end_gap = fields.quantity_or("end_gap", Kind::Length, USUAL_END_GAP_MM);
    let widths = read_widths(&fields);
    let joint = read_joint(&fields);
    let recess = read_recess(&fields, thickness);
    let wood = fields.text("wood");
    let density = fields.density();
    fields.finish();
    let frame = Frame {
        margins: Margins::even(margin?),
        thickness: thickness?,
        setback: setback?,
        by_strips: ByStrips {
            margins: !margin_is_given,
            setback: !setback_is_given,
        },
        mortise_depth: mortise_depth?,
        clearance: clearance?,
        end_gap: end_gap?,
        widths: widths?,
        joint: joint?,
        recess: recess?,
        wood,
        density: density?,
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
                    let text = format!(
                        "{} widths for the four members round an opening",
                        widths.len()
                    );
                    let hint = "in this order: lower rail, right stile, upper rail, left stile; or `width` for all of them";
                    fields.report(Finding::error("lists-differ", "frame.widths", text).hint(hint));
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

#[derive(Clone, Copy, Default, PartialEq)]
enum JointKey {
    #[default]
    Mitre,
    Tenon,
}

/// Keys that say something of tenons.
const TENON_KEYS: [&str; 3] = ["tenon_thickness", "tenon_length", "haunch"];

fn read_joint(fields: &Fields<'_>) -> Option<CornerJoint> {
    let words = [
        ("mitre", JointKey::Mitre),
        ("mortise-and-tenon", JointKey::Tenon),
    ];
    let joint = fields.choice_or_usual("joint", &words)?;
    if joint == JointKey::Mitre {
        let given = TENON_KEYS.into_iter().filter(|key| fields.has_foreign(key));
        let given: Vec<&str> = given.collect();
        for key in &given {
            let text = "mitred members have no tenons";
            let hint = "add `joint = \"mortise-and-tenon\"`, or leave this out";
            fields.report(Finding::error("needs-tenons", fields.path(key), text).hint(hint));
        }
        return given.is_empty().then_some(CornerJoint::Mitre);
    }
    for key in TENON_KEYS {
        fields.alias(fields.path(key), fields.path("joint"));
    }
    let thickness = optional(fields, "tenon_thickness");
    let length = optional(fields, "tenon_length");
    let haunch = if fields.has("haunch") {
        fields.quantity("haunch", Kind::Length).map(Some)
    } else {
        Some(None)
    };
    Some(CornerJoint::Tenon(TenonWish {
        thickness: thickness?,
        length: length?,
        haunch: haunch?,
    }))
}

/// A length above zero that may be left out.
fn optional(fields: &Fields<'_>, key: &'static str) -> Option<Option<f64>> {
    if fields.has(key) {
        fields.positive_length(key).map(Some)
    } else {
        Some(None)
    }
}

/// `rebate` or `groove`, each a table on its line; `thickness` is the members'.
fn read_recess(fields: &Fields<'_>, thickness: Option<f64>) -> Option<Option<Recess>> {
    let rebate = fields.optional_table("rebate", |table| {
        let width = table.positive_length("width");
        let depth = table.positive_length("depth");
        table.finish();
        let depth = depth?;
        Some(Recess {
            kind: RecessKind::Rebate,
            width: width?,
            depth,
            from_front: thickness? - depth,
        })
    });
    let groove = fields.optional_table("groove", |table| {
        let width = table.positive_length("width");
        let depth = table.positive_length("depth");
        let from_front = table.required_quantity("from_front", Kind::Length);
        table.finish();
        Some(Recess {
            kind: RecessKind::Groove,
            width: width?,
            depth: depth?,
            from_front: from_front?,
        })
    });
    match (rebate?, groove?) {
        (Some(_), Some(_)) => {
            let text = "`rebate` is given as well";
            let hint = "leave one out: paper or glass lies in a rebate or in a groove";
            fields.report(Finding::error("both-given", fields.path("groove"), text).hint(hint));
            None
        }
        (rebate, groove) => Some(rebate.or(groove)),
    }
}
