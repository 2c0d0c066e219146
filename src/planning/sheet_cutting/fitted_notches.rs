//! Notches as wide as the slot of the comb that fitted.

use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::{Lattice, Notch};
use crate::machines::Laser;
use crate::phrase;
use crate::units::Mm;

/// A notch as it is drawn: where a slot was tried, that slot's clearance stands in for the job's.
pub fn fitted(lattice: &Lattice, laser: &Laser, notch: &Notch) -> Notch {
    let wider = laser
        .fit
        .map_or(0.0, |fit| fit.slot - fit.strip - lattice.section.clearance);
    Notch {
        width: notch.width + wider / notch.angle.sin(),
        ..*notch
    }
}

/// Whether the fitted notches leave the wood between them that the job asks for.
pub(super) fn too_little_wood(lattice: &Lattice, laser: &Laser) -> Option<Finding> {
    let least_web = lattice.section.least_web - SAME_POSITION_MM;
    let webs = lattice.strips.iter().flat_map(|strip| {
        let drawn = strip
            .notches
            .iter()
            .map(|notch| fitted(lattice, laser, notch));
        let drawn: Vec<Notch> = drawn.collect();
        let wide_enough_before = webs(&strip.notches, strip.length);
        let now = webs(&drawn, strip.length);
        let both = wide_enough_before.into_iter().zip(now);
        both.filter(|(before, _)| *before >= least_web)
            .map(|(_, now)| now)
            .collect::<Vec<f64>>()
    });
    let least = webs.fold(f64::INFINITY, f64::min);
    if laser.fit.is_none() || least >= least_web {
        return None;
    }
    let text = phrase!(
        "notches as wide as the slot that fitted leave a web of {}; the job asks for {}",
        Mm(least),
        Mm(lattice.section.least_web)
    );
    Some(Finding::error("web-too-thin", "fit.slot", text))
}

/// Wood before, between and behind the notches of a strip.
fn webs(notches: &[Notch], length: f64) -> Vec<f64> {
    let begins = std::iter::once(0.0).chain(notches.iter().map(Notch::far_edge));
    let ends = notches.iter().map(Notch::near_edge).chain([length]);
    begins.zip(ends).map(|(from, to)| to - from).collect()
}
