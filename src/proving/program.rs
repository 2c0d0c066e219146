//! A program beside a job: which of its set-ups it is for, and whether it does that.

use super::answer::{FoundPart, answer_of};
use super::candidates::{Candidate, JobPrograms};
use super::pieces::JobPieces;
use super::remarks::disagreeing;
use crate::dialects::SetUps;
use crate::instructions::proof::{FaultFound, ProofAnswer};
use crate::instructions::tool_path::ProgramWork;
use crate::lattice::{Frame, Lattice};
use crate::machines::{Chosen, Router};
use crate::verification::{PartTask, ProgramReport, Workpiece};

/// A program, and what may be asked of it.
#[derive(Debug)]
pub struct ProgramQuestion<'a> {
    /// What the file is called.
    pub file: &'a str,
    /// All of it.
    pub bytes: &'a [u8],
    /// The job's strips.
    pub lattice: &'a Lattice,
    /// The job's frame.
    pub frame: Option<&'a Frame>,
    /// The job's pieces.
    pub pieces: Option<JobPieces<'a>>,
    /// The router that it is for.
    pub router: Chosen<'a, Router>,
    /// Only for this bundle, from 1.
    pub bundle: Option<usize>,
    /// Only for the rail of this name.
    pub rail: Option<&'a str>,
    /// Only this part of a program with stops, from 1.
    pub part: Option<usize>,
}

/// Why a question has no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoAnswer {
    /// All set-ups are in one program: none of them has a bundle or a rail of its own.
    OneProgram,
    /// There are so many bundles.
    Bundles(usize),
    /// The job has no strips.
    NoStrips,
    /// The job has no rails with mortises.
    NoRails,
    /// The job's rails with mortises.
    Rails(Vec<String>),
    /// The program has so many parts.
    Parts(usize),
}

/// What a program does.
#[derive(Debug)]
pub struct ProgramProof {
    /// Of all of it, or of the part that was asked for.
    pub answer: ProofAnswer,
    /// The part that a picture is worth most of: the one asked for, else the first that is wrong, else
    /// the first.
    pub part: Option<ProvenPart>,
}

/// A part of a program.
#[derive(Debug)]
pub struct ProvenPart {
    /// Of it alone.
    pub answer: ProofAnswer,
    /// What it was cut into.
    pub workpiece: Workpiece,
    /// Where wood lies, seen from above: x and y, low and high.
    pub wood: Vec<[[f64; 2]; 2]>,
    /// Its first and its last line.
    pub lines: [usize; 2],
    /// Which part it is and of how many, where there are several.
    pub of_parts: Option<(usize, usize)>,
}

/// The set-up of the job whose notches or mortises the program cuts best, of all or of those asked
/// for; all set-ups where the profile has one program for them.
///
/// # Errors
/// A question about something that is not there.
pub fn prove_program(question: &ProgramQuestion<'_>) -> Result<ProgramProof, NoAnswer> {
    question.check_bundle()?;
    let sought = JobPrograms {
        lattice: question.lattice,
        frame: question.frame,
        pieces: question.pieces,
        machine: question.router.name,
        router: question.router.machine,
    };
    let all = sought.candidates();
    let asked = all.iter().filter(|one| question.is_about(one));
    let Some((best, reports)) = best(question.bytes, asked) else {
        return Err(question.nothing_asked(&all));
    };
    let shown = question.shown(&reports)?;
    let proven = Proven {
        question,
        best,
        reports: &reports,
    };
    let part = proven.part(shown);
    let mut answer = match (question.part, &part) {
        (Some(_), Some(part)) => part.answer.clone(),
        _ => proven.whole(),
    };
    answer.remarks = proven.remarks(&all, shown);
    if !answer.ok && (question.bundle.is_some() || question.rail.is_some()) {
        answer.faults.splice(0..0, other_work(question.bytes, &all));
    }
    Ok(ProgramProof { answer, part })
}

impl ProgramQuestion<'_> {
    /// Whether it is asked for, or nothing is.
    fn is_about(&self, candidate: &Candidate) -> bool {
        let is_bundle = |number: usize| {
            let is_shared =
                |part: &Vec<(usize, PartTask)>| part.iter().any(|(of, _)| *of == number);
            candidate.work == ProgramWork::Notches && candidate.parts.iter().all(is_shared)
        };
        self.bundle.is_none_or(is_bundle)
            && self
                .rail
                .is_none_or(|name| candidate.rail.as_deref() == Some(name))
    }

    /// A bundle that there is, where each has a program of its own.
    fn check_bundle(&self) -> Result<(), NoAnswer> {
        let chosen = self.bundle.is_some() || self.rail.is_some();
        if chosen && self.router.machine.controller.set_ups == SetUps::OneFile {
            return Err(NoAnswer::OneProgram);
        }
        let count = self.lattice.bundles.len();
        match self.bundle {
            Some(bundle) if bundle == 0 || bundle > count => Err(NoAnswer::Bundles(count)),
            _ => Ok(()),
        }
    }

    fn nothing_asked(&self, all: &[Candidate]) -> NoAnswer {
        if self.rail.is_none() {
            return NoAnswer::NoStrips;
        }
        let names: Vec<String> = all.iter().filter_map(|one| one.rail.clone()).collect();
        if names.is_empty() {
            NoAnswer::NoRails
        } else {
            NoAnswer::Rails(names)
        }
    }

    /// The part that is shown, from 0: the one asked for, else the first that is wrong, else the first.
    fn shown(&self, reports: &[Vec<ProgramReport>]) -> Result<usize, NoAnswer> {
        let shown = match self.part {
            Some(part) => part.wrapping_sub(1),
            None => {
                let is_wrong = |shared: &Vec<ProgramReport>| !shared.iter().all(ProgramReport::ok);
                reports.iter().position(is_wrong).unwrap_or(0)
            }
        };
        if shown >= reports.len() {
            return Err(NoAnswer::Parts(reports.len()));
        }
        Ok(shown)
    }
}

