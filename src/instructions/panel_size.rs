//! How large a panel comes out, and the opening that it goes into. Millimetres.

use serde::Serialize;

/// Sizes of a panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelSize {
    /// The opening that the job starts from, if it does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening: Option<OpeningFigures>,
    /// Over all, width and height, frame included where there is one; nothing where its members' widths
    /// are not known, or where the panel is no upright rectangle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finished_mm: Option<[f64; 2]>,
    /// Between the frame's inner faces, or between the flush ends where there is none; nothing where it
    /// is no upright rectangle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inside_mm: Option<[f64; 2]>,
    /// From there to the region's edge (on upright grids the outermost strips' centre lines): at the left
    /// and right, below and above.
    pub margin_mm: [f64; 2],
    /// On upright grids from there to the outermost strips' faces: what is seen open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reveal_mm: Option<[f64; 2]>,
    /// Where the ends are cut off.
    pub trims: Vec<EndTrim>,
    /// Cells that are whole.
    pub whole_cells: usize,
    /// Cells that the panel's edge cuts.
    pub cut_cells: usize,
    /// Of the strips as they lie in the region, the shortest.
    pub shortest_strip_mm: f64,
}

/// Where both ends of a family's strips are cut off.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndTrim {
    /// What the strips are called.
    pub family: String,
    /// How the end lies afterwards.
    pub ends: TrimmedEnd,
    /// From the strip's end to the cut; nothing where it differs from strip to strip: strips that meet a
    /// frame too near its corner for a mortise end flush.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_end_mm: Option<f64>,
    /// From the middle of the strip's first or last notch out to the cut; nothing where it differs from
    /// strip to strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_last_notch_mm: Option<f64>,
}

/// How a trimmed end lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TrimmedEnd {
    /// In the panel's outer edge.
    Flush,
    /// In a mortise of the frame.
    LetIn,
}

/// The opening that a panel is for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OpeningFigures {
    /// Where the tape was held.
    pub measured: MeasuredPlace,
    /// The largest upright rectangle that goes into what was measured.
    pub opening_mm: [f64; 2],
    /// Air at every side.
    pub play_mm: f64,
    /// What stays beside that rectangle, where the opening is out of square.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scribe: Option<ScribeFigures>,
}

/// Where the tape was held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum MeasuredPlace {
    /// In the hole.
    Hole,
    /// Between the frame's inner faces.
    Inside,
    /// Over the finished panel.
    Panel,
}

impl MeasuredPlace {
    /// What it is called in a sentence.
    pub fn words(self) -> &'static str {
        match self {
            MeasuredPlace::Hole => "the hole",
            MeasuredPlace::Inside => "the frame's inside",
            MeasuredPlace::Panel => "the finished panel",
        }
    }
}

/// Gaps between the largest upright rectangle, in the middle of what room there is, and straight lines
/// between the opening's corners; play comes on top.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ScribeFigures {
    /// At the lower end and at the upper.
    pub left_mm: [f64; 2],
    /// At the lower end and at the upper.
    pub right_mm: [f64; 2],
    /// At the left end and at the right.
    pub bottom_mm: [f64; 2],
    /// At the left end and at the right.
    pub top_mm: [f64; 2],
    /// How much less left and right together are in the middle of the height.
    pub sides_bow_in_mm: f64,
    /// How much less top and bottom together are in the middle of the width.
    pub sill_and_head_bow_in_mm: f64,
}
