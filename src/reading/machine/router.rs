//! Profiles of routers.

use super::controller::read_controller;
use super::long_sticks::read_sticks;
use super::spread::{Scatters, read_spread};
use crate::finding::Finding;
use crate::machines::{Clamp, Cutting, Fixture, Key, LongSticks, Router, Spindle, Tool, Travel};
use crate::phrase;
use crate::reading::fields::{Bound, Fields};
use crate::units::{AtLeast, Kind, Mm};

pub(super) fn read_router(top: &Fields<'_>) -> Option<Router> {
    let travel = top.required_table("travel").and_then(read_travel);
    let tool = top.required_table("tool").and_then(read_tool);
    let tool = tool
        .zip(read_measured(top))
        .and_then(|(tool, trim)| as_measured(top, tool, trim));
    let spindle = top.required_table("spindle").and_then(read_spindle);
    let cutting = top.required_table("cutting").and_then(read_cutting);
    let fixture = top.required_table("fixture").and_then(read_fixture);
    let controller = top.required_table("controller").and_then(read_controller);
    let mitres = top.optional_table("mitres", read_mitres);
    let spread = read_spread(top, Scatters::Routed);
    if let (Some(cutting), Some(fixture)) = (&cutting, &fixture) {
        check_safe_height(top, cutting, fixture);
    }
    if let (Some(cutting), Some(tool)) = (&cutting, &tool) {
        check_wall_allowance(top, cutting, tool);
    }
    Some(Router {
        travel: travel?,
        tool: tool?,
        spindle: spindle?,
        cutting: cutting?,
        fixture: fixture?,
        controller: controller?,
        mitres: mitres?,
        spread: spread?,
    })
}

/// Rows of pieces on long sticks.
fn read_mitres(fields: Fields<'_>) -> Option<LongSticks> {
    let sticks = read_sticks(&fields);
    fields.finish();
    sticks
}

fn check_safe_height(top: &Fields<'_>, cutting: &Cutting, fixture: &Fixture) {
    let least = fixture.clamp_height + LEAST_CLEARANCE_MM;
    if cutting.safe_height >= least {
        return;
    }
    let message = phrase!(
        "moves at {} do not clear clamps {} high",
        Mm(cutting.safe_height),
        Mm(fixture.clamp_height)
    );
    let hint = phrase!(
        "make the safe height {} or more, or the clamps lower (fixture.clamp_height)",
        AtLeast(least)
    );
    top.report(Finding::error("below-clamps", "cutting.safe_height", message).hint(hint));
}

fn check_wall_allowance(top: &Fields<'_>, cutting: &Cutting, tool: &Tool) {
    if cutting.wall_allowance <= tool.diameter / 2.0 {
        return;
    }
    let message = phrase!(
        "an allowance of {} is more than half the tool's diameter of {}",
        Mm(cutting.wall_allowance),
        Mm(tool.diameter)
    );
    let finding = Finding::error("allowance-too-large", "cutting.wall_allowance", message);
    top.report(finding.hint("wood would stay between the roughing and the wall passes"));
}

