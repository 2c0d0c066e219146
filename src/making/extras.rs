//! What a build has a laser or sheet router cut besides the strips.

use super::drawings::{DrawingFiles, SheetOrder};
use super::file_names::numbered;
use super::made::{FileKind, JobOrder, Made};
use super::sheet_parts::SheetParts;
use crate::finding::{Document, Finding};
use crate::geometry::tolerance::DIRECTION;
use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::instructions::sheet::SheetPart;
use crate::machines::{Chosen, Guides, Laser, Sled, Station};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;
use std::path::Path;

impl Made {
    /// What the laser cuts to set up by: story sticks, and base inserts for a sled with key slots.
    /// A comb belongs to setting the laser up, not to a job.
    pub(super) fn add_jigs(&mut self, order: &JobOrder<'_>) {
        let Some(laser) = self.trusted_laser(order) else {
            return;
        };
        let lattice = order.job.panel.lattice();
        let sled = order.workshop.machine::<Sled>().map(|sled| sled.machine);
        let parts = SheetParts {
            sled: sled.filter(|sled| sled.rack.is_some()),
            sled_work: order.job.sled,
            marked_in: order.units,
            ..SheetParts::of_strips(&order.job.panel, lattice, laser.machine)
        };
        let mut notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
        let square = notches.all(|notch| notch.angle.cos().approx_eq(0.0, DIRECTION));
        self.add_ware(order, laser.name, parts, Ware::Sticks, "gauge.dxf");
        if parts.sled.is_some() && square && !lattice.strips_are_cut {
            self.add_ware(order, laser.name, parts, Ware::Inserts, "rack.dxf");
        }
    }

    /// Guide blocks, with what they go with where the sheet has room, blanks of pieces that lap each
    /// other, and the pieces where the laser cuts so deep.
    pub(super) fn add_pieces(&mut self, order: &JobOrder<'_>, filled: &Infilling) {
        let Some(laser) = self.trusted_laser(order) else {
            return;
        };
        let panel = &order.job.panel;
        let guides = order.workshop.machine::<Guides>();
        let lattice = panel.lattice();
        let parts = SheetParts {
            filled: Some(filled),
            guides: guides.map(|guides| guides.machine),
            ..SheetParts::of_strips(panel, lattice, laser.machine)
        };
        self.add_ware(order, laser.name, parts, Ware::Blocks, "guide-blocks.dxf");
        self.add_ware(order, laser.name, parts, Ware::Guide, "guide.dxf");
        if !parts.wanted(Ware::Lapped, &[]).is_empty() {
            self.add_ware(order, laser.name, parts, Ware::Lapped, "lapped.dxf");
        }
        if filled.most_stock.depth <= laser.machine.thickest {
            self.add_ware(order, laser.name, parts, Ware::Pieces, "pieces.dxf");
        } else {
            let warning = pieces_too_thick(filled.most_stock.depth, laser.machine);
            self.warnings
                .add(Document::Profile(Station::Laser), [warning]);
        }
    }

    /// What cuts sheet, as long as none of its work was found wrong.
    fn trusted_laser<'a>(&self, order: &JobOrder<'a>) -> Option<Chosen<'a, Laser>> {
        let laser = order.workshop.machine::<Laser>()?;
        (!self.distrusts(laser.name)).then_some(laser)
    }

    /// Parts of one kind, if they can be cut.
    fn add_ware(
        &mut self,
        order: &JobOrder<'_>,
        machine: &str,
        parts: SheetParts<'_>,
        ware: Ware,
        file: &str,
    ) {
        let sheets = SheetOrder {
            machine,
            parts,
            files: DrawingFiles::Both(order.dxf),
            file_name: &|at, count| numbered(Path::new(file), at, count),
        };
        match sheets.drawn(&[ware]) {
            Ok((drawings, warnings)) => {
                self.warnings
                    .add(Document::Profile(Station::Laser), warnings);
                self.keep_files(drawings.files, FileKind::Outline, machine);
                self.plans.laser.push(drawings.plan);
            }
            Err(cause) => {
                let what = match ware {
                    Ware::Pieces => "outlines of pieces",
                    other => other.name(),
                };
                self.lacks(SheetPart::Laser, what, machine, cause);
            }
        }
    }
}

fn pieces_too_thick(depth: f64, laser: &Laser) -> Finding {
    let text = phrase!(
        "pieces {} deep are too thick for this machine: no outlines of them are made",
        Mm(depth)
    );
    let field = if laser.cutter.is_some() {
        "cutter.thickest"
    } else {
        "laser.thickest"
    };
    Finding::warning("pieces-too-thick", field, text).hint("saw and pare them, after pieces.txt")
}
