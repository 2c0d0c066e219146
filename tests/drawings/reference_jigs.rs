//! Story sticks, combs, base inserts and guide blocks against the outside: ezdxf reads them,
//! shapely takes the kerf off and measures; what it should find follows from the job's numbers.

use crate::support::jobs::{Job, answer, demo_jobs, jobs, number, samples};
use crate::support::measure_parts;
use crate::support::profiles::laser_jobs;
use float_cmp::approx_eq;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Figures of the shipped profiles, copied by hand.
const KERF: f64 = 0.16;
const SHEET: [f64; 2] = [640.0, 430.0];
const MARGIN: f64 = 6.0;
const GAP: f64 = 2.0;

const GENERATED: usize = 12;

/// A laser's figures.
struct Bed {
    kerf: f64,
    sheet: [f64; 2],
    margin: f64,
    gap: f64,
}

const SHIPPED: Bed = Bed {
    kerf: KERF,
    sheet: SHEET,
    margin: MARGIN,
    gap: GAP,
};

/// The finished parts of an outline, once they are seen to lie apart, inside the margins and
/// outside what is said to be left over.
fn laid_out(folder: &Path, job: &Path, more: &[&str], bed: &Bed, level: f64) -> Vec<Value> {
    let output = folder.join("made.dxf");
    let mut arguments = vec![
        "outline",
        job.to_str().unwrap(),
        "-o",
        output.to_str().unwrap(),
    ];
    arguments.extend(more);
    let answer = answer(folder, &arguments);
    let files = answer["files"].as_array().unwrap();
    let paths: Vec<&str> = files
        .iter()
        .map(|file| file["path"].as_str().unwrap())
        .collect();
    let request = json!({ "files": paths, "kerf_mm": bed.kerf, "level_mm": level });
    let found = measure_parts(&request);
    if let Some(apart) = found["apart_mm"].as_f64() {
        assert!(apart > bed.gap - 1e-5, "{apart} of {}", bed.gap);
    }
    let parts = found["parts"].as_array().unwrap().clone();
    let pair = |value: &Value| [0, 1].map(|axis| number(&value[axis]));
    for part in &parts {
        let (low, size) = (pair(&part["at"]), pair(&part["size"]));
        let file = files
            .iter()
            .find(|file| file["path"] == part["file"])
            .unwrap();
        let (from, rest) = (pair(&file["offcut_from_mm"]), pair(&file["offcut_mm"]));
        let mut beside = false;
        for axis in 0..2 {
            // The groove stays out of the margin as well.
            assert!(low[axis] - bed.kerf > bed.margin - 1e-5, "{part}");
            let high = low[axis] + size[axis] + bed.kerf;
            assert!(high < bed.sheet[axis] - bed.margin + 1e-5, "{part}");
            assert!(approx_eq!(
                f64,
                from[axis] + rest[axis],
                bed.sheet[axis],
                epsilon = 1e-6
            ));
            beside |= high < from[axis] + 1e-5;
        }
        assert!(beside, "{part} in the off-cut of {file}");
    }
    let area: f64 = parts.iter().map(|part| number(&part["area"])).sum();
    let told: f64 = files.iter().map(|file| number(&file["utilisation"])).sum();
    let whole = bed.sheet[0] * bed.sheet[1];
    assert!(
        approx_eq!(f64, area / whole, told, epsilon = 1e-5),
        "{area} is not {told} of {whole}"
    );
    parts
}

/// The finished parts of an outline that has a check line on each.
fn made(folder: &Path, job: &Path, more: &[&str], level: f64) -> Vec<Value> {
    let parts = laid_out(folder, job, more, &SHIPPED, level);
    for part in &parts {
        let line = part["marks"].as_array().unwrap().iter().filter(|mark| {
            let points = mark.as_array().unwrap();
            points.len() == 4
                && ((number(&points[2][0]) - number(&points[1][0])).abs() - 50.0).abs() < 2e-6
        });
        assert_eq!(line.count(), 1, "check line of {part}");
    }
    parts
}

