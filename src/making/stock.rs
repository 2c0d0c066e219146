//! The wood that a job takes, and how long its work takes.

use super::made::{FileKind, JobOrder, Made, PlainSheet};
use super::mitres::PieceOrder;
use super::not_made::NotMade;
use super::plans::Plans;
use super::rails::planned_rails;
use super::sheet_parts::SheetParts;
use super::sled::planned_sled;
use super::warnings::Warnings;
use super::workshop::Workshop;
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::Infilling;
use crate::instructions::laser::{LaserPlan, Ware};
use crate::instructions::overview::{SticksGlance, StockGlance};
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::router::RouterPlan;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::SheetPart;
use crate::instructions::sled::SledPlan;
use crate::instructions::stock_plan::{NeedFrom, StockPlan, Supply};
use crate::instructions::wood_table::{Price, PricedBy, WoodTable};
use crate::instructions::work_time::WorkTime;
use crate::lattice::PieceWay;
use crate::machines::{Chosen, Guides, Laser, Router, Sled};
use crate::measuring::scraps_of;
use crate::planning::{
    OwnWood, PieceWork, StockOrder, StripWork, TestScraps, TimeOrder, plan_router, plan_sheets,
    sled_passes,
};
use crate::reading::Job;
use crate::sheets::{cut_list, stock_answer_sheet};
use crate::units::NotPrintable;
use crate::writing::{csv, json};
use std::borrow::Cow;
use std::path::Path;

/// Woods side by side: the job's own, those that it lists with figures of its own, and those that are named; all of the
/// table where neither names any.
pub fn woods_side_by_side(job: &Job, named: &[String]) -> WoodTable {
    if named.is_empty() && job.stock.woods.is_empty() {
        return WoodTable::of(&[]);
    }
    let mut woods: Vec<OwnWood> = Vec::new();
    let section = &job.panel.design().strip;
    if let Some(name) = &section.wood {
        woods.push(OwnWood {
            name: name.clone(),
            density: section.density,
            movement: job.climate.movement,
            ..OwnWood::default()
        });
    }
    for own in &job.stock.woods {
        let known = woods.iter().position(|wood| wood.name == own.name);
        let before = known.map_or_else(OwnWood::default, |at| woods.remove(at));
        woods.push(OwnWood {
            name: own.name.clone(),
            density: own.density.or(before.density),
            hardness: own.hardness,
            price: own.price.map(|amount| Price {
                amount,
                per: PricedBy::CubicMetre,
            }),
            ..before
        });
    }
    for name in named {
        if !woods.iter().any(|wood| wood.name == *name) {
            woods.push(OwnWood {
                name: name.clone(),
                ..OwnWood::default()
            });
        }
    }
    WoodTable::of(&woods)
}

/// A job whose wood is asked for.
#[derive(Debug, Clone, Copy)]
pub struct StockQuestion<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its cells with their pieces, if it has any.
    pub filled: Option<&'a Infilling>,
    /// Its machines; none need be there.
    pub workshop: &'a Workshop,
    /// What is planned for them already: it is not planned again.
    pub planned: Option<&'a Plans>,
}

impl Made {
    /// What to buy and how to cut it up; where no stick does for a part, that is told as lacking.
    pub(super) fn add_stock(&mut self, order: &JobOrder<'_>) -> Result<(), NotPrintable> {
        let question = StockQuestion {
            job: order.job,
            filled: self.plans.filled.as_ref(),
            workshop: order.workshop,
            planned: Some(&self.plans),
        };
        match question.answered() {
            Ok((plan, own)) => {
                let safety = SafetyNotes::for_milling();
                let answer = json::answer("lapwright/stock/1", &plan, own.all(), safety.notes())?;
                let plain = PlainSheet {
                    machine: String::new(),
                    sheet: stock_answer_sheet(&plan, &order.job.stock, order.units),
                    answer: Some(answer),
                };
                self.plain.push(plain);
                let list = csv::csv(&cut_list(&plan)?).into_bytes();
                self.keep_files([("stock.csv".to_owned(), list)], FileKind::List, "");
                self.warnings.append(own);
                self.plans.stock = Some(plan);
            }
            Err(cause) => self.lacks(SheetPart::Stock, "cut list of the wood", "", cause),
        }
        Ok(())
    }
}

