//! The wood that a job takes, and how long its work takes.

use super::mitres::{PieceOrder, PiecePlans};
use super::not_made::NotMade;
use super::rails::planned_rails;
use super::sheet_parts::SheetParts;
use super::sled::planned_sled;
use super::warnings::Warnings;
use super::workshop::Workshop;
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::Infilling;
use crate::instructions::laser::Ware;
use crate::instructions::rails::RailPlan;
use crate::instructions::stock_plan::{NeedFrom, StockPlan};
use crate::instructions::work_time::WorkTime;
use crate::lattice::PieceWay;
use crate::machines::{Chosen, Guides, Laser, Router, Sled};
use crate::measuring::scraps_of;
use crate::planning::{
    PieceWork, StockOrder, StripWork, TestScraps, TimeOrder, plan_router, plan_sheets, sled_passes,
};
use crate::reading::Job;
use std::path::Path;

/// A job whose wood is asked for.
#[derive(Debug, Clone, Copy)]
pub struct StockQuestion<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its cells with their pieces, if it has any.
    pub filled: Option<&'a Infilling>,
    /// Its machines; none need be there.
    pub workshop: &'a Workshop,
}

impl StockQuestion<'_> {
    /// All that is made of wood, what to buy for it, how it is cut up and milled, how long it takes.
    ///
    /// # Errors
    /// What is wrong with the frame, and sticks or boards that the parts do not come off, at the job's fields.
    pub fn answered(&self) -> Result<(StockPlan, Warnings), NotMade> {
        let job = self.job;
        let mut told = Warnings::default();
        let pieces = match self.filled {
            Some(filled) => Some(self.pieces(filled, &mut told)?),
            None => None,
        };
        let rails = self.rails()?;
        let time = self.time(pieces.as_ref());
        let section = &job.panel.design().strip;
        let tests = self.tests();
        let order = StockOrder {
            lattice: job.panel.lattice(),
            pare: pieces.as_ref().map(|plans| &plans.pare),
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
            tests: &tests,
            crush: job.fit.crush,
            rings: job.climate.rings,
            time: &time,
        };
        let (plan, warnings) = order
            .plan()
            .map_err(|faults| NotMade::cannot(faults, Document::Job))?;
        told.add(Document::Job, all_in_document(warnings, Document::Job));
        Ok((plan, told))
    }

    /// As the job asks for; where its machines cannot, pared.
    fn pieces(&self, filled: &Infilling, told: &mut Warnings) -> Result<PiecePlans, NotMade> {
        let infill = self.job.panel.design().infill.as_ref();
        let order = PieceOrder {
            panel: &self.job.panel,
            filled,
            way: infill.map_or(PieceWay::Guides, |infill| infill.way),
            sled: self.workshop.machine(),
            router: self.workshop.machine(),
            programs: Path::new("pieces.nc"),
            guides: self.workshop.machine::<Guides>(),
        };
        match order.planned() {
            Ok(plans) => Ok(plans),
            Err(NotMade::Cannot(faults)) => {
                let lead = "pieces are reckoned as pared: ";
                let faults = faults.into_iter().map(|fault| fault.as_warning(lead));
                told.add(Document::Job, faults.collect::<Vec<Finding>>());
                let pared = PieceOrder {
                    way: PieceWay::Guides,
                    ..order
                };
                pared.planned()
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

    fn time(&self, pieces: Option<&PiecePlans>) -> WorkTime {
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
            pieces: pieces.map(|plans| PieceWork {
                pare: &plans.pare,
                routed_s: plans.pare.routed.as_ref().map(|routed| routed.time_s),
            }),
            rates: &self.job.rates,
        };
        order.plan()
    }

    fn at_sled(&self) -> Option<StripWork> {
        let sled: Chosen<'_, Sled> = self.workshop.machine()?;
        let (plan, _) = planned_sled(self.job.panel.lattice(), sled, self.job.sled).ok()?;
        Some(StripWork {
            way: "sled",
            machine: sled.name.to_owned(),
            set_ups: plan.settings.len(),
            cuts: sled_passes(&plan),
            machine_s: None,
        })
    }

    fn at_router(&self) -> Option<StripWork> {
        let Chosen { name, machine } = self.workshop.machine::<Router>()?;
        let lattice = self.job.panel.lattice();
        let (plan, _) = plan_router(lattice, name, machine, &|_, _| String::new()).ok()?;
        Some(StripWork {
            way: "router",
            machine: name.to_owned(),
            set_ups: plan.setups.iter().map(|setup| setup.runs).sum(),
            cuts: 0,
            machine_s: Some(plan.time_s),
        })
    }

    /// Its profile does not say how fast it cuts.
    fn at_laser(&self) -> Option<StripWork> {
        let Chosen { name, machine } = self.workshop.machine::<Laser>()?;
        let panel = &self.job.panel;
        let parts = SheetParts::of_strips(panel, panel.lattice(), machine);
        let batch = parts.batch(Ware::Strips, &[Ware::Strips]).ok()?;
        let title = &panel.design().title;
        let (plan, _) =
            plan_sheets(title, name, vec![batch], machine, &|_, _| String::new()).ok()?;
        Some(StripWork {
            way: "laser",
            machine: name.to_owned(),
            set_ups: plan.files.len(),
            cuts: 0,
            machine_s: None,
        })
    }
}
