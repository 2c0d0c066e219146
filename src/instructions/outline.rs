//! What a laser or a router cuts from a sheet: closed contours and engraved strokes.
//! Millimetres; sheet frame: x along the grain, y up, origin at the sheet's lower left corner.

use super::safety::SafetyNotes;
use crate::geometry::{Point, Vector};

/// What is done along a contour or stroke; each becomes a layer of the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CutWork {
    /// Engrave, do not cut through.
    Letters,
    /// Of a frame: not cut from this side.
    Frame(FrameLine),
    /// Leave a bridge standing along this stroke of an outline, where a cutter holds parts by them.
    Bridges,
    /// Cut a hole: the part is outside the contour.
    Openings,
    /// Cut free: the part is inside the contour.
    Outlines,
}

/// What a line of a frame's drawing shows. Nothing of it is cut through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FrameLine {
    /// Members of an assembled panel as they are seen from the front.
    Members,
    /// A mortise in a member's inner edge, as it lies in the wood.
    Mortises,
    /// Wall of a rebate.
    Rebates,
    /// Floor of a groove.
    Grooves,
    /// Where tenon and haunch begin at the front face.
    Shoulders,
    /// The same at the back face, where a rebate takes them farther out.
    BackShoulders,
}

impl CutWork {
    /// All kinds in the order in which they are done on a sheet: a part that is cut free first
    /// would move under the beam.
    pub const IN_ORDER: [CutWork; 10] = [
        CutWork::Letters,
        CutWork::Frame(FrameLine::Members),
        CutWork::Frame(FrameLine::Mortises),
        CutWork::Frame(FrameLine::Rebates),
        CutWork::Frame(FrameLine::Grooves),
        CutWork::Frame(FrameLine::Shoulders),
        CutWork::Frame(FrameLine::BackShoulders),
        CutWork::Bridges,
        CutWork::Openings,
        CutWork::Outlines,
    ];

    /// Whether something is cut along it, in a closed contour.
    pub fn cuts(self) -> bool {
        matches!(self, CutWork::Openings | CutWork::Outlines)
    }

    /// Whether a drawing has a layer for it though nothing lies there.
    pub fn always_there(self) -> bool {
        matches!(
            self,
            CutWork::Letters | CutWork::Openings | CutWork::Outlines
        )
    }

    /// Name of the layer: the work itself, in plain capitals.
    pub fn layer(self) -> &'static str {
        match self {
            CutWork::Letters => "LETTERS",
            CutWork::Frame(FrameLine::Members) => "FRAME",
            CutWork::Frame(FrameLine::Mortises) => "MORTISES",
            CutWork::Frame(FrameLine::Rebates) => "REBATES",
            CutWork::Frame(FrameLine::Grooves) => "GROOVES",
            CutWork::Frame(FrameLine::Shoulders) => "SHOULDERS",
            CutWork::Frame(FrameLine::BackShoulders) => "BACK-SHOULDERS",
            CutWork::Bridges => "BRIDGES",
            CutWork::Openings => "OPENINGS",
            CutWork::Outlines => "OUTLINES",
        }
    }
}

/// One part of a sheet as it is meant to be after cutting, at its place on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPart {
    /// Name of the part, such as `upright`; the same for all copies.
    pub name: String,
    /// Which copy, from 1.
    pub copy: usize,
    /// The finished contour, counter-clockwise, no vertex repeated.
    pub outer: Vec<Point>,
    /// Finished holes, each counter-clockwise.
    pub holes: Vec<Vec<Point>>,
    /// Open strokes of its label.
    pub strokes: Vec<Vec<Point>>,
    /// Whether its lower side is laid against strips or a fence, so that nothing may stick out
    /// of it.
    pub laid_edge: bool,
}

impl CutPart {
    /// The same part, displaced with its holes and strokes.
    #[must_use]
    pub fn moved(&self, by: Vector) -> CutPart {
        let moved = |points: &Vec<Point>| points.iter().map(|p| *p + by).collect();
        CutPart {
            name: self.name.clone(),
            copy: self.copy,
            outer: moved(&self.outer),
            holes: self.holes.iter().map(moved).collect(),
            strokes: self.strokes.iter().map(moved).collect(),
            laid_edge: self.laid_edge,
        }
    }
}

/// One path of the file: the line along which the beam's centre runs.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPath {
    /// What is done along it.
    pub work: CutWork,
    /// Closed contour or open stroke.
    pub closed: bool,
    /// Vertices; the first is not repeated at the end of a closed path.
    pub points: Vec<Point>,
}

/// A drawing of one sheet, in the order in which it is cut. It cannot be made without the safety notes
/// that go into its file.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetDrawing {
    /// For what cuts it.
    pub safety: SafetyNotes,
    /// Paths, kerf already taken into account.
    pub paths: Vec<CutPath>,
}
