//! Geometry of a saw blade in a notch. Millimetres, radians.

use crate::machines::Tooth;

/// Half the length of blade that stands above a plane at `depth` below its crown, for a blade of
/// radius `radius`: half the chord at that plane, `sqrt(2 R h - h^2)` (Pythagoras on the radius,
/// the chord and the distance of the plane from the centre).
pub(super) fn half_chord(radius: f64, depth: f64) -> f64 {
    (2.0 * radius * depth - depth * depth).max(0.0).sqrt()
}

/// Number of passes that widen a kerf to a notch, neighbouring passes overlapping by at least
/// `overlap`, and the distance from one to the next. One pass where the kerf is as wide or wider.
///
/// The first pass gives `kerf`, every other adds at most `kerf - overlap`.
pub(super) fn passes(width: f64, kerf: f64, overlap: f64) -> (usize, f64) {
    let rest = width - kerf;
    if rest <= crate::geometry::SAME_POSITION_MM {
        return (1, 0.0);
    }
    // A rest that is a whole number of steps but for rounding must not ask for one more.
    let more = (rest / (kerf - overlap) - 1e-9).ceil().max(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
    let more_passes = more as usize;
    (more_passes + 1, rest / more)
}

/// How much higher the floor is in the middle of a kerf cut by teeth bevelled left and right:
/// each tip slopes away over half the kerf.
pub(super) fn floor_ridge(kerf: f64, tooth: Tooth) -> f64 {
    match tooth {
        Tooth::FlatTop => 0.0,
        Tooth::AlternateBevel(bevel) => kerf / 2.0 * bevel.tan(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_chords_of_a_ten_inch_blade() {
        // Computed apart from this code with R = 127 mm.
        for (depth, wanted) in [
            (3.0, 27.4408),
            (6.0, 38.5746),
            (10.0, 49.3964),
            (18.0, 65.1767),
        ] {
            assert!((half_chord(127.0, depth) - wanted).abs() < 5e-5, "{depth}");
        }
    }

    #[test]
    fn passes_cover_the_notch_evenly() {
        assert_eq!(passes(2.8, 2.8, 0.3), (1, 0.0));
        assert_eq!(passes(2.8, 3.2, 0.3), (1, 0.0));
        let (n, shift) = passes(3.05, 2.8, 0.3);
        assert_eq!(n, 2);
        assert!((shift - 0.25).abs() < 1e-12);
        let (n, shift) = passes(3.0, 0.6, 0.2);
        assert_eq!(n, 7);
        assert!((shift - 0.4).abs() < 1e-12);
        assert_eq!(passes(5.3, 2.8, 0.3).0, 2);
        assert_eq!(passes(5.31, 2.8, 0.3).0, 3);
    }

    #[test]
    fn bevelled_teeth_leave_a_ridge() {
        // k/2 tan(bevel): 2.4 mm at 15 deg 0.32, 3.175 mm at 20 deg 0.58.
        let ridge = |kerf, bevel: f64| floor_ridge(kerf, Tooth::AlternateBevel(bevel.to_radians()));
        assert!((ridge(2.4, 15.0) - 0.3215).abs() < 1e-4);
        assert!((ridge(3.175, 20.0) - 0.5778).abs() < 1e-4);
        assert_eq!(floor_ridge(3.0, Tooth::FlatTop), 0.0);
    }
}
