//! Pieces of wood of their own: thinner and less deep than the strips, with a fit.

use crate::support::cli::Bench;
use float_cmp::approx_eq;
use serde_json::Value;

/// 40 mm bays of strips 3 mm thick and 12 mm deep: openings of 37 mm.
fn job(infill: &str) -> String {
    format!(
        "title = \"Leaves\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\noverhang = \"14 mm\"\n\
         [strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n\
         [infill]\n{infill}\n\
         [machines]\nsled = \"key-sled\"\nguides = \"paring-guides\"\nlaser = \"tube-laser\"\nrouter = \"small-router\"\n"
    )
}

const THIN: &str =
    "pattern = \"square-hemp-leaf\"\nthickness = \"2 mm\"\ndepth = \"8 mm\"\nsetback = \"1.5 mm\"";

fn near(found: &Value, wanted: f64) {
    let found = found.as_f64().unwrap();
    assert!(
        approx_eq!(f64, found, wanted, epsilon = 5e-7),
        "{found} is not {wanted}"
    );
}

/// Lengths over points of diagonal, hinge and lock in an opening `s` wide, pieces `t` thick: the right
/// triangle beside the diagonal has the clear leg q = s - t / sqrt 2 and the inradius
/// q (2 - sqrt 2) / 2; hinges of 67.5 degrees put their joint t (sin 67.5 / sqrt 2 - 1/2) off.
fn leaf(s: f64, t: f64) -> [f64; 3] {
    let steep = 67.5_f64.to_radians();
    let q = s - t / 2_f64.sqrt();
    let r = q * (2.0 - 2_f64.sqrt()) / 2.0;
    let e = t * (steep.sin() / 2_f64.sqrt() - 0.5);
    [
        s * 2_f64.sqrt(),
        r / 22.5_f64.to_radians().sin() - e / steep.tan(),
        r * 2_f64.sqrt() + e / steep.sin(),
    ]
}

