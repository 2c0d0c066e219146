//! Profiles of routers.

use super::{in_order, size, within};
use crate::dialects::{Controller, DwellUnit, PathMode, ProgramEnd};
use crate::finding::Finding;
use crate::machines::{Cutting, Fixture, Key, Router, Spindle, Tool, Travel};
use crate::phrase;
use crate::reading::fields::Fields;
use crate::units::{AtLeast, Kind, Mm};

pub(super) fn read_router(top: &Fields<'_>) -> Option<Router> {
    let travel = top.required_table("travel").and_then(|fields| {
        let (x, y, z) = (size(&fields, "x"), size(&fields, "y"), size(&fields, "z"));
        let fastest_feed = feed(&fields, "fastest_feed");
        let rapid = feed(&fields, "rapid");
        let acceleration = within(
            &fields,
            "acceleration",
            Kind::Acceleration,
            "1 mm/s2",
            "100000 mm/s2",
        );
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
        let single = fields.flag("single").unwrap_or(false);
        let key = read_key(&fields);
        fields.finish();
        Some(Fixture {
            zero_x: zero_x?,
            zero_y: zero_y?,
            widest_bundle: widest_bundle?,
            clear_beside: clear_beside?,
            clamp_height: clamp_height?,
            single,
            key,
        })
    });
    let controller = top.required_table("controller").and_then(read_controller);
    if let (Some(cutting), Some(fixture)) = (&cutting, &fixture)
        && cutting.safe_height < fixture.clamp_height + LEAST_CLEARANCE_MM
    {
        let message = phrase!(
            "moves at {} do not clear clamps {} high",
            Mm(cutting.safe_height),
            Mm(fixture.clamp_height)
        );
        let hint = phrase!(
            "make the safe height {} or more, or the clamps lower (fixture.clamp_height)",
            AtLeast(fixture.clamp_height + LEAST_CLEARANCE_MM)
        );
        top.report(Finding::error("below-clamps", "cutting.safe_height", message).hint(hint));
    }
    if let (Some(cutting), Some(tool)) = (&cutting, &tool)
        && cutting.wall_allowance > tool.diameter / 2.0
    {
        let message = phrase!(
            "an allowance of {} is more than half the tool's diameter of {}",
            Mm(cutting.wall_allowance),
            Mm(tool.diameter)
        );
        let finding = Finding::error("allowance-too-large", "cutting.wall_allowance", message);
        top.report(finding.hint("wood would stay between the roughing and the wall passes"));
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

/// The key's place and what it may be off; both or neither.
fn read_key(fields: &Fields<'_>) -> Option<Key> {
    if !fields.has("key_x") && !fields.has("key_error") {
        return None;
    }
    let x = fields.required_quantity("key_x", Kind::Length);
    let error = fields.required_quantity("key_error", Kind::Length);
    Some(Key {
        x: x?,
        error: error?,
    })
}

/// Least height of rapid moves over clamps and stock. Common practice, no source, mm.
const LEAST_CLEARANCE_MM: f64 = 1.0;

/// A feed that whole mm/min can state.
fn feed(fields: &Fields<'_>, key: &'static str) -> Option<f64> {
    within(fields, key, Kind::Feed, "1 mm/min", "100 m/min")
}

/// A whole number of revolutions a minute: what programs state, within the limits or not at all.
fn spin(fields: &Fields<'_>, key: &'static str) -> Option<f64> {
    let speed = within(fields, key, Kind::Spin, "1 rpm", "200000 rpm")?;
    if speed.fract().abs() < f64::EPSILON {
        return Some(speed);
    }
    let message = "a program cannot state a part of a turn";
    let finding = Finding::error("not-whole", fields.path(key), message);
    fields.report(finding.hint("give whole turns a minute"));
    None
}

fn read_spindle(fields: Fields<'_>) -> Option<Spindle> {
    let slowest = spin(&fields, "slowest");
    let fastest = spin(&fields, "fastest");
    in_order(&fields, ("slowest", slowest), ("fastest", fastest));
    let speed = spin(&fields, "speed");
    let spin_up = within(&fields, "spin_up", Kind::Time, "0.1 s", "60 s");
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
    let plunge_feed = feed(&fields, "plunge_feed");
    let depth_per_pass = size(&fields, "depth_per_pass");
    let run_out = within(&fields, "run_out", Kind::Length, "0.5 mm", "100 mm");
    let wall_allowance = size(&fields, "wall_allowance");
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
    let decimals = fields.required_count("decimals", 3..=4);
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
