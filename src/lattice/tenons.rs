//! Mortise and tenon at a frame's corners.
//!
//! Upright members (stiles) run through from edge to edge; level ones (rails) stand between them, with a
//! tenon at each end. A tenon is as wide as half of what the groove leaves of the rail, and lies beside the
//! groove; the other half, toward the rail's outer edge, is cut back to a haunch, so that wood stays beyond
//! the mortise at the stile's end. Millimetres.

use super::frame::{Frame, Rail};
use super::frame_joint::{CornerJoint, RecessKind, TenonWish};
use super::frame_mitres::MemberWidths;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::phrase;
use crate::units::{AtMost, Mm};

/// The corner joints of a frame. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct Tenons {
    /// Front to back.
    pub thickness: f64,
    /// Members' front face to the tenon's front cheek.
    pub from_front: f64,
    /// Shoulder to end.
    pub length: f64,
    /// Stile's inner face to the mortise's floor.
    pub mortise_depth: f64,
    /// Shoulder to the haunch's end.
    pub haunch: f64,
    /// Level members: bottom, top.
    pub rails: [TenonedRail; 2],
    /// Upright members: left, right.
    pub stiles: [MortisedStile; 2],
    /// The least wood between a mortise for a tenon and one for a strip, along the stiles; nothing where
    /// these have none.
    pub least_between: Option<f64>,
}

/// A level member. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TenonedRail {
    /// Its place among the frame's rails.
    pub rail: usize,
    /// Inner edge to outer edge.
    pub width: f64,
    /// Between its shoulders, at the front; the frame's inside.
    pub between_shoulders: f64,
    /// The same at the back, where a rebate in the stiles takes the shoulders farther out.
    pub between_back_shoulders: f64,
    /// Over its tenons.
    pub cut_length: f64,
    /// Of the tenon, across the rail.
    pub tenon_width: f64,
    /// The same if the old rule is read the other way, half the width and from that the groove.
    pub tenon_width_read_otherwise: f64,
    /// Rail's inner edge to the tenon's nearer edge.
    pub from_inner_edge: f64,
    /// Of the haunch, from the tenon to the rail's outer edge.
    pub haunch_width: f64,
}

/// An upright member. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MortisedStile {
    /// Its place among the frame's rails.
    pub rail: usize,
    /// Inner edge to outer edge.
    pub width: f64,
    /// From end to end, the horns cut off.
    pub cut_length: f64,
    /// Its mortises for tenons, lower and upper: both edges, from its lower end.
    pub mortises: [[f64; 2]; 2],
}

/// The share of a stile's width that a tenon takes up where the job does not say. Common practice, no
/// source.
const TENON_IN_STILE: f64 = 2.0 / 3.0;

impl Frame {
    /// The tenons at the corners of an upright rectangle, where the job asks for them.
    ///
    /// The old rule for the tenon's width, "one-half the width of the rail, minus the groove" (William
    /// Noyes, Handwork in Wood, 1910, joint 42), reads two ways: half of
    /// what the groove leaves, `(w - g) / 2`, or half the width and from that the groove, `w / 2 - g`. The
    /// first is taken: tenon and haunch are then equally wide. Both are told.
    ///
    /// # Errors
    /// What cannot be made, at the job's fields.
    pub fn tenons(&self, rails: &[Rail], least_web: f64) -> Result<Option<Tenons>, Vec<Finding>> {
        let CornerJoint::Tenon(wish) = self.joint else {
            return Ok(None);
        };
        let Some(widths) = &self.widths else {
            let text = "tenons need the members' widths";
            let hint =
                "add `width`, or `widths` for lower rail, right stile, upper rail, left stile";
            return Err(vec![
                Finding::error("missing", "frame.width", text).hint(hint),
            ]);
        };
        let widths: Vec<f64> = match widths {
            MemberWidths::Same(width) => vec![*width; rails.len()],
            MemberWidths::Each(widths) => widths.clone(),
        };
        let ([bottom, right, top, left], &[below, at_right, above, at_left]) =
            (rails, widths.as_slice())
        else {
            return Err(vec![not_upright()]);
        };
        let level = [bottom, top];
        let upright = [left, right];
        let is_level = |rail: &&Rail| rail.start.to(rail.end).y.abs() < SAME_POSITION_MM;
        let is_upright = |rail: &&Rail| rail.start.to(rail.end).x.abs() < SAME_POSITION_MM;
        if !level.iter().all(is_level) || !upright.iter().all(is_upright) {
            return Err(vec![not_upright()]);
        }
        let size = TenonSize::of(self, wish, at_left.min(at_right));
        size.faults(self, at_left.min(at_right), least_web)?;
        let groove = size.groove;
        let rail = |place: usize, rail: &Rail, width: f64| {
            let tenon_width = (width - groove) / 2.0;
            TenonedRail {
                rail: place,
                width,
                between_shoulders: rail.length(),
                between_back_shoulders: rail.length() + 2.0 * size.rebate,
                cut_length: rail.length() + 2.0 * size.length,
                tenon_width,
                tenon_width_read_otherwise: width / 2.0 - groove,
                from_inner_edge: groove,
                haunch_width: width - groove - tenon_width,
            }
        };
        let rails = [rail(0, bottom, below), rail(2, top, above)];
        let [lower, upper] = rails;
        let stile = |place: usize, stile: &Rail, width: f64| {
            let inside = below + stile.length();
            MortisedStile {
                rail: place,
                width,
                cut_length: inside + above,
                mortises: [
                    [below - groove - lower.tenon_width, below - groove],
                    [inside + groove, inside + groove + upper.tenon_width],
                ],
            }
        };
        let least_between = upright
            .iter()
            .flat_map(|stile| {
                let ends = stile.mortises.iter();
                ends.flat_map(|mortise| [mortise.edges[0], stile.length() - mortise.edges[1]])
            })
            .min_by(f64::total_cmp)
            .map(|nearest| nearest + groove);
        if let Some(between) =
            least_between.filter(|between| *between < least_web - SAME_POSITION_MM)
        {
            let text = phrase!(
                "a strip's mortise comes within {} of a tenon's; at least {} must stay",
                Mm(between),
                Mm(least_web)
            );
            return Err(vec![Finding::error(
                "mortise-in-mortise",
                "frame.joint",
                text,
            )]);
        }
        Ok(Some(Tenons {
            thickness: size.thickness,
            from_front: size.from_front,
            length: size.length,
            mortise_depth: size.length + self.end_gap,
            haunch: size.haunch,
            rails,
            stiles: [stile(3, left, at_left), stile(1, right, at_right)],
            least_between,
        }))
    }
}

