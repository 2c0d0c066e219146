//! Machine profiles.

use super::fields::{Fields, with_document};
use super::job::optional;
use super::source::{Source, Unreadable};
use crate::dialects::{Controller, DwellUnit, PathMode, ProgramEnd};
use crate::finding::Finding;
use crate::machines::{
    Blade, Colours, Cutting, Fixture, Guides, Laser, Machine, MachineKind, Powered, Rack, Router,
    Sheet, Sled, Slot, Spacers, Spindle, Stop, Tool, Tooth, Travel,
};
use crate::phrase;
use crate::units::{Kind, Mm};
use std::num::NonZeroU8;

/// A profile that was read.
#[derive(Debug, Clone)]
pub struct MachineProfile {
    /// What jobs call it: the shipped name, or the path.
    pub name: String,
    /// One line about it.
    pub about: String,
    /// The machine.
    pub machine: Machine,
    /// Where findings about it point.
    pub source: Source,
}

/// Reads a profile's text; `name` is what messages call it.
///
/// # Errors
/// All that is wrong with it.
pub fn read_machine(name: &str, text: &str) -> Result<MachineProfile, Unreadable> {
    let (log, read) = with_document(name, text, |top| {
        let about = top.required_text("about");
        let machine = match top.required_choice("kind", MachineKind::ALL) {
            Some(MachineKind::Sled) => read_sled(&top).map(Machine::Sled),
            Some(MachineKind::Guides) => read_guides(&top).map(Machine::Guides),
            Some(MachineKind::Router) => read_router(&top).map(Machine::Router),
            Some(MachineKind::Laser) => read_laser(&top).map(Machine::Laser),
            // Without a kind nobody knows which keys belong here.
            None => return None,
        };
        top.finish();
        Some((about?, machine?))
    });
    let ((about, machine), source) = log.outcome(read)?;
    Ok(MachineProfile {
        name: name.to_owned(),
        about,
        machine,
        source,
    })
}

/// A length that must be above zero.
fn size(fields: &Fields<'_>, key: &'static str) -> Option<f64> {
    above_zero(fields, key, Kind::Length)
}

fn above_zero(fields: &Fields<'_>, key: &'static str, kind: Kind) -> Option<f64> {
    let value = fields.required_quantity(key, kind)?;
    if value > 0.0 {
        return Some(value);
    }
    fields.report(Finding::error(
        "not-positive",
        fields.path(key),
        "this must be above zero",
    ));
    None
}

/// Reports `low` if it is above `high`.
fn in_order(
    fields: &Fields<'_>,
    low: (&'static str, Option<f64>),
    high: (&'static str, Option<f64>),
) {
    if let (Some(least), Some(most)) = (low.1, high.1)
        && least > most
    {
        let message = format!("`{}` is above `{}`", low.0, high.0);
        fields.report(Finding::error("wrong-order", fields.path(low.0), message));
    }
}

fn read_sled(top: &Fields<'_>) -> Option<Sled> {
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
        stop: stop?,
        spacers: spacers?,
        rack: rack?,
    })
}

