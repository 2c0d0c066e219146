//! The mitres of a frame's members, and the settings that saw them. Millimetres; degrees when
//! serialised.

use super::degrees;
use super::saw::{Hand, Wedge};
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::{Face, PanelEnd};
use serde::Serialize;

/// A frame's members and their mitres.
#[derive(Debug, Clone, Serialize)]
pub struct MitrePlan {
    /// Round the panel counter-clockwise, as the rails.
    pub members: Vec<MemberFigures>,
    /// What a blank is longer at each end than the finished member over its points.
    pub allowance_mm: f64,
    /// Of the opening between the inner corners, where the frame has four members.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diagonals_mm: Option<[f64; 2]>,
    /// What comes of mitres that are all off by the same angle.
    pub closing: ClosingFigures,
    /// Where the job names a sled that saws them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sled: Option<MitreSawing>,
    /// Members whose mitres the sled does not saw.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without_settings: Vec<String>,
}

/// One member. Lengths are along it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MemberFigures {
    /// What it is called.
    pub name: String,
    /// Inner edge to outer edge.
    pub width_mm: f64,
    /// Between the frame's inner corners.
    pub inner_length_mm: f64,
    /// Between the frame's outer corners.
    pub outer_length_mm: f64,
    /// From long point to long point.
    pub over_points_mm: f64,
    /// What it is cut to beforehand, both ends square.
    pub blank_mm: f64,
    /// The blank's end that its inner corners are marked from and that stands at the stop for the
    /// first mitre, which is at the other end; as it lies in the panel, seen from the front.
    pub mark_from: PanelEnd,
    /// From that end of the blank to the inner corner near it. The other inner corner lies the inner
    /// length farther.
    pub mark_to_inner_corner_mm: f64,
    /// The mitres: at that end, and at the other.
    pub mitres: [MitreFigures; 2],
    /// The end at which one arrives who goes round the panel counter-clockwise.
    #[serde(skip)]
    pub round_end: PanelEnd,
}

/// One end of a member.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MitreFigures {
    /// As it lies in the panel, seen from the front.
    pub end: PanelEnd,
    /// Of the frame, on its inside, radians.
    #[serde(rename = "corner_deg", serialize_with = "degrees")]
    pub corner: f64,
    /// Between the mitre's face and the member's length, radians: the angle of the wood at the outer
    /// corner. Above a right angle the long point is the inner corner.
    #[serde(rename = "mitre_deg", serialize_with = "degrees")]
    pub mitre: f64,
    /// From the inner corner to the outer one, along the member, away from it; below zero where the
    /// inner corner is the long point.
    pub reach_mm: f64,
}

/// Mitres that are all off by the same angle the same way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ClosingFigures {
    /// Each mitre, radians.
    #[serde(rename = "off_deg", serialize_with = "degrees")]
    pub off: f64,
    /// With all corners but one closed tight: what the faces of the last one are from lying on each
    /// other, radians.
    #[serde(rename = "closes_off_deg", serialize_with = "degrees")]
    pub closes_off: f64,
    /// With the frame held true: what each corner stands open at one end of the longest mitre, its
    /// faces touching at the other.
    pub each_corner_open_mm: f64,
    /// With all corners but one closed tight and the mitres too blunt: how far apart the outer corners
    /// of the last one are, for the corner where that is most. Only where all long points are on the
    /// outer edge: then members are cut to their outer edge whatever the fence is off by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last_corner_miss_mm: Option<f64>,
}

/// The mitres at a sled, or at a bench hook.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreSawing {
    /// Name of the profile.
    pub machine: String,
    /// Heights of the blade; nothing for a hand saw.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blade: Option<ThroughBlade>,
    /// In working order.
    pub settings: Vec<MitreSetting>,
}

/// A blade that goes through.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ThroughBlade {
    /// The member's thickness.
    pub member_mm: f64,
    /// What the blade stands out of the wood.
    pub beyond_mm: f64,
    /// Top of the sled's base to the top of the blade.
    pub height_above_base_mm: f64,
    /// Table to the top of the blade.
    pub height_above_table_mm: f64,
    /// Least that the sled must move for the longest of the cuts to come clear of the blade.
    pub travel_mm: f64,
}

/// One setting of the fence, and all that is cut with it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreSetting {
    /// From 1, in working order.
    pub number: usize,
    /// From the fence (stop to free end) to the cut, counter-clockwise, looked at from above at a
    /// table saw; radians.
    #[serde(rename = "cut_angle_deg", serialize_with = "degrees")]
    pub cut_angle: f64,
    /// How far the fence is turned from square to the blade, radians.
    #[serde(rename = "from_square_deg", serialize_with = "degrees")]
    pub from_square: f64,
    /// The acute angle between fence and blade, radians.
    #[serde(rename = "to_blade_deg", serialize_with = "degrees")]
    pub to_blade: f64,
    /// The end of the members that is turned away from the operator; left is at the stop. Nothing for
    /// a square fence.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end_away: Option<Hand>,
    /// What the kerf opens along the fence.
    pub kerf_along_fence_mm: f64,
    /// What the longest blank cut takes along the blade's direction.
    pub along_blade_mm: f64,
    /// The wedge between fence and members, where the fence does not turn that far.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wedge: Option<Wedge>,
    /// What is cut, in working order.
    pub cuts: Vec<MitreCut>,
}

/// Mitres that are cut without touching fence or stop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreCut {
    /// What stands on the stop.
    pub at_stop: StopContact,
    /// What lies on the fence.
    pub edge_on_fence: MemberEdge,
    /// Stop's face to the near side of the kerf, along the fence, on the wood's side of it.
    pub stop_to_kerf_mm: f64,
    /// The members that come to it.
    pub members: Vec<MitreLie>,
}

/// How a member lies for a cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreLie {
    /// The member.
    pub name: String,
    /// Its end that is cut, as it lies in the panel; it lies to the right, beyond the blade.
    pub end: PanelEnd,
    /// The face on the sled's base.
    pub face_down: Face,
}

/// What touches the stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum StopContact {
    /// The blank's square end, for a member's first mitre.
    #[serde(rename = "blank")]
    BlankEnd,
    /// The long point of the first mitre, at the fence.
    #[serde(rename = "long point")]
    LongPoint,
    /// The first end, finished, where that is square.
    #[serde(rename = "finished end")]
    FinishedEnd,
}

/// A long edge of a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum MemberEdge {
    /// Toward the panel, with the mortises.
    Inner,
    /// Away from it.
    Outer,
}

impl MitreFigures {
    /// The edge that is longer at this end; nothing for a square one.
    pub fn long_edge(&self) -> Option<MemberEdge> {
        match self.reach_mm {
            reach if reach > SAME_POSITION_MM => Some(MemberEdge::Outer),
            reach if reach < -SAME_POSITION_MM => Some(MemberEdge::Inner),
            _ => None,
        }
    }
}

impl MemberEdge {
    /// `inner`, `outer`.
    pub fn name(self) -> &'static str {
        match self {
            MemberEdge::Inner => "inner",
            MemberEdge::Outer => "outer",
        }
    }
}
