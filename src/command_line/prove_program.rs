//! `lapwright prove` of a program against a job: which of its set-ups it is for.

use super::answers::Failure;
use super::arguments::ProveArguments;
use super::products;
use super::prove::{answer_of, draw};
use crate::instructions::proof::ProofAnswer;
use crate::instructions::router::RouterSetup;
use crate::instructions::tool_path::Work;
use crate::lattice::{Bundle, Frame, Lattice, Rail};
use crate::machines::Router;
use crate::planning::{plan_router, rail_names};
use crate::units::Rad;
use crate::verification::inputs::{Tolerances, Workpiece};
use crate::verification::pockets::prove_pockets;
use crate::verification::rail_task::RailTask;
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
        .filter(|fault| matches!(fault.code, "notch-surplus" | "mortise-surplus"));
    let wrong = report.notches.iter().filter(|notch| !notch.ok);
    (
        !report.ok(),
        missing.count() + surplus.count(),
        wrong.count(),
        report.faults.len(),
    )
}

/// What a program may be for, and what came of its proof.
struct Proved {
    work: Work,
    against: String,
    /// Number of the bundle, or of the rail.
    number: usize,
    report: ProgramReport,
    /// For a picture.
    workpiece: Workpiece,
}

/// The rails of the job's frame whose mortises the program may be for.
fn of_rails(bytes: &[u8], lattice: &Lattice, frame: &Frame, router: &Router) -> Vec<Proved> {
    let Ok(made) = frame.rails(lattice) else {
        return Vec::new();
    };
    let names = rail_names(&made.rails);
    let rails = (1..).zip(made.rails.iter().zip(names));
    let proved = |(number, (rail, name)): (usize, (&Rail, String))| {
        let task = RailTask::of(lattice, frame, rail, router);
        let tolerances = Tolerances::default();
        let report = prove_pockets(
            bytes,
            &task.workpiece,
            &task.expected,
            &task.limits,
            &tolerances,
        );
        let count = rail.mortises.len();
        Proved {
            work: Work::Mortises,
            against: format!("the {name} of the job, {count} mortises"),
            number,
            report,
            workpiece: Workpiece::plain(1, frame.thickness, frame.mortise_depth, rail.length()),
        }
    };
    let with_mortises = rails.filter(|(_, (rail, _))| !rail.mortises.is_empty());
    with_mortises.map(proved).collect()
}

/// The bundles' set-ups, of all or of the bundle asked for.
fn of_bundles(
    asked: &ProveArguments,
    bytes: &[u8],
    lattice: &Lattice,
    router: &Router,
) -> Vec<Proved> {
    let proved = |candidate: Candidate| {
        let Candidate {
            bundle: number,
            held,
            about,
        } = candidate;
        let bundle = lattice.bundles.get(number.checked_sub(1)?)?;
        let task = Task::of(lattice, bundle, router, &held);
        let report = prove_program(
            bytes,
            &task.workpiece,
            Some(&task.expected),
            &task.limits,
            &Tolerances::default(),
        );
        let family = lattice.family_name(bundle.family);
        let strips = bundle.strips.len();
        Some(Proved {
            work: Work::Notches,
            against: format!("bundle {number} of the job, {strips} {family}s{about}"),
            number,
            report,
            workpiece: task.workpiece,
        })
    };
    candidates(lattice, router)
        .into_iter()
        .filter(|candidate| asked.bundle.is_none_or(|wanted| wanted == candidate.bundle))
        .filter_map(proved)
        .collect()
}

/// The set-up of the job whose notches or mortises the program cuts best, of all or of the bundle
/// asked for.
pub(super) fn program(
    asked: &ProveArguments,
    bytes: &[u8],
    (lattice, frame): (&Lattice, Option<&Frame>),
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
    let mut proved = of_bundles(asked, bytes, lattice, router);
    if let Some(frame) = frame.filter(|_| asked.bundle.is_none()) {
        proved.extend(of_rails(bytes, lattice, frame, router));
    }
    let best = proved
        .into_iter()
        .min_by_key(|proved| badness(&proved.report));
    let Some(best) = best else {
        return Err(Failure::input("the job has no strips"));
    };
    let mut answer = answer_of(asked, best.against, best.number, &best.report);
    answer.work = best.work;
    draw(asked, bytes, &answer, &best.workpiece)?;
    Ok(answer)
}
