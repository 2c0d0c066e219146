//! Which of a clamping's notches are cut in which set-up, on this machine with its clamps and key.

use super::bed::StripBed;
use super::clamped_bundle::ClampedBundle;
use super::planner::NotchingPlanner;
use super::travel_split::Reach;
use crate::lattice::Notch;
use crate::machines::Router;

impl NotchingPlanner<'_> {
    /// A clamping's notches shared out over set-ups; `None` where the travel does not reach all of
    /// them, or clamps stand in the way.
    pub(super) fn within_reach<'a>(
        &self,
        whole: &ClampedBundle<'a>,
    ) -> Option<Vec<ClampedBundle<'a>>> {
        let Router {
            fixture, travel, ..
        } = self.router;
        let notches: Vec<&Notch> = whole.notches().collect();
        let spans: Vec<_> = notches
            .iter()
            .map(|notch| self.span(whole, notch))
            .collect();
        let is_clear = |at: usize, datum: f64| {
            let bed = StripBed { datum, ..whole.bed };
            let met = |notch: &&Notch| self.clamp_in_way(bed, notch).is_some();
            !notches.get(at).is_some_and(met)
        };
        let at_key: Vec<_> = whole.notches().map(|notch| whole.at_key(notch)).collect();
        let key = fixture.key.map(|key| key.x - fixture.zero_x);
        let reach = Reach {
            spans: &spans,
            at_key: &at_key,
            room: [-fixture.zero_x, travel.x - fixture.zero_x],
            is_clear: &is_clear,
            key,
        };
        let parts = reach.parts()?;
        let count = parts.len();
        let held = (1..)
            .zip(&parts)
            .map(|(number, part)| whole.part(part, number, count, key));
        Some(held.collect())
    }
}
