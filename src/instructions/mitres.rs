//! Mitres of pieces, and half laps of crossed ones, as they are cut on a sled. Millimetres; degrees
//! when serialised.
//!
//! Sticks lie as strips do: x along the fence from the stop at the left, y away from the fence.

use super::degrees;
use super::end_letter::EndLetter;
use super::measured::MeasuredNote;
use super::saw::{Hand, Wedge};
use super::stock::MeasuredStock;
use crate::geometry::Point;
use crate::infill::FacetSide;
use crate::lattice::{Face, PieceWay};
use serde::Serialize;

/// All mitres of a panel's pieces that a sled makes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitrePlan {
    /// What is made.
    pub title: String,
    /// The sled.
    pub machine: String,
    /// Rows or stick ends.
    pub way: PieceWay,
    /// Of the sticks, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// Of the machine, where its profile tells how they were measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub measured_figures: Vec<MeasuredNote>,
    /// Width of the kerf, square to it: every stop is reckoned with it.
    pub kerf_mm: f64,
    /// Of the sticks, as the pieces are seen from the front.
    pub thickness_mm: f64,
    /// Of the sticks, front to back.
    pub depth_mm: f64,
    /// What rows keep standing; nothing where cuts go through.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub skin: Option<SkinFigures>,
    /// Whether stops are a board parallel to the blade, or a flat block square to the fence.
    pub stop: MitreStop,
    /// Whether the first setting's fence is as the strips' last setting leaves it.
    pub as_it_stands: bool,
    /// Kinds of sticks.
    pub sticks: Vec<StickFigures>,
    /// In working order.
    pub settings: Vec<MitreSetting>,
    /// What guides have to pare, or all of a piece that no way of the sled makes.
    pub left: Vec<LeftForGuides>,
    /// Facets that the sled makes, of all pieces.
    pub facets_cut: usize,
    /// Facets that stay for guides.
    pub facets_left: usize,
    /// Cuts through blocks of sticks.
    pub block_cuts: usize,
    /// What goes wrong by how much, for each angle that is cut.
    pub errors: Vec<MitreErrors>,
}

impl MitrePlan {
    /// Whether pieces lie in rows; else they are made on the ends of sticks.
    pub fn in_rows(&self) -> bool {
        self.way != PieceWay::StickEnds
    }
}

/// What holds a row's pieces together. Measured square to the stick's face.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SkinFigures {
    /// As it is set.
    pub set_mm: f64,
    /// With all that makes it thinner.
    pub thinnest_mm: f64,
    /// With all that makes it thicker: what a knife has to go through.
    pub thickest_mm: f64,
}

/// What sticks are pushed against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MitreStop {
    /// A block whose face stands square to the fence; the stick at the fence touches it.
    Block,
    /// A board whose edge stands parallel to the blade; every stick of a block touches it.
    Board,
}

/// Sticks that are alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StickFigures {
    /// From 1.
    pub number: usize,
    /// Number of the piece that they are made into, from 1.
    pub piece: usize,
    /// Its name in the pattern.
    pub name: String,
    /// How many the panel needs.
    pub needed: usize,
    /// How many sticks.
    pub count: usize,
    /// Pieces in each.
    pub pieces_per_stick: usize,
    /// Least length of a stick, end to end, both ends square.
    pub length_mm: f64,
    /// Blocks of sticks that are cut at once.
    pub blocks: usize,
    /// Sticks in a block; the last one may have fewer.
    pub sticks_per_block: usize,
    /// Whether neighbours are each other's mirror images.
    pub mirrored: bool,
    /// From point to point between two ends that are left square, both rough lengths and a hand saw's
    /// kerf; nothing where no two such ends meet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between_rough_ends_mm: Option<f64>,
    /// From a sawn point to the middle of a hand saw's kerf beyond the same piece's rough end, which is midway
    /// between two rough ends; nothing where both ends are cut here.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rough_end_from_point_mm: Option<f64>,
    /// The ends that are cut here.
    pub cut_ends: Vec<EndLetter>,
    /// The pieces in a row, from the stick's left end; of stick ends none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub pieces: Vec<PieceInStick>,
}

