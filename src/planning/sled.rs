//! A lattice's strips on a sled: registering, blade, loads.

use super::blade::{floor_ridge, half_chord, passes};
use super::route::{Hop, missing_slots, route};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::label_runs;
use crate::instructions::sled::{
    BladeSetting, KeyPosition, KeySize, LapFit, Loads, NotchFigures, Register, SledBundle,
    SledPlan, SpacerSettings, Step, StopSetting,
};
use crate::lattice::{Bundle, Lattice, Notch};
use crate::machines::{Sled, Stop};
use crate::phrase;
use crate::units::Mm;

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
                    .position(|other| other.same_list(bundle));
                plan.same_as_bundle = twin.map(|twin| twin + 1);
                planned.push(plan);
                warnings.append(&mut found);
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
        if bundle.length < sled.shortest_strip {
            let text = phrase![
                "strips ",
                Mm(bundle.length),
                " long are shorter than the ",
                Mm(sled.shortest_strip),
                " that this sled holds safely"
            ];
            faults.push(
                Finding::error("strip-too-short", "sled.shortest_strip", text)
                    .hint("notch a longer blank and cut the strips from it, or use a bench hook"),
            );
        }
        if bundle.length > sled.longest_strip {
            let text = phrase![
                "strips ",
                Mm(bundle.length),
                " long are longer than the ",
                Mm(sled.longest_strip),
                " that this sled holds"
            ];
            faults.push(
                Finding::error("strip-too-long", "sled.longest_strip", text)
                    .hint("use a longer sled, or build the panel in parts"),
            );
        }
    }
    if lattice.section.thickness > sled.widest_block {
        let text = phrase![
            "a strip ",
            Mm(lattice.section.thickness),
            " thick is wider than the ",
            Mm(sled.widest_block),
            " that this sled holds"
        ];
        faults.push(Finding::error("block-too-wide", "sled.widest_block", text));
    }
    faults
}

/// Notch depth and width, the same for all notches of a grid of two families.
fn notch_size(lattice: &Lattice) -> (f64, f64) {
    let notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    notches.fold((0.0, 0.0), |(depth, width), notch| {
        (f64::max(depth, notch.depth), f64::max(width, notch.width))
    })
}

