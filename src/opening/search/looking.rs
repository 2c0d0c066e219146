//! All candidates for what a person would like.

use super::bay_wish::BayWish;
use super::candidate::Candidate;
use super::frame::frame_candidates;
use super::free::free_candidates;
use super::slots::slot_candidates;
use crate::opening::size::Size;

/// All candidates: at each slot of the rack that is near, alone and with outermost bays at another one;
/// and, where a pitch or a number of bays is wanted, square cells of the pitch that is best for each
/// number of columns and rows, whether a slot has it or not, and cells that are not square and fill the
/// inside, between strips or, where the frame closes the outermost, within it.
pub fn candidates(inside: Size, wish: &BayWish) -> Vec<Candidate> {
    let mut all = slot_candidates(inside, wish);
    if wish.pitch.is_some() || wish.columns.is_some() || wish.rows.is_some() {
        all.extend(free_candidates(inside, wish));
        all.extend(frame_candidates(inside, wish));
    }
    all
}
