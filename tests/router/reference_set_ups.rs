//! Bundles that are stepped, turned over, or moved along on a key, against the outside: the
//! reference RS274/NGC interpreter runs all programs of a bundle, and what a cylindrical cutter takes
//! away on the ways that it prints is looked at point by point in the strips' own frame, by brute
//! force: every notch must be there, on all strips and from all set-ups together, and nothing else.

use std::f64::consts::PI;
use std::fs;
use std::path::Path;

use crate::support::jobs::answer;
use crate::support::{Canonical, rs274};
use lapwright::lattice::{Bundle, Face, Notch};
use lapwright::reading::read_job;
use serde_json::Value;
use tempfile::TempDir;

/// Points nearer to a wall or a floor than this are not looked at: programs have three decimals.
const UNSURE_MM: f64 = 0.004;

/// How far beside a wall or a floor points are looked at.
const BESIDE_MM: f64 = 0.012;

/// A straight way of the cutter's end.
type Way = [[f64; 3]; 2];

/// The ways of a program at a feed, below the top of the stock.
fn ways(program: &Path) -> Vec<Way> {
    let mut at = [0.0_f64; 3];
    let mut ways = Vec::new();
    for call in rs274(program) {
        let (to, cuts) = match call {
            Canonical::Traverse { x, y, z } => ([x, y, z], false),
            Canonical::Feed { x, y, z } => ([x, y, z], true),
            _ => continue,
        };
        let low = at[2].min(to[2]) < 0.0;
        let sideways = (at[0] - to[0]).abs() + (at[1] - to[1]).abs() > 0.0;
        assert!(cuts || !low || !sideways, "a rapid sideways at {at:?}");
        if cuts && low {
            ways.push([at, to]);
        }
        at = to;
    }
    ways
}

/// A set-up as a person would lay it out.
struct SetUp {
    ways: Vec<Way>,
    face: Face,
    /// The strips' length, where their datum ends lie away from the stop.
    far_end: Option<f64>,
    strips: usize,
    /// From the strips to the slots, seen from above.
    angle: f64,
    /// X of the front strip's datum end.
    datum: f64,
}

/// How a bundle's strips lie in a set-up, where it is for them.
fn row(told: &Value, bundle: u64) -> Option<&Value> {
    let rows = told["lying"].as_array().unwrap();
    rows.iter().find(|row| row["bundle"] == bundle)
}

/// `key` is the key's X from program zero.
fn set_up((told, row): (&Value, &Value), bundle: &Bundle, thickness: f64, key: f64) -> SetUp {
    let face = if row["face_up"] == "front" {
        Face::Front
    } else {
        Face::Back
    };
    let end = row["end_at_stop"].as_str().unwrap();
    let far_end = ["right end", "upper end"].contains(&end);
    let notch = |number: &Value| {
        let index = usize::try_from(number.as_u64().unwrap()).unwrap() - 1;
        let own = row["own_numbers"].as_array();
        let index = own.map_or(index, |own| {
            usize::try_from(own[index].as_u64().unwrap()).unwrap() - 1
        });
        let mut notch = bundle.notches[index];
        if far_end {
            notch.centre = bundle.length - notch.centre;
        }
        notch
    };
    let seen = |notch: &Notch| match face {
        Face::Front => notch.angle,
        Face::Back => PI - notch.angle,
    };
    let first = notch(&told["notches"][0]["index"]);
    let angle = seen(&first);
    let datum = match told["registered"]["by"].as_str().unwrap() {
        "key" => {
            let on_key = notch(&told["registered"]["on_notch"]);
            // The bar is measured at the front edge, half a strip before the centre line.
            key - (on_key.centre - thickness / 2.0 / seen(&on_key).tan())
        }
        _ => 0.0,
    };
    SetUp {
        ways: ways(Path::new(told["file"].as_str().unwrap())),
        face,
        far_end: far_end.then_some(bundle.length),
        strips: usize::try_from(told["strips_per_run"].as_u64().unwrap()).unwrap(),
        angle,
        datum,
    }
}

/// A point of a strip: along it from its datum end, across it from its centre line to the left as
/// seen from the front, and its depth from the front.
#[derive(Debug, Clone, Copy)]
struct At {
    along: f64,
    across: f64,
    depth: f64,
}

struct Section {
    thickness: f64,
    depth: f64,
}

