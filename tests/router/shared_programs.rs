//! Bundles that are the same part share one block and its programs: how many there are against a
//! count of distinct parts by brute force, and every strip laid as its sheet says against the cuts
//! that a reader of its own finds in the program.

use crate::support::cli::{Bench, shipped};
use crate::support::routers;
use float_cmp::approx_eq;
use lapwright::geometry::Vector;
use lapwright::instructions::router::{Registered, RouterPlan, RouterSetup};
use lapwright::lattice::{Face, Lattice, Notch, PanelEnd, Strip};
use lapwright::machines::Router;
use lapwright::reading::read_job;
use lapwright::writing::gcode;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::f64::consts::PI;

fn lattice(job: &str) -> Lattice {
    read_job("job.toml", job).unwrap().panel.lattice().clone()
}

fn demo(name: &str) -> String {
    let path = format!("{}/demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn square(pitches_x: &[f64], pitches_y: &[f64]) -> String {
    let list = |pitches: &[f64]| {
        let texts: Vec<String> = pitches.iter().map(|mm| format!("\"{mm} mm\"")).collect();
        texts.join(", ")
    };
    format!(
        "title = \"Made up\"\n[grid]\nkind = \"square\"\npitches_x = [{}]\npitches_y = [{}]\n\
         overhang = \"15 mm\"\n[strip]\nthickness = \"2.8 mm\"\ndepth = \"8 mm\"\n",
        list(pitches_x),
        list(pitches_y)
    )
}

/// A router that reaches everything in one set-up.
fn large() -> Router {
    let mut router = routers::roomy("", "");
    router.tool.flute_length = 14.0;
    router.tool.stick_out = Some(16.0);
    router.fixture.clear_beside = 40.0;
    router.fixture.clear_ends = 60.0;
    router.fixture.zero_x = 150.0;
    router.fixture.zero_y = 60.0;
    router.travel.x = 2000.0;
    router.travel.y = 400.0;
    router
}

/// A longer wait at the start comes on top of every run of every program.
#[test]
fn every_run_takes_its_spindles_start() {
    let lattice = lattice(&square(&[40.0; 4], &[45.0, 50.0, 55.0]));
    let mut router = large();
    // Blocks of two: five uprights alike take three runs.
    router.fixture.widest_bundle = 6.0;
    let quick = routers::plan(&lattice, &router);
    router.spindle.spin_up += 7.0;
    let slow = routers::plan(&lattice, &router);
    let runs: usize = quick.setups.iter().map(|setup| setup.runs).sum();
    assert!(runs > quick.setups.len());
    for (quick, slow) in quick.setups.iter().zip(&slow.setups) {
        assert!(approx_eq!(
            f64,
            slow.time_s,
            quick.time_s + 7.0,
            epsilon = 1e-9
        ));
    }
    let wanted = quick.time_s + 7.0 * runs as f64;
    assert!(approx_eq!(f64, slow.time_s, wanted, epsilon = 1e-9));
}

// What is the same part, by brute force.

/// A slot from the strip's middle: place along it, direction seen from the front (up to its sign),
/// the side that it opens to, width, depth.
type Slot = [f64; 6];

/// The four ways in which a bar with unlike sides comes to lie along itself again: signs along it,
/// across it, and from front to back.
const TURNS: [[f64; 3]; 4] = [
    [1.0, 1.0, 1.0],
    [1.0, -1.0, -1.0],
    [-1.0, -1.0, 1.0],
    [-1.0, 1.0, -1.0],
];

fn slots(strip: &Strip, [along, across, depth]: [f64; 3]) -> Vec<Slot> {
    let slot = |notch: &Notch| {
        let (x, y) = (along * notch.angle.cos(), across * notch.angle.sin());
        let sign = if y < 0.0 { -1.0 } else { 1.0 };
        let opens = if notch.face == Face::Front { 1.0 } else { -1.0 };
        [
            along * (notch.centre - strip.length / 2.0),
            sign * x,
            sign * y,
            depth * opens,
            notch.width,
            notch.depth,
        ]
    };
    strip.notches.iter().map(slot).collect()
}

fn same_part(a: &Strip, b: &Strip) -> bool {
    let wanted = slots(b, TURNS[0]);
    let near = |a: &Slot, b: &Slot| {
        a.iter()
            .zip(b)
            .all(|(a, b)| approx_eq!(f64, *a, *b, epsilon = 1e-6))
    };
    let fits = |turn: &[f64; 3]| {
        let own = slots(a, *turn);
        own.len() == wanted.len()
            && own
                .iter()
                .all(|slot| wanted.iter().any(|other| near(slot, other)))
    };
    approx_eq!(f64, a.length, b.length, epsilon = 1e-6) && TURNS.iter().any(fits)
}

/// The first strip of every part that differs from all others.
fn parts(lattice: &Lattice) -> Vec<&Strip> {
    let mut parts: Vec<&Strip> = Vec::new();
    for strip in &lattice.strips {
        if !parts.iter().any(|known| same_part(strip, known)) {
            parts.push(strip);
        }
    }
    parts
}

/// Faces and directions of a part's slots.
fn clampings(strip: &Strip) -> usize {
    let mut found: Vec<(Face, f64)> = Vec::new();
    for notch in &strip.notches {
        let known = |(face, angle): &(Face, f64)| {
            *face == notch.face && approx_eq!(f64, *angle, notch.angle, epsilon = 1e-9)
        };
        if !found.iter().any(known) {
            found.push((notch.face, notch.angle));
        }
    }
    found.len()
}

#[track_caller]
fn one_program_a_cut(lattice: &Lattice, plan: &RouterPlan) {
    let cuts = parts(lattice).into_iter().map(clampings).sum::<usize>();
    assert_eq!(plan.setups.len(), cuts, "{}", lattice.title);
    // Nobody is left out: every strip stands in as many programs as it has clampings.
    let strips: usize = plan.setups.iter().map(|setup| setup.count).sum();
    let wanted: usize = lattice.strips.iter().map(clampings).sum();
    assert_eq!(strips, wanted);
}

// The bench.

/// One strip as it is to be laid: its face up is the front, and its datum end is toward the stop.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Lies {
    front_up: bool,
    datum_at_stop: bool,
}

