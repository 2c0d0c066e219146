//! The frame's rails and their mortises. Millimetres.

use super::degrees;
use super::frame_joint::{RecessFigures, TenonFigures};
use super::frame_mitres::MitrePlan;
use super::measured::MeasuredNote;
use super::panel_size::PanelSize;
use super::router::ToolFigures;
use super::safety::{MitreSaw, SafetyNotes};
use super::stock::MeasuredStock;
use super::tool_path::{ProgramPart, ToolPath};
use crate::lattice::{ByStrips, PanelEnd};
use serde::Serialize;

/// A panel's frame.
#[derive(Debug, Clone, Serialize)]
pub struct RailPlan {
    /// What is made.
    pub title: String,
    /// Of the strips, where it is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// Of the machine, where its profile tells how they were measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub measured_figures: Vec<MeasuredNote>,
    /// Mortise, from the rail's inner face to its floor.
    pub mortise_depth_mm: f64,
    /// From the strips' trimmed ends to the floors, square to the rail.
    pub end_gap_mm: f64,
    /// Mortise, across the rail.
    pub mortise_height_mm: f64,
    /// Front face of the rail to the mortise's front edge.
    pub from_front_mm: f64,
    /// Of the frame's place, what follows from the strips.
    #[serde(skip)]
    pub by_strips: ByStrips,
    /// Rail, front to back.
    pub thickness_mm: f64,
    /// What corners a router's tool leaves, where the job names a router.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_radius_mm: Option<f64>,
    /// Round the panel counter-clockwise.
    pub rails: Vec<RailFigures>,
    /// The members' lengths and mitres, where the job says how wide they are.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mitres: Option<MitrePlan>,
    /// The members' lengths and tenons, where they are tenoned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tenons: Option<TenonFigures>,
    /// A rebate or groove along the members.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recess: Option<RecessFigures>,
    /// Where strips are trimmed after glue-up.
    pub trims: Vec<TrimFigures>,
    /// How large the panel comes out, where a job says what is round it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<PanelSize>,
    /// A router's programs for the mortises, where they were asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub programs: Vec<RailProgram>,
    /// Rails whose mortises the router does not reach, where it cuts others.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without_program: Vec<String>,
}

impl RailPlan {
    /// What is to be minded at the rails.
    pub fn safety(&self) -> SafetyNotes {
        let by_program = !self.programs.is_empty();
        if self.tenons.is_some() {
            return SafetyNotes::for_tenoned_rails(by_program);
        }
        let Some(mitres) = &self.mitres else {
            return SafetyNotes::for_mortises(by_program);
        };
        let by_hand = (mitres.sled.as_ref()).is_some_and(|sawing| sawing.blade.is_none());
        let saw = if by_hand {
            MitreSaw::Hand
        } else {
            MitreSaw::Table
        };
        SafetyNotes::for_mitred_rails(by_program, saw)
    }
}

/// A router's program for the mortises of one rail, or of several that are alike. Program frame: the
/// rail lies with its inner face up and its front face toward Y 0; X along it from the inner corner
/// that lies at the left then, Y from its front face to its back, Z up from its inner face.
/// Millimetres, mm/min, seconds.
#[derive(Debug, Clone, Serialize)]
pub struct RailProgram {
    /// Name of the program's file.
    pub file: String,
    /// Where one program has all rails: the number of its stop, from 1, after which the first of
    /// these begins; 0 where the program begins with it. Every further rail begins after a further
    /// stop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after_stop: Option<usize>,
    /// It runs once for each of them.
    pub rails: Vec<LyingRail>,
    /// Of the rails' inner faces, between the inner corners.
    pub inner_length_mm: f64,
    /// Front face, back face.
    pub stock_y_mm: [f64; 2],
    /// Across Y: front and back wall of every mortise.
    pub y_mm: [f64; 2],
    /// Along X.
    pub mortises: Vec<PocketFigures>,
    /// Inner face to the floors.
    pub depth_mm: f64,
    /// The cutter.
    #[serde(flatten)]
    pub tool: ToolFigures,
    /// Left on every wall by the roughing passes.
    pub wall_allowance_mm: f64,
    /// Stays in the mortises' corners.
    pub corner_radius_mm: f64,
    /// For moves from mortise to mortise.
    pub safe_height_mm: f64,
    /// Depth taken at once.
    pub depth_per_pass_mm: f64,
    /// How many depths.
    pub depths: usize,
    /// Of the ways down, from level, radians; degrees when serialised.
    #[serde(rename = "ramp_deg", serialize_with = "degrees")]
    pub ramp: f64,
    /// While cutting.
    pub feed_mm_per_min: f64,
    /// Clockwise.
    pub spindle_rpm: f64,
    /// Whether the tool stands for a moment in corners, as the control would round them.
    pub rests_in_corners: bool,
    /// Way of the tool at cutting feed.
    pub cutting_mm: f64,
    /// Way of the tool in rapid moves.
    pub rapid_mm: f64,
    /// Estimated for one rail, spin-up included.
    pub time_s: f64,
    /// The tool's moves.
    #[serde(skip)]
    pub path: ToolPath,
}

