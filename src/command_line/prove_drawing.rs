//! `lapwright prove` of drawings against a job: which kinds of parts they hold.

use super::answers::{Failure, Shown, Warnings, tell};
use super::arguments::ProveArguments;
use super::cutting::Cutting;
use super::drawings::{laser_of, report};
use super::inputs;
use super::outline::{Sought, guides_of, sled_of};
use super::products;
use super::prove::read;
use crate::infill::Infilling;
use crate::inputs::Inputs;
use crate::instructions::laser::Ware;
use crate::instructions::proof::{FaultFound, OutlinesFound, ProofAnswer};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::Work;
use crate::lattice::Lattice;
use crate::machines::{Laser, MachineKind};
use crate::planning::safety_for;
use crate::reading::Job;
use crate::verification::outline::{
    DrawingsReport, OutlineFault, WantedPart, check_panel, has_cuts, holds_any,
};
use std::path::Path;

const ALL: [Ware; 7] = [
    Ware::Strips,
    Ware::Pieces,
    Ware::Blocks,
    Ware::Guide,
    Ware::Sticks,
    Ware::Inserts,
    Ware::Comb,
];

/// What the proof of some drawings came to.
struct Tried {
    against: String,
    outlines: Option<OutlinesFound>,
    /// Whether it is of a kind whose slots can be asked for.
    has_slots: bool,
    /// For what the drawing is for.
    safety: SafetyNotes,
    /// With the number of the file, from 0, that it is in.
    faults: Vec<(Option<usize>, OutlineFault)>,
}

/// Drawings of all sheets together, compared with what was asked for, else with what they fit best.
pub(super) fn answer(
    asked: &ProveArguments,
    inputs: &Inputs,
    first: Vec<u8>,
    (job, path): (&Job, &Path),
    shown: Shown,
) -> Result<(ProofAnswer, SafetyNotes), Failure> {
    let mut names = vec![asked.file.display().to_string()];
    let mut sheets = vec![first];
    for sheet in &asked.sheet {
        names.push(sheet.display().to_string());
        sheets.push(read(inputs, sheet)?);
    }
    let files: Vec<&[u8]> = sheets.iter().map(Vec::as_slice).collect();
    let sought = Sought::of(&asked.what, asked.sled.as_deref(), asked.slots.as_deref())?;
    let lattice = Lattice::of(&job.panel);
    let filled = products::filled_of(inputs, job, path, shown, &mut Warnings::default());
    // Where nothing is said of the drawing, a pattern or sled that cannot be used only means that
    // it is no drawing of pieces or for that sled.
    let filled = if asked.what.is_empty() {
        filled.unwrap_or_default()
    } else {
        filled?
    };
    if let Sought::Panel = sought {
        let tried = panel(&files, &lattice, filled.as_ref());
        return Ok(told(&names, tried));
    }
    let Sought::Wares { wares, slots } = sought else {
        return Err(Failure::input("--what: nothing that can be drawn"));
    };
    let with_path = Some((job, path));
    let flag = asked.machine.as_deref();
    let chosen = inputs::machine_of(inputs, MachineKind::Laser, flag, with_path, None, shown)?;
    let laser = laser_of(&chosen)?;
    let flag = ("--sled", asked.sled.as_deref());
    let sled = inputs::machine_by(inputs, MachineKind::Sled, flag, with_path, None, shown);
    let sled = if wares.contains(&Ware::Inserts) {
        Some(sled?)
    } else {
        sled.ok()
    };
    let guides = job
        .machines
        .guides
        .as_ref()
        .map(|_| inputs::machine_of(inputs, MachineKind::Guides, None, with_path, None, shown));
    let is_guide = |ware: &Ware| matches!(ware, Ware::Blocks | Ware::Guide);
    let guides = if wares.iter().any(is_guide) {
        guides.transpose()?
    } else {
        guides.and_then(Result::ok)
    };
    let cutting = Cutting {
        panel: &job.panel,
        lattice: &lattice,
        filled: filled.as_ref(),
        laser,
        guides: guides.as_ref().map(guides_of).transpose()?,
        sled: sled.as_ref().map(sled_of).transpose()?,
        slots: slots.as_deref(),
    };
    let tried = if wares.is_empty() {
        let picture = panel(&files, &lattice, filled.as_ref());
        fits_best(&files, &cutting, picture)
    } else {
        of_wares(&files, &cutting, &wares)
    };
    if asked.slots.is_none() && !tried.faults.is_empty() && tried.has_slots {
        tell(
            "note: what was drawn with --slots is proved with the same: --what comb --slots LENGTH,...\n",
        );
    }
    Ok(told(&names, tried))
}

