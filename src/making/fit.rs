//! A job's panel as its machines would make it, before anything is cut.

use super::not_made::NotMade;
use super::workshop::Workshop;
use crate::finding::Document;
use crate::infill::{Infilling, Pattern};
use crate::instructions::fit::FitPlan;
use crate::machines::{Laser, Router, Sled, Station};
use crate::predicting::{FitOrder, Notcher, USUAL_SEED, advise, predict_way};
use crate::reading::Job;

/// A job whose fit is asked for.
#[derive(Debug, Clone, Copy)]
pub struct FitQuestion<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its machines.
    pub workshop: &'a Workshop,
    /// Its cells with their pieces, and the patterns of these.
    pub pieces: Option<(&'a Infilling, &'a [Pattern])>,
    /// How many panels are drawn; as many as take about two seconds where nobody says.
    pub draws: Option<usize>,
    /// From where the random numbers run.
    pub seed: Option<u64>,
    /// The one way that is asked for; all that the job names else.
    pub only: Option<Station>,
}

impl FitQuestion<'_> {
    /// The prediction for every machine that notches strips, with advice where it is not enough; no way
    /// where the job names no such machine.
    ///
    /// # Errors
    /// What a machine cannot do, at the fields of its profile.
    pub fn answered(&self) -> Result<FitPlan, NotMade> {
        let seed = self.seed.unwrap_or(USUAL_SEED);
        let order = FitOrder {
            panel: &self.job.panel,
            frame: self.job.frame.as_ref(),
            pieces: self.pieces,
            wishes: self.job.fit,
            draws: self.draws,
            seed,
        };
        let mut ways = Vec::new();
        for (station, notcher) in self.notchers() {
            let document = Document::Profile(station);
            let predicted = predict_way(&order, notcher);
            let mut way = predicted.map_err(|faults| NotMade::cannot(faults, document))?;
            advise(&order, notcher, &mut way);
            ways.push(way);
        }
        Ok(FitPlan {
            title: self.job.panel.lattice().title.clone(),
            wishes: self.job.fit,
            seed,
            ok: ways.iter().all(|way| way.ok),
            ways,
        })
    }

    fn notchers(&self) -> Vec<(Station, Notcher<'_>)> {
        let shop = self.workshop;
        let sled = shop
            .machine::<Sled>()
            .map(|sled| (Station::Sled, Notcher::Sled(sled, self.job.sled)));
        let router = shop
            .machine::<Router>()
            .map(|router| (Station::Router, Notcher::Router(router)));
        let laser = shop
            .machine::<Laser>()
            .map(|laser| (Station::Laser, Notcher::Sheet(laser)));
        let all = [sled, router, laser].into_iter().flatten();
        all.filter(|(station, _)| self.only.is_none_or(|only| only == *station))
            .collect()
    }
}
