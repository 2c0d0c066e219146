//! `lapwright prove` of a program against a job: which of its set-ups it is for.

use super::answers::{self, Failure};
use super::arguments::ProveArguments;
use super::programs::task;
use super::prove::{Found, answer_of, draw};
use crate::dialects::SetUps;
use crate::inputs::Inputs;
use crate::instructions::proof::ProofAnswer;
use crate::instructions::router::{RouterPlan, RouterSetup};
use crate::instructions::tool_path::Work;
use crate::lattice::{Bundle, Frame, Lattice, Rail};
use crate::machines::Router;
use crate::planning::{plan_mortises, plan_router, rail_names};
use crate::units::Rad;
use crate::verification::ProgramReport;
use crate::verification::parts::{PartTask, prove_parts};
use crate::verification::rail_task::RailTask;
use crate::verification::task::{Held, Task};
use std::io::Cursor;
use std::iter::repeat_n;

/// What a program may be for.
struct Candidate {
    work: Work,
    /// What is told of it.
    against: String,
    /// Part by part: number of the bundle or rail, from 1, and what is to be done.
    parts: Vec<(usize, PartTask)>,
}

/// A job's strips and frame on a router.
struct Sought<'a> {
    lattice: &'a Lattice,
    frame: Option<&'a Frame>,
    router: &'a Router,
}

impl Sought<'_> {
    /// The set-ups of the bundles, of all or of one. Where they cannot be planned, every bundle as a
    /// whole.
    fn of_bundles(&self, wanted: Option<usize>) -> Vec<Candidate> {
        let planned = plan_router(self.lattice, "", self.router, &|at, _| format!("{at}"));
        let is_wanted = |number: usize| wanted.is_none_or(|wanted| wanted == number);
        match planned {
            Err(_) => {
                let bundles = (1..).zip(&self.lattice.bundles);
                let wanted = bundles.filter(|(number, _)| is_wanted(*number));
                wanted
                    .map(|(number, bundle)| self.whole(number, bundle))
                    .collect()
            }
            Ok((plan, _)) if self.router.controller.set_ups == SetUps::OneFile => {
                Vec::from_iter(self.all_set_ups(&plan))
            }
            Ok((plan, _)) => {
                let setups = plan.setups.iter();
                let wanted = setups.filter(|setup| is_wanted(setup.bundle));
                wanted
                    .filter_map(|setup| self.set_up(setup, &plan.setups))
                    .collect()
            }
        }
    }

    fn bundle_words(&self, number: usize, bundle: &Bundle) -> String {
        let family = self.lattice.family_name(bundle.family);
        let strips = bundle.strips.len();
        format!("bundle {number} of the job, {strips} {family}s")
    }

    fn whole(&self, number: usize, bundle: &Bundle) -> Candidate {
        let task = Task::of(self.lattice, bundle, self.router, &Held::all(bundle));
        Candidate {
            work: Work::Notches,
            against: self.bundle_words(number, bundle),
            parts: vec![(number, PartTask::Notches(task))],
        }
    }

    fn set_up(&self, setup: &RouterSetup, all: &[RouterSetup]) -> Option<Candidate> {
        let number = setup.bundle;
        let bundle = self.lattice.bundles.get(number.checked_sub(1)?)?;
        let task = task(setup, self.lattice, self.router)?;
        Some(Candidate {
            work: Work::Notches,
            against: self.bundle_words(number, bundle) + &about(setup, all),
            parts: vec![(number, PartTask::Notches(task))],
        })
    }

    /// Every run of every set-up, one after the other.
    fn all_set_ups(&self, plan: &RouterPlan) -> Option<Candidate> {
        let mut parts = Vec::new();
        for setup in &plan.setups {
            let task = task(setup, self.lattice, self.router)?;
            let part = (setup.bundle, PartTask::Notches(task));
            parts.extend(repeat_n(part, setup.part_count()));
        }
        Some(Candidate {
            work: Work::Notches,
            against: format!(
                "all {} set-ups of the job, {} runs",
                plan.setups.len(),
                parts.len()
            ),
            parts,
        })
    }

    /// The rails of the frame that have mortises.
    fn of_rails(&self) -> Vec<Candidate> {
        let Some((frame, made)) = self
            .frame
            .and_then(|frame| Some((frame, frame.rails(self.lattice).ok()?)))
        else {
            return Vec::new();
        };
        let names = rail_names(&made.rails);
        let rails = (1..).zip(made.rails.iter().zip(names));
        let rails: Vec<(usize, (&Rail, String))> = rails
            .filter(|(_, (rail, _))| !rail.mortises.is_empty())
            .collect();
        let task =
            |rail: &Rail| PartTask::Mortises(RailTask::of(self.lattice, frame, rail, self.router));
        let one = |(number, (rail, name)): &(usize, (&Rail, String))| Candidate {
            work: Work::Mortises,
            against: format!("the {name} of the job, {} mortises", rail.mortises.len()),
            parts: vec![(*number, task(rail))],
        };
        if self.router.controller.set_ups == SetUps::Files {
            return rails.iter().map(one).collect();
        }
        let planned = plan_mortises(self.lattice, frame, ("", self.router), &|_, _| {
            String::new()
        });
        let Ok((planned, _)) = planned else {
            return Vec::new();
        };
        let lying = planned.programs.iter().flat_map(|program| &program.rails);
        let found = lying.filter_map(|lying| {
            let (number, (rail, _)) = rails.iter().find(|(_, (_, name))| *name == lying.name)?;
            Some((*number, task(rail)))
        });
        vec![Candidate {
            work: Work::Mortises,
            against: format!("all {} rails of the job with mortises", rails.len()),
            parts: found.collect(),
        }]
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

/// How bad reports are: parts and cuts that are missing or not wanted tell of another bundle; wrong
/// ones of damage.
fn badness(reports: &[ProgramReport]) -> (bool, usize, usize, usize) {
    let sum = |of: fn(&ProgramReport) -> usize| reports.iter().map(of).sum::<usize>();
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
            "set-up-missing",
            "plunge",
        ];
        codes.filter(|code| surplus.contains(code)).count()
    });
    (
        !reports.iter().all(ProgramReport::ok),
        missing + surplus,
        sum(|report| report.notches.iter().filter(|notch| !notch.ok).count()),
        sum(|report| report.faults.len()),
    )
}

