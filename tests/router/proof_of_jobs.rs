//! The proof at scale: what is written for a thousand made-up jobs proves clean, and mutants of an
//! emitted program that change what is cut are found.
#![allow(clippy::print_stdout)]

use crate::support::{jobs, profiles, routers};
use lapwright::lattice::Lattice;
use lapwright::machines::{Machine, Router};
use lapwright::planning::{WareBatch, plan_router, plan_sheets};
use lapwright::reading::{read_job, read_machine, shipped_machine};
use lapwright::verification::outline::{prove_drawings, strips_wanted};
use lapwright::verification::trace::{Trace, trace};
use lapwright::verification::{HeldBundle, NotchingTask, ProgramReport, Tolerances, prove_program};
use lapwright::writing::dxf::{DxfVersion, dxf};
use lapwright::writing::gcode;

/// How many jobs are made up for each kind of machine.
const JOBS: usize = 1000;

fn lattice(text: &str) -> Lattice {
    read_job("job.toml", text).unwrap().panel.lattice().clone()
}

fn programs(lattice: &Lattice, router: &Router) -> Vec<String> {
    let name = |at: usize, _| format!("{at}.nc");
    let (plan, _) = plan_router(lattice, "router", router, &name).unwrap();
    let written = plan
        .setups
        .iter()
        .map(|setup| gcode::program(&setup.path, &router.controller));
    written.map(Result::unwrap).collect()
}

fn prove(text: &str, lattice: &Lattice, bundle: usize, router: &Router) -> ProgramReport {
    let task = NotchingTask::of(
        lattice,
        &lattice.bundles[bundle],
        router,
        &HeldBundle::all(&lattice.bundles[bundle]),
    );
    let tolerances = Tolerances::default();
    prove_program(
        text.as_bytes(),
        &task.workpiece,
        Some(&task.expected),
        &task.limits,
        &tolerances,
    )
}

#[test]
fn programs_of_a_thousand_jobs_prove_clean() {
    for (job, profile) in jobs::samples(&profiles::router_jobs(jobs::jobs()), JOBS) {
        let lattice = lattice(&job.toml());
        let read = read_machine("router.toml", &profile.toml()).unwrap();
        let Machine::Router(router) = read.machine else {
            panic!()
        };
        let mut notches = 0;
        for setup in &routers::plan(&lattice, &router).setups {
            for task in routers::tasks(&lattice, &router, setup) {
                let report = routers::prove(&task, setup, &router);
                assert!(
                    report.ok(),
                    "{:?}\n{}\n{}",
                    report.faults,
                    job.toml(),
                    profile.toml()
                );
                notches += report.notches.len();
            }
        }
        let all = lattice.bundles.iter().map(|bundle| bundle.notches.len());
        assert_eq!(notches, all.sum::<usize>());
    }
}

#[test]
fn drawings_of_a_thousand_jobs_prove_clean() {
    for (at, (job, profile)) in jobs::samples(&profiles::laser_jobs(jobs::jobs()), JOBS)
        .into_iter()
        .enumerate()
    {
        let lattice = lattice(&job.toml());
        let read = read_machine("laser.toml", &profile.toml()).unwrap();
        let Machine::Laser(laser) = read.machine else {
            panic!()
        };
        let name = |at: usize, _| format!("{at}.dxf");
        let strips = vec![WareBatch::strips(&lattice, &laser).unwrap()];
        let (plan, _) = plan_sheets("", "laser", strips, &laser, &name).unwrap();
        let version = if at % 2 == 0 {
            DxfVersion::R2000
        } else {
            DxfVersion::R12
        };
        let files: Vec<Vec<u8>> = plan
            .files
            .iter()
            .map(|file| dxf(&file.drawing, version, laser.colours).unwrap())
            .collect();
        let bytes: Vec<&[u8]> = files.iter().map(Vec::as_slice).collect();
        let sheet = laser.sheet;
        let report = prove_drawings(&bytes, &strips_wanted(&lattice, None), laser.kerf, sheet);
        assert!(
            report.ok(),
            "{report:?}\n{}\n{}",
            job.toml(),
            profile.toml()
        );
    }
}

const SMALL_PANEL: &str = r#"
title = "Small panel"
[grid]
kind = "square"
pitches_x = ["31 mm"]
pitches_y = ["30 mm"]
overhang = "15 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
"#;