impl StickFigures {
    /// Pieces made beyond those that the panel needs.
    pub fn spare(&self) -> usize {
        (self.count * self.pieces_per_stick).saturating_sub(self.needed)
    }
}

/// A piece in a stick, as it lies when its mitres are cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceInStick {
    /// From the stick's left end to the piece's leftmost point.
    pub from_mm: f64,
    /// Where its first end lies.
    pub first_end: Hand,
    /// The side that lies on the fence, seen from end A to end B.
    pub on_fence: FacetSide,
    /// Its corners in the stick: x from the left end, y from the fence. For pictures; who reads figures
    /// has them from the list of pieces.
    #[serde(skip)]
    pub outline: Vec<Point>,
}

/// What is cut with one setting.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "cut", rename_all = "snake_case")]
pub enum MitreCut {
    /// Half laps, before the mitres.
    Lap {
        /// Of the lap, from the face that lies down.
        depth_mm: f64,
        /// Passes for each.
        passes: usize,
        /// From one pass to the next, along the fence.
        pass_shift_along_fence_mm: f64,
    },
    /// Mitres.
    Facet,
}

/// One setting of fence and blade.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreSetting {
    /// From 1, in working order.
    pub number: usize,
    /// What is cut.
    #[serde(flatten)]
    pub cut: MitreCut,
    /// The fence.
    pub fence: MitreFence,
    /// Top of the sled's base to the top of the blade, correction included.
    pub height_above_base_mm: f64,
    /// Table to the top of the blade.
    pub height_above_table_mm: f64,
    /// Half the length of blade that stands above the base.
    pub half_chord_mm: f64,
    /// Travel of the sled that the widest block needs to come clear of the blade on both sides.
    pub travel_mm: f64,
    /// What is cut in rows, in working order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub work: Vec<MitreWork>,
    /// What is cut on the ends of sticks.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub ends: Vec<EndWork>,
}

impl MitreSetting {
    /// Cuts through blocks of one kind of sticks.
    pub fn cuts_of(&self, sticks: &StickFigures) -> usize {
        let rows = self.work.iter().filter(|work| work.sticks == sticks.number);
        let rows: usize = rows.map(|work| work.stops_mm.len()).sum();
        let ends = self.ends.iter().filter(|work| work.sticks == sticks.number);
        let ends: usize = ends.map(|work| work.lies.len()).sum();
        (rows + ends * sticks.pieces_per_stick) * sticks.blocks
    }

    /// Whether half laps are cut, and no mitres.
    pub fn is_lap(&self) -> bool {
        matches!(self.cut, MitreCut::Lap { .. })
    }
}

/// Where the fence stands, and how sticks lie on it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreFence {
    /// From the sticks' direction (left end to right end) to the cut, counter-clockwise seen from
    /// above; radians.
    #[serde(rename = "cut_angle_deg", serialize_with = "degrees")]
    pub cut_angle: f64,
    /// How far the sticks' direction is turned from square to the blade, radians.
    #[serde(rename = "from_square_deg", serialize_with = "degrees")]
    pub from_square: f64,
    /// The acute angle between sticks and blade, radians.
    #[serde(rename = "to_blade_deg", serialize_with = "degrees")]
    pub to_blade: f64,
    /// The end of the sticks that is turned away from the operator; nothing where they lie square.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end_away: Option<Hand>,
    /// What the kerf opens along the fence.
    pub kerf_along_fence_mm: f64,
    /// How far each stick of a block lies along the fence from its neighbour nearer the fence.
    pub step_mm: f64,
    /// Which way the sticks farther from the fence are moved.
    pub step_toward: Hand,
    /// How the sticks come to lie at that angle.
    pub reach: Reach,
}

/// How sticks come to lie at their angle.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum Reach {
    /// Along the fence, which is turned so far.
    Fence,
    /// Along a straight board that is fixed square to the fence.
    CrossBoard(CrossBoard),
    /// Along a wedge on the fence, which is turned as far as it goes.
    Wedge {
        /// How far the fence is turned from square, radians.
        #[serde(rename = "fence_from_square_deg", serialize_with = "degrees")]
        fence_from_square: f64,
        /// What is missing.
        wedge: Wedge,
    },
}

