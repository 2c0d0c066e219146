//! Which slanted candidate is better, and which of them are worth looking at.

use super::candidate::{SlantedCandidate, SlantedRuling};
use crate::opening::wish::SlantedRest;
use std::cmp::Ordering;

/// Differences below this say nothing, mm.
const SAME_OFF: f64 = 1e-6;

/// Rhombs whose angles differ by less, rad, look alike. Common practice, no source.
const SAME_ANGLE: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// Cells whose pitches differ by less, mm, look alike. Common practice, no source.
const SAME_PITCH: f64 = 1.0;

/// What slanted candidates are ordered by, the first that differs decides:
///
/// 1. a slot gives the pitch, or not ([`SlantedRuling::tier`]);
/// 2. the millimetres that a person would see: how far the pitch is from the one wanted, plus what whole
///    cells leave over at the sides and above;
/// 3. no strip is shorter than the pitch: stubs in the corners hold nothing and are hard to cut (common
///    practice, no source);
/// 4. more cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlantedRank {
    /// See [`SlantedRuling::tier`].
    pub tier: usize,
    /// Off the wanted pitch and left over beside and above whole cells, mm.
    pub off: f64,
    /// Whether a strip is shorter than the pitch.
    pub has_stubs: bool,
    /// Whether strips lie in what is left over as well.
    pub cut: bool,
    /// Columns times rows.
    pub cells: usize,
}

impl SlantedRank {
    /// Of a candidate, where this pitch is wanted.
    pub fn of(candidate: &SlantedCandidate, wanted: Option<f64>) -> SlantedRank {
        let [beside, above] = candidate.left_over;
        SlantedRank {
            tier: candidate.ruling.tier(),
            off: candidate.off_pitch(wanted) + beside + above,
            has_stubs: candidate.shortest < candidate.pitch,
            cut: candidate.rest == SlantedRest::CutCells,
            cells: candidate.columns * candidate.rows,
        }
    }

    /// The better one is less.
    pub fn order(&self, other: &SlantedRank) -> Ordering {
        let off = |rank: &SlantedRank| (rank.off / SAME_OFF).round();
        (self.tier.cmp(&other.tier))
            .then(off(self).total_cmp(&off(other)))
            .then(self.has_stubs.cmp(&other.has_stubs))
            .then(other.cut.cmp(&self.cut))
            .then(other.cells.cmp(&self.cells))
    }
}

/// Candidates best first, and of these no more than `most`: the best of every kind of ruling, then those
/// whose cells look otherwise than all that are there already, then those that lie otherwise.
pub fn slanted_worth_showing(
    mut all: Vec<SlantedCandidate>,
    wanted: Option<f64>,
    most: usize,
) -> Vec<SlantedCandidate> {
    let rank = |candidate: &SlantedCandidate| SlantedRank::of(candidate, wanted);
    all.sort_by(|a, b| rank(a).order(&rank(b)));
    let mut kept: Vec<SlantedCandidate> = Vec::new();
    let differing: [fn(&SlantedCandidate, &SlantedCandidate) -> bool; 3] = [
        |a, b| kind(a.ruling) != kind(b.ruling),
        looks_otherwise,
        |a, b| looks_otherwise(a, b) || a.node != b.node || a.rest != b.rest,
    ];
    for differs in differing {
        for candidate in &all {
            if kept.len() < most && kept.iter().all(|old| differs(old, candidate)) {
                kept.push(*candidate);
            }
        }
    }
    kept.sort_by(|a, b| rank(a).order(&rank(b)));
    kept
}

fn looks_otherwise(a: &SlantedCandidate, b: &SlantedCandidate) -> bool {
    (a.angle - b.angle).abs() >= SAME_ANGLE || (a.pitch - b.pitch).abs() >= SAME_PITCH
}

/// Rulings of which one is shown each.
fn kind(ruling: SlantedRuling) -> u8 {
    match ruling {
        SlantedRuling::Slot { .. } => 0,
        SlantedRuling::FillsBoth => 1,
        SlantedRuling::Fills(super::candidate::Filled::Width) => 2,
        SlantedRuling::Fills(super::candidate::Filled::Height) => 3,
        SlantedRuling::Pitch => 4,
    }
}
