//! Pieces, what is to cut their mitres, and what comes of it.

use crate::infill::Infilling;
use crate::instructions::mitres::{LeftForGuides, MitreSetting, MitreStop, StickFigures};
use crate::lattice::Panel;
use crate::machines::{Sled, SledMitres};
use crate::planning::sled::settings::saw_settings;
use crate::planning::sled::slant::Slant;

/// What a fine hand saw takes; common practice, no source, mm.
pub(super) const HAND_KERF_MM: f64 = 1.0;

/// The blade stands so far out of the wood where it cuts through: common practice, no source, mm.
pub(super) const THROUGH_MM: f64 = 3.0;

/// Pieces and what is to cut them.
pub(super) struct MitreOrder<'a> {
    pub(super) panel: &'a Panel,
    pub(super) filled: &'a Infilling,
    pub(super) sled: &'a Sled,
    pub(super) mitres: &'a SledMitres,
}

impl MitreOrder<'_> {
    /// Where the fence stands once the strips are notched, if they are notched on this sled too.
    pub(super) fn stands(&self) -> Option<Slant> {
        let settings = saw_settings(self.panel.lattice(), self.sled);
        let last = settings.last()?;
        (last.fence.slanted.is_some()).then_some(Slant(last.fence.slot_angle))
    }

    pub(super) fn depth(&self) -> f64 {
        self.filled.most_stock.depth
    }

    pub(super) fn allowance(&self) -> f64 {
        let infill = self.panel.design().infill.as_ref();
        infill.map_or(0.0, |infill| infill.allowance)
    }

    pub(super) fn stop(&self) -> MitreStop {
        if self.mitres.stop_board {
            MitreStop::Board
        } else {
            MitreStop::Block
        }
    }
}

/// What a way makes of the pieces.
#[derive(Default)]
pub(super) struct Planned {
    pub(super) sticks: Vec<StickFigures>,
    pub(super) settings: Vec<MitreSetting>,
    pub(super) left: Vec<LeftForGuides>,
    pub(super) facets_cut: usize,
}
