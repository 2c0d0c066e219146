//! What a router can do, from its profile alone.

use crate::dialects;
use crate::machines::Router;
use crate::verification::limits::{Comments, DwellUnit, KeepOut, Limits};

/// Farther than any fixture reaches, mm.
pub(super) const FAR_MM: f64 = 100_000.0;

/// A cut at less than this share of the feed that the profile asks for rubs and burns instead of
/// cutting: common practice, no source.
const LEAST_SHARE: f64 = 0.25;

/// However thin the slices off a wall, a cutter may not be driven faster than this many times its
/// feed: its edges never run quite true. From memory.
const MOST_THINNING: f64 = 2.0;

/// By how much a control may round a corner of the path where the tool touches wood, mm.
const ROUNDING_MM: f64 = 0.005;

/// What stands in a rectangle up to a height.
pub(super) fn standing(name: &str, x: [f64; 2], y: [f64; 2], top: f64) -> KeepOut {
    KeepOut {
        name: name.to_owned(),
        low: [x[0], y[0], -FAR_MM],
        high: [x[1], y[1], top],
    }
}

/// As far as anything can stand along an axis.
pub(super) const EVERYWHERE: [f64; 2] = [-FAR_MM, FAR_MM];

/// What the machine can do, whatever lies on it, and the clamps that stand on it.
pub(super) fn machine_limits(router: &Router) -> Limits {
    let Router {
        travel,
        tool,
        spindle,
        cutting,
        fixture,
        controller,
        mitres: _,
        spread: _,
    } = router;
    let clamps = fixture.clamps.iter();
    let clamps = clamps.map(|clamp| standing(&clamp.name, clamp.x, clamp.y, clamp.top));
    let feed_per_turn = f64::from(tool.flutes) * cutting.chip_load;
    let rpm = spindle.speed.min(spindle.fastest).max(spindle.slowest);
    let feed = (rpm * feed_per_turn).min(travel.fastest_feed);
    Limits {
        tool_diameter_mm: tool.diameter,
        flute_length_mm: Some(tool.flute_length),
        shank_diameter_mm: None,
        holder_mm: tool.holder_diameter.map(|width| [tool.length(), width]),
        travel_mm: Some([[0.0, travel.x], [0.0, travel.y], [-travel.z, 0.0]]),
        program_zero_mm: Some([fixture.zero_x, fixture.zero_y, -cutting.safe_height]),
        max_feed: Some(travel.fastest_feed),
        min_feed: Some(feed * LEAST_SHARE),
        max_plunge: Some(cutting.plunge_feed),
        max_rpm: Some(spindle.fastest),
        min_rpm: Some(spindle.slowest),
        max_depth_per_pass_mm: Some(cutting.depth_per_pass),
        spin_up_s: Some(spindle.spin_up),
        keep_outs: clamps.collect(),
        table_z_mm: None,
        clearance_mm: Some(fixture.clamp_height),
        dwell_unit: Some(match controller.dwell {
            dialects::DwellUnit::Seconds => DwellUnit::Seconds,
            dialects::DwellUnit::Milliseconds => DwellUnit::Milliseconds,
        }),
        max_line_length: Some(controller.longest_line),
        comments: Some(Comments::Parentheses),
        codes_not_taken: not_taken(controller),
        one_zero: !controller.work_zero,
        blending_tolerance_mm: Some(ROUNDING_MM),
        exact_path_ignored: false,
        // Between two rapids, as if at the feed of the cuts.
        unbounded_blend_mm: Some((feed / 60.0).powi(2) / (2.0 * travel.acceleration)),
        acceleration: Some(travel.acceleration),
        max_feed_per_turn_mm: Some(feed_per_turn),
        most_thinning: if cutting.chip_thinning {
            MOST_THINNING
        } else {
            1.0
        },
        zero_is_nominal: true,
    }
}

/// Codes, in tenths, that a controller does not take whose profile asks for nothing of the kind: work
/// zeros, offsets and cycles.
fn not_taken(controller: &dialects::Controller) -> Vec<(char, u32)> {
    const ZEROS: [u32; 9] = [540, 550, 560, 570, 580, 590, 591, 592, 593];
    const OFFSETS_AND_CYCLES: [u32; 8] = [400, 430, 490, 800, 810, 820, 830, 980];
    let zeros = (!controller.work_zero).then_some(ZEROS);
    let others = (!controller.cancels && !controller.work_zero).then_some(OFFSETS_AND_CYCLES);
    let both = zeros
        .into_iter()
        .flatten()
        .chain(others.into_iter().flatten());
    both.map(|code| ('G', code)).collect()
}
