//! What a notching program has to do, from the job's geometry and the router's profile alone.

use super::inputs::{Comments, DwellUnit, ExpectedNotch, KeepOut, Limits, Workpiece};
use crate::dialects;
use crate::lattice::{Bundle, Face, Lattice};
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

/// How a bundle lies on the machine, and what is to be done to it there. Numbers of notches count
/// from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// How many strips the program is for, those of other bundles included that share it.
    pub strips: usize,
    /// The face that lies up.
    pub face: Face,
    /// Whether the bundle's datum end lies away from the stop: places count from its far end then.
    pub far_end: bool,
    /// The notches to be cut; all at one angle.
    pub notches: Vec<usize>,
    /// Those that earlier programs have cut from the same face.
    pub before: Vec<usize>,
    /// The notch on the key; none where the front strip's end lies against the stop.
    pub on_key: Option<usize>,
}

impl Held {
    /// All notches of a bundle that enter one face, cut in one go.
    pub fn all(bundle: &Bundle) -> Held {
        Held {
            strips: bundle.strips.len(),
            far_end: false,
            face: bundle.face().unwrap_or(Face::Front),
            notches: (1..=bundle.notches.len()).collect(),
            before: Vec::new(),
            on_key: None,
        }
    }
}

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

impl Task {
    /// One run of a bundle, and of those that share its program: as many strips as the fixture holds, shared out evenly over as few
    /// runs as they need.
    pub fn of(lattice: &Lattice, bundle: &Bundle, router: &Router, held: &Held) -> Task {
        let thickness = lattice.section.thickness;
        let total = held.strips.max(1);
        let [front, back] = router.fixture.backers;
        let room = router.fixture.widest_bundle - front - back;
        let fits = (1..=total)
            .rev()
            .find(|n| (*n == 1 || !router.fixture.single) && *n as f64 * thickness <= room + 1e-6);
        let runs = total.div_ceil(fits.unwrap_or(1));
        let count = total.div_ceil(runs);
        let mut workpiece =
            Workpiece::plain(count, thickness, lattice.section.depth, bundle.length);
        workpiece.backers_mm = [front, back];
        let expected = notches(bundle, held, &held.notches);
        if let Some(notch) = expected.first() {
            let angle = notch.angle_rad;
            workpiece.step_back_mm = thickness * angle.cos() / angle.sin();
        }
        let on_key = notches(bundle, held, held.on_key.as_slice());
        if let (Some(notch), Some(key)) = (on_key.first(), router.fixture.key) {
            // The key is measured where it comes out of the front strip, half its thickness before
            // its centre line.
            let [near, far] = notch.ends(-thickness / 2.0);
            workpiece.datum_mm = key.x - router.fixture.zero_x - (near + far) / 2.0;
        }
        workpiece.cut_before = notches(bundle, held, &held.before);
        Task {
            limits: limits(router, &workpiece),
            expected,
            workpiece,
        }
    }
}

/// Notches as they lie in the program's frame: seen from the face that they enter, a strip whose
/// back lies up has been rolled over about its own length. Turned end for end as well it keeps its
/// slants, as half a turn about an upright axis takes every direction to its opposite.
fn notches(bundle: &Bundle, held: &Held, numbers: &[usize]) -> Vec<ExpectedNotch> {
    let found = |number: &usize| {
        let notch = bundle.notches.get(number.checked_sub(1)?)?;
        Some(ExpectedNotch {
            index: *number,
            centre_mm: if held.far_end {
                bundle.length - notch.centre
            } else {
                notch.centre
            },
            width_mm: notch.width,
            depth_mm: notch.depth,
            angle_rad: match held.face {
                Face::Front => notch.angle,
                Face::Back => std::f64::consts::PI - notch.angle,
            },
        })
    };
    numbers.iter().filter_map(found).collect()
}

/// What the strips' ends lie against, and what holds them: nothing passes there in line with a strip.
fn beyond_ends(workpiece: &Workpiece, top: f64) -> Vec<KeepOut> {
    let thickness = workpiece.thickness_mm;
    let level = workpiece.step_back_mm.abs() < 1e-9;
    // Strips that end at one place have one stop.
    let (groups, wide) = if level {
        (1, workpiece.count as f64 * thickness)
    } else {
        (workpiece.count, thickness)
    };
    let ends = |group: usize| {
        let start = workpiece.strip_start(group);
        let front = group as f64 * thickness;
        let beyond = |name: &str, from: f64, to: f64| KeepOut {
            name: name.to_owned(),
            low: [from, front, -FAR_MM],
            high: [to, front + wide, top],
        };
        [
            beyond("the stop at the datum end", -FAR_MM, start),
            beyond(
                "what is at the far end",
                start + workpiece.length_mm,
                FAR_MM,
            ),
        ]
    };
    (0..groups).flat_map(ends).collect()
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

fn limits(router: &Router, workpiece: &Workpiece) -> Limits {
    let fixture = &router.fixture;
    let width = workpiece.count as f64 * workpiece.thickness_mm;
    let [[left, right], _] = workpiece.hull();
    let [front, back] = workpiece.backers_mm;
    let beside = |name: &str, low: f64, high: f64| KeepOut {
        name: name.to_owned(),
        low: [-FAR_MM, low, -FAR_MM],
        high: [FAR_MM, high, fixture.clamp_height],
    };
    let far = |name: &str, low: f64, high: f64| KeepOut {
        name: name.to_owned(),
        low: [low, -FAR_MM, -FAR_MM],
        high: [high, FAR_MM, fixture.clamp_height],
    };
    let machine = machine_limits(router);
    let (before, behind) = (
        -front - fixture.clear_beside,
        width + back + fixture.clear_beside,
    );
    Limits {
        keep_outs: [
            beside("the fixture before the bundle", -FAR_MM, before),
            beside("the fixture behind the bundle", behind, FAR_MM),
            // Room for the tool is known beside the bundle only.
            far(
                "the fixture at the datum end",
                -FAR_MM,
                left - fixture.clear_ends,
            ),
            far(
                "the fixture at the far end",
                right + fixture.clear_ends,
                FAR_MM,
            ),
        ]
        .into_iter()
        .chain(beyond_ends(workpiece, fixture.clamp_height))
        .chain(machine.keep_outs)
        .collect(),
        table_z_mm: Some(-workpiece.depth_mm),
        ..machine
    }
}

/// What the machine can do, whatever lies on it, and the clamps that stand on it.
pub(super) fn machine_limits(router: &Router) -> Limits {
    let Router {
        travel,
        tool,
        spindle,
        cutting,
        fixture,
        controller,
    } = router;
    let clamps = fixture.clamps.iter().map(|clamp| KeepOut {
        name: clamp.name.clone(),
        low: [clamp.x[0], clamp.y[0], -FAR_MM],
        high: [clamp.x[1], clamp.y[1], clamp.top],
    });
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
