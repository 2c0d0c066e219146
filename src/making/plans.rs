//! What a job's machines have to do, and the booklet that tells it.

use super::advice::advice;
use super::size::size_of;
use super::workshop::Workshop;
use crate::finding::Finding;
use crate::infill::Infilling;
use crate::instructions::booklet::Booklet;
use crate::instructions::drawing::Drawing;
use crate::instructions::laser::LaserPlan;
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::router::RouterPlan;
use crate::instructions::sheet::{SetupSheet, SheetPart};
use crate::instructions::sled::SledPlan;
use crate::instructions::stock_plan::StockPlan;
use crate::planning::frame_outlines;
use crate::reading::Job;
use crate::sheets::{BookletWork, booklet, milling_sheet, mind_in, shopping_sheet};

/// What a job's machines have to do, as far as it is known.
#[derive(Debug, Default)]
pub struct Plans {
    /// At the sled.
    pub sled: Option<SledPlan>,
    /// At the router.
    pub router: Option<RouterPlan>,
    /// Of all that is cut from sheet.
    pub laser: Vec<LaserPlan>,
    /// Of the pieces.
    pub pare: Option<ParePlan>,
    /// Of the frame.
    pub rails: Option<RailPlan>,
    /// The cells with their pieces.
    pub filled: Option<Infilling>,
    /// The panel from the front.
    pub panel: Option<Drawing>,
    /// The wood that it takes.
    pub stock: Option<StockPlan>,
    /// Warnings by the part of the sheet that they belong to.
    pub told: Vec<(SheetPart, Vec<Finding>)>,
}

impl Plans {
    /// The sheet for them, with the panel as it is drawn already, if it is.
    pub fn booklet(&self, job: &Job, workshop: &Workshop, panel: Option<Drawing>) -> Booklet {
        let lattice = job.panel.lattice();
        let sled = workshop.machine().map(|sled| sled.machine);
        let router = workshop.machine().map(|router| router.machine);
        let size = size_of(job);
        let frame = job.frame.as_ref();
        let frame = frame.and_then(|frame| frame_outlines(lattice, frame));
        let advice = advice(job, workshop);
        let wood = self.stock.iter().flat_map(|stock| {
            std::iter::once(shopping_sheet(stock)).chain(milling_sheet(stock, &job.stock))
        });
        let wood: Vec<SetupSheet> = wood.collect();
        let work = BookletWork {
            lattice,
            sled: self.sled.as_ref().zip(sled),
            router: self.router.as_ref().zip(router),
            laser: &self.laser,
            pare: self.pare.as_ref(),
            rails: self.rails.as_ref(),
            frame: frame.as_ref(),
            size: Some(&size),
            advice: advice.as_ref(),
            wood: &wood,
            filled: self.filled.as_ref(),
        };
        let mut made = booklet(&work, panel);
        for (part, findings) in &self.told {
            mind_in(&mut made, *part, findings);
        }
        if self.told.is_empty() {
            mind_in(&mut made, SheetPart::Assembly, &job.warnings);
        }
        made
    }
}
