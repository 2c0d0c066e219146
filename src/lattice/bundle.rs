//! Bundles: identical strips, held together on edge and notched in one go.

use super::laps::Face;
use super::layout::{Notch, Strip, StripId};
use crate::geometry::SAME_POSITION_MM;

/// Strips of one family with the same length and the same notches.
#[derive(Debug, Clone, PartialEq)]
pub struct Bundle {
    /// Index of the family.
    pub family: usize,
    /// Its strips.
    pub strips: Vec<StripId>,
    /// Length of each, mm.
    pub length: f64,
    /// In order from the datum end; the mates are those of the first strip.
    pub notches: Vec<Notch>,
}

impl Bundle {
    /// The face from which the notches enter, where it is the same for all of them.
    pub fn face(&self) -> Option<Face> {
        let first = self.notches.first()?.face;
        self.notches
            .iter()
            .all(|notch| notch.face == first)
            .then_some(first)
    }

    /// Whether another bundle's strips have the same length and notch list, seen apart from the
    /// face that they enter: a strip turned over along its length is then the same part.
    pub fn same_list(&self, other: &Bundle) -> bool {
        same(self.length, other.length) && same_notches(&self.notches, &other.notches, same_slot)
    }
}

/// Groups strips into bundles, in the order of their first strip.
pub fn bundles(strips: &[Strip]) -> Vec<Bundle> {
    let mut bundles: Vec<Bundle> = Vec::new();
    for strip in strips {
        let fits = |bundle: &&mut Bundle| {
            bundle.family == strip.id.family
                && same(bundle.length, strip.length)
                && same_notches(&bundle.notches, &strip.notches, |a, b| {
                    same_slot(a, b) && a.face == b.face
                })
        };
        match bundles.iter_mut().find(fits) {
            Some(bundle) => bundle.strips.push(strip.id),
            None => bundles.push(Bundle {
                family: strip.id.family,
                strips: vec![strip.id],
                length: strip.length,
                notches: strip.notches.clone(),
            }),
        }
    }
    bundles
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME_POSITION_MM
}

fn same_notches(a: &[Notch], b: &[Notch], pair: impl Fn(&Notch, &Notch) -> bool) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| pair(a, b))
}

fn same_slot(a: &Notch, b: &Notch) -> bool {
    same(a.centre, b.centre)
        && same(a.width, b.width)
        && same(a.depth, b.depth)
        && (a.angle - b.angle).abs() < crate::geometry::PARALLEL_SINE
}
