//! What a sled has to be set to. Millimetres.

use super::degrees;
use super::measured::MeasuredNote;
use super::panel::PanelFacts;
use super::panel_size::PanelSize;
use super::rounds::CutOrder;
use super::saw::{Obstacle, SawSetting};
use super::stock::MeasuredStock;
use crate::lattice::Face;
use serde::Serialize;

/// A lattice's strips on a sled.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SledPlan {
    /// What is made.
    pub title: String,
    /// On which machine.
    pub machine: String,
    /// Of the strips, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// Of the machine, where its profile tells how they were measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub measured_figures: Vec<MeasuredNote>,
    /// Equal strips.
    pub bundles: Vec<SledBundle>,
    /// The saw's deepest setting, and what holds for all of them.
    pub blade: BladeSetting,
    /// By what the cuts of a setting are put in order.
    pub order: CutOrder,
    /// Settings of fence and blade, in working order.
    pub settings: Vec<SawSetting>,
    /// How loose the laps come out.
    pub fit: LapFit,
    /// How errors are to be read.
    pub uncertainty: UncertaintyFacts,
    /// The key, where the sled has a rack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<KeySize>,
    /// What the bench must be told about the panel.
    pub panel: PanelFacts,
    /// How large the panel comes out, where a job says what is round it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<PanelSize>,
}

/// The faces that notches enter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum NotchedFaces {
    /// All of them the front.
    Front,
    /// All of them the back.
    Back,
    /// Some the front, some the back.
    Both,
}

impl SledPlan {
    /// Whether some step takes the key.
    pub fn takes_key(&self) -> bool {
        self.bundles.iter().any(SledBundle::takes_key)
    }
}

impl SledBundle {
    /// Whether one of its steps takes the key.
    pub fn takes_key(&self) -> bool {
        let mut steps = self.steps.iter();
        steps.any(|step| matches!(step.register, Register::Key { .. }))
    }
}

impl NotchedFaces {
    /// `front`, `back` or `both`.
    pub fn name(self) -> &'static str {
        match self {
            NotchedFaces::Front => "front",
            NotchedFaces::Back => "back",
            NotchedFaces::Both => "both",
        }
    }
}

impl From<Option<Face>> for NotchedFaces {
    /// From the face that all notches enter; none where they do not enter the same.
    fn from(face: Option<Face>) -> Self {
        match face {
            Some(Face::Front) => NotchedFaces::Front,
            Some(Face::Back) => NotchedFaces::Back,
            None => NotchedFaces::Both,
        }
    }
}

/// Equal strips and the way through their notches.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SledBundle {
    /// What the strips are called.
    pub family: &'static str,
    /// What the notches enter.
    pub face: NotchedFaces,
    /// How many strips.
    pub count: usize,
    /// Their labels, runs shortened.
    pub strips: String,
    /// End to end.
    pub length_mm: f64,
    /// From the datum end.
    pub notches: Vec<NotchFigures>,
    /// The recommended way, notch by notch in working order.
    pub steps: Vec<Step>,
    /// How good it is.
    pub route: RouteFacts,
    /// Every notch by the stop.
    pub by_stop: Vec<StopSetting>,
    /// Every notch by spacers between one setting of the stop and the strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_spacers: Option<SpacerSettings>,
    /// Key distances, square to the kerf, that the rack lacks; with them every notch that lies
    /// behind another one of its face and slant could be reached.
    pub slots_to_add_mm: Vec<f64>,
    /// Strips held together, or one by one.
    pub loads: Loads,
    /// Index from 1 of an earlier bundle that is the same part, if any; its settings serve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub same_as_bundle: Option<usize>,
}

