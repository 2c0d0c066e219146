//! Good behaviour of the whole command: answers, exit codes, where things are written.

use crate::support::cli::{Bench, FLAGS, JOB, shipped, with_line};
use float_cmp::approx_eq;
use serde_json::Value;
use std::fs;
use std::io::pipe;

fn near(value: &Value, wanted: f64) {
    let got = value.as_f64().unwrap_or(f64::NAN);
    assert!(
        approx_eq!(f64, got, wanted, epsilon = 1e-6),
        "{value} is not {wanted}"
    );
}

fn json(args: &[&str]) -> Vec<String> {
    let more = ["--format", "json"];
    args.iter().chain(&more).map(ToString::to_string).collect()
}

/// Runs a command for JSON; it must succeed.
fn answer(bench: &Bench, args: &[&str]) -> Value {
    let args = json(args);
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    bench.ok(&args).json()
}

#[test]
fn a_slanted_grid_from_flags_alone() {
    // 42 mm square to the strips is 42 / sin 60 = 48.497423 along them; the stop stands at
    // 15 + 1.5 / tan 60 - 1.3 / sin 60, uprights being crossed at 120 deg from their direction.
    let mut flags = FLAGS.to_vec();
    flags.extend(["--angle", "60deg"]);
    let sled = answer(&Bench::new(), &flags);
    assert_eq!(sled["bundles"].as_array().unwrap().len(), 2);
    for bundle in sled["bundles"].as_array().unwrap() {
        assert_eq!(bundle["count"], 5);
        let notches = bundle["notches"].as_array().unwrap();
        assert_eq!(notches.len(), 5);
        near(&notches[0]["centre_mm"], 15.0);
        near(&notches[1]["centre_mm"], 15.0 + 48.497_422_6);
        near(&bundle["by_stop"][0]["stop_to_kerf_mm"], 14.364_914_7);
    }
    let position = &sled["key"]["positions"][0];
    near(&position["centre_to_centre_mm"], 42.0);
    near(&position["along_fence_mm"], 48.497_422_6);
    let fence = &sled["settings"][0]["fence"];
    near(&fence["from_square_deg"], 30.0);
    near(&fence["to_blade_deg"], 60.0);
    assert_eq!(fence["end_away"], "left");
    // At right angles it is the square grid, to the last digit.
    let square = answer(&Bench::new(), &FLAGS);
    let mut flags = FLAGS.to_vec();
    flags.extend(["--angle", "90deg"]);
    assert_eq!(answer(&Bench::new(), &flags), square);
}

#[test]
fn a_sled_from_flags_alone() {
    // By hand: 4 bays of 42 between centres, 15 before and after; half of 12 deep; 3 wide; the
    // key sled's kerf is 2.6, its base 12, its blade's radius 127; the stop stands half a kerf
    // before the centre.
    let sled = answer(&Bench::new(), &FLAGS);
    assert_eq!(sled["schema"], "lapwright/sled/1");
    let bundles = sled["bundles"].as_array().unwrap();
    let faces: Vec<_> = bundles.iter().map(|bundle| &bundle["face"]).collect();
    assert_eq!(faces, ["back", "front"]);
    for bundle in bundles {
        assert_eq!(bundle["count"], 5);
        near(&bundle["length_mm"], 198.0);
        let notches = bundle["notches"].as_array().unwrap();
        let steps = bundle["steps"].as_array().unwrap();
        assert_eq!((notches.len(), steps.len()), (5, 5));
        for ((notch, step), index) in notches.iter().zip(steps).zip(1_u32..) {
            let centre = 15.0 + 42.0 * f64::from(index - 1);
            assert_eq!(notch["index"], index);
            near(&notch["centre_mm"], centre);
            near(&notch["near_edge_mm"], centre - 1.5);
            near(&notch["far_edge_mm"], centre + 1.5);
            near(&notch["width_mm"], 3.0);
            near(&notch["depth_mm"], 6.0);
            near(&notch["angle_deg"], 90.0);
            assert_eq!(notch["face"], bundle["face"]);
            assert_eq!(
                (&step["notch"], &step["register"]),
                (&index.into(), &"stop".into())
            );
            near(&step["stop_to_kerf_mm"], centre - 1.3);
        }
    }
    let blade = &sled["blade"];
    near(&blade["height_above_base_mm"], 6.0);
    near(&blade["height_above_table_mm"], 18.0);
    let half_chord = (127.0_f64.powi(2) - 121.0_f64.powi(2)).sqrt();
    assert_eq!(blade["passes_per_notch"], 2);
    near(&blade["half_chord_mm"], half_chord);
    near(&blade["travel_mm"], 2.0 * half_chord + 15.0);
    assert!(!sled["safety"].as_array().unwrap().is_empty());
}

