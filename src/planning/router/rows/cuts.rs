//! The tool's way through the sticks of a row: stick by stick, its laps first, then its mitres.

use super::super::notch_path::{NotchCut, notch_moves};
use crate::instructions::tool_path::{NotchPath, Notches};

/// A cut in one of the sticks.
#[derive(Debug, Clone, Copy)]
pub(super) struct StickCut {
    /// As if the stick's front edge lay at Y 0.
    pub(super) cut: NotchCut,
    /// Where it lies.
    pub(super) front: f64,
}

impl StickCut {
    /// Its moves, and whether the last of them ends behind the stick.
    fn path(&self, index: usize) -> NotchPath {
        let mut moves = notch_moves(&self.cut);
        for step in &mut moves {
            step.to.y += self.front;
        }
        NotchPath { index, moves }
    }

    /// Whether the tool comes up behind the stick.
    pub(super) fn ends_behind(&self) -> bool {
        let last = notch_moves(&self.cut).pop();
        last.is_some_and(|step| step.to.y > 0.0)
    }
}

/// All cuts of a program.
#[derive(Debug)]
pub(super) struct StickCuts(pub(super) Vec<StickCut>);

impl Notches for StickCuts {
    fn notch(&self, at: usize) -> Option<NotchPath> {
        Some(self.0.get(at)?.path(at + 1))
    }
}
