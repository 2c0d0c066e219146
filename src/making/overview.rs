//! A job at a glance: the panel, and what each of its machines would do, without making anything.

use super::advice::advice;
use super::mitres::{PieceOrder, PiecePlans};
use super::not_made::NotMade;
use super::rails::{planned_rails, saw_mitres};
use super::sheet_parts::SheetParts;
use super::sled::planned_sled;
use super::stock::StockQuestion;
use super::workshop::Workshop;
use crate::finding::{Document, Finding};
use crate::geometry::SAME_POSITION_MM;
use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::instructions::overview::{Overview, StationOverview, Work};
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::instructions::rails::RailProgram;
use crate::instructions::sled::SledPlan;
use crate::lattice::PieceWay;
use crate::machines::{Chosen, Guides, Laser, Router, Sled, Station};
use crate::planning::measured_figures::measured_figures;
use crate::planning::{
    OverviewOrder, SizedPanel, overview, plan_mortises, plan_pieces, plan_router, plan_sheets,
};
use crate::reading::Job;
use std::path::Path;

/// A job, and what is known of how it is made.
#[derive(Debug, Clone, Copy)]
pub struct GlanceOrder<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its cells with their pieces, if it has any.
    pub filled: Option<&'a Infilling>,
    /// Its machines; none need be there.
    pub workshop: &'a Workshop,
}