#[test]
fn nested_parts_lie_apart_in_the_margins_beside_the_off_cut() {
    let folder = TempDir::new().unwrap();
    for (at, (job, laser)) in samples(&laser_jobs(jobs()), GENERATED).iter().enumerate() {
        let (path, profile) = (
            folder.path().join(format!("{at}.toml")),
            folder.path().join(format!("laser{at}.toml")),
        );
        fs::write(&path, job.toml()).unwrap();
        fs::write(&profile, laser.toml()).unwrap();
        let bed = Bed {
            kerf: laser.kerf.mm,
            sheet: [laser.sheet_length.mm, laser.sheet_width.mm],
            margin: laser.margin.mm,
            gap: laser.gap.mm,
        };
        let more = ["--what", "strips", "--machine", profile.to_str().unwrap()];
        let parts = laid_out(folder.path(), &path, &more, &bed, 0.1);
        let wanted: usize = job.kinds().iter().map(|kind| kind.count).sum();
        assert_eq!(parts.len(), wanted);
    }
    let cabinet = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/tea-cabinet.toml");
    let pieces = laid_out(
        folder.path(),
        &cabinet,
        &["--what", "pieces"],
        &SHIPPED,
        0.1,
    );
    assert_eq!(pieces.len(), 35 * 7);
}

/// The demo jobs and generated ones with at least 60 mm of strip and room on the laser's sheet.
fn all_jobs(folder: &Path) -> Vec<(std::path::PathBuf, Job)> {
    let mut all = demo_jobs().to_vec();
    let fits = |job: &&Job| {
        job.kinds().iter().all(|kind| kind.length < 580.0)
            && job.depth.mm < 60.0
            && job.thickness.mm > 1.0
    };
    let many = samples(&jobs(), 4 * GENERATED);
    for (at, job) in many.iter().filter(fits).take(GENERATED).enumerate() {
        let path = folder.join(format!("job{at}.toml"));
        fs::write(&path, job.toml()).unwrap();
        all.push((path, job.clone()));
    }
    assert!(all.len() > 8);
    all
}

#[test]
fn a_sticks_boxes_are_the_notches() {
    let folder = TempDir::new().unwrap();
    for (path, job) in all_jobs(folder.path()) {
        let more = ["--what", "gauge", "--machine", "tube-laser"];
        let sticks = made(folder.path(), &path, &more, 1.0);
        for kind in job.kinds() {
            let boxes: Vec<[f64; 2]> = kind
                .centres
                .iter()
                .map(|centre| [-0.5, 0.5].map(|side| centre + side * kind.notch_width))
                .collect();
            let length = kind.length.max(60.0);
            let fits = |stick: &&Value| (number(&stick["size"][0]) - length).abs() < 2e-6;
            let marked = |stick: &Value| {
                let marks = stick["marks"].as_array().unwrap();
                boxes.iter().all(|[near, far]| {
                    marks.iter().any(|mark| {
                        // A stroke may be drawn from either end.
                        let at = |n: usize| mark.get(n).map_or(f64::NAN, |p| number(&p[0]));
                        let ends = [at(0), at(3)]
                            .into_iter()
                            .fold((f64::INFINITY, 0.0), |(low, high): (f64, f64), x| {
                                (low.min(x), high.max(x))
                            });
                        let tall = mark.get(1).map_or(f64::NAN, |p| number(&p[1]));
                        mark.as_array().unwrap().len() == 4
                            && (ends.0 - near).abs() < 2e-6
                            && (ends.1 - far).abs() < 2e-6
                            && (tall - 6.0).abs() < 2e-6
                    })
                })
            };
            let one = sticks.iter().filter(fits).any(marked);
            assert!(one, "{} of {}", kind.name, path.display());
        }
    }
}

#[test]
fn a_combs_slots_have_the_widths_that_are_wanted() {
    let folder = TempDir::new().unwrap();
    for (path, job) in all_jobs(folder.path()) {
        let more = ["--what", "comb", "--machine", "tube-laser"];
        let depth = job.depth.mm / 2.0;
        let combs = made(folder.path(), &path, &more, depth / 2.0);
        let widths: Vec<f64> = (-4..=4)
            .map(|n| job.thickness.mm + 0.05 * f64::from(n))
            .collect();
        assert_eq!(combs.len(), 1);
        check_slots(&combs[0], &widths);
        // Just above their floor there is wood.
        let above = made(folder.path(), &path, &more, depth + 1e-4);
        assert_eq!(above[0]["openings"], json!([]));
    }
    let (path, _) = &demo_jobs()[0];
    let list = ["--what", "comb", "--slots", "1/8 in, 2.9mm,3.0333mm"];
    check_slots(
        &made(folder.path(), path, &list, 3.0)[0],
        &[2.9, 3.0333, 3.175],
    );
}

fn check_slots(comb: &Value, widths: &[f64]) {
    let slots = comb["openings"].as_array().unwrap();
    assert_eq!(slots.len(), widths.len(), "{comb}");
    for (slot, width) in slots.iter().zip(widths) {
        let found = number(&slot[1]) - number(&slot[0]);
        assert!((found - width).abs() < 3e-6, "{found} for {width}");
    }
}

