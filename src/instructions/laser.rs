//! What a laser cuts, sheet by sheet. Millimetres.

use super::degrees;
use super::measured::MeasuredNote;
use super::outline::{CutPart, SheetDrawing};
use super::panel::AssemblyStep;
use super::safety::SafetyNotes;
use super::stock::MeasuredStock;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::lattice::Face;
use crate::units::UnitSystem;
use float_cmp::ApproxEq;
use serde::Serialize;

/// What is cut from sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ware {
    /// Side profiles of strips.
    Strips,
    /// Infill pieces.
    Pieces,
    /// Side profiles of infill pieces with half laps, their ends still square.
    Lapped,
    /// Guide blocks.
    Blocks,
    /// Base, fence and stop that guide blocks go with.
    Guide,
    /// Story sticks.
    Sticks,
    /// Base inserts of a sled.
    Inserts,
    /// A comb of slots.
    Comb,
}

impl Ware {
    /// What the parts are called.
    pub fn name(self) -> &'static str {
        match self {
            Ware::Strips => "strips",
            Ware::Pieces => "pieces",
            Ware::Lapped => "lapped blanks",
            Ware::Blocks => "guide blocks",
            Ware::Guide => "guide parts",
            Ware::Sticks => "story sticks",
            Ware::Inserts => "base inserts",
            Ware::Comb => "a comb of slots",
        }
    }

    /// Several of them in words: `strips, pieces and guide blocks`.
    pub fn in_words(wares: &[Ware]) -> String {
        let names: Vec<&str> = wares.iter().map(|ware| ware.name()).collect();
        match names.split_last() {
            Some((last, others)) if !others.is_empty() => {
                format!("{} and {last}", others.join(", "))
            }
            _ => names.concat(),
        }
    }
}

/// Parts on a laser.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LaserPlan {
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
    /// What the parts are, in words.
    pub what: String,
    /// The same, one by one.
    #[serde(skip)]
    pub wares: Vec<Ware>,
    /// Width of the beam's groove, taken into account in every path; 0 for a cutter.
    pub kerf_mm: f64,
    /// Of a cutter that keeps outside the outlines drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cutter_mm: Option<f64>,
    /// Width of the line that the tool for labels leaves, where it is not the one that cuts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub letter_line_mm: Option<f64>,
    /// Bridges of each part.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bridges_of_each_part: Option<usize>,
    /// What a notch is wider than its mate, where a comb's slot stands in for the job's clearance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fitted_clearance_mm: Option<f64>,
    /// Of the sheets: what becomes the strips' thickness, or the pieces' depth; absent where it
    /// does not matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet_thickness_mm: Option<f64>,
    /// Of a guide: parts that are glued on each other.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stack: Option<Stack>,
    /// Along and across the grain.
    pub sheet_mm: [f64; 2],
    /// No layout needs fewer sheets than this.
    pub fewest_sheets: usize,
    /// What it leaves open that slanted notches of strips, and half laps of pieces, are cut square.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub square_cuts: Vec<SquareCut>,
    /// What labels of story sticks say besides numbers and centres.
    #[serde(skip)]
    pub stick_labels: StickLabels,
    /// Units of the places that are written on story sticks and base inserts.
    #[serde(skip)]
    pub marked_in: UnitSystem,
    /// Blanks of pieces, cut with their half laps in them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lapped: Vec<LappedBlank>,
    /// Where strips and pieces lie that have no label.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unlabelled: Vec<Unlabelled>,
    /// In which order strips are laid on each other, the panel's back down.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub assembly: Vec<AssemblyStep>,
    /// By the area of the parts alone.
    pub fewest_sheets_by_area: usize,
    /// By how many of the long parts fit beside each other.
    pub fewest_sheets_by_length: usize,
    /// Across the grain: the sizes of all sheets' drawings added up.
    pub width_taken_mm: f64,
    /// On as many sheets or fewer no layout of these parts, none of them turned, takes up less.
    pub least_width_mm: f64,
    /// Where all parts are of one height across the grain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rows: Option<RowsFound>,
    /// One a sheet.
    pub files: Vec<SheetFile>,
}

impl LaserPlan {
    /// The cautions for what cuts it.
    pub fn safety(&self) -> SafetyNotes {
        SafetyNotes::for_sheet(self.cutter_mm.is_some())
    }
}

/// What the labels of story sticks say besides numbers and centres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct StickLabels {
    /// On a stick for strips with notches in both: which face a notch enters.
    pub faces: bool,
    /// At notches that are not square: their angles.
    pub angles: bool,
}