#[test]
fn keys_carry_a_step_that_a_slot_reaches() {
    // 40 mm pitch, and a key sled with a slot at 40: the first notch by the stop, the others over
    // the key.
    let bench = Bench::with_job();
    let sled = with_line(&shipped("key-sled"), "slots", "slots = [\"40 mm\"]");
    bench.write(
        "sled.toml",
        with_line(&sled, "measured", "measured = [\"40.01 mm\"]"),
    );
    let sled = answer(&bench, &["sled", "job.toml", "--machine", "sled.toml"]);
    let steps = sled["bundles"][0]["steps"].as_array().unwrap();
    assert_eq!(steps[0]["register"], "stop");
    for step in &steps[1..] {
        assert_eq!(step["register"], "key");
        let hops = step["notch"].as_f64().unwrap() - step["on_notch"].as_f64().unwrap();
        near(&step["key_mm"], 40.0 * hops);
    }
}

#[test]
fn text_says_the_same_in_either_unit() {
    let bench = Bench::new();
    let mm = bench.ok(&FLAGS).out;
    for said in [
        "198.00 mm",
        "blade over the table  18.00 mm",
        "38.57 mm",
        "ALL CAUTIONS",
        "[ ]  1.",
    ] {
        let squeezed = mm.split_whitespace().collect::<Vec<_>>().join(" ");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(squeezed.contains(&said), "{said}:\n{mm}");
    }
    // 198 mm is 7.79528 in, the nearest 1/64 is 7-51/64 = 7.796875.
    let inches = bench.ok(&[&FLAGS[..], &["--units", "in"]].concat()).out;
    assert!(inches.contains("7.7953 in [7-51/64 -0.0016]"), "{inches}");
    assert!(!inches.contains(" mm"), "{inches}");
    let same = [
        answer(&bench, &FLAGS),
        answer(&bench, &[&FLAGS[..], &["--units", "in"]].concat()),
    ];
    assert_eq!(same[0], same[1], "JSON is always in millimetres");
    assert!(mm.lines().all(|line| line.chars().count() <= 100));
}

#[test]
fn warnings_go_to_standard_error_and_into_the_json() {
    // No slot at 42 mm: a warning.
    let bench = Bench::new();
    let text = bench.ok(&FLAGS);
    assert!(text.err.contains("warning[key-out-of-reach]") && !text.out.contains("warning"));
    let args = json(&FLAGS);
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let ran = bench.ok(&args);
    assert!(ran.err.contains("warning[key-out-of-reach]"));
    let warnings = ran.json()["warnings"].clone();
    let first = &warnings[0];
    assert_eq!(first["code"], "key-out-of-reach");
    assert_eq!(first["field"], "rack.slots");
    assert!(
        first["text"]
            .as_str()
            .unwrap()
            .contains("add a slot at 42.00 mm")
    );
}

#[test]
fn a_kerf_between_notch_and_strip_gives_a_press_fit_all_the_same() {
    // Notches 1.6 wide asked for, a kerf of 2.6 for strips of 3: 0.4 narrower, not 1.4.
    let bench = Bench::new();
    bench.write(
        "job.toml",
        with_line(JOB, "clearance", "clearance = \"-1.4 mm\""),
    );
    let ran = bench.ok(&["sled", "job.toml"]);
    assert!(
        ran.err
            .contains("the press fit will be 0.40 mm instead of 1.40 mm"),
        "{}",
        ran.err
    );
    assert!(
        ran.out
            .contains("Notches come out 0.40 mm narrower than the strips"),
        "{}",
        ran.out
    );
}

