//! Where strips' ends are cut off.

use super::trimmed::KeptStrip;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::label_runs;
use crate::instructions::overview::{TrimKind, TrimPlace};
use crate::instructions::panel_size::TrimmedEnd;
use crate::lattice::{Lattice, Strip};

/// The strips of each family, those that are cut off alike together.
pub(super) fn trims(lattice: &Lattice, kept: &[KeptStrip]) -> Vec<TrimKind> {
    let mut kinds: Vec<(TrimKind, usize, Vec<String>)> = Vec::new();
    for (strip, kept) in lattice.strips.iter().zip(kept) {
        let places = places(strip, kept);
        let label = lattice.label(strip.id);
        let is_same = |(kind, family, _): &&mut (TrimKind, usize, Vec<String>)| {
            let pairs = kind.places.iter().zip(&places);
            *family == strip.id.family && pairs.into_iter().all(|(a, b)| is_alike(a, b))
        };
        match kinds.iter_mut().find(is_same) {
            Some((_, _, labels)) => labels.push(label),
            None => {
                let kind = TrimKind {
                    kind: lattice.family_name(strip.id.family),
                    strips: String::new(),
                    places,
                };
                kinds.push((kind, strip.id.family, vec![label]));
            }
        }
    }
    let told = kinds.into_iter().map(|(kind, _, labels)| TrimKind {
        strips: label_runs(&labels),
        ..kind
    });
    told.collect()
}

/// At the datum end and at the other one.
fn places(strip: &Strip, kept: &KeptStrip) -> [TrimPlace; 2] {
    let [from, to] = kept.ends;
    let inside = |at: &f64| *at > from - SAME_POSITION_MM && *at < to + SAME_POSITION_MM;
    let centres = strip.notches.iter().map(|notch| notch.centre);
    let centres: Vec<f64> = centres.filter(inside).collect();
    let first = centres.first().copied().unwrap_or(from);
    let last = centres.last().copied().unwrap_or(to);
    let [near, far] = kept.how;
    [
        place(from, first - from, near),
        place(strip.length - to, to - last, far),
    ]
}

fn place(from_end: f64, from_last_notch: f64, ends: TrimmedEnd) -> TrimPlace {
    TrimPlace {
        from_end_mm: from_end,
        from_last_notch_mm: Some(from_last_notch),
        ends,
    }
}

fn is_alike(a: &TrimPlace, b: &TrimPlace) -> bool {
    TrimPlace::shared([a, b]).is_some_and(|shared| shared.from_last_notch_mm.is_some())
}
