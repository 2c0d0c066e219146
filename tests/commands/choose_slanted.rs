//! Diamonds and triangles chosen for an opening; frames from flags, ways of making mitres, rough times.

use crate::choose::{ASKED, bench, near, with};
use serde_json::Value;

/// What is asked without the router.
const SLED_ALONE: [&str; 11] = [
    ASKED[0], ASKED[1], ASKED[2], ASKED[3], ASKED[4], ASKED[5], ASKED[6], ASKED[7], ASKED[8],
    ASKED[9], ASKED[10],
];

fn options(answer: &Value) -> &Vec<Value> {
    answer["options"].as_array().unwrap()
}

/// Every panel that is shown can be written, and is what was told of it.
#[test]
fn every_slanted_option_is_what_its_job_says() {
    let bench = bench();
    let cases: [(&str, &[&str]); 5] = [
        ("triangular", &["--pattern", "triangular-hemp-leaf"]),
        ("triangular", &["--stance", "upright"]),
        ("diamond", &["--pattern", "diamond-hemp-leaf"]),
        ("diamond", &["--angle", "60deg"]),
        ("diamond", &["--stance", "upright", "--angle", "70deg"]),
    ];
    for (case, (kind, more)) in cases.into_iter().enumerate() {
        let asked = with(&with(&SLED_ALONE, &["--kind", kind]), more);
        let answer = bench.ok(&with(&asked, &["--format", "json"])).json();
        assert_eq!(answer["kind"], kind);
        assert!((2..=5).contains(&options(&answer).len()), "{answer}");
        for (number, option) in (1..).zip(options(&answer)) {
            let number = format!("{number}");
            let name = format!("panel-{case}-{number}.toml");
            let ran = bench.run(&with(&asked, &["-o", &name, "--pick", &number]));
            assert_eq!(ran.code, 0, "{}", ran.err);
            let shown = bench.ok(&["show", &name, "--format", "json"]).json();
            let slanted = &option["slanted"];
            assert_eq!(slanted["whole_cells"], shown["size"]["whole_cells"]);
            assert_eq!(slanted["cut_cells"], shown["size"]["cut_cells"]);
            for axis in [0, 1] {
                let margin = option["margin_mm"][axis].as_f64().unwrap();
                near(&shown["size"]["margin_mm"][axis], margin);
                near(&shown["finished_mm"][axis], [612.0, 388.0][axis]);
                // Columns and rows, what they leave over, and the least margins are the inside.
                let count = option[["columns", "rows"][axis]].as_f64().unwrap();
                let cells = count * slanted["cell_mm"][axis].as_f64().unwrap();
                let left = slanted["left_over_mm"][axis].as_f64().unwrap();
                let level_rows = kind == "triangular" || slanted["stance"] == "on-point";
                if axis == 0 || level_rows {
                    let beside = ([612.0, 388.0][axis] - cells) / 2.0 - left;
                    assert!(
                        beside.abs() < 1e-6 || (beside - 1.5).abs() < 1e-6,
                        "{option}"
                    );
                }
            }
            // The shortest is the shortest that stays.
            let kept = shown["strips"].as_array().unwrap().iter();
            let kept = kept.map(|strip| strip["trimmed_mm"].as_f64().unwrap());
            let shortest = kept.fold(f64::INFINITY, f64::min);
            near(&slanted["shortest_strip_mm"], shortest);
            let pitch = option["pitch_mm"][0].as_f64().unwrap();
            match kind {
                "triangular" => near(&shown["grid"]["side_mm"], pitch / 0.75_f64.sqrt()),
                _ => near(&shown["grid"]["pitch_mm"], pitch),
            }
        }
    }
}

