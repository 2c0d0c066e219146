//! Profiles of sleds and bench hooks.

use super::{in_order, part, size};
use crate::finding::Finding;
use crate::machines::{Blade, Powered, Rack, Sled, Slot, Spacers, Stop, Tooth};
use crate::phrase;
use crate::reading::fields::Fields;
use crate::reading::job::optional;
use crate::units::{Kind, Mm, Rad, UnitSystem};
use std::f64::consts::FRAC_PI_2;

pub(super) fn read_sled(top: &Fields<'_>) -> Option<Sled> {
    let blade = top.required_table("blade").and_then(read_blade);
    let body = top.required_table("sled").and_then(|fields| {
        let base_thickness = size(&fields, "base_thickness");
        let widest_block = size(&fields, "widest_block");
        let shortest = size(&fields, "shortest_strip");
        let longest = size(&fields, "longest_strip");
        in_order(
            &fields,
            ("shortest_strip", shortest),
            ("longest_strip", longest),
        );
        let correction = optional(&fields, "height_correction", Kind::SignedLength, 0.0);
        fields.finish();
        Some((
            base_thickness?,
            widest_block?,
            shortest?,
            longest?,
            correction?,
        ))
    });
    let stop = part(top, "stop", read_stop);
    let swing = part(top, "fence", read_fence);
    let spacers = part(top, "spacers", |fields| {
        let tolerance = fields.required_quantity("tolerance", Kind::Length);
        fields.finish();
        Some(Spacers {
            tolerance: tolerance?,
        })
    });
    let rack = part(top, "rack", read_rack);
    if matches!(stop, Some(None)) {
        let message = "a sled without a stop has nothing to place the first notch by";
        top.report(
            Finding::error("missing", "stop", message)
                .hint("add a table [stop] with nearest, farthest and repeatability"),
        );
    }
    let (base_thickness, widest_block, shortest_strip, longest_strip, height_correction) = body?;
    Some(Sled {
        blade: blade?,
        base_thickness,
        widest_block,
        shortest_strip,
        longest_strip,
        height_correction,
        swing: swing?.unwrap_or(0.0),
        stop: stop?,
        spacers: spacers?,
        rack: rack?,
    })
}

fn read_blade(fields: Fields<'_>) -> Option<Blade> {
    let kerf = size(&fields, "kerf");
    let bevelled =
        fields.required_choice("tooth", &[("flat-top", false), ("alternate-bevel", true)]);
    let tooth = match bevelled {
        Some(true) => fields
            .required_quantity("bevel", Kind::Angle)
            .and_then(|bevel| {
                if bevel < std::f64::consts::FRAC_PI_4 {
                    return Some(Tooth::AlternateBevel(bevel));
                }
                fields.report(Finding::error(
                    "bevel-too-steep",
                    fields.path("bevel"),
                    "a tooth's bevel is below 45 deg",
                ));
                None
            }),
        Some(false) => Some(Tooth::FlatTop),
        None => None,
    };
    let powered = match fields.required_flag("powered") {
        Some(true) => read_powered(&fields, kerf).map(Some),
        Some(false) => Some(None),
        None => None,
    };
    fields.finish();
    Some(Blade {
        kerf: kerf?,
        tooth: tooth?,
        powered: powered?,
    })
}

/// What only a saw with a motor has.
fn read_powered(fields: &Fields<'_>, kerf: Option<f64>) -> Option<Powered> {
    let diameter = size(fields, "diameter");
    let highest = size(fields, "highest");
    let travel = size(fields, "travel");
    let overlap = size(fields, "overlap");
    if let (Some(kerf), Some(overlap)) = (kerf, overlap)
        && overlap >= kerf
    {
        let message = phrase!(
            "an overlap of {} leaves nothing of a kerf of {}",
            Mm(overlap),
            Mm(kerf)
        );
        let fault = Finding::error("overlap-too-large", fields.path("overlap"), message);
        fields.report(fault);
    }
    if let (Some(diameter), Some(highest)) = (diameter, highest)
        && highest >= diameter / 2.0
    {
        let message = phrase!(
            "no blade of {} stands {} over its table",
            Mm(diameter),
            Mm(highest)
        );
        let fault = Finding::error("blade-too-high", fields.path("highest"), message);
        fields.report(fault.hint("it is less than half the diameter"));
    }
    Some(Powered {
        diameter: diameter?,
        highest: highest?,
        travel: travel?,
        overlap: overlap?,
    })
}

