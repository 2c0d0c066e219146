//! The proof at scale for slanted grids: whatever panel can be drawn and planned for a router proves
//! clean, set-up by set-up, and not as another set-up of the same bundle.
#![allow(clippy::print_stdout)]

use crate::support::routers::{prove, task, tasks};
use crate::support::{jobs, profiles, routers};
use lapwright::machines::{Machine, Router};
use lapwright::planning::plan_router;
use lapwright::reading::{read_job, read_machine};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// How many panels are made up.
const JOBS: usize = 150;

/// The text of a job.
fn jobs() -> impl Strategy<Value = String> {
    let mm =
        |low: u32, high: u32| (10 * low..10 * high).prop_map(|tenths| f64::from(tenths) / 10.0);
    let strip = (mm(2, 5), mm(8, 16), 0..12_u32);
    let words = (0..3_usize, 0..2_usize, 0..2_usize);
    let grid = (
        mm(45, 80),
        35..90_u32,
        mm(180, 320),
        mm(150, 260),
        1..=3_u32,
    );
    (strip, words, grid).prop_map(|((t, d, clearance), (kind, stance, word), grid)| {
        let (pitch, angle, width, height, rings) = grid;
        let stance = [["upright", "on-point"], ["lying", "upright"]][usize::from(kind > 0)][stance];
        let rectangle =
            format!("region = \"rectangle\"\nwidth = \"{width} mm\"\nheight = \"{height} mm\"");
        let grid = match kind {
            0 => format!("kind = \"diamond\"\npitch = \"{pitch} mm\"\nangle = \"{angle} deg\"\n{rectangle}"),
            1 => format!("kind = \"triangular\"\nside = \"{pitch} mm\"\n{rectangle}"),
            _ => format!("kind = \"triangular\"\nside = \"{pitch} mm\"\nregion = \"hexagon\"\nrings = {rings}"),
        };
        let word = match (kind, word) {
            (0, 0) => "weave = \"alternate\"",
            (0, _) => "weave = \"one-face\"",
            (_, 0) => "lap = \"same-depth\"",
            (_, _) => "lap = \"least-cut\"",
        };
        format!(
            "title = \"Made up\"\n[grid]\n{grid}\nstance = \"{stance}\"\noverhang = \"22 mm\"\n[strip]\nthickness = \"{t} mm\"\ndepth = \"{d} mm\"\nclearance = \"0.{clearance:02} mm\"\nbundling = \"runs\"\n{word}\n"
        )
    })
}

fn samples() -> Vec<String> {
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    let strategy = jobs();
    (0..JOBS)
        .map(|_| strategy.new_tree(&mut runner).unwrap().current())
        .collect()
}

/// A router with much travel, a thin cutter and a key; longer panels take several set-ups.
fn router() -> Router {
    let fixture = "key_x = \"60 mm\"\nkey_error = \"0.03 mm\"";
    let mut router = routers::roomy("", fixture);
    router.tool.flute_length = 14.0;
    router.tool.stick_out = Some(16.0);
    router.fixture.clear_beside = 30.0;
    router.fixture.clear_ends = 40.0;
    router.fixture.zero_y = 60.0;
    router.travel.x = 320.0;
    router.travel.y = 250.0;
    router
}

/// What is planned for faster wall passes is what the proof finds in the places as written.
#[test]
fn programs_with_chip_thinning_prove_clean() {
    let mut slanted = router();
    slanted.cutting.chip_thinning = true;
    let mut jobs = 0;
    let mut passed = |text: &str, router: &Router| {
        let Ok(read) = read_job("job.toml", text) else {
            return;
        };
        let lattice = read.panel.lattice();
        let Ok((plan, _)) = plan_router(lattice, "router", router, &|at, _| format!("{at}")) else {
            return;
        };
        for setup in &plan.setups {
            let report = prove(&task(lattice, router, setup), setup, router);
            assert!(report.ok(), "{} {:?}\n{text}", setup.file, report.faults);
        }
        jobs += 1;
    };
    for job in samples() {
        passed(&job, &slanted);
    }
    let squares = jobs::samples(&profiles::router_jobs(jobs::jobs()), 100);
    for (job, profile) in squares {
        let read = read_machine("router.toml", &profile.toml()).unwrap();
        let Machine::Router(mut router) = read.machine else {
            panic!()
        };
        router.cutting.chip_thinning = true;
        passed(&job.toml(), &router);
    }
    assert!(jobs >= 200, "{jobs}");
}

#[test]
fn programs_of_slanted_panels_prove_clean() {
    let router = router();
    let (mut proved, mut slanted, mut parts, mut crossed) = (0, 0, 0, 0);
    for job in samples() {
        // Not every panel can be built; which, is tested elsewhere.
        let Ok(read) = read_job("job.toml", &job) else {
            continue;
        };
        let lattice = read.panel.lattice();
        let Ok((plan, _)) = plan_router(lattice, "router", &router, &|at, _| format!("{at}"))
        else {
            continue;
        };
        for setup in &plan.setups {
            for told in tasks(lattice, &router, setup) {
                let report = prove(&told, setup, &router);
                assert!(report.ok(), "{} {:?}\n{job}", setup.file, report.faults);
            }
            let told = task(lattice, &router, setup);
            proved += 1;
            slanted += usize::from(setup.from_square > 0.01);
            parts += usize::from(setup.part > 1);
            crossed += usize::from(!setup.cut_before.is_empty());
            // One that is wanted a little farther along is found to be off.
            let mut other = told.clone();
            if let Some(notch) = other.expected.first_mut() {
                notch.centre_mm += 0.02;
            }
            assert!(!prove(&other, setup, &router).ok(), "{}\n{job}", setup.file);
        }
    }
    println!(
        "{proved} programs, {slanted} at an angle, {parts} moved along, {crossed} with notches before"
    );
    assert!(proved > 300 && slanted > 200 && parts > 20 && crossed > 50);
}