/// The kinds of which there is a part, together; where something is wrong then, whatever leaves
/// the least wrong.
fn fits_best(files: &[&[u8]], cutting: &Cutting<'_>, panel: Tried) -> Tried {
    let Laser { kerf, cutter, .. } = cutting.laser;
    let there = |ware: &Ware| holds_any(files, &cutting.wanted(*ware, &[]), *kerf, cutter.as_ref());
    let present: Vec<Ware> = ALL.into_iter().filter(there).collect();
    let mut tried = Vec::new();
    if !present.is_empty() {
        let together = of_wares(files, cutting, &present);
        if together.faults.is_empty() {
            return together;
        }
        tried.push(together);
    }
    let alone = if present.is_empty() {
        &ALL[..]
    } else {
        &present
    };
    let known = alone
        .iter()
        .filter(|ware| !cutting.wanted(**ware, &[]).is_empty());
    tried.extend(known.map(|ware| of_wares(files, cutting, &[*ware])));
    let best = tried.into_iter().min_by_key(|tried| tried.faults.len());
    // A panel is only drawn to be looked at.
    let is_panel = !files.iter().any(|file| has_cuts(file));
    match best {
        Some(best) if !is_panel => best,
        _ => panel,
    }
}

fn of_wares(files: &[&[u8]], cutting: &Cutting<'_>, wares: &[Ware]) -> Tried {
    let wanted: Vec<Vec<WantedPart>> = wares
        .iter()
        .map(|ware| cutting.wanted(*ware, wares))
        .collect();
    let counts = wanted
        .iter()
        .map(|wanted| wanted.iter().map(|part| part.count).sum());
    let counts: Vec<usize> = counts.collect();
    let counted = wares
        .iter()
        .zip(&counts)
        .map(|(ware, count)| counted(*ware, *count));
    let names: Vec<String> = counted.collect();
    let all_of_them = if counts.iter().sum::<usize>() == 1 {
        ""
    } else {
        "all "
    };
    let all = wanted.concat();
    let DrawingsReport {
        files: reports,
        faults,
    } = report(files, &all, cutting.laser);
    let of_all = faults.into_iter().map(|fault| (None, fault));
    let of_files = (0..).zip(&reports).flat_map(|(at, file)| {
        let own = file.faults.iter();
        own.map(move |fault| (Some(at), fault.clone()))
    });
    Tried {
        safety: safety_for(cutting.laser),
        against: format!("{all_of_them}{} of the job", names.join(" and ")),
        has_slots: wares
            .iter()
            .any(|ware| matches!(ware, Ware::Comb | Ware::Inserts)),
        outlines: Some(OutlinesFound {
            contours: reports.iter().map(|file| file.contours).sum(),
            worst_error_mm: reports
                .iter()
                .map(|file| file.worst_error_mm)
                .fold(0.0, f64::max),
        }),
        faults: of_all.chain(of_files).collect(),
    }
}

/// So many of a kind.
fn counted(ware: Ware, count: usize) -> String {
    let noun = match ware {
        Ware::Strips => "strip",
        Ware::Pieces => "piece",
        Ware::Blocks => "guide block",
        Ware::Guide => "guide part",
        Ware::Sticks => "story stick",
        Ware::Inserts => "base insert",
        Ware::Comb => "comb of slots",
    };
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

fn panel(files: &[&[u8]], lattice: &Lattice, filled: Option<&Infilling>) -> Tried {
    let faults = (0..).zip(files).flat_map(|(at, bytes)| {
        let faults = check_panel(bytes, lattice, filled).into_iter();
        faults.map(move |fault| (Some(at), fault))
    });
    Tried {
        safety: SafetyNotes::for_assembly(),
        against: "the assembled panel of the job".into(),
        outlines: None,
        has_slots: false,
        faults: faults.collect(),
    }
}

fn told(names: &[String], tried: Tried) -> (ProofAnswer, SafetyNotes) {
    let fault = |(at, fault): &(Option<usize>, OutlineFault)| FaultFound {
        code: fault.code.to_owned(),
        file: at.and_then(|at| names.get(at).cloned()),
        line: 0,
        text: fault.text.clone(),
    };
    let answer = ProofAnswer {
        file: names.join(", "),
        against: tried.against,
        work: Work::Notches,
        ok: tried.faults.is_empty(),
        notches: Vec::new(),
        slots: Vec::new(),
        motion: None,
        outlines: tried.outlines,
        faults: tried.faults.iter().map(fault).collect(),
        remarks: Vec::new(),
    };
    (answer, tried.safety)
}
