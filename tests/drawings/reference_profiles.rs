//! Side profiles of strips with slanted notches, against shapely: a slot clears its mate's slanted
//! prism and no more, and leaves open what the sheet tells.
#![allow(clippy::print_stdout)]

use crate::support::check_profiles;
use crate::support::jobs::answer;
use lapwright::geometry::Point;
use lapwright::lattice::Strip;
use lapwright::reading::read_job;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Kerf of the shipped profile that is used, copied by hand.
const KERF_MM: f64 = 0.16;

/// Grids, sections: every stance and region, angles from sharp to blunt, thick and thin, tight and
/// loose, thirds and other shares, one face and both.
fn jobs() -> Vec<String> {
    let strips = [
        "thickness = \"3 mm\"\ndepth = \"12 mm\"",
        "thickness = \"1.5 mm\"\ndepth = \"9 mm\"\nclearance = \"0.1 mm\"\nlap = \"same-depth\"",
        "thickness = \"5 mm\"\ndepth = \"18 mm\"\nclearance = \"-0.05 mm\"",
    ];
    let uneven =
        "thickness = \"2.5 mm\"\ndepth = \"10 mm\"\nkeeps = [\"2 mm\", \"3 mm\", \"5 mm\"]";
    let alternate = "thickness = \"3 mm\"\ndepth = \"12 mm\"\nweave = \"alternate\"";
    let hexagon = "region = \"hexagon\"\nrings = 2";
    let rectangle = "region = \"rectangle\"\nwidth = \"260 mm\"\nheight = \"217 mm\"";
    let mut jobs = Vec::new();
    let mut add = |grid: String, strip: &str| {
        jobs.push(format!(
            "title = \"t\"\n[grid]\n{grid}\noverhang = \"25 mm\"\n[strip]\n{strip}\n\
             [machines]\nlaser = \"tube-laser\"\n"
        ));
    };
    for stance in ["lying", "upright"] {
        for region in [hexagon, rectangle] {
            for strip in strips.iter().chain([&uneven]) {
                let grid = format!(
                    "kind = \"triangular\"\nside = \"50 mm\"\nstance = \"{stance}\"\n{region}"
                );
                add(grid, strip);
            }
        }
    }
    for (stance, angle) in [
        ("upright", 30.0),
        ("upright", 72.5),
        ("on-point", 45.0),
        ("on-point", 60.0),
        ("on-point", 90.0),
        ("upright", 118.0),
        ("on-point", 150.0),
    ] {
        for strip in strips.iter().chain([&alternate]) {
            let grid = format!(
                "kind = \"diamond\"\npitch = \"45 mm\"\nangle = \"{angle} deg\"\n\
                 stance = \"{stance}\"\n{rectangle}"
            );
            add(grid, strip);
        }
    }
    jobs
}

/// What a job's drawings must be; `None` for a job that cannot be built.
fn described(folder: &Path, number: usize, text: &str) -> Option<Value> {
    let panel = read_job("job.toml", text).ok()?.panel;
    let lattice = panel.lattice();
    let job = folder.join(format!("{number}.toml"));
    fs::write(&job, text).unwrap();
    let output = folder.join(format!("{number}.dxf"));
    let arguments = ["outline", "--what", "strips"];
    let paths = [job.to_str().unwrap(), "-o", output.to_str().unwrap()];
    let answer = answer(folder, &[&arguments[..], &paths].concat());
    let files = answer["files"].as_array().unwrap();
    let line = |strip: &Strip| {
        let point = |p: Point| json!([p.x, p.y]);
        json!([point(strip.start), point(strip.end)])
    };
    let strip = |strip: &Strip| {
        let notches = strip.notches.iter().map(|notch| {
            let mate = lattice
                .strips
                .iter()
                .find(|other| Some(other.id) == notch.mate.strip());
            json!({
                "mate": line(mate.unwrap()),
                "face": notch.face.name(),
                "depth": notch.depth,
            })
        });
        json!({ "line": line(strip), "notches": notches.collect::<Value>() })
    };
    let cuts = &answer["square_cuts"];
    Some(json!({
        "files": files.iter().map(|file| file["path"].clone()).collect::<Value>(),
        "kerf_mm": KERF_MM,
        "thickness": panel.design().strip.thickness,
        "clearance": panel.design().strip.clearance,
        "depth": panel.design().strip.depth,
        "strips": lattice.strips.iter().map(strip).collect::<Value>(),
        "square_cuts": if cuts.is_null() { json!([]) } else { cuts.clone() },
    }))
}

fn all(folder: &Path) -> Vec<Value> {
    let jobs = jobs();
    let numbered = jobs.iter().enumerate();
    let made: Vec<Value> = numbered
        .filter_map(|(number, text)| described(folder, number, text))
        .collect();
    println!("{} of {} jobs", made.len(), jobs.len());
    assert!(
        made.len() + 4 > jobs.len(),
        "{} of {}",
        made.len(),
        jobs.len()
    );
    made
}

#[test]
fn slots_clear_their_mates_slant_and_no_more() {
    let folder = TempDir::new().unwrap();
    let described = all(folder.path());
    check_profiles(&described.into()).unwrap_or_else(|reason| panic!("{reason}"));
}

/// The check itself: what was changed must be refused.
#[test]
fn changed_profiles_are_refused() {
    let folder = TempDir::new().unwrap();
    let triangles = described(folder.path(), 0, &jobs()[0]).unwrap();
    type Change = fn(&mut Value);
    let cases: [(Change, &str); 5] = [
        (|job| job["thickness"] = json!(3.01), "mm open"),
        (|job| job["clearance"] = json!(0.002), "not 5.19"),
        (
            |job| {
                for notch in [0, 1] {
                    job["strips"][3]["notches"][notch]["depth"] = json!(7.9);
                }
            },
            "too many",
        ),
        (
            |job| drop(job["strips"].as_array_mut().unwrap().pop()),
            "is one strip",
        ),
        (
            |job| job["square_cuts"][0]["floor_gap_mm"] = json!(0.0),
            "floor gap",
        ),
    ];
    for (change, reason) in cases {
        let mut changed = triangles.clone();
        change(&mut changed);
        let refusal = check_profiles(&json!([changed])).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
}
