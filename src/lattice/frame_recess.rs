//! What a rebate or groove leaves of a frame's members.

use super::frame::Frame;
use super::frame_mitres::MemberWidths;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::phrase;
use crate::units::{AtLeast, AtMost, Mm};

impl Frame {
    /// A recess must leave wood beside the strips' mortises (`depth`: the strips', mm) and behind
    /// itself.
    pub fn recess_faults(&self, depth: f64, least_web: f64) -> Vec<Finding> {
        let Some(recess) = &self.recess else {
            return Vec::new();
        };
        let mut found = Vec::new();
        let [near, far] = recess.across();
        let name = recess.name();
        if near < -SAME_POSITION_MM || far > self.thickness + SAME_POSITION_MM {
            let text = phrase!(
                "a {} from {} to {} behind the front face does not lie in members {} thick",
                name,
                Mm(near),
                Mm(far),
                Mm(self.thickness)
            );
            found.push(Finding::error("recess-outside", recess.field(), text));
            return found;
        }
        let mortise = [
            self.setback - self.clearance / 2.0,
            self.setback + depth + self.clearance / 2.0,
        ];
        let between = (near - mortise[1]).max(mortise[0] - far);
        if between < least_web - SAME_POSITION_MM {
            let text = phrase!(
                "the {} lies {} to {} behind the front face, the strips' mortises {} to {}: {} stay between them",
                name,
                Mm(near),
                Mm(far),
                Mm(mortise[0]),
                Mm(mortise[1]),
                Mm(between.max(0.0))
            );
            let setback = near - least_web - depth - self.clearance / 2.0;
            let hint = if setback >= least_web + self.clearance / 2.0 {
                phrase!(
                    "at least {} must stay: a setback of {} or less leaves it",
                    Mm(least_web),
                    AtMost(setback)
                )
            } else {
                phrase!(
                    "at least {} must stay: a smaller {}, or members thicker than {}",
                    Mm(least_web),
                    name,
                    Mm(self.thickness)
                )
            };
            found.push(Finding::error("mortise-in-recess", recess.field(), text).hint(hint));
        }
        for (at, width) in self.widths.iter().flat_map(member_widths) {
            let behind = width - recess.into_member();
            if behind < least_web - SAME_POSITION_MM {
                let text = phrase!(
                    "a {} that goes {} into a member {} wide leaves {}",
                    name,
                    Mm(recess.into_member()),
                    Mm(width),
                    Mm(behind.max(0.0))
                );
                let hint = phrase!(
                    "make the member {} wide or more",
                    AtLeast(recess.into_member() + least_web)
                );
                let field = self.widths.as_ref().map(|widths| widths.field(at));
                let field = field.unwrap_or_default();
                found.push(Finding::error("rail-too-narrow", field, text).hint(hint));
            }
        }
        found
    }
}

/// Each member's width with its number.
fn member_widths(widths: &MemberWidths) -> Vec<(usize, f64)> {
    match widths {
        MemberWidths::Same(width) => vec![(0, *width)],
        MemberWidths::Each(widths) => widths.iter().copied().enumerate().collect(),
    }
}