/// From an opening to a proved folder for rhombs and triangles with a frame; slots first.
#[test]
fn slanted_panels_with_a_frame_from_flags_alone() {
    let bench = bench();
    let frame = [
        "--frame-thickness",
        "24mm",
        "--frame-width",
        "30mm",
        "--mortise-depth",
        "6mm",
        "--play",
        "1mm",
    ];
    for (kind, pattern) in [
        ("triangular", "triangular-hemp-leaf"),
        ("diamond", "diamond-hemp-leaf"),
    ] {
        let more = ["--kind", kind, "--pattern", pattern];
        // A router's programs for triangles are many.
        let asked = if kind == "diamond" {
            &ASKED[..]
        } else {
            &SLED_ALONE
        };
        let asked = with(&with(asked, &frame), &more);
        let answer = bench.ok(&with(&asked, &["--format", "json"])).json();
        near(&answer["inside_mm"][0], 612.0 - 2.0 - 60.0);
        let first = &options(&answer)[0];
        near(&first["finished_mm"][1], 386.0);
        assert_eq!(first["rack"]["reached"], true, "{first}");
        near(
            &first["pitch_mm"][0],
            first["rack"]["bay_mm"].as_f64().unwrap(),
        );
        let (job, folder) = (format!("{kind}.toml"), format!("{kind}-parts"));
        let told = bench.ok(&with(&asked, &["-o", &job]));
        let widest = told.out.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(100), "{}", told.out);
        bench.ok(&["build", &job, "-o", &folder]);
        if kind == "diamond" {
            bench.ok(&["prove", &format!("{folder}/notches-1.nc"), &job]);
        }
        // The key stands where the option says.
        let sled: Value =
            serde_json::from_str(&bench.read(&format!("{folder}/sled.json"))).unwrap();
        let bay = first["rack"]["bay_mm"].as_f64().unwrap();
        let positions = sled["key"]["positions"].as_array().unwrap().iter();
        let mut bays = positions.map(|at| at["centre_to_centre_mm"].as_f64().unwrap());
        assert!(bays.any(|at| (at - bay).abs() < 1e-6), "{sled}");
    }
}

/// What whole cells leave over goes to the margins: the same at opposite sides, and no strip shorter than
/// where the edge cuts cells there.
#[test]
fn what_is_left_over_goes_to_the_margins() {
    let bench = bench();
    let job = |rest: &str, kind: &str| {
        format!(
            "title = \"x\"\n[opening]\nmeasured = \"hole\"\nwidth = \"450 mm\"\nheight = \"330 mm\"\n[grid]\n{kind}\nrest = \"{rest}\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[frame]\nthickness = \"20 mm\"\nwidth = \"10 mm\"\nmortise_depth = \"5 mm\"\n[machines]\nsled = \"stop-sled\"\n"
        )
    };
    let triangles = "kind = \"triangular\"\nside = \"45 mm\"";
    let rhombs = "kind = \"diamond\"\nstance = \"on-point\"\npitch = \"40 mm\"\nangle = \"60 deg\"";
    // An inside 430 by 310. Triangles: 9 sides of 45; 7 rows of 38.97 in 307, so 6 of them, in pairs.
    // Rhombs: 46.188 across, 9 of them; 80 up, 3 of them.
    let row = 45.0 * 0.75_f64.sqrt();
    let across = 40.0 / 30.0_f64.to_radians().cos();
    let cases = [
        (triangles, [12.5, (310.0 - 6.0 * row) / 2.0], [0.0, 1.5]),
        (rhombs, [(430.0 - 9.0 * across) / 2.0, 35.0], [0.0, 0.0]),
    ];
    for (kind, margins, cut) in cases {
        let mut shortest = Vec::new();
        for (rest, wanted) in [("margins", margins), ("cut-cells", cut)] {
            bench.write("job.toml", job(rest, kind));
            let shown = bench.ok(&["show", "job.toml", "--format", "json"]).json();
            for axis in [0, 1] {
                near(&shown["size"]["margin_mm"][axis], wanted[axis]);
                near(&shown["size"]["inside_mm"][axis], [430.0, 310.0][axis]);
            }
            let strips = shown["strips"].as_array().unwrap().iter();
            let kept = strips.map(|strip| strip["trimmed_mm"].as_f64().unwrap());
            shortest.push(kept.fold(f64::INFINITY, f64::min));
            bench.ok(&["rails", "job.toml"]);
            bench.ok(&["build", "job.toml", "-o", "parts"]);
            std::fs::remove_dir_all(bench.path("parts")).unwrap();
        }
        assert!(shortest[0] >= shortest[1], "{shortest:?}");
    }
    // Rows that fill the height have strips along the frame: against it, not in it.
    bench.write(
        "job.toml",
        job("cut-cells", "kind = \"triangular\"\nrows = 8"),
    );
    let rails = bench.ok(&["rails", "job.toml", "--format", "json"]).json();
    near(&rails["size"]["margin_mm"][1], 1.5);
}

