//! Mitres of a panel's pieces at a sled, by one way or the other.

use super::order::{MitreOrder, Planned};
use super::rows::rows;
use super::settings::MitreSaw;
use super::stick_ends::stick_ends;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::infill::Infilling;
use crate::instructions::mitres::{
    LeftBecause, LeftForGuides, MitreErrors, MitrePlan, MitreSetting, SkinFigures,
};
use crate::lattice::{Panel, PieceWay};
use crate::machines::{Chosen, Sled};
use crate::phrase;
use crate::planning::measured_figures::measured_figures;
use crate::planning::measured_stock::stock_of;
use crate::planning::sled::blade::floor_ridge;
use crate::planning::sled::slant::Slant;
use crate::units::{Mm, Rad};
use std::f64::consts::FRAC_PI_4;

/// A wider kerf by this is told, mm.
const KERF_OFF_MM: f64 = 0.1;

/// Works out how a panel's pieces get their mitres on a sled, in rows or on sticks' ends.
///
/// # Errors
/// What the sled cannot do at all, at its profile's fields. A piece, or an end, that it does not reach is
/// no error: it stays for guides, and is told.
pub fn plan_mitres(
    panel: &Panel,
    filled: &Infilling,
    way: PieceWay,
    sled: Chosen<'_, Sled>,
) -> Result<(MitrePlan, Vec<Finding>), Vec<Finding>> {
    let Chosen { name, machine } = sled;
    let Some(powered) = machine.blade.powered else {
        return Err(vec![by_hand()]);
    };
    let Some(mitres) = &machine.mitres else {
        return Err(vec![no_mitres()]);
    };
    let saw = MitreSaw {
        sled: machine,
        mitres,
        powered,
        thickness: filled.most_stock.thickness,
    };
    let order = MitreOrder {
        panel,
        filled,
        sled: machine,
        mitres,
    };
    let in_rows = way != PieceWay::StickEnds;
    let faults = skin_in_stick(&order).filter(|_| in_rows);
    if let Some(fault) = faults {
        return Err(vec![fault]);
    }
    let planned = if in_rows {
        rows(&order, saw)
    } else {
        stick_ends(&order, saw)
    };
    let mut faults = Vec::from_iter(heights(&planned.settings, machine, powered.highest));
    faults.extend(stops(&planned.settings, machine));
    faults.extend(planned.sticks.is_empty().then(|| nothing_reached(&planned)));
    if !faults.is_empty() {
        return Err(faults);
    }
    let warnings = steep(&planned.settings).into_iter().collect();
    let ridge = floor_ridge(machine.blade.kerf, machine.blade.tooth);
    let sticks = &mitres.sticks;
    let plan = MitrePlan {
        title: panel.design().title.clone(),
        machine: name.to_owned(),
        way,
        measured_stock: stock_of(panel),
        measured_figures: measured_figures(&machine.measured),
        kerf_mm: machine.blade.kerf,
        thickness_mm: saw.thickness,
        depth_mm: order.depth(),
        skin: in_rows.then(|| SkinFigures {
            set_mm: sticks.skin,
            thinnest_mm: sticks.thinnest_skin(),
            thickest_mm: sticks.thickest_skin(ridge),
        }),
        stop: order.stop(),
        as_it_stands: as_it_stands(&order, &planned.settings),
        facets_left: planned.left.iter().map(|left| left.facets).sum(),
        block_cuts: block_cuts(&planned),
        errors: errors(&planned.settings, machine),
        facets_cut: planned.facets_cut,
        sticks: planned.sticks,
        settings: planned.settings,
        left: planned.left,
    };
    Ok((plan, warnings))
}

/// Cuts through blocks of all sticks.
fn block_cuts(planned: &Planned) -> usize {
    let of = |setting: &MitreSetting| -> usize {
        let sticks = planned.sticks.iter();
        sticks.map(|sticks| setting.cuts_of(sticks)).sum()
    };
    planned.settings.iter().map(of).sum()
}

/// For each angle of the mitres, the sharpest first.
///
/// The left side of every kerf stands where its stop puts it; a kerf wider by d moves its right
/// side by d / sin J, and with it the facets of the piece on that side. Stops that are off by d,
/// one to either side, move facets that meet at an angle J with the axis apart by 2 d along it, and
/// the ridge by half of that times tan J across.
fn errors(settings: &[MitreSetting], sled: &Sled) -> Vec<MitreErrors> {
    let repeats = sled.stop.map_or(0.0, |stop| stop.repeatability);
    let mitres = settings.iter().filter(|setting| !setting.is_lap());
    let mut angles: Vec<f64> = mitres.map(|setting| setting.fence.to_blade).collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let slanted = angles.into_iter().filter(|angle| angle.cos() > 1e-9);
    slanted
        .map(|jig_angle| MitreErrors {
            jig_angle,
            shorter_by_kerf_mm: KERF_OFF_MM / jig_angle.sin(),
            ridge_by_stops_mm: repeats * jig_angle.tan(),
        })
        .collect()
}

/// Whether the first setting's fence is that of the strips' last one.
fn as_it_stands(order: &MitreOrder<'_>, settings: &[MitreSetting]) -> bool {
    let first = settings
        .first()
        .map(|setting| Slant(setting.fence.cut_angle));
    let stands = order.stands();
    first
        .zip(stands)
        .is_some_and(|(first, stands)| first.is(stands))
}

