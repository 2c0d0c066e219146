//! What a person would like.

use crate::geometry::SAME_POSITION_MM;
use crate::lattice::MOST_BAYS;

/// A pitch is near to a wanted one when it differs by no more than this share of it: farther off it is
/// another design. Common practice, no source.
pub const NEAR: f64 = 0.25;

/// Outermost bays of their own are no narrower than half an inner bay and no wider than this many: beyond
/// that a border looks like a mistake. Common practice, no source.
pub const WIDEST_BORDER: f64 = 1.5;

/// What is asked for of the bays. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct BayWish {
    /// About this pitch.
    pub pitch: Option<f64>,
    /// So many bays side by side.
    pub columns: Option<usize>,
    /// So many bays above each other.
    pub rows: Option<usize>,
    /// Least margin, inner face to the outermost centre line.
    pub least_margin: f64,
    /// Greatest margin; where it is not given, one pitch more than the least: with more there would be
    /// room for two bays more.
    pub most_margin: Option<f64>,
    /// Least pitch that can be built: a strip, what its notch is wider, and the least wood between notches.
    pub least_pitch: f64,
    /// Where the frame's inner faces may close the outermost cells instead of strips, a strip's thickness,
    /// seen from the front.
    pub frame_closes: Option<f64>,
    /// The rack's slots as measured, centre of the key to centre of the kerf; none without a rack.
    pub slots: Vec<f64>,
}

impl BayWish {
    /// The pitches that count as near and can be built.
    pub(in crate::opening::search) fn near(&self) -> [f64; 2] {
        let all = [self.least_pitch, f64::INFINITY];
        let near = |pitch: f64| [(pitch * (1.0 - NEAR)).max(all[0]), pitch * (1.0 + NEAR)];
        self.pitch.map_or(all, near)
    }

    pub(in crate::opening::search) fn is_near(&self, pitch: f64) -> bool {
        let [least, most] = self.near();
        (least - SAME_POSITION_MM..=most + SAME_POSITION_MM).contains(&pitch)
    }

    /// Greatest margin beside bays of a pitch.
    pub(super) fn most_margin(&self, pitch: f64) -> f64 {
        self.most_margin.unwrap_or(self.least_margin + pitch)
    }

    /// Whether a margin beside bays of a pitch will do.
    pub(super) fn holds(&self, margin: f64, pitch: f64) -> bool {
        margin >= self.least_margin - SAME_POSITION_MM
            && margin <= self.most_margin(pitch) + SAME_POSITION_MM
    }

    /// Counts that a direction may have: the one that is wanted, else all up to the one that fills it with
    /// the least pitch.
    pub(super) fn counts(&self, wanted: Option<usize>, inside: f64, pitch: f64) -> Vec<usize> {
        BayWish::counts_within(wanted, inside - 2.0 * self.least_margin, pitch)
    }

    /// The same within what the margins leave.
    pub(in crate::opening::search) fn counts_within(
        wanted: Option<usize>,
        room: f64,
        pitch: f64,
    ) -> Vec<usize> {
        let times = (room + SAME_POSITION_MM) / pitch;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` saturates
        let most = (times.max(0.0) as usize).min(MOST_BAYS);
        match wanted {
            Some(count) => (count..=count.min(most)).collect(),
            None => (1..=most).collect(),
        }
    }
}
