//! The pieces of a panel and what their guides have to be set to. Millimetres.

use super::as_built::{AsBuiltFigures, LeafFigures};
use super::degrees;
use super::end_letter::EndLetter;
use super::folds::FoldFigures;
use super::mitres::MitrePlan;
use super::routed_rows::RoutedRows;
use super::safety::SafetyNotes;
use super::stock::MeasuredStock;
use crate::infill::{CellShape, FacetSide};
use crate::lattice::{Face, PieceWay};
use serde::Serialize;

/// All distinct pieces of a panel.
#[derive(Debug, Clone, Serialize)]
pub struct ParePlan {
    /// What is made.
    pub title: String,
    /// Name of the pattern.
    pub pattern: String,
    /// The guides, where the job or a flag names some.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// Of the strips, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// The bays as built, where the strips are cut: then every opening is one that leaves are made for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_built: Option<AsBuiltFigures>,
    /// The pieces' own wood, where it is not that of the strips.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<PieceWood>,
    /// What the cells are.
    pub cell: CellShape,
    /// Whole cells that the pattern fills.
    pub cells_filled: usize,
    /// Whole cells that stay open.
    pub cells_open: usize,
    /// Cells that the panel's edge cuts.
    pub cells_cut: usize,
    /// Those of them that take pieces, trimmed at the edge.
    pub cells_trimmed: usize,
    /// Pieces at the edge of which too little is left to be held.
    pub pieces_left_out: usize,
    /// In working order.
    pub pieces: Vec<PieceFigures>,
    /// The cells that take pieces, sorted by what they take; none where this is for an opening as
    /// measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cell_kinds: Vec<CellKindFigures>,
    /// How the job asks for its mitres to be made.
    pub way: PieceWay,
    /// What each way of the machines at hand would make of each piece.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub ways: Vec<WayFigures>,
    /// What a sled does of it, where that is the way.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mitres: Option<MitrePlan>,
    /// What a router does of it, where that is the way.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub routed: Option<RoutedRows>,
    /// Every angle that a guide block is needed for.
    pub blocks: Vec<BlockFigures>,
    /// Sizes of the guide that these pieces can be pared on.
    pub guide: GuideFigures,
}

/// Wood of pieces that are not as thick and as deep as the strips, flush in front and as large as their
/// cells.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PieceWood {
    /// As seen from the front.
    pub thickness_mm: f64,
    /// Front to back.
    pub depth_mm: f64,
    /// From the strips' front face to the pieces'.
    pub setback_mm: f64,
    /// From the pieces' back face to the strips'.
    pub behind_mm: f64,
    /// What the openings that pieces are made for are wider, from wall to wall, than those that the strips
    /// leave; below zero narrower.
    pub fit_mm: f64,
}

impl ParePlan {
    /// What is to be minded at the saw or the router, where these cut some of it, and at the guides; no
    /// note twice.
    pub fn safety(&self) -> Vec<&'static str> {
        let sawn = self.mitres.as_ref();
        let sawn = sawn.map(|mitres| SafetyNotes::for_piece_mitres(mitres.way));
        let routed = self.routed.as_ref();
        let routed = routed.map(|_| SafetyNotes::for_routed_rows());
        let machines = sawn.into_iter().chain(routed);
        let mut all: Vec<&'static str> = Vec::new();
        for machine in machines.chain([SafetyNotes::for_guides()]) {
            let new = machine.notes().iter().filter(|note| !all.contains(note));
            let new: Vec<&'static str> = new.copied().collect();
            all.extend(new);
        }
        all
    }
}

/// One way to make the mitres of a kind of piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayFigures {
    /// Number of the piece, from 1.
    pub piece: usize,
    /// Its name in the pattern.
    pub name: String,
    /// The way.
    pub way: PieceWay,
    /// On which machine; none for guides that nobody named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// Settings of fence and blade that it needs, or programs.
    pub settings: usize,
    /// Cuts through blocks of sticks.
    pub cuts: usize,
    /// Sticks that it takes.
    pub sticks: usize,
    /// Facets that the machine makes, of all such pieces.
    pub facets_cut: usize,
    /// Facets that are pared one by one.
    pub facets_pared: usize,
}

/// A guide to be built from sheet, seen from above as it is worked at.
///
/// Frame: x to the right along the fence, y away from the worker, origin at the base's near left
/// corner. The fence lies flush with the base's far and left edges. A block butts with its square
/// end against the fence, their front edges in line; its sharp corner is where the guide plane
/// meets that line. The piece lies before them, the stop to the left of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GuideFigures {
    /// Along the fence and square to it.
    pub base_mm: [f64; 2],
    /// Along and square to its front edge.
    pub fence_mm: [f64; 2],
    /// Of every block, along the fence, from its square end to its sharp corner.
    pub block_length_mm: f64,
    /// Least height of fence, stop and blocks over the base: the depth of the strips.
    pub height_mm: f64,
    /// From a block's square end to the middles of its two bolt holes.
    pub bolts_mm: [f64; 2],
    /// From a block's front edge to the middles of its bolt holes.
    pub bolts_in_mm: f64,
    /// Along the fence and square to it; its bolt goes through its middle.
    pub stop_mm: [f64; 2],
    /// Greatest setting of the stop; the least is none.
    pub reach_mm: f64,
    /// Side of the square holes, and width of the slot.
    pub hole_mm: f64,
}

