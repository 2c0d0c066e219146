//! What a program may be for: the set-ups of a job's strips and of its rails.

use super::pieces::JobPieces;
use super::rails::{RailSought, program_of};
use super::remarks::Remarks;
use crate::dialects::SetUps;
use crate::instructions::rails::RailProgram;
use crate::instructions::routed_rows::RoutedRow;
use crate::instructions::router::{RouterPlan, RouterSetup};
use crate::instructions::tool_path::{ProgramPart, ProgramWork};
use crate::lattice::{Bundle, Frame, Lattice, Rail};
use crate::machines::Router;
use crate::making::{row_task, task};
use crate::planning::{plan_mortises, plan_router, rail_names};
use crate::units::Rad;
use crate::verification::{
    HeldBundle, MortisingTask, NotchingTask, PartTask, ProgramReport, prove_parts,
};
use std::io::Cursor;
use std::iter::repeat_n;

/// What a program may be for.
pub(super) struct Candidate {
    pub(super) work: ProgramWork,
    /// What is told of it.
    pub(super) against: String,
    /// Part by part, for each of the bundles that share it: number of the bundle or rail, from 1,
    /// and what is to be done.
    pub(super) parts: Vec<Vec<(usize, PartTask)>>,
    /// Name of the rail, where it is for one.
    pub(super) rail: Option<String>,
    /// What its program says of itself; nothing where none can be planned.
    pub(super) remarks: Remarks,
}

impl Candidate {
    /// Every part proved against all that share it; fewer parts where the program ends too early.
    pub(super) fn proved(&self, bytes: &[u8]) -> Vec<Vec<ProgramReport>> {
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
pub(super) struct JobPrograms<'a> {
    pub(super) lattice: &'a Lattice,
    pub(super) frame: Option<&'a Frame>,
    pub(super) pieces: Option<JobPieces<'a>>,
    pub(super) machine: &'a str,
    pub(super) router: &'a Router,
}

impl JobPrograms<'_> {
    pub(super) fn candidates(&self) -> Vec<Candidate> {
        let mut all = self.of_bundles();
        all.extend(self.of_rails());
        all.extend(self.of_pieces());
        all
    }

    /// What would be written for these parts; nothing where it cannot be.
    fn remarks<'p>(&self, parts: impl IntoIterator<Item = ProgramPart<'p>>) -> Remarks {
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
            work: ProgramWork::Notches,
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
                setup,
                one,
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
            work: ProgramWork::Notches,
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
            work: ProgramWork::Notches,
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
        let planned = plan_mortises(self.lattice, frame, self.machine, self.router, &|_, _| {
            String::new()
        });
        let programs = planned.map_or_else(|_| Vec::new(), |(planned, _)| planned.programs);
        let part = |rail: &RailSought| vec![(rail.number, PartTask::Mortises(rail.task.clone()))];
        if self.router.controller.set_ups == SetUps::Files {
            let one = |rail: &RailSought| Candidate {
                work: ProgramWork::Mortises,
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
            work: ProgramWork::Mortises,
            against: format!("all {} rails of the job with mortises", rails.len()),
            parts: found.map(part).collect(),
            rail: None,
            remarks: self.remarks(programs.iter().flat_map(RailProgram::parts)),
        }]
    }
}

impl JobPrograms<'_> {
    /// The kinds of pieces that the router cuts in rows.
    fn of_pieces(&self) -> Vec<Candidate> {
        let Some(pieces) = self.pieces else {
            return Vec::new();
        };
        let rows = pieces.rows(self.machine, self.router);
        let one = |row: &RoutedRow| {
            let task = row_task(row, pieces.filled, self.router)?;
            let part = vec![(row.number, PartTask::Mitres(task))];
            Some(Candidate {
                work: ProgramWork::Mitres,
                against: format!(
                    "piece {} of the job, {}: {} on each of {} sticks",
                    row.number, row.piece, row.pieces_a_stick, row.sticks_a_run
                ),
                parts: vec![part; row.part_count()],
                rail: None,
                remarks: self.remarks(row.parts()),
            })
        };
        let each = rows.iter().filter_map(one);
        if self.router.controller.set_ups == SetUps::Files {
            return each.collect();
        }
        let parts: Vec<_> = each.flat_map(|row| row.parts).collect();
        if parts.is_empty() {
            return Vec::new();
        }
        vec![Candidate {
            work: ProgramWork::Mitres,
            against: format!(
                "all {} kinds of pieces in rows of the job, {} runs",
                rows.len(),
                parts.len()
            ),
            parts,
            rail: None,
            remarks: self.remarks(rows.iter().flat_map(RoutedRow::parts)),
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