/// Where one notch lies as the machine cuts it; positions from the datum end, on the strip's centre
/// line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NotchFigures {
    /// From 1.
    pub index: usize,
    /// To its centre.
    pub centre_mm: f64,
    /// To its nearer edge.
    pub near_edge_mm: f64,
    /// To its farther edge.
    pub far_edge_mm: f64,
    /// Along the strip.
    pub width_mm: f64,
    /// Along the strip as the job asks for it, thickness and clearance, where one pass of the blade
    /// cuts wider; the middle is the same.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawn_width_mm: Option<f64>,
    /// From the face.
    pub depth_mm: f64,
    /// Where it enters.
    pub face: Face,
    /// Between the strips' axes, radians; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
}

/// How one notch is placed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// Its index, from 1.
    pub notch: usize,
    /// The saw's setting that it is cut with, from 1.
    pub setting: usize,
    /// What has to come out of the way first, as the work before left the sled: that is the rounds
    /// of the settings, in their order. Nothing in bundles that are cut as another one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub take_away: Vec<Obstacle>,
    /// Number of the setting of stop or stop and spacers, from 1 in working order: steps of the same number are
    /// cut without touching the stop in between, but for the passes of a notch that takes several. Nothing over the
    /// key, and in bundles that are cut as another one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop_setting: Option<usize>,
    /// By what.
    #[serde(flatten)]
    pub register: Register,
    /// Index of its datum notch, from 1: the first that is cut at that angle and width. That one's own is
    /// itself.
    pub from_notch: usize,
    /// Expanded uncertainty of its centre along the strip, from the datum notch, known errors of slots in
    /// full: see [`UncertaintyFacts`]. 0 for the datum notch itself.
    pub uncertainty_mm: f64,
}

/// How figures of uncertainty are to be read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct UncertaintyFacts {
    /// Share of cases that an expanded uncertainty covers at least.
    pub coverage: f64,
    /// What the plus-minus figures of the profile are taken for.
    pub plus_minus: PlusMinusRead,
}

/// What a plus-minus figure is taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PlusMinusRead {
    /// Limits of a uniform spread: anywhere between them alike, and never beyond.
    Limits,
    /// Twice the standard deviation of a normal spread.
    Twice,
    /// Once the standard deviation of a normal spread.
    Once,
}

/// What a way over the rack was chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum RouteAim {
    /// The greatest error of a notch's place is least.
    Places,
    /// The greatest difference of two bays that are drawn equal is least.
    Bays,
}

/// How well the notches of a bundle are placed, and whether they could be better. Along the strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RouteFacts {
    /// What the way over the rack was chosen for.
    pub aim: RouteAim,
    /// Expanded uncertainty of a datum notch's own place from the strip's datum end.
    pub datum_uncertainty_mm: f64,
    /// Greatest expanded uncertainty of a notch's place from its datum notch.
    pub places_mm: f64,
    /// Greatest expanded uncertainty of the difference of two bays of a strip that are drawn equal, where
    /// there are such: from notch to notch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bays_mm: Option<f64>,
    /// No way over this rack brings what was aimed at below this: `bays_mm` where the aim is bays and some are drawn
    /// equal, else `places_mm`.
    pub least_mm: f64,
    /// Whether the way taken is the best: all others were searched, or it comes down to the least.
    pub proved: bool,
}

/// What a strip is pushed against.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "register", rename_all = "lowercase")]
pub enum Register {
    /// Its end against the stop.
    Stop {
        /// Face of the stop to the near side of the kerf, along the fence.
        stop_to_kerf_mm: f64,
    },
    /// An earlier notch over the key.
    Key {
        /// Centre of the key to centre of the kerf, square to the kerf, as wanted.
        key_mm: f64,
        /// The same along the fence, where that is another figure.
        #[serde(skip_serializing_if = "Option::is_none")]
        key_along_fence_mm: Option<f64>,
        /// The rack's slot that gives it, by name.
        slot_mm: f64,
        /// Index of the notch that drops over the key.
        on_notch: usize,
        /// Share of that notch's walls that bears on the key, where a slot that crosses it has
        /// taken some of them away.
        #[serde(skip_serializing_if = "Option::is_none")]
        bearing_share: Option<f64>,
    },
    /// Its end against spacers that lie against the stop.
    Spacers {
        /// Face of the stop to the near side of the kerf, of a single pass in the notch's middle.
        stop_to_kerf_mm: f64,
        /// Length of the spacers together.
        spacer_mm: f64,
    },
}

