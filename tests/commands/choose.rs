//! From an opening to a proven folder, starter jobs, and a file alone.

use crate::support::cli::{Bench, JOB, shipped, with_line};
use float_cmp::approx_eq;
use serde_json::Value;

pub(crate) const ASKED: [&str; 13] = [
    "choose",
    "--opening",
    "612mm,388mm",
    "--pitch",
    "40mm",
    "--thickness",
    "3mm",
    "--depth",
    "12mm",
    "--sled",
    "my-sled.toml",
    "--router",
    "mid-router",
];

/// The key sled with nine slots of one's own.
pub(crate) fn my_sled() -> String {
    let slots = [
        23.03, 30.98, 34.02, 38.02, 42.05, 46.04, 53.97, 61.01, 69.01,
    ];
    let measured: Vec<String> = slots.iter().map(|slot| format!("\"{slot} mm\"")).collect();
    let named: Vec<String> = slots
        .iter()
        .map(|slot| format!("\"{slot:.0} mm\""))
        .collect();
    let text = shipped("key-sled");
    let text = with_line(&text, "slots", &format!("slots = [{}]", named.join(", ")));
    with_line(
        &text,
        "measured",
        &format!("measured = [{}]", measured.join(", ")),
    )
}

pub(crate) fn bench() -> Bench {
    let bench = Bench::new();
    bench.write("my-sled.toml", my_sled());
    bench
}

pub(crate) fn with<'a>(args: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    args.iter().chain(more).copied().collect()
}

#[track_caller]
pub(crate) fn near(value: &Value, wanted: f64) {
    let got = value.as_f64().unwrap_or(f64::NAN);
    assert!(
        approx_eq!(f64, got, wanted, epsilon = 1e-6),
        "{value} is not {wanted}"
    );
}

#[test]
fn three_commands_from_an_opening_to_a_proven_folder() {
    let bench = bench();
    let pieces = [
        "--guides",
        "paring-guides",
        "--pattern",
        "square-hemp-leaf",
        "-o",
        "panel.toml",
    ];
    let chosen = bench.ok(&with(&ASKED, &pieces));
    assert!(
        chosen
            .out
            .contains("Next: lapwright build panel.toml -o FOLDER"),
        "{}",
        chosen.out
    );
    let widest = chosen.out.lines().map(|line| line.chars().count()).max();
    assert!(widest <= Some(100), "{}", chosen.out);
    bench.ok(&["build", "panel.toml", "-o", "parts"]);
    bench.ok(&["prove", "parts/notches-1.nc", "panel.toml"]);
    // The folder says what was chosen: 15 by 9 bays of 38.02 leave 20.85 and 22.91.
    let sled: Value = serde_json::from_str(&bench.read("parts/sled.json")).unwrap();
    near(&sled["size"]["finished_mm"][0], 612.0);
    near(&sled["size"]["margin_mm"][0], 20.85);
    near(&sled["size"]["margin_mm"][1], 22.91);
    for position in sled["key"]["positions"].as_array().unwrap() {
        near(&position["centre_to_centre_mm"], 38.02);
        near(&position["slot_mm"], 38.0);
    }
}