/// Where there is a frame, its inner faces may close the outermost cells, which are then like the others;
/// not where pieces lie between strips, nor where margins are asked for.
#[test]
fn a_frame_closes_the_outermost_cells() {
    let bench = bench();
    let frame = [
        "--frame-thickness",
        "20mm",
        "--frame-width",
        "30mm",
        "--mortise-depth",
        "6mm",
    ];
    let asked = with(&ASKED, &frame);
    let answer = bench.ok(&with(&asked, &["--format", "json"])).json();
    let closing = |answer: &Value| -> Vec<Value> {
        let all = options(answer).iter();
        all.filter(|option| option["frame_closes"] == true)
            .cloned()
            .collect()
    };
    let closed = closing(&answer);
    let [option] = closed.as_slice() else {
        panic!("{answer}");
    };
    let number = option["option"].as_u64().unwrap().to_string();
    bench.ok(&with(&asked, &["-o", "closed.toml", "--pick", &number]));
    let shown = bench
        .ok(&["show", "closed.toml", "--format", "json"])
        .json();
    for (axis, inside) in [(0, 552.0), (1, 328.0)] {
        let pitch = option["pitch_mm"][axis].as_f64().unwrap();
        let count = option[["columns", "rows"][axis]].as_f64().unwrap();
        near(&option["pitch_mm"][axis], (inside + 3.0) / count);
        // From the frame to the first strip's face as from strip to strip.
        near(&shown["size"]["reveal_mm"][axis], pitch - 3.0);
    }
    bench.ok(&["build", "closed.toml", "-o", "parts"]);
    for more in [["--pattern", "square-hemp-leaf"], ["--least-margin", "6mm"]] {
        let answer = bench
            .ok(&with(&with(&asked, &more), &["--format", "json"]))
            .json();
        assert!(closing(&answer).is_empty(), "{answer}");
    }
    let none = bench.ok(&with(&ASKED, &["--format", "json"])).json();
    assert!(closing(&none).is_empty(), "{none}");
}

/// Minutes are counts times rates: examples, until a job has its own.
#[test]
fn rough_times_follow_the_job_s_rates() {
    let bench = bench();
    let pieces = ["--pattern", "square-hemp-leaf", "--guides", "paring-guides"];
    let asked = with(&ASKED, &pieces);
    let told = bench.ok(&with(&asked, &["-o", "panel.toml"])).out;
    assert!(told.contains("All of these are example rates"), "{told}");
    let job = bench.read("panel.toml");
    assert!(job.contains("# [rates]\n# setting = \"900 s\""), "{job}");
    let own = format!("{job}\n[rates]\nsetting = \"10 min\"\ncut = \"20 s\"\nfacet = \"12 s\"\n");
    bench.write("own.toml", own);
    let answer = bench.ok(&["choose", "own.toml", "--format", "json"]).json();
    let examples: Vec<&str> = (answer["rates"].as_array().unwrap().iter())
        .filter(|rate| rate["example"] == true)
        .map(|rate| rate["name"].as_str().unwrap())
        .collect();
    assert_eq!(examples, ["block", "piece", "strip", "load"]);
    for option in options(&answer) {
        let sled = &option["at_machines"][0];
        assert_eq!(sled["station"], "sled");
        let count = |value: &Value| value.as_f64().unwrap();
        let time = 600.0 * count(&sled["set_ups"]) + 20.0 * count(&sled["cuts"]);
        near(&sled["time_s"], time);
        let bench = &option["at_bench"];
        assert_eq!(bench["strips"], option["strips"]);
        assert_eq!(bench["pieces"], option["pieces"]);
        let time = 120.0 * count(&bench["strips"])
            + 60.0 * count(&bench["pieces"])
            + 12.0 * count(&bench["facets"])
            + 300.0 * count(&bench["blocks"]);
        near(&bench["time_s"], time);
    }
    // Notches of the first option by hand: 15 by 9 bays on a sled whose blade takes two passes or one.
    let plan = bench.ok(&["sled", "own.toml", "--format", "json"]).json();
    let passes = plan["settings"][0]["passes_per_notch"].as_u64().unwrap();
    let blocks = |bundle: &Value| bundle["loads"]["blocks"].as_u64().unwrap();
    let notches = |bundle: &Value| bundle["notches"].as_array().unwrap().len() as u64;
    let bundles = plan["bundles"].as_array().unwrap().iter();
    let cuts: u64 = bundles
        .map(|bundle| blocks(bundle) * notches(bundle) * passes)
        .sum();
    let first = &options(&bench.ok(&["choose", "own.toml", "--format", "json"]).json())[0].clone();
    assert_eq!(first["at_machines"][0]["cuts"], cuts);
}

