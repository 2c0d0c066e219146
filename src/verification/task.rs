//! What a notching program has to do, from the job's geometry and the router's profile alone.

use super::inputs::{Comments, DwellUnit, ExpectedNotch, KeepOut, Limits, Workpiece};
use crate::dialects;
use crate::lattice::{Bundle, Lattice};
use crate::machines::Router;

/// A bundle on a router, as a proof is told of it.
#[derive(Debug, Clone)]
pub struct Task {
    /// The clamped strips.
    pub workpiece: Workpiece,
    /// The notches that they need.
    pub expected: Vec<ExpectedNotch>,
    /// What the machine can do.
    pub limits: Limits,
}

/// Farther than any fixture reaches, mm.
const FAR_MM: f64 = 100_000.0;

/// A cut at less than this share of the feed that the profile asks for rubs and burns instead of
/// cutting: common practice, no source.
const LEAST_SHARE: f64 = 0.25;

/// By how much a control may round a corner of the path where the tool touches wood, mm.
const ROUNDING_MM: f64 = 0.005;

impl Task {
    /// One run of a bundle: as many strips as the fixture holds, shared out evenly over as few
    /// runs as they need.
    pub fn of(lattice: &Lattice, bundle: &Bundle, router: &Router) -> Task {
        let thickness = lattice.section.thickness;
        let total = bundle.strips.len().max(1);
        let fits = (1..=total)
            .rev()
            .find(|n| *n as f64 * thickness <= router.fixture.widest_bundle + 1e-6);
        let runs = total.div_ceil(fits.unwrap_or(1));
        let count = total.div_ceil(runs);
        let workpiece = Workpiece::plain(count, thickness, lattice.section.depth, bundle.length);
        let expected = bundle
            .notches
            .iter()
            .zip(1..)
            .map(|(notch, index)| ExpectedNotch {
                index,
                centre_mm: notch.centre,
                width_mm: notch.width,
                depth_mm: notch.depth,
                angle_rad: notch.angle,
            });
        Task {
            expected: expected.collect(),
            limits: limits(router, &workpiece),
            workpiece,
        }
    }
}

fn limits(router: &Router, workpiece: &Workpiece) -> Limits {
    let Router {
        travel,
        tool,
        spindle,
        cutting,
        fixture,
        controller,
    } = router;
    let width = workpiece.count as f64 * workpiece.thickness_mm;
    let beside = |name: &str, low: f64, high: f64| KeepOut {
        name: name.to_owned(),
        low: [-FAR_MM, low, -FAR_MM],
        high: [FAR_MM, high, fixture.clamp_height],
    };
    let feed_per_turn = f64::from(tool.flutes) * cutting.chip_load;
    let rpm = spindle.speed.min(spindle.fastest).max(spindle.slowest);
    let feed = (rpm * feed_per_turn).min(travel.fastest_feed);
    let far = |name: &str, low: f64, high: f64| KeepOut {
        name: name.to_owned(),
        low: [low, -FAR_MM, -FAR_MM],
        high: [high, FAR_MM, fixture.clamp_height],
    };
    Limits {
        tool_diameter_mm: tool.diameter,
        flute_length_mm: Some(tool.flute_length),
        shank_diameter_mm: None,
        travel_mm: Some([[0.0, travel.x], [0.0, travel.y], [-travel.z, 0.0]]),
        program_zero_mm: Some([fixture.zero_x, fixture.zero_y, -cutting.safe_height]),
        max_feed: Some(travel.fastest_feed),
        min_feed: Some(feed * LEAST_SHARE),
        max_plunge: Some(cutting.plunge_feed),
        max_rpm: Some(spindle.fastest),
        min_rpm: Some(spindle.slowest),
        max_depth_per_pass_mm: Some(cutting.depth_per_pass),
        spin_up_s: Some(spindle.spin_up),
        keep_outs: vec![
            beside(
                "the fixture before the bundle",
                -FAR_MM,
                -fixture.clear_beside,
            ),
            beside(
                "the fixture behind the bundle",
                width + fixture.clear_beside,
                FAR_MM,
            ),
            // Room for the tool is known beside the bundle only.
            far("the fixture at the datum end", -FAR_MM, 0.0),
            far("the fixture at the far end", workpiece.length_mm, FAR_MM),
        ],
        table_z_mm: Some(-workpiece.depth_mm),
        clearance_mm: Some(fixture.clamp_height),
        dwell_unit: Some(match controller.dwell {
            dialects::DwellUnit::Seconds => DwellUnit::Seconds,
            dialects::DwellUnit::Milliseconds => DwellUnit::Milliseconds,
        }),
        max_line_length: Some(controller.longest_line),
        comments: Some(Comments::Parentheses),
        codes_not_taken: Vec::new(),
        blending_tolerance_mm: Some(ROUNDING_MM),
        exact_path_ignored: false,
        // Between two rapids, as if at the feed of the cuts.
        unbounded_blend_mm: Some((feed / 60.0).powi(2) / (2.0 * travel.acceleration)),
        acceleration: Some(travel.acceleration),
        max_feed_per_turn_mm: Some(feed_per_turn),
        zero_is_nominal: true,
    }
}
