//! Shapes of cells, their corners and walls with their names.

use serde::Serialize;

/// What a pattern is drawn for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CellShape {
    /// Four walls at right angles.
    Square,
    /// Three equal walls, the base below.
    Triangle,
    /// Four equal walls, the first along x, a sharp corner at the lower left.
    Rhomb,
}

impl CellShape {
    /// Names of the walls, counter-clockwise; wall `i` runs from corner `i` to the next corner.
    pub fn walls(self) -> &'static [&'static str] {
        match self {
            CellShape::Square | CellShape::Rhomb => &["south", "east", "north", "west"],
            CellShape::Triangle => &["base", "right", "left"],
        }
    }

    /// Names of the corners, counter-clockwise.
    pub fn corners(self) -> &'static [&'static str] {
        match self {
            CellShape::Square | CellShape::Rhomb => {
                &["south-west", "south-east", "north-east", "north-west"]
            }
            CellShape::Triangle => &["bottom-left", "bottom-right", "top"],
        }
    }

    /// `square`, `triangle` or `rhomb`.
    pub fn name(self) -> &'static str {
        match self {
            CellShape::Square => "square",
            CellShape::Triangle => "triangle",
            CellShape::Rhomb => "rhomb",
        }
    }
}
