//! Profiles of routers.

use super::{above_zero, in_order, size};
use crate::dialects::{Controller, DwellUnit, PathMode, ProgramEnd};
use crate::finding::Finding;
use crate::machines::{Cutting, Fixture, Router, Spindle, Tool, Travel};
use crate::phrase;
use crate::reading::fields::Fields;
use crate::units::{Kind, Mm};

pub(super) fn read_router(top: &Fields<'_>) -> Option<Router> {
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
        let message = phrase!(
            "moves at {} do not clear clamps {} high",
            Mm(cutting.safe_height),
            Mm(fixture.clamp_height)
        );
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
