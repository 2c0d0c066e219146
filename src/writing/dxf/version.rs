//! The forms of the format that are written.

/// Which form of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DxfVersion {
    /// AC1015 with LWPOLYLINE entities and all required tables and objects.
    #[default]
    R2000,
    /// AC1009 with POLYLINE, VERTEX and SEQEND, for old control programs.
    R12,
}