/// A table that may be left out: `Some(None)` then, `None` where it is there and wrong.
fn part<T>(
    top: &Fields<'_>,
    key: &'static str,
    read: impl FnOnce(Fields<'_>) -> Option<T>,
) -> Option<Option<T>> {
    if top.has(key) {
        top.table(key).and_then(read).map(Some)
    } else {
        Some(None)
    }
}

fn read_blade(fields: Fields<'_>) -> Option<Blade> {
    let kerf = size(&fields, "kerf");
    let overlap = size(&fields, "overlap");
    if let (Some(kerf), Some(overlap)) = (kerf, overlap)
        && overlap >= kerf
    {
        let message = phrase![
            "an overlap of ",
            Mm(overlap),
            " leaves nothing of a kerf of ",
            Mm(kerf)
        ];
        fields.report(Finding::error(
            "overlap-too-large",
            fields.path("overlap"),
            message,
        ));
    }
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
        Some(true) => {
            let diameter = size(&fields, "diameter");
            let highest = size(&fields, "highest");
            let travel = size(&fields, "travel");
            if let (Some(diameter), Some(highest)) = (diameter, highest)
                && highest >= diameter / 2.0
            {
                let message = phrase![
                    "no blade of ",
                    Mm(diameter),
                    " stands ",
                    Mm(highest),
                    " over its table"
                ];
                fields.report(
                    Finding::error("blade-too-high", fields.path("highest"), message)
                        .hint("it is less than half the diameter"),
                );
            }
            diameter
                .zip(highest)
                .zip(travel)
                .map(|((diameter, highest), travel)| {
                    Some(Powered {
                        diameter,
                        highest,
                        travel,
                    })
                })
        }
        Some(false) => Some(None),
        None => None,
    };
    fields.finish();
    Some(Blade {
        kerf: kerf?,
        overlap: overlap?,
        tooth: tooth?,
        powered: powered?,
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
            let message = phrase![
                "a slot called ",
                Mm(nominal),
                " cannot measure ",
                Mm(measured)
            ];
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
    let slots = nominal.iter().zip(measured);
    sound.then(|| {
        slots
            .map(|(&nominal, &measured)| Slot { nominal, measured })
            .collect()
    })
}

fn read_guides(top: &Fields<'_>) -> Option<Guides> {
    let fields = top.required_table("guides")?;
    let angles = fields.quantities("angles", Kind::Angle);
    if !fields.has("angles") {
        fields.report(
            Finding::error("missing", fields.path("angles"), "this is missing")
                .hint("add `angles`, such as [\"22.5 deg\", \"45 deg\"]"),
        );
    }
    for (at, angle) in angles.iter().flatten().enumerate() {
        if !(*angle > 0.0 && *angle < std::f64::consts::FRAC_PI_2) {
            fields.report(Finding::error(
                "angle-out-of-range",
                format!("{}[{at}]", fields.path("angles")),
                "a jig angle lies between 0 and 90 deg",
            ));
        }
    }
    let nearest = fields.required_quantity("stop_nearest", Kind::Length);
    let farthest = size(&fields, "stop_farthest");
    in_order(
        &fields,
        ("stop_nearest", nearest),
        ("stop_farthest", farthest),
    );
    let block_length = size(&fields, "block_length");
    fields.finish();
    Some(Guides {
        angles: angles?,
        stop_nearest: nearest?,
        stop_farthest: farthest?,
        block_length: block_length?,
    })
}

fn read_laser(top: &Fields<'_>) -> Option<Laser> {
    let beam = top.required_table("laser").and_then(|fields| {
        let kerf = fields.required_quantity("kerf", Kind::Length);
        let thickest = size(&fields, "thickest");
        let label_height = optional(&fields, "label_height", Kind::Length, 0.0);
        fields.finish();
        Some((kerf?, thickest?, label_height?))
    });
    let sheet = top.required_table("sheet").and_then(|fields| {
        let length = size(&fields, "length");
        let width = size(&fields, "width");
        let margin = fields.required_quantity("margin", Kind::Length);
        let gap = fields.required_quantity("gap", Kind::Length);
        fields.finish();
        Some(Sheet {
            length: length?,
            width: width?,
            margin: margin?,
            gap: gap?,
        })
    });
    let colours = top.required_table("colours").and_then(|fields| {
        let colour = |key| {
            let number = fields.required_count(key, 1..=255)?;
            u8::try_from(number).ok().and_then(NonZeroU8::new)
        };
        let (mark, inner, outer) = (colour("mark"), colour("inner"), colour("outer"));
        fields.finish();
        Some(Colours {
            mark: mark?,
            inner: inner?,
            outer: outer?,
        })
    });
    if let (Some((kerf, ..)), Some(sheet)) = (beam, sheet)
        && sheet.gap < kerf + LEAST_BRIDGE_MM
    {
        let message = phrase![
            "a gap of ",
            Mm(sheet.gap),
            " leaves less than ",
            Mm(LEAST_BRIDGE_MM),
            " between two kerfs of ",
            Mm(kerf)
        ];
        top.report(
            Finding::error("gap-too-small", "sheet.gap", message).hint(phrase![
                "make it ",
                Mm(kerf + LEAST_BRIDGE_MM),
                " or more"
            ]),
        );
    }
    let (kerf, thickest, label_height) = beam?;
    Some(Laser {
        kerf,
        thickest,
        sheet: sheet?,
        colours: colours?,
        label_height,
    })
}

/// Least wood between two laser cuts that does not burn through. Common practice, no source, mm.
const LEAST_BRIDGE_MM: f64 = 0.5;

fn read_router(top: &Fields<'_>) -> Option<Router> {
    let travel = top.required_table("travel").and_then(|fields| {
        let (x, y, z) = (size(&fields, "x"), size(&fields, "y"), size(&fields, "z"));
        let fastest_feed = above_zero(&fields, "fastest_feed", Kind::Feed);
        let rapid = above_zero(&fields, "rapid", Kind::Feed);
        let acceleration = above_zero(&fields, "acceleration", Kind::Acceleration);
        fields.finish();
        Some(Travel {
            x: x?,
            y: y?,
            z: z?,
            fastest_feed: fastest_feed?,
            rapid: rapid?,
            acceleration: acceleration?,
        })
    });
    let tool = top.required_table("tool").and_then(|fields| {
        let diameter = size(&fields, "diameter");
        let flutes = fields.required_count("flutes", 1..=8);
        let flute_length = size(&fields, "flute_length");
        fields.finish();
        Some(Tool {
            diameter: diameter?,
            flutes: flutes?,
            flute_length: flute_length?,
        })
    });
    let spindle = top.required_table("spindle").and_then(read_spindle);
    let cutting = top.required_table("cutting").and_then(read_cutting);
    let fixture = top.required_table("fixture").and_then(|fields| {
        let zero_x = fields.required_quantity("zero_x", Kind::Length);
        let zero_y = fields.required_quantity("zero_y", Kind::Length);
        let widest_bundle = size(&fields, "widest_bundle");
        let clear_beside = size(&fields, "clear_beside");
        let clamp_height = fields.required_quantity("clamp_height", Kind::Length);
        fields.finish();
        Some(Fixture {
            zero_x: zero_x?,
            zero_y: zero_y?,
            widest_bundle: widest_bundle?,
            clear_beside: clear_beside?,
            clamp_height: clamp_height?,
        })
    });
    let controller = top.required_table("controller").and_then(read_controller);
    if let (Some(cutting), Some(fixture)) = (&cutting, &fixture)
        && cutting.safe_height <= fixture.clamp_height
    {
        let message = phrase![
            "moves at ",
            Mm(cutting.safe_height),
            " do not clear clamps ",
            Mm(fixture.clamp_height),
            " high"
        ];
        top.report(
            Finding::error("below-clamps", "cutting.safe_height", message)
                .hint("make the safe height larger than fixture.clamp_height"),
        );
    }
    Some(Router {
        travel: travel?,
        tool: tool?,
        spindle: spindle?,
        cutting: cutting?,
        fixture: fixture?,
        controller: controller?,
    })
}

fn read_spindle(fields: Fields<'_>) -> Option<Spindle> {
    let slowest = above_zero(&fields, "slowest", Kind::Spin);
    let fastest = above_zero(&fields, "fastest", Kind::Spin);
    in_order(&fields, ("slowest", slowest), ("fastest", fastest));
    let speed = above_zero(&fields, "speed", Kind::Spin);
    let spin_up = above_zero(&fields, "spin_up", Kind::Time);
    fields.finish();
    Some(Spindle {
        slowest: slowest?,
        fastest: fastest?,
        speed: speed?,
        spin_up: spin_up?,
    })
}

fn read_cutting(fields: Fields<'_>) -> Option<Cutting> {
    let chip_load = size(&fields, "chip_load");
    let plunge_feed = above_zero(&fields, "plunge_feed", Kind::Feed);
    let depth_per_pass = size(&fields, "depth_per_pass");
    let run_out = size(&fields, "run_out");
    let wall_allowance = fields.required_quantity("wall_allowance", Kind::Length);
    let safe_height = size(&fields, "safe_height");
    fields.finish();
    Some(Cutting {
        chip_load: chip_load?,
        plunge_feed: plunge_feed?,
        depth_per_pass: depth_per_pass?,
        run_out: run_out?,
        wall_allowance: wall_allowance?,
        safe_height: safe_height?,
    })
}

fn read_controller(fields: Fields<'_>) -> Option<Controller> {
    let decimals = fields.required_count("decimals", 2..=4);
    let dwell = fields.required_choice(
        "dwell",
        &[
            ("seconds", DwellUnit::Seconds),
            ("milliseconds", DwellUnit::Milliseconds),
        ],
    );
    let program_end = fields.required_choice(
        "program_end",
        &[("M2", ProgramEnd::M2), ("M30", ProgramEnd::M30)],
    );
    let path_modes = [
        ("exact-path", PathMode::ExactPath),
        ("continuous", PathMode::Continuous),
    ];
    let path_mode = fields.choice("path_mode", &path_modes);
    let line_numbers = fields.flag("line_numbers").unwrap_or(false);
    let percent_signs = fields.flag("percent_signs").unwrap_or(false);
    let longest_line = fields.required_count("longest_line", 40..=256);
    fields.finish();
    Some(Controller {
        decimals: decimals?,
        dwell: dwell?,
        program_end: program_end?,
        path_mode,
        line_numbers,
        percent_signs,
        longest_line: longest_line? as usize,
    })
}
