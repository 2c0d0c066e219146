//! Jobs whose pieces are folded, as a person or a script has them made.

use crate::in_folder::{run, words};
use serde_json::Value;
use std::fs;
use std::path::Path;

/// Squares of 46 mm, strips of 2.6 mm: openings of 43.4 mm.
fn job(folder: &Path, infill: &str, machines: &str) -> &'static str {
    let text = format!(
        "title = \"Folded leaves\"\n[grid]\nkind = \"square\"\npitch = \"46 mm\"\ncolumns = 2\nrows = 2\n\
         overhang = \"14 mm\"\n[strip]\nthickness = \"2.6 mm\"\ndepth = \"5 mm\"\n[infill]\n\
         pattern = \"folded-hemp-leaf\"\n{infill}\n[machines]\n{machines}\n"
    );
    fs::write(folder.join("job.toml"), text).unwrap();
    "job.toml"
}

/// The strip by hand: half of the cell is a right triangle whose equal sides are 43.4 mm less t / sqrt 2, its
/// inradius r = side (1 - 1 / sqrt 2); a leg runs r / sin 22.5 from the sharp corner to the bend, which turns by
/// 45 deg; its end there is pared at 22.5 deg on both sides.
struct ByHand {
    length: f64,
    outer: f64,
    at: f64,
    slope: f64,
}

fn by_hand(skin: f64) -> ByHand {
    let t = 2.6;
    let slope = 22.5_f64.to_radians().tan();
    let r = (43.4 - t / 2_f64.sqrt()) * (1.0 - 0.5_f64.sqrt());
    let leg = r / 22.5_f64.to_radians().sin();
    let at = leg + (t / 2.0 - skin) * slope;
    ByHand {
        length: 2.0 * at,
        outer: at - t / 2.0 / slope,
        at,
        slope,
    }
}

#[test]
fn at_the_guides_a_strip_is_pared_then_its_v_then_it_is_bent() {
    let folder = tempfile::tempdir().unwrap();
    for (infill, skin) in [("", 0.5), ("fold_skin = \"0.35 mm\"", 0.35)] {
        let job = job(folder.path(), infill, "guides = \"paring-guides\"");
        let told = words(folder.path(), &["pare", job, "--csv", "pieces.csv"]);
        let hand = by_hand(skin);
        let deep = 2.6 - skin;
        let stop = hand.at - deep * hand.slope;
        for sentence in [
            format!(
                "hinge 8 43.40 43.40 {:.2} {:.2}",
                hand.length + 3.5,
                hand.length
            ),
            "Of a folded piece: unfolded.".into(),
            format!(
                "2 hinge {:.2} right {1:.2} {1:.2} 45 deg {deep:.2} {skin:.2}",
                2.0 * hand.outer,
                hand.outer
            ),
            format!(
                "V: mark it on both faces with a knife. Its point lies {skin:.2} mm from the right side, {0:.2} mm along \
                 that side from its corner at end A and {0:.2} mm from that at end B; its walls run from there to the \
                 left side, where they are {1:.2} mm apart.",
                hand.outer,
                2.0 * deep * hand.slope
            ),
            format!(
                "V: left side on the fence, block of 67.5 deg; end A on the stop, stop at {stop:.2} mm; then the other \
                 face up, end B on the stop, stop at {stop:.2} mm."
            ),
            "the legs then stand at 135 deg.".into(),
            "The grain runs along the strip".into(),
            "guide block 112.5 deg guide face to fence: at hand".into(),
        ] {
            assert!(told.contains(&sentence), "{sentence}\n{told}");
        }
        let list = fs::read_to_string(folder.path().join("pieces.csv")).unwrap();
        let rows: Vec<Vec<&str>> = list.lines().map(|line| line.split(',').collect()).collect();
        let cell = |piece: &str, name: &str| {
            let row = rows.iter().find(|row| row.contains(&piece)).unwrap();
            let column = rows[0].iter().position(|heading| *heading == name);
            row[column.unwrap()].to_owned()
        };
        assert_eq!(cell("hinge", "count"), "8");
        assert_eq!(
            cell("hinge", "fold_1_from_a_mm"),
            format!("{:.3}", hand.outer)
        );
        assert_eq!(
            cell("hinge", "fold_1_from_b_mm"),
            format!("{:.3}", hand.outer)
        );
        assert_eq!(cell("hinge", "fold_1_at_mm"), format!("{:.3}", hand.at));
        assert_eq!(cell("hinge", "fold_1_v_angle_deg"), "45.0000");
        assert_eq!(cell("hinge", "fold_1_depth_mm"), format!("{deep:.3}"));
        assert_eq!(cell("hinge", "fold_1_skin_mm"), format!("{skin:.3}"));
        assert_eq!(cell("hinge", "fold_1_stop_a_mm"), format!("{stop:.3}"));
        assert_eq!(cell("lock", "fold_1_at_mm"), "");
        let answer = run(folder.path(), &["pare", job, "--format", "json"]).stdout;
        let answer: Value = serde_json::from_slice(&answer).unwrap();
        let fold = &answer["pieces"][1]["folds"][0];
        let near = |value: &Value, wanted: f64| (value.as_f64().unwrap() - wanted).abs() < 1e-9;
        assert!(near(&fold["legs_angle_deg"], 135.0) && near(&fold["skin_mm"], skin));
        let round = skin * (1.0 / 22.5_f64.to_radians().cos() - 1.0);
        assert!(near(&fold["short_of_corner_mm"], round), "{fold}");
        assert_eq!(answer["pieces"].as_array().unwrap().len(), 3);
    }
}

