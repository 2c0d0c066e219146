//! Mortises in a frame's rails by the router: how the rails lie, that what is written proves clean,
//! that the proof finds what is wrong, and that the reference interpreter takes it.
#![allow(clippy::float_cmp)]

mod by_hand;
mod commands;
mod mutants;
mod reference;

use crate::support::routers::router;
use float_cmp::approx_eq;
use lapwright::finding::Finding;
use lapwright::instructions::rails::RailProgram;
use lapwright::lattice::{Frame, Lattice, Rail};
use lapwright::machines::Router;
use lapwright::planning::{plan_mortises, rail_names};
use lapwright::reading::read_job;
use lapwright::verification::{MortisingTask, ProgramReport, Tolerances, prove_mortises};
use lapwright::writing::gcode;
use proptest::prelude::*;

/// Nothing about it is the same from both ends, nor from front and back.
const SQUARE: &str = r#"title = "Door"
[grid]
kind = "square"
pitches_x = ["30 mm", "50 mm"]
pitches_y = ["25 mm", "40 mm"]
overhang = "15 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
least_web = "2 mm"
[frame]
thickness = "22 mm"
mortise_depth = "3 mm"
clearance = "0.1 mm"
setback = "4 mm"
"#;

const DIAMOND: &str = r#"title = "Screen"
[grid]
kind = "diamond"
angle = "60 deg"
pitch = "30 mm"
region = "rectangle"
width = "110 mm"
height = "90 mm"
overhang = "20 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
[frame]
thickness = "20 mm"
mortise_depth = "3 mm"
"#;

fn job(text: &str) -> (Lattice, Frame) {
    let job = read_job("job.toml", text).unwrap();
    (job.panel.lattice().clone(), job.frame.unwrap())
}

fn plan(
    lattice: &Lattice,
    frame: &Frame,
    router: &Router,
) -> Result<Vec<RailProgram>, Vec<Finding>> {
    let name = |at, _| format!("{at}.nc");
    plan_mortises(lattice, frame, "router", router, &name).map(|(planned, _)| planned.programs)
}

fn written(program: &RailProgram, router: &Router) -> String {
    gcode::program(&program.path, &router.controller).unwrap()
}

fn prove(text: &str, task: &MortisingTask) -> ProgramReport {
    prove_mortises(
        text.as_bytes(),
        &task.workpiece,
        &task.expected,
        &task.limits,
        &Tolerances::default(),
    )
}

/// Every rail with its program, proven clean.
fn proven(lattice: &Lattice, frame: &Frame, router: &Router) -> Vec<(Rail, RailProgram, String)> {
    let programs = plan(lattice, frame, router).unwrap();
    let rails = frame.rails(lattice).unwrap().rails;
    let names = rail_names(&rails);
    let mut all = Vec::new();
    for (rail, name) in rails.into_iter().zip(names) {
        let is_for = |program: &&RailProgram| program.rails.iter().any(|rail| rail.name == name);
        let Some(program) = programs.iter().find(is_for) else {
            assert!(rail.mortises.is_empty(), "{name}");
            continue;
        };
        let text = written(program, router);
        let report = prove(&text, &MortisingTask::of(lattice, frame, &rail, router));
        assert!(report.ok(), "{name}: {:?}\n{text}", report.faults);
        assert_eq!(report.notches.len(), rail.mortises.len());
        all.push((rail, program.clone(), text));
    }
    all
}

type Vector = [f64; 3];

fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// A rail is turned from the frame to the machine, never mirrored. In space, x to the right, y up, z
/// toward the viewer (a right-handed frame, unlike the panel's): its Y runs away from the viewer, its
/// Z toward the panel, so its X is Y x Z. Every strip must come in through a mortise.
#[test]
fn strips_come_in_where_the_mortises_are_cut() {
    for (text, machine) in [(SQUARE, router(&[])), (DIAMOND, router(&[]))] {
        let (lattice, frame) = job(text);
        let count = lattice.region.len() as f64;
        let middle = [0, 1].map(|axis| {
            let sum: f64 = lattice.region.iter().map(|p| [p.x, p.y][axis]).sum();
            sum / count
        });
        let all = proven(&lattice, &frame, &machine);
        assert_eq!(all.len(), 4);
        for (rail, program, _) in &all {
            let along = rail.start.to(rail.end).unit().unwrap();
            let normal = [-along.y, along.x];
            let side =
                normal[0] * (middle[0] - rail.start.x) + normal[1] * (middle[1] - rail.start.y);
            let up = [normal[0] * side.signum(), normal[1] * side.signum(), 0.0];
            let x = cross([0.0, 0.0, -1.0], up);
            let corners = [rail.start, rail.end].map(|p| p.x * x[0] + p.y * x[1]);
            let zero = corners[0].min(corners[1]);
            let mut taken = 0;
            for id in rail.mortises.iter().flat_map(|mortise| &mortise.strips) {
                let strip = lattice.strips.iter().find(|strip| strip.id == *id).unwrap();
                // Where its middle line meets the rail's inner face.
                let way = strip.start.to(strip.end);
                let off = |p: lapwright::geometry::Point| along.cross(rail.start.to(p));
                let share = off(strip.start) / (off(strip.start) - off(strip.end));
                let at = [strip.start.x + share * way.x, strip.start.y + share * way.y];
                let place = at[0] * x[0] + at[1] * x[1] - zero;
                let half = lattice.section.thickness / 2.0 / along.cross(way.unit().unwrap()).abs();
                let takes = program.mortises.iter().filter(|mortise| {
                    let (near, far) = (mortise.near_edge_mm - 1e-6, mortise.far_edge_mm + 1e-6);
                    near <= place - half && place + half <= far
                });
                taken += takes.count();
            }
            let strips = rail.mortises.iter().map(|mortise| mortise.strips.len());
            assert_eq!(taken, strips.sum::<usize>());
            // Strips lie `setback` behind the rails' front face.
            let [front, back] = program.y_mm;
            assert!(approx_eq!(
                f64,
                front,
                frame.setback - frame.clearance / 2.0,
                epsilon = 1e-9
            ));
            assert!(approx_eq!(
                f64,
                back - front - 12.0,
                frame.clearance,
                epsilon = 1e-9
            ));
        }
    }
}

