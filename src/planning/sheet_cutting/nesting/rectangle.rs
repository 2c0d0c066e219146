//! What is laid out, and the room for it.

use crate::geometry::Point;
use crate::machines::Sheet;

/// A length that exceeds the room by less than this, in mm, fits: sums of lengths that fit
/// exactly carry rounding of this order.
pub(super) const FITS_BY: f64 = 1e-9;

/// How much something takes, or has room for, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// Along the grain.
    pub along: f64,
    /// Across it.
    pub across: f64,
}

/// What lies between a sheet's margins.
pub(super) fn between_margins(sheet: &Sheet) -> Extent {
    Extent {
        along: sheet.length - 2.0 * sheet.margin,
        across: sheet.width - 2.0 * sheet.margin,
    }
}

/// What is to be laid out: the box of a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle<'a> {
    /// Whose box it is, for messages.
    pub name: &'a str,
    /// Along the grain, mm.
    pub length: f64,
    /// Across the grain, mm.
    pub height: f64,
    /// True area of the part inside, mm^2.
    pub area: f64,
}

/// Where a rectangle lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// Which sheet, from 0.
    pub sheet: usize,
    /// Lower left corner on the sheet.
    pub corner: Point,
}
