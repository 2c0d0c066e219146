//! What each machine would have to do for a job.

use crate::finding::Finding;
use crate::instructions::choice::MachineShare;
use crate::instructions::laser::Ware;
use crate::instructions::pare::ParePlan;
use crate::instructions::sled::{Register, SledPlan};
use crate::lattice::PieceWay;
use crate::machines::{Laser, Rates, Router, Sled, Station};
use crate::making::{NotMade, SheetParts, Workshop, numbered, planned_sled};
use crate::phrase::{Phrase, counted};
use crate::planning::{plan_router, plan_sheets, sled_passes};
use crate::reading::Job;
use std::fmt::Write;
use std::path::Path;

/// The shares of all machines that notch or cut strips.
pub(super) fn shares(job: &Job, workshop: &Workshop) -> Vec<MachineShare> {
    let all = [
        at_sled(job, workshop),
        at_laser(job, workshop),
        at_router(job, workshop),
    ];
    all.into_iter().flatten().collect()
}

/// A share that can be done.
pub(super) fn share(station: Station, machine: &str, set_ups: usize, what: String) -> MachineShare {
    MachineShare {
        station: station.name(),
        machine: machine.to_owned(),
        set_ups,
        mitre_set_ups: None,
        facets: None,
        what,
        steps: None,
        steps_over_key: None,
        cuts: None,
        time_s: None,
        cannot: None,
    }
}

/// One that cannot, for the first of these reasons.
fn cannot(station: Station, machine: &str, faults: &[Finding]) -> MachineShare {
    let why = faults.first().map(|fault| fault.message.clone());
    MachineShare {
        cannot: Some(why.unwrap_or_else(|| Phrase::from("it cannot be planned"))),
        ..share(station, machine, 0, "cannot do it".into())
    }
}

fn at_sled(job: &Job, workshop: &Workshop) -> Option<MachineShare> {
    let sled = workshop.machine::<Sled>()?;
    Some(match planned_sled(job.panel.lattice(), sled, job.sled) {
        Ok((plan, _)) => sawn(&plan, sled.name),
        Err(NotMade::Cannot(faults)) => cannot(Station::Sled, sled.name, &faults),
        Err(_) => cannot(Station::Sled, sled.name, &[]),
    })
}

fn sawn(plan: &SledPlan, name: &str) -> MachineShare {
    let own = (plan.bundles.iter()).filter(|bundle| bundle.same_as_bundle.is_none());
    let steps: Vec<&Register> = own
        .flat_map(|bundle| &bundle.steps)
        .map(|step| &step.register)
        .collect();
    let over_key = |step: &&&Register| matches!(step, Register::Key { .. });
    let keyed = steps.iter().filter(over_key).count();
    let by_key = plan
        .key
        .as_ref()
        .map_or(String::new(), |_| format!(", {keyed} of them over the key"));
    let what = format!(
        "{}{by_key}; {}",
        counted(steps.len(), "step"),
        counted(plan.settings.len(), "setting")
    );
    MachineShare {
        cuts: Some(sled_passes(plan)),
        steps: Some(steps.len()),
        steps_over_key: plan.key.as_ref().map(|_| keyed),
        ..share(Station::Sled, name, plan.settings.len(), what)
    }
}

/// Adds what the pieces' mitres take to the machine that makes them as the job asks; `cannot`: why it does
/// not, or not all.
pub(super) fn add_mitres(
    shares: &mut [MachineShare],
    asked: PieceWay,
    plan: &ParePlan,
    cannot: Option<Phrase>,
) {
    let station = match asked {
        PieceWay::Guides => return,
        PieceWay::Rows | PieceWay::StickEnds => Station::Sled,
        PieceWay::RoutedRows => Station::Router,
    };
    let share = shares
        .iter_mut()
        .find(|share| share.station == station.name());
    let Some(share) = share else {
        return;
    };
    if let Some(sawn) = &plan.mitres {
        share.mitre_set_ups = Some(sawn.settings.len());
        share.facets = Some(sawn.facets_cut);
        share.cuts = Some(share.cuts.unwrap_or(0) + sawn.block_cuts);
        let what = counted(sawn.settings.len(), "setting");
        let _ = write!(share.what, "; {what} for mitres");
    }
    if let Some(routed) = &plan.routed {
        let made = plan.pieces.iter();
        let made = made.map(|piece| {
            let facets: usize = piece.ends.iter().map(|end| end.facets.len()).sum();
            piece.made * (facets - piece.pared().count())
        });
        share.facets = Some(made.sum());
        share.mitre_set_ups = Some(routed.rows.len());
        share.time_s = share.time_s.map(|time| time + routed.time_s);
        let what = counted(routed.rows.len(), "program");
        let _ = write!(share.what, "; {what} for mitres");
    }
    if share.cannot.is_none() {
        share.cannot = cannot;
    }
}

/// Adds how long settings and cuts take at a sled.
pub(super) fn add_saw_time(shares: &mut [MachineShare], rates: &Rates) {
    let sled = Station::Sled.name();
    let sled = shares.iter_mut().find(|share| share.station == sled);
    let Some(share) = sled.filter(|share| share.set_ups > 0) else {
        return;
    };
    let settings = share.set_ups + share.mitre_set_ups.unwrap_or(0);
    share.time_s = Some(rates.setting.of(settings) + rates.cut.of(share.cuts.unwrap_or(0)));
}

fn at_laser(job: &Job, workshop: &Workshop) -> Option<MachineShare> {
    let laser = workshop.machine::<Laser>()?;
    let parts = SheetParts::of_strips(&job.panel, job.panel.lattice(), laser.machine);
    let planned = parts
        .batch(Ware::Strips, &[Ware::Strips])
        .and_then(|batch| {
            let title = &job.panel.design().title;
            let name = |at, count| numbered(Path::new("strips.dxf"), at, count);
            plan_sheets(title, laser.name, vec![batch], laser.machine, &name)
        });
    Some(match planned {
        Ok((plan, _)) => {
            let sheets = plan.files.len();
            let what = format!("{} of strips", counted(sheets, "sheet"));
            share(Station::Laser, laser.name, sheets, what)
        }
        Err(faults) => cannot(Station::Laser, laser.name, &faults),
    })
}

fn at_router(job: &Job, workshop: &Workshop) -> Option<MachineShare> {
    let router = workshop.machine::<Router>()?;
    let name = |at, count| numbered(Path::new("strips.nc"), at, count);
    let planned = plan_router(job.panel.lattice(), router.name, router.machine, &name);
    Some(match planned {
        Ok((plan, _)) => {
            let set_ups = plan.setups.len();
            let minutes = (plan.time_s / 60.0).ceil();
            let what = format!(
                "{}, roughly {minutes:.0} min without clamping",
                counted(set_ups, "set-up")
            );
            MachineShare {
                time_s: Some(plan.time_s),
                ..share(Station::Router, router.name, set_ups, what)
            }
        }
        Err(faults) => cannot(Station::Router, router.name, &faults),
    })
}
