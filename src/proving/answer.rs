//! What proofs of a program's parts come to.

use crate::instructions::proof::{FaultFound, MotionFound, NotchProof, ProofAnswer, SlotFound};
use crate::instructions::tool_path::ProgramWork;
use crate::units::UnitSystem;
use crate::verification::ProgramReport;

/// A part of a program, or a program that is all of one part, and what its proof found.
pub(super) struct FoundPart<'a> {
    /// Number of the bundle, or of the rail.
    pub(super) setup: usize,
    /// Which part, from 1; none where there is one.
    pub(super) part: Option<usize>,
    /// Whether it has been told of already for another bundle that shares it: its moves and cuts are
    /// the same.
    pub(super) again: bool,
    pub(super) report: &'a ProgramReport,
}

impl FoundPart<'_> {
    fn notches(&self) -> impl Iterator<Item = NotchProof> {
        self.report.notches.iter().map(|notch| NotchProof {
            part: self.part,
            setup: self.setup,
            index: notch.index,
            centre_error_mm: notch.centre_error_mm,
            width_mm: notch.width_mm,
            width_error_mm: notch.width_error_mm,
            depth_error_mm: notch.depth_error_mm,
            ok: notch.ok,
        })
    }

    fn slots(&self) -> impl Iterator<Item = SlotFound> {
        self.report.slots.iter().map(|slot| SlotFound {
            centre_mm: slot.centre_mm,
            y_mm: slot.y_mm,
            width_mm: slot.width_mm,
            depth_mm: slot.depth_mm,
            line: slot.line,
            outline_mm: slot.outline_mm.clone(),
        })
    }

    fn faults(&self) -> impl Iterator<Item = FaultFound> {
        let fault = |code: &str, line, text| FaultFound {
            code: code.to_owned(),
            file: None,
            line,
            text,
            more: None,
        };
        let told = self.report.faults.iter().map(move |found| {
            let text = found.text.text(UnitSystem::Millimetres);
            // A part as a whole has no line of its own.
            match self.part {
                Some(part) if found.line == 0 => {
                    fault(found.code, 0, format!("part {part}: {text}"))
                }
                _ => fault(found.code, found.line, text),
            }
        });
        let more = self.report.more_faults.iter();
        told.chain(more.map(|(code, count)| FaultFound::more_of(code, *count)))
    }
}

/// What is wrong with all of them; what is wrong for another bundle in the same way is told once.
fn faults(found: &[FoundPart<'_>]) -> Vec<FaultFound> {
    let mut told: Vec<FaultFound> = Vec::new();
    for part in found {
        if !part.again {
            told.extend(part.faults());
            continue;
        }
        let own: Vec<FaultFound> = (part.faults())
            .filter(|fault| !told.contains(fault))
            .map(|fault| FaultFound {
                text: format!("for bundle {}: {}", part.setup, fault.text),
                ..fault
            })
            .collect();
        told.extend(own);
    }
    told
}

/// What is told of a program.
pub(super) fn answer_of(file: &str, against: String, found: &[FoundPart<'_>]) -> ProofAnswer {
    let reports = || found.iter().map(|part| part.report);
    let once = || found.iter().filter(|part| !part.again);
    let moved = || once().map(|part| part.report);
    let sum = |of: fn(&ProgramReport) -> f64| moved().map(of).sum();
    let mut faults = faults(found);
    // Where a stop is missing, parts are held against the wrong tasks: that comes first.
    faults.sort_by_key(|fault| fault.code != "set-up-missing");
    let [x_mm, y_mm, z_mm] = [0, 1, 2].map(|axis| {
        let extents = moved().filter_map(|report| report.extent_mm[axis]);
        extents.reduce(|all, own| [all[0].min(own[0]), all[1].max(own[1])])
    });
    ProofAnswer {
        file: file.to_owned(),
        against,
        work: ProgramWork::Notches,
        ok: reports().all(ProgramReport::ok),
        notches: found.iter().flat_map(FoundPart::notches).collect(),
        slots: once().flat_map(FoundPart::slots).collect(),
        motion: Some(MotionFound {
            moves: moved().map(|report| report.moves).sum(),
            cutting_mm: sum(|report| report.cutting_mm),
            rapid_mm: sum(|report| report.rapid_mm),
            x_mm,
            y_mm,
            z_mm,
        }),
        outlines: None,
        faults,
        remarks: Vec::new(),
    }
}