/// Middle, width across the bundle and cutter of the small panel's program.
const CENTRES: [f64; 2] = [15.0, 45.0];
const BUNDLE_Y: [f64; 2] = [0.0, 6.0];
const RADIUS: f64 = 1.0;

/// Height of the wood on a fine grid about the notches, on both outer faces and the middle face of
/// the bundle, after all moves; the moves' ends are joined by a disc of the cutter's radius. None
/// where a rapid move meets wood or goes below its top over the bundle.
fn wood(traces: &[Trace]) -> Option<Vec<f64>> {
    const STEP: f64 = 0.01;
    let mut points: Vec<([f64; 2], f64)> = Vec::new();
    for centre in CENTRES {
        for n in 0..600 {
            for y in [BUNDLE_Y[0], 3.0, BUNDLE_Y[1]] {
                points.push(([centre - 3.0 + STEP * f64::from(n), y], 0.0));
            }
        }
    }
    let mut at = [0.0, -50.0, 8.0];
    for step in traces {
        let to = [0, 1, 2].map(|axis: usize| step.to[axis].unwrap_or(at[axis]));
        let low = at[2].min(to[2]);
        if low < -1e-6 {
            // Sideways at full speed below the stock's top is harmful wherever it is.
            if step.rapid && (at[0] - to[0]).hypot(at[1] - to[1]) > 0.0 {
                return None;
            }
            let over = |axis: usize, least: f64, most: f64| {
                at[axis].min(to[axis]) - RADIUS < most && at[axis].max(to[axis]) + RADIUS > least
            };
            if over(0, 0.0, 60.0) && over(1, BUNDLE_Y[0] - 1e-6, BUNDLE_Y[1] + 1e-6) {
                // A descent or a rapid over the bundle is never harmless.
                if step.rapid && to[2] <= at[2] || to[2] < at[2] {
                    return None;
                }
                for (point, height) in &mut points {
                    if distance(*point, at, to) < RADIUS {
                        *height = height.min(low);
                    }
                }
            }
        }
        at = to;
    }
    Some(points.into_iter().map(|(_, height)| height).collect())
}

/// From a point to the segment between two places, seen from above.
fn distance(point: [f64; 2], a: [f64; 3], b: [f64; 3]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let length = dx * dx + dy * dy;
    let along = if length > 0.0 {
        ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / length
    } else {
        0.0
    };
    let along = along.clamp(0.0, 1.0);
    (point[0] - a[0] - along * dx).hypot(point[1] - a[1] - along * dy)
}

/// Points where the wood's height differs by more than a hundredth of a millimetre; on the grid a
/// wall that is off by less moves at most one point of each line of them.
fn differs(found: &[f64], wanted: &[f64]) -> bool {
    let off = found
        .iter()
        .zip(wanted)
        .filter(|(a, b)| (**a - **b).abs() > 0.01)
        .count();
    off > 3 * 2
}

/// Mutants that change a line, and what was done.
fn mutants(lines: &[&str]) -> Vec<(String, Vec<String>)> {
    let own = || {
        lines
            .iter()
            .map(|line| (*line).to_owned())
            .collect::<Vec<_>>()
    };
    let mut all = Vec::new();
    for (at, line) in lines
        .iter()
        .enumerate()
        .filter(|(_, line)| !line.starts_with('('))
    {
        let mut put = |what: &str, new: Vec<String>| {
            let mut text = own();
            text.splice(at..=at, new);
            all.push((format!("{what}, line {}: {line}", at + 1), text));
        };
        put("deleted", Vec::new());
        for (old, new) in [
            ("G0", "G1"),
            ("G1 ", "G0 "),
            ("G21", "G20"),
            ("M3", "M4"),
            ("G90", "G91"),
            ("M30", ""),
            (".", ""),
            ("-", ""),
        ] {
            if line.contains(old) {
                put("replaced", vec![line.replacen(old, new, 1)]);
            }
        }
        let mut letter = ' ';
        for (place, byte) in line.bytes().enumerate() {
            if byte.is_ascii_alphabetic() {
                letter = char::from(byte);
            } else if byte.is_ascii_digit() && "XYZFS".contains(letter) {
                for step in [1, 5] {
                    let mut new = line.as_bytes().to_vec();
                    new[place] = b'0' + (byte - b'0' + step) % 10;
                    put("digit", vec![String::from_utf8(new).unwrap()]);
                }
            }
        }
        if at + 1 < lines.len() {
            let mut text = own();
            text.swap(at, at + 1);
            all.push((format!("swapped, line {}: {line}", at + 1), text));
        }
    }
    all
}