/// Eight strips in one panel, not sixteen pieces: one number for both legs, one outline on the sheet.
#[test]
fn one_strip_is_one_piece() {
    let folder = tempfile::tempdir().unwrap();
    let job = job(folder.path(), "", "laser = \"tube-laser\"");
    for (what, file) in [
        ("pieces", "pieces.dxf"),
        ("panel", "panel.dxf"),
        ("panel", "panel.svg"),
    ] {
        let drawn = run(folder.path(), &["outline", job, "--what", what, "-o", file]);
        assert!(drawn.status.success(), "{file}");
    }
    let told = words(folder.path(), &["prove", "pieces.dxf", job]);
    assert!(
        told.contains("RIGHT AGAINST ALL 20 PIECES OF THE JOB"),
        "{told}"
    );
    let told = words(folder.path(), &["prove", "panel.dxf", job]);
    assert!(told.contains("No faults found"), "{told}");
    let picture = fs::read_to_string(folder.path().join("panel.svg")).unwrap();
    // In the cell that is enlarged, and in the four of the panel where it can be read there.
    assert!(
        matches!(picture.matches(">2</text>").count(), 2 | 10),
        "{picture}"
    );
    assert!(picture.contains("unfolded"), "{picture}");
    let told = words(folder.path(), &["pattern", "check", "folded-hemp-leaf"]);
    assert!(
        told.contains("over points, unfolded") && !told.contains("hinge-2"),
        "{told}"
    );
    // A skin that is not the one of the drawing.
    let text = fs::read_to_string(folder.path().join(job)).unwrap();
    let other = text.replace("[machines]", "fold_skin = \"0.4 mm\"\n[machines]");
    fs::write(folder.path().join("other.toml"), other).unwrap();
    let told = words(folder.path(), &["prove", "pieces.dxf", "other.toml"]);
    assert!(
        told.contains("NOT RIGHT AGAINST ALL 20") && told.contains("vertex-off"),
        "{told}"
    );
}

#[test]
fn blades_and_routers_leave_folded_strips_for_the_guides() {
    let folder = tempfile::tempdir().unwrap();
    for way in ["rows", "stick-ends"] {
        let machines = "sled = \"key-sled\"\nguides = \"paring-guides\"";
        let job = job(folder.path(), &format!("way = \"{way}\""), machines);
        let told = words(folder.path(), &["pare", job]);
        let left = "32 facets of 2 hinge stay, ends A and B: a folded strip: no sled cuts its V";
        assert!(told.contains(left), "{told}");
        let answer = run(folder.path(), &["pare", job, "--format", "json"]).stdout;
        let answer: Value = serde_json::from_slice(&answer).unwrap();
        assert!(answer["pieces"][1].get("machined").is_none());
    }
    let machines = "router = \"small-router\"\nguides = \"paring-guides\"";
    let job = job(folder.path(), "way = \"routed-rows\"", machines);
    let told = words(folder.path(), &["pare", job]);
    assert!(
        told.contains("fold-in-row") && told.contains("`hinge` is a folded strip"),
        "{told}"
    );
    assert!(told.contains("V: mark it on both faces"), "{told}");
}

