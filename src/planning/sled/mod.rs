//! A lattice's strips on a sled: registering, blade, fence, loads.

mod bays;
pub(crate) mod blade;
mod course;
mod frame_mitres;
mod key;
mod key_order;
mod lap_fit;
mod on_key;
mod on_sled;
pub(super) mod passes;
mod planner;
mod register;
mod rounds;
mod route;
pub(crate) mod scatter;
pub(super) mod settings;
pub(super) mod slant;
mod stop;
mod strips_at_once;
mod thickness;

use super::measured_figures::measured_for_notches;
use super::measured_stock::measured_stock;
use super::panel_facts::panel_facts;
use crate::finding::{Finding, grouped};
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::instructions::label_runs;
use crate::instructions::rounds::CutOrder;
use crate::instructions::saw::{SawSetting, SettingWork};
use crate::instructions::sled::{
    BladeSetting, PlusMinusRead, SledBundle, SledPlan, UncertaintyFacts,
};
use crate::lattice::{Bundle, Lattice};
use crate::machines::{PlusMinus, Sled, SledWork, StepOrder};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;
use blade::{blade_faults, blade_setting};
use float_cmp::ApproxEq;
pub(crate) use frame_mitres::add_mitre_settings;
use key::{key_size, rack_that_serves};

pub(crate) use lap_fit::lap_racking;
use lap_fit::{lap_fit, notches_as_cut};
use on_key::OnKey;
use passes::drawn_width;
use planner::SledPlanner;
use rounds::put_in_order;
use scatter::COVERAGE;
use settings::{give_work, saw_settings, steep_fence, works};
pub use thickness::ThicknessOrder;

/// Works out how a lattice's strips are notched on a sled called `machine`, as a job wants it.
///
/// # Errors
/// All that the sled cannot do; fields are those of its profile.
pub fn plan_sled(
    lattice: &Lattice,
    machine: &str,
    sled: &Sled,
    work: SledWork,
) -> Result<(SledPlan, Vec<Finding>), Vec<Finding>> {
    let mut faults = limits(lattice, sled);
    let mut warnings = Vec::new();
    let mut settings = saw_settings(lattice, sled);
    faults.extend(blade_faults(lattice, sled, &settings));
    let of_strips = |setting: &&SawSetting| setting.width.approx_eq(drawn_width(lattice), POSITION);
    let deepest = settings.iter().filter(of_strips);
    let deepest = deepest.max_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
    let widest = (settings.iter()).map(|setting| (setting.width, setting.passes_per_notch));
    let widest = widest
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .unwrap_or_default();
    let blade = deepest.map(|deepest| blade_setting(lattice, sled, deepest, &mut warnings));
    let (Some(stop), Some(blade)) = (sled.stop, blade) else {
        let message = "the sled has no stop to place the first notch by";
        faults.push(Finding::error("no-stop", "stop", message));
        return Err(faults);
    };
    let rack = rack_that_serves(widest, sled);
    let rack = rack.unwrap_or_else(|unused| {
        warnings.push(unused);
        None
    });
    let planner = SledPlanner {
        lattice,
        sled,
        stop,
        rack,
        settings: &settings,
        work,
    };
    let order = work.order;
    let PlannedBundles { mut bundles, work } = planner.bundles(&mut faults, &mut warnings);
    if !faults.is_empty() {
        return Err(grouped(faults));
    }
    let travel = (bundles.iter()).filter_map(|bundle| bundle.loads.block_travel_mm);
    let blade = BladeSetting {
        travel_mm: travel.max_by(f64::total_cmp),
        ..blade
    };
    give_work(&mut settings, work, &bundles);
    put_in_order(&mut settings, &mut bundles, order);
    warnings.extend(steep_fence(&settings));
    let key = rack.map(|rack| key_size(lattice, sled, rack, &settings, &bundles));
    let plan = SledPlan {
        title: lattice.title.clone(),
        machine: machine.to_owned(),
        measured_stock: measured_stock(lattice),
        measured_figures: measured_for_notches(&sled.measured),
        bundles,
        blade,
        order: match order {
            StepOrder::Stops => CutOrder::Stops,
            StepOrder::Bundles => CutOrder::Bundles,
        },
        settings,
        fit: lap_fit(lattice, sled, &mut warnings),
        uncertainty: UncertaintyFacts {
            coverage: COVERAGE,
            plus_minus: match sled.spread.plus_minus {
                PlusMinus::Limits => PlusMinusRead::Limits,
                PlusMinus::Twice => PlusMinusRead::Twice,
                PlusMinus::Once => PlusMinusRead::Once,
            },
        },
        key,
        panel: panel_facts(lattice),
        size: None,
    };
    Ok((plan, warnings))
}

