//! The clampings that a bundle needs: one for every face that lies up and every direction of slots.

use crate::geometry::PARALLEL_SINE;
use crate::lattice::{Bundle, Face};

/// Notches that are cut while the bundle lies the same way.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Clamping {
    /// The face that lies up.
    pub(super) face: Face,
    /// From the strips' direction to the slots', counter-clockwise seen from the front.
    pub(super) angle: f64,
    /// Indices of the bundle's notches.
    pub(super) notches: Vec<usize>,
}

/// A bundle's clampings in working order: all directions from one face before it is turned over.
pub(super) fn clampings(bundle: &Bundle) -> Vec<Clamping> {
    let mut found: Vec<Clamping> = Vec::new();
    for (index, notch) in bundle.notches.iter().enumerate() {
        let same = |clamping: &&mut Clamping| {
            clamping.face == notch.face && (clamping.angle - notch.angle).abs() < PARALLEL_SINE
        };
        match found.iter_mut().find(same) {
            Some(clamping) => clamping.notches.push(index),
            None => found.push(Clamping {
                face: notch.face,
                angle: notch.angle,
                notches: vec![index],
            }),
        }
    }
    found.sort_by_key(|clamping| clamping.face);
    found
}
