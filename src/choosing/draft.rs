//! What every kind of candidate has to tell before it can be chosen: its `[grid]` in a job, its reason, its
//! figures, and whether a job that was read is what was drafted.

use crate::instructions::choice::{RackChoice, SlantedFigures};
use crate::machines::Rack;
use crate::phrase::Phrase;
use crate::reading::Job;

/// A candidate on its way to a job.
pub(super) trait Draft: Clone + PartialEq {
    /// What is asked for.
    type Wish;

    /// The grid in a job's words; `why` becomes its remark.
    fn grid_table(&self, wish: &Self::Wish, why: &str) -> String;

    /// Why it stands where it stands.
    fn reason(&self, wish: &Self::Wish, rack: Option<&Rack>) -> Phrase;

    /// Whether a job that was read has just the lines of a candidate: what is told of the one then holds
    /// for the other.
    fn is_drawn(&self, job: &Job) -> bool;

    /// What is told of it; `job` is its own.
    fn figures(&self, job: &Job, rack: Option<&Rack>) -> DraftFigures;

    /// Whether what keeps another one from being built keeps this one too.
    fn falls_with(&self, failed: &Self) -> bool;
}

/// Of a candidate, what an option tells of its bays. Millimetres.
pub(super) struct DraftFigures {
    pub(super) pitch: [f64; 2],
    pub(super) border: Option<[f64; 2]>,
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) margin: [f64; 2],
    pub(super) square: bool,
    pub(super) frame_closes: bool,
    pub(super) rack: Option<RackChoice>,
    pub(super) slanted: Option<SlantedFigures>,
}

/// Lines of a remark.
pub(super) fn wrapped(text: &str) -> Vec<String> {
    const WIDTH: usize = 96;
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) if line.chars().count() + 1 + word.chars().count() <= WIDTH => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// The slot that comes nearest to a pitch, where none gives it.
pub(super) fn nearest_slot(rack: &Rack, pitch: f64) -> Option<RackChoice> {
    let off = |slot: &&crate::machines::RackSlot| (slot.measured - pitch).abs();
    let nearest = rack.slots.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    Some(RackChoice {
        slot_mm: nearest.nominal,
        bay_mm: nearest.measured,
        reached: false,
        border_slot_mm: None,
    })
}