impl SetUp {
    /// Whether the cutter takes a point of strip `number` (from 0) away.
    fn takes(&self, at: At, number: usize, section: &Section, radius: f64) -> bool {
        let t = section.thickness;
        let start = self.datum + number as f64 * t / self.angle.tan();
        let (across, down) = match self.face {
            Face::Front => (at.across, at.depth),
            // Rolled over along its length.
            Face::Back => (-at.across, section.depth - at.depth),
        };
        // Half a turn about an upright axis.
        let (along, across) = match self.far_end {
            None => (at.along, across),
            Some(length) => (length - at.along, -across),
        };
        let place = [start + along, number as f64 * t + t / 2.0 + across];
        self.ways.iter().any(|way| {
            let lowest = way[0][2].min(way[1][2]);
            lowest < -down && off(place, way) < radius
        })
    }
}

/// Distance of a place from a way, seen from above.
fn off(place: [f64; 2], [a, b]: &Way) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let along = if square > 0.0 {
        (((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (place[0] - a[0] - along * dx).hypot(place[1] - a[1] - along * dy)
}

/// Whether a point belongs to a notch; `None` where it is too close to tell.
fn inside(at: At, notch: &Notch, section: &Section) -> Option<bool> {
    let middle = notch.centre + at.across / notch.angle.tan();
    let from_face = match notch.face {
        Face::Front => at.depth,
        Face::Back => section.depth - at.depth,
    };
    let out = ((at.along - middle).abs() - notch.width / 2.0).max(from_face - notch.depth);
    (out.abs() > UNSURE_MM).then_some(out < 0.0)
}

/// Points about every notch's walls and floor, and along the whole strip.
fn points(bundle: &Bundle, section: &Section) -> Vec<At> {
    let side = section.thickness / 2.0 - 0.001;
    let mut points = Vec::new();
    for notch in &bundle.notches {
        for across in [-side, 0.0, side] {
            let middle = notch.centre + across / notch.angle.tan();
            let half = notch.width / 2.0;
            for from in [
                -half - BESIDE_MM,
                -half + BESIDE_MM,
                0.0,
                half - BESIDE_MM,
                half + BESIDE_MM,
            ] {
                for down in [
                    0.01,
                    notch.depth / 2.0,
                    notch.depth - BESIDE_MM,
                    notch.depth + BESIDE_MM,
                ] {
                    let depth = match notch.face {
                        Face::Front => down,
                        Face::Back => section.depth - down,
                    };
                    points.push(At {
                        along: middle + from,
                        across,
                        depth,
                    });
                }
            }
        }
    }
    let mut along = 0.4;
    while along < bundle.length {
        for across in [-side, side] {
            for depth in [0.05, section.depth - 0.05] {
                points.push(At {
                    along,
                    across,
                    depth,
                });
            }
        }
        along += 1.3;
    }
    points
}

/// Plans a job, runs all its programs and looks at all its strips; how many set-ups there were.
fn check(job: &str, profile: &str, radius: f64, key: f64) -> usize {
    let folder = TempDir::new().unwrap();
    let place = |name: &str| folder.path().join(name);
    fs::write(place("job.toml"), job).unwrap();
    fs::write(place("router.toml"), profile).unwrap();
    let (job_file, machine, output) = (place("job.toml"), place("router.toml"), place("out.nc"));
    let arguments = [
        "notch",
        job_file.to_str().unwrap(),
        "--machine",
        machine.to_str().unwrap(),
        "-o",
        output.to_str().unwrap(),
    ];
    let told = answer(folder.path(), &arguments);
    let setups = told["setups"].as_array().unwrap();
    // A file alone is known for a set-up that it is right for.
    for setup in setups {
        let file = setup["file"].as_str().unwrap();
        let arguments = [
            "prove",
            file,
            job_file.to_str().unwrap(),
            "--machine",
            machine.to_str().unwrap(),
            "--bundle",
            &setup["bundle"].to_string(),
        ];
        let proof = answer(folder.path(), &arguments);
        assert_eq!(proof["ok"], true);
        // Two set-ups may have the same program: a middle strip is the same from both faces.
        let count = |list: &Value| list.as_array().unwrap().len();
        let shared = count(&setup["lying"]);
        assert_eq!(count(&proof["notches"]), shared * count(&setup["notches"]));
    }
    let lattice = read_job("job.toml", job).unwrap().panel.lattice().clone();
    let section = Section {
        thickness: lattice.section.thickness,
        depth: lattice.section.depth,
    };
    for (bundle, number) in lattice.bundles.iter().zip(1_u64..) {
        let of_bundle = setups
            .iter()
            .filter_map(|told| Some((told, row(told, number)?)));
        let made: Vec<SetUp> = of_bundle
            .map(|told| set_up(told, bundle, section.thickness, key))
            .collect();
        for at in points(bundle, &section) {
            let wanted: Vec<_> = bundle
                .notches
                .iter()
                .map(|notch| inside(at, notch, &section))
                .collect();
            if wanted.contains(&None) {
                continue;
            }
            for strip in 0..made[0].strips {
                let gone = made
                    .iter()
                    .any(|made| made.takes(at, strip, &section, radius));
                assert_eq!(
                    gone,
                    wanted.contains(&Some(true)),
                    "bundle {number}, strip {strip}: {at:?}\n{job}"
                );
            }
        }
    }
    setups.len()
}

fn profile(name: &str, changes: &[(&str, &str)]) -> String {
    let path = format!("{}/profiles/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let mut text = fs::read_to_string(path).unwrap();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    text
}

fn job(grid: &str, strip: &str) -> String {
    format!(
        "title = \"Made up\"\n[grid]\n{grid}\noverhang = \"20 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n{strip}\n"
    )
}

#[test]
fn triangular_panels_come_out_of_stepped_bundles() {
    let grid = "kind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 2";
    for strip in ["bundling = \"runs\"", "lap = \"least-cut\""] {
        let setups = check(&job(grid, strip), &profile("mid-router", &[]), 1.25, 0.0);
        // Three bundles, each in two clampings; front and back ones are the same part.
        assert!(setups >= 4, "{setups}");
    }
}

#[test]
fn strips_turned_over_or_end_for_end_come_out_of_the_block_that_they_share() {
    let bays = "[\"30 mm\", \"42 mm\", \"55 mm\"]";
    for other in [bays, "[\"55 mm\", \"42 mm\", \"30 mm\"]"] {
        let grid = format!("kind = \"square\"\npitches_x = {bays}\npitches_y = {other}");
        let setups = check(&job(&grid, ""), &profile("small-router", &[]), 1.0, 0.0);
        assert_eq!(setups, 1);
    }
}

#[test]
fn diamond_panels_come_out_of_stepped_bundles() {
    for (angle, weave) in [
        ("60 deg", "one-face"),
        ("75 deg", "alternate"),
        ("45 deg", "one-face"),
    ] {
        let grid = format!(
            "kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"{angle}\"\nstance = \"upright\"\nregion = \"rectangle\"\nwidth = \"240 mm\"\nheight = \"200 mm\""
        );
        let strip = format!("weave = \"{weave}\"\nbundling = \"runs\"");
        let changes = [
            (
                "run_out = \"2 mm\"",
                "run_out = \"2 mm\"\nfloor_allowance = \"0.3 mm\"\nspring_pass = true",
            ),
            (
                "widest_bundle",
                "backer_front = \"3 mm\"\nbacker_back = \"2 mm\"\nwidest_bundle",
            ),
        ];
        check(
            &job(&grid, &strip),
            &profile("mid-router", &changes),
            1.25,
            0.0,
        );
    }
}

#[test]
fn long_strips_are_moved_along_on_a_key() {
    let grid = "kind = \"square\"\npitch = \"45 mm\"\ncolumns = 14\nrows = 2";
    let changes = [(
        "[fixture]",
        "[fixture]\nkey_x = \"50 mm\"\nkey_error = \"0.03 mm\"",
    )];
    let setups = check(
        &job(grid, ""),
        &profile("small-router", &changes),
        1.0,
        35.0,
    );
    assert_eq!(setups, 4);
    let grid = "kind = \"diamond\"\npitch = \"50 mm\"\nangle = \"70 deg\"\nstance = \"upright\"\nregion = \"rectangle\"\nwidth = \"500 mm\"\nheight = \"160 mm\"";
    let setups = check(
        &job(grid, "bundling = \"runs\""),
        &profile("small-router", &changes),
        1.0,
        35.0,
    );
    assert!(setups >= 3, "{setups}");
}
