//! `lapwright prove` of drawings against a job.

use super::answers::{Failure, Shown, tell};
use super::arguments::ProveArguments;
use super::inputs::{self, FoundMachine, MachineFlags};
use super::outline::{SoughtDrawing, frame_of, sled_flags};
use super::proved_files::read;
use crate::infill::Infilling;
use crate::inputs::Inputs;
use crate::instructions::laser::Ware;
use crate::machines::{Guides, Laser, Sled, Station};
use crate::making::{SheetParts, filled, no_members};
use crate::proving::{DrawingProof, are_members, prove_drawings, prove_members, prove_panel};
use crate::reading::{Documents, Job};
use std::path::Path;

/// Drawings of all sheets together, compared with what was asked for, else with what they fit best.
pub(super) fn proof(
    asked: &ProveArguments,
    inputs: &Inputs,
    first: Vec<u8>,
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<DrawingProof, Failure> {
    let mut names = vec![asked.file.display().to_string()];
    let mut sheets = vec![first];
    for sheet in &asked.sheet {
        names.push(sheet.display().to_string());
        sheets.push(read(inputs, sheet)?);
    }
    let files: Vec<&[u8]> = sheets.iter().map(Vec::as_slice).collect();
    let sought = SoughtDrawing::of(&asked.what, asked.sled.as_deref(), asked.slots.as_deref())?;
    let lattice = job.panel.lattice();
    let filled = filled_of(inputs, job, path, shown);
    // Where nothing is said of the drawing, a pattern or sled that cannot be used only means that
    // it is no drawing of pieces or for that sled.
    let filled = if asked.what.is_empty() {
        filled.unwrap_or_default()
    } else {
        filled?
    };
    let frame = job.frame.as_ref();
    let members = || {
        let frame = frame_of(job, path)?;
        if let Some(why) = no_members(lattice, frame) {
            return Err(Failure::not_made(
                why,
                &Documents::of_job(&job.source),
                shown,
            ));
        }
        Ok(prove_members(&names, &files, lattice, frame))
    };
    if asked.what.is_empty() && are_members(&files) {
        return members();
    }
    let (wares, slots) = match sought {
        SoughtDrawing::Panel => {
            return Ok(prove_panel(&names, &files, lattice, filled.as_ref(), frame));
        }
        SoughtDrawing::Frame => return members(),
        SoughtDrawing::Wares { wares, slots } => (wares, slots),
    };
    let with_path = Some((job, path));
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let laser: FoundMachine<Laser> = inputs::machine_for(inputs, &flags, with_path, shown)?;
    let flags = sled_flags(asked.sled.as_deref());
    let sled: Result<FoundMachine<Sled>, Failure> =
        inputs::machine_for(inputs, &flags, with_path, shown);
    let sled = if wares.contains(&Ware::Inserts) {
        Some(sled?)
    } else {
        sled.ok()
    };
    let guides = job.machines.at(Station::Guides).map(|_| {
        let flags = MachineFlags::default();
        inputs::machine_for::<Guides>(inputs, &flags, with_path, shown)
    });
    let is_guide = |ware: &Ware| matches!(ware, Ware::Blocks | Ware::Guide);
    let guides = if wares.iter().any(is_guide) {
        guides.transpose()?
    } else {
        guides.and_then(Result::ok)
    };
    let parts = SheetParts {
        filled: filled.as_ref(),
        guides: guides.as_ref().map(|guides| &guides.machine),
        sled: sled.as_ref().map(|sled| &sled.machine),
        sled_work: job.sled,
        slots: slots.as_deref(),
        marked_in: shown.units,
        ..SheetParts::of_strips(&job.panel, lattice, &laser.machine)
    };
    for ware in &wares {
        if let Some(why) = parts.none_of(*ware, &wares) {
            let documents = laser.among(Documents::of_job(&job.source));
            return Err(Failure::not_made(why, &documents, shown));
        }
    }
    let proof = prove_drawings(&names, &files, &parts, frame, &wares);
    if asked.slots.is_none() && !proof.answer.ok && proof.has_slots {
        tell(
            "note: what was drawn with --slots is proved with the same: --what comb --slots LENGTH,...\n",
        );
    }
    Ok(proof)
}

/// The job's cells with their pieces, if it has any.
fn filled_of(
    inputs: &Inputs,
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<Option<Infilling>, Failure> {
    if job.map.is_none() {
        return Ok(None);
    }
    let patterns = inputs::patterns_of(inputs, job, path, shown)?;
    let documents = Documents::of_job(&job.source).with_patterns(patterns.sources());
    let filled = filled(job, &patterns.patterns);
    let filled = filled.map_err(|error| Failure::not_made(error, &documents, shown))?;
    Ok(Some(filled))
}
