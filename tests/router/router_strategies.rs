//! Ways to cut a notch, backers and clamps: whatever the profile asks for, the program proves clean,
//! and cuts the same notches.

use crate::support::routers::{all_prove, plan, prove, roomy, task};
use crate::support::slanted::Strips;
use crate::support::{routers, slanted};
use float_cmp::approx_eq;
use lapwright::instructions::tool_path::Motion;
use lapwright::lattice::{Face, Lattice};
use lapwright::planning::plan_router;
use std::sync::Arc;

fn bundle(degrees: f64) -> Lattice {
    let strips = Strips {
        count: 5,
        thickness: 3.0,
        depth: 12.0,
        length: 240.0,
    };
    let notch = |at: u32| (60.0 + 40.0 * f64::from(at), degrees, Face::Front);
    slanted::lattice(strips, &[notch(0), notch(1), notch(2)])
}

#[test]
fn every_strategy_proves_clean_at_every_angle() {
    let floor = ["", "floor_allowance = \"0.3 mm\"\n"];
    let way = ["", "returns = \"in-air\"\n"];
    let spring = ["", "spring_pass = true\n"];
    let short = ["", "short_ways = false\n"];
    let backers = ["", "backer_front = \"4 mm\"\nbacker_back = \"6.5 mm\"\n"];
    for degrees in [90.0, 55.0, 125.0] {
        let lattice = bundle(degrees);
        for number in 0..32_usize {
            let bit = |place: usize| (number >> place) & 1;
            let cutting = [floor[bit(0)], way[bit(1)], spring[bit(2)], short[bit(3)]].concat();
            all_prove(&lattice, &roomy(&cutting, backers[bit(4)]));
        }
    }
}

#[test]
fn short_ways_save_rapids_and_nothing_else() {
    let lattice = bundle(90.0);
    // A tool as wide as the notch takes five passes and ends behind the bundle.
    let cutter = |more: &str| {
        let mut router = roomy(more, "");
        router.tool.diameter = 3.05;
        router.cutting.depth_per_pass = 1.2;
        router
    };
    let (usual, short) = (
        plan(&lattice, &cutter("short_ways = false")),
        all_prove(&lattice, &cutter("")),
    );
    let (usual, short) = (&usual.setups[0], &short.setups[0]);
    assert!(approx_eq!(
        f64,
        usual.cutting_mm,
        short.cutting_mm,
        epsilon = 1e-9
    ));
    // Two ways of 40 mm straight instead of aslant over a bundle of 15 mm and both run-outs.
    let across = 15.0 + 2.0 * (3.05 / 2.0 + 1.5);
    let saved = 2.0 * (40.0_f64.hypot(across) - 40.0);
    assert!(approx_eq!(
        f64,
        usual.rapid_mm - short.rapid_mm,
        saved,
        epsilon = 1e-9
    ));
    let told = short.rapid_from_front_mm.unwrap();
    assert!(approx_eq!(f64, told, usual.rapid_mm, epsilon = 1e-9));
    assert!(short.time_s < usual.time_s);
}

#[test]
fn backers_are_cut_through_and_leave_less_room_for_strips() {
    let lattice = bundle(90.0);
    let router = roomy("", "backer_front = \"4 mm\"\nbacker_back = \"6.5 mm\"");
    let setup = &all_prove(&lattice, &router).setups[0];
    let ys = setup.path.cuts.all().flat_map(|notch| notch.moves);
    let [low, high] = ys.fold([0.0_f64, 0.0], |[low, high], step| {
        [low.min(step.to.y), high.max(step.to.y)]
    });
    // Tool radius and run-out beyond both: 1 + 1.5.
    assert!(
        (low + 4.0 + 2.5).abs() < 1e-9 && approx_eq!(f64, high - 15.0 - 6.5, 2.5, epsilon = 1e-9)
    );
    let narrow = roomy("", "backer_front = \"25 mm\"\nbacker_back = \"25 mm\"");
    let setup = &all_prove(&lattice, &narrow).setups[0];
    // 60 wide less 50 of scrap holds three strips of 3 mm: two runs.
    assert_eq!((setup.strips_per_run, setup.runs), (3, 2));
}

