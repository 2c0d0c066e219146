//! What a notching program has to do, from the job's geometry and the router's profile alone.

use super::router_limits::{EVERYWHERE, FAR_MM, machine_limits, standing};
use crate::lattice::{Bundle, Face, Lattice};
use crate::machines::Router;
use crate::verification::limits::{KeepOut, Limits};
use crate::verification::workpiece::{ExpectedNotch, Workpiece};

/// A bundle on a router, as a proof is told of it.
#[derive(Debug, Clone)]
pub struct NotchingTask {
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
pub struct HeldBundle {
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

impl HeldBundle {
    /// All notches of a bundle that enter one face, cut in one go.
    pub fn all(bundle: &Bundle) -> HeldBundle {
        HeldBundle {
            strips: bundle.strips.len(),
            far_end: false,
            face: bundle.face().unwrap_or(Face::Front),
            notches: (1..=bundle.notches.len()).collect(),
            before: Vec::new(),
            on_key: None,
        }
    }
}

impl NotchingTask {
    /// One run of a bundle, and of those that share its program: as many strips as the fixture holds, shared out evenly over as few
    /// runs as they need.
    pub fn of(
        lattice: &Lattice,
        bundle: &Bundle,
        router: &Router,
        held: &HeldBundle,
    ) -> NotchingTask {
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
        NotchingTask {
            limits: limits(router, &workpiece),
            expected,
            workpiece,
        }
    }
}

/// Notches as they lie in the program's frame: seen from the face that they enter, a strip whose
/// back lies up has been rolled over about its own length. Turned end for end as well it keeps its
/// slants, as half a turn about an upright axis takes every direction to its opposite.
fn notches(bundle: &Bundle, held: &HeldBundle, numbers: &[usize]) -> Vec<ExpectedNotch> {
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
    let mut beyond = Vec::new();
    for group in 0..groups {
        let start = workpiece.strip_start(group);
        let end = start + workpiece.length_mm;
        let front = group as f64 * thickness;
        let y = [front, front + wide];
        beyond.push(standing(
            "the stop at the datum end",
            [-FAR_MM, start],
            y,
            top,
        ));
        beyond.push(standing("what is at the far end", [end, FAR_MM], y, top));
    }
    beyond
}

fn limits(router: &Router, workpiece: &Workpiece) -> Limits {
    let fixture = &router.fixture;
    let width = workpiece.count as f64 * workpiece.thickness_mm;
    let [[left, right], _] = workpiece.hull();
    let [front, back] = workpiece.backers_mm;
    let before = [-FAR_MM, -front - fixture.clear_beside];
    let behind = [width + back + fixture.clear_beside, FAR_MM];
    let at_datum = [-FAR_MM, left - fixture.clear_ends];
    let at_far_end = [right + fixture.clear_ends, FAR_MM];
    let top = fixture.clamp_height;
    let machine = machine_limits(router);
    let mut keep_outs = vec![
        standing("the fixture before the bundle", EVERYWHERE, before, top),
        standing("the fixture behind the bundle", EVERYWHERE, behind, top),
        // Room for the tool is known beside the bundle only.
        standing("the fixture at the datum end", at_datum, EVERYWHERE, top),
        standing("the fixture at the far end", at_far_end, EVERYWHERE, top),
    ];
    keep_outs.extend(beyond_ends(workpiece, top));
    keep_outs.extend(machine.keep_outs);
    Limits {
        keep_outs,
        table_z_mm: Some(-workpiece.depth_mm),
        ..machine
    }
}
