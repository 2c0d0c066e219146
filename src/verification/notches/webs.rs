//! The wood that stays between neighbouring notches.

use crate::phrase;
use crate::verification::faults::{Fault, figure};
use crate::verification::workpiece::ExpectedNotch;

/// A notch's ends at the top on a plane, program frame, mm.
pub(super) struct TopOnPlane {
    pub(super) wanted: [f64; 2],
    /// `None` where the notch is missing.
    pub(super) found: Option<[f64; 2]>,
}

/// The least web between neighbouring notches, less the web planned.
pub(super) struct Webs<'a> {
    notches: &'a [ExpectedNotch],
    /// Indices in the order along the strip.
    order: Vec<usize>,
    /// For each neighbouring pair.
    least: Vec<f64>,
    allowed: f64,
}

impl<'a> Webs<'a> {
    pub(super) fn new(notches: &'a [ExpectedNotch], allowed: f64) -> Self {
        let mut order: Vec<usize> = (0..notches.len()).collect();
        let centre = |place: &usize| notches.get(*place).map_or(0.0, |notch| notch.centre_mm);
        order.sort_by(|a, b| centre(a).total_cmp(&centre(b)));
        let least = vec![0.0; notches.len().saturating_sub(1)];
        Webs {
            notches,
            order,
            least,
            allowed,
        }
    }

    pub(super) fn add(&mut self, tops: &[TopOnPlane]) {
        for (pair, least) in self.order.windows(2).zip(&mut self.least) {
            let &[a, b] = pair else { continue };
            let Some((before, behind)) = tops.get(a).zip(tops.get(b)) else {
                continue;
            };
            let Some((ends_before, ends_behind)) = before.found.zip(behind.found) else {
                continue;
            };
            let planned = behind.wanted[0] - before.wanted[1];
            // One cut from notch to notch leaves no web at all.
            let left = (ends_behind[0] - ends_before[1]).max(0.0);
            *least = least.min(left - planned);
        }
    }

    pub(super) fn close(self) -> Vec<Fault> {
        let pairs = self.order.windows(2).zip(&self.least);
        pairs
            .filter(|(_, least)| **least < -self.allowed)
            .filter_map(|(pair, least)| {
                let &[a, b] = pair else { return None };
                let a = self.notches.get(a)?.index;
                let b = self.notches.get(b)?.index;
                let thin = figure(-least);
                let text = phrase!(
                    "the wood between notches {} and {} is {} thinner than planned",
                    a,
                    b,
                    thin
                );
                Some(Fault::at("thin-web", 0, text))
            })
            .collect()
    }
}