/// Strips that are too short or too long for the sled: the worst of each, and how many bundles.
fn limits(lattice: &Lattice, sled: &Sled) -> Vec<Finding> {
    let shortest = sled.shortest_strip - SAME_POSITION_MM;
    let longest = sled.longest_strip + SAME_POSITION_MM;
    let lengths = lattice.bundles.iter().map(|bundle| bundle.length);
    let lengths: Vec<f64> = lengths.collect();
    let short: Vec<f64> = lengths
        .iter()
        .copied()
        .filter(|length| *length < shortest)
        .collect();
    let long: Vec<f64> = lengths
        .into_iter()
        .filter(|length| *length > longest)
        .collect();
    let mut faults = Vec::new();
    if let Some(length) = short.iter().copied().reduce(f64::min) {
        let mut text = phrase!(
            "strips {} long are shorter than the {} that this sled holds safely",
            Mm(length),
            Mm(sled.shortest_strip)
        );
        text.append(worst_of(short.len()));
        let riding = lattice.riding();
        let hint = if riding.together < riding.apart {
            "bundling = \"runs\" in the job's [strip] notches short strips as long as others of \
             their family; or use a bench hook"
        } else {
            "notch a longer blank and cut the strips from it, or use a bench hook"
        };
        faults.push(Finding::error("strip-too-short", "sled.shortest_strip", text).hint(hint));
    }
    if let Some(length) = long.iter().copied().reduce(f64::max) {
        let mut text = phrase!(
            "strips {} long are longer than the {} that this sled holds",
            Mm(length),
            Mm(sled.longest_strip)
        );
        text.append(worst_of(long.len()));
        let fault = Finding::error("strip-too-long", "sled.longest_strip", text);
        faults.push(fault.hint("use a longer sled, or build the panel in parts"));
    }
    faults
}

fn worst_of(bundles: usize) -> Phrase {
    match bundles {
        1 => phrase!(""),
        _ => phrase!(" (the worst of {} such bundles)", bundles),
    }
}

/// Bundles, and what is cut at which setting (from 0).
#[derive(Default)]
struct PlannedBundles {
    bundles: Vec<SledBundle>,
    work: Vec<(usize, SettingWork)>,
}

impl SledPlanner<'_> {
    /// All bundles. One that is the same part as an earlier one is cut with it: of that there is
    /// no work of its own and nothing new to say.
    fn bundles(&self, faults: &mut Vec<Finding>, warnings: &mut Vec<Finding>) -> PlannedBundles {
        let mut planned = PlannedBundles::default();
        let mut told: Vec<(usize, OnKey)> = Vec::new();
        for (at, bundle) in self.lattice.bundles.iter().enumerate() {
            let earlier = self.lattice.bundles.iter().take(at);
            let twin = (earlier.enumerate())
                .find(|(_, other)| bundle.same_part(other).is_some())
                .map(|(twin, _)| twin + 1);
            let works = works(bundle, at + 1, self.settings);
            match self.bundle(bundle, &works) {
                Ok((mut plan, on_key)) => {
                    plan.same_as_bundle = twin;
                    if twin.is_none() {
                        match told.last_mut() {
                            Some((family, known)) if *family == bundle.family => known.add(&on_key),
                            _ => told.push((bundle.family, on_key)),
                        }
                        planned.work.extend(works);
                    }
                    planned.bundles.push(plan);
                }
                Err(found) => {
                    faults.extend(found.into_iter().map(|fault| fault.in_bundle(at + 1)));
                }
            }
        }
        for (family, on_key) in &told {
            warnings.extend(self.key_warnings(self.lattice.family_name(*family), on_key));
        }
        planned
    }

    fn bundle(
        &self,
        bundle: &Bundle,
        works: &[(usize, SettingWork)],
    ) -> Result<(SledBundle, OnKey), Vec<Finding>> {
        let family = self.lattice.family_name(bundle.family);
        let labels = self.lattice.labels(bundle);
        let settings: Vec<&SawSetting> = (works.iter())
            .filter_map(|(at, _)| self.settings.get(*at))
            .collect();
        let loads = (self.loads(bundle.strips.len(), &settings)).map_err(|fault| vec![*fault])?;
        let by_spacers = self.spacers(bundle);
        let way = self.steps(bundle, works, by_spacers.as_ref())?;
        let by_stop = bundle.notches.iter().enumerate();
        let plan = SledBundle {
            family,
            face: bundle.face().into(),
            count: bundle.strips.len(),
            strips: label_runs(&labels),
            length_mm: bundle.length,
            notches: notches_as_cut(bundle, self.sled),
            steps: way.steps,
            route: way.route,
            by_stop: by_stop
                .map(|(at, notch)| self.stop_setting(at, notch))
                .collect(),
            by_spacers,
            slots_to_add_mm: way.on_key.missing.clone(),
            loads,
            same_as_bundle: None,
        };
        Ok((plan, way.on_key))
    }
}