fn lengths(answer: &Value, wanted: [f64; 3]) {
    let pieces = answer["pieces"].as_array().unwrap();
    let names: Vec<&str> = pieces
        .iter()
        .map(|piece| piece["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["diagonal", "hinge", "lock"]);
    for (piece, wanted) in pieces.iter().zip(wanted) {
        near(&piece["length_over_points_mm"], wanted);
    }
}

fn bench(infill: &str) -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", job(infill));
    bench
}

fn json(bench: &Bench, args: &[&str]) -> Value {
    bench.ok(&[args, &["--format", "json"]].concat()).json()
}

#[test]
fn thin_leaves_have_the_lengths_of_their_own_thickness_in_the_strips_opening() {
    let bench = bench(THIN);
    let answer = json(&bench, &["pare", "job.toml"]);
    lengths(&answer, leaf(37.0, 2.0));
    near(&answer["wood"]["thickness_mm"], 2.0);
    near(&answer["wood"]["setback_mm"], 1.5);
    // 12 - 1.5 - 8.
    near(&answer["wood"]["behind_mm"], 2.5);
    near(&answer["guide"]["height_mm"], 8.0);
    let told = bench.ok(&["pare", "job.toml"]).out;
    assert!(
        told.contains("2.00 mm thick") && told.contains("the pieces' depth"),
        "{told}"
    );
    // As built too.
    let answer = json(&bench, &["pare", "job.toml", "--cell-opening", "37.2mm"]);
    lengths(&answer, leaf(37.2, 2.0));
}

#[test]
fn wood_that_is_the_strips_changes_nothing() {
    let plain = bench("pattern = \"square-hemp-leaf\"");
    let said = bench(
        "pattern = \"square-hemp-leaf\"\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nfit = \"0 mm\"",
    );
    for args in [
        &["pare", "job.toml"][..],
        &["pare", "job.toml", "--way", "rows"],
        &[
            "pare",
            "job.toml",
            "--way",
            "stick-ends",
            "--format",
            "json",
        ],
    ] {
        let [one, other] = [&plain, &said].map(|bench| bench.ok(args).out);
        assert_eq!(one, other);
    }
}

#[test]
fn a_fit_makes_all_pieces_as_for_a_wider_cell_and_says_what_it_adds_up_to() {
    let fitted = bench("pattern = \"square-hemp-leaf\"\nthickness = \"2 mm\"\nfit = \"0.05 mm\"");
    let ran = fitted.ok(&["pare", "job.toml", "--format", "json"]);
    let answer = ran.json();
    lengths(&answer, leaf(37.05, 2.0));
    // What is told of the cell is what a caliper finds there.
    near(&answer["pieces"][0]["opening_mm"][0], 37.0);
    let warnings = answer["warnings"].to_string();
    assert!(
        warnings.contains("push the outermost strips 0.15 mm apart where all 3 bays are filled")
            && warnings.contains("their notches give 0.05 mm"),
        "{warnings}"
    );
    let answer = json(&fitted, &["pare", "job.toml", "--cell-opening", "37.2mm"]);
    lengths(&answer, leaf(37.25, 2.0));
    let loose = bench("pattern = \"square-hemp-leaf\"\nfit = \"-0.1 mm\"");
    let answer = json(&loose, &["pare", "job.toml"]);
    lengths(&answer, leaf(36.9, 3.0));
    // The picture of a panel whose pieces press is proved as it is drawn.
    fitted.ok(&["outline", "job.toml", "--what", "panel", "-o", "panel.dxf"]);
    fitted.ok(&["prove", "panel.dxf", "job.toml"]);
}

#[test]
fn rows_and_stick_ends_on_the_sled_are_of_the_pieces_wood() {
    let bench = bench(THIN);
    for way in ["rows", "stick-ends"] {
        let answer = json(&bench, &["pare", "job.toml", "--way", way]);
        let mitres = &answer["mitres"];
        near(&mitres["thickness_mm"], 2.0);
        for setting in mitres["settings"].as_array().unwrap() {
            let angle = setting["fence"]["cut_angle_deg"]
                .as_f64()
                .unwrap()
                .to_radians();
            // Step of a block: t / tan A.
            let step = (2.0 / angle.tan()).abs();
            near(&setting["fence"]["step_mm"], step);
        }
    }
    let rows = json(&bench, &["pare", "job.toml", "--way", "rows"]);
    let skin = rows["mitres"]["skin"]["set_mm"].as_f64().unwrap();
    near(
        &rows["mitres"]["settings"][0]["height_above_base_mm"],
        8.0 - skin,
    );
}

#[test]
fn rows_on_the_router_are_of_the_pieces_wood_and_prove() {
    let bench = bench(THIN);
    let answer = json(
        &bench,
        &[
            "pare",
            "job.toml",
            "--way",
            "routed-rows",
            "-o",
            "pieces.nc",
        ],
    );
    let rows = answer["routed"]["rows"].as_array().unwrap();
    assert!(!rows.is_empty());
    for row in rows {
        near(&row["thickness_mm"], 2.0);
        near(&row["depth_mm"], 8.0);
    }
}

#[test]
fn sheet_guide_and_stack_are_as_thick_as_the_pieces_are_deep_and_prove() {
    let bench = bench(THIN);
    let outline = |what: &str| {
        json(
            &bench,
            &["outline", "job.toml", "--what", what, "-o", "x.dxf"],
        )
    };
    near(&outline("pieces")["sheet_thickness_mm"], 8.0);
    bench.ok(&["prove", "x.dxf", "job.toml"]);
    // One layer less than for 12 mm: 9 mm sheet is as high as pieces 8 mm deep.
    let guide = outline("guide");
    bench.ok(&["prove", "x.dxf", "job.toml"]);
    let names = guide["files"][0]["parts"].to_string();
    assert_eq!(names.matches("fence").count(), 1, "{names}");
    let deep = bench_of_strips();
    let guide = json(
        &deep,
        &["outline", "job.toml", "--what", "guide", "-o", "x.dxf"],
    );
    let names = guide["files"][0]["parts"].to_string();
    assert_eq!(names.matches("fence").count(), 2, "{names}");
    // Drawn of other wood it is not this job's.
    bench.write("strips.toml", job("pattern = \"square-hemp-leaf\""));
    let pieces = outline("pieces");
    assert_eq!(pieces["files"][0]["parts"].as_array().unwrap().len(), 6 * 7);
    assert_eq!(bench.run(&["prove", "x.dxf", "strips.toml"]).code, 1);
}

fn bench_of_strips() -> Bench {
    bench("pattern = \"square-hemp-leaf\"")
}

#[test]
fn laps_of_thin_pieces_are_as_wide_and_as_deep_as_these() {
    let bench = bench(&THIN.replace("square-hemp-leaf", "crossed-diagonals"));
    let answer = json(&bench, &["pare", "job.toml"]);
    let lap = &answer["pieces"][0]["laps"][0];
    // 2 + 0.05 across, at a right angle; half of 8.
    near(&lap["width_mm"], 2.05);
    near(&lap["depth_mm"], 4.0);
    let blanks = json(
        &bench,
        &["outline", "job.toml", "--what", "lapped", "-o", "x.dxf"],
    );
    near(&blanks["sheet_thickness_mm"], 2.0);
    bench.ok(&["prove", "x.dxf", "job.toml"]);
}

#[test]
fn a_picture_of_12_by_9_cells_in_four_patterns_is_made_and_proved() {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/attic-window.toml");
    let bench = Bench::new();
    bench.ok(&["build", demo, "-o", "made"]);
    for drawing in ["made/pieces.dxf", "made/guide.dxf", "made/strips.dxf"] {
        bench.ok(&["prove", drawing, demo]);
    }
    let answer = json(&bench, &["pare", demo]);
    // Counted by hand in the map: 3 cells of S, 12 of M, 19 of H, 12 of W, 12 of V.
    let pieces = answer["pieces"].as_array().unwrap();
    let mut found: Vec<(&str, u64)> = pieces
        .iter()
        .map(|piece| {
            (
                piece["name"].as_str().unwrap(),
                piece["count"].as_u64().unwrap(),
            )
        })
        .collect();
    found.sort_unstable();
    assert_eq!(
        found,
        [
            ("bar", 48),
            ("brace", 12),
            ("diagonal", 43),
            ("hinge", 76),
            ("lock", 38)
        ]
    );
    near(&answer["cells_open"], 50.0);
    let picture = bench.read("made/panel.svg");
    for said in [">row 9<", ">column 12<", ">III<"] {
        assert!(picture.contains(said), "{said}");
    }
    // The rows that are printed are those of the job.
    let printed = bench.ok(&["pattern", "map", demo]).out;
    let rows = |text: &str| -> Vec<String> {
        let lines = text.lines().map(str::trim);
        lines
            .filter(|line| line.starts_with('"'))
            .map(str::to_owned)
            .collect()
    };
    let job = std::fs::read_to_string(demo).unwrap();
    assert_eq!(rows(&printed), rows(&job));
}