/// Mitres are counted as they will be made.
#[test]
fn mitres_follow_the_way_that_is_asked_for() {
    let bench = bench();
    let pieces = ["--pattern", "square-hemp-leaf", "--guides", "paring-guides"];
    let asked = with(&ASKED, &pieces);
    let facets = |answer: &Value| options(answer)[0]["at_bench"]["facets"].as_u64().unwrap();
    let pared = bench.ok(&with(&asked, &["--format", "json"])).json();
    let rows = with(&asked, &["--way", "rows"]);
    let sawn = bench.ok(&with(&rows, &["--format", "json"])).json();
    let sled = &options(&sawn)[0]["at_machines"][0];
    assert!(sled["mitre_set_ups"].as_u64().unwrap() > 0, "{sled}");
    assert_eq!(
        facets(&pared),
        facets(&sawn) + sled["facets"].as_u64().unwrap()
    );
    assert!(facets(&sawn) < facets(&pared));
    bench.ok(&with(&rows, &["-o", "rows.toml"]));
    assert!(bench.read("rows.toml").contains("way = \"rows\""));
    // From the job it is the same.
    let again = bench
        .ok(&["choose", "rows.toml", "--format", "json"])
        .json();
    assert_eq!(facets(&again), facets(&sawn));
    let pare = bench.ok(&["pare", "rows.toml", "--format", "json"]).json();
    assert_eq!(pare["mitres"]["facets_cut"], sled["facets"]);
}

#[test]
fn what_does_not_go_together_is_refused() {
    let bench = bench();
    let frame = ["--frame-thickness", "20mm", "--mortise-depth", "6mm"];
    let opening = ["choose", "--opening", "612mm,388mm"];
    let strips = ["--thickness", "3mm", "--depth", "12mm"];
    let all = with(&opening, &strips);
    let cases: &[(&[&str], &[&str])] = &[
        (&["--kind", "diamond"], &["nothing says how large"]),
        (
            &["--kind", "diamond", "--pitch", "40mm", "--angle", "5deg"],
            &["--angle", "too sharply", "20 deg to 160 deg"],
        ),
        (
            &["--kind", "diamond", "--pitch", "40mm", "--stance", "lying"],
            &["--stance", "upright or on-point"],
        ),
        (
            &["--pitch", "40mm", "--stance", "lying"],
            &["--stance", "--kind"],
        ),
        (
            &["--pitch", "40mm", "--angle", "60deg"],
            &["--angle", "--kind diamond"],
        ),
        (&["--side", "40mm"], &["--side", "only triangles"]),
        (
            &["--kind", "triangular", "--side", "40mm", "--pitch", "40mm"],
            &["--side", "leave one out"],
        ),
        (
            &["--kind", "triangular", "--columns", "9", "--rows", "9"],
            &["the width or the height, never both"],
        ),
        (
            &["--kind", "diamond", "--columns", "200", "--rows", "2"],
            &["45 deg to 135 deg"],
        ),
        (
            &["--kind", "triangular", "--pitch", "400mm"],
            &["--pitch", "not one cell", "below 385.00 mm"],
        ),
        (
            &["--pitch", "40mm", "--frame-width", "30mm"],
            &["--frame-thickness", "--mortise-depth", "a frame needs it"],
        ),
        (
            &with(&["--pitch", "40mm"], &frame),
            &["add --frame-width", "--measured inside"],
        ),
        (
            &with(
                &[
                    "--pitch",
                    "40mm",
                    "--frame-width",
                    "30mm",
                    "--rebate",
                    "8mm",
                ],
                &frame,
            ),
            &["--rebate", "two lengths, width and depth"],
        ),
        (
            &with(
                &[
                    "--pitch",
                    "40mm",
                    "--frame-width",
                    "30mm",
                    "--rebate",
                    "8mm,6mm",
                ],
                &frame,
            ),
            &["--rebate", "mortises"],
        ),
        (
            &[
                "--pitch",
                "40mm",
                "--pattern",
                "square-hemp-leaf",
                "--way",
                "rows",
            ],
            &["no-sled", "add --sled"],
        ),
    ];
    let before = bench.contents();
    for (more, says) in cases {
        let ran = bench.run(&with(&all, more));
        assert_eq!(
            (ran.code, ran.out.as_str()),
            (2, ""),
            "{more:?}: {}",
            ran.err
        );
        for said in *says {
            assert!(
                ran.err.contains(said),
                "{more:?} does not say {said}:\n{}",
                ran.err
            );
        }
    }
    assert_eq!(bench.contents(), before);
}

