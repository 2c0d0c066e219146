//! Pieces cut by a router in rows on long sticks: both ends' mitres and the laps in one clamping.
//!
//! Program frame: X along the sticks from their datum ends, Y across them from the first one's front
//! edge, Z up from the top of the sticks.

use super::degrees;
use super::measured::MeasuredNote;
use super::router::{ClampFigures, Passes, ToolFigures};
use super::stock::MeasuredStock;
use super::tool_path::{ProgramPart, ToolPath};
use crate::lattice::Face;
use serde::Serialize;

/// All rows of a job on a router.
#[derive(Debug, Clone, Serialize)]
pub struct RoutedRows {
    /// The job.
    pub title: String,
    /// The router's profile.
    pub machine: String,
    /// Where the stock is not as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_stock: Option<MeasuredStock>,
    /// Of the machine, where its profile tells how they were measured.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub measured_figures: Vec<MeasuredNote>,
    /// A program for every kind of piece.
    pub rows: Vec<RoutedRow>,
    /// Kinds of pieces that this router does not cut, and so the bench has to.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<LeftOutPiece>,
    /// What stands in the tool's room.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub clamps: Vec<ClampFigures>,
    /// Estimated, all runs together.
    pub time_s: f64,
}

/// A kind of piece that has no program.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LeftOutPiece {
    /// Its number in the list of pieces, from 1.
    pub number: usize,
    /// What it is called.
    pub name: String,
}

/// One kind of piece, its sticks and its program.
#[derive(Debug, Clone, Serialize)]
pub struct RoutedRow {
    /// Name of the program's file.
    pub file: String,
    /// Where one program has all rows: the number of its stop, from 1, after which the first run
    /// begins; 0 where the program begins with it. Every further run begins after a further stop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after_stop: Option<usize>,
    /// The piece's number in the list of pieces, from 1.
    pub number: usize,
    /// What it is called.
    pub piece: String,
    /// Along its axis, from extreme point to extreme point.
    pub length_over_points_mm: f64,
    /// How many the panel takes.
    pub wanted: usize,
    /// The face of the pieces that lies up; nothing where either may.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub face_up: Option<Face>,
    /// Pieces on a stick.
    pub pieces_a_stick: usize,
    /// Sticks that lie on the machine at once.
    pub sticks_a_run: usize,
    /// How often the program runs, with new sticks each time.
    pub runs: usize,
    /// Pieces beyond those wanted.
    pub spare: usize,
    /// Least length of a stick.
    pub stick_mm: f64,
    /// Of a stick, across it.
    pub thickness_mm: f64,
    /// Of a stick, from its top to the waste board.
    pub depth_mm: f64,
    /// Between neighbouring sticks, free for the tool: the width of a spacer.
    pub apart_mm: f64,
    /// Y of the sticks' front edges.
    pub front_edges_mm: Vec<f64>,
    /// Of a stick at either end: the tool does not come here.
    pub grip_mm: f64,
    /// What stays below the mitres.
    pub skin_mm: f64,
    /// The same where all that can be off makes it thinner.
    pub thinnest_skin_mm: f64,
    /// And thicker.
    pub thickest_skin_mm: f64,
    /// The pieces of a stick from its datum end; alike on every stick.
    pub pieces: Vec<RowPlace>,
    /// Laps of a stick, in the order in which they are cut; before all mitres.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub laps: Vec<RowLap>,
    /// Mitres of a stick, in the order in which they are cut.
    pub mitres: Vec<RowMitre>,
    /// The cutter.
    #[serde(flatten)]
    pub tool: ToolFigures,
    /// For moves from cut to cut.
    pub safe_height_mm: f64,
    /// Depth taken at once by a mitre.
    pub depth_per_pass_mm: f64,
    /// How a mitre is cut.
    pub passes: Passes,
    /// How far the tool's edge runs beyond a stick before and after a cut, square to the stick.
    pub run_out_mm: f64,
    /// While cutting.
    pub feed_mm_per_min: f64,
    /// While going down, in air.
    pub plunge_feed_mm_per_min: f64,
    /// Clockwise.
    pub spindle_rpm: f64,
    /// Way of the tool at cutting feed.
    pub cutting_mm: f64,
    /// Way of the tool in rapid moves.
    pub rapid_mm: f64,
    /// Estimated for one run, spin-up included.
    pub time_s: f64,
    /// The tool's moves.
    #[serde(skip)]
    pub path: ToolPath,
}

/// A piece in a stick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RowPlace {
    /// From the stick's datum end to the piece's point that is nearest to it.
    pub from_mm: f64,
    /// To its farthest point.
    pub to_mm: f64,
    /// Whether its first end lies away from the datum end.
    pub turned: bool,
    /// Whether the side on its left lies at the stick's front edge.
    pub left_in_front: bool,
    /// Its corners, seen from above: x from the stick's datum end, y from its front edge.
    pub outline_mm: Vec<[f64; 2]>,
}

/// A lap of a piece in a stick.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RowLap {
    /// Number of the piece on the stick, from 1.
    pub piece: usize,
    /// From the stick's datum end to the lap's centre, on the stick's centre line.
    pub centre_mm: f64,
    /// Along the stick.
    pub width_mm: f64,
    /// From the top of the stick.
    pub depth_mm: f64,
    /// From the stick to the lap, counter-clockwise seen from above, radians; degrees when
    /// serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
}

/// A mitre's cut through a stick: a slot as wide as the tool.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RowMitre {
    /// From the stick's datum end to the middle of the slot, on the stick's centre line.
    pub centre_mm: f64,
    /// From the stick to the slot, counter-clockwise seen from above, radians; degrees when
    /// serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// How many facets it makes.
    pub facets: usize,
}

impl RoutedRow {
    /// Sticks in all.
    pub fn sticks(&self) -> usize {
        self.sticks_a_run * self.runs
    }

    /// How many parts of its program are for this row: one for every run where a program has all of
    /// them, else one.
    pub fn part_count(&self) -> usize {
        if self.after_stop.is_some() {
            self.runs
        } else {
            1
        }
    }

    /// The program's parts for this row.
    pub fn parts(&self) -> impl Iterator<Item = ProgramPart<'_>> {
        let runs = self.part_count();
        (1..=runs).map(move |run| {
            let mut message = format!("Next {} {}", self.number, self.piece);
            if runs > 1 {
                message.push_str(&format!(", run {run} of {runs}"));
            }
            message.push_str(&format!(", {} new sticks", self.sticks_a_run));
            if let Some(face) = self.face_up {
                message.push_str(&format!(", {} face up", face.name()));
            }
            ProgramPart {
                path: &self.path,
                message,
            }
        })
    }
}
