//! Programs of several parts, one for every set-up or run, with stops between them.

use super::carry_out::{Program, Until};
use super::report::ProgramReport;
use crate::phrase::Phrase;
use crate::verification::faults::Fault;
use crate::verification::tasks::{MitringTask, MortisingTask, NotchingTask};
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::Workpiece;
use std::io::{BufRead, Seek};

/// What a part of a program has to do.
#[derive(Debug, Clone)]
pub enum PartTask {
    /// To notch a bundle.
    Notches(NotchingTask),
    /// To cut a rail's mortises.
    Mortises(MortisingTask),
    /// To cut pieces in rows.
    Mitres(MitringTask),
}

impl PartTask {
    /// What it is done to.
    pub fn workpiece(&self) -> &Workpiece {
        match self {
            PartTask::Notches(task) => &task.workpiece,
            PartTask::Mortises(task) => &task.workpiece,
            PartTask::Mitres(task) => &task.workpiece,
        }
    }

    /// Where wood lies, seen from above: x and y, low and high.
    pub fn wood(&self) -> Vec<[[f64; 2]; 2]> {
        match self {
            PartTask::Notches(task) => task.workpiece.strips(),
            PartTask::Mortises(task) => task.workpiece.strips(),
            PartTask::Mitres(task) => {
                let [along, _] = task.workpiece.hull();
                let sticks = task.expected.sticks_y_mm.iter();
                sticks.map(|across| [along, *across]).collect()
            }
        }
    }

    fn prove<R: BufRead + Seek>(&self, program: &mut Program<R>, until: Until) -> ProgramReport {
        let tolerances = Tolerances::default();
        match self {
            PartTask::Notches(NotchingTask {
                workpiece,
                expected,
                limits,
            }) => program.prove_notches(workpiece, Some(expected), limits, &tolerances, until),
            PartTask::Mortises(MortisingTask {
                workpiece,
                expected,
                limits,
            }) => program.prove_mortises(workpiece, expected, limits, &tolerances, until),
            PartTask::Mitres(MitringTask {
                workpiece,
                expected,
                limits,
            }) => program.prove_mitres(workpiece, expected, limits, &tolerances, until),
        }
    }
}

fn surplus(wanted: usize, more: usize) -> Fault {
    let text = format!(
        "the program has {} parts, one after every stop (M0); {wanted} are wanted",
        wanted + more
    );
    Fault::at("set-up-surplus", 0, text)
}

fn missing(found: usize, wanted: usize) -> Phrase {
    let text = format!(
        "the program ends after {found} of {wanted} parts: a stop (M0) between two of them is \
         missing, or all that comes after the last"
    );
    text.into()
}

/// Proves a program part by part, each against its task, one for every set-up; a stop (M0) stands
/// between two of them. Nothing that an earlier part has stated counts for a later one, since each
/// may be started by itself. A program of one part is proved against one task.
///
/// One report for each task, in order; fewer where the program ends too early, which the last of them
/// tells. Tolerances are the usual ones. What a report does not say is what
/// [`prove_program`](super::prove_program) does not check.
pub fn prove_parts<R: BufRead + Seek>(source: R, tasks: &[PartTask]) -> Vec<ProgramReport> {
    let mut program = Program::new(source);
    let mut reports: Vec<ProgramReport> = Vec::new();
    for (at, task) in tasks.iter().enumerate() {
        let until = if at + 1 == tasks.len() {
            Until::End
        } else {
            Until::Stop
        };
        let mut report = task.prove(&mut program, until);
        if tasks.len() > 1 && report.stops > 0 {
            report.faults.insert(0, surplus(tasks.len(), report.stops));
        }
        let ends = report
            .faults
            .iter()
            .position(|fault| matches!(fault.code, "set-up-missing" | "unreadable"));
        if let Some(at) = ends {
            // What else is wrong follows from it.
            let mut fault = report.faults.remove(at);
            if fault.code == "set-up-missing" {
                fault.text = missing(reports.len() + 1, tasks.len());
            }
            report.faults.insert(0, fault);
        }
        reports.push(report);
        if ends.is_some() {
            break;
        }
    }
    reports
}
