//! The section of the pieces in a panel's cells.

/// What stays of a strip's thickness where a V is cut for a bend, where a job does not say, mm: thin enough to
/// go round the corner when it is wetted, thick enough to hold meanwhile. Common practice, no source.
pub const USUAL_FOLD_SKIN_MM: f64 = 0.5;

/// The section of the pieces, and how they sit between the strips. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceSection {
    /// Width as seen from the front of the panel.
    pub thickness: f64,
    /// Front to back.
    pub depth: f64,
    /// From the strips' front face to the pieces'.
    pub setback: f64,
    /// What the opening that pieces are made for is wider, from wall to wall, than the one that the
    /// strips leave: above zero they press, below zero they are loose.
    pub fit: f64,
    /// Notch width of a lap less the mate's thickness; negative for a press fit.
    pub clearance: f64,
}
