//! A lattice's strips on a sled: registering, blade, loads.

mod blade;
mod key;
mod register;
mod route;
mod sheet;

use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::label_runs;
use crate::instructions::sled::{BladeSetting, Loads, SledBundle, SledPlan};
use crate::lattice::{Bundle, Lattice};
use crate::machines::{Sled, Stop};
use crate::phrase;
use crate::units::Mm;
use blade::{blade_setting, lap_fit};
use key::key_size;

pub use sheet::sled_sheet;

/// Works out how a lattice's strips are notched on a sled called `machine`.
///
/// # Errors
/// All that the sled cannot do; fields are those of its profile.
pub fn plan_sled(
    lattice: &Lattice,
    machine: &str,
    sled: &Sled,
) -> Result<(SledPlan, Vec<Finding>), Vec<Finding>> {
    let mut faults = limits(lattice, sled);
    let mut warnings = Vec::new();
    let blade = blade_setting(lattice, sled, &mut faults, &mut warnings);
    let Some(stop) = sled.stop else {
        faults.push(Finding::error(
            "no-stop",
            "stop",
            "the sled has no stop to place the first notch by",
        ));
        return Err(faults);
    };
    let mut planned: Vec<SledBundle> = Vec::new();
    for (at, bundle) in lattice.bundles.iter().enumerate() {
        let setting = Setting {
            lattice,
            sled,
            stop,
            blade: &blade,
        };
        match setting.bundle(bundle) {
            Ok((mut plan, mut found)) => {
                let twin = lattice
                    .bundles
                    .iter()
                    .take(at)
                    .position(|other| bundle.same_part(other).is_some());
                plan.same_as_bundle = twin.map(|twin| twin + 1);
                // Of a twin there is nothing new to say.
                if twin.is_none() {
                    warnings.append(&mut found);
                }
                planned.push(plan);
            }
            Err(mut found) => faults.append(&mut found),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let travel = planned
        .iter()
        .filter_map(|bundle| bundle.loads.block_travel_mm);
    let blade = BladeSetting {
        travel_mm: travel.max_by(f64::total_cmp),
        ..blade
    };
    let fit = lap_fit(lattice, sled, &mut warnings);
    let key = sled.rack.as_ref().map(|_| key_size(lattice, sled, &blade));
    Ok((
        SledPlan {
            title: lattice.title.clone(),
            machine: machine.to_owned(),
            bundles: planned,
            blade,
            fit,
            key,
        },
        warnings,
    ))
}

/// Strips that are too short, too long or too thick for the sled.
fn limits(lattice: &Lattice, sled: &Sled) -> Vec<Finding> {
    let mut faults = Vec::new();
    for bundle in &lattice.bundles {
        if bundle.length < sled.shortest_strip - SAME_POSITION_MM {
            let text = phrase!(
                "strips {} long are shorter than the {} that this sled holds safely",
                Mm(bundle.length),
                Mm(sled.shortest_strip)
            );
            faults.push(
                Finding::error("strip-too-short", "sled.shortest_strip", text)
                    .hint("notch a longer blank and cut the strips from it, or use a bench hook"),
            );
        }
        if bundle.length > sled.longest_strip + SAME_POSITION_MM {
            let text = phrase!(
                "strips {} long are longer than the {} that this sled holds",
                Mm(bundle.length),
                Mm(sled.longest_strip)
            );
            faults.push(
                Finding::error("strip-too-long", "sled.longest_strip", text)
                    .hint("use a longer sled, or build the panel in parts"),
            );
        }
    }
    if lattice.section.thickness > sled.widest_block {
        let text = phrase!(
            "a strip {} thick is wider than the {} that this sled holds",
            Mm(lattice.section.thickness),
            Mm(sled.widest_block)
        );
        faults.push(Finding::error("block-too-wide", "sled.widest_block", text));
    }
    faults
}

/// What all bundles share.
struct Setting<'a> {
    lattice: &'a Lattice,
    sled: &'a Sled,
    stop: Stop,
    blade: &'a BladeSetting,
}

impl Setting<'_> {
    fn bundle(&self, bundle: &Bundle) -> Result<(SledBundle, Vec<Finding>), Vec<Finding>> {
        let family = self.lattice.family_name(bundle.family);
        let labels = self.lattice.labels(bundle);
        let loads = self
            .loads(bundle.strips.len())
            .map_err(|fault| vec![fault])?;
        let by_spacers = self.spacers(bundle);
        let way = self.steps(bundle, family, by_spacers.as_ref())?;
        let plan = SledBundle {
            family,
            face: bundle.face().map_or("both", |face| face.name()),
            count: bundle.strips.len(),
            strips: label_runs(&labels),
            length_mm: bundle.length,
            notches: super::notch_figures(&bundle.notches),
            steps: way.steps,
            by_stop: bundle
                .notches
                .iter()
                .enumerate()
                .map(|(at, notch)| self.stop_setting(at, notch))
                .collect(),
            by_spacers,
            slots_to_add_mm: way.slots_to_add_mm,
            loads,
            same_as_bundle: None,
        };
        Ok((plan, way.warnings))
    }

    /// Strips at once: as many as the sled holds and its travel carries clear of the blade.
    fn loads(&self, count: usize) -> Result<Loads, Finding> {
        let thickness = self.lattice.section.thickness;
        let clear = self.blade.half_chord_mm.map(|half| 2.0 * half);
        let room = match (self.sled.blade.powered, clear) {
            (Some(powered), Some(clear)) => {
                f64::min(self.sled.widest_block, powered.travel - clear)
            }
            _ => self.sled.widest_block,
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small; checked below
        let most = (room / thickness + 1e-9).floor().max(0.0) as usize;
        if most == 0 {
            let needed = thickness + clear.unwrap_or(0.0);
            let text = phrase!(
                "a single strip needs {} of travel to pass the blade; this sled has less",
                Mm(needed)
            );
            return Err(Finding::error("travel-too-short", "blade.travel", text));
        }
        let blocks = count.div_ceil(most);
        let strips_per_block = count.div_ceil(blocks);
        let block_width_mm = strips_per_block as f64 * thickness;
        Ok(Loads {
            strips_per_block,
            blocks,
            block_width_mm,
            block_travel_mm: clear.map(|clear| block_width_mm + clear),
            single_travel_mm: clear.map(|clear| thickness + clear),
        })
    }
}