impl StockQuestion<'_> {
    /// All that is made of wood, what to buy for it, how it is cut up and milled, how long it takes.
    ///
    /// # Errors
    /// What is wrong with the frame, and sticks or boards that the parts do not come off, at the job's fields.
    pub fn answered(&self) -> Result<(StockPlan, Warnings), NotMade> {
        let mut told = Warnings::default();
        let pieces = self.pieces(&mut told)?;
        let pieces = pieces.as_deref();
        let time = self.time(pieces);
        let plan = self.plan(pieces, &self.tests(), &time, &mut told)?;
        Ok((plan, told))
    }

    /// Metres and sticks alone; nothing where no stick does for a part, or none is needed.
    pub fn at_glance(&self) -> Option<StockGlance> {
        let mut told = Warnings::default();
        let pieces = self.pieces(&mut told).ok()?;
        let time = TimeOrder {
            strips: &[],
            strip_count: 0,
            pieces: None,
            rates: &self.job.rates,
        };
        let plan = self
            .plan(pieces.as_deref(), &[], &time.plan(), &mut told)
            .ok()?;
        let sticks = plan.sections.iter().map(|section| {
            let milled = match &section.supply {
                Supply::Boards(milled) => Some(milled),
                Supply::Sticks { .. } => None,
            };
            SticksGlance {
                used_for: section.used_for,
                count: section.sticks,
                boards: milled.map(|milled| milled.boards),
                boards_are_own: milled.map(|milled| milled.board.is_own),
            }
        });
        let sticks: Vec<SticksGlance> = sticks.collect();
        (!sticks.is_empty()).then_some(StockGlance {
            metres: plan.metres,
            sticks,
        })
    }

    fn plan(
        &self,
        pieces: Option<&ParePlan>,
        tests: &[TestScraps],
        time: &WorkTime,
        told: &mut Warnings,
    ) -> Result<StockPlan, NotMade> {
        let job = self.job;
        let rails = self.rails()?;
        let section = &job.panel.design().strip;
        let order = StockOrder {
            lattice: job.panel.lattice(),
            pare: pieces,
            piece_section: self
                .filled
                .map_or([section.thickness, section.depth], |filled| {
                    [filled.most_stock.thickness, filled.most_stock.depth]
                }),
            rails: rails.as_ref(),
            frame: job.frame.as_ref(),
            wishes: &job.stock,
            sled: self.workshop.machine(),
            strips_from: self.strips_from(),
            pieces_from: self.pieces_from(),
            guide_from: match self.workshop.machine::<Laser>() {
                Some(_) => NeedFrom::Sheet,
                None => NeedFrom::Scrap,
            },
            tests,
            crush: job.fit.crush,
            rings: job.climate.rings,
            time,
        };
        let planned = order.plan();
        let (plan, warnings) = planned.map_err(|faults| NotMade::cannot(faults, Document::Job))?;
        told.add(Document::Job, all_in_document(warnings, Document::Job));
        Ok(plan)
    }

    /// As the job asks for; where its machines cannot, pared.
    fn pieces(&self, told: &mut Warnings) -> Result<Option<Cow<'_, ParePlan>>, NotMade> {
        let Some(filled) = self.filled else {
            return Ok(None);
        };
        let infill = self.job.panel.design().infill.as_ref();
        let way = infill.map_or(PieceWay::Guides, |infill| infill.way);
        let known = self.planned.and_then(|plans| plans.pare.as_ref());
        if let Some(known) = known.filter(|plan| plan.way == way) {
            return Ok(Some(Cow::Borrowed(known)));
        }
        let order = PieceOrder {
            panel: &self.job.panel,
            filled,
            way,
            sled: self.workshop.machine(),
            router: self.workshop.machine(),
            programs: Path::new("pieces.nc"),
            guides: self.workshop.machine::<Guides>(),
        };
        match order.planned() {
            Ok(plans) => Ok(Some(Cow::Owned(plans.pare))),
            Err(NotMade::Cannot(faults)) => {
                let lead = "pieces are reckoned as pared: ";
                let faults = faults.into_iter().map(|fault| fault.as_warning(lead));
                told.add(Document::Job, faults.collect::<Vec<Finding>>());
                let pared = PieceOrder {
                    way: PieceWay::Guides,
                    ..order
                };
                Ok(Some(Cow::Owned(pared.planned()?.pare)))
            }
            Err(other) => Err(other),
        }
    }

    fn rails(&self) -> Result<Option<RailPlan>, NotMade> {
        let lattice = self.job.panel.lattice();
        let rails = self.job.frame.as_ref();
        let rails = rails.map(|frame| planned_rails(lattice, frame, None));
        Ok(rails.transpose()?.map(|(plan, _)| plan))
    }

    /// From sheet where nothing else notches strips.
    fn strips_from(&self) -> NeedFrom {
        let notches = self.workshop.machine::<Sled>().is_some()
            || self.workshop.machine::<Router>().is_some();
        match self.workshop.machine::<Laser>() {
            Some(_) if !notches => NeedFrom::Sheet,
            _ => NeedFrom::Stick,
        }
    }

    /// From sheet where nobody pares or saws them and the laser cuts so deep.
    fn pieces_from(&self) -> NeedFrom {
        let deep = self.filled.map_or(0.0, |filled| filled.most_stock.depth);
        let infill = self.job.panel.design().infill.as_ref();
        let machined = infill.is_some_and(|infill| infill.way != PieceWay::Guides);
        let pared = self.workshop.machine::<Guides>().is_some();
        match self.workshop.machine::<Laser>() {
            Some(laser) if !machined && !pared && deep <= laser.machine.thickest => NeedFrom::Sheet,
            _ => NeedFrom::Stick,
        }
    }

    /// None where strips are cut from sheet, or are cut already.
    fn tests(&self) -> Vec<TestScraps> {
        if self.strips_from() != NeedFrom::Stick || self.job.panel.lattice().strips_are_cut {
            return Vec::new();
        }
        let mut all: Vec<TestScraps> = Vec::new();
        for profile in self.workshop.profiles() {
            for scraps in scraps_of(&profile.machine) {
                let what = format!("test pieces for {}", profile.name);
                let same = |known: &&mut TestScraps| {
                    known.what == what && (known.length - scraps.length).abs() < 1e-9
                };
                match all.iter_mut().find(same) {
                    Some(known) => known.count += scraps.count,
                    None => all.push(TestScraps {
                        what,
                        count: scraps.count,
                        length: scraps.length,
                    }),
                }
            }
        }
        all
    }

    fn time(&self, pieces: Option<&ParePlan>) -> WorkTime {
        let lattice = self.job.panel.lattice();
        let strips = if lattice.strips_are_cut {
            Vec::new()
        } else {
            [self.at_sled(), self.at_laser(), self.at_router()]
                .into_iter()
                .flatten()
                .collect()
        };
        let order = TimeOrder {
            strips: &strips,
            strip_count: lattice.strips.len(),
            pieces: pieces.map(|pare| PieceWork {
                pare,
                routed_s: pare.routed.as_ref().map(|routed| routed.time_s),
            }),
            rates: &self.job.rates,
        };
        order.plan()
    }

    fn at_sled(&self) -> Option<StripWork> {
        let sled: Chosen<'_, Sled> = self.workshop.machine()?;
        let work = |plan: &SledPlan| StripWork {
            set_ups: plan.settings.len(),
            cuts: sled_passes(plan),
            cannot: false,
            ..cannot("sled", sled.name)
        };
        if let Some(known) = self.planned.and_then(|plans| plans.sled.as_ref()) {
            return Some(work(known));
        }
        let planned = planned_sled(self.job.panel.lattice(), sled, self.job.sled);
        let own = planned.map(|(plan, _)| work(&plan));
        Some(own.unwrap_or_else(|_| cannot("sled", sled.name)))
    }

    fn at_router(&self) -> Option<StripWork> {
        let Chosen { name, machine } = self.workshop.machine::<Router>()?;
        let work = |plan: &RouterPlan| StripWork {
            set_ups: plan.setups.iter().map(|setup| setup.runs).sum(),
            machine_s: Some(plan.time_s),
            cannot: false,
            ..cannot("router", name)
        };
        if let Some(known) = self.planned.and_then(|plans| plans.router.as_ref()) {
            return Some(work(known));
        }
        let lattice = self.job.panel.lattice();
        let planned = plan_router(lattice, name, machine, &|_, _| String::new());
        let own = planned.map(|(plan, _)| work(&plan));
        Some(own.unwrap_or_else(|_| cannot("router", name)))
    }

    /// Its profile does not say how fast it cuts.
    fn at_laser(&self) -> Option<StripWork> {
        let Chosen { name, machine } = self.workshop.machine::<Laser>()?;
        let work = |plan: &LaserPlan| StripWork {
            set_ups: plan.files.len(),
            cannot: false,
            ..cannot("laser", name)
        };
        let mut known = self.planned.iter().flat_map(|plans| &plans.laser);
        if let Some(known) = known.find(|plan| plan.wares == [Ware::Strips]) {
            return Some(work(known));
        }
        let panel = &self.job.panel;
        let parts = SheetParts::of_strips(panel, panel.lattice(), machine);
        let title = &panel.design().title;
        let planned = (parts.batch(Ware::Strips, &[Ware::Strips])).and_then(|batch| {
            plan_sheets(title, name, vec![batch], machine, &|_, _| String::new())
        });
        let own = planned.map(|(plan, _)| work(&plan));
        Some(own.unwrap_or_else(|_| cannot("laser", name)))
    }
}

fn cannot(way: &'static str, machine: &str) -> StripWork {
    StripWork {
        way,
        machine: machine.to_owned(),
        set_ups: 0,
        cuts: 0,
        machine_s: None,
        cannot: true,
    }
}
