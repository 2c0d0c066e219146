//! The reference RS274/NGC interpreter's way through a rail.

use super::{DIAMOND, EXACT, SQUARE, Vector, job, plan, written};
use crate::support::routers::router;
use crate::support::{Canonical, rs274};
use lapwright::instructions::rails::RailProgram;

/// Places 0.1 mm apart, from 1 mm before to 1 mm behind.
fn places(low: f64, high: f64) -> impl Iterator<Item = f64> {
    let place = move |step: u32| low - 1.0 + 0.1 * f64::from(step);
    (0..)
        .map(place)
        .take_while(move |place| *place < high + 1.0)
}

/// Where wood stands after the interpreter's way, on a grid about the mortises, beside where it
/// should: an own, plain calculation, with places nearer to a wall than `MARGIN` left out.
fn check_raster(calls: &[Canonical], program: &RailProgram) {
    const MARGIN: f64 = 0.02;
    let radius = program.tool.cuts_mm / 2.0;
    let mut ways = Vec::new();
    let mut at: Vector = [0.0, 0.0, 8.0];
    for call in calls {
        let (Canonical::Traverse { x, y, z } | Canonical::Feed { x, y, z }) = call else {
            continue;
        };
        let to = [*x, *y, *z];
        if at[2].min(to[2]) < 0.0 {
            ways.push((at, to));
        }
        at = to;
    }
    let off = |p: [f64; 2], (a, b): &(Vector, Vector)| {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let square = dx * dx + dy * dy;
        let share = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square.max(1e-12);
        let share = share.clamp(0.0, 1.0);
        let z = if square > 0.0 {
            a[2] + share * (b[2] - a[2])
        } else {
            a[2].min(b[2])
        };
        (
            (p[0] - a[0] - share * dx).hypot(p[1] - a[1] - share * dy),
            z,
        )
    };
    let [front, back] = program.y_mm;
    for mortise in &program.mortises {
        let [left, right] = [mortise.near_edge_mm, mortise.far_edge_mm];
        for x_place in places(left, right) {
            for y_place in places(front, back) {
                let p = [x_place, y_place];
                let reached = ways.iter().map(|way| off(p, way));
                let height = reached
                    .filter(|(distance, _)| *distance < radius)
                    .map(|(_, z)| z)
                    .fold(0.0, f64::min);
                // Distance to the places that the centre of the tool may take.
                let beyond = |v: f64, low: f64, high: f64| (low - v).max(v - high);
                let x = beyond(p[0], left + radius, right - radius);
                let y = beyond(p[1], front + radius, back - radius);
                let distance = x.max(0.0).hypot(y.max(0.0));
                if (distance - radius).abs() < MARGIN {
                    continue;
                }
                let wanted = if distance < radius {
                    -program.depth_mm
                } else {
                    0.0
                };
                assert!(
                    (height - wanted).abs() < 0.001,
                    "{p:?}: {height}, not {wanted}"
                );
            }
        }
    }
}

#[test]
fn the_reference_interpreter_cuts_the_same_mortises() {
    let folder = tempfile::tempdir().unwrap();
    for (text, machine) in [(SQUARE, router(&[EXACT])), (DIAMOND, router(&[]))] {
        let (lattice, frame) = job(text);
        for program in plan(&lattice, &frame, &machine).unwrap() {
            let path = folder.path().join(&program.file);
            std::fs::write(&path, written(&program, &machine)).unwrap();
            let calls = rs274(&path);
            assert!(calls.contains(&Canonical::ProgramEnd));
            check_raster(&calls, &program);
        }
    }
}