impl GuideFigures {
    /// From the base's left edge to the sharp corner of a block.
    pub fn corner_mm(&self) -> f64 {
        self.fence_mm[0] + self.block_length_mm
    }

    /// From the base's near edge to the front edges of fence and block.
    pub fn front_mm(&self) -> f64 {
        self.base_mm[1] - self.fence_mm[1]
    }
}

/// Cells of one shape that take the same pieces.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CellKindFigures {
    /// What it is called in pictures and lists: I, II, III.
    pub kind: String,
    /// The letters that its cells have in the map, where a map or a rule says which cell takes what.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub letters: Option<String>,
    /// How many there are.
    pub count: usize,
    /// Clear opening, see [`PieceFigures::opening_mm`]; of cells that the panel's edge cuts as if
    /// they were whole; of a panel as built the opening that their leaves are made for.
    pub opening_mm: [f64; 2],
    /// How leaves for that opening fit, where the panel is known as built.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_built: Option<LeafFigures>,
    /// Whether the panel's edge cuts them.
    pub cut: bool,
    /// Which ones, row by row from the bottom.
    pub bays: Vec<Bay>,
    /// What each of them takes, in the order in which it is filled.
    pub pieces: Vec<CellPieces>,
}

/// The place of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Bay {
    /// From 1, from the left of its row.
    pub column: usize,
    /// From 1, from the bottom.
    pub row: usize,
}

/// Equal pieces of one cell.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CellPieces {
    /// Their number.
    pub number: usize,
    /// Their name in the pattern.
    pub name: String,
    /// How many one cell takes.
    pub count: usize,
}

/// One distinct piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceFigures {
    /// Its number in pictures and lists, from 1.
    pub number: usize,
    /// Its name in the pattern.
    pub name: String,
    /// Whether it goes into its cell last and holds the others.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub locks: bool,
    /// How many the panel takes of just this one.
    pub count: usize,
    /// How many are made, those that are trimmed later included; none of a trimmed one.
    pub made: usize,
    /// Thickness and depth of its wood, where that is not the wood that most pieces are made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood_mm: Option<[f64; 2]>,
    /// Clear width and height of the cells that take it; base and height of a triangle; side of a
    /// rhomb, and square from wall to wall.
    pub opening_mm: [f64; 2],
    /// Along its axis, from extreme point to extreme point.
    pub length_over_points_mm: f64,
    /// What to cut it to before paring, both ends square.
    pub rough_length_mm: f64,
    /// That of the drawing, where this is for an opening as measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawn_length_mm: Option<f64>,
    /// The ends that a machine cuts; the others are pared.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub machined: Vec<EndLetter>,
    /// Whether it cuts the half laps too.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub laps_machined: bool,
    /// The end that is pared first, A or B: the blunter one, since it stands on the stop while the
    /// other is pared; where a machine cuts one, that.
    pub first_end: EndLetter,
    /// Both ends, A first.
    pub ends: Vec<EndFigures>,
    /// Half laps, from the first end.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub laps: Vec<LapFigures>,
    /// Bends, from the first end: of a folded piece all figures are those of the unfolded strip.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub folds: Vec<FoldFigures>,
    /// Of a trimmed one: number, from 1, of the piece that it is before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trimmed_from: Option<usize>,
    /// Where it is cut off at the panel's edge once it is finished.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trims: Vec<TrimFigures>,
    /// Its outline, trimmed: axis along x from the first end's extreme point, y to the left.
    pub outline_mm: Vec<[f64; 2]>,
}

impl FacetFigures {
    /// From what stands on the stop, or on the spacer before it, to where the guide plane meets the fence, mm.
    pub fn from_far_end_mm(&self) -> f64 {
        self.stop_mm - self.spacer_mm.unwrap_or(0.0)
    }
}

impl PieceFigures {
    /// Whether an end is pared; else a machine cuts it.
    pub fn is_pared(&self, end: EndLetter) -> bool {
        !self.machined.contains(&end)
    }

    /// The facets that are pared.
    pub fn pared(&self) -> impl Iterator<Item = &FacetFigures> {
        let ends = EndLetter::BOTH.into_iter().zip(&self.ends);
        let pared = ends.filter(|(letter, _)| self.is_pared(*letter));
        pared.flat_map(|(_, end)| &end.facets)
    }

    /// The same, to be told more of.
    pub(crate) fn pared_mut(&mut self) -> impl Iterator<Item = &mut FacetFigures> {
        let machined = self.machined.clone();
        let ends = EndLetter::BOTH.into_iter().zip(&mut self.ends);
        let pared = ends.filter(move |(letter, _)| !machined.contains(letter));
        pared.flat_map(|(_, end)| &mut end.facets)
    }
}

