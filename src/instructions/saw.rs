//! The settings of a saw and its fence, in working order. Millimetres; degrees when serialised.

use super::degrees;
use super::rounds::Round;
use crate::lattice::Face;
use serde::Serialize;

/// One setting of fence and blade, and all that is cut with it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SawSetting {
    /// From 1, in working order.
    pub number: usize,
    /// What has to be taken away before the fence is set anew.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub take_away: Vec<Obstacle>,
    /// The fence.
    pub fence: FenceSetting,
    /// Depth of the notches that are cut with it.
    pub depth_mm: f64,
    /// Width of those notches as drawn, square to the cut, mm: the planner's way to know them; what is told
    /// stands beside each notch.
    #[serde(skip)]
    pub width: f64,
    /// Top of the sled's base to the top of the blade, correction included.
    pub height_above_base_mm: f64,
    /// Table to the top of the blade.
    pub height_above_table_mm: f64,
    /// Half the length of blade that stands above the base; nothing for a hand saw.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub half_chord_mm: Option<f64>,
    /// Passes for each notch.
    pub passes_per_notch: usize,
    /// From one pass to the next, along the fence.
    pub pass_shift_along_fence_mm: f64,
    /// What the longest strip cut takes along the blade's direction at a turned fence: its length
    /// times the sine of the turn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along_blade_mm: Option<f64>,
    /// What is cut, bundle by bundle; parts that are cut as another bundle's stand with that one.
    pub work: Vec<SettingWork>,
    /// The same in working order.
    pub rounds: Vec<Round>,
}

/// Where the fence stands.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FenceSetting {
    /// From the strips' direction (datum end to far end) to the cut, counter-clockwise, looked at
    /// from the side away from the notched face; radians.
    #[serde(rename = "slot_angle_deg", serialize_with = "degrees")]
    pub slot_angle: f64,
    /// How far the fence is turned from square to the blade, radians.
    #[serde(rename = "from_square_deg", serialize_with = "degrees")]
    pub from_square: f64,
    /// The acute angle between fence and blade, radians.
    #[serde(rename = "to_blade_deg", serialize_with = "degrees")]
    pub to_blade: f64,
    /// What only a fence has that is not square to the blade.
    #[serde(flatten)]
    pub slanted: Option<SlantedFence>,
}

/// What a slanted fence asks for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SlantedFence {
    /// The end of the strips that is turned away from the operator.
    pub end_away: Hand,
    /// From a slot's centre on the strip's centre line to its centre at the fence, along the
    /// fence; negative where that lies nearer the datum end.
    pub slot_at_fence_mm: f64,
    /// What the kerf opens along the fence.
    pub kerf_along_fence_mm: f64,
    /// How far each strip of a block lies along the fence from its neighbour nearer the fence.
    pub step_mm: f64,
    /// Which way the strips farther from the fence are moved: right is toward their far end.
    pub step_toward: Hand,
    /// The wedge between fence and strips, where the fence does not turn that far.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wedge: Option<Wedge>,
}

/// Left, where the datum ends and the stop are, or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Hand {
    /// At the stop.
    Left,
    /// At the strips' far ends.
    Right,
}

impl Hand {
    /// `left` or `right`.
    pub fn name(self) -> &'static str {
        match self {
            Hand::Left => "left",
            Hand::Right => "right",
        }
    }

    /// The other one.
    pub fn other(self) -> Hand {
        match self {
            Hand::Left => Hand::Right,
            Hand::Right => Hand::Left,
        }
    }
}

/// A wedge that turns the strips on a fence that stays where it is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Wedge {
    /// At its thin end, radians.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// To mark it: along the side that lies on the fence, from the thin end,
    pub along_mm: f64,
    /// and square to that.
    pub rise_mm: f64,
    /// Where its thick end lies.
    pub thick_end: Hand,
}

/// Notches of one bundle that enter one face and are cut without touching saw or fence.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SettingWork {
    /// Index of the bundle, from 1.
    pub bundle: usize,
    /// The face that is notched.
    pub face: Face,
    /// Indices of the notches, from 1, from the datum end.
    pub notches: Vec<usize>,
}

/// What stands where strips have to lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Obstacle {
    /// In its slot.
    Key,
    /// On the fence.
    Stop,
    /// Before the stop.
    Spacers,
}
