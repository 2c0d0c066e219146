//! Profiles of sleds and bench hooks.

use super::long_sticks::read_sled_mitres;
use super::spread::{Scatters, read_spread};
use crate::finding::Finding;
use crate::machines::{Blade, Powered, Rack, RackSlot, Sled, Spacers, Stop, Tooth};
use crate::phrase;
use crate::reading::fields::{Bound, Fields};
use crate::units::{Kind, Mm, Rad, UnitSystem};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

pub(super) fn read_sled(top: &Fields<'_>) -> Option<Sled> {
    let blade = top.required_table("blade").and_then(read_blade);
    let base = top.required_table("sled").and_then(read_base);
    let stop = top.optional_table("stop", read_stop);
    let swing = top.optional_table("fence", read_fence);
    let spacers = top.optional_table("spacers", |fields| {
        let tolerance = fields.required_quantity("tolerance", Kind::Length);
        fields.finish();
        Some(Spacers {
            tolerance: tolerance?,
        })
    });
    let rack = top.optional_table("rack", read_rack);
    let mitres = top.optional_table("mitres", read_sled_mitres);
    let spread = read_spread(top, Scatters::Sawn);
    top.require(
        "stop",
        "a table with nearest, farthest and repeatability; without a stop nothing places the first notch",
    );
    let base = base?;
    Some(Sled {
        blade: blade?,
        base_thickness: base.thickness,
        widest_block: base.widest_block,
        shortest_strip: base.shortest_strip,
        longest_strip: base.longest_strip,
        height_correction: base.height_correction,
        swing: swing?.unwrap_or(0.0),
        stop: stop?,
        spacers: spacers?,
        rack: rack?,
        mitres: mitres?,
        measured: Vec::new(),
        spread: spread?,
    })
}

/// The table `[sled]`: what strips lie on, and which of them fit.
struct Base {
    thickness: f64,
    widest_block: f64,
    shortest_strip: f64,
    longest_strip: f64,
    height_correction: f64,
}

fn read_base(fields: Fields<'_>) -> Option<Base> {
    let thickness = fields.positive_length("base_thickness");
    let widest_block = fields.positive_length("widest_block");
    let shortest = fields.positive_length("shortest_strip");
    let longest = fields.positive_length("longest_strip");
    fields.check_order(
        Bound::of("shortest_strip", shortest),
        Bound::of("longest_strip", longest),
    );
    let correction = fields.quantity_or("height_correction", Kind::SignedLength, 0.0);
    fields.finish();
    Some(Base {
        thickness: thickness?,
        widest_block: widest_block?,
        shortest_strip: shortest?,
        longest_strip: longest?,
        height_correction: correction?,
    })
}

/// [`Tooth`] without its figures: the word that a profile has for it.
#[derive(Clone, Copy)]
enum ToothForm {
    FlatTop,
    AlternateBevel,
}

fn read_blade(fields: Fields<'_>) -> Option<Blade> {
    let kerf = fields.positive_length("kerf");
    let forms = [
        ("flat-top", ToothForm::FlatTop),
        ("alternate-bevel", ToothForm::AlternateBevel),
    ];
    let tooth = match fields.required_choice("tooth", &forms) {
        Some(ToothForm::FlatTop) => Some(Tooth::FlatTop),
        Some(ToothForm::AlternateBevel) => read_bevel(&fields).map(Tooth::AlternateBevel),
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

fn read_bevel(fields: &Fields<'_>) -> Option<f64> {
    let bevel = fields.required_quantity("bevel", Kind::Angle)?;
    if bevel < FRAC_PI_4 {
        return Some(bevel);
    }
    fields.report(Finding::error(
        "bevel-too-steep",
        fields.path("bevel"),
        "a tooth's bevel is below 45 deg",
    ));
    None
}

/// What only a saw with a motor has.
fn read_powered(fields: &Fields<'_>, kerf: Option<f64>) -> Option<Powered> {
    let diameter = fields.positive_length("diameter");
    let highest = fields.positive_length("highest");
    let travel = fields.positive_length("travel");
    let overlap = fields.positive_length("overlap");
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
    let farthest = fields.positive_length("farthest");
    fields.check_order(
        Bound::of("nearest", nearest),
        Bound::of("farthest", farthest),
    );
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
    let swing = fields.quantity_or("swing", Kind::Angle, 0.0);
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
    fields.require(
        "slots",
        "a list of distances from the key's centre to the kerf's centre",
    );
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

fn pair_slots(fields: &Fields<'_>, nominal: &[f64], measured: &[f64]) -> Option<Vec<RackSlot>> {
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
            .map(|(&nominal, &measured)| RackSlot { nominal, measured })
            .collect()
    })
}

/// Steps name the slot, as it is printed: no two may print alike.
fn told_apart(fields: &Fields<'_>, nominal: &[f64]) -> bool {
    let mut sound = true;
    let units = [UnitSystem::Millimetres, UnitSystem::Inches];
    let printed: Vec<[String; 2]> = (nominal.iter())
        .map(|&slot| units.map(|units| Mm(slot).figure(units)))
        .collect();
    for (at, (&slot, [mm, inches])) in nominal.iter().zip(&printed).enumerate() {
        let mut earlier = printed.iter().take(at);
        // On paper in one system of units or the other.
        let Some(known) = earlier.position(|[one, other]| one == mm || other == inches) else {
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