#[test]
fn options_tell_what_a_program_relies_on() {
    let bench = bench();
    let answer = bench.ok(&with(&ASKED, &["--format", "json"])).json();
    assert_eq!(answer["schema"], "lapwright/choose/1");
    let options = answer["options"].as_array().unwrap();
    assert!((2..=5).contains(&options.len()));
    let first = &options[0];
    assert_eq!((&first["columns"], &first["rows"]), (&15.into(), &9.into()));
    for axis in [0, 1] {
        near(&first["pitch_mm"][axis], 38.02);
    }
    near(&first["margin_mm"][0], (612.0 - 15.0 * 38.02) / 2.0);
    near(&first["margin_mm"][1], (388.0 - 9.0 * 38.02) / 2.0);
    near(&first["finished_mm"][1], 388.0);
    near(&first["rack"]["slot_mm"], 38.0);
    near(&first["rack"]["bay_mm"], 38.02);
    assert_eq!(first["rack"]["reached"], true);
    assert_eq!(first["square"], true);
    // 16 uprights and 10 cross strips; a job without an overhang has 10 mm more than the margin.
    let overhang = (388.0 - 9.0 * 38.02) / 2.0 + 10.0;
    let metres = 16.0 * (9.0 * 38.02 + 2.0 * overhang) + 10.0 * (15.0 * 38.02 + 2.0 * overhang);
    near(&first["strip_metres"], metres / 1000.0);
    assert_eq!(first["strips"], 26);
    assert_eq!(
        (&first["pieces"], &first["piece_kinds"]),
        (&0.into(), &0.into())
    );
    let sum: u64 = (first["at_machines"].as_array().unwrap().iter())
        .map(|share| share["set_ups"].as_u64().unwrap())
        .sum();
    assert_eq!(first["set_ups"], sum);
    assert!(
        first["reason"]
            .as_str()
            .unwrap()
            .contains("margins differ by 2.06 mm")
    );
    assert!(!answer["safety"].as_array().unwrap().is_empty());
    // Numbers follow the order, and one that no slot gives says so.
    for (number, option) in (1_u64..).zip(options) {
        assert_eq!(option["option"], number);
    }
    assert!(
        options
            .iter()
            .any(|option| option["rack"]["reached"] == false)
    );
}

#[test]
fn every_option_can_be_written_and_built_as_it_was_told() {
    // No slot leaves margins of 4 to 8 mm all round: two slots, even margins and filling cells.
    let bench = bench();
    let margins = ["--least-margin", "4mm", "--most-margin", "8mm"];
    let asked = with(&ASKED, &margins);
    let answer = bench.ok(&with(&asked, &["--format", "json"])).json();
    let options = answer["options"].as_array().unwrap();
    assert!(
        options
            .iter()
            .all(|option| option["rack"]["border_slot_mm"].is_array()
                || option["rack"]["reached"] == false)
    );
    assert!(options[0]["border_mm"].is_array(), "{answer}");
    for (number, option) in (1..).zip(options) {
        let number = format!("{number}");
        let name = format!("panel-{number}.toml");
        bench.ok(&with(&asked, &["-o", &name, "--pick", &number]));
        let sled = bench.ok(&["sled", &name, "--format", "json"]).json();
        for axis in [0, 1] {
            let margin = option["margin_mm"][axis].as_f64().unwrap();
            near(&sled["size"]["margin_mm"][axis], margin);
            assert!((4.0 - 1e-6..=8.0 + 1e-6).contains(&margin), "{option}");
        }
        // Uprights carry a notch for each cross strip, and the first bay is what was told.
        let bundles = sled["bundles"].as_array().unwrap();
        let upright = bundles
            .iter()
            .find(|bundle| bundle["family"] == "upright")
            .unwrap();
        let notches = upright["notches"].as_array().unwrap();
        assert_eq!(notches.len() as u64, option["rows"].as_u64().unwrap() + 1);
        let centre = |at: usize| notches[at]["centre_mm"].as_f64().unwrap();
        let outer = option.get("border_mm").unwrap_or(&option["pitch_mm"]);
        near(&outer[1], centre(1) - centre(0));
        near(&option["pitch_mm"][1], centre(2) - centre(1));
    }
    bench.ok(&["build", "panel-1.toml", "-o", "parts"]);
}

