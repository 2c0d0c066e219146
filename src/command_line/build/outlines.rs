//! What a build has a laser or sheet router cut besides the strips.

use super::super::answers::{Failed, Outcome, Shown, Warnings};
use super::super::cutting::Cutting;
use super::super::drawings::{Bench, Files, laser_of};
use super::super::files::numbered;
use super::super::inputs::Chosen;
use super::super::sheet;
use super::Made;
use crate::finding::Finding;
use crate::geometry::tolerance::DIRECTION;
use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::machines::{Guides, MachineKind};
use crate::phrase;
use crate::reading::Job;
use crate::units::Mm;
use crate::writing::dxf::DxfVersion;
use float_cmp::ApproxEq;
use std::path::Path;

impl<'a> Made<'a> {
    /// What the laser cuts to set up by: story sticks, and base inserts for a sled with key slots.
    /// A comb belongs to setting the laser up, not to a job.
    pub(super) fn add_jigs(
        &mut self,
        job: &Job,
        machines: &'a [Chosen],
        version: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let cuts = |chosen: &&Chosen| laser_of(chosen).is_ok();
        let trusted = |chosen: &&Chosen| !self.distrusts(chosen);
        let Some(chosen) = machines.iter().find(cuts).filter(trusted) else {
            return Ok(());
        };
        let is_sled = |chosen: &&Chosen| chosen.profile.machine.kind() == MachineKind::Sled;
        let sled_profile = machines.iter().find(is_sled);
        let lattice = job.panel.lattice();
        let cutting = Cutting {
            panel: &job.panel,
            lattice,
            filled: None,
            laser: laser_of(chosen)?,
            guides: None,
            sled: sheet::sled_of(machines).filter(|sled| sled.rack.is_some()),
            slots: None,
        };
        let mut notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
        let square = notches.all(|notch| notch.angle.cos().approx_eq(0.0, DIRECTION));
        let rack = cutting.sled.is_some() && square;
        let jigs = [("gauge.dxf", Ware::Sticks), ("rack.dxf", Ware::Inserts)];
        for (file, ware) in jigs.into_iter().take(if rack { 2 } else { 1 }) {
            let name = |at, count| numbered(Path::new(file), at, count);
            let bench = Bench::new(chosen, Files::Both(version), &name, shown)?;
            match bench.drawn(&cutting, &[ware]) {
                Ok(((plan, drawings), warnings)) => {
                    told.add(&chosen.profile.source, warnings);
                    self.list(drawings, "outline", &chosen.profile.name);
                    self.plans.laser.push(plan);
                }
                Err(failed) => {
                    let whose = sled_profile.filter(|_| of_blade(&failed)).unwrap_or(chosen);
                    let part = ("laser", ware.name());
                    self.lacks_at(part, chosen, failed, &whose.profile.source);
                }
            }
        }
        Ok(())
    }

    /// Guide blocks, with what they go with where the sheet has room, and the pieces where the laser
    /// cuts so deep.
    pub(super) fn add_pieces(
        &mut self,
        job: &'a Job,
        machines: &'a [Chosen],
        (filled, guides): (&Infilling, Option<&Guides>),
        version: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let cuts = |chosen: &&Chosen| laser_of(chosen).is_ok();
        let trusted = |chosen: &&Chosen| !self.distrusts(chosen);
        let Some(chosen) = machines.iter().find(cuts).filter(trusted) else {
            return Ok(());
        };
        let files = Files::Both(version);
        let name = |at, count| numbered(Path::new("guide-blocks.dxf"), at, count);
        let bench = Bench::new(chosen, files, &name, shown)?;
        let cutting = Cutting {
            panel: &job.panel,
            lattice: job.panel.lattice(),
            filled: Some(filled),
            laser: laser_of(chosen)?,
            guides,
            sled: None,
            slots: None,
        };
        self.add_ware(&bench, &cutting, Ware::Blocks, told);
        let name = |at, count| numbered(Path::new("guide.dxf"), at, count);
        let bench = Bench::new(chosen, files, &name, shown)?;
        self.add_ware(&bench, &cutting, Ware::Guide, told);
        if job.panel.design().strip.depth <= cutting.laser.thickest {
            let name = |at, count| numbered(Path::new("pieces.dxf"), at, count);
            let bench = Bench::new(chosen, files, &name, shown)?;
            self.add_ware(&bench, &cutting, Ware::Pieces, told);
        } else {
            let text = phrase!(
                "pieces {} deep are too thick for this machine: no outlines of them are made",
                Mm(job.panel.design().strip.depth)
            );
            let field = match chosen.profile.machine.kind() {
                MachineKind::SheetRouter => "cutter.thickest",
                _ => "laser.thickest",
            };
            let warning = Finding::warning("pieces-too-thick", field, text)
                .hint("saw and pare them, after pieces.txt");
            told.add(&chosen.profile.source, [warning]);
        }
        Ok(())
    }

    /// Parts of one kind, if they can be cut.
    fn add_ware(
        &mut self,
        bench: &Bench<'a, '_>,
        cutting: &Cutting<'_>,
        ware: Ware,
        told: &mut Warnings<'a>,
    ) {
        let chosen = bench.chosen;
        match bench.drawn(cutting, &[ware]) {
            Ok(((plan, drawings), warnings)) => {
                told.add(&chosen.profile.source, warnings);
                self.list(drawings, "outline", &chosen.profile.name);
                self.plans.laser.push(plan);
            }
            Err(failed) => {
                let what = match ware {
                    Ware::Pieces => "outlines of pieces",
                    other => other.name(),
                };
                self.lacks(("laser", what), chosen, failed);
            }
        }
    }
}

fn of_blade(failed: &Failed) -> bool {
    match failed {
        Failed::Cannot(faults) => faults.iter().all(|fault| fault.field.starts_with("blade")),
        Failed::Wrong(_) => false,
    }
}