/// One end of a piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndFigures {
    /// One or two.
    pub facets: Vec<FacetFigures>,
    /// What stands on the stop while this end is pared: the other end's square cut, or its finished
    /// point.
    pub on_stop: OnStop,
    /// Between the sides that meet in this end's extreme point, radians; degrees when serialised.
    /// A square end is no point: 180.
    #[serde(rename = "tip_angle_deg", serialize_with = "degrees")]
    pub tip_angle: f64,
    /// From the axis to the line where the facets meet, the ridge of a point or the apex of a mouth,
    /// positive to the left; absent where there is one facet only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ridge_offset_mm: Option<f64>,
    /// Where its facets turn inward, over a corner of other pieces.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mouth: Option<MouthFigures>,
    /// What paring all facets of this end once more, square to each, shortens the piece by.
    pub take_off: Vec<TakeOff>,
}

/// A bird's mouth at an end.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MouthFigures {
    /// Between its facets, in the air, radians; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// From this end's extreme point to the apex, along the axis.
    pub depth_mm: f64,
    /// Of the finished piece: from the far end's extreme point to the apex, along the axis.
    pub apex_mm: f64,
    /// The same from what stands on the stop while this end is pared.
    pub from_stop_mm: f64,
}

/// One facet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FacetFigures {
    /// The side of the piece that it cuts into, seen from the first end to the second.
    pub side: FacetSide,
    /// Between facet and axis, radians; degrees when serialised.
    #[serde(rename = "jig_angle_deg", serialize_with = "degrees")]
    pub jig_angle: f64,
    /// Of the guide block that pares it, radians; degrees when serialised. A facet of a point that leans
    /// past square is pared on the block of the remaining angle, turned round; one of a mouth on a block
    /// with a blunt corner, above 90 degrees.
    #[serde(rename = "block_angle_deg", serialize_with = "degrees")]
    pub block_angle: f64,
    /// The side of the piece that lies on the fence: the one that the facet cuts into; of a facet
    /// that leans past square the other one.
    pub on_fence: OnFence,
    /// Of the finished piece: along the axis, from the far end's extreme point to where the facet
    /// leaves that side.
    pub shoulder_mm: f64,
    /// The setting that is used: from the stop's face to where the guide plane meets the fence, a spacer
    /// before the stop included. While the far end is rough it is more than the shoulder.
    pub stop_mm: f64,
    /// What has to stand between stop and piece, where the stop of the guides at hand does not come near enough
    /// by itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spacer_mm: Option<f64>,
    /// Whether the stop of the guides at hand does not go there, with a spacer or without.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub beyond_stop: bool,
    /// Beside the other facet of this end.
    pub cut: Cut,
}

/// The side of a piece that lies on the fence, seen from end A to end B.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum OnFence {
    /// Its left side.
    Left,
    /// Its right side.
    Right,
    /// For a facet square across the end.
    Either,
}

impl OnFence {
    /// `left`, `right` or `either`.
    pub fn name(self) -> &'static str {
        match self {
            OnFence::Left => "left",
            OnFence::Right => "right",
            OnFence::Either => "either",
        }
    }
}

/// What stands on the stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum OnStop {
    /// The other end as it was sawn.
    SquareEnd,
    /// The other end's finished point.
    Point,
}

impl OnStop {
    /// The word for it, as in the JSON answer.
    pub fn name(self) -> &'static str {
        match self {
            OnStop::SquareEnd => "square_end",
            OnStop::Point => "point",
        }
    }
}

/// How much a facet takes beside the other one of its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Cut {
    /// As much, or there is no other.
    Even,
    /// Less.
    Light,
    /// More.
    Heavy,
}

impl Cut {
    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Cut::Even => "even",
            Cut::Light => "light",
            Cut::Heavy => "heavy",
        }
    }
}

/// A half lap in a piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LapFigures {
    /// The piece that lies in it.
    pub mate: String,
    /// From the first end's extreme point.
    pub centre_mm: f64,
    /// Along the axis.
    pub width_mm: f64,
    /// From the face.
    pub depth_mm: f64,
    /// The face that it enters.
    pub face: Face,
    /// Between the axes, radians; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
}

/// Where a finished piece is cut off at the panel's edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimFigures {
    /// From the first end's extreme point to where the cut crosses the axis.
    pub at_mm: f64,
    /// Length that is kept, along the axis, from the point of the end that is kept; of a cut that
    /// runs along the piece this may lie beyond the wood.
    pub kept_mm: f64,
    /// The same to where the cut leaves the piece's left side, seen from end A to end B; absent
    /// where it leaves it through a facet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_mm: Option<f64>,
    /// The same on the right side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub right_mm: Option<f64>,
    /// From the axis to the cut, counter-clockwise seen from the front, radians; degrees when
    /// serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// The end that is kept.
    pub keeps: EndLetter,
}

/// A guide block.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BlockFigures {
    /// Between its face and the fence, radians; degrees when serialised.
    #[serde(rename = "jig_angle_deg", serialize_with = "degrees")]
    pub jig_angle: f64,
    /// Whether the guides have it; absent where no guides are named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_hand: Option<bool>,
}

/// Paring a finished end once more.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TakeOff {
    /// Off each facet, square to it.
    pub pared_mm: f64,
    /// Off the length over points.
    pub shortens_mm: f64,
}
