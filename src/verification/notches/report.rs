//! What became of each notch.

/// What became of one notch, the worst of all strips, both their sides, top and floor.
#[derive(Debug, Clone, PartialEq)]
pub struct NotchReport {
    /// Its number.
    pub index: usize,
    /// How far its centre is off along x; `None` where it is missing.
    pub centre_error_mm: Option<f64>,
    /// Width where it is worst, along the strip; 0 where it is missing.
    pub width_mm: f64,
    /// That less the width wanted.
    pub width_error_mm: f64,
    /// Depth less the depth wanted, where it is worst.
    pub depth_error_mm: f64,
    /// Angle less the angle wanted, on the worst strip; `None` where it is missing.
    pub angle_error_rad: Option<f64>,
    /// Line that cut it first; 0 where it is missing.
    pub line: usize,
    /// Whether all of it is within the tolerances.
    pub ok: bool,
}
