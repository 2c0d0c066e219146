//! `lapwright prove` of a program against a job: which of its set-ups it is for.

use super::answers::Failure;
use super::arguments::ProveArguments;
use super::products;
use super::prove::{answer_of, draw};
use crate::instructions::proof::ProofAnswer;
use crate::instructions::router::RouterSetup;
use crate::lattice::{Bundle, Lattice};
use crate::machines::Router;
use crate::planning::plan_router;
use crate::units::Rad;
use crate::verification::inputs::{Tolerances, Workpiece};
use crate::verification::task::{Held, Task};
use crate::verification::{ProgramReport, prove_program};

/// A set-up that a program may be for: number of the bundle from 1, and how it lies.
struct Candidate {
    bundle: usize,
    held: Held,
    /// What is told of it beside its bundle.
    about: String,
}

/// The job's set-ups on the router. Where it cannot be planned, every bundle as a whole.
fn candidates(lattice: &Lattice, router: &Router) -> Vec<Candidate> {
    let whole = |(bundle, number): (&Bundle, usize)| Candidate {
        bundle: number,
        held: Held::all(bundle),
        about: String::new(),
    };
    match plan_router(lattice, "", router, &|at, _| format!("{at}")) {
        Err(_) => lattice.bundles.iter().zip(1..).map(whole).collect(),
        Ok((plan, _)) => plan
            .setups
            .iter()
            .map(|setup| Candidate {
                bundle: setup.bundle,
                held: products::held(setup),
                about: about(setup, &plan.setups),
            })
            .collect(),
    }
}

/// Tells set-ups of one bundle apart; nothing where there is only one.
fn about(setup: &RouterSetup, all: &[RouterSetup]) -> String {
    let of_bundle = all.iter().filter(|other| other.bundle == setup.bundle);
    if of_bundle.count() == 1 {
        return String::new();
    }
    let mut text = format!(", {} face up at {}", setup.face, Rad(setup.angle).text());
    if setup.parts > 1 {
        text.push_str(&format!(", part {} of {}", setup.part, setup.parts));
    }
    text
}

/// How bad a report is: cuts that are missing or not wanted tell of another bundle; wrong ones of
/// damage.
fn badness(report: &ProgramReport) -> (bool, usize, usize, usize) {
    let missing = report
        .notches
        .iter()
        .filter(|notch| notch.centre_error_mm.is_none());
    let surplus = report
        .faults
        .iter()
        .filter(|fault| fault.code == "notch-surplus");
    let wrong = report.notches.iter().filter(|notch| !notch.ok);
    (
        !report.ok(),
        missing.count() + surplus.count(),
        wrong.count(),
        report.faults.len(),
    )
}

/// The set-up of the job whose notches the program cuts best, of all or of the bundle asked for.
pub(super) fn program(
    asked: &ProveArguments,
    bytes: &[u8],
    lattice: &Lattice,
    router: &Router,
) -> Result<ProofAnswer, Failure> {
    let count = lattice.bundles.len();
    if asked
        .bundle
        .is_some_and(|bundle| bundle == 0 || bundle > count)
    {
        return Err(Failure::input(format!(
            "--bundle: the job has bundles 1 to {count}"
        )));
    }
    let mut best: Option<(Candidate, ProgramReport, Workpiece)> = None;
    for candidate in candidates(lattice, router) {
        let number = candidate.bundle;
        let Some(bundle) = lattice.bundles.get(number - 1) else {
            continue;
        };
        if asked.bundle.is_some_and(|wanted| wanted != number) {
            continue;
        }
        let task = Task::of(lattice, bundle, router, &candidate.held);
        let report = prove_program(
            bytes,
            &task.workpiece,
            Some(&task.expected),
            &task.limits,
            &Tolerances::default(),
        );
        if best
            .as_ref()
            .is_none_or(|(_, known, _)| badness(&report) < badness(known))
        {
            best = Some((candidate, report, task.workpiece));
        }
    }
    let Some((candidate, report, workpiece)) = best else {
        return Err(Failure::input("the job has no strips"));
    };
    let number = candidate.bundle;
    let bundle = lattice.bundles.get(number - 1);
    let family = bundle.map_or("strip", |bundle| lattice.family_name(bundle.family));
    let strips = bundle.map_or(0, |bundle| bundle.strips.len());
    let about = candidate.about;
    let against = format!("bundle {number} of the job, {strips} {family}s{about}");
    let answer = answer_of(asked, against, number, &report);
    draw(asked, bytes, &answer, &workpiece)?;
    Ok(answer)
}