#[test]
fn mutants_of_an_emitted_program_that_change_the_cut_are_found() {
    let lattice = lattice(SMALL_PANEL);
    let profile = read_machine(
        "small-router",
        shipped_machine("small-router").unwrap().text,
    );
    let Machine::Router(router) = profile.unwrap().machine else {
        panic!()
    };
    let text = programs(&lattice, &router).swap_remove(0);
    assert!(prove(&text, &lattice, 0, &router).ok());
    let wanted = wood(&trace(text.as_bytes(), usize::MAX)).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    for (at, line) in lines
        .iter()
        .enumerate()
        .filter(|(_, line)| line.starts_with("G1"))
    {
        let mut doubled = lines.clone();
        doubled.insert(at, line);
        let report = prove(&(doubled.join("\n") + "\n"), &lattice, 0, &router);
        assert!(
            report.ok(),
            "doubled line {} is blamed: {:?}",
            at + 1,
            report.faults
        );
    }
    let all = mutants(&lines);
    let mut passed = Vec::new();
    for (what, mutant) in &all {
        let mutant = mutant.join("\n") + "\n";
        if prove(&mutant, &lattice, 0, &router).ok() {
            let traces = trace(mutant.as_bytes(), usize::MAX);
            let harmless = wood(&traces).is_some_and(|found| !differs(&found, &wanted));
            assert!(harmless, "slipped through: {what}");
            passed.push(what);
        }
    }
    println!(
        "{} mutants, {} found, {} pass and cut the same",
        all.len(),
        all.len() - passed.len(),
        passed.len()
    );
    for what in &passed {
        println!("  passes: {what}");
    }
    assert!(all.len() - passed.len() > 500);
}

#[test]
fn changed_digits_of_an_emitted_drawing_are_found() {
    let lattice = lattice(SMALL_PANEL);
    let profile = read_machine("tube-laser", shipped_machine("tube-laser").unwrap().text);
    let Machine::Laser(laser) = profile.unwrap().machine else {
        panic!()
    };
    let strips = vec![WareBatch::strips(&lattice, &laser).unwrap()];
    let name = |at, _| format!("{at}.dxf");
    let (plan, _) = plan_sheets("", "laser", strips, &laser, &name).unwrap();
    let wanted = strips_wanted(&lattice, None);
    let sheet = laser.sheet;
    for version in [DxfVersion::R2000, DxfVersion::R12] {
        let bytes = dxf(&plan.files[0].drawing, version, laser.colours).unwrap();
        let proves = |bytes: &[u8]| prove_drawings(&[bytes], &wanted, laser.kerf, sheet).ok();
        assert!(proves(&bytes));
        assert!(
            !prove_drawings(&[&bytes], &wanted, laser.kerf + 0.01, sheet).ok(),
            "another kerf"
        );
        let text = String::from_utf8(bytes).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let entities = lines.iter().position(|line| *line == "ENTITIES").unwrap();
        // Labels come first; where on its part a label stands is not the job's geometry.
        let outlines = lines
            .iter()
            .skip(entities)
            .position(|line| *line == "OUTLINES")
            .unwrap();
        let mut tried = 0;
        for at in entities + outlines..lines.len() - 1 {
            // The value after a group code 10 or 20.
            if !matches!(lines[at].trim(), "10" | "20") || !lines[at + 1].contains('.') {
                continue;
            }
            // An R12 polyline's own point is a dummy, always 0; readers pass over it.
            if lines[at + 1] == "0.0" {
                continue;
            }
            let point = lines[at + 1].find('.').unwrap();
            for (place, byte) in lines[at + 1].bytes().enumerate().take(point + 5) {
                if byte.is_ascii_digit() {
                    let mut line = lines[at + 1].as_bytes().to_vec();
                    line[place] = b'0' + (byte - b'0' + 1) % 10;
                    let line = String::from_utf8(line).unwrap();
                    let mut mutant = lines.clone();
                    mutant[at + 1] = &line;
                    let mutant = mutant.join("\n") + "\n";
                    assert!(
                        !proves(mutant.as_bytes()),
                        "line {}: {} -> {line}",
                        at + 2,
                        lines[at + 1]
                    );
                    tried += 1;
                }
            }
        }
        assert!(tried > 100, "{tried}");
    }
}