fn is_datum(end: &str) -> bool {
    match end {
        "left" | "lower" => true,
        "right" | "upper" => false,
        _ => panic!("{end}"),
    }
}

/// The ends that a sheet tells to mark: label, and whether it is the datum end in the panel. Nothing
/// where all strips lie with that end toward the stop.
fn marks(setup: &RouterSetup) -> Vec<(String, Lies)> {
    let mut all = Vec::new();
    let told = setup.path.set_up.iter();
    for line in told.filter(|line| line.starts_with("Lay ")) {
        let (strips, rest) = line["Lay ".len()..].split_once(" with the ").unwrap();
        let (face, rest) = rest.split_once(" face up and the ").unwrap();
        let (end, rest) = rest.split_once(" end toward the stop").unwrap();
        let turned = match rest.strip_prefix(", but of ") {
            Some(more) => {
                let (turned, other) = more.split_once(" the ").unwrap();
                assert_ne!(
                    is_datum(other.strip_suffix(" end.").unwrap()),
                    is_datum(end)
                );
                labels(turned)
            }
            None => Vec::new(),
        };
        for label in labels(strips) {
            let lies = Lies {
                front_up: face == "front",
                datum_at_stop: is_datum(end) != turned.contains(&label),
            };
            all.push((label, lies));
        }
    }
    all
}

/// What sheets say of every strip of a set-up, in words: label and how it lies. The heading tells the
/// face; the end was marked in the part's first set-up.
fn laid(setup: &RouterSetup, plan: &RouterPlan) -> Vec<(String, Lies)> {
    let mut same_part = plan.setups.iter().filter(|one| one.bundle == setup.bundle);
    let first = same_part.next().unwrap();
    assert!(same_part.all(|later| marks(later).is_empty()));
    let marks_of_all = marks(first);
    let heading = setup.path.set_up[0].strip_prefix("Set-up for ").unwrap();
    let mut all = Vec::new();
    for group in heading.split_inclusive(" face up") {
        let Some(group) = group.strip_suffix(" face up") else {
            continue;
        };
        let (strips, face) = group.rsplit_once(", ").unwrap();
        assert!(face == "front" || face == "back", "{heading}");
        // Before the first label stands what the strips are called.
        let at = strips.find(|c: char| c.is_ascii_uppercase()).unwrap();
        for label in labels(&strips[at..]) {
            let mark = marks_of_all.iter().find(|(known, _)| *known == label);
            assert_eq!(mark.is_some(), !marks_of_all.is_empty(), "{label}");
            let front_up = face == "front";
            if std::ptr::eq(first, setup) {
                assert!(mark.is_none_or(|(_, lies)| lies.front_up == front_up));
            }
            let datum_at_stop = mark.is_none_or(|(_, lies)| lies.datum_at_stop);
            let lies = Lies {
                front_up,
                datum_at_stop,
            };
            all.push((label, lies));
        }
    }
    assert_eq!(all.len(), setup.count, "{heading}");
    all
}