fn not_upright() -> Finding {
    let text = "tenons are worked out for the four members of an upright rectangle";
    let hint = "leave out `joint`: members of other frames are mitred";
    Finding::error("joint-not-known", "frame.joint", text).hint(hint)
}

/// What all tenons of a frame have in common.
struct TenonSize {
    thickness: f64,
    from_front: f64,
    length: f64,
    haunch: f64,
    /// Depth of a groove, zero without one.
    groove: f64,
    /// Width of a rebate, zero without one.
    rebate: f64,
}

impl TenonSize {
    /// A third of the frame's thickness, in its middle (Noyes, as above: a third); in line with a groove,
    /// which it meets, as thick as that is wide.
    fn of(frame: &Frame, wish: TenonWish, stile: f64) -> TenonSize {
        let groove = frame
            .recess
            .filter(|recess| recess.kind == RecessKind::Groove);
        let rebate = frame
            .recess
            .filter(|recess| recess.kind == RecessKind::Rebate);
        let usual = groove.map_or(frame.thickness / 3.0, |groove| groove.width);
        let thickness = wish.thickness.unwrap_or(usual);
        let middle = groove.map_or(frame.thickness / 2.0, |groove| {
            groove.from_front + groove.width / 2.0
        });
        TenonSize {
            thickness,
            from_front: middle - thickness / 2.0,
            length: wish.length.unwrap_or(stile * TENON_IN_STILE),
            haunch: wish
                .haunch
                .unwrap_or(groove.map_or(thickness, |groove| groove.depth)),
            groove: groove.map_or(0.0, |groove| groove.depth),
            rebate: rebate.map_or(0.0, |rebate| rebate.width),
        }
    }

    fn faults(&self, frame: &Frame, stile: f64, least_web: f64) -> Result<(), Vec<Finding>> {
        let mut found = Vec::new();
        let cheeks = [
            self.from_front,
            frame.thickness - self.from_front - self.thickness,
        ];
        let thinnest = cheeks[0].min(cheeks[1]);
        if thinnest < least_web - SAME_POSITION_MM {
            let text = phrase!(
                "a tenon {} thick leaves {} of a member {} thick beside its mortise; at least {} must stay on both sides",
                Mm(self.thickness),
                Mm(thinnest.max(0.0)),
                Mm(frame.thickness),
                Mm(least_web)
            );
            let hint = phrase!(
                "a third of the frame's thickness is usual: {}",
                Mm(frame.thickness / 3.0)
            );
            found.push(Finding::error("tenon-too-thick", "frame.tenon_thickness", text).hint(hint));
        }
        let behind = stile - self.length - frame.end_gap;
        if behind < least_web - SAME_POSITION_MM {
            let text = phrase!(
                "a tenon {} long, its mortise {} deeper, leaves {} of a stile {} wide",
                Mm(self.length),
                Mm(frame.end_gap),
                Mm(behind.max(0.0)),
                Mm(stile)
            );
            let hint = phrase!(
                "make it {} or less: at least {} must stay behind it",
                AtMost(stile - frame.end_gap - least_web),
                Mm(least_web)
            );
            found.push(Finding::error("tenon-too-long", "frame.tenon_length", text).hint(hint));
        }
        if self.haunch > self.length + SAME_POSITION_MM {
            let text = phrase!(
                "a haunch {} long is longer than its tenon, {}",
                Mm(self.haunch),
                Mm(self.length)
            );
            found.push(Finding::error("haunch-too-long", "frame.haunch", text));
        }
        if let Some(rebate) = frame.recess.filter(|of| of.kind == RecessKind::Rebate) {
            let back = self.from_front + self.thickness;
            let [near, _] = rebate.across();
            if back > near + SAME_POSITION_MM {
                let text = phrase!(
                    "the rebate begins {} behind the front face and runs into the tenons, which end {} behind it",
                    Mm(near),
                    Mm(back)
                );
                let hint = "a shallower rebate, or a thinner tenon";
                found.push(Finding::error("rebate-in-tenon", "frame.rebate", text).hint(hint));
            }
        }
        if found.is_empty() { Ok(()) } else { Err(found) }
    }
}
