//! What a job gives to cut from sheet: parts as they are planned, and what their drawings must hold.

use super::arguments::What;
use crate::finding::Finding;
use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::lattice::{Lattice, Panel};
use crate::machines::{Laser, Sled};
use crate::planning::{Batch, RackOrder, plan_pieces};
use crate::verification::outline::{
    Labels, Wanted, block_angles, blocks_wanted, comb_wanted, gauge_wanted, pieces_wanted,
    rack_wanted, strips_wanted,
};

/// A job beside what cuts it.
#[derive(Clone, Copy)]
pub(super) struct Cutting<'a> {
    pub(super) panel: &'a Panel,
    pub(super) lattice: &'a Lattice,
    pub(super) filled: Option<&'a Infilling>,
    pub(super) laser: &'a Laser,
    /// The sled that base inserts are for.
    pub(super) sled: Option<&'a Sled>,
    /// Of base inserts: distances from key to blade; of a comb: widths of its slots.
    pub(super) slots: Option<&'a [f64]>,
}

impl Cutting<'_> {
    /// The parts of a kind.
    ///
    /// # Errors
    /// All that keeps them from being cut.
    pub(super) fn batch(&self, ware: Ware) -> Result<Batch, Vec<Finding>> {
        let lacking = |field: &str, text: &'static str| {
            Err(vec![Finding::error("nothing-to-cut", field, text)])
        };
        match (ware, self.filled, self.sled) {
            (Ware::Strips, ..) => Batch::strips(self.lattice, self.laser),
            (Ware::Sticks, ..) => Batch::sticks(self.lattice, self.laser),
            (Ware::Comb, ..) => Batch::comb(self.lattice, self.slots, self.laser),
            (Ware::Pieces, Some(filled), _) => Ok(Batch::pieces(self.panel, filled, self.laser)),
            (Ware::Blocks, Some(filled), _) => {
                let (pare, _) = plan_pieces(self.panel, filled, 0.0, None);
                Ok(Batch::blocks(&pare, self.laser))
            }
            (Ware::Inserts, _, Some(sled)) => {
                let distances = self.slots;
                Batch::inserts(self.lattice, &RackOrder { sled, distances }, self.laser)
            }
            (Ware::Pieces | Ware::Blocks, None, _) => lacking("infill", "the job has no pieces"),
            (Ware::Inserts, _, None) => lacking("machines.sled", "no sled is named"),
        }
    }

    /// What drawings of a kind must hold; nothing where the job has none of it.
    pub(super) fn wanted(&self, ware: Ware) -> Vec<Wanted> {
        let fit = self.laser.fit;
        match (ware, self.filled, self.sled) {
            (Ware::Strips, ..) => strips_wanted(self.lattice, fit),
            (Ware::Sticks, ..) => gauge_wanted(self.lattice, fit),
            (Ware::Comb, ..) => comb_wanted(self.lattice, self.slots),
            (Ware::Pieces, Some(filled), _) => pieces_wanted(filled),
            (Ware::Blocks, Some(filled), _) => {
                blocks_wanted(block_angles(filled), Labels::of(self.laser))
            }
            (Ware::Inserts, _, Some(sled)) => rack_wanted(self.lattice, sled, fit, self.slots),
            _ => Vec::new(),
        }
    }
}

impl What {
    /// The parts that it is; none for the assembled panel.
    pub(super) fn ware(self) -> Option<Ware> {
        match self {
            What::Strips => Some(Ware::Strips),
            What::Pieces => Some(Ware::Pieces),
            What::Panel => None,
            What::Blocks => Some(Ware::Blocks),
            What::Gauge => Some(Ware::Sticks),
            What::Rack => Some(Ware::Inserts),
            What::Comb => Some(Ware::Comb),
        }
    }
}
