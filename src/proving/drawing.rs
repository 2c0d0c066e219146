//! Drawings beside a job: which kinds of parts they hold, and whether these are right.

use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::instructions::proof::{FaultFound, OutlinesFound, ProofAnswer};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::ProgramWork;
use crate::lattice::{Frame, Lattice};
use crate::machines::Laser;
use crate::making::{SheetParts, frame_safety, member_names, report};
use crate::phrase::counted;
use crate::units::UnitSystem;
use crate::verification::outline::{
    DrawingsReport, FrameOrder, OutlineFault, ReadDrawing, WantedPart, check_frame, check_panel,
    has_cuts, holds_any, holds_members,
};
use std::collections::BTreeMap;

const ALL: [Ware; 8] = [
    Ware::Strips,
    Ware::Pieces,
    Ware::Lapped,
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

/// What drawings are, and what is wrong with them.
#[derive(Debug)]
pub struct DrawingProof {
    /// All that was found.
    pub answer: ProofAnswer,
    /// For what the drawing is for.
    pub safety: SafetyNotes,
    /// Whether it is of a kind whose slots can be asked for.
    pub has_slots: bool,
}

/// Drawings of all sheets together, with the names of their files: compared with the parts of some
/// kinds, of none with what they fit best.
pub fn prove_drawings(
    names: &[String],
    files: &[&[u8]],
    parts: &SheetParts<'_>,
    frame: Option<&Frame>,
    wares: &[Ware],
) -> DrawingProof {
    let tried = if wares.is_empty() {
        let panel = || panel(files, parts.lattice, parts.filled, frame);
        fits_best(files, parts, panel)
    } else {
        of_wares(&read_all(files), parts, wares)
    };
    told(names, tried)
}

/// Drawings of the assembled panel.
pub fn prove_panel(
    names: &[String],
    files: &[&[u8]],
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&Frame>,
) -> DrawingProof {
    told(names, panel(files, lattice, filled, frame))
}

/// Whether drawings hold what only a frame's members have, so that no machine has a say in them.
pub fn are_members(files: &[&[u8]]) -> bool {
    files.iter().any(|file| holds_members(file))
}

/// Drawings of a frame's members.
pub fn prove_members(
    names: &[String],
    files: &[&[u8]],
    lattice: &Lattice,
    frame: &Frame,
) -> DrawingProof {
    told(names, members(files, lattice, frame))
}

/// The kinds of which there is a part, together; where something is wrong then, whatever leaves
/// the least wrong.
fn fits_best(files: &[&[u8]], parts: &SheetParts<'_>, panel: impl FnOnce() -> Tried) -> Tried {
    let read = read_all(files);
    let Laser { kerf, cutter, .. } = parts.laser;
    let tool = (*kerf, cutter.as_ref());
    let there = |ware: &Ware| holds_any(&read, &parts.wanted(*ware, &[]), tool);
    let present: Vec<Ware> = ALL.into_iter().filter(there).collect();
    let mut tried = Vec::new();
    if !present.is_empty() {
        let together = of_wares(&read, parts, &present);
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
        .filter(|ware| !parts.wanted(**ware, &[]).is_empty());
    tried.extend(known.map(|ware| of_wares(&read, parts, &[*ware])));
    let best = tried.into_iter().min_by_key(|tried| tried.faults.len());
    // A panel is only drawn to be looked at.
    let is_panel = !files.iter().any(|file| has_cuts(file));
    match best {
        Some(best) if !is_panel => best,
        _ => panel(),
    }
}

/// All files, each read once.
fn read_all(files: &[&[u8]]) -> Vec<ReadDrawing> {
    files.iter().map(|bytes| ReadDrawing::of(bytes)).collect()
}

/// Places on story sticks and base inserts are read in the units in which less is wrong: which ones were asked
/// for is not said in the job.
fn of_wares(files: &[ReadDrawing], parts: &SheetParts<'_>, wares: &[Ware]) -> Tried {
    let tried = of_wares_marked(files, parts, wares);
    let has_places = |ware: &Ware| matches!(ware, Ware::Sticks | Ware::Inserts);
    if tried.faults.is_empty() || !wares.iter().any(has_places) {
        return tried;
    }
    let marked_in = match parts.marked_in {
        UnitSystem::Millimetres => UnitSystem::Inches,
        UnitSystem::Inches => UnitSystem::Millimetres,
    };
    let parts = SheetParts {
        marked_in,
        ..*parts
    };
    let other = of_wares_marked(files, &parts, wares);
    if other.faults.len() < tried.faults.len() {
        other
    } else {
        tried
    }
}

fn of_wares_marked(files: &[ReadDrawing], parts: &SheetParts<'_>, wares: &[Ware]) -> Tried {
    let wanted: Vec<Vec<WantedPart>> = wares
        .iter()
        .map(|ware| parts.wanted(*ware, wares))
        .collect();
    let counts = wanted
        .iter()
        .map(|wanted| wanted.iter().map(|part| part.count).sum());
    let counts: Vec<usize> = counts.collect();
    let counted = wares
        .iter()
        .zip(&counts)
        .map(|(ware, count)| counted(*count, noun(*ware)));
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
    } = report(files, &all, parts.laser);
    let of_all = faults.into_iter().map(|fault| (None, fault));
    let of_files = (0..).zip(&reports).flat_map(|(at, file)| {
        let own = file.faults.iter();
        own.map(move |fault| (Some(at), fault.clone()))
    });
    Tried {
        safety: SafetyNotes::for_sheet(parts.laser.cutter.is_some()),
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

/// One of a kind.
fn noun(ware: Ware) -> &'static str {
    match ware {
        Ware::Strips => "strip",
        Ware::Pieces => "piece",
        Ware::Lapped => "lapped blank",
        Ware::Blocks => "guide block",
        Ware::Guide => "guide part",
        Ware::Sticks => "story stick",
        Ware::Inserts => "base insert",
        Ware::Comb => "comb of slots",
    }
}

/// All of a frame's members are in one file.
fn members(files: &[&[u8]], lattice: &Lattice, frame: &Frame) -> Tried {
    let names = member_names(lattice, frame);
    let order = FrameOrder {
        lattice,
        frame,
        names: &names,
    };
    let reports = files.iter().map(|bytes| check_frame(bytes, &order));
    let reports: Vec<_> = reports.collect();
    let faults = (0..).zip(&reports).flat_map(|(at, report)| {
        let own = report.faults.iter();
        own.map(move |fault| (Some(at), fault.clone()))
    });
    Tried {
        safety: frame_safety(lattice, frame),
        against: format!("all {} of the job's frame", counted(names.len(), "member")),
        outlines: Some(OutlinesFound {
            contours: reports.iter().map(|file| file.contours).sum(),
            worst_error_mm: reports
                .iter()
                .map(|file| file.worst_error_mm)
                .fold(0.0, f64::max),
        }),
        has_slots: false,
        faults: faults.collect(),
    }
}

fn panel(
    files: &[&[u8]],
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&Frame>,
) -> Tried {
    let faults = (0..).zip(files).flat_map(|(at, bytes)| {
        let faults = check_panel(bytes, lattice, filled, frame).into_iter();
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

/// So many faults of a code are told one by one: of a drawing whose parts all lie on one heap there is one for
/// each of them, and what is rare among them is to be seen.
const MOST_OF_A_CODE: usize = 200;

/// The first of each code, and how many more there are.
fn capped(all: impl Iterator<Item = FaultFound>) -> Vec<FaultFound> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let mut told = Vec::new();
    for fault in all {
        let count = counts.entry(fault.code.clone()).or_default();
        *count += 1;
        if *count <= MOST_OF_A_CODE {
            told.push(fault);
        }
    }
    let more = counts.into_iter().filter_map(|(code, count)| {
        let more = count.checked_sub(MOST_OF_A_CODE).filter(|more| *more > 0)?;
        Some(FaultFound::more_of(&code, more))
    });
    told.extend(more);
    told
}

fn told(names: &[String], tried: Tried) -> DrawingProof {
    let fault = |(at, fault): &(Option<usize>, OutlineFault)| FaultFound {
        code: fault.code.to_owned(),
        file: at.and_then(|at| names.get(at).cloned()),
        line: 0,
        text: fault.text.clone(),
        more: None,
    };
    let answer = ProofAnswer {
        file: names.join(", "),
        against: tried.against,
        work: ProgramWork::Notches,
        ok: tried.faults.is_empty(),
        notches: Vec::new(),
        slots: Vec::new(),
        motion: None,
        outlines: tried.outlines,
        faults: capped(tried.faults.iter().map(fault)),
        remarks: Vec::new(),
    };
    DrawingProof {
        answer,
        safety: tried.safety,
        has_slots: tried.has_slots,
    }
}
