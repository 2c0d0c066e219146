//! Which way lines run: from their datum end, the left or, of steep ones, the lower one.

use crate::geometry::{PARALLEL_SINE, Vector};

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

/// What the first end of a line from its datum end is called: of flat ones the left end, of those
/// at 45 degrees and steeper the lower one.
pub(super) fn datum_end(along: Vector) -> &'static str {
    if is_steep(along) {
        "lower end"
    } else {
        "left end"
    }
}
