//! A frame's members as parts of a drawing. Millimetres.

use super::outline::SheetDrawing;
use super::safety::SafetyNotes;
use serde::Serialize;

/// A drawing of a frame's members, each as a part by itself: finished, true size, front face up, inner
/// edge toward y, end to end along x.
#[derive(Debug, Clone, Serialize)]
pub struct FrameParts {
    /// What is made.
    pub title: String,
    /// Names of the files.
    pub files: Vec<PartsFile>,
    /// All members, front to back.
    pub thickness_mm: f64,
    /// Of the mortises for strips: members' front face to their nearer wall, and to their farther one.
    pub mortises_from_front_mm: [f64; 2],
    /// Of tenons and their mortises, likewise, where the corners have some.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tenons_from_front_mm: Option<[f64; 2]>,
    /// Of a rebate or groove, likewise, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recess_from_front_mm: Option<[f64; 2]>,
    /// Which of both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recess: Option<&'static str>,
    /// What a stile is longer at either end until the joint is glued; the drawing is without it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub horn_mm: Option<f64>,
    /// What lies on each layer that is not cut through.
    pub layers: Vec<PartsLayer>,
    /// Round the panel counter-clockwise, as the rails; from the lower side of the drawing up.
    pub members: Vec<FramePart>,
    /// Lower left corner in its zero.
    #[serde(skip)]
    pub drawing: SheetDrawing,
    /// Upper right corner.
    #[serde(skip)]
    pub size_mm: [f64; 2],
    /// For whoever makes them.
    #[serde(skip)]
    pub safety: SafetyNotes,
}

/// One file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PartsFile {
    /// Its name.
    pub path: String,
}

/// A layer and what its lines are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PartsLayer {
    /// Its name in the file.
    pub layer: &'static str,
    /// What lies there.
    pub what: &'static str,
}

/// One member in the drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FramePart {
    /// What it is called.
    pub name: String,
    /// What stands on it; nothing where it has no room.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Over all, along it: over long points, or over tenons.
    pub length_mm: f64,
    /// Inner edge to outer edge.
    pub width_mm: f64,
    /// Lower left corner of its box in the drawing.
    pub at_mm: [f64; 2],
    /// How many members are this part, itself included.
    pub count: usize,
}
