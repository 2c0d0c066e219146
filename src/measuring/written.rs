//! Lengths as they are written into a profile.

use crate::units::{MM_PER_INCH, UnitSystem, decimal};

/// Decimals of a millimetre: the micrometre, a tenth of what the last digit of a caliper shows; no profile
/// has less.
const OF_MM: u32 = 3;

/// Decimals of an inch: a quarter of a micrometre.
const OF_INCH: u32 = 5;

/// A length, mm, with its unit, as a profile has it: this is where it is rounded.
pub fn written(mm: f64, units: UnitSystem) -> String {
    let (value, places, unit) = match units {
        UnitSystem::Millimetres => (mm, OF_MM, "mm"),
        UnitSystem::Inches => (mm / MM_PER_INCH, OF_INCH, "in"),
    };
    let text = decimal(value, places).unwrap_or_else(|_| "0".into());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} {unit}")
}

/// The same rounded up: what is uncertain is not made to seem less so (GUM 7.2.6).
pub fn written_up(mm: f64) -> String {
    let scale = 10_f64.powi(OF_MM.cast_signed());
    // A figure that is whole but for binary noise is not pushed up.
    written((mm * scale - 1e-6).ceil() / scale, UnitSystem::Millimetres)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_rounded_to_the_micrometre_and_uncertainties_up() {
        let mm = |value| written(value, UnitSystem::Millimetres);
        assert_eq!(mm(2.6134), "2.613 mm");
        assert_eq!(mm(2.61), "2.61 mm");
        assert_eq!(mm(-0.0506), "-0.051 mm");
        assert_eq!(mm(0.0), "0 mm");
        assert_eq!(mm(140.0), "140 mm");
        assert_eq!(written(3.175, UnitSystem::Inches), "0.125 in");
        assert_eq!(written_up(0.0121), "0.013 mm");
        assert_eq!(written_up(0.012), "0.012 mm");
        assert_eq!(written_up(0.1 + 0.2), "0.3 mm");
        assert_eq!(written_up(0.0), "0 mm");
    }
}