/// `U1-U3, U5` one by one.
fn labels(runs: &str) -> Vec<String> {
    let mut all = Vec::new();
    for run in runs.split(", ") {
        let number = |label: &str| label[1..].parse::<usize>().unwrap();
        let (first, last) = run.split_once('-').unwrap_or((run, run));
        let letter = &first[..1];
        all.extend((number(first)..=number(last)).map(|number| format!("{letter}{number}")));
    }
    all
}

/// A cut as it is found on a strip: its middle from the strip's end toward the stop, its width along
/// the strip, its depth.
type Cut = [f64; 3];

/// Where the cutter crosses the line `y` below the top of the stock, by its deepest passes.
fn cuts(program: &str, y: f64, radius: f64) -> Vec<Cut> {
    let mut at = [f64::NAN; 3];
    let mut found: Vec<([f64; 2], f64)> = Vec::new();
    for line in program.lines().filter(|line| !line.starts_with('(')) {
        let mut to = at;
        for (axis, letter) in ['X', 'Y', 'Z'].into_iter().enumerate() {
            let Some(start) = line.find(letter) else {
                continue;
            };
            let digits = line[start + 1..].split(|c: char| !"+-.0123456789".contains(c));
            to[axis] = digits.into_iter().next().unwrap().parse().unwrap();
        }
        let ([x0, y0, z0], [x1, y1, z1]) = (at, to);
        at = to;
        if z0.max(z1) < 0.0 && (y0 - y) * (y1 - y) < 0.0 {
            let x = x0 + (x1 - x0) * (y - y0) / (y1 - y0);
            let half = radius * (x1 - x0).hypot(y1 - y0) / (y1 - y0).abs();
            found.push(([x - half, x + half], -z0.min(z1)));
        }
    }
    found.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let mut joined: Vec<([f64; 2], f64)> = Vec::new();
    for (ends, depth) in found {
        match joined.last_mut() {
            Some((known, deepest)) if ends[0] <= known[1] => {
                known[1] = known[1].max(ends[1]);
                *deepest = deepest.max(depth);
            }
            _ => joined.push((ends, depth)),
        }
    }
    let cut = |([low, high], depth): ([f64; 2], f64)| [(low + high) / 2.0, high - low, depth];
    joined.into_iter().map(cut).collect()
}

/// A notch of a strip that lies so: face up or down, its cut, and its direction from the strip's,
/// seen from above.
fn notch_on_bench(lattice: &Lattice, strip: &Strip, notch: &Notch, lies: Lies) -> (bool, Cut, f64) {
    let along = strip.start.to(strip.end).unit().unwrap();
    let middle = strip.start + along * notch.centre;
    let (stop, axis) = if lies.datum_at_stop {
        (strip.start, along)
    } else {
        (strip.end, -along)
    };
    let mate = lattice
        .strips
        .iter()
        .find(|other| Some(other.id) == notch.mate.strip());
    let mate: Vector = mate.map(|mate| mate.start.to(mate.end)).unwrap();
    let seen = axis.cross(mate).atan2(axis.dot(mate));
    let angle = if lies.front_up { seen } else { -seen };
    let up = (notch.face == Face::Front) == lies.front_up;
    let place = stop.to(middle).length();
    (up, [place, notch.width, notch.depth], angle.rem_euclid(PI))
}