#[test]
fn exit_codes() {
    let bench = Bench::with_job();
    assert_eq!(bench.run(&["sled", "job.toml"]).code, 0);
    assert_eq!(bench.run(&["--help"]).code, 0);
    assert_eq!(bench.run(&["--version"]).code, 0);
    assert_eq!(bench.run(&["sled", "none.toml"]).code, 2);
    assert_eq!(bench.run(&[]).code, 2);
    // Done, and the answer is no.
    bench.ok(&["notch", "job.toml", "-o", "a.nc"]);
    assert_eq!(bench.run(&["prove", "a-1.nc", "job.toml"]).code, 0);
    let moved = bench.read("a-1.nc").replace("X55.", "X56.");
    bench.write("moved.nc", moved);
    assert_eq!(bench.run(&["prove", "moved.nc", "job.toml"]).code, 1);
}

#[test]
fn no_escape_codes_where_nobody_sees_them() {
    let bench = Bench::new();
    for args in [
        &["sled", "none.toml"][..],
        &FLAGS[..],
        &["cut"],
        &["--help"],
    ] {
        let mut command = bench.command(args);
        command.env("NO_COLOR", "1").env("TERM", "xterm-256color");
        let plain = command.output().unwrap();
        let piped = bench.run(args);
        let all = [
            plain.stdout,
            plain.stderr,
            piped.out.into(),
            piped.err.into(),
        ]
        .concat();
        assert!(!all.is_empty() && !all.contains(&0x1b), "{args:?}");
    }
}

#[test]
fn every_command_has_an_example() {
    let bench = Bench::new();
    let commands = [
        "",
        "sled",
        "outline",
        "notch",
        "build",
        "prove",
        "pare",
        "pattern",
        "machine",
        "machine list",
        "machine show",
        "machine check",
        "machine new",
        "completions",
    ];
    for command in commands {
        let mut args: Vec<&str> = command.split_whitespace().collect();
        args.push("--help");
        let help = bench.ok(&args).out;
        let (_, examples) = help
            .split_once("Example")
            .unwrap_or_else(|| panic!("{command}: {help}"));
        assert!(
            examples.contains(&format!("  lapwright {command}")),
            "{command}: {help}"
        );
    }
}

#[test]
fn completions() {
    let bench = Bench::new();
    for shell in ["bash", "zsh", "fish"] {
        let script = bench.ok(&["completions", shell]).out;
        assert!(
            script.contains("outline") && script.contains("clearance"),
            "{shell}"
        );
        // Starters, which begin with the kinds of grids; profiles; patterns; words of `help`.
        for name in [
            "hexagon",
            "opening",
            "paring-guides",
            "wall-spokes",
            "sheet-router",
        ] {
            assert!(script.contains(name), "{shell}: {name}");
        }
    }
}

/// Every word that a shell offers behind `help`, or behind `help machine`, has help; every command is
/// among them.
#[test]
fn words_of_help_are_completed() {
    let bench = Bench::new();
    let script = bench.ok(&["completions", "bash"]).out;
    let options = |command: &str| -> Vec<String> {
        let (_, section) = script
            .split_once(&format!("\n        {command})\n"))
            .unwrap();
        let (_, list) = section.split_once("opts=\"").unwrap();
        let (list, _) = list.split_once('"').unwrap();
        let words = list
            .split_whitespace()
            .filter(|word| !word.starts_with('-'));
        words.map(str::to_owned).collect()
    };
    let words = options("lapwright__subcmd__help");
    assert!(words.len() > 15, "{words:?}");
    for word in &words {
        let alone = bench.run(&["help", word]).code == 0;
        assert!(
            alone || bench.run(&["help", "machine", word]).code == 0,
            "{word}"
        );
    }
    let hidden = ["file", "help"];
    for command in options("lapwright")
        .iter()
        .filter(|word| !hidden.contains(&word.as_str()))
    {
        assert!(words.contains(command), "{command}");
    }
}

