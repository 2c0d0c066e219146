//! What a proof found, for people and programs. Millimetres.

use super::tool_path::ProgramWork;
use serde::Serialize;

/// The outcome of a proof.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ProofAnswer {
    /// The file that was read.
    pub file: String,
    /// What it was compared with.
    pub against: String,
    /// What was looked for in a program.
    #[serde(skip)]
    pub work: ProgramWork,
    /// Whether nothing is wrong.
    pub ok: bool,
    /// Of a program compared with a job: notch by notch, or mortise by mortise.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notches: Vec<NotchProof>,
    /// Of a program: the cuts that it makes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub slots: Vec<SlotFound>,
    /// Of a program.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motion: Option<MotionFound>,
    /// Of outlines.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outlines: Option<OutlinesFound>,
    /// What is wrong.
    pub faults: Vec<FaultFound>,
    /// Of a program: its own remarks that say something else than it does. They cut nothing, but a
    /// person reads them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remarks: Vec<FaultFound>,
}

/// One notch beside what it should be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NotchProof {
    /// Which part of a program with stops, from 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<usize>,
    /// Which bundle of the job, from 1; of mortises which rail.
    pub setup: usize,
    /// Index of the notch, from 1.
    pub index: usize,
    /// Of its centre; absent where the notch is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub centre_error_mm: Option<f64>,
    /// Along the strip, where it is worst.
    pub width_mm: f64,
    /// That less the width wanted.
    pub width_error_mm: f64,
    /// Depth less the depth wanted.
    pub depth_error_mm: f64,
    /// Within tolerance.
    pub ok: bool,
}

impl NotchProof {
    /// The greatest of its errors; a missing notch is worse than any.
    pub fn worst(&self) -> f64 {
        let centre = self.centre_error_mm.map_or(f64::INFINITY, f64::abs);
        centre
            .max(self.width_error_mm.abs())
            .max(self.depth_error_mm.abs())
    }
}

/// A cut in the stock, in the program's frame.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SlotFound {
    /// Middle of the cut, where it is nearest and farthest along Y.
    pub centre_mm: [f64; 2],
    /// Along Y, from and to.
    pub y_mm: [f64; 2],
    /// Least and greatest width along X.
    pub width_mm: [f64; 2],
    /// Least and greatest depth.
    pub depth_mm: [f64; 2],
    /// Line of the program that cut it first.
    pub line: usize,
    /// y, and the lowest and highest x at the top, from front to back, for pictures.
    #[serde(skip)]
    pub outline_mm: Vec<[f64; 3]>,
}

/// What a program's moves come to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MotionFound {
    /// Number of moves.
    pub moves: usize,
    /// Way at a feed.
    pub cutting_mm: f64,
    /// Way of rapid moves.
    pub rapid_mm: f64,
    /// Lowest and highest X; absent where the program does not move along it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub x_mm: Option<[f64; 2]>,
    /// The same of Y.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub y_mm: Option<[f64; 2]>,
    /// The same of Z.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub z_mm: Option<[f64; 2]>,
}

/// What drawings hold.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OutlinesFound {
    /// Contours and strokes.
    pub contours: usize,
    /// Greatest distance of a corner from where it should be, kerf taken off.
    pub worst_error_mm: f64,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FaultFound {
    /// Stable short name.
    pub code: String,
    /// The file, where there are several.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Line of the file; 0 where it is about the whole.
    pub line: usize,
    /// A plain sentence.
    pub text: String,
    /// How many more of this code there are, where this stands for those that are not told one by one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub more: Option<usize>,
}

impl FaultFound {
    /// What stands for those of a code that are not told one by one.
    pub fn more_of(code: &str, count: usize) -> Self {
        FaultFound {
            code: code.to_owned(),
            file: None,
            line: 0,
            text: format!("{count} more of the same"),
            more: Some(count),
        }
    }
}
