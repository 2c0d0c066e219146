//! The section of the pieces in a panel's cells.

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
