//! How far what is cut may be from what is wanted.

/// How far a notch may be from what is wanted, as programmed (wood and machine add their own).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerances {
    /// Of a notch's centre.
    pub position_mm: f64,
    /// Of its width.
    pub width_mm: f64,
    /// Of its depth.
    pub depth_mm: f64,
    /// Of its angle. A strip 3 mm thick whose notch centres are 0.005 mm off in opposite
    /// directions on its two sides turns the notch by 0.0033.
    pub angle_rad: f64,
    /// By how much a web between notches may be thinner than planned.
    pub web_mm: f64,
}

impl Default for Tolerances {
    /// Several times what rounding to three decimals makes, and half of what can be seen in a
    /// joint.
    fn default() -> Self {
        Tolerances {
            position_mm: 0.005,
            width_mm: 0.005,
            depth_mm: 0.005,
            angle_rad: 0.0035,
            web_mm: 0.008,
        }
    }
}