/// What a program was found to be for.
struct Proven<'a> {
    question: &'a ProgramQuestion<'a>,
    best: &'a Candidate,
    /// Part by part, for each that shares it.
    reports: &'a [Vec<ProgramReport>],
}

impl Proven<'_> {
    /// The number of a part, where there are several.
    fn number_of(&self, at: usize) -> Option<usize> {
        (self.best.parts.len() > 1).then_some(at + 1)
    }

    /// A part, once for each bundle that shares it.
    fn found(&self, at: usize) -> Vec<FoundPart<'_>> {
        let (Some(tasks), Some(reports)) = (self.best.parts.get(at), self.reports.get(at)) else {
            return Vec::new();
        };
        let shared = (0..).zip(tasks.iter().zip(reports));
        let found = shared.map(|(nth, ((setup, _), report))| FoundPart {
            setup: *setup,
            part: self.number_of(at),
            again: nth > 0,
            report,
        });
        found.collect()
    }

    fn part(&self, at: usize) -> Option<ProvenPart> {
        let found = self.found(at);
        let against = match self.number_of(at) {
            Some(part) => format!("part {part} of {}", self.best.against),
            None => self.best.against.clone(),
        };
        let (_, task) = self.best.parts.get(at)?.first()?;
        Some(ProvenPart {
            answer: self.answer(against, &found),
            workpiece: task.workpiece().clone(),
            wood: task.wood(),
            lines: found.first()?.report.lines,
            of_parts: self.number_of(at).map(|part| (part, self.best.parts.len())),
        })
    }

    fn whole(&self) -> ProofAnswer {
        let all = (0..self.reports.len()).flat_map(|at| self.found(at));
        let all: Vec<FoundPart<'_>> = all.collect();
        self.answer(self.best.against.clone(), &all)
    }

    fn answer(&self, against: String, found: &[FoundPart<'_>]) -> ProofAnswer {
        let mut answer = answer_of(self.question.file, against, found);
        answer.work = self.best.work;
        answer
    }

    /// Its own remarks that do not agree; of one part where that is asked for.
    fn remarks(&self, all: &[Candidate], shown: usize) -> Vec<FaultFound> {
        // What is said of a part is said once, whoever shares it.
        let first = self.reports.iter().filter_map(|shared| shared.first());
        let first: Vec<&ProgramReport> = first.collect();
        let others = all.iter().map(|other| &other.remarks);
        let mut told = disagreeing(self.question.bytes, &self.best.remarks, others, &first);
        if self.question.part.is_some()
            && let Some(report) = first.get(shown)
        {
            let [first, last] = report.lines;
            told.retain(|said| (first..=last).contains(&said.line));
        }
        told
    }
}

/// How bad reports are: parts and cuts that are missing or not wanted tell of another bundle; wrong
/// ones of damage.
fn badness(reports: &[Vec<ProgramReport>]) -> (bool, usize, usize, usize) {
    let all = || reports.iter().flatten();
    let sum = |of: fn(&ProgramReport) -> usize| all().map(of).sum::<usize>();
    let missing = sum(|report| {
        let missing = report.notches.iter();
        missing
            .filter(|notch| notch.centre_error_mm.is_none())
            .count()
    });
    let surplus = sum(|report| {
        let codes = report.faults.iter().map(|fault| fault.code);
        // A plunge is a mortise's ramp, looked at as a notch.
        let surplus = [
            "notch-surplus",
            "mortise-surplus",
            "piece-cut",
            "facet-missing",
            "set-up-missing",
            "plunge",
        ];
        codes.filter(|code| surplus.contains(code)).count()
    });
    (
        !all().all(ProgramReport::ok),
        missing + surplus,
        sum(|report| report.notches.iter().filter(|notch| !notch.ok).count()),
        sum(|report| report.faults.len()),
    )
}

/// The candidate that the program fits best.
fn best<'c>(
    bytes: &[u8],
    candidates: impl Iterator<Item = &'c Candidate>,
) -> Option<(&'c Candidate, Vec<Vec<ProgramReport>>)> {
    let proved = candidates.map(|candidate| (candidate, candidate.proved(bytes)));
    proved.min_by_key(|(_, reports)| badness(reports))
}

/// What a program that is wrong for what was asked for is right for.
fn other_work(bytes: &[u8], all: &[Candidate]) -> Option<FaultFound> {
    let (other, reports) = best(bytes, all.iter())?;
    let right = reports.iter().flatten().all(ProgramReport::ok);
    right.then(|| FaultFound {
        code: "other-work".into(),
        file: None,
        line: 0,
        text: format!("this program is right, but for {}", other.against),
        more: None,
    })
}