#[test]
fn a_job_keeps_all_but_its_grid() {
    let bench = bench();
    let job = "title = \"Porch\"\n\n[opening]\nmeasured = \"hole\"\nwidths = [\"613 mm\", \"612.5 mm\", \"614 mm\"]\nheight = \"388 mm\"\nplay = \"1 mm\" # mine\n\n[grid] # to be chosen\nkind = \"square\"\npitch_about = \"40 mm\"\n\n# of the strip\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\n[frame]\nthickness = \"20 mm\"\nwidth = \"30 mm\"\nmortise_depth = \"6 mm\"\n\n[machines]\nsled = \"my-sled.toml\"\n";
    bench.write("porch.toml", job);
    // Its widths differ and it has no diagonals: what the opening's own job warns of is told here too.
    let told = bench.ok(&["choose", "porch.toml", "-o", "new.toml", "--format", "json"]);
    assert!(told.err.contains("skew-unknown"), "{}", told.err);
    let written = told.json();
    assert_eq!(written["warnings"][0]["code"], "skew-unknown");
    assert_eq!(written["written"]["path"], "new.toml");
    assert_eq!(written["written"]["option"], 1);
    let new = bench.read("new.toml");
    let [before, after] =
        ["title = \"Porch\"", "# of the strip\n[strip]"].map(|text| new.find(text).unwrap());
    assert!(
        before < after && new.contains("play = \"1 mm\" # mine\n\n# drawn to"),
        "{new}"
    );
    assert!(
        new.ends_with(&job[job.find("# of the strip").unwrap()..]),
        "{new}"
    );
    assert_eq!(new.matches("[grid]").count(), 1);
    // The inside is the smallest width less play and frame, and what is told fills it.
    let answer = bench
        .ok(&["choose", "porch.toml", "--format", "json"])
        .json();
    near(&answer["wanted_pitch_mm"], 40.0);
    // Half a strip, and 2 of wood beside it.
    near(&answer["least_margin_mm"], 3.5);
    let height = answer["inside_mm"][1].as_f64().unwrap();
    assert!(
        approx_eq!(f64, height, 388.0 - 2.0 - 60.0, epsilon = 0.001),
        "{height}"
    );
    bench.ok(&["rails", "new.toml"]);
    bench.ok(&["build", "new.toml", "-o", "parts"]);
    assert_eq!(bench.read("porch.toml"), job);
}

/// A cell of the square hemp leaf has a diagonal, four hinges and two locks, each with two facets at
/// both ends; a router's rows cut them all.
#[test]
fn facets_of_routed_rows_are_counted_cell_by_cell() {
    let bench = Bench::new();
    let job = "title = \"Vent\"\n[opening]\nmeasured = \"inside\"\nwidth = \"200 mm\"\nheight = \"160 mm\"\n[grid]\nkind = \"square\"\npitch_about = \"38 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"9 mm\"\n[infill]\npattern = \"square-hemp-leaf\"\nway = \"routed-rows\"\n[machines]\nrouter = \"small-router\"\nguides = \"paring-guides\"\n";
    bench.write("vent.toml", job);
    let answer = bench
        .ok(&["choose", "vent.toml", "--format", "json"])
        .json();
    let options = answer["options"].as_array().unwrap();
    assert!(!options.is_empty());
    for option in options {
        let count = |key: &str| option[key].as_u64().unwrap();
        let cells = count("columns") * count("rows");
        assert_eq!(count("pieces"), 7 * cells);
        let mut shares = option["at_machines"].as_array().unwrap().iter();
        let router = shares.find(|share| share["station"] == "router").unwrap();
        assert_eq!(router["facets"], 28 * cells);
    }
}

#[test]
fn inches_stay_as_they_were_typed() {
    let bench = Bench::new();
    let asked = [
        "choose",
        "--opening",
        "24 1/8 in,15 1/4 in",
        "--columns",
        "15",
        "--rows",
        "9",
        "--thickness",
        "1/8in",
        "--depth",
        "1/2in",
        "--units",
        "in",
        "--sled",
        "stop-sled",
    ];
    let told = bench.ok(&with(&asked, &["-o", "in.toml"]));
    // (24.125 - 15.25) / (15 - 9) in
    assert!(told.out.contains("1.4792"), "{}", told.out);
    assert!(bench.read("in.toml").contains("width = \"24 1/8 in\""));
    bench.ok(&["build", "in.toml", "-o", "parts"]);
}