#[test]
fn machine_profiles() {
    let bench = Bench::with_job();
    let listed = answer(&bench, &["machine", "list"]);
    let machines = listed["machines"].as_array().unwrap();
    let profiles = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/profiles")).unwrap();
    let files = profiles.filter(|entry| entry.as_ref().unwrap().path().is_file());
    assert_eq!(machines.len(), files.count());
    for machine in machines {
        let name = machine["name"].as_str().unwrap();
        assert!(bench.ok(&["machine", "list"]).out.contains(name));
        assert_eq!(bench.ok(&["machine", "show", name]).out, shipped(name));
        assert!(shipped(name).contains("EXAMPLE VALUES"));
        assert_eq!(answer(&bench, &["machine", "check", name])["ok"], true);
        let path = format!("{name}-of-my-own.toml");
        bench.ok(&["machine", "new", "--like", name, "-o", &path]);
        assert_eq!(bench.read(&path), shipped(name));
        bench.ok(&["machine", "check", &path]);
    }
    let with =
        |name: &str| answer(&bench, &["sled", "job.toml", "--machine", name])["bundles"].clone();
    assert_eq!(with("key-sled-of-my-own.toml"), with("key-sled"));
}

#[test]
fn profile_paths_start_from_the_jobs_folder() {
    let bench = Bench::new();
    bench.write(
        "work/panel.toml",
        with_line(JOB, "sled", "sled = \"../saws/mine.toml\""),
    );
    let thick = with_line(
        &shipped("key-sled"),
        "base_thickness",
        "base_thickness = \"19 mm\"",
    );
    bench.write("saws/mine.toml", thick);
    let sled = answer(&bench, &["sled", "work/panel.toml"]);
    near(&sled["blade"]["height_above_table_mm"], 25.0);
    assert_eq!(sled["machine"], "../saws/mine.toml");
}

#[test]
fn nobody_reading_on_is_no_error() {
    let bench = Bench::with_job();
    for args in [
        &["sled", "job.toml"][..],
        &["completions", "bash"],
        &["machine", "list"],
        &["--help"],
    ] {
        let (reader, writer) = pipe().unwrap();
        drop(reader);
        let output = bench.command(args).stdout(writer).output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(!said.contains("panicked"), "{args:?}: {said}");
        assert_eq!(output.status.code(), Some(0), "{args:?}: {said}");
    }
    // Nor can what is told to nobody change what is done.
    for (args, code) in [
        (&["sled", "none.toml"][..], 2),
        (&FLAGS[..], 0),
        (&["cut"], 2),
    ] {
        let (reader, writer) = pipe().unwrap();
        drop(reader);
        let output = bench.command(args).stderr(writer).output().unwrap();
        assert_eq!(output.status.code(), Some(code), "{args:?}");
        if let Ok(full) = fs::File::options().write(true).open("/dev/full") {
            let output = bench.command(args).stderr(full).output().unwrap();
            assert_eq!(output.status.code(), Some(code), "{args:?}, device full");
        }
    }
}

