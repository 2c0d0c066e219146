//! What a job gives to cut from sheet: parts as they are planned, and what their drawings must hold.

use super::not_made::NotMade;
use super::strips_cut::strips_are_cut;
use crate::finding::{Document, Finding};
use crate::infill::{Infilling, PieceStock};
use crate::instructions::laser::Ware;
use crate::lattice::{Lattice, Panel};
use crate::machines::{Chosen, Guides, Laser, Sled, SledWork, Station};
use crate::planning::{RackOrder, WareBatch, plan_pieces, plan_sled};
use crate::units::UnitSystem;
use crate::verification::outline::{
    GuideOrder, Labels, LappedOrder, WantedPart, comb_wanted, deepest_piece, gauge_wanted,
    pieces_wanted, rack_wanted, strips_wanted,
};

/// A job beside what cuts it.
#[derive(Debug, Clone, Copy)]
pub struct SheetParts<'a> {
    /// What is built.
    pub panel: &'a Panel,
    /// Its strips.
    pub lattice: &'a Lattice,
    /// Its cells with their pieces, where they are asked for.
    pub filled: Option<&'a Infilling>,
    /// What cuts them.
    pub laser: &'a Laser,
    /// The guides whose sizes a guide is drawn by; else the usual ones.
    pub guides: Option<&'a Guides>,
    /// The sled that base inserts are for.
    pub sled: Option<&'a Sled>,
    /// How the job wants strips notched on it.
    pub sled_work: SledWork,
    /// Of base inserts: distances from key to blade; of a comb: widths of its slots.
    pub slots: Option<&'a [f64]>,
    /// Units of the places that are written on story sticks and base inserts.
    pub marked_in: UnitSystem,
}

impl<'a> SheetParts<'a> {
    /// What strips alone ask for.
    pub fn of_strips(panel: &'a Panel, lattice: &'a Lattice, laser: &'a Laser) -> Self {
        SheetParts {
            panel,
            lattice,
            laser,
            filled: None,
            guides: None,
            sled: None,
            sled_work: SledWork::default(),
            slots: None,
            marked_in: UnitSystem::Millimetres,
        }
    }

    /// How thick the sheet is that a guide's layers are cut from: what strips, comb or pieces
    /// ask for that share it, else the thickest that the machine cuts.
    fn sheet(&self, wares: &[Ware]) -> f64 {
        let as_thick = |ware: &Ware| matches!(ware, Ware::Strips | Ware::Comb);
        let pieces = self.filled.map_or_else(
            || PieceStock::of(&self.panel.piece_section()),
            |filled| filled.most_stock,
        );
        if wares.iter().any(as_thick) {
            self.panel.design().strip.thickness
        } else if wares.contains(&Ware::Lapped) {
            pieces.thickness
        } else if wares.contains(&Ware::Pieces) {
            pieces.depth
        } else {
            self.laser.thickest
        }
    }

    fn allowance(&self) -> f64 {
        let infill = self.panel.design().infill.as_ref();
        infill.map_or(0.0, |infill| infill.allowance)
    }

    /// The distances that base inserts have key slots for: those asked for, else all that the sled's
    /// steps use, which hop over a notch where a longer slot is truer. None where the sled has no rack
    /// or cannot do the job: then the steps of the lattice.
    fn key_distances(&self, sled: &Sled) -> Option<Vec<f64>> {
        if let Some(given) = self.slots {
            return Some(given.to_vec());
        }
        let (plan, _) = plan_sled(self.lattice, "", sled, self.sled_work).ok()?;
        let positions = plan.key?.positions;
        Some(
            positions
                .iter()
                .map(|key| key.centre_to_centre_mm)
                .collect(),
        )
    }

    /// Whether it is for cutting strips that are cut.
    fn is_cut(&self, ware: Ware) -> bool {
        self.lattice.strips_are_cut && matches!(ware, Ware::Strips | Ware::Inserts)
    }