#[test]
fn a_cutter_leaves_folded_strips_out_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    let job = job(path, "", "laser = \"sheet-router\"");
    // Locks have mouths, and are too short for two bridges and a relief: the diagonals alone.
    let told = words(
        path,
        &["outline", job, "--what", "pieces", "-o", "pieces.dxf"],
    );
    let said = "the hinge is folded, and a cutter of 1.50 mm cuts no V to a point";
    assert!(
        told.contains("fold-not-routed") && told.contains(said),
        "{told}"
    );
    // A pattern of folded strips alone: nothing is drawn.
    let pattern = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\na = [0, 0.5]\nb = [0.5, 0.8]\n\
                   c = [1, 0.5]\n[[piece]]\nname = \"one\"\nfrom = \"a\"\nto = \"b\"\n[[piece]]\nname = \"two\"\n\
                   from = \"b\"\nto = \"c\"\n[[fold]]\npieces = [\"one\", \"two\"]\n";
    fs::write(path.join("roof.toml"), pattern).unwrap();
    let text = fs::read_to_string(path.join(job)).unwrap();
    fs::write(
        path.join(job),
        text.replace("folded-hemp-leaf", "roof.toml"),
    )
    .unwrap();
    let drawn = run(
        path,
        &["outline", job, "--what", "pieces", "-o", "roof.dxf"],
    );
    assert_eq!(drawn.status.code(), Some(2));
    assert!(!path.join("roof.dxf").exists());
    let told = words(
        path,
        &["outline", job, "--what", "pieces", "-o", "roof.dxf"],
    );
    assert!(told.contains("the one is folded"), "{told}");
    // A beam leaves wood before the point: 0.08 (1 / sin(b / 2) - 1), b twice the slope of 0.3 in 0.5.
    let laser = [
        "outline",
        job,
        "--machine",
        "tube-laser",
        "--what",
        "pieces",
        "-o",
        "roof.dxf",
    ];
    let told = words(path, &laser);
    let half = 0.3_f64.atan2(0.5);
    let left = format!(
        "it leaves {:.2} mm of wood before it",
        0.08 * (1.0 / half.sin() - 1.0)
    );
    assert!(
        told.contains("v-point-not-reached") && told.contains(&left),
        "{left}\n{told}"
    );
    assert!(path.join("roof.dxf").exists());
}

#[test]
fn what_cannot_be_folded_is_refused_before_anything_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    for (skin, code) in [
        ("0 mm", "fold-cut-through"),
        ("2.6 mm", "fold-skin-too-thick"),
    ] {
        let job = job(
            path,
            &format!("fold_skin = \"{skin}\""),
            "guides = \"paring-guides\"",
        );
        let output = run(path, &["pare", job]);
        assert_eq!(output.status.code(), Some(2), "{skin}");
        assert!(words(path, &["pare", job]).contains(code), "{skin}");
    }
    // At the edge of a panel of rhombs strips would be cut off beside their bends.
    let pattern = "about = \"x\"\ncell = \"rhomb\"\nneighbours = \"same\"\n[points]\na = [0, 0.5]\nb = [0.5, 0.8]\n\
                   c = [1, 0.5]\n[[piece]]\nname = \"one\"\nfrom = \"a\"\nto = \"b\"\n[[piece]]\nname = \"two\"\n\
                   from = \"b\"\nto = \"c\"\n[[fold]]\npieces = [\"one\", \"two\"]\n";
    fs::write(path.join("roof.toml"), pattern).unwrap();
    for (edge, code) in [("leave", Some(0)), ("fill", Some(2))] {
        let text = format!(
            "title = \"x\"\n[grid]\nkind = \"diamond\"\npitch = \"40 mm\"\nangle = \"60 deg\"\nstance = \"on-point\"\n\
             region = \"rectangle\"\nwidth = \"260 mm\"\nheight = \"300 mm\"\noverhang = \"12 mm\"\n[strip]\nthickness = \"2.6 mm\"\n\
             depth = \"9 mm\"\n[infill]\npattern = \"roof.toml\"\nedge = \"{edge}\"\n"
        );
        fs::write(path.join("rhombs.toml"), text).unwrap();
        let told = words(path, &["pare", "rhombs.toml"]);
        let output = run(path, &["pare", "rhombs.toml"]);
        assert_eq!(output.status.code(), code, "{told}");
        assert_eq!(told.contains("fold-at-edge"), edge == "fill", "{told}");
    }
}
