//! Which way lines run: from their datum end, the left or, of steep ones, the lower one.

use crate::geometry::{PARALLEL_SINE, Vector};
use serde::Serialize;

/// The direction in which a family's strips are numbered: to the right for steep ones, else up.
pub(super) fn across(along: Vector) -> Vector {
    if is_steep(along) {
        Vector::new(along.y, -along.x)
    } else {
        Vector::new(-along.y, along.x)
    }
}

/// Strips at 45 degrees count as steep.
pub(super) fn is_steep(along: Vector) -> bool {
    let slack = PARALLEL_SINE * along.length();
    along.y.abs() >= along.x.abs() - slack
}

/// A unit vector at an angle from x, counter-clockwise, radians; exact at quarter turns.
pub(super) fn direction(angle: f64) -> Vector {
    let exact = |part: f64| if part.abs() < 1e-15 { 0.0 } else { part };
    let (sine, cosine) = angle.sin_cos();
    Vector::new(exact(cosine), exact(sine))
}

/// Whether a line runs toward its datum end: the lower end of a steep one, else the left end.
pub(super) fn is_backward(along: Vector) -> bool {
    if is_steep(along) {
        along.y < 0.0
    } else {
        along.x < 0.0
    }
}

/// The same line from its datum end.
pub(super) fn from_datum(along: Vector) -> Vector {
    if is_backward(along) { -along } else { along }
}

/// An end of a line as it lies in the panel, seen from the front. Serialises as its
/// [name](PanelEnd::name).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum PanelEnd {
    /// Of a flat line the datum end.
    #[serde(rename = "left end")]
    Left,
    /// Of a flat line the other end.
    #[serde(rename = "right end")]
    Right,
    /// Of a steep line the datum end.
    #[serde(rename = "lower end")]
    Lower,
    /// Of a steep line the other end.
    #[serde(rename = "upper end")]
    Upper,
}

impl PanelEnd {
    /// `left end`, `right end`, `lower end`, `upper end`.
    pub fn name(self) -> &'static str {
        match self {
            PanelEnd::Left => "left end",
            PanelEnd::Right => "right end",
            PanelEnd::Lower => "lower end",
            PanelEnd::Upper => "upper end",
        }
    }

    /// The other end of the same line.
    #[must_use]
    pub fn opposite(self) -> PanelEnd {
        match self {
            PanelEnd::Left => PanelEnd::Right,
            PanelEnd::Right => PanelEnd::Left,
            PanelEnd::Lower => PanelEnd::Upper,
            PanelEnd::Upper => PanelEnd::Lower,
        }
    }

    /// Whether positions are measured from it.
    pub fn is_datum(self) -> bool {
        matches!(self, PanelEnd::Left | PanelEnd::Lower)
    }
}

/// The first end of a line from its datum end: of flat ones the left end, of those at 45 degrees and
/// steeper the lower one.
pub(super) fn datum_end(along: Vector) -> PanelEnd {
    if is_steep(along) {
        PanelEnd::Lower
    } else {
        PanelEnd::Left
    }
}