/// Nine slots of which none divides the inside; in inches; and triangles told by their side.
#[test]
fn slots_that_divide_nothing_still_give_panels() {
    let bench = bench();
    let asked = [
        "choose",
        "--opening",
        "24 1/8 in,15 1/4 in",
        "--thickness",
        "1/8in",
        "--depth",
        "1/2in",
        "--units",
        "in",
        "--sled",
        "my-sled.toml",
        "--kind",
        "triangular",
        "--side",
        "1 3/4 in",
    ];
    let told = bench.ok(&with(&asked, &["-o", "in.toml"]));
    assert!(told.out.contains(" in "), "{}", told.out);
    assert!(bench.read("in.toml").contains("width = \"24 1/8 in\""));
    bench.ok(&["build", "in.toml", "-o", "parts"]);
    let answer = bench.ok(&with(&asked, &["--format", "json"])).json();
    near(&answer["wanted_pitch_mm"], 1.75 * 25.4 * 0.75_f64.sqrt());
    // A square grid whose margins no slot meets.
    let odd = with(
        &ASKED,
        &[
            "--least-margin",
            "4mm",
            "--most-margin",
            "4.5mm",
            "--format",
            "json",
        ],
    );
    let answer = bench.ok(&odd).json();
    let all = options(&answer);
    assert!(!all.is_empty());
    assert!(
        all.iter()
            .all(|option| option["rack"]["slot_mm"].is_number())
    );
}

/// A job's slanted grid is asked for again, with what flags say otherwise.
#[test]
fn a_slanted_job_is_chosen_for() {
    let bench = bench();
    let job = "title = \"Porch\"\n\n[opening]\nmeasured = \"hole\"\nwidth = \"612 mm\"\nheight = \"388 mm\"\n\n[grid]\nkind = \"diamond\"\nstance = \"upright\"\nangle = \"70 deg\"\npitch_about = \"40 mm\"\nleast_margin = \"5 mm\"\n\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\n[machines]\nsled = \"my-sled.toml\"\n";
    bench.write("porch.toml", job);
    let answer = bench
        .ok(&["choose", "porch.toml", "--format", "json"])
        .json();
    near(&answer["wanted_pitch_mm"], 40.0);
    near(&answer["least_margin_mm"], 5.0);
    for option in options(&answer) {
        assert_eq!(option["slanted"]["stance"], "upright");
        near(&option["slanted"]["angle_deg"], 70.0);
        assert!(option["margin_mm"][1].as_f64().unwrap() >= 5.0 - 1e-9);
    }
    let squares = [
        "choose",
        "porch.toml",
        "--kind",
        "square",
        "--pitch",
        "40mm",
    ];
    bench.ok(&with(&squares, &["-o", "squares.toml"]));
    bench.ok(&["build", "squares.toml", "-o", "parts"]);
    assert_eq!(bench.read("porch.toml"), job);
}