impl GlanceOrder<'_> {
    /// The panel, and a line for each machine: what it would do, or why it cannot. Nothing is written
    /// or proved.
    ///
    /// # Errors
    /// What is wrong with the frame, at the job's fields.
    pub fn overview(&self) -> Result<Overview, NotMade> {
        let job = self.job;
        let list = self.filled.map(|filled| {
            let infill = job.panel.design().infill.as_ref();
            let allowance = infill.map_or(0.0, |infill| infill.allowance);
            plan_pieces(&job.panel, filled, allowance, None).0
        });
        let order = OverviewOrder {
            sized: SizedPanel {
                panel: &job.panel,
                frame: job.frame.as_ref(),
                fitted: job.fitted.as_ref(),
            },
            filled: self.filled,
            pare: list.as_ref(),
        };
        let at_glance =
            overview(&order).map_err(|faults| NotMade::cannot(faults, Document::Job))?;
        let wood = StockQuestion {
            job,
            filled: self.filled,
            workshop: self.workshop,
            planned: None,
        };
        Ok(Overview {
            machines: self.stations(),
            advice: advice(self.job, self.workshop),
            stock: wood.at_glance(),
            ..at_glance
        })
    }

    fn stations(&self) -> Vec<StationOverview> {
        let mitres = self.filled.map(|filled| self.mitres(filled));
        let profiles = self.workshop.profiles();
        let stations = profiles.map(|profile| {
            let mut found = Found::default();
            if !self.job.panel.lattice().strips_are_cut {
                found.add(match profile.station() {
                    Station::Sled => self.sled(),
                    Station::Laser => self.sheets(),
                    Station::Router => self.router(),
                    Station::Guides => None,
                });
            }
            match profile.station() {
                Station::Sled => self.member_mitres(&mut found),
                Station::Router => self.mortises(&mut found),
                Station::Laser | Station::Guides => {}
            }
            if let Some(mitres) = &mitres {
                mitres.tell(profile.station(), &mut found);
            }
            StationOverview {
                station: profile.station().name(),
                machine: profile.name.clone(),
                measured_figures: measured_figures(profile.machine.measured()),
                does: found.does,
                cannot: found.cannot,
            }
        });
        stations.collect()
    }

    fn sled(&self) -> Option<Result<Work, Vec<Finding>>> {
        let sled: Chosen<'_, Sled> = self.workshop.machine()?;
        let planned = planned_sled(self.job.panel.lattice(), sled, self.job.sled);
        Some(match planned {
            Ok((plan, _)) => Ok(sawn(&plan)),
            Err(cause) => Err(findings(cause)),
        })
    }

    fn sheets(&self) -> Option<Result<Work, Vec<Finding>>> {
        let Chosen { name, machine } = self.workshop.machine::<Laser>()?;
        let panel = &self.job.panel;
        let parts = SheetParts::of_strips(panel, panel.lattice(), machine);
        let title = &panel.design().title;
        let planned = parts
            .batch(Ware::Strips, &[Ware::Strips])
            .and_then(|batch| {
                plan_sheets(title, name, vec![batch], machine, &|_, _| String::new())
            });
        Some(planned.map(|(plan, _)| Work::SheetStrips {
            sheets: plan.files.len(),
            sheet_mm: plan.sheet_mm,
        }))
    }

    fn router(&self) -> Option<Result<Work, Vec<Finding>>> {
        let Chosen { name, machine } = self.workshop.machine::<Router>()?;
        let lattice = self.job.panel.lattice();
        let planned = plan_router(lattice, name, machine, &|_, _| String::new());
        Some(planned.map(|(plan, _)| Work::RoutedNotches {
            set_ups: plan.setups.len(),
            runs: plan.setups.iter().map(|setup| setup.runs).sum(),
            time_s: plan.time_s,
        }))
    }

    /// What a sled has of the frame's mitres.
    fn member_mitres(&self, found: &mut Found) {
        let lattice = self.job.panel.lattice();
        let frame = self.job.frame.as_ref();
        let planned = frame.and_then(|frame| planned_rails(lattice, frame, None).ok());
        let sled = self.workshop.machine::<Sled>();
        let Some(((mut plan, _), sled)) = planned.zip(sled) else {
            return;
        };
        found.cannot.extend(saw_mitres(&mut plan, sled).unsawn);
        let sawn = plan.mitres.and_then(|mitres| mitres.sled);
        found.does.extend(sawn.map(|sawn| {
            let cuts = sawn.settings.iter().flat_map(|setting| &setting.cuts);
            Work::SawnMembers {
                mitres: cuts.map(|cut| cut.members.len()).sum(),
                settings: sawn.settings.len(),
            }
        }));
    }

    /// What a router has of the mortises for the strips' ends.
    fn mortises(&self, found: &mut Found) {
        let lattice = self.job.panel.lattice();
        let router = self.workshop.machine::<Router>();
        let Some((frame, Chosen { name, machine })) = self.job.frame.as_ref().zip(router) else {
            return;
        };
        match plan_mortises(lattice, frame, name, machine, &|_, _| String::new()) {
            Ok((planned, _)) => {
                found.cannot.extend(planned.unreached);
                let programs = || planned.programs.iter();
                let members: usize = programs().map(|program| program.rails.len()).sum();
                if members > 0 {
                    let times = |count: fn(&RailProgram) -> f64| -> f64 {
                        programs()
                            .map(|program| count(program) * program.rails.len() as f64)
                            .sum()
                    };
                    found.does.push(Work::RoutedMortises {
                        mortises: programs()
                            .map(|program| program.mortises.len() * program.rails.len())
                            .sum(),
                        members,
                        time_s: times(|program| program.time_s),
                    });
                }
            }
            Err(faults) => found.cannot.extend(faults),
        }
    }

    /// How the pieces get their mitres: as the job asks, else pared.
    fn mitres(&self, filled: &Infilling) -> Mitres {
        let infill = self.job.panel.design().infill.as_ref();
        let asked = infill.map_or(PieceWay::Guides, |infill| infill.way);
        let order = PieceOrder {
            panel: &self.job.panel,
            filled,
            way: asked,
            sled: self.workshop.machine(),
            router: self.workshop.machine(),
            programs: Path::new("pieces.nc"),
            guides: self.workshop.machine::<Guides>(),
        };
        match order.planned() {
            Ok(plans) => Mitres {
                asked,
                plan: Some(plans.pare.clone()),
                faults: plans.unrouted.clone(),
                programs: programs(&plans),
            },
            Err(cause) => {
                let pared = PieceOrder {
                    way: PieceWay::Guides,
                    ..order
                };
                Mitres {
                    asked,
                    plan: pared.planned().ok().map(|plans| plans.pare),
                    faults: findings(cause),
                    programs: 0,
                }
            }
        }
    }
}