fn blade_setting(
    lattice: &Lattice,
    sled: &Sled,
    faults: &mut Vec<Finding>,
    warnings: &mut Vec<Finding>,
) -> BladeSetting {
    let (depth, width) = notch_size(lattice);
    let height = depth + sled.height_correction;
    let above_table = sled.base_thickness + height;
    if height <= 0.0 {
        let text = phrase![
            "a correction of ",
            Mm(sled.height_correction),
            " leaves no height of a notch ",
            Mm(depth),
            " deep"
        ];
        faults.push(Finding::error(
            "correction-too-large",
            "sled.height_correction",
            text,
        ));
    }
    if let Some(powered) = sled.blade.powered
        && above_table > powered.highest
    {
        let text = phrase![
            "the blade must stand ",
            Mm(above_table),
            " over the table (base ",
            Mm(sled.base_thickness),
            " and notch ",
            Mm(height),
            "); this saw reaches ",
            Mm(powered.highest)
        ];
        faults.push(
            Finding::error("blade-too-low", "blade.highest", text)
                .hint("a thinner base, or shallower strips"),
        );
    }
    let (passes_per_notch, pass_shift_mm) = passes(width, sled.blade.kerf, sled.blade.overlap);
    let floor_ridge_mm = floor_ridge(sled.blade.kerf, sled.blade.tooth);
    if floor_ridge_mm > 0.0 {
        let text = phrase![
            "bevelled teeth leave the notch's floor up to ",
            Mm(floor_ridge_mm),
            " higher in the middle of a pass than at its tips"
        ];
        warnings.push(
            Finding::warning("floor-not-flat", "blade.tooth", text)
                .hint("a flat-top blade leaves a flat floor; or pare the ridge before assembly"),
        );
    }
    BladeSetting {
        height_above_base_mm: height,
        height_above_table_mm: above_table,
        passes_per_notch,
        pass_shift_mm,
        half_chord_mm: sled
            .blade
            .powered
            .map(|powered| half_chord(powered.diameter / 2.0, height)),
        travel_mm: None,
        floor_ridge_mm,
    }
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
        let family = self
            .lattice
            .families
            .get(bundle.family)
            .map_or("strip", |family| family.name);
        let labels: Vec<_> = bundle
            .strips
            .iter()
            .map(|id| self.lattice.label(*id))
            .collect();
        let loads = self
            .loads(bundle.strips.len())
            .map_err(|fault| vec![fault])?;
        let by_spacers = self.spacers(bundle);
        let (steps, slots_to_add_mm, warnings) = self.steps(bundle, family, by_spacers.as_ref())?;
        let plan = SledBundle {
            family,
            face: bundle.face().map_or("both", |face| face.name()),
            count: bundle.strips.len(),
            strips: label_runs(&labels),
            length_mm: bundle.length,
            notches: NotchFigures::of(&bundle.notches),
            steps,
            by_stop: bundle
                .notches
                .iter()
                .enumerate()
                .map(|(at, notch)| self.stop_setting(at, notch))
                .collect(),
            by_spacers,
            slots_to_add_mm,
            loads,
            same_as_bundle: None,
        };
        Ok((plan, warnings))
    }

    /// Face of the stop to the near side of the kerf: the strip's end lies on the stop, so its
    /// datum and the stop's face are one, and the kerf's near side lies half a kerf before the
    /// notch's centre.
    fn stop_to_kerf(&self, notch: &Notch) -> f64 {
        notch.centre - self.sled.blade.kerf / 2.0
    }

    fn stop_setting(&self, at: usize, notch: &Notch) -> StopSetting {
        let middle = self.stop_to_kerf(notch);
        let (count, shift) = (self.blade.passes_per_notch, self.blade.pass_shift_mm);
        let pass = |n: usize| middle + (n as f64 - (count - 1) as f64 / 2.0) * shift;
        let passes_mm = if count > 1 {
            (0..count).map(pass).collect()
        } else {
            Vec::new()
        };
        StopSetting {
            notch: at + 1,
            stop_to_kerf_mm: middle,
            passes_mm,
        }
    }

    fn stop_reaches(&self, setting: f64) -> bool {
        setting >= self.stop.nearest - SAME_POSITION_MM
            && setting <= self.stop.farthest + SAME_POSITION_MM
    }

    fn spacers(&self, bundle: &Bundle) -> Option<SpacerSettings> {
        self.sled.spacers?;
        let last = bundle.notches.last()?;
        let stop_to_kerf_mm = self.stop_to_kerf(last);
        let spacers_mm = bundle
            .notches
            .iter()
            .map(|notch| last.centre - notch.centre)
            .collect();
        self.stop_reaches(stop_to_kerf_mm)
            .then_some(SpacerSettings {
                stop_to_kerf_mm,
                spacers_mm,
            })
    }

    /// The recommended way through the notches, and slots to add.
    #[allow(clippy::type_complete)] // three things that belong together once
    fn steps(
        &self,
        bundle: &Bundle,
        family: &str,
        spacers: Option<&SpacerSettings>,
    ) -> Result<(Vec<Step>, Vec<f64>, Vec<Finding>), Vec<Finding>> {
        let centres: Vec<f64> = bundle.notches.iter().map(|notch| notch.centre).collect();
        let (hops, missing) = match &self.sled.rack {
            Some(rack) => {
                let hops = route(&centres, rack, self.stop.repeatability);
                let shortest = key_width(self.lattice, self.sled, self.blade) / 2.0
                    + self.sled.blade.kerf / 2.0
                    + LEAST_KEY_GAP_MM;
                let missing = missing_slots(&centres, &hops, shortest);
                (hops, missing)
            }
            None => (vec![None; centres.len()], Vec::new()),
        };
        let mut warnings = self.key_warnings(bundle, family, &hops, &missing);
        let mut steps = Vec::new();
        let mut faults = Vec::new();
        for (at, notch) in bundle.notches.iter().enumerate() {
            let hop = hops.get(at).copied().flatten();
            match self.step(at, notch, &centres, hop, spacers) {
                Ok(step) => steps.push(step),
                Err(fault) => faults.push(fault),
            }
        }
        warnings.retain(|_| faults.is_empty());
        if faults.is_empty() {
            Ok((steps, missing, warnings))
        } else {
            Err(faults)
        }
    }

    fn step(
        &self,
        at: usize,
        notch: &Notch,
        centres: &[f64],
        hop: Option<Hop>,
        spacers: Option<&SpacerSettings>,
    ) -> Result<Step, Finding> {
        let setting = self.stop_to_kerf(notch);
        let slots = self.sled.rack.as_ref().map_or(&[][..], |rack| &rack.slots);
        if let Some(hop) = hop
            && let (Some(slot), Some(from)) = (slots.get(hop.slot), centres.get(hop.on))
        {
            let register = Register::Key {
                key_mm: notch.centre - from,
                slot_mm: slot.nominal,
                on_notch: hop.on + 1,
            };
            return Ok(Step {
                notch: at + 1,
                register,
                worst_error_mm: hop.worst_error,
            });
        }
        if self.stop_reaches(setting) {
            let register = Register::Stop {
                stop_to_kerf_mm: setting,
            };
            return Ok(Step {
                notch: at + 1,
                register,
                worst_error_mm: self.stop.repeatability,
            });
        }
        if let (Some(blocks), Some(settings)) = (self.sled.spacers, spacers)
            && let Some(&spacer_mm) = settings.spacers_mm.get(at)
        {
            let register = Register::Spacers {
                stop_to_kerf_mm: settings.stop_to_kerf_mm,
                spacer_mm,
            };
            let worst_error_mm = self.stop.repeatability + blocks.tolerance;
            return Ok(Step {
                notch: at + 1,
                register,
                worst_error_mm,
            });
        }
        let text = phrase![
            "notch ",
            at + 1,
            " needs the stop's face ",
            Mm(setting),
            " from the near side of the kerf; this stop reaches ",
            Mm(self.stop.nearest),
            " to ",
            Mm(self.stop.farthest)
        ];
        Err(Finding::error("stop-out-of-reach", "stop.farthest", text)
            .hint("a longer fence, spacers between stop and strip, or a key slot for the step"))
    }

    fn key_warnings(
        &self,
        bundle: &Bundle,
        family: &str,
        hops: &[Option<Hop>],
        missing: &[f64],
    ) -> Vec<Finding> {
        let mut warnings = Vec::new();
        let Some(rack) = &self.sled.rack else {
            return warnings;
        };
        let unreached = hops.iter().skip(1).filter(|hop| hop.is_none()).count();
        if unreached > 0 && !missing.is_empty() {
            let mut text = phrase![
                unreached,
                " of ",
                bundle.notches.len(),
                " notches of the ",
                family,
                "s cannot be reached over the key; add a slot at "
            ];
            for (at, slot) in missing.iter().enumerate() {
                let join = if at == 0 { "" } else { " and " };
                text.0.extend([join.into(), Mm(*slot).into()]);
            }
            text.0
                .push(" (key's centre to kerf's centre); until then the stop places them".into());
            warnings.push(Finding::warning("key-out-of-reach", "rack.slots", text));
        }
        let worst = hops
            .iter()
            .flatten()
            .map(|hop| hop.worst_error)
            .fold(0.0, f64::max);
        // A stop sets both notches afresh, whatever lies between them.
        let by_stop = self.stop.repeatability * 2.0_f64.sqrt();
        if worst > by_stop && rack.slots.len() > 1 {
            let text = phrase![
                "over the key the ",
                family,
                "s' last notches may be off by ",
                Mm(worst),
                " against the first; by the stop every notch is within ",
                Mm(by_stop)
            ];
            warnings.push(
                Finding::warning("key-error-adds-up", "rack.measured", text)
                    .hint("use the stop for these, or true up the slots"),
            );
        }
        warnings
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
            let text = phrase![
                "a single strip needs ",
                Mm(needed),
                " of travel to pass the blade; this sled has less"
            ];
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

/// Room between key and kerf that the slot's wall needs. Common practice, no source, mm.
const LEAST_KEY_GAP_MM: f64 = 2.0;

/// A key fills the notch that one pass cuts. Where a notch takes several passes the key is as wide
/// as the kerf: pushed against either side of it, the notch shifts by half of what the kerf lacks,
/// which is just what the outer passes need.
fn key_width(lattice: &Lattice, sled: &Sled, blade: &BladeSetting) -> f64 {
    if blade.passes_per_notch > 1 {
        sled.blade.kerf
    } else {
        notch_size(lattice).1.max(sled.blade.kerf)
    }
}

fn key_size(lattice: &Lattice, sled: &Sled, blade: &BladeSetting) -> KeySize {
    let width_mm = key_width(lattice, sled, blade);
    let mut steps: Vec<f64> = Vec::new();
    for bundle in &lattice.bundles {
        for pair in bundle.notches.windows(2) {
            if let [a, b] = pair {
                let step = b.centre - a.centre;
                if !steps
                    .iter()
                    .any(|known| (known - step).abs() < SAME_POSITION_MM)
                {
                    steps.push(step);
                }
            }
        }
    }
    steps.sort_by(f64::total_cmp);
    let slots = sled
        .rack
        .iter()
        .flat_map(|rack| rack.slots.iter().map(move |slot| (rack, slot)));
    let position = |step: f64| KeyPosition {
        centre_to_centre_mm: step,
        face_to_kerf_mm: step - width_mm / 2.0 - sled.blade.kerf / 2.0,
        slot_mm: slots
            .clone()
            .filter(|(rack, slot)| {
                (slot.measured - step).abs() <= rack.greatest_misfit + SAME_POSITION_MM
            })
            .min_by(|(_, a), (_, b)| {
                (a.measured - step)
                    .abs()
                    .total_cmp(&(b.measured - step).abs())
            })
            .map(|(_, slot)| slot.nominal),
    };
    KeySize {
        width_mm,
        positions: steps.into_iter().map(position).collect(),
    }
}

/// How loose the laps come out: the notch as cut is at least as wide as the kerf.
fn lap_fit(lattice: &Lattice, sled: &Sled, warnings: &mut Vec<Finding>) -> LapFit {
    let (_, width) = notch_size(lattice);
    let thickness = lattice.section.thickness;
    let clearance_mm = width.max(sled.blade.kerf) - thickness;
    let racking = if clearance_mm > 0.0 {
        (clearance_mm / thickness).atan()
    } else {
        0.0
    };
    if sled.blade.kerf > width + SAME_POSITION_MM {
        let text = phrase![
            "the kerf of ",
            Mm(sled.blade.kerf),
            " is wider than the notch of ",
            Mm(width),
            ": laps will be ",
            Mm(clearance_mm),
            " loose, and the bare grid can rack by ",
            crate::units::Rad(racking)
        ];
        warnings.push(
            Finding::warning("kerf-wider-than-notch", "blade.kerf", text)
                .hint("a thinner blade, or strips as thick as the kerf"),
        );
    }
    LapFit {
        clearance_mm,
        racking,
    }
}
