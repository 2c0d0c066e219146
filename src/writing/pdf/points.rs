//! Millimetres, in which pages are laid out, and points, in which a PDF file and the sizes of type are.

use crate::units::NotPrintable;

/// Millimetres in a point.
pub(super) const MM_PER_POINT: f64 = 25.4 / 72.0;

/// Millimetres to points.
#[allow(clippy::cast_possible_truncation)] // what a PDF holds; a page needs six digits
pub(super) fn points(mm: f64) -> Result<f32, NotPrintable> {
    let points = (mm / MM_PER_POINT) as f32;
    if points.is_finite() {
        Ok(points)
    } else {
        Err(NotPrintable)
    }
}