/// Lays every strip of a job as its sheets say, cuts it by the programs, and looks for its notches:
/// all of them must be there, and nothing else. `misread` stands for what a person takes wrong.
fn bench(
    (lattice, router): (&Lattice, &Router),
    plan: &RouterPlan,
    misread: &dyn Fn(Lies) -> Lies,
) -> Result<usize, String> {
    let thickness = lattice.section.thickness;
    let mut looked = 0;
    for strip in &lattice.strips {
        let label = lattice.label(strip.id);
        let mut there = vec![false; strip.notches.len()];
        for setup in &plan.setups {
            let laid = laid(setup, plan);
            let Some(at) = laid.iter().position(|(known, _)| *known == label) else {
                continue;
            };
            let lies = misread(laid[at].1);
            let of = |notch: &Notch| notch_on_bench(lattice, strip, notch, lies);
            let row = at % setup.strips_per_run;
            // Where the sheet puts its end: at the stop, or as the notch on the key has it.
            let mut from_stop: Vec<f64> = strip.notches.iter().map(|n| of(n).1[0]).collect();
            from_stop.sort_by(f64::total_cmp);
            let shift = thickness / 2.0 / setup.angle.tan();
            let datum = match setup.registered {
                Registered::EndStop => 0.0,
                Registered::Key { on_notch, x_mm, .. } => x_mm - (from_stop[on_notch - 1] - shift),
            };
            // A strip that rides along is cut out of a longer one afterwards.
            let trim = setup.trims.iter().find(|trim| trim.strip == label);
            let kept = trim.map_or([0.0, setup.length_mm], |trim| trim.kept_mm);
            let start = datum + row as f64 * setup.step_back_mm + kept[0];
            let text = gcode::program(&setup.path, &router.controller).unwrap();
            let y = (row as f64 + 0.5) * thickness;
            for [x, width, depth] in cuts(&text, y, router.tool.diameter / 2.0) {
                let is_cut = |notch: &Notch| {
                    let (up, [place, wide, deep], angle) = of(notch);
                    up && (place - (x - start)).abs() < 2e-3
                        && (wide - width).abs() < 4e-3
                        && (deep - depth).abs() < 2e-3
                        && approx_eq!(f64, angle, setup.angle, epsilon = 1e-6)
                };
                if x - start < 0.0 || x - start > kept[1] - kept[0] {
                    continue;
                }
                let Some(found) = strip.notches.iter().position(is_cut) else {
                    return Err(format!("{label}: a cut at {} is no notch of it", x - start));
                };
                if std::mem::replace(&mut there[found], true) {
                    return Err(format!("{label}: notch {} is cut twice", found + 1));
                }
                looked += 1;
            }
        }
        if let Some(missing) = there.iter().position(|there| !there) {
            return Err(format!("{label}: notch {} is missing", missing + 1));
        }
    }
    Ok(looked)
}

fn as_told(lies: Lies) -> Lies {
    lies
}

#[test]
fn square_panels_of_equal_bays_both_ways_take_one_program() {
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[18; 32]);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    let bays = prop::collection::vec(25.0..60.0_f64, 1..6);
    let router = large();
    for at in 0..100 {
        let bays = bays.new_tree(&mut runner).unwrap().current();
        let back: Vec<f64> = bays.iter().rev().copied().collect();
        // The same bays, or the same from the other end.
        let lattice = lattice(&square(&bays, if at % 2 == 0 { &bays } else { &back }));
        assert_eq!(lattice.bundles.len(), 2);
        let plan = routers::all_prove(&lattice, &router);
        assert_eq!(plan.setups.len(), 1);
        one_program_a_cut(&lattice, &plan);
        let rows = &plan.setups[0].lying;
        assert_eq!((rows[0].bundle, rows[1].bundle), (1, 2));
        assert_eq!(
            (rows[0].face_up, rows[1].face_up),
            (Face::Back, Face::Front)
        );
        let looked = bench((&lattice, &router), &plan, &as_told);
        assert_eq!(looked, Ok(2 * (bays.len() + 1).pow(2)));
    }
}

const SLANTED: &str = "title = \"Slanted\"\n[grid]\nkind = \"KIND\"\noverhang = \"22 mm\"\n[strip]\n\
                       thickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n";