const CLAMP: &str = "[[fixture.clamps]]\nname = \"the end clamp\"\nx_from = \"75 mm\"\nx_to = \"85 mm\"\ny_from = \"-30 mm\"\ny_to = \"45 mm\"\ntop = \"25 mm\"\n[controller]";

#[test]
fn a_tall_clamp_is_flown_over_and_one_in_the_way_is_refused() {
    let lattice = bundle(90.0);
    let with = |text: &str| {
        let mut changes = routers::ROOM.to_vec();
        changes.push(("[controller]", text));
        routers::router(&changes)
    };
    let router = with(CLAMP);
    let setup = &all_prove(&lattice, &router).setups[0];
    assert!(approx_eq!(f64, setup.safe_height_mm, 26.0, epsilon = 1e-9));
    let moves = setup.path.cuts.all().flat_map(|notch| notch.moves);
    let rapid_low = moves
        .filter(|step| step.motion == Motion::Rapid)
        .any(|step| step.to.z < 26.0);
    assert!(!rapid_low);
    // Planned without it, the proof finds the tool in it.
    let careless = plan(&lattice, &with("[controller]"));
    let report = prove(
        &task(&lattice, &router, setup),
        &careless.setups[0],
        &router,
    );
    assert!(report.faults.iter().any(|fault| fault.code == "keep-out"));
    // Over a notch it is in the way, and the place is told.
    let over = CLAMP.replace("85 mm", "98.5 mm");
    let refused = plan_router(&lattice, "router", &with(&over), &|at, _| format!("{at}"));
    let refused = refused.unwrap_err();
    assert!(
        refused
            .iter()
            .any(|fault| fault.code == "clamp-in-the-way" && fault.field == "fixture.clamps[0]"),
        "{refused:?}"
    );
    // Below the notch's floor it is not.
    let under = over.replace("\"25 mm\"", "\"-7 mm\"");
    all_prove(&lattice, &with(&under));
}

#[test]
fn thin_slices_off_the_walls_are_cut_faster_and_the_proof_agrees() {
    for degrees in [90.0, 60.0] {
        let lattice = bundle(degrees);
        let router = roomy("chip_thinning = true", "");
        let setup = &all_prove(&lattice, &router).setups[0];
        // 0.2 mm of a cutter of 2 mm, a thousandth more for the last place that is written: 0.6013 of
        // the chip (computed apart from this code), 16000 x 2 x 0.025 = 800 mm/min.
        let walls = setup.wall_feed_mm_per_min.unwrap();
        assert!(
            approx_eq!(f64, walls, 800.0 / 0.601_331, epsilon = 1e-2),
            "{walls}"
        );
        let task = task(&lattice, &router, setup);
        // On a machine that takes its feed for the same everywhere it is too fast,
        let mut strict = task.clone();
        strict.limits.most_thinning = 1.0;
        let report = prove(&strict, setup, &router);
        assert!(
            report
                .faults
                .iter()
                .any(|fault| fault.code == "chip-too-thick")
        );
        // and so it is in full wood.
        let mut hasty = setup.clone();
        let mut notches: Vec<_> = hasty.path.cuts.all().collect();
        for step in notches.iter_mut().flat_map(|notch| &mut notch.moves) {
            if step.motion == Motion::Cut(800.0) {
                step.motion = Motion::Cut(walls);
            }
        }
        hasty.path.cuts = Arc::new(notches);
        let report = prove(&task, &hasty, &router);
        assert!(
            report
                .faults
                .iter()
                .any(|fault| fault.code == "chip-too-thick")
        );
    }
}

