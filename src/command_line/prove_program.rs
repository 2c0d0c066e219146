//! `lapwright prove` of a program against a job: which of its set-ups it is for.

use super::answers::{self, Failure};
use super::arguments::ProveArguments;
use super::programs::task;
use super::prove::{Found, answer_of, draw};
use super::prove_rails::{RailSought, program_of};
use super::prove_remarks::{Remarks, disagreeing};
use crate::dialects::SetUps;
use crate::inputs::Inputs;
use crate::instructions::proof::{FaultFound, ProofAnswer};
use crate::instructions::rails::RailProgram;
use crate::instructions::router::{RouterPlan, RouterSetup};
use crate::instructions::tool_path::{Part, Work};
use crate::lattice::{Bundle, Frame, Lattice, Rail};
use crate::machines::Router;
use crate::planning::{plan_mortises, plan_router, rail_names};
use crate::units::Rad;
use crate::verification::{
    HeldBundle, MortisingTask, NotchingTask, PartTask, ProgramReport, prove_parts,
};
use std::io::Cursor;
use std::iter::repeat_n;

/// What a program may be for.
struct Candidate {
    work: Work,
    /// What is told of it.
    against: String,
    /// Part by part, for each of the bundles that share it: number of the bundle or rail, from 1,
    /// and what is to be done.
    parts: Vec<Vec<(usize, PartTask)>>,
    /// Name of the rail, where it is for one.
    rail: Option<String>,
    /// What its program says of itself; nothing where none can be planned.
    remarks: Remarks,
}

impl Candidate {
    /// Whether `--bundle` or `--rail` asks for it, or neither is given.
    fn is_asked(&self, asked: &ProveArguments) -> bool {
        let is_bundle = |number: usize| {
            let is_shared =
                |part: &Vec<(usize, PartTask)>| part.iter().any(|(of, _)| *of == number);
            self.work == Work::Notches && self.parts.iter().all(is_shared)
        };
        asked.bundle.is_none_or(is_bundle)
            && asked
                .rail
                .as_ref()
                .is_none_or(|name| self.rail.as_ref() == Some(name))
    }

    /// Every part proved against all that share it; fewer parts where the program ends too early.
    fn proved(&self, bytes: &[u8]) -> Vec<Vec<ProgramReport>> {
        let rounds = self.parts.iter().map(Vec::len).max().unwrap_or(0);
        let mut reports = vec![Vec::new(); self.parts.len()];
        for round in 0..rounds {
            let tasks = (self.parts.iter())
                .filter_map(|shared| Some(shared.get(round).or(shared.last())?.1.clone()));
            let tasks: Vec<PartTask> = tasks.collect();
            let proved = prove_parts(Cursor::new(bytes), &tasks);
            for ((own, shared), report) in reports.iter_mut().zip(&self.parts).zip(proved) {
                if round < shared.len() {
                    own.push(report);
                }
            }
        }
        reports.retain(|own| !own.is_empty());
        reports
    }
}

/// A job's strips and frame on a router.
struct Sought<'a> {
    lattice: &'a Lattice,
    frame: Option<&'a Frame>,
    machine: &'a str,
    router: &'a Router,
}