fn slanted() -> Vec<String> {
    let mut jobs = Vec::new();
    let strip = |grid: &str, more: &str| SLANTED.replace("KIND\"", grid) + more + "\n";
    for lap in ["lap = \"least-cut\"", "lap = \"same-depth\""] {
        for rings in 1..4 {
            let grid =
                format!("triangular\"\nside = \"46 mm\"\nregion = \"hexagon\"\nrings = {rings}");
            jobs.push(strip(&grid, lap));
            jobs.push(strip(&grid, &format!("{lap}\nbundling = \"runs\"")));
        }
    }
    for (angle, stance, weave) in [
        (60, "upright", "one-face"),
        (70, "on-point", "alternate"),
        (75, "on-point", "one-face"),
        (90, "on-point", "alternate"),
    ] {
        let grid = format!(
            "diamond\"\npitch = \"38 mm\"\nangle = \"{angle} deg\"\nstance = \"{stance}\"\n\
             region = \"rectangle\"\nwidth = \"200 mm\"\nheight = \"160 mm\""
        );
        jobs.push(strip(&grid, &format!("weave = \"{weave}\"")));
    }
    jobs
}

/// Diamonds, triangles and demos: as many programs as there are different cuts, and every strip comes
/// out right where it lies as its sheet says.
#[test]
fn there_are_as_many_programs_as_distinct_cuts_and_strips_lie_as_told() {
    let router = large();
    let demos = [
        "stair-window",
        "wardrobe-vent",
        "pantry-door",
        "tea-cabinet",
    ];
    let jobs = slanted().into_iter().chain(demos.map(demo));
    let (mut shared, mut turned) = (0, 0);
    for job in jobs {
        let lattice = lattice(&job);
        let plan = routers::all_prove(&lattice, &router);
        // A strip that rides is notched longer than it is: then it is no part of its own.
        if !job.contains("\"runs\"") {
            one_program_a_cut(&lattice, &plan);
        }
        let looked = bench((&lattice, &router), &plan, &as_told);
        assert!(
            looked.as_ref().is_ok_and(|count| *count > 0),
            "{looked:?}\n{job}"
        );
        shared += plan
            .setups
            .iter()
            .filter(|setup| setup.lying.len() > 1)
            .count();
        turned += plan
            .setups
            .iter()
            .filter(|setup| setup.lies_mixed())
            .count();
    }
    assert!(shared > 10 && turned > shared, "{shared} {turned}");
}

/// Long strips moved along on a key share their set-ups too.
#[test]
fn set_ups_over_a_key_are_shared() {
    let bays: Vec<f64> = (0..14).map(|at| 32.0 + f64::from(at)).collect();
    let back: Vec<f64> = bays.iter().rev().copied().collect();
    let router = routers::roomy("", "key_x = \"120 mm\"\nkey_error = \"0.02 mm\"");
    for other in [&bays, &back] {
        let lattice = lattice(&square(&bays, other));
        let plan = routers::all_prove(&lattice, &router);
        assert!(plan.setups.len() > 1 && plan.setups.iter().all(|setup| setup.lying.len() == 2));
        assert_eq!(bench((&lattice, &router), &plan, &as_told), Ok(450));
    }
}

/// What the bench is there for: a face or an end that is taken wrong does not go unseen.
#[test]
fn a_strip_laid_otherwise_than_its_sheet_says_is_wrong() {
    let bays = [30.0, 42.0, 55.0];
    let back = [55.0, 42.0, 30.0];
    let router = large();
    for other in [bays, back] {
        let lattice = lattice(&square(&bays, &other));
        let plan = routers::plan(&lattice, &router);
        let pair = (&lattice, &router);
        assert!(bench(pair, &plan, &as_told).is_ok());
        let face = |lies: Lies| Lies {
            front_up: !lies.front_up,
            ..lies
        };
        let end = |lies: Lies| Lies {
            datum_at_stop: !lies.datum_at_stop,
            ..lies
        };
        assert!(bench(pair, &plan, &face).is_err());
        assert!(bench(pair, &plan, &end).is_err());
        // And the proof finds what a sheet of that kind would tell it.
        let setup = &plan.setups[0];
        for (at, row) in setup.lying.iter().enumerate() {
            let mut wrong = setup.clone();
            wrong.lying[at].end_at_stop = match row.end_at_stop {
                PanelEnd::Left => PanelEnd::Right,
                PanelEnd::Right => PanelEnd::Left,
                PanelEnd::Lower => PanelEnd::Upper,
                PanelEnd::Upper => PanelEnd::Lower,
            };
            let tasks = routers::tasks(&lattice, &router, &wrong);
            assert!(!routers::prove(&tasks[at], setup, &router).ok());
        }
    }
}

