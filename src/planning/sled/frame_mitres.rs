//! Mitres of a frame's members at a sled: settings of fence, stop and blade.
//!
//! A member lies on one face, one long edge on the fence, the end that is cut to the right, the kept
//! part at the stop; frame of [`super::slant`]. The cut goes through the corner of that end on the
//! fence, so the near side of its kerf lies there: as far from the stop as that corner is from the
//! member's farthest point to the left, which is what a flat stop touches.
//!
//! With the outer edge on the fence a mitre J is a cut at pi - J, with the inner one a cut at J (J is
//! the angle of the wood at the outer corner): where the edge at the fence is the longer one, the cut is
//! obtuse and the left end goes away from the operator. The edge that is longer at the first mitre
//! lies on the fence for both: so the long point of the first stands on the stop at the fence for the
//! second, and nothing else does. Cut the other way round, with a short edge at the fence, a point
//! off the fence would touch the stop somewhere on its face.

use super::blade::half_chord;
use super::settings::{end_away, wedge};
use super::slant::Slant;
use crate::finding::{Finding, grouped};
use crate::geometry::tolerance::POSITION;
use crate::geometry::{PARALLEL_SINE, SAME_POSITION_MM};
use crate::instructions::frame_mitres::{
    MemberEdge, MemberFigures, MitreCut, MitreFigures, MitreLie, MitrePlan, MitreSawing,
    MitreSetting, StopContact, ThroughBlade,
};
use crate::lattice::Face;
use crate::machines::{Chosen, Sled};
use crate::phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;
use std::f64::consts::{FRAC_PI_4, PI};

/// A blade that cuts through stands so much out of the wood: the gullets come clear, and no more of
/// the blade is bare than that. Common practice, no source, mm.
const BEYOND_MM: f64 = 3.0;

/// A member at a sharper angle lies nearly along the blade: no fence is set to it, it is sawn to a line
/// by hand and planed. From memory, radians.
const SHARPEST: f64 = PI / 9.0;

/// Gives the plan the settings of a sled for members `thickness` thick, mm, as far as it saws their
/// mitres; what it does not saw is named in the plan. Gives what it cannot do, then what is unusual;
/// fields are those of its profile.
pub(crate) fn add_mitre_settings(
    plan: &mut MitrePlan,
    thickness: f64,
    chosen: Chosen<'_, Sled>,
) -> (Vec<Finding>, Vec<Finding>) {
    let planner = MitrePlanner {
        sled: chosen.machine,
        thickness,
        allowance: plan.allowance_mm,
    };
    let mut faults = planner.height_fault();
    let all_fail = !faults.is_empty();
    let mut cuts = Vec::new();
    for member in &plan.members {
        let own = planner.cuts(member);
        let found = planner.faults(member, &own);
        if all_fail || !found.is_empty() {
            plan.without_settings.push(member.name.clone());
        } else {
            cuts.extend(own);
        }
        faults.extend(found);
    }
    if cuts.is_empty() {
        return (grouped(faults), Vec::new());
    }
    let settings = planner.settings(&cuts);
    let warnings = Vec::from_iter(steep_fence(&settings));
    plan.sled = Some(MitreSawing {
        machine: chosen.name.to_owned(),
        blade: planner.blade(&cuts),
        settings,
    });
    (grouped(faults), warnings)
}

struct MitrePlanner<'a> {
    sled: &'a Sled,
    thickness: f64,
    allowance: f64,
}

/// One mitre of one member as it is cut.
struct Cut<'a> {
    member: &'a MemberFigures,
    mitre: &'a MitreFigures,
    at_stop: StopContact,
    edge: MemberEdge,
    slant: Slant,
    stop: f64,
}

