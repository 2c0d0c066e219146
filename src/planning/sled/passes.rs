//! How many passes make a notch, and how far they lie apart.

use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::lattice::{Bundle, Clamping, Lattice, Notch};
use crate::machines::Sled;
use float_cmp::ApproxEq;

/// More passes than this for one notch nobody saws.
pub(in crate::planning) const MOST_PASSES: usize = 40;

/// Number of passes that widen a kerf to a notch, neighbouring passes overlapping by at least
/// `overlap`, and the distance from one to the next. One pass where the kerf is as wide or wider,
/// or lacks no more than can be set (`settable`): such a second pass might as well fall short or
/// cut too far.
///
/// The first pass gives `kerf`, every other adds at most `kerf - overlap`.
pub(super) fn passes(width: f64, kerf: f64, overlap: f64, settable: f64) -> (usize, f64) {
    let rest = width - kerf;
    if rest <= settable + SAME_POSITION_MM {
        return (1, 0.0);
    }
    // A rest that is a whole number of steps but for rounding must not ask for one more.
    let more = (rest / (kerf - overlap) - 1e-9).ceil().max(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
    let more_passes = more as usize;
    (more_passes + 1, rest / more)
}

/// A hand saw cuts both walls; the waste between them is pared out.
pub(super) fn hand_passes(width: f64, kerf: f64, settable: f64) -> (usize, f64) {
    if width - kerf <= settable + SAME_POSITION_MM {
        (1, 0.0)
    } else {
        (2, width - kerf)
    }
}

/// The width that is drawn of notches for strips, square to the kerf.
pub(super) fn drawn_width(lattice: &Lattice) -> f64 {
    lattice.section.thickness + lattice.section.clearance
}

/// The drawn width of a notch, square to the kerf.
pub(super) fn width_of(notch: &Notch) -> f64 {
    notch.width * notch.angle.sin()
}

/// A bundle's clampings, those with notches of several widths parted by these.
pub(super) fn of_one_width(bundle: &Bundle) -> Vec<Clamping> {
    let mut found: Vec<Clamping> = Vec::new();
    for clamping in bundle.clampings() {
        let start = found.len();
        for at in &clamping.notches {
            let width = |at: &usize| bundle.notches.get(*at).map(width_of);
            let own = width(at);
            let like = |known: &&mut Clamping| {
                let other = known.notches.first().and_then(width);
                own.zip(other)
                    .is_some_and(|(a, b)| a.approx_eq(b, POSITION))
            };
            let known = found.get_mut(start..).unwrap_or_default();
            match known.iter_mut().find(like) {
                Some(known) => known.notches.push(*at),
                None => found.push(Clamping {
                    notches: vec![*at],
                    ..clamping.clone()
                }),
            }
        }
    }
    found
}

/// Passes for a notch of that width and the shift between them, both square to the kerf: the same at every
/// angle, since kerf, overlap and notch all open along the strip by the same factor.
pub(in crate::planning) fn notch_passes(width: f64, sled: &Sled) -> (usize, f64) {
    let kerf = sled.blade.kerf;
    let settable = sled.stop.map_or(0.0, |stop| stop.repeatability);
    match sled.blade.powered {
        Some(powered) => passes(width, kerf, powered.overlap, settable),
        None => hand_passes(width, kerf, settable),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn passes_cover_the_notch_evenly() {
        let passes = |width, kerf, overlap| passes(width, kerf, overlap, 0.1);
        assert_eq!(passes(2.8, 2.8, 0.3), (1, 0.0));
        assert_eq!(passes(2.8, 3.2, 0.3), (1, 0.0));
        // A second pass for no more than the stop can be set is not taken.
        assert_eq!(passes(2.9, 2.8, 0.3), (1, 0.0));
        assert_eq!(passes(2.91, 2.8, 0.3).0, 2);
        assert_eq!(hand_passes(0.7, 0.6, 0.1), (1, 0.0));
        assert_eq!(hand_passes(0.71, 0.6, 0.1).0, 2);
        let (n, shift) = passes(3.05, 2.8, 0.3);
        assert_eq!(n, 2);
        assert!(approx_eq!(f64, shift, 0.25, epsilon = 1e-12));
        let (n, shift) = passes(3.0, 0.6, 0.2);
        assert_eq!(n, 7);
        assert!(approx_eq!(f64, shift, 0.4, epsilon = 1e-12));
        assert_eq!(passes(5.3, 2.8, 0.3).0, 2);
        assert_eq!(passes(5.31, 2.8, 0.3).0, 3);
    }
}