/// What a machine does and what it cannot.
#[derive(Default)]
struct Found {
    does: Vec<Work>,
    cannot: Vec<Finding>,
}

impl Found {
    fn add(&mut self, work: Option<Result<Work, Vec<Finding>>>) {
        match work {
            Some(Ok(work)) => self.does.push(work),
            Some(Err(faults)) => self.cannot.extend(faults),
            None => {}
        }
    }
}

/// How pieces get their mitres.
struct Mitres {
    asked: PieceWay,
    plan: Option<ParePlan>,
    faults: Vec<Finding>,
    programs: usize,
}

impl Mitres {
    /// What a machine at a station has of them.
    fn tell(&self, station: Station, found: &mut Found) {
        let is_asked = match station {
            Station::Sled => matches!(self.asked, PieceWay::Rows | PieceWay::StickEnds),
            Station::Router => self.asked == PieceWay::RoutedRows,
            Station::Laser | Station::Guides => false,
        };
        if is_asked {
            found.cannot.extend(self.faults.iter().cloned());
        }
        let Some(plan) = &self.plan else {
            return;
        };
        match (station, &plan.mitres, &plan.routed) {
            (Station::Sled, Some(sawn), _) => found.does.push(Work::SawnMitres {
                facets: by_machine(plan),
                settings: sawn.settings.len(),
            }),
            (Station::Router, _, Some(_)) => found.does.push(Work::RoutedMitres {
                facets: by_machine(plan),
                programs: self.programs,
            }),
            (Station::Guides, ..) => found.does.push(Work::Paring {
                facets: pared(plan),
                blocks: plan.blocks.iter().map(|block| block.jig_angle).collect(),
            }),
            _ => {}
        }
    }
}

fn sawn(plan: &SledPlan) -> Work {
    let own = plan
        .bundles
        .iter()
        .filter(|bundle| bundle.same_as_bundle.is_none());
    Work::SawnNotches {
        settings: plan.settings.len(),
        notches: own.map(|bundle| bundle.notches.len()).sum(),
        bundles: plan.bundles.len(),
        // A sled without a rack lacks none.
        slots_to_add: plan.key.as_ref().map_or(0, |_| slots_to_add(plan)),
    }
}

/// Each distance once.
fn slots_to_add(plan: &SledPlan) -> usize {
    let mut all: Vec<f64> = plan
        .bundles
        .iter()
        .flat_map(|bundle| bundle.slots_to_add_mm.iter().copied())
        .collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < SAME_POSITION_MM);
    all.len()
}

fn programs(plans: &PiecePlans) -> usize {
    plans.programs.len()
}

fn facets(piece: &PieceFigures) -> usize {
    piece.ends.iter().map(|end| end.facets.len()).sum()
}

fn all_facets(plan: &ParePlan) -> usize {
    let pieces = plan.pieces.iter();
    pieces.map(|piece| piece.made * facets(piece)).sum()
}

fn by_machine(plan: &ParePlan) -> usize {
    all_facets(plan) - pared(plan)
}

/// Facets that stay for the guides.
fn pared(plan: &ParePlan) -> usize {
    let pieces = plan.pieces.iter();
    pieces.map(|piece| piece.made * piece.pared().count()).sum()
}

/// Why something is not made.
fn findings(cause: NotMade) -> Vec<Finding> {
    match cause {
        NotMade::Cannot(faults) => faults,
        NotMade::Disproved(disproved) => vec![Finding::error(
            "disproved",
            "",
            disproved.to_string().trim_end().replace('\n', ";"),
        )],
        NotMade::Unwritable(text) => vec![Finding::error("unwritable", "", text)],
        NotMade::Nothing(all) => all
            .into_iter()
            .flat_map(|lacking| findings(lacking.cause))
            .collect(),
    }
}