fn read_travel(fields: Fields<'_>) -> Option<Travel> {
    let x = fields.positive_length("x");
    let y = fields.positive_length("y");
    let z = fields.positive_length("z");
    let fastest_feed = feed(&fields, "fastest_feed");
    let rapid = feed(&fields, "rapid");
    let acceleration = fields.quantity_within(
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
}

fn read_tool(fields: Fields<'_>) -> Option<Tool> {
    let diameter = fields.positive_length("diameter");
    let flutes = fields.required_count("flutes", 1..=8);
    let flute_length = fields.positive_length("flute_length");
    let stick_out = fields.quantity("stick_out", Kind::Length);
    let holder_diameter = if fields.has("holder_diameter") {
        fields.positive_length("holder_diameter")
    } else {
        None
    };
    let materials = [("carbide", CARBIDE), ("steel", STEEL)];
    let stiffness = fields.choice("material", &materials).unwrap_or(CARBIDE);
    if let (Some(out), Some(edges)) = (stick_out, flute_length)
        && out < edges
    {
        let message = "the cutter's edges alone are longer than this";
        fields.report(Finding::error(
            "wrong-order",
            fields.path("stick_out"),
            message,
        ));
    }
    fields.finish();
    Some(Tool {
        diameter: diameter?,
        over_edges: diameter?,
        flutes: flutes?,
        flute_length: flute_length?,
        stick_out,
        holder_diameter,
        stiffness,
    })
}

/// The tool with the width that its test notch came out with: `trim` more than programmed, mm.
fn as_measured(top: &Fields<'_>, tool: Tool, trim: f64) -> Option<Tool> {
    if trim.abs() > MOST_TRIM_MM.min(tool.diameter / 4.0) {
        top.report(other_tool(trim));
        return None;
    }
    Some(Tool {
        diameter: tool.diameter + trim,
        ..tool
    })
}

fn read_fixture(fields: Fields<'_>) -> Option<Fixture> {
    let zero_x = fields.required_quantity("zero_x", Kind::Length);
    let zero_y = fields.required_quantity("zero_y", Kind::Length);
    let widest_bundle = fields.positive_length("widest_bundle");
    let clear_beside = fields.positive_length("clear_beside");
    let clear_ends = fields.quantity("clear_ends", Kind::Length);
    let clamp_height = fields.required_quantity("clamp_height", Kind::Length);
    let single = fields.flag("single").unwrap_or(false);
    let key = read_key(&fields);
    let backers = ["backer_front", "backer_back"].map(|width| fields.quantity(width, Kind::Length));
    let clamps = read_clamps(&fields);
    fields.finish();
    Some(Fixture {
        zero_x: zero_x?,
        zero_y: zero_y?,
        widest_bundle: widest_bundle?,
        clear_beside: clear_beside?,
        clear_ends: clear_ends.unwrap_or_default(),
        clamp_height: clamp_height?,
        single,
        key,
        backers: backers.map(Option::unwrap_or_default),
        clamps: clamps?,
    })
}

/// Clamps as tables `[[fixture.clamps]]`.
fn read_clamps(fields: &Fields<'_>) -> Option<Vec<Clamp>> {
    if !fields.has("clamps") {
        return Some(Vec::new());
    }
    fields
        .tables("clamps")?
        .into_iter()
        .map(read_clamp)
        .collect()
}

fn read_clamp(fields: Fields<'_>) -> Option<Clamp> {
    let name = fields.required_text("name");
    let [x_from, x_to, y_from, y_to, top] = ["x_from", "x_to", "y_from", "y_to", "top"]
        .map(|key| fields.required_quantity(key, Kind::SignedLength));
    check_extent(
        &fields,
        Bound::of("x_from", x_from),
        Bound::of("x_to", x_to),
    );
    check_extent(
        &fields,
        Bound::of("y_from", y_from),
        Bound::of("y_to", y_to),
    );
    fields.finish();
    Some(Clamp {
        name: name?,
        x: [x_from?, x_to?],
        y: [y_from?, y_to?],
        top: top?,
    })
}

/// A clamp's sides in one direction: in order, and not the same.
fn check_extent(fields: &Fields<'_>, low: Bound, high: Bound) {
    fields.check_order(low, high);
    if let (Some(from), Some(to)) = (low.value, high.value)
        && (from - to).abs() < f64::EPSILON
    {
        let text = format!(
            "`{}` and `{}` are the same: a clamp has a width",
            low.key, high.key
        );
        fields.report(Finding::error("no-width", fields.path(low.key), text));
    }
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

/// Young's moduli, N/mm^2: cemented carbide 580 to 600 by its makers, here 600; steel 200. From
/// memory.
const CARBIDE: f64 = 600_000.0;
const STEEL: f64 = 200_000.0;

/// A cutter's end that bends aside by more than this spoils a fit: common practice, no source, mm.
const MOST_DEFLECTION_MM: f64 = 0.02;

/// More than this, or a quarter of the diameter, between a test notch and what was programmed is
/// another tool, mm.
const MOST_TRIM_MM: f64 = 0.5;

/// `[measured]`: by how much a test notch came out wider than programmed.
fn read_measured(top: &Fields<'_>) -> Option<f64> {
    if !top.has("measured") {
        return Some(0.0);
    }
    let fields = top.table("measured")?;
    let programmed = fields.positive_length("notch_programmed");
    let measured = fields.positive_length("notch_measured");
    fields.finish();
    Some(measured? - programmed?)
}

fn other_tool(trim: f64) -> Finding {
    let message = phrase!(
        "the test notch came out {} off what was programmed",
        Mm(trim.abs())
    );
    Finding::error("out-of-range", "measured.notch_measured", message)
        .hint("such a difference comes from another tool: give its diameter")
}

/// Least height of rapid moves over clamps and stock. Common practice, no source, mm.
const LEAST_CLEARANCE_MM: f64 = 1.0;

/// A feed that whole mm/min can state.
fn feed(fields: &Fields<'_>, key: &'static str) -> Option<f64> {
    fields.quantity_within(key, Kind::Feed, "1 mm/min", "100 m/min")
}

/// A whole number of revolutions a minute: what programs state, within the limits or not at all.
fn spin(fields: &Fields<'_>, key: &'static str) -> Option<f64> {
    let speed = fields.quantity_within(key, Kind::Spin, "1 rpm", "200000 rpm")?;
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
    fields.check_order(Bound::of("slowest", slowest), Bound::of("fastest", fastest));
    let speed = spin(&fields, "speed");
    let spin_up = fields.quantity_within("spin_up", Kind::Time, "0.1 s", "60 s");
    fields.finish();
    Some(Spindle {
        slowest: slowest?,
        fastest: fastest?,
        speed: speed?,
        spin_up: spin_up?,
    })
}

fn read_cutting(fields: Fields<'_>) -> Option<Cutting> {
    let chip_load = fields.positive_length("chip_load");
    let plunge_feed = feed(&fields, "plunge_feed");
    let depth_per_pass = fields.positive_length("depth_per_pass");
    let run_out = fields.quantity_within("run_out", Kind::Length, "0.5 mm", "100 mm");
    let wall_allowance = fields.positive_length("wall_allowance");
    let safe_height = fields.positive_length("safe_height");
    let floor_allowance = fields.quantity("floor_allowance", Kind::Length);
    let returns_in_air = fields.choice("returns", &[("cutting", false), ("in-air", true)]);
    let spring_pass = fields.flag("spring_pass").unwrap_or(false);
    let short_ways = fields.flag("short_ways").unwrap_or(true);
    let chip_thinning = fields.flag("chip_thinning").unwrap_or(false);
    let most_deflection = if fields.has("most_deflection") {
        fields.positive_length("most_deflection")
    } else {
        None
    };
    if let (Some(floor), Some(depth)) = (floor_allowance, depth_per_pass)
        && floor > depth
    {
        let message = phrase!(
            "an allowance of {} is more than {}, the depth of a pass",
            Mm(floor),
            Mm(depth)
        );
        let finding = Finding::error(
            "allowance-too-large",
            fields.path("floor_allowance"),
            message,
        );
        fields.report(finding.hint("the floor pass would be too deep"));
    }
    fields.finish();
    Some(Cutting {
        chip_load: chip_load?,
        plunge_feed: plunge_feed?,
        depth_per_pass: depth_per_pass?,
        run_out: run_out?,
        wall_allowance: wall_allowance?,
        safe_height: safe_height?,
        floor_allowance: floor_allowance.unwrap_or_default(),
        returns_in_air: returns_in_air.unwrap_or_default(),
        spring_pass,
        short_ways,
        chip_thinning,
        most_deflection: most_deflection.unwrap_or(MOST_DEFLECTION_MM),
    })
}
