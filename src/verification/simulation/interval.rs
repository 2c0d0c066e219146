//! Intervals along an axis.

/// How far a value lies outside of an interval; 0 inside.
pub fn distance_outside(value: f64, [low, high]: [f64; 2]) -> f64 {
    (low - value).max(value - high).max(0.0)
}