impl RailProgram {
    /// The program's parts: one for every rail where a program has all of them, else one.
    pub fn parts(&self) -> impl Iterator<Item = ProgramPart<'_>> {
        let count = if self.after_stop.is_some() {
            self.rails.len()
        } else {
            1
        };
        self.rails.iter().take(count).map(|rail| ProgramPart {
            path: &self.path,
            message: format!(
                "Next the {}, {} corner at X zero",
                rail.name,
                rail.zero_corner.name()
            ),
        })
    }
}

/// A rail on the router.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LyingRail {
    /// What it is called.
    pub name: String,
    /// Which of its inner corners is X 0, seen from the panel's front.
    pub zero_corner: RailCorner,
}

/// An inner corner of the frame at the end of a rail, seen from the panel's front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum RailCorner {
    /// Of a flat rail.
    Left,
    /// Of a flat rail.
    Right,
    /// Of a steep rail.
    Lower,
    /// Of a steep rail.
    Upper,
}

impl RailCorner {
    /// `left`, `right`, `lower`, `upper`.
    pub fn name(self) -> &'static str {
        match self {
            RailCorner::Left => "left",
            RailCorner::Right => "right",
            RailCorner::Lower => "lower",
            RailCorner::Upper => "upper",
        }
    }
}

/// A mortise in the program's frame.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PocketFigures {
    /// From 1, from X 0.
    pub index: usize,
    /// Wall nearer to X 0.
    pub near_edge_mm: f64,
    /// The other wall across X.
    pub far_edge_mm: f64,
}

/// One rail.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RailFigures {
    /// What it is called, and on which side of the panel it lies.
    pub name: String,
    /// The end that positions are measured from.
    pub datum: PanelEnd,
    /// Of the inner face, between the inner corners of the frame.
    pub inner_length_mm: f64,
    /// From its datum end's inner corner.
    pub mortises: Vec<MortiseFigures>,
    /// Strips cut flush with its face: they meet it too near a corner.
    pub flush: Vec<String>,
}

/// One mortise; positions along the rail's inner face from the inner corner at its datum end.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MortiseFigures {
    /// From 1.
    pub index: usize,
    /// Strips that it takes.
    pub strips: Vec<String>,
    /// To its middle.
    pub centre_mm: f64,
    /// To its nearer edge.
    pub near_edge_mm: f64,
    /// To its farther edge.
    pub far_edge_mm: f64,
    /// Along the rail.
    pub width_mm: f64,
    /// Between rail and strip, radians; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
}

/// Where strips are trimmed; the same for all that are named.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimFigures {
    /// Labels, runs shortened.
    pub strips: String,
    /// The end that both cuts are measured from, as the strip lies in the panel. It is not the marked one of a strip that was turned end for end.
    pub from: PanelEnd,
    /// To the cut near that end, in the middle of the strip's thickness.
    pub datum_end_mm: f64,
    /// To the cut at the other end.
    pub other_end_mm: f64,
    /// Between strip and cut, radians; degrees when serialised.
    #[serde(rename = "datum_end_angle_deg", serialize_with = "degrees")]
    pub datum_angle: f64,
    /// The same at the other end.
    #[serde(rename = "other_end_angle_deg", serialize_with = "degrees")]
    pub other_angle: f64,
    /// Rails that a corner of the end near `from` still reaches into after the cut: it is cut
    /// along their faces too.
    pub datum_end_corners: Vec<String>,
    /// The same at the other end.
    pub other_end_corners: Vec<String>,
}