/// A straight board square to the fence, which sticks lie along.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CrossBoard {
    /// How far the fence is turned from square, radians.
    #[serde(rename = "fence_from_square_deg", serialize_with = "degrees")]
    pub fence_from_square: f64,
    /// The end of the fence that goes away from the operator.
    pub fence_end_away: Hand,
    /// The side of the board that sticks lie on, looked at from the operator's place.
    pub sticks_on: Hand,
}

/// Sticks of one kind at one setting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MitreWork {
    /// Number of the kind of sticks, from 1.
    pub sticks: usize,
    /// The face of the pieces that lies down.
    pub face_down: Face,
    /// From the stop's face, at the fence, to the near side of the kerf, cut by cut. Of laps that take
    /// several passes the first one.
    pub stops_mm: Vec<f64>,
    /// Facets that this makes in one stick.
    pub facets: usize,
}

/// The ends of one kind of sticks at one setting: cut, roll the stick over along its length, cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndWork {
    /// Number of the kind of sticks, from 1.
    pub sticks: usize,
    /// The end of the piece that is made, at the right.
    pub end: EndLetter,
    /// How a stick lies for each facet, in working order.
    pub lies: Vec<EndLie>,
    /// From the finished point to where a hand saw cuts the piece off, square.
    pub cut_off_mm: f64,
    /// What the mitres take off the stick's end, at the point.
    pub taken_mm: f64,
    /// Whether a piece of wood comes off beside dust.
    pub off_cut: bool,
}

/// How a stick lies for one facet of its end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct EndLie {
    /// The side that lies on the fence, of the piece seen from end A to end B.
    pub on_fence: FacetSide,
    /// From the face of a stop at the right of the blade, which the stick's end is pushed against, to
    /// the kerf's left side, the one far from the stop, along the fence.
    pub stop_mm: f64,
}

/// What stays for guides of one kind of piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeftForGuides {
    /// Number of the piece, from 1.
    pub piece: usize,
    /// Its name in the pattern.
    pub name: String,
    /// The ends.
    pub ends: Vec<EndLetter>,
    /// How many facets, of all such pieces.
    pub facets: usize,
    /// Why.
    pub why: LeftBecause,
}

impl LeftForGuides {
    /// The angle that is out of reach, radians.
    pub fn sharpest(&self) -> Option<f64> {
        match self.why {
            LeftBecause::NotReached { jig_angle } | LeftBecause::LapNotReached { jig_angle } => {
                Some(jig_angle)
            }
            LeftBecause::NoRoom
            | LeftBecause::TwoAngles
            | LeftBecause::OtherEnd
            | LeftBecause::OtherWood
            | LeftBecause::Folded
            | LeftBecause::Mouth => None,
        }
    }
}

/// Why a mitre is not cut here.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum LeftBecause {
    /// Fence, board and wedge do not reach an angle.
    NotReached {
        /// Between facet and axis, the one that is farthest from reach, radians.
        #[serde(rename = "jig_angle_deg", serialize_with = "degrees")]
        jig_angle: f64,
    },
    /// They do not reach the angle of a half lap, which has to be cut on the long stick, before
    /// the mitres.
    LapNotReached {
        /// Between the lap and the axis, radians.
        #[serde(rename = "jig_angle_deg", serialize_with = "degrees")]
        jig_angle: f64,
    },
    /// It is a bird's mouth: a blade goes on beyond its apex.
    Mouth,
    /// No stick takes one.
    NoRoom,
    /// Both facets of a stick's end need one angle.
    TwoAngles,
    /// The other end is sawn, and then held.
    OtherEnd,
    /// Its wood is not the one that most pieces are made of.
    OtherWood,
    /// It is a folded strip: its V is cut at the bench, after its ends.
    Folded,
}

/// What small errors do to a piece whose mitres have one angle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MitreErrors {
    /// Between facet and axis, radians.
    #[serde(rename = "jig_angle_deg", serialize_with = "degrees")]
    pub jig_angle: f64,
    /// What a kerf wider by a tenth shortens a piece by, for each of its ends that lie to the right
    /// of a cut.
    pub shorter_by_kerf_mm: f64,
    /// How far the ridge moves across where the stops of both facets are off by as much as the stop
    /// repeats to, one each way.
    pub ridge_by_stops_mm: f64,
}