impl<'a> Cut<'a> {
    fn new(
        member: &'a MemberFigures,
        mitre: &'a MitreFigures,
        at_stop: StopContact,
        edge: MemberEdge,
    ) -> Cut<'a> {
        let slant = match edge {
            _ if mitre.long_edge().is_none() => Slant(PI / 2.0),
            MemberEdge::Outer => Slant(PI - mitre.mitre),
            MemberEdge::Inner => Slant(mitre.mitre),
        };
        Cut {
            member,
            mitre,
            at_stop,
            edge,
            slant,
            stop: 0.0,
        }
    }

    /// The face that lies down on a table saw. With the back face down one sees the front: the outer
    /// edge at the fence, nearer to oneself, the panel lies beyond the member, and who goes round it
    /// counter-clockwise arrives at the right.
    fn face_down(&self) -> Face {
        let arrives = self.mitre.end == self.member.round_end;
        if arrives == (self.edge == MemberEdge::Outer) {
            Face::Back
        } else {
            Face::Front
        }
    }

    fn is_first(&self) -> bool {
        self.at_stop == StopContact::BlankEnd
    }

    /// Along the cut, through the member.
    fn length(&self) -> f64 {
        self.slant.along(self.member.width_mm)
    }

    /// Settings with the left end away first, then those with the right end away; each from the least
    /// turn to the greatest: the fence changes hands once, and blunt ends come before sharp ones.
    fn rank(&self) -> (bool, f64) {
        let right = self.slant.far_end_away() && !self.slant.is_square();
        (right, self.slant.turn())
    }

    /// Whether nothing is touched from one to the other.
    fn shares_stop(&self, other: &Cut<'_>) -> bool {
        self.slant.is(other.slant)
            && self.at_stop == other.at_stop
            && self.edge == other.edge
            && self.stop.approx_eq(other.stop, POSITION)
    }
}

