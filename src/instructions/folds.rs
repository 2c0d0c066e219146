//! Where a piece is one strip that is cut by a V and bent. Millimetres.

use super::degrees;
use super::end_letter::EndLetter;
use crate::infill::FacetSide;
use serde::Serialize;

/// A bend of a folded piece, on the unfolded strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FoldFigures {
    /// Of the V, between its walls, in the air, radians; degrees when serialised.
    #[serde(rename = "v_angle_deg", serialize_with = "degrees")]
    pub v_angle: f64,
    /// Between the piece's legs on the inner side, once it is bent, radians; degrees when serialised.
    #[serde(rename = "legs_angle_deg", serialize_with = "degrees")]
    pub legs_angle: f64,
    /// The side that the V is cut from, seen from end A to end B: the inner one of the bend.
    pub inner: FacetSide,
    /// The side that holds, on which the V's place is measured.
    pub outer: FacetSide,
    /// Of the V, square to the inner side.
    pub depth_mm: f64,
    /// What it leaves of the thickness.
    pub skin_mm: f64,
    /// Of the V at the inner side.
    pub width_mm: f64,
    /// Along the outer side: from where that begins at end A to below the V's point.
    pub from_a_mm: f64,
    /// The same from end B.
    pub from_b_mm: f64,
    /// Along the axis, from end A's extreme point to the V's point.
    pub at_mm: f64,
    /// How far the corner, round the skin, comes short of the sharp one that is drawn.
    pub short_of_corner_mm: f64,
    /// Of the guide block along whose face either wall is pared, radians; degrees when serialised.
    #[serde(rename = "block_angle_deg", serialize_with = "degrees")]
    pub block_angle: f64,
    /// Its walls, that towards end A first.
    pub walls: [WallFigures; 2],
}

/// A wall of a V, pared when both ends are finished, with the inner side on the fence.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WallFigures {
    /// The end that stands on the stop.
    pub on_stop: EndLetter,
    /// From the stop's face to where the guide plane meets the fence, a spacer included.
    pub stop_mm: f64,
    /// Of the spacer before the stop, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spacer_mm: Option<f64>,
    /// Whether the guides' stop does not go there.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub beyond_stop: bool,
}