/// Middles of an insert's key slots from its blade's, and the slots' widths and lengths.
fn slots_of(insert: &Value) -> Vec<[f64; 3]> {
    let mut holes: Vec<[f64; 4]> = insert["holes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|hole| [0, 1, 2, 3].map(|n| number(&hole[n])))
        .collect();
    holes.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let blade = holes[0];
    // All about one middle, so that the key stands where the blade cuts.
    assert!(holes.iter().all(|hole| (hole[1] - blade[1]).abs() < 2e-6));
    holes
        .iter()
        .map(|hole| [hole[0] - blade[0], hole[2], hole[3]])
        .collect()
}

#[test]
fn an_inserts_slots_are_as_far_from_the_blade_as_wanted() {
    let folder = TempDir::new().unwrap();
    let (path, _) = &demo_jobs()[0];
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 3e-6, "{found} {wanted}");
    // The lamp's steps on the key sled: kerf 2.6, base 12, blade 254, blocks of 60; notches 3.05
    // wide and 6 deep take two passes, so the key is as wide as the kerf.
    let inserts = made(folder.path(), path, &["--what", "rack"], 1.0);
    assert_eq!(inserts.len(), 1);
    let slots = slots_of(&inserts[0]);
    let half = |h: f64| (127.0_f64.powi(2) - (127.0 - h).powi(2)).sqrt();
    let blade = 60.0 + 2.0 * half(6.0) + 2.0 * half(18.0);
    let wanted = [
        [0.0, 2.6, blade],
        [31.0, 2.6, 60.0],
        [43.0, 2.6, 60.0],
        [54.0, 2.6, 60.0],
    ];
    assert_eq!(slots.len(), wanted.len());
    for (found, wanted) in slots.iter().zip(wanted) {
        (0..3).for_each(|n| near(found[n], wanted[n]));
    }
    // The door's bays are all 38 and take pieces, so all its steps take the same slot.
    let door = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/tea-cabinet.toml");
    let inserts = made(folder.path(), &door, &["--what", "rack"], 1.0);
    let slots = slots_of(&inserts[0]);
    assert_eq!(slots.len(), 2);
    for (slot, wanted) in slots.iter().zip([0.0, 38.0]) {
        near(slot[0], wanted);
    }
    // By list, on the bench hook; 31 is too near 30 for one insert.
    let list = [
        "--what",
        "rack",
        "--sled",
        "bench-hook",
        "--slots",
        "30mm,31mm,2in,55.125 mm",
    ];
    let inserts = made(folder.path(), path, &list, 1.0);
    let found: Vec<Vec<f64>> = inserts
        .iter()
        .map(|insert| {
            slots_of(insert)
                .iter()
                .skip(1)
                .map(|slot| slot[0])
                .collect()
        })
        .collect();
    assert_eq!(found.len(), 2, "{found:?}");
    for (found, wanted) in found.iter().zip([&[30.0, 50.8, 55.125][..], &[31.0]]) {
        assert_eq!(found.len(), wanted.len());
        found
            .iter()
            .zip(wanted)
            .for_each(|(found, wanted)| near(*found, *wanted));
    }
}

#[test]
fn a_slot_that_fitted_changes_every_notch() {
    let folder = TempDir::new().unwrap();
    let (path, _) = &demo_jobs()[0];
    let shipped = lapwright::reading::shipped_machine("tube-laser")
        .unwrap()
        .text
        .to_owned();
    let profile = folder.path().join("fitted.toml");
    fs::write(
        &profile,
        shipped + "[fit]\nslot = \"2.95 mm\"\nstrip = \"2.98 mm\"\n",
    )
    .unwrap();
    let output = folder.path().join("strips.dxf");
    let machine = profile.to_str().unwrap();
    let answer = answer(
        folder.path(),
        &[
            "outline",
            path.to_str().unwrap(),
            "--what",
            "strips",
            "--machine",
            machine,
            "-o",
            output.to_str().unwrap(),
        ],
    );
    let files: Vec<&Value> = answer["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|file| &file["path"])
        .collect();
    for level in [1.0, 11.0] {
        let request = json!({ "files": files, "kerf_mm": KERF, "level_mm": level });
        let parts = measure_parts(&request)["parts"].clone();
        let openings = parts.as_array().unwrap().iter();
        let openings: Vec<&Value> = openings
            .flat_map(|part| part["openings"].as_array().unwrap())
            .collect();
        // Five uprights with seven notches in the back, seven cross strips with five in the front.
        assert_eq!(openings.len(), 35);
        for opening in openings {
            // 3 mm strips, 0.03 mm tighter; not the 3.05 mm of the job.
            assert!((number(&opening[1]) - number(&opening[0]) - 2.97).abs() < 3e-6);
        }
    }
}
