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
            let in_front = setback - self.clearance / 2.0;
            let hint = if in_front >= least_web - SAME_POSITION_MM {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{ByStrips, CornerJoint, Margins, Recess, RecessKind};
    use crate::phrase::Phrase;
    use crate::units::UnitSystem;

    /// Members 24 thick; strips 10 deep, 5 behind their front face, in mortises 0.4 higher: 4.8 to 15.2.
    fn frame(recess: Recess, widths: MemberWidths) -> Frame {
        Frame {
            margins: Margins::even(1.5),
            thickness: 24.0,
            setback: 5.0,
            by_strips: ByStrips {
                margins: false,
                setback: false,
            },
            mortise_depth: 8.0,
            clearance: 0.4,
            end_gap: 0.5,
            widths: Some(widths),
            joint: CornerJoint::Mitre,
            recess: Some(recess),
            wood: None,
            density: None,
        }
    }

    /// 8 into the member, 5 from the back.
    const REBATE: Recess = Recess {
        kind: RecessKind::Rebate,
        width: 8.0,
        depth: 5.0,
        from_front: 19.0,
    };

    fn groove(from_front: f64, width: f64) -> Recess {
        Recess {
            kind: RecessKind::Groove,
            width,
            depth: 6.0,
            from_front,
        }
    }

    /// What is wrong: code, field, sentence and advice.
    fn told(recess: Recess, widths: MemberWidths, least_web: f64) -> Vec<[String; 4]> {
        let found = frame(recess, widths).recess_faults(10.0, least_web);
        let text = |phrase: &Phrase| phrase.text(UnitSystem::Millimetres);
        found
            .iter()
            .map(|fault| {
                [
                    fault.code.to_owned(),
                    fault.field.clone(),
                    text(&fault.message),
                    fault.hint.as_ref().map(text).unwrap_or_default(),
                ]
            })
            .collect()
    }

    #[test]
    fn both_kinds_as_they_lie() {
        assert_eq!((REBATE.across(), REBATE.into_member()), ([19.0, 24.0], 8.0));
        let groove = groove(9.0, 4.0);
        assert_eq!((groove.across(), groove.into_member()), ([9.0, 13.0], 6.0));
    }

    #[test]
    fn wood_stays_between_a_recess_and_the_mortises() {
        // 19 - 15.2 behind the mortises.
        let wide = || MemberWidths::Same(30.0);
        assert!(told(REBATE, wide(), 3.8).is_empty());
        let [[code, field, text, hint]] = told(REBATE, wide(), 4.0).try_into().unwrap();
        assert_eq!(
            (code.as_str(), field.as_str()),
            ("mortise-in-recess", "frame.rebate")
        );
        assert_eq!(
            text,
            "the rebate lies 19.00 mm to 24.00 mm behind the front face, the strips' mortises 4.80 mm \
             to 15.20 mm: 3.80 mm stay between them"
        );
        // 19 - 4 - 0.2 - 10 from the front face to the strips: 4.6 in front of the mortises, enough.
        assert_eq!(
            hint,
            "at least 4.00 mm must stay: a setback of 4.80 mm or less leaves it"
        );
        // 4.4 in front and behind and 10.4 for the mortise are more than 19; with 4.3 they are as much.
        let hint = |least_web: f64| told(REBATE, wide(), least_web)[0][3].clone();
        assert_eq!(
            hint(4.4),
            "at least 4.40 mm must stay: a smaller rebate, or members thicker than 24.00 mm"
        );
        assert_eq!(
            hint(4.3),
            "at least 4.30 mm must stay: a setback of 4.50 mm or less leaves it"
        );
        // A groove in front of them, from 1 to 4: 0.8 stay.
        assert!(told(groove(1.0, 3.0), wide(), 0.8).is_empty());
        let found = told(groove(1.0, 3.0), wide(), 1.0);
        assert_eq!(
            (found.len(), found[0][0].as_str()),
            (1, "mortise-in-recess")
        );
        assert_eq!(found[0][1], "frame.groove");
        assert!(
            found[0][2].ends_with(": 0.80 mm stay between them"),
            "{found:?}"
        );
        // One that lies across them.
        let found = told(groove(14.0, 4.0), wide(), 1.0);
        assert!(
            found[0][2].ends_with(": 0.00 mm stay between them"),
            "{found:?}"
        );
    }

    #[test]
    fn a_recess_lies_in_the_members() {
        // From face to face is within them.
        let codes = |recess: Recess| -> Vec<String> {
            let found = told(recess, MemberWidths::Same(30.0), 1.0);
            found.into_iter().map(|[code, ..]| code).collect()
        };
        assert!(codes(groove(20.0, 4.0)).is_empty());
        assert!(codes(groove(0.0, 3.0)).is_empty());
        assert_eq!(codes(groove(20.1, 4.0)), ["recess-outside"]);
        assert_eq!(codes(groove(-0.1, 3.0)), ["recess-outside"]);
    }

    #[test]
    fn wood_stays_behind_a_recess() {
        assert!(told(REBATE, MemberWidths::Same(11.0), 3.0).is_empty());
        let found = told(REBATE, MemberWidths::Same(10.0), 3.0);
        assert_eq!(
            found,
            [[
                "rail-too-narrow",
                "frame.width",
                "a rebate that goes 8.00 mm into a member 10.00 mm wide leaves 2.00 mm",
                "make the member 11.00 mm wide or more"
            ]]
        );
        // A groove goes in by its depth. Each member by itself.
        let widths = MemberWidths::Each(vec![9.0, 8.9, 9.0, 5.0]);
        let found = told(groove(18.5, 3.0), widths, 3.0);
        let told: Vec<[&str; 2]> = found
            .iter()
            .map(|[_, field, text, _]| [&**field, text])
            .collect();
        assert_eq!(
            told,
            [
                [
                    "frame.widths[1]",
                    "a groove that goes 6.00 mm into a member 8.90 mm wide leaves 2.90 mm"
                ],
                [
                    "frame.widths[3]",
                    "a groove that goes 6.00 mm into a member 5.00 mm wide leaves 0.00 mm"
                ],
            ]
        );
    }
}