/// Ten strips of 2.8 mm: four at a time go into 12 mm, so three runs with two of scrap, where the
/// families apart take two runs each.
#[test]
fn a_narrow_fixture_takes_one_program_and_several_runs() {
    let mut router = large();
    let lattice = lattice(&square(&[40.0; 4], &[40.0; 4]));
    for (widest, wanted) in [(60.0, (10, 1, 0)), (12.0, (4, 3, 2)), (2.9, (1, 10, 0))] {
        router.fixture.widest_bundle = widest;
        let plan = routers::all_prove(&lattice, &router);
        let [setup] = &plan.setups[..] else {
            panic!("{} set-ups", plan.setups.len())
        };
        let found = (setup.strips_per_run, setup.runs, setup.fill_with_scrap);
        assert_eq!(found, wanted);
        assert!(bench((&lattice, &router), &plan, &as_told).is_ok());
    }
}

/// Programs, sheets, answers and proofs name both bundles.
#[test]
fn a_shared_program_is_told_of_and_proved_for_all_its_bundles() {
    let folder = Bench::new();
    let job = square(&[30.0, 42.0, 55.0], &[55.0, 42.0, 30.0]);
    folder.write(
        "job.toml",
        format!("{job}[machines]\nrouter = \"router.toml\"\n"),
    );
    folder.write("router.toml", shipped("small-router"));
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let notch = ["notch", "job.toml", "-o", "x.nc"];
    let sheet = words(&folder.ok(&notch).out);
    for said in [
        "4 uprights (U1-U4), back face up, and 4 cross strips (C1-C4), front face up",
        "Lay U1-U4 with the back face up and the lower end toward the stop.",
        "Lay C1-C4 with the front face up and the right end toward the stop.",
        "Mark every strip's label, its front face and the end toward the stop: here that is its datum end; in the panel the marked end of C1-C4 is the right end.",
        "Clamp 8 strips on edge as one rigid block",
    ] {
        assert!(
            sheet.contains(&said.to_uppercase()) || sheet.contains(said),
            "{said}\n{sheet}"
        );
    }
    let program = folder.read("x.nc");
    assert!(words(&program.replace(['(', ')'], "")).contains("right end toward the stop"));
    let told = folder
        .ok(&[&notch[..], &["--format", "json"]].concat())
        .json();
    let rows = told["setups"][0]["lying"].as_array().unwrap();
    assert_eq!(told["setups"].as_array().unwrap().len(), 1);
    assert_eq!(
        (&rows[0]["bundle"], &rows[1]["bundle"]),
        (&1.into(), &2.into())
    );
    assert_eq!(rows[1]["own_numbers"], serde_json::json!([4, 3, 2, 1]));
    for bundle in [&[][..], &["--bundle", "1"], &["--bundle", "2"]] {
        let prove = [&["prove", "x.nc", "job.toml"][..], bundle].concat();
        let said = words(&folder.ok(&prove).out).to_lowercase();
        let both = "bundle 1 of the job, 4 uprights, and bundle 2 of the job, 4 cross strips";
        assert!(said.contains(both), "{said}");
        let proof = folder
            .ok(&[&prove[..], &["--format", "json"]].concat())
            .json();
        let notches = proof["notches"].as_array().unwrap();
        let of = |bundle: u64| notches.iter().filter(move |notch| notch["setup"] == bundle);
        assert_eq!((of(1).count(), of(2).count()), (4, 4));
        assert_eq!(proof["slots"].as_array().unwrap().len(), 4);
    }
    // One file with stops, in runs.
    let one = shipped("small-router")
        .replace("# set_ups", "set_ups")
        .replace("widest_bundle = \"60 mm\"", "widest_bundle = \"9 mm\"");
    folder.write("router.toml", one);
    folder.ok(&notch);
    let proof = folder
        .ok(&["prove", "x.nc", "job.toml", "--format", "json"])
        .json();
    // Three runs of three strips, four notches, two bundles.
    assert_eq!(proof["notches"].as_array().unwrap().len(), 24);
}