fn by_hand() -> Finding {
    let text = "a hand saw's mitres are not worked out: the pieces are pared on guides";
    Finding::error("hand-saw", "blade.powered", text)
        .hint("write way = \"guides\" in the job's [infill], or name a sled with a motor")
}

fn no_mitres() -> Finding {
    let text = "this profile does not say how mitres are cut on the sled";
    Finding::error("no-mitres", "mitres", text).hint(
        "add a table [mitres], as in `lapwright machine show key-sled`; or write way = \"guides\" \
         in the job's [infill]",
    )
}

fn skin_in_stick(order: &MitreOrder<'_>) -> Option<Finding> {
    let skin = order.mitres.sticks.skin;
    (skin >= order.depth()).then(|| {
        let text = phrase!(
            "a skin of {} leaves nothing to cut of sticks {} deep",
            Mm(skin),
            Mm(order.depth())
        );
        Finding::error("skin-too-thick", "mitres.skin", text)
    })
}

fn nothing_reached(planned: &Planned) -> Finding {
    let sharpest = planned.left.iter().filter_map(LeftForGuides::sharpest);
    let two_angles = |left: &LeftForGuides| left.why == LeftBecause::TwoAngles;
    let (text, hint) = match sharpest.reduce(f64::min) {
        Some(angle) => (
            phrase!(
                "no end of a piece can be cut here: {} between sticks and blade is out of this fence's reach",
                Rad(angle)
            ),
            "a fence that turns (swing), a board square to it (cross_board) or a wedge (wedge) in the \
             profile; or way = \"guides\" in the job's [infill]",
        ),
        None if planned.left.iter().any(two_angles) => (
            phrase!(
                "no end of a piece can be cut here: its two facets have two angles, and a stick's end is cut with one"
            ),
            "way = \"rows\" or way = \"guides\" in the job's [infill]",
        ),
        None if planned
            .left
            .iter()
            .all(|left| left.why == LeftBecause::Mouth) =>
        {
            (
                phrase!(
                    "no end of a piece can be cut here: all are birds' mouths, and a blade does not stop at an apex"
                ),
                "way = \"guides\" in the job's [infill]",
            )
        }
        None if planned
            .left
            .iter()
            .all(|left| left.why == LeftBecause::Folded) =>
        {
            (
                phrase!(
                    "no end of a piece can be cut here: all are folded strips, whose V's are cut at the bench after their ends"
                ),
                "way = \"guides\" in the job's [infill]",
            )
        }
        None => (
            phrase!("no end of a piece can be cut here: no stick takes one"),
            "a longer longest_stick in the profile's [mitres]; or way = \"guides\" in the job's [infill]",
        ),
    };
    Finding::error("no-mitre-reached", "fence.swing", text).hint(hint)
}

fn heights(settings: &[MitreSetting], sled: &Sled, highest: f64) -> Option<Finding> {
    let tallest = settings.iter().map(|setting| setting.height_above_table_mm);
    let tallest = tallest.reduce(f64::max)?;
    (tallest > highest + SAME_POSITION_MM).then(|| {
        let text = phrase!(
            "the blade would have to stand {} over the table, through a base of {}; it goes to {}",
            Mm(tallest),
            Mm(sled.base_thickness),
            Mm(highest)
        );
        Finding::error("blade-too-low", "blade.highest", text)
            .hint("a thinner base, or a larger blade")
    })
}

/// Stops that the fence does not have: the farthest and the nearest.
fn stops(settings: &[MitreSetting], sled: &Sled) -> Vec<Finding> {
    let Some(stop) = sled.stop else {
        let text = "the sled has no stop to place a stick by";
        return vec![Finding::error("no-stop", "stop", text)];
    };
    let all = || {
        settings
            .iter()
            .flat_map(|setting| &setting.work)
            .flat_map(|work| &work.stops_mm)
    };
    let mut faults = Vec::new();
    if let Some(far) = all()
        .copied()
        .reduce(f64::max)
        .filter(|far| *far > stop.farthest)
    {
        let text = phrase!(
            "a row needs the stop's face {} from the kerf; this stop reaches {}",
            Mm(far),
            Mm(stop.farthest)
        );
        let fault = Finding::error("stop-out-of-reach", "stop.farthest", text);
        faults.push(fault.hint("shorter sticks: longest_stick in [mitres]"));
    }
    if let Some(near) = all()
        .copied()
        .reduce(f64::min)
        .filter(|near| *near < stop.nearest)
    {
        let text = phrase!(
            "a row needs the stop's face {} from the kerf; this stop comes as near as {}",
            Mm(near),
            Mm(stop.nearest)
        );
        let fault = Finding::error("stop-out-of-reach", "stop.nearest", text);
        faults.push(fault.hint("more grip at the sticks' ends: grip in [mitres]"));
    }
    faults
}

/// Sticks that lie more along the blade than across it.
fn steep(settings: &[MitreSetting]) -> Option<Finding> {
    let steepest = settings.iter().map(|setting| setting.fence.from_square);
    let steepest = steepest.reduce(f64::max)?;
    (steepest > FRAC_PI_4 + 1e-9).then(|| {
        let text = phrase!(
            "sticks lie {} from square, more along the blade than across it",
            Rad(steepest)
        );
        Finding::warning("steep-fence", "fence.swing", text).hint(
            "see with the saw off that sticks, clamps and hands stay clear of the blade over all of \
             the travel",
        )
    })
}