#[test]
fn one_file_has_its_own_name_and_several_are_numbered() {
    let bench = Bench::with_job();
    let outline = ["outline", "job.toml", "--what", "strips", "-o", "s.dxf"];
    assert_eq!(answer(&bench, &outline)["files"][0]["path"], "s.dxf");
    assert!(bench.path("s.dxf").is_file());
    // Two families, two programs.
    let notch = answer(&bench, &["notch", "job.toml", "-o", "p.nc"]);
    let files: Vec<_> = notch["setups"]
        .as_array()
        .unwrap()
        .iter()
        .map(|setup| &setup["file"])
        .collect();
    assert_eq!(files, ["p-1.nc", "p-2.nc"]);
    assert!(bench.path("p-2.nc").is_file() && !bench.path("p.nc").exists());
    // Eleven strips 12 mm deep do not go on one sheet 60 mm wide.
    let narrow = with_line(&shipped("tube-laser"), "width", "width = \"60 mm\"");
    bench.write(
        "narrow.toml",
        with_line(&narrow, "length", "length = \"300 mm\""),
    );
    let args = [&outline[..5], &["n.dxf", "--machine", "narrow.toml"]].concat();
    let outline = answer(&bench, &args);
    let files = outline["files"].as_array().unwrap();
    let parts = files
        .iter()
        .map(|file| file["parts"].as_array().unwrap().len());
    assert_eq!(parts.sum::<usize>(), 11);
    assert!(files.len() > 1);
    for (file, number) in files.iter().zip(1..) {
        assert_eq!(file["path"], format!("n-{number}.dxf"));
        assert!(bench.path(&format!("n-{number}.dxf")).is_file());
    }
}

#[test]
fn a_build_lists_exactly_what_it_wrote_and_comes_out_the_same_again() {
    let bench = Bench::with_job();
    let manifest = answer(&bench, &["build", "job.toml", "-o", "out/new"]);
    let first = bench.contents();
    assert_eq!(
        bench.read("out/new/manifest.json"),
        serde_json::to_string_pretty(&manifest).unwrap() + "\n"
    );
    let mut listed = vec!["manifest.json".to_owned()];
    for file in manifest["files"].as_array().unwrap() {
        let path = file["path"].as_str().unwrap();
        assert_eq!(
            file["bytes"],
            fs::read(bench.path(&format!("out/new/{path}")))
                .unwrap()
                .len()
        );
        listed.push(path.into());
    }
    let folder = fs::read_dir(bench.path("out/new")).unwrap();
    let mut found: Vec<_> = folder
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    listed.sort();
    found.sort();
    assert_eq!(listed, found);
    for name in ["sled.txt", "strips.dxf", "notches-1.nc", "router.json"] {
        assert!(listed.iter().any(|path| path == name), "{name}");
    }
    bench.ok(&["build", "job.toml", "-o", "out/new"]);
    assert!(bench.contents() == first, "the same job gives other bytes");
    // Without the router its files are left over: told, not touched.
    bench.write("job.toml", with_line(JOB, "router", ""));
    let again = bench.ok(&["build", "job.toml", "-o", "out/new"]);
    assert!(
        again
            .err
            .contains("notches-1.nc: left over from an earlier build"),
        "{}",
        again.err
    );
    assert!(bench.path("out/new/notches-1.nc").is_file());
    // And told again until they are gone.
    let told = "notches-1.nc: left over from an earlier build";
    let manifest = bench.read("out/new/manifest.json");
    assert!(manifest.contains("\"left_over\"") && manifest.contains("notches-1.nc"));
    assert!(
        bench
            .ok(&["build", "job.toml", "-o", "out/new"])
            .err
            .contains(told)
    );
    fs::remove_file(bench.path("out/new/notches-1.nc")).unwrap();
    assert!(
        !bench
            .ok(&["build", "job.toml", "-o", "out/new"])
            .err
            .contains(told)
    );
}

