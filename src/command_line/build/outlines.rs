//! What a build has a laser or sheet router cut besides the strips.

use super::super::answers::{Outcome, Shown, Warnings};
use super::super::cutting::Cutting;
use super::super::drawings::{Bench, Files, laser_of};
use super::super::files::numbered;
use super::super::inputs::Chosen;
use super::super::{rails, sheet};
use super::Made;
use crate::finding::Finding;
use crate::geometry::PARALLEL_SINE;
use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::lattice::Lattice;
use crate::machines::{Guides, MachineKind};
use crate::phrase;
use crate::reading::Job;
use crate::units::Mm;
use crate::writing::dxf::DxfVersion;
use std::path::Path;

impl Made {
    /// What the laser cuts to set up by: story sticks, and base inserts for a sled with key slots.
    /// A comb belongs to setting the laser up, not to a job.
    pub(super) fn add_jigs<'a>(
        &mut self,
        job: &Job,
        machines: &'a [Chosen],
        version: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let cuts = |chosen: &&Chosen| laser_of(chosen).is_ok();
        let Some(chosen) = machines.iter().find(cuts) else {
            return Ok(());
        };
        let is_sled = |chosen: &&Chosen| chosen.profile.machine.kind() == MachineKind::Sled;
        let sled_profile = machines.iter().find(is_sled);
        let lattice = Lattice::of(&job.panel);
        let cutting = Cutting {
            panel: &job.panel,
            lattice: &lattice,
            filled: None,
            laser: laser_of(chosen)?,
            guides: None,
            sled: sheet::sled_of(machines).filter(|sled| sled.rack.is_some()),
            slots: None,
        };
        let mut notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
        let square = notches.all(|notch| notch.angle.cos().abs() < PARALLEL_SINE);
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
                Err(rails::Failed::Wrong(failure)) => return Err(failure),
                // The job can be made without them.
                Err(rails::Failed::Cannot(faults)) => {
                    let of_blade = faults.iter().all(|fault| fault.field.starts_with("blade"));
                    let whose = sled_profile.filter(|_| of_blade).unwrap_or(chosen);
                    let lead = format!("no {}: ", ware.name());
                    let faults = faults.into_iter().map(|fault| fault.as_warning(&lead));
                    told.add(&whose.profile.source, faults);
                }
            }
        }
        Ok(())
    }

    /// Guide blocks, with what they go with where the sheet has room, and the pieces where the laser
    /// cuts so deep.
    pub(super) fn add_pieces<'a>(
        &mut self,
        (job, filled, guides): (&'a Job, &Infilling, Option<&Guides>),
        chosen: &'a Chosen,
        version: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let machine = chosen.profile.name.as_str();
        let files = Files::Both(version);
        let name = |at, count| numbered(Path::new("guide-blocks.dxf"), at, count);
        let bench = Bench::new(chosen, files, &name, shown)?;
        let cutting = Cutting {
            panel: &job.panel,
            lattice: &Lattice::of(&job.panel),
            filled: Some(filled),
            laser: laser_of(chosen)?,
            guides,
            sled: None,
            slots: None,
        };
        let (laid, blocks) = bench.told(&cutting, &[Ware::Blocks], None, told)?;
        self.list(blocks, "outline", machine);
        self.plans.laser.push(laid);
        let name = |at, count| numbered(Path::new("guide.dxf"), at, count);
        let bench = Bench::new(chosen, files, &name, shown)?;
        match bench.drawn(&cutting, &[Ware::Guide]) {
            Ok(((laid, guide), warnings)) => {
                told.add(&chosen.profile.source, warnings);
                self.list(guide, "outline", machine);
                self.plans.laser.push(laid);
            }
            Err(rails::Failed::Wrong(failure)) => return Err(failure),
            // The pieces can be pared on another.
            Err(rails::Failed::Cannot(faults)) => {
                let faults = faults
                    .into_iter()
                    .map(|fault| fault.as_warning("no guide for the blocks: "));
                told.add(&chosen.profile.source, faults);
            }
        }
        if job.panel.strip.depth <= cutting.laser.thickest {
            let name = |at, count| numbered(Path::new("pieces.dxf"), at, count);
            let bench = Bench::new(chosen, files, &name, shown)?;
            let (laid, pieces) = bench.told(&cutting, &[Ware::Pieces], None, told)?;
            self.list(pieces, "outline", machine);
            self.plans.laser.push(laid);
        } else {
            let text = phrase!(
                "pieces {} deep are too thick for this machine: no outlines of them are made",
                Mm(job.panel.strip.depth)
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
}