/// Rows of parts that are all of one height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct RowsFound {
    /// On all sheets together.
    pub taken: usize,
    /// No layout of these parts, none of them turned, has fewer.
    pub fewest: usize,
    /// Whether the rows taken are the fewest there can be; else it is not known.
    pub proved: bool,
}

/// Parts that are glued on each other until they are high enough.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Stack {
    /// How many of every part, all of them in the count of parts.
    pub layers: usize,
    /// How high they must stand together.
    pub height_mm: f64,
    /// The thinnest sheet of which so many come to that.
    pub least_sheet_mm: f64,
}

/// A part that can be told from others only by where it is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Unlabelled {
    /// What it is.
    #[serde(skip)]
    pub ware: Ware,
    /// Its sheet, from 1.
    pub sheet: usize,
    /// What it is called.
    pub name: String,
    /// Which of them, from 1.
    pub copy: usize,
    /// The label that it has in the panel; of a piece its number.
    pub label: String,
    /// Lower left corner of its box on the sheet.
    pub at_mm: [f64; 2],
}

/// A piece's blank, cut in its side profile with the half laps in it: both ends are square yet, and
/// are pared after that.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LappedBlank {
    /// The piece's number in pictures and lists, from 1.
    pub number: usize,
    /// Its name in the pattern.
    pub name: String,
    /// What stands at its end A, where there is room.
    pub label: String,
    /// How many.
    pub count: usize,
    /// From square end to square end.
    pub length_mm: f64,
    /// What either end is longer than the piece's point there.
    pub rough_end_mm: f64,
    /// In order from end A.
    pub slots: Vec<BlankSlot>,
    /// How many of them lie turned over in the panel, so that their back faces are in front.
    pub turned_over: usize,
    /// The names of those, in the pattern.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub turned_names: Vec<String>,
    /// The names of those that lie as they are drawn.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub as_drawn_names: Vec<String>,
}

/// A half lap as it is cut in a blank.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BlankSlot {
    /// The piece that lies in it.
    pub mate: String,
    /// From the blank's square end A to its middle.
    pub centre_mm: f64,
    /// Along the blank, as cut: of a slanted lap more than the lap.
    pub slot_mm: f64,
    /// From the face.
    pub depth_mm: f64,
    /// The face that it enters.
    pub face: Face,
}

/// Slanted notches that are cut square.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SquareCut {
    /// Between the strips or pieces, radians; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// Width of the slanted notch along the strip.
    pub notch_mm: f64,
    /// Width of the slot that is cut for it.
    pub slot_mm: f64,
    /// What the slot is longer: at each side of the strip all of it lies at one end of the mate,
    /// at the other side at the other end.
    pub gap_mm: f64,
    /// Between a mate and the floor of a slot that it shares with one that lies deeper, at most.
    pub floor_gap_mm: f64,
}

impl SquareCut {
    /// Whether nothing of it differs but for rounding.
    pub fn is_like(&self, other: &SquareCut) -> bool {
        let figures = |cut: &SquareCut| [cut.notch_mm, cut.slot_mm, cut.gap_mm, cut.floor_gap_mm];
        let mut both = figures(self).into_iter().zip(figures(other));
        self.angle.approx_eq(other.angle, DIRECTION) && both.all(|(a, b)| a.approx_eq(b, POSITION))
    }
}

/// One sheet and its file.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetFile {
    /// Name of the file.
    pub path: String,
    /// From 1.
    pub sheet: usize,
    /// Box that holds all paths, along and across the grain: what another program should show as
    /// the drawing's size.
    pub used_mm: [f64; 2],
    /// Area of the parts over the area of the sheet.
    pub utilisation: f64,
    /// Way from path to path, in the parts' order and as drawn.
    pub travel_before_mm: f64,
    /// The same as it is drawn.
    pub travel_mm: f64,
    /// Along and across the grain: the largest rectangle beside or above all grooves, over the
    /// whole sheet's width or length.
    pub offcut_mm: [f64; 2],
    /// Its lower left corner on the sheet; the upper right one is the sheet's.
    pub offcut_from_mm: [f64; 2],
    /// In the order in which they are cut.
    pub parts: Vec<PartName>,
    /// The finished parts at their places on the sheet.
    #[serde(skip)]
    pub finished: Vec<CutPart>,
    /// The beam's paths.
    #[serde(skip)]
    pub drawing: SheetDrawing,
}

/// Which part, and on which layer its outline lies.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartName {
    /// What the part is called.
    pub name: String,
    /// Which of them, from 1.
    pub copy: usize,
    /// Layer of its outline.
    pub layer: &'static str,
}
