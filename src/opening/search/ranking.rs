//! Which candidate is better, and which of them are worth looking at.

use super::candidate::{Candidate, Ruling};
use std::cmp::Ordering;

/// Differences below this say nothing, mm: binary fractions differ by less, and nobody sees it.
const SAME_OFF: f64 = 1e-6;

/// A candidate that is better than one before it in no respect by more than this, mm, shows nobody
/// anything new. Common practice, no source.
const WORTH_SEEING: f64 = 0.5;

/// What candidates are ordered by, the first that differs decides:
///
/// 1. the tier of the ruling ([`super::Ruling::tier`]);
/// 2. the millimetres that a person would see: how far the pitch is from the one wanted, plus by how much
///    the margins (and the outermost bays) along x differ from those along y;
/// 3. more cells, that is smaller margins: one as wide as a cell looks like a row that is missing (common
///    practice, no source).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rank {
    /// See [`super::Ruling::tier`].
    pub tier: usize,
    /// Off the wanted pitch, mm.
    pub off_pitch: f64,
    /// See [`Candidate::unevenness`], mm.
    pub unevenness: f64,
    /// Cells in all.
    pub cells: usize,
}

impl Rank {
    /// Of a candidate, where this pitch is wanted.
    pub fn of(candidate: &Candidate, wanted: Option<f64>) -> Rank {
        Rank {
            tier: candidate.ruling.tier(),
            off_pitch: candidate.off_pitch(wanted),
            unevenness: candidate.unevenness(),
            cells: candidate.columns * candidate.rows,
        }
    }

    /// The better one is less.
    pub fn order(&self, other: &Rank) -> Ordering {
        let off = |rank: &Rank| ((rank.off_pitch + rank.unevenness) / SAME_OFF).round();
        (self.tier.cmp(&other.tier))
            .then(off(self).total_cmp(&off(other)))
            .then(other.cells.cmp(&self.cells))
    }

    /// Whether one that comes after it is better in nothing by as much as is worth seeing.
    fn covers(&self, later: &Rank) -> bool {
        self.tier <= later.tier
            && self.off_pitch <= later.off_pitch + WORTH_SEEING
            && self.unevenness <= later.unevenness + WORTH_SEEING
    }
}

/// Candidates best first, and of these no more than `most`: those that are hardly better in any respect
/// than one before them are left out (where no pitch is wanted, than one of their own pitch; cells that the
/// frame closes, than others of their kind), and the best of every tier stays.
pub fn worth_showing(mut all: Vec<Candidate>, wanted: Option<f64>, most: usize) -> Vec<Candidate> {
    let rank = |candidate: &Candidate| Rank::of(candidate, wanted);
    all.sort_by(|a, b| rank(a).order(&rank(b)));
    // A pitch between a wanted and a better one that only a limit stopped is worth a look where it is the
    // best there is.
    let mut known = 0;
    all.retain(|candidate| {
        let is_first = candidate.ruling.tier() >= known;
        known = known.max(candidate.ruling.tier() + 1);
        is_first || candidate.ruling != Ruling::LastAllowed
    });
    let mut front: Vec<Candidate> = Vec::new();
    for candidate in all {
        let closes = |one: &Candidate| matches!(one.ruling, Ruling::FrameCloses { .. });
        let alike = |kept: &Candidate| {
            let same_pitch = (kept.pitch[0] - candidate.pitch[0]).abs() < SAME_OFF;
            closes(kept) == closes(&candidate) && (wanted.is_some() || same_pitch)
        };
        let beaten = front
            .iter()
            .any(|kept| alike(kept) && rank(kept).covers(&rank(&candidate)));
        if !beaten {
            front.push(candidate);
        }
    }
    // The best of each tier, then the others, as far as there is room; in their order again.
    let mut tiers = Vec::new();
    let (mut first, others): (Vec<_>, Vec<_>) = front.into_iter().partition(|candidate| {
        let tier = candidate.ruling.tier();
        let is_new = !tiers.contains(&tier);
        tiers.push(tier);
        is_new
    });
    first.truncate(most);
    let room = most - first.len();
    first.extend(others.into_iter().take(room));
    first.sort_by(|a, b| rank(a).order(&rank(b)));
    first
}
