//! Programs of several parts, one for every set-up or run, with stops between them.

use super::faults::Fault;
use super::inputs::{Tolerances, Workpiece};
use super::rail_task::RailTask;
use super::task::Task;
use super::{Program, ProgramReport, Until};
use crate::phrase::Phrase;
use std::io::{BufRead, Seek};

/// What a part of a program has to do.
#[derive(Debug, Clone)]
pub enum PartTask {
    /// To notch a bundle.
    Notches(Task),
    /// To cut a rail's mortises.
    Mortises(RailTask),
}

impl PartTask {
    /// What it is done to.
    pub fn workpiece(&self) -> &Workpiece {
        match self {
            PartTask::Notches(task) => &task.workpiece,
            PartTask::Mortises(task) => &task.workpiece,
        }
    }

    fn prove<R: BufRead + Seek>(&self, program: &mut Program<R>, until: Until) -> ProgramReport {
        let tolerances = Tolerances::default();
        match self {
            PartTask::Notches(Task {
                workpiece,
                expected,
                limits,
            }) => program.notches(workpiece, Some(expected), limits, &tolerances, until),
            PartTask::Mortises(RailTask {
                workpiece,
                expected,
                limits,
            }) => program.pockets(workpiece, expected, limits, &tolerances, until),
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

/// Proves a program part by part, each against its task. There are fewer reports than tasks where
/// the program ends too early, which the last of them tells.
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