#[test]
fn a_slender_cutter_bends_and_the_depth_that_would_do_is_told() {
    let lattice = bundle(90.0);
    let mut router = roomy("", "");
    router.tool.stick_out = Some(30.0);
    let warnings = |router: &lapwright::machines::Router| {
        plan_router(&lattice, "router", router, &|at, _| format!("{at}"))
            .unwrap()
            .1
    };
    let told = warnings(&router);
    assert!(
        told.iter().any(|warning| warning.code == "cutter-bends"),
        "{told:?}"
    );
    // Force 30 x 1.5 x 0.025 = 1.125 N on 30 mm of a bar of 1.6 mm, E 600 GPa: computed apart
    // from this code.
    let bent = plan(&lattice, &router).setups[0].deflection_mm;
    assert!(approx_eq!(f64, bent, 0.052_457, epsilon = 1e-5), "{bent}");
    let hint = told[0].hint.clone().unwrap();
    let hint = hint.text(lapwright::units::UnitSystem::Millimetres);
    assert!(hint.starts_with("take 0.57 mm at once"), "{hint}");
    router.cutting.depth_per_pass = 0.57;
    assert!(warnings(&router).is_empty());
}

#[test]
fn what_a_test_notch_was_wider_is_taken_off_the_path() {
    let lattice = bundle(90.0);
    let measured =
        "[measured]\nnotch_programmed = \"3.05 mm\"\nnotch_measured = \"3.09 mm\"\n[controller]";
    let mut changes = routers::ROOM.to_vec();
    changes.push(("[controller]", measured));
    let trimmed = routers::router(&changes);
    assert!(approx_eq!(f64, trimmed.tool.diameter, 2.04, epsilon = 1e-9));
    let outermost = |router: &lapwright::machines::Router| {
        let setup = &all_prove(&lattice, router).setups[0];
        let notch = setup.path.cuts.notch(0).unwrap();
        let xs = notch.moves.iter().map(|step| step.to.x);
        xs.fold(0.0, f64::max)
    };
    let before = outermost(&roomy("", ""));
    assert!(approx_eq!(
        f64,
        before - outermost(&trimmed),
        0.02,
        epsilon = 1e-9
    ));
}

/// The small router's profile with its `[controller]` table replaced.
fn with_controller(table: &str) -> lapwright::machines::Router {
    let path = format!("{}/profiles/small-router.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let at = text.find("[controller]").unwrap();
    let controller = text[at..].to_owned();
    let changed = format!("[controller]\n{table}\n");
    let mut changes = routers::ROOM.to_vec();
    changes.push((&controller, &changed));
    routers::router(&changes)
}

#[test]
fn every_dialect_says_what_its_control_takes_and_no_more() {
    let lattice = bundle(60.0);
    let head = |table: &str| {
        let router = with_controller(table);
        let setup = &all_prove(&lattice, &router).setups[0];
        let text = lapwright::writing::gcode::program(&setup.path, &router.controller).unwrap();
        let lines = text.lines().filter(|line| !line.starts_with('('));
        let lines: Vec<&str> = lines.collect();
        (lines[..7].join(" | "), lines[lines.len() - 1].to_owned())
    };
    let (full, end) = head("dialect = \"full\"");
    assert_eq!(full, "G21 | G17 G90 G94 | G40 | G49 | G80 | G54 | G61");
    assert_eq!(end, "M2");
    let (bare, end) = head("dialect = \"bare\"\ndwell = \"milliseconds\"");
    assert!(
        bare.starts_with("G21 | G17 G90 G94 | G0 Z8.000 | S16000 M3 | G4 P4000 |"),
        "{bare}"
    );
    assert_eq!(end, "M30");
    let (numbered, end) = head("dialect = \"numbered\"\ncancels = false");
    assert!(
        numbered.starts_with("% | N1 G21 | N2 G17 G90 G94 | N3 G54 |"),
        "{numbered}"
    );
    assert_eq!(end, "%");
    // What a bare control does not take is found in a program for another one.
    let bare = with_controller("dialect = \"bare\"");
    let full = with_controller("dialect = \"full\"");
    let setup = &plan(&lattice, &full).setups[0];
    let told = task(&lattice, &bare, setup);
    let report = prove(&told, setup, &full);
    assert!(
        report
            .faults
            .iter()
            .all(|fault| fault.code == "code-not-taken")
    );
    assert_eq!(report.faults.len(), 4);
    // And a control that has work zeros is told which.
    let report = prove(&task(&lattice, &full, setup), setup, &bare);
    assert!(
        report
            .faults
            .iter()
            .any(|fault| fault.code == "work-zero-unstated")
    );
}