#[test]
fn rails_that_are_alike_share_a_program() {
    let even = SQUARE
        .replace(r#"["30 mm", "50 mm"]"#, r#"["30 mm", "30 mm"]"#)
        .replace(r#"["25 mm", "40 mm"]"#, r#"["30 mm", "30 mm"]"#);
    for (text, count) in [(even.as_str(), 1), (SQUARE, 4)] {
        let (lattice, frame) = job(text);
        let programs = plan(&lattice, &frame, &router(&[])).unwrap();
        assert_eq!(programs.len(), count);
        let rails = programs.iter().map(|program| program.rails.len());
        assert_eq!(rails.sum::<usize>(), 4);
    }
}

const EXACT: (&str, &str) = ("[controller]", "[controller]\npath_mode = \"exact-path\"");

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever can be planned proves clean.
    #[test]
    fn random_mortises_prove_clean(
        thickness in 2.5..9.0_f64,
        strip_depth in 6.0..16.0_f64,
        mortise_depth in 0.6..5.0_f64,
        share in 0.2..1.0_f64,
        allowance in prop::option::of(0.02..0.4_f64),
        floor in prop::option::of(0.05..0.3_f64),
        plunge in 20_u32..600,
        (exact, spring, as_wide) in any::<(bool, bool, bool)>(),
    ) {
        let text = SQUARE
            .replace("thickness = \"3 mm\"", &format!("thickness = \"{thickness:.2} mm\""))
            .replace(r#"depth = "12 mm""#, &format!("depth = \"{strip_depth:.2} mm\""))
            .replace("mortise_depth = \"3 mm\"", &format!("mortise_depth = \"{mortise_depth:.2} mm\""))
                .replace("\"22 mm\"", "\"30 mm\"");
        let (lattice, frame) = job(&text);
        let width = lattice.section.thickness.min(lattice.section.depth) + frame.clearance;
        let diameter = if as_wide { width } else { (width * share).max(1.0) };
        let mut changes = vec![
            ("2.000 mm".to_owned(), format!("{diameter:.4} mm")),
            ("\"300 mm/min\"   #".to_owned(), format!("\"{plunge} mm/min\"   #")),
        ];
        if let Some(left) = allowance {
            let left = left.min(diameter / 4.0);
            changes.push(("wall_allowance = \"0.2 mm\"".to_owned(), format!("wall_allowance = \"{left:.3} mm\"")));
        }
        let mut more = String::from("[cutting]\n");
        if let Some(floor) = floor {
            more += &format!("floor_allowance = \"{floor:.3} mm\"\n");
        }
        if spring {
            more += "spring_pass = true\n";
        }
        changes.push(("[cutting]".to_owned(), more));
        if exact {
            changes.push((EXACT.0.to_owned(), EXACT.1.to_owned()));
        }
        let changes: Vec<(&str, &str)> = changes.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
        let machine = router(&changes);
        match plan(&lattice, &frame, &machine) {
            Ok(_) => {
                proven(&lattice, &frame, &machine);
            }
            Err(faults) => {
                let known = ["no-room-to-ramp", "too-many-passes"];
                prop_assert!(faults.iter().all(|fault| known.contains(&fault.code)), "{:?}", faults);
            }
        }
    }
}

#[test]
fn what_the_router_cannot_do_is_told() {
    let (lattice, frame) = job(SQUARE);
    let codes = |changes: &[(&str, &str)]| -> Vec<&'static str> {
        let faults = plan(&lattice, &frame, &router(changes))
            .err()
            .unwrap_or_default();
        faults.iter().map(|fault| fault.code).collect()
    };
    assert!(codes(&[]).is_empty());
    assert_eq!(codes(&[("2.000 mm", "3.2 mm")]), ["tool-too-wide"]);
    assert_eq!(codes(&[("2.000 mm", "3.1 mm")]), [""; 0]);
    assert_eq!(
        codes(&[("flute_length = \"10 mm\"", "flute_length = \"2.9 mm\"")]),
        ["flute-too-short"]
    );
    assert_eq!(
        codes(&[("flute_length = \"10 mm\"", "flute_length = \"3 mm\"")]),
        [""; 0]
    );
    let long = codes(&[("x = \"280 mm\"", "x = \"30 mm\"")]);
    assert!(!long.is_empty() && long.iter().all(|code| *code == "travel-too-short"));
    // Mortises reach from 3.95 to 16.05 behind the front face, the middle of a 2 mm cutter to 15.05,
    // which stands 30 from the axis's low end.
    assert_eq!(codes(&[("y = \"195 mm\"", "y = \"45.1 mm\"")]), [""; 0]);
    assert_eq!(
        codes(&[("y = \"195 mm\"", "y = \"45 mm\"")]),
        ["travel-too-short"]
    );
    assert_eq!(
        codes(&[("widest_bundle = \"60 mm\"", "widest_bundle = \"21 mm\"")]),
        ["rail-too-wide"]
    );
    assert_eq!(
        codes(&[("z = \"50 mm\"", "z = \"10 mm\"")]),
        ["travel-too-short"]
    );
    let clamp = "[[fixture.clamps]]\nname = \"clamp\"\nx_from = \"20 mm\"\nx_to = \"60 mm\"\ny_from = \"10 mm\"\ny_to = \"20 mm\"\ntop = \"5 mm\"\n[controller]";
    let blamed = codes(&[("[controller]", clamp)]);
    assert!(
        blamed.iter().all(|code| *code == "clamp-in-the-way") && !blamed.is_empty(),
        "{blamed:?}"
    );
}