#[test]
fn what_cannot_be_chosen_is_refused() {
    let bench = bench();
    bench.write("job.toml", JOB);
    bench.write("kept.toml", "kept\n");
    bench.write("flat.toml", "title = \"x\"\ngrid = { kind = \"square\", pitch_about = \"40 mm\" }\n[opening]\nmeasured = \"hole\"\nwidth = \"300 mm\"\nheight = \"300 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[machines]\nsled = \"my-sled.toml\"\n");
    bench.write(
        "fine.toml",
        bench.read("flat.toml").replace(
            "grid = { kind = \"square\", pitch_about = \"40 mm\" }\n",
            "",
        ) + "[grid]\nkind = \"square\"\npitch_about = \"40 mm\"\n",
    );
    bench.write("sub/here.txt", "");
    let before = bench.contents();
    let opening = ["choose", "--opening", "612mm,388mm"];
    let strips = ["--thickness", "3mm", "--depth", "12mm"];
    let all = with(&opening, &strips);
    let cases: [(Vec<&str>, &[&str]); 22] = [
        (
            with(&all, &["--columns", "300", "--rows", "300"]),
            &["no bays of what you want", "fewer bays"],
        ),
        (
            vec!["choose"],
            &["--opening", "--thickness", "--depth", "give a job file"],
        ),
        (with(&all, &[]), &["nothing says how large", "--pitch 40mm"]),
        (
            with(&all, &["--pitch", "400mm"]),
            &["--pitch", "not one cell", "pitch of 38"],
        ),
        (
            with(&all, &["--pitch", "2mm"]),
            &["leaves no opening between strips"],
        ),
        (with(&all, &["--pitch", "-4mm"]), &["--pitch"]),
        (with(&all, &["--pitch", "40"]), &["--pitch", "unit"]),
        (
            with(&all, &["--columns", "0"]),
            &["--columns", "whole number from 1"],
        ),
        (with(&all, &["--rows", "many"]), &["--rows", "whole number"]),
        (
            with(&all, &["--pitch", "40mm", "--sled", "no-such"]),
            &["--sled", "no-such", "key-sled"],
        ),
        (
            with(&all, &["--pitch", "40mm", "--sled", "tube-laser"]),
            &["--sled", "laser", "sled is wanted"],
        ),
        (
            with(&all, &["--pitch", "40mm", "--pattern", "no-such"]),
            &["--pattern", "no-such"],
        ),
        (
            with(
                &all,
                &[
                    "--pitch",
                    "40mm",
                    "--sled",
                    "my-sled.toml",
                    "-o",
                    "p.toml",
                    "--pick",
                    "9",
                ],
            ),
            &["--pick 9", "to choose from"],
        ),
        (
            with(
                &all,
                &[
                    "--pitch",
                    "40mm",
                    "--sled",
                    "my-sled.toml",
                    "-o",
                    "p.toml",
                    "--pick",
                    "0",
                ],
            ),
            &["--pick 0"],
        ),
        (
            with(&all, &["--pitch", "40mm", "-o", "p.toml"]),
            &["without a machine", "--sled"],
        ),
        (
            with(
                &all,
                &[
                    "--pitch",
                    "40mm",
                    "--sled",
                    "my-sled.toml",
                    "-o",
                    "kept.toml",
                ],
            ),
            &["kept.toml", "there already"],
        ),
        (
            with(
                &all,
                &[
                    "--pitch",
                    "40mm",
                    "--sled",
                    "my-sled.toml",
                    "-o",
                    "my-sled.toml",
                ],
            ),
            &["my-sled.toml", "there already"],
        ),
        (
            with(
                &all,
                &[
                    "--pitch",
                    "40mm",
                    "--router",
                    "small-router",
                    "-o",
                    "p.toml",
                ],
            ),
            &["none of the machines"],
        ),
        (
            with(
                &all,
                &[
                    "--pitch",
                    "40mm",
                    "--least-margin",
                    "30mm",
                    "--most-margin",
                    "20mm",
                ],
            ),
            &["greatest margin", "below the least"],
        ),
        (
            with(
                &["choose", "--opening", "612mm", "--pitch", "40mm"],
                &strips,
            ),
            &["--opening", "two lengths", "612mm,388mm"],
        ),
        (vec!["choose", "job.toml"], &["no opening", "[opening]"]),
        (
            vec!["choose", "flat.toml"],
            &["no table of its own", "[grid]"],
        ),
    ];
    for (args, says) in cases {
        let ran = bench.run(&args);
        assert_eq!(
            (ran.code, ran.out.as_str()),
            (2, ""),
            "{args:?}: {}",
            ran.err
        );
        for said in says {
            assert!(
                ran.err.contains(said),
                "{args:?} does not say {said}:\n{}",
                ran.err
            );
        }
    }
    // Elsewhere the profile would not be found.
    let moved = bench.run(&["choose", "fine.toml", "-o", "sub/panel.toml"]);
    assert_eq!(moved.code, 2);
    assert!(
        moved.err.contains("machines.sled") && moved.err.contains("another folder"),
        "{}",
        moved.err
    );
    assert_eq!(bench.contents(), before);
    // Named by a flag it is.
    let elsewhere = [
        "--pitch",
        "40mm",
        "--sled",
        "my-sled.toml",
        "-o",
        "sub/panel.toml",
    ];
    bench.ok(&with(&all, &elsewhere));
    bench.ok(&["sled", "sub/panel.toml"]);
}