    /// The parts of a kind that is drawn together with others.
    ///
    /// # Errors
    /// All that keeps them from being cut.
    pub fn batch(&self, ware: Ware, with: &[Ware]) -> Result<WareBatch, Vec<Finding>> {
        match (ware, self.filled, self.sled) {
            _ if self.is_cut(ware) => Err(vec![strips_are_cut()]),
            (Ware::Strips, ..) => WareBatch::strips(self.lattice, self.laser),
            (Ware::Sticks, ..) => WareBatch::sticks(self.lattice, self.laser, self.marked_in),
            (Ware::Comb, ..) => WareBatch::comb(self.lattice, self.slots, self.laser),
            (Ware::Pieces, Some(filled), _) => {
                WareBatch::pieces(self.panel, filled, self.laser).with_parts()
            }
            (Ware::Lapped, Some(filled), _) => {
                let (pare, _) = plan_pieces(self.panel, filled, self.allowance(), None);
                WareBatch::lapped(self.panel, filled, &pare, self.laser)
            }
            (Ware::Blocks | Ware::Guide, Some(filled), _) => {
                let guides = self.guides.map(|guides| Chosen {
                    name: "",
                    machine: guides,
                });
                let (pare, _) = plan_pieces(self.panel, filled, self.allowance(), guides);
                Ok(match ware {
                    Ware::Blocks => WareBatch::blocks(&pare, self.laser, self.sheet(with)),
                    _ => WareBatch::guide(&pare, self.laser, self.sheet(with)),
                })
            }
            (Ware::Inserts, _, Some(sled)) => {
                let distances = self.key_distances(sled);
                let order = RackOrder {
                    sled,
                    distances: distances.as_deref(),
                    marked_in: self.marked_in,
                };
                WareBatch::inserts(self.lattice, &order, self.laser)
            }
            (Ware::Pieces | Ware::Lapped | Ware::Blocks | Ware::Guide, None, _) => {
                Err(lacking("infill", "the job has no pieces"))
            }
            (Ware::Inserts, _, None) => Err(lacking("machines.sled", "no sled is named")),
        }
    }

    /// Why a job has no parts of a kind, where it has none.
    pub fn none_of(&self, ware: Ware, with: &[Ware]) -> Option<NotMade> {
        if !self.wanted(ware, with).is_empty() {
            return None;
        }
        let why = self.batch(ware, with).err().unwrap_or_else(|| {
            let text = format!("the job has no {}", ware.name());
            let field = if matches!(ware, Ware::Strips | Ware::Sticks | Ware::Comb) {
                "grid"
            } else {
                "infill"
            };
            vec![Finding::error("nothing-to-cut", field, text).in_document(Document::Job)]
        });
        Some(NotMade::cannot(why, Document::Profile(Station::Laser)))
    }

    /// What drawings of a kind must hold that is drawn together with others; nothing where the job
    /// has none of it.
    pub fn wanted(&self, ware: Ware, with: &[Ware]) -> Vec<WantedPart> {
        let fit = self.laser.fit;
        let usual = Guides::usual();
        match (ware, self.filled, self.sled) {
            _ if self.is_cut(ware) => Vec::new(),
            (Ware::Strips, ..) => strips_wanted(self.lattice, fit),
            (Ware::Sticks, ..) => gauge_wanted(self.lattice, fit, self.marked_in),
            (Ware::Comb, ..) => comb_wanted(self.lattice, self.slots),
            (Ware::Pieces, Some(filled), _) => pieces_wanted(filled, self.laser.cutter.is_some()),
            (Ware::Lapped, Some(filled), _) => LappedOrder {
                filled,
                allowance: self.allowance(),
                fit,
            }
            .blanks(Labels::of(self.laser)),
            (Ware::Blocks | Ware::Guide, Some(filled), _) => {
                let order = GuideOrder {
                    filled,
                    allowance: self.allowance(),
                    depth: deepest_piece(filled),
                    sheet: self.sheet(with),
                    guides: self.guides.unwrap_or(&usual),
                };
                let labels = Labels::of(self.laser);
                match ware {
                    Ware::Blocks => order.blocks(labels),
                    _ => order.rest(labels),
                }
            }
            (Ware::Inserts, _, Some(sled)) => {
                let distances = self.key_distances(sled);
                rack_wanted(
                    self.lattice,
                    sled,
                    fit,
                    distances.as_deref(),
                    self.marked_in,
                )
            }
            _ => Vec::new(),
        }
    }
}

fn lacking(field: &str, text: &'static str) -> Vec<Finding> {
    vec![Finding::error("nothing-to-cut", field, text).in_document(Document::Job)]
}