fn read_stop(fields: Fields<'_>) -> Option<Stop> {
    let nearest = fields.required_quantity("nearest", Kind::Length);
    let farthest = size(&fields, "farthest");
    in_order(&fields, ("nearest", nearest), ("farthest", farthest));
    let repeatability = fields.required_quantity("repeatability", Kind::Length);
    fields.finish();
    Some(Stop {
        nearest: nearest?,
        farthest: farthest?,
        repeatability: repeatability?,
    })
}

/// How far the fence turns; a fixed one has no swing, or one of 0.
fn read_fence(fields: Fields<'_>) -> Option<f64> {
    let swing = optional(&fields, "swing", Kind::Angle, 0.0);
    if let Some(far) = swing.filter(|swing| *swing >= FRAC_PI_2) {
        let message = phrase!(
            "no fence turns {} from square: at 90 deg it lies along the blade",
            Rad(far)
        );
        let fault = Finding::error("swing-too-far", fields.path("swing"), message);
        fields.report(fault.hint("how far it turns from square, either way: less than 90 deg"));
    }
    fields.finish();
    swing.filter(|swing| *swing < FRAC_PI_2)
}

fn read_rack(fields: Fields<'_>) -> Option<Rack> {
    let nominal = fields.quantities("slots", Kind::Length);
    if !fields.has("slots") {
        fields.report(
            Finding::error("missing", fields.path("slots"), "this is missing").hint(
                "add `slots`: a list of distances from the key's centre to the kerf's centre",
            ),
        );
    }
    let measured = if fields.has("measured") {
        fields.quantities("measured", Kind::Length)
    } else {
        nominal.clone()
    };
    let repeatability = fields.required_quantity("repeatability", Kind::Length);
    let greatest_misfit = fields.required_quantity("greatest_misfit", Kind::Length);
    let slots = nominal
        .zip(measured)
        .and_then(|(nominal, measured)| pair_slots(&fields, &nominal, &measured));
    fields.finish();
    Some(Rack {
        slots: slots?,
        repeatability: repeatability?,
        greatest_misfit: greatest_misfit?,
    })
}

fn pair_slots(fields: &Fields<'_>, nominal: &[f64], measured: &[f64]) -> Option<Vec<Slot>> {
    if nominal.is_empty() {
        fields.report(
            Finding::error(
                "empty-list",
                fields.path("slots"),
                "a rack has at least one slot",
            )
            .hint("leave the table [rack] out if the sled has none"),
        );
        return None;
    }
    if nominal.len() != measured.len() {
        let message = format!(
            "{} measured distances for {} slots",
            measured.len(),
            nominal.len()
        );
        fields.report(
            Finding::error("lists-differ", fields.path("measured"), message)
                .hint("one for each slot, in the same order"),
        );
        return None;
    }
    let mut sound = true;
    for (at, (&nominal, &measured)) in nominal.iter().zip(measured).enumerate() {
        if nominal <= 0.0 || measured <= 0.0 {
            fields.report(Finding::error(
                "not-positive",
                format!("{}[{at}]", fields.path("slots")),
                "a slot's distance must be above zero",
            ));
            sound = false;
        } else if (nominal - measured).abs() > nominal / 10.0 {
            let message = phrase!(
                "a slot called {} cannot measure {}",
                Mm(nominal),
                Mm(measured)
            );
            fields.report(
                Finding::error(
                    "lists-differ",
                    format!("{}[{at}]", fields.path("measured")),
                    message,
                )
                .hint("check the order of the lists and the units"),
            );
            sound = false;
        }
    }
    sound &= told_apart(fields, nominal);
    let slots = nominal.iter().zip(measured);
    sound.then(|| {
        slots
            .map(|(&nominal, &measured)| Slot { nominal, measured })
            .collect()
    })
}

/// Steps name the slot, as it is printed: no two may print alike.
fn told_apart(fields: &Fields<'_>, nominal: &[f64]) -> bool {
    let alike = |a: f64, b: f64| {
        let units = [UnitSystem::Millimetres, UnitSystem::Inches];
        (units.into_iter()).any(|units| Mm(a).figure(units) == Mm(b).figure(units))
    };
    let mut sound = true;
    for (at, &slot) in nominal.iter().enumerate() {
        let mut earlier = nominal.iter().take(at);
        let Some(known) = earlier.position(|&known| alike(known, slot)) else {
            continue;
        };
        let message = phrase!(
            "slots {} and {} are both called {}: at the bench nobody could tell which is meant",
            known + 1,
            at + 1,
            Mm(slot)
        );
        let fault = Finding::error(
            "slots-alike",
            format!("{}[{at}]", fields.path("slots")),
            message,
        );
        fields.report(fault.hint(
            "leave one out; or give one another name, a tenth of a millimetre more, mark the sled \
             with it, and write what both measure into `measured`: that is what counts",
        ));
        sound = false;
    }
    sound
}
