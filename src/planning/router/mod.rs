//! A lattice's strips on a router: set-ups, cutting data, tool paths.

mod bed;
mod checks;
mod clamped_bundle;
mod clamps;
mod cutting;
pub(crate) mod lying_words;
mod mortises;
mod notch_path;
mod passes;
mod planner;
mod pocket_path;
mod reach;
pub(crate) mod remarks;
mod rows;
mod setup;
mod sharing;
mod time;
mod travel_split;

use super::measured_figures::measured_for_notches;
use super::measured_stock::measured_stock;
use crate::dialects::SetUps;
use crate::finding::{Finding, grouped};
use crate::instructions::router::{RouterPlan, RouterSetup};
use crate::lattice::Lattice;
use crate::machines::Router;
use clamped_bundle::ClampedBundle;
use cutting::CuttingData;
use planner::NotchingPlanner;
use setup::clamp_figures;
use sharing::{SharedPart, sharing, strips_of};

pub use mortises::{MortisePrograms, plan_mortises};
pub use rows::{PlannedRows, plan_rows, routed_ends, routed_ways};

/// Works out how a lattice's strips are notched on a router called `machine`; `file_name` gives
/// the name of the program of set-up n (from 0) of how many. The set-ups come in working order:
/// part by part, a clamping for every face and direction of its notches, and where a strip is
/// longer than the travel, several set-ups for one of them. Bundles that are the same part share
/// theirs.
///
/// # Errors
/// All that the router cannot do; fields are those of its profile.
pub fn plan_router(
    lattice: &Lattice,
    machine: &str,
    router: &Router,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(RouterPlan, Vec<Finding>), Vec<Finding>> {
    let mut warnings = Vec::new();
    let data = CuttingData::of(router, &mut warnings);
    let planner = NotchingPlanner::new(lattice, router, data);
    let mut faults = data.faults();
    let parts = sharing(&lattice.bundles);
    let mut set_ups = Vec::new();
    for part in &parts {
        set_ups.extend(planner.part_set_ups(part, &mut faults));
    }
    if !faults.is_empty() {
        return Err(grouped(faults));
    }
    warnings.extend(planner.bending(&set_ups));
    warnings.extend(planner.holder_warnings(&set_ups));
    warnings.extend(planner.adding_up(&set_ups));
    let mut setups: Vec<RouterSetup> = Vec::new();
    let mut was_on_key = false;
    for (at, held) in set_ups.iter().enumerate() {
        let file = match router.controller.set_ups {
            SetUps::Files => file_name(at, set_ups.len()),
            SetUps::OneFile => file_name(0, 1),
        };
        // For the key the end stop was taken away.
        let on_key = held.on_key.is_some();
        setups.push(planner.setup(held, machine, file, was_on_key && !on_key));
        was_on_key = on_key;
    }
    if router.controller.set_ups == SetUps::OneFile {
        number_stops(&mut setups);
    }
    let plan = RouterPlan {
        title: lattice.title.clone(),
        machine: machine.to_owned(),
        measured_stock: measured_stock(lattice),
        measured_figures: measured_for_notches(&router.measured),
        time_s: setups
            .iter()
            .map(|setup| setup.runs as f64 * setup.time_s)
            .sum(),
        setups,
        clamps: router.fixture.clamps.iter().map(clamp_figures).collect(),
    };
    Ok((plan, warnings))
}

/// The program of all set-ups stops before every run but the first.
fn number_stops(setups: &mut [RouterSetup]) {
    let mut runs = 0;
    for setup in setups {
        setup.after_stop = Some(runs);
        runs += setup.runs;
    }
}

impl NotchingPlanner<'_> {
    /// All set-ups of a part, clamping by clamping; what stands against any of them is a fault of
    /// every bundle that shares them.
    fn part_set_ups<'a>(
        &self,
        part: &'a SharedPart<'a>,
        faults: &mut Vec<Finding>,
    ) -> Vec<ClampedBundle<'a>> {
        let strips = self.runs(strips_of(&part.sharers)).strips;
        let mut set_ups = Vec::new();
        for (at, clamping) in part.clampings.iter().enumerate() {
            let earlier = part.clampings.get(..at).unwrap_or_default();
            let thickness = self.lattice.section.thickness;
            let whole = ClampedBundle::whole(part, clamping, earlier, strips, thickness);
            let mut found = self.faults(&whole);
            match self.within_reach(&whole) {
                Some(parts) => {
                    found.extend(self.key_fault(&parts));
                    set_ups.extend(parts);
                }
                None => found.extend(self.reach_fault(&whole)),
            }
            for sharer in &part.sharers {
                let own = found.iter().cloned();
                faults.extend(own.map(|fault| fault.in_bundle(sharer.number)));
            }
        }
        set_ups
    }
}