#[test]
fn every_starter_can_be_built_as_it_stands() {
    for kind in [
        "square",
        "diamond",
        "triangular",
        "hexagon",
        "opening",
        "frame",
    ] {
        let bench = Bench::new();
        bench.ok(&["new", kind, "-o", "panel.toml"]);
        bench.ok(&["build", "panel.toml", "-o", "parts"]);
        let manifest: Value = serde_json::from_str(&bench.read("parts/manifest.json")).unwrap();
        assert_eq!(manifest["missing"].as_array().unwrap().len(), 0, "{kind}");
        let before = bench.read("panel.toml");
        let again = bench.run(&["new", kind, "-o", "panel.toml"]);
        assert_eq!((again.code, again.out.as_str()), (2, ""));
        assert_eq!(bench.read("panel.toml"), before);
    }
    let unknown = Bench::new().run(&["new", "octagonal", "-o", "panel.toml"]);
    assert_eq!(unknown.code, 2);
    assert!(unknown.err.contains("hexagon"), "{}", unknown.err);
}

#[test]
fn a_file_alone_says_what_can_be_done_with_it() {
    let bench = Bench::with_job();
    let told = bench.ok(&["job.toml"]).out;
    for said in [
        "Tea cupboard door",
        "square grid",
        "lapwright build job.toml",
        "lapwright notch job.toml",
    ] {
        assert!(told.contains(said), "{told}");
    }
    // Only what makes sense: no pieces, no frame, no opening.
    for command in ["lapwright pare", "lapwright rails", "lapwright choose"] {
        assert!(!told.contains(command), "{told}");
    }
    // Every command that is told works as it stands.
    let answer = bench.ok(&["job.toml", "--format", "json"]).json();
    for next in answer["next"].as_array().unwrap() {
        let command = next["command"].as_str().unwrap();
        let words: Vec<&str> = command.split(' ').skip(1).collect();
        bench.ok(&words);
    }
    bench.write("my-sled.toml", shipped("key-sled"));
    assert!(
        bench
            .ok(&["my-sled.toml"])
            .out
            .contains("machine check my-sled.toml")
    );
    bench.write("leaf.toml", shipped("patterns/corner-brace"));
    assert!(
        bench
            .ok(&["leaf.toml"])
            .out
            .contains("pattern check leaf.toml")
    );
    bench.write("x.nc", "M2\n");
    assert!(bench.ok(&["x.nc"]).out.contains("lapwright prove x.nc"));
    for (args, said) in [(["missing.toml"], "missing.toml"), (["sledd"], "sled")] {
        let ran = bench.run(&args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""));
        assert!(ran.err.contains(said), "{}", ran.err);
    }
    bench.write("wrong.toml", JOB.replace("\"40 mm\"", "40"));
    let wrong = bench.run(&["wrong.toml"]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("grid.pitch"), "{}", wrong.err);
}