#[test]
fn titles_are_data() {
    let titles = [
        r"a) M3 S9 (b %",
        "<script>alert(1)</script>",
        "=cmd('x')!A1",
        r#"say "hi" \ $(x)"#,
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd} \u{0645}\u{0631}\u{062d}\u{0628}\u{0627}",
        "{} {0} {title}",
        "; G0 Z-5",
    ];
    for title in titles {
        let bench = Bench::new();
        let quoted = toml::Value::from(title).to_string();
        bench.write(
            "job.toml",
            with_line(JOB, "title", &format!("title = {quoted}")),
        );
        let build = answer(&bench, &["build", "job.toml", "-o", "out"]);
        assert_eq!(build["title"], title);
        assert_eq!(answer(&bench, &["sled", "job.toml"])["title"], *title);
        assert!(bench.read("out/sled.txt").starts_with(title), "{title}");
        let program = bench.read("out/notches-1.nc");
        assert!(program.is_ascii());
        for line in program.lines() {
            let code = match line.strip_prefix('(') {
                None => line,
                Some(rest) => {
                    let inside = rest.strip_suffix(')').unwrap();
                    assert!(
                        inside
                            .chars()
                            .all(|c| c.is_ascii_alphanumeric() || " .,-+=/".contains(c)),
                        "{line}"
                    );
                    continue;
                }
            };
            assert!(
                code.chars()
                    .all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || " .-".contains(c)),
                "{code}"
            );
        }
        let plain = Bench::with_job();
        plain.ok(&["build", "job.toml", "-o", "out"]);
        assert_eq!(bench.read("out/strips.dxf"), plain.read("out/strips.dxf"));
        let codes = |text: &str| {
            text.lines()
                .filter(|line| !line.starts_with('('))
                .map(str::to_owned)
                .collect::<Vec<_>>()
        };
        assert_eq!(codes(&program), codes(&plain.read("out/notches-1.nc")));
    }
}

#[test]
fn several_outputs_are_there_together_or_not_at_all() {
    let bench = Bench::with_job();
    fs::create_dir_all(bench.path("out/notches-2.nc")).unwrap();
    let before = bench.contents();
    let ran = bench.run(&["build", "job.toml", "-o", "out"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("notches-2.nc"), "{}", ran.err);
    assert!(
        bench.contents() == before,
        "a part of the build was written"
    );
}

#[cfg(unix)]
#[test]
fn links_are_left_alone() {
    let bench = Bench::with_job();
    bench.write("elsewhere/old.dxf", "old");
    std::os::unix::fs::symlink("elsewhere/old.dxf", bench.path("link.dxf")).unwrap();
    let ran = bench.run(&["outline", "job.toml", "--what", "strips", "-o", "link.dxf"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("link.dxf: this is a link"), "{}", ran.err);
    assert!(bench.path("link.dxf").is_symlink());
    assert_eq!(bench.read("elsewhere/old.dxf"), "old");
}

#[test]
fn no_file_that_a_job_names_is_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let job = include_str!("../../demo/reading-lamp.toml").replace("\"key-sled\"", "\"mine.toml\"");
    let profile = include_str!("../../profiles/key-sled.toml");
    fs::write(folder.path().join("job.toml"), job).unwrap();
    fs::write(folder.path().join("mine.toml"), profile).unwrap();
    let arguments = ["outline", "job.toml", "--what", "strips", "-o", "mine.toml"];
    let done = std::process::Command::new(env!("CARGO_BIN_EXE_lapwright"))
        .args(arguments)
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert_eq!(done.status.code(), Some(2));
    let kept = fs::read_to_string(folder.path().join("mine.toml")).unwrap();
    assert_eq!(kept, profile);
}

#[test]
fn a_damaged_program_is_told_against_its_own_bundle() {
    // Every notch a little too wide: none is right, but all are where this bundle's notches lie.
    let folder = tempfile::tempdir().unwrap();
    let job = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/reading-lamp.toml");
    let run = |arguments: &[&str]| {
        std::process::Command::new(env!("CARGO_BIN_EXE_lapwright"))
            .args(arguments)
            .current_dir(folder.path())
            .output()
            .unwrap()
    };
    assert!(run(&["notch", job, "-o", "a.nc"]).status.success());
    for number in ["1", "2"] {
        let file = format!("a-{number}.nc");
        let text = fs::read_to_string(folder.path().join(&file)).unwrap();
        // The wall passes stand 0.525 mm off the notches' centres, at whole numbers of five.
        let wide = text.replace("5.525", "5.725").replace("4.475", "4.275");
        assert_ne!(text, wide);
        fs::write(folder.path().join(&file), wide).unwrap();
        let done = run(&["prove", &file, job]);
        assert_eq!(done.status.code(), Some(1));
        let told = String::from_utf8(done.stdout).unwrap();
        assert!(told.contains(&format!("BUNDLE {number} ")), "{told}");
    }
}