/// A stop set for one notch.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StopSetting {
    /// Index of the notch.
    pub notch: usize,
    /// Face of the stop to the near side of the kerf, along the fence, of a single pass in the
    /// notch's middle.
    pub stop_to_kerf_mm: f64,
    /// The same for each pass, where the notch takes more than one.
    pub passes_mm: Vec<f64>,
}

/// One setting of the stop and spacers for all notches.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpacerSettings {
    /// Face of the stop to the near side of the kerf, along the fence, for the farthest notch,
    /// without spacers, of a single pass in the notch's middle.
    pub stop_to_kerf_mm: f64,
    /// The same for each pass, where a notch takes more than one.
    pub passes_mm: Vec<f64>,
    /// Length of the spacers between stop and strip, notch by notch.
    pub spacers_mm: Vec<f64>,
}

/// How many strips at once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Loads {
    /// Strips in one clamped block.
    pub strips_per_block: usize,
    /// Blocks to be cut.
    pub blocks: usize,
    /// Width of a block, along the cut.
    pub block_width_mm: f64,
    /// Travel that the sled needs for a block; nothing for a hand saw.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub block_travel_mm: Option<f64>,
    /// Travel for a single strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub single_travel_mm: Option<f64>,
}

/// Height and passes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BladeSetting {
    /// Top of the sled's base to the top of the blade (or the saw's depth stop over the strip's
    /// floor), correction included.
    pub height_above_base_mm: f64,
    /// Table to the top of the blade.
    pub height_above_table_mm: f64,
    /// Passes for each notch.
    pub passes_per_notch: usize,
    /// What a single pass leaves of the drawn width, square to the kerf, where a second one would
    /// move the stop by less than it can be set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub one_pass_short_mm: Option<f64>,
    /// Distance from one pass to the next, square to the kerf.
    pub pass_shift_mm: f64,
    /// Half the length of blade that stands above the base.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub half_chord_mm: Option<f64>,
    /// Travel that the widest block needs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub travel_mm: Option<f64>,
    /// How much higher the notch's floor is between the tips of bevelled teeth.
    pub floor_ridge_mm: f64,
}

/// How the laps will fit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LapFit {
    /// Width of the notch as cut less the mate's thickness, square to the mate; negative for a press
    /// fit.
    pub clearance_mm: f64,
    /// How far the bare grid's angles can change, radians; degrees when serialised. On slanted grids
    /// the acute angles open so far and close by less. Nothing where triangles hold them.
    #[serde(rename = "racking_deg", serialize_with = "degrees")]
    pub racking: f64,
    /// How much more that is where the notch is 0.01 mm wider than told, radians; degrees when
    /// serialised. Digits below it say nothing.
    #[serde(rename = "racking_within_deg", serialize_with = "degrees")]
    pub racking_within: f64,
}

/// The key of a rack.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeySize {
    /// Square to its length, which runs along the kerf.
    pub width_mm: f64,
    /// Its top over the sled's base has to stay below this, so that the shallowest notch drops over
    /// it: that notch's depth, less what bevelled teeth leave in its middle.
    pub below_mm: f64,
    /// Each step that is cut over the key with the slot that serves it, and the steps from slot to
    /// slot of the lattice that are not.
    pub positions: Vec<KeyPosition>,
}

/// Where a key has to sit for one step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeyPosition {
    /// Centre of the key to centre of the kerf, square to the kerf.
    pub centre_to_centre_mm: f64,
    /// Face of the key to the side of the kerf that it faces, square to the kerf.
    pub face_to_kerf_mm: f64,
    /// Centre to centre along a slanted fence: the step from slot to slot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along_fence_mm: Option<f64>,
    /// Width of the key along a slanted fence.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key_along_fence_mm: Option<f64>,
    /// The rack's slot that serves, or could, by name, if there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slot_mm: Option<f64>,
}