impl MitrePlanner<'_> {
    /// A member's two mitres in working order: that at the end away from the one that is marked from,
    /// on the blank, then the other, with the first one's long point on the stop.
    ///
    /// Along the member, from the inner corner at the stop's end: the edge's corner at the other end
    /// lies at the inner length and, on the outer edge, that end's reach. What the stop touches lies
    /// the reach before 0 where the long point is on the outer edge, else at 0; on the blank the
    /// allowance before that.
    fn cuts<'a>(&self, member: &'a MemberFigures) -> [Cut<'a>; 2] {
        let [marked, other] = &member.mitres;
        // A square end stands on the stop with either edge.
        let edge = other.long_edge().or(marked.long_edge());
        let edge = edge.unwrap_or(MemberEdge::Outer);
        let first = (other, StopContact::BlankEnd);
        let finished = match other.long_edge() {
            Some(_) => StopContact::LongPoint,
            None => StopContact::FinishedEnd,
        };
        let second = (marked, finished);
        [first, second].map(|(mitre, at_stop)| {
            let mut cut = Cut::new(member, mitre, at_stop, edge);
            cut.stop = self.stop_to_kerf(&cut);
            cut
        })
    }

    fn stop_to_kerf(&self, cut: &Cut<'_>) -> f64 {
        let [marked, other] = &cut.member.mitres;
        let (at_stop, rough) = match cut.at_stop {
            StopContact::BlankEnd => (marked, self.allowance),
            StopContact::LongPoint | StopContact::FinishedEnd => (other, 0.0),
        };
        let corner = match cut.edge {
            MemberEdge::Outer => cut.mitre.reach_mm,
            MemberEdge::Inner => 0.0,
        };
        rough + at_stop.reach_mm.max(0.0) + cut.member.inner_length_mm + corner
    }

    /// Of the blade over the base. The correction that notches need makes up for tenths of a millimetre,
    /// which a cut right through does not ask for.
    fn height(&self) -> f64 {
        self.thickness + BEYOND_MM
    }

    fn travel(&self, cut: &Cut<'_>) -> Option<f64> {
        let powered = self.sled.blade.powered?;
        let chord = half_chord(powered.diameter / 2.0, self.height());
        let cut_length = (cut.slant).cut_length(cut.member.width_mm, self.sled.blade.kerf);
        Some(cut_length + 2.0 * chord)
    }

    fn blade(&self, cuts: &[Cut<'_>]) -> Option<ThroughBlade> {
        let travel = cuts.iter().filter_map(|cut| self.travel(cut));
        Some(ThroughBlade {
            member_mm: self.thickness,
            beyond_mm: BEYOND_MM,
            height_above_base_mm: self.height(),
            height_above_table_mm: self.sled.base_thickness + self.height(),
            travel_mm: travel.max_by(f64::total_cmp)?,
        })
    }

    fn settings(&self, cuts: &[Cut<'_>]) -> Vec<MitreSetting> {
        let mut apart: Vec<&Cut<'_>> = Vec::new();
        for cut in cuts {
            if !apart.iter().any(|known| known.slant.is(cut.slant)) {
                apart.push(cut);
            }
        }
        apart.sort_by(|a, b| {
            let ((a_right, a_turn), (b_right, b_turn)) = (a.rank(), b.rank());
            a_right.cmp(&b_right).then(a_turn.total_cmp(&b_turn))
        });
        let mut settings = Vec::new();
        for (number, kind) in (1..).zip(apart) {
            // All first mitres, then all second ones; else as the members come.
            let mut same: Vec<&Cut<'_>> = Vec::new();
            for first in [true, false] {
                let of_kind = cuts.iter().filter(|cut| cut.slant.is(kind.slant));
                same.extend(of_kind.filter(|cut| cut.is_first() == first));
            }
            settings.extend(self.setting(number, &same));
        }
        settings
    }

    fn setting(&self, number: usize, cuts: &[&Cut<'_>]) -> Option<MitreSetting> {
        let slant = cuts.first()?.slant;
        let mut kinds: Vec<Vec<&Cut<'_>>> = Vec::new();
        for cut in cuts {
            let alike = |kind: &&mut Vec<&Cut<'_>>| {
                kind.first().is_some_and(|first| first.shares_stop(cut))
            };
            match kinds.iter_mut().find(alike) {
                Some(kind) => kind.push(cut),
                None => kinds.push(vec![cut]),
            }
        }
        let longest = cuts.iter().map(|cut| cut.member.blank_mm);
        Some(MitreSetting {
            number,
            cut_angle: slant.0,
            from_square: slant.turn(),
            to_blade: slant.to_blade(),
            end_away: (!slant.is_square()).then(|| end_away(slant, self.sled)),
            kerf_along_fence_mm: slant.along(self.sled.blade.kerf),
            along_blade_mm: longest.fold(0.0, f64::max) * slant.turn().sin(),
            wedge: wedge(slant, self.sled),
            cuts: kinds.iter().filter_map(|kind| self.cut(kind)).collect(),
        })
    }

    fn cut(&self, kind: &[&Cut<'_>]) -> Option<MitreCut> {
        let first = kind.first()?;
        // Seen from below: see `slant`.
        let by_hand = self.sled.blade.powered.is_none();
        let down = |face: Face| if by_hand { face.opposite() } else { face };
        let mut members: Vec<MitreLie> = Vec::new();
        for cut in kind {
            members.push(MitreLie {
                name: cut.member.name.clone(),
                end: cut.mitre.end,
                face_down: down(cut.face_down()),
            });
        }
        members.sort_by_key(|lie| lie.face_down == Face::Front);
        Some(MitreCut {
            at_stop: first.at_stop,
            edge_on_fence: first.edge,
            stop_to_kerf_mm: first.stop,
            members,
        })
    }

    /// A blade that does not stand high enough serves no member.
    fn height_fault(&self) -> Vec<Finding> {
        let mut faults = Vec::new();
        if let Some(powered) = self.sled.blade.powered
            && self.sled.base_thickness + self.height() > powered.highest + SAME_POSITION_MM
        {
            let text = phrase!(
                "to saw members {} thick through, the blade must stand {} over the table (base {}, and {} out of the wood); this saw reaches {}",
                Mm(self.thickness),
                Mm(self.sled.base_thickness + self.height()),
                Mm(self.sled.base_thickness),
                Mm(BEYOND_MM),
                Mm(powered.highest)
            );
            let fault = Finding::error("blade-too-low", "blade.highest", text);
            faults.push(fault.hint("a thinner base, or thinner members"));
        }
        if self.sled.stop.is_none() {
            let text = "the sled has no stop to place mitres by";
            faults.push(Finding::error("no-stop", "stop", text));
        }
        faults
    }

    fn faults(&self, member: &MemberFigures, cuts: &[Cut<'_>]) -> Vec<Finding> {
        let mut faults = self.length_faults(member);
        for cut in cuts {
            faults.extend(self.angle_fault(cut));
            faults.extend(self.room_fault(cut));
            faults.extend(self.stop_fault(cut));
        }
        faults
    }

    fn length_faults(&self, member: &MemberFigures) -> Vec<Finding> {
        let mut faults = Vec::new();
        if member.over_points_mm < self.sled.shortest_strip - SAME_POSITION_MM {
            let text = phrase!(
                "a member {} long over its points is shorter than the {} that this sled holds safely",
                Mm(member.over_points_mm),
                Mm(self.sled.shortest_strip)
            );
            let hint = "saw its mitres on a bench hook, or from a longer stick by hand";
            faults.push(Finding::error("member-too-short", "sled.shortest_strip", text).hint(hint));
        }
        if member.blank_mm > self.sled.longest_strip + SAME_POSITION_MM {
            let text = phrase!(
                "a blank {} long is longer than the {} that this sled holds",
                Mm(member.blank_mm),
                Mm(self.sled.longest_strip)
            );
            let fault = Finding::error("member-too-long", "sled.longest_strip", text);
            faults.push(fault.hint("a longer sled, or a mitre box"));
        }
        faults
    }

    fn angle_fault(&self, cut: &Cut<'_>) -> Option<Finding> {
        (cut.slant.to_blade() < SHARPEST - PARALLEL_SINE).then(|| {
            let text = phrase!(
                "a mitre at {} lies nearly along the blade: neither fence nor wedge is set to it below {}",
                Rad(cut.slant.to_blade()),
                Rad(SHARPEST)
            );
            Finding::error("mitre-too-sharp", "fence.swing", text)
                .hint("saw it to a line by hand and plane it")
        })
    }

    fn room_fault(&self, cut: &Cut<'_>) -> Option<Finding> {
        if cut.length() > self.sled.widest_block + SAME_POSITION_MM {
            let text = phrase!(
                "a member {} wide is {} wide along a cut at {}, wider than the {} that this sled holds",
                Mm(cut.member.width_mm),
                Mm(cut.length()),
                Rad(cut.slant.to_blade()),
                Mm(self.sled.widest_block)
            );
            return Some(Finding::error("member-too-wide", "sled.widest_block", text));
        }
        let powered = self.sled.blade.powered?;
        let needed = self.travel(cut)?;
        (needed > powered.travel + SAME_POSITION_MM).then(|| {
            let text = phrase!(
                "a member {} wide needs {} of travel to pass the blade at {}; this sled has {}",
                Mm(cut.member.width_mm),
                Mm(needed),
                Rad(cut.slant.to_blade()),
                Mm(powered.travel)
            );
            Finding::error("travel-too-short", "blade.travel", text)
        })
    }

    fn stop_fault(&self, cut: &Cut<'_>) -> Option<Finding> {
        let stop = self.sled.stop?;
        let (field, hint) = if cut.stop < stop.nearest - SAME_POSITION_MM {
            ("stop.nearest", "a bench hook, or a mitre box")
        } else if cut.stop > stop.farthest + SAME_POSITION_MM {
            ("stop.farthest", "a longer fence")
        } else {
            return None;
        };
        let text = phrase!(
            "a mitre of a member {} long over its points needs the stop's face {} from the near side of the kerf; this stop reaches {} to {}",
            Mm(cut.member.over_points_mm),
            Mm(cut.stop),
            Mm(stop.nearest),
            Mm(stop.farthest)
        );
        Some(Finding::error("stop-out-of-reach", field, text).hint(hint))
    }
}

/// Of settings beyond 45 degrees of turn the one that takes most room.
fn steep_fence(settings: &[MitreSetting]) -> Option<Finding> {
    let steep = settings.iter();
    let steep = steep.filter(|setting| setting.from_square - FRAC_PI_4 > PARALLEL_SINE);
    let worst = steep.max_by(|a, b| a.along_blade_mm.total_cmp(&b.along_blade_mm))?;
    let text = phrase!(
        "mitre setting {} turns the fence {} from square: members lie more along the blade than across it and take {} in front of the fence",
        worst.number,
        Rad(worst.from_square),
        Mm(worst.along_blade_mm)
    );
    let hint = "see with the saw off that members, fence and hands stay clear of the blade over all \
                of the travel; else saw these mitres by hand";
    Some(Finding::warning("steep-fence", "fence.swing", text).hint(hint))
}