/// The set-up of the job whose notches or mortises the program cuts best, of all or of the bundle
/// asked for; all set-ups where the profile has one program for them.
pub(super) fn program(
    (asked, inputs): (&ProveArguments, &Inputs),
    bytes: &[u8],
    (lattice, frame): (&Lattice, Option<&Frame>),
    router: &Router,
) -> Result<ProofAnswer, Failure> {
    check_bundle(asked, lattice, router)?;
    let sought = Sought {
        lattice,
        frame,
        router,
    };
    let mut candidates = sought.of_bundles(asked.bundle);
    if asked.bundle.is_none() {
        candidates.extend(sought.of_rails());
    }
    let proved = candidates.into_iter().map(|candidate| {
        let tasks: Vec<PartTask> = candidate
            .parts
            .iter()
            .map(|(_, task)| task.clone())
            .collect();
        let reports = prove_parts(Cursor::new(bytes), &tasks);
        (candidate, reports)
    });
    let Some((best, reports)) = proved.min_by_key(|(_, reports)| badness(reports)) else {
        return Err(Failure::input("the job has no strips"));
    };
    tell((asked, inputs), bytes, &best, &reports)
}

/// A bundle that there is, where each has a program of its own.
fn check_bundle(asked: &ProveArguments, lattice: &Lattice, router: &Router) -> Result<(), Failure> {
    let count = lattice.bundles.len();
    let Some(bundle) = asked.bundle else {
        return Ok(());
    };
    if router.controller.set_ups == SetUps::OneFile {
        return Err(Failure::input(
            "--bundle: the router's profile has all set-ups in one program; choose one of them by --part",
        ));
    }
    if bundle == 0 || bundle > count {
        return Err(Failure::input(format!(
            "--bundle: the job has bundles 1 to {count}"
        )));
    }
    Ok(())
}

/// The answer, and the picture: of the part asked for, else of the first that is wrong.
fn tell(
    (asked, inputs): (&ProveArguments, &Inputs),
    bytes: &[u8],
    best: &Candidate,
    reports: &[ProgramReport],
) -> Result<ProofAnswer, Failure> {
    let count = best.parts.len();
    let of_parts = |at: usize| (count > 1).then_some(at + 1);
    let found = |at: usize| {
        let ((setup, _), report) = best.parts.get(at).zip(reports.get(at))?;
        Some(Found {
            setup: *setup,
            part: of_parts(at),
            report,
        })
    };
    let Some(drawn) = (match asked.part {
        Some(part) => part.checked_sub(1),
        None => reports.iter().position(|report| !report.ok()).or(Some(0)),
    })
    .filter(|at| *at < reports.len()) else {
        return Err(Failure::input(format!(
            "--part: this program has parts 1 to {}",
            reports.len()
        )));
    };
    let only: Vec<Found<'_>> = found(drawn).into_iter().collect();
    let against = match of_parts(drawn) {
        Some(part) => format!("part {part} of {}", best.against),
        None => best.against.clone(),
    };
    let mut one = answer_of(asked, against, &only);
    one.work = best.work;
    if let (Some((_, task)), Some(report)) = (best.parts.get(drawn), reports.get(drawn)) {
        draw(
            (asked, inputs),
            bytes,
            &one,
            (task.workpiece(), report.lines),
        )?;
        if let (Some(picture), Some(part), None) = (&asked.picture, of_parts(drawn), asked.part) {
            let picture = picture.display();
            let text =
                format!("note: {picture} shows part {part} of {count}; --part N draws another\n");
            answers::tell(&text);
        }
    }
    if asked.part.is_some() {
        return Ok(one);
    }
    let all: Vec<Found<'_>> = (0..reports.len()).filter_map(found).collect();
    let mut answer = answer_of(asked, best.against.clone(), &all);
    answer.work = best.work;
    Ok(answer)
}