impl Sought<'_> {
    fn candidates(&self) -> Vec<Candidate> {
        let mut all = self.of_bundles();
        all.extend(self.of_rails());
        all
    }

    /// What would be written for these parts; nothing where it cannot be.
    fn remarks<'p>(&self, parts: impl IntoIterator<Item = Part<'p>>) -> Remarks {
        Remarks::of(parts, &self.router.controller).unwrap_or_default()
    }

    /// The set-ups of the bundles. Where they cannot be planned, every bundle as a whole.
    fn of_bundles(&self) -> Vec<Candidate> {
        let planned = plan_router(self.lattice, self.machine, self.router, &|at, _| {
            format!("{at}")
        });
        match planned {
            Err(_) => {
                let bundles = (1..).zip(&self.lattice.bundles);
                bundles
                    .map(|(number, bundle)| self.whole(number, bundle))
                    .collect()
            }
            Ok((plan, _)) if self.router.controller.set_ups == SetUps::OneFile => {
                Vec::from_iter(self.all_set_ups(&plan))
            }
            Ok((plan, _)) => {
                let setups = plan.setups.iter();
                setups
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
        let task = NotchingTask::of(self.lattice, bundle, self.router, &HeldBundle::all(bundle));
        Candidate {
            work: Work::Notches,
            against: self.bundle_words(number, bundle),
            parts: vec![vec![(number, PartTask::Notches(task))]],
            rail: None,
            remarks: Remarks::default(),
        }
    }

    /// What a set-up does to each of its bundles.
    fn tasks(&self, setup: &RouterSetup) -> Option<Vec<(usize, PartTask)>> {
        let lying = setup.lying.iter();
        let task = |one| {
            Some(PartTask::Notches(task(
                (setup, one),
                self.lattice,
                self.router,
            )?))
        };
        lying.map(|one| Some((one.bundle, task(one)?))).collect()
    }

    fn set_up(&self, setup: &RouterSetup, all: &[RouterSetup]) -> Option<Candidate> {
        let words = setup.lying.iter().map(|one| {
            let bundle = self.lattice.bundles.get(one.bundle.checked_sub(1)?)?;
            Some(self.bundle_words(one.bundle, bundle))
        });
        let words: Vec<String> = words.collect::<Option<_>>()?;
        Some(Candidate {
            work: Work::Notches,
            against: words.join(", and ") + &about(setup, all),
            parts: vec![self.tasks(setup)?],
            rail: None,
            remarks: self.remarks(setup.parts(1, 1)),
        })
    }

    /// Every run of every set-up, one after the other.
    fn all_set_ups(&self, plan: &RouterPlan) -> Option<Candidate> {
        let mut parts = Vec::new();
        for setup in &plan.setups {
            parts.extend(repeat_n(self.tasks(setup)?, setup.part_count()));
        }
        Some(Candidate {
            work: Work::Notches,
            against: format!(
                "all {} set-ups of the job, {} runs",
                plan.setups.len(),
                parts.len()
            ),
            parts,
            rail: None,
            remarks: self.remarks(
                (1..)
                    .zip(&plan.setups)
                    .flat_map(|(number, setup)| setup.parts(number, plan.setups.len())),
            ),
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
        let task = |rail: &Rail| MortisingTask::of(self.lattice, frame, rail, self.router);
        let names = rail_names(&made.rails);
        let rails = (1..).zip(made.rails.iter().zip(names));
        let rails: Vec<RailSought> = rails
            .filter(|(_, (rail, _))| !rail.mortises.is_empty())
            .map(|(number, (rail, name))| RailSought {
                number,
                name,
                length: rail.length(),
                task: task(rail),
            })
            .collect();
        let planned = plan_mortises(self.lattice, frame, (self.machine, self.router), &|_, _| {
            String::new()
        });
        let programs = planned.map_or_else(|_| Vec::new(), |(planned, _)| planned.programs);
        let part = |rail: &RailSought| vec![(rail.number, PartTask::Mortises(rail.task.clone()))];
        if self.router.controller.set_ups == SetUps::Files {
            let one = |rail: &RailSought| Candidate {
                work: Work::Mortises,
                against: rail.words(&rails),
                parts: vec![part(rail)],
                rail: Some(rail.name.clone()),
                remarks: self
                    .remarks(program_of(&programs, &rail.name).flat_map(RailProgram::parts)),
            };
            return rails.iter().map(one).collect();
        }
        if programs.is_empty() {
            return Vec::new();
        }
        let lying = programs.iter().flat_map(|program| &program.rails);
        let found = lying.filter_map(|lying| rails.iter().find(|rail| rail.name == lying.name));
        vec![Candidate {
            work: Work::Mortises,
            against: format!("all {} rails of the job with mortises", rails.len()),
            parts: found.map(part).collect(),
            rail: None,
            remarks: self.remarks(programs.iter().flat_map(RailProgram::parts)),
        }]
    }
}

/// Tells set-ups of one bundle apart; nothing where there is only one.
fn about(setup: &RouterSetup, all: &[RouterSetup]) -> String {
    let of_bundle = all.iter().filter(|other| other.bundle == setup.bundle);
    if of_bundle.count() == 1 {
        return String::new();
    }
    let mut text = format!(", {} at {}", setup.faces(), Rad(setup.angle).text());
    if setup.parts > 1 {
        text.push_str(&format!(", part {} of {}", setup.part, setup.parts));
    }
    text
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

/// The set-up of the job whose notches or mortises the program cuts best, of all or of those asked
/// for; all set-ups where the profile has one program for them.
pub(super) fn program(
    (asked, inputs): (&ProveArguments, &Inputs),
    bytes: &[u8],
    (lattice, frame): (&Lattice, Option<&Frame>),
    (machine, router): (&str, &Router),
) -> Result<ProofAnswer, Failure> {
    check_bundle(asked, lattice, router)?;
    let sought = Sought {
        lattice,
        frame,
        machine,
        router,
    };
    let all = sought.candidates();
    let Some((best, reports)) = best(bytes, all.iter().filter(|one| one.is_asked(asked))) else {
        return Err(nothing_asked(asked, &all));
    };
    let mut answer = tell((asked, inputs), bytes, best, &reports)?;
    let others = all.iter().map(|other| &other.remarks);
    // What is said of a part is said once, whoever shares it.
    let first: Vec<&ProgramReport> = reports.iter().filter_map(|shared| shared.first()).collect();
    answer.remarks = disagreeing(bytes, &best.remarks, others, &first);
    if asked.part.is_some()
        && let Some(report) = first.get(drawn(asked, &reports))
    {
        let [first, last] = report.lines;
        answer
            .remarks
            .retain(|said| (first..=last).contains(&said.line));
    }
    if !answer.ok && (asked.bundle.is_some() || asked.rail.is_some()) {
        answer.faults.splice(0..0, other_work(bytes, &all));
    }
    Ok(answer)
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
    })
}

fn nothing_asked(asked: &ProveArguments, all: &[Candidate]) -> Failure {
    let Some(name) = &asked.rail else {
        return Failure::input("the job has no strips");
    };
    let names: Vec<&str> = all.iter().filter_map(|one| one.rail.as_deref()).collect();
    Failure::input(if names.is_empty() {
        "--rail: the job has no frame, or its rails have no mortises".to_owned()
    } else {
        format!("--rail `{name}`: the job has the {}", names.join(", the "))
    })
}

/// A bundle that there is, where each has a program of its own.
fn check_bundle(asked: &ProveArguments, lattice: &Lattice, router: &Router) -> Result<(), Failure> {
    let count = lattice.bundles.len();
    let flag = if asked.rail.is_some() {
        "--rail"
    } else {
        "--bundle"
    };
    if (asked.bundle.is_some() || asked.rail.is_some())
        && router.controller.set_ups == SetUps::OneFile
    {
        return Err(Failure::input(format!(
            "{flag}: the router's profile has all set-ups in one program; choose one of them by --part"
        )));
    }
    let Some(bundle) = asked.bundle else {
        return Ok(());
    };
    if bundle == 0 || bundle > count {
        return Err(Failure::input(format!(
            "--bundle: the job has bundles 1 to {count}"
        )));
    }
    Ok(())
}

/// The part that is drawn, from 0: the one asked for, else the first that is wrong, else the first.
fn drawn(asked: &ProveArguments, reports: &[Vec<ProgramReport>]) -> usize {
    match asked.part {
        Some(part) => part.wrapping_sub(1),
        None => {
            let wrong = (reports.iter()).position(|shared| !shared.iter().all(ProgramReport::ok));
            wrong.unwrap_or(0)
        }
    }
}

/// The answer, and the picture: of the part asked for, else of the first that is wrong.
fn tell(
    (asked, inputs): (&ProveArguments, &Inputs),
    bytes: &[u8],
    best: &Candidate,
    reports: &[Vec<ProgramReport>],
) -> Result<ProofAnswer, Failure> {
    let count = best.parts.len();
    let of_parts = |at: usize| (count > 1).then_some(at + 1);
    let found = |at: usize| {
        let shared = best.parts.get(at).zip(reports.get(at));
        let shared = shared
            .into_iter()
            .flat_map(|(tasks, reports)| tasks.iter().zip(reports));
        (0..)
            .zip(shared)
            .map(move |(nth, ((setup, _), report))| Found {
                setup: *setup,
                part: of_parts(at),
                again: nth > 0,
                report,
            })
    };
    let drawn = drawn(asked, reports);
    if drawn >= reports.len() {
        return Err(Failure::input(format!(
            "--part: this program has parts 1 to {}",
            reports.len()
        )));
    }
    let only: Vec<Found<'_>> = found(drawn).collect();
    let against = match of_parts(drawn) {
        Some(part) => format!("part {part} of {}", best.against),
        None => best.against.clone(),
    };
    let mut one = answer_of(asked, against, &only);
    one.work = best.work;
    let shared = best.parts.get(drawn).zip(only.first());
    if let Some(((_, task), Found { report, .. })) =
        shared.and_then(|(tasks, found)| Some((tasks.first()?, found)))
    {
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
    let all: Vec<Found<'_>> = (0..reports.len()).flat_map(found).collect();
    let mut answer = answer_of(asked, best.against.clone(), &all);
    answer.work = best.work;
    Ok(answer)
}
