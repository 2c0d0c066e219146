//! Jobs whose pieces have birds' mouths, as a person or a script has them made.

use crate::in_folder::{run, words};
use serde_json::Value;
use std::fs;
use std::path::Path;

/// Squares of 46 mm, strips of 2.6 mm: openings of 43.4 mm.
fn job(folder: &Path, way: &str, machines: &str) -> &'static str {
    let text = format!(
        "title = \"Keyed squares\"\n[grid]\nkind = \"square\"\npitch = \"46 mm\"\ncolumns = 2\nrows = 2\n\
         overhang = \"14 mm\"\n[strip]\nthickness = \"2.6 mm\"\ndepth = \"9 mm\"\n[infill]\n\
         pattern = \"held-square\"\nallowance = \"4 mm\"\nway = \"{way}\"\n[machines]\n{machines}\n"
    );
    fs::write(folder.join("job.toml"), text).unwrap();
    "job.toml"
}

#[test]
fn at_the_guides_a_mouth_is_marked_and_pared_from_both_sides() {
    let folder = tempfile::tempdir().unwrap();
    let job = job(folder.path(), "guides", "guides = \"paring-guides\"");
    let told = words(folder.path(), &["pare", job, "--csv", "pieces.csv"]);
    // The outer corner of the square lies 0.3 x 43.4 - 1.3 = 11.72 mm from both walls.
    let apex = 11.72 * 2_f64.sqrt();
    for sentence in [
        format!(
            "End B is a bird's mouth of 90 deg. Mark its apex on both faces, {apex:.2} mm from the point A and on the \
             centre line."
        ),
        format!(
            "End B, left side on the fence, point A on the stop: block of 135 deg, stop at {:.2} mm, no farther than \
             the apex.",
            apex + 1.3
        ),
        "guide block 135 deg guide face to fence: at hand".into(),
        "A block above 90 deg is for birds' mouths".into(),
    ] {
        assert!(told.contains(&sentence), "{sentence}\n{told}");
    }
    let list = fs::read_to_string(folder.path().join("pieces.csv")).unwrap();
    let rows: Vec<Vec<&str>> = list.lines().map(|line| line.split(',').collect()).collect();
    let lock = rows.iter().position(|row| row.contains(&"lock")).unwrap();
    let cell = |name: &str| {
        let column = rows[0].iter().position(|heading| *heading == name).unwrap();
        rows[lock][column]
    };
    assert_eq!(cell("end_b_mouth_angle_deg"), "90.0000");
    assert_eq!(cell("end_b_mouth_depth_mm"), "1.300");
    assert_eq!(cell("end_b_mouth_apex_mm"), format!("{apex:.3}"));
    assert_eq!(cell("end_a_mouth_angle_deg"), "");
}

#[test]
fn blades_and_routers_leave_mouths_for_the_guides() {
    let folder = tempfile::tempdir().unwrap();
    for way in ["rows", "stick-ends"] {
        let machines = "sled = \"key-sled\"\nguides = \"paring-guides\"";
        let job = job(folder.path(), way, machines);
        let told = words(folder.path(), &["pare", job]);
        let left = "32 facets of 2 lock stay, end B: a bird's mouth, and a blade does not stop at its apex.";
        assert!(told.contains(left), "{told}");
        let answer = run(folder.path(), &["pare", job, "--format", "json"]).stdout;
        let answer: Value = serde_json::from_slice(&answer).unwrap();
        assert_eq!(answer["pieces"][1]["machined"], serde_json::json!(["A"]));
    }
    let machines = "router = \"small-router\"\nguides = \"paring-guides\"";
    let job = job(folder.path(), "routed-rows", machines);
    let told = words(folder.path(), &["pare", job]);
    assert!(told.contains("mouth-in-row"), "{told}");
    assert!(told.contains("`lock` has a bird's mouth"), "{told}");
    assert!(told.contains("Cut 16 to"), "{told}");
}

/// The cutter's relief in a mouth's apex proves; one drawn for a thinner cutter does not.
#[test]
fn a_routed_mouth_has_its_apex_relieved() {
    let folder = tempfile::tempdir().unwrap();
    let job = job(folder.path(), "guides", "laser = \"sheet-router\"");
    let text = fs::read_to_string(folder.path().join(job)).unwrap();
    fs::write(
        folder.path().join(job),
        text.replace("\"9 mm\"", "\"5 mm\""),
    )
    .unwrap();
    let drawn = run(
        folder.path(),
        &["outline", job, "--what", "pieces", "-o", "pieces.dxf"],
    );
    assert!(drawn.status.success());
    let told = words(folder.path(), &["prove", "pieces.dxf", job]);
    assert!(
        told.contains("RIGHT AGAINST ALL 32 PIECES OF THE JOB"),
        "{told}"
    );
    let shipped = words(folder.path(), &["machine", "show", "sheet-router"]);
    assert!(shipped.contains("1.5 mm"), "{shipped}");
    let profile = run(folder.path(), &["machine", "show", "sheet-router"]).stdout;
    let profile = String::from_utf8(profile)
        .unwrap()
        .replace("diameter = \"1.5 mm\"", "diameter = \"1.8 mm\"");
    fs::write(folder.path().join("other.toml"), profile).unwrap();
    let proof = ["prove", "pieces.dxf", job, "--machine", "other.toml"];
    let told = words(folder.path(), &proof);
    assert!(!told.contains("No faults found"), "{told}");
}
