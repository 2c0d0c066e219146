//! What is written into a profile, and what stays.

use super::{SLED_READINGS, bench_with, dated};
use crate::support::cli::{Bench, JOB};
use float_cmp::approx_eq;
use lapwright::reading::SHIPPED_MACHINES;
use serde_json::Value;
use std::fs;

fn figure<'a>(answer: &'a Value, field: &str) -> &'a Value {
    let mut figures = answer["figures"].as_array().unwrap().iter();
    let found = figures.find(|figure| figure["field"] == field);
    found.unwrap_or_else(|| panic!("{field}: {answer}"))
}

/// By hand: half the differences are 2.605, 2.62, 2.61, 2.62 and 2.605, their mean 2.612, the sum of
/// squares 0.00023; the last digit adds 0.01^2 / 12 / 2 to the variance of the mean.
#[test]
fn figures_are_those_worked_out_by_hand() {
    let bench = bench_with("key-sled");
    bench.write("r.toml", dated(SLED_READINGS));
    let told = bench.ok(&[
        "machine",
        "measure",
        "mine.toml",
        "--from",
        "r.toml",
        "--format",
        "json",
    ]);
    let told = told.json();
    assert_eq!(told["schema"], "lapwright/machine-measure/1");
    let kerf = figure(&told, "blade.kerf");
    let is = |value: &Value, wanted: f64| {
        let found = value.as_f64().unwrap();
        assert!(
            approx_eq!(f64, found, wanted, epsilon = 1e-8),
            "{found} {wanted}"
        );
    };
    is(&kerf["mean_mm"], 2.612);
    is(&kerf["deviation_mm"], (0.000_23_f64 / 4.0).sqrt());
    let scatter = 0.000_23_f64 / 4.0 / 5.0;
    let digit = 0.0001 / 12.0 / 2.0;
    is(&kerf["standard_uncertainty_mm"], (scatter + digit).sqrt());
    // 4 (1 + digit / scatter)^2 = 7.4 degrees of freedom, cut down to 7: t = 2.365 (GUM Table G.2).
    let expanded = kerf["expanded_uncertainty_mm"].as_f64().unwrap();
    assert!(
        (expanded / (scatter + digit).sqrt() - 2.365).abs() < 0.0005,
        "{expanded}"
    );
    is(&kerf["coverage"], 0.95);
    is(&kerf["before_mm"], 2.6);
    is(&kerf["after_mm"], 2.612);
    assert_eq!(kerf["date"], "2026-11-30");
    assert_eq!(kerf["readings"], 5);
    // Two readings a strip: (140.81 + 135.58) / 12 and so on.
    is(
        &figure(&told, "rack.measured[0]")["mean_mm"],
        (276.39 + 276.36 + 276.44) / 36.0,
    );
    is(&figure(&told, "rack.measured[0]")["before_mm"], 23.03);
    is(
        &figure(&told, "rack.measured[3]")["mean_mm"],
        (276.27 + 276.19 + 276.23) / 18.0,
    );
    // 12.02 - 11.85, 12.01 - 11.89, 12.02 - 11.82: a third of half their sum is lacking.
    is(&figure(&told, "sled.height_correction")["after_mm"], 0.082);
    // Prediction interval of one more: t (4) s sqrt(1 + 1 / 5), s = 0.049295.
    is(&figure(&told, "stop.repeatability")["after_mm"], 0.15);
    // Three laps do not say how far the height differs.
    assert_eq!(
        told["too_few"],
        serde_json::json!(["spread.height", "mitres.height_error"])
    );
    let offset = &told["told"][0];
    assert_eq!(offset["unit"], "mm");
    is(&offset["value"], 0.044);
}

#[test]
fn a_second_time_changes_nothing_more() {
    let bench = bench_with("key-sled");
    bench.write("r.toml", dated(SLED_READINGS));
    let measure = || bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
    measure();
    let once = bench.read("mine.toml");
    measure();
    assert_eq!(bench.read("mine.toml"), once);
    assert!(
        once.contains("height_correction = \"0.082 mm\"   # added to the blade's height"),
        "{once}"
    );
}

/// Readings that every kind of machine can have.
fn readings_for(name: &str) -> Vec<&'static str> {
    match name {
        "key-sled" => vec![SLED_READINGS],
        "stop-sled" => vec![
            "[grooves]\nacross = [53.3, 48.8]\nbetween = [46.9, 42.45]\n[depth]\nreadings = [12.0, 12.01, 12.0, 12.01, 12.0]\n",
        ],
        "bench-hook" => {
            vec!["[groove]\nreadings = [0.62, 0.63, 0.61]\n[stop-seat]\nreadings = [60.0, 60.02]\n"]
        }
        "small-router" | "mid-router" => vec![
            "[cutter]\nreadings = [2.02, 2.01, 2.02]\n",
            "[notch]\nprogrammed = 3.05\ntrim = 0\nacross = [33.1, 33.12]\nbetween = [26.9, 26.92]\n[cut-depth]\nprogrammed = 6\nreadings = [6.02, 5.99]\n",
        ],
        "tube-laser" => vec![
            "[comb]\ncuts = 10\ngap = [1.7, 1.62, 1.66]\n[fit]\nslot = 2.85\nreadings = [2.8, 2.81]\n",
        ],
        "diode-laser" => {
            vec!["[comb]\ncuts = 10\ngap = [1.3, 1.22, 1.26]\n[strip]\nreadings = [2.8, 2.81]\n"]
        }
        "sheet-router" => {
            vec!["[cutter]\nreadings = [1.51, 1.52]\n[fit]\nslot = 2.85\nreadings = [2.8, 2.81]\n"]
        }
        _ => vec!["[mitre]\nlength = 60\ngap = [0.1, 0.15]\n"],
    }
}

/// All lines that were there still stand there in their order, but for the value on some of them; what
/// is new are lines.
fn assert_kept(before: &str, after: &str) {
    let beside = |line: &str| {
        let comment = line.split_once('#').map_or("", |(_, comment)| comment);
        let key = line.split('=').next().unwrap_or_default();
        (
            key.trim().to_owned(),
            comment.trim_end().to_owned(),
            line.ends_with("\r\n"),
        )
    };
    let mut rest = after.split_inclusive('\n');
    for line in before.split_inclusive('\n') {
        let found = rest
            .find(|other| *other == line || line.contains('=') && beside(other) == beside(line));
        assert!(found.is_some(), "{line:?} has gone from\n{after}");
    }
}

#[test]
fn comments_order_and_line_ends_stay_in_every_shipped_profile() {
    for shipped in SHIPPED_MACHINES {
        for ends in ["\n", "\r\n"] {
            let bench = Bench::new();
            let before = shipped.text.replace('\n', ends);
            bench.write("mine.toml", &before);
            for readings in readings_for(shipped.name) {
                bench.write("r.toml", dated(readings));
                bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
                bench.ok(&["machine", "check", "mine.toml"]);
            }
            let after = bench.read("mine.toml");
            assert_kept(&before, &after);
            assert_eq!(after.contains("\r\n"), ends == "\r\n", "{}", shipped.name);
            if ends == "\r\n" {
                assert_eq!(after.matches('\n').count(), after.matches("\r\n").count());
            }
            assert_eq!(
                after == before,
                shipped.name == "paring-guides",
                "{}",
                shipped.name
            );
        }
    }
}

#[test]
fn a_dry_run_and_another_file_leave_the_profile_alone() {
    let bench = bench_with("key-sled");
    bench.write("r.toml", dated(SLED_READINGS));
    let before = bench.contents();
    let told = bench.ok(&[
        "machine",
        "measure",
        "mine.toml",
        "--from",
        "r.toml",
        "--dry-run",
    ]);
    assert!(
        told.out.contains("would be written")
            && told.out.contains("blade.kerf = 2.6 mm -> 2.612 mm"),
        "{}",
        told.out
    );
    assert_eq!(bench.contents(), before);
    bench.ok(&[
        "machine",
        "measure",
        "mine.toml",
        "--from",
        "r.toml",
        "-o",
        "new.toml",
    ]);
    assert_eq!(
        bench.read("mine.toml").as_bytes(),
        before
            .values()
            .flatten()
            .find(|bytes| bytes.starts_with(b"# A crosscut"))
            .unwrap()
            .as_slice()
    );
    bench.ok(&["machine", "check", "new.toml"]);
    // The profile itself is no other file, and readings are never overwritten.
    for output in ["mine.toml", "./mine.toml", "r.toml"] {
        let ran = bench.run(&[
            "machine",
            "measure",
            "mine.toml",
            "--from",
            "r.toml",
            "-o",
            output,
        ]);
        assert_eq!(ran.code, 2, "{output}");
        assert!(ran.err.contains("never overwritten"), "{}", ran.err);
    }
}

#[test]
fn shipped_profiles_are_refused_with_the_way_out() {
    let bench = bench_with("key-sled");
    bench.write("r.toml", dated(SLED_READINGS));
    let ran = bench.run(&["machine", "measure", "key-sled", "--from", "r.toml"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err
            .contains("lapwright machine new --like key-sled -o my-key-sled.toml"),
        "{}",
        ran.err
    );
    bench.ok(&[
        "machine",
        "new",
        "--like",
        "key-sled",
        "-o",
        "my-key-sled.toml",
    ]);
    bench.ok(&["machine", "measure", "my-key-sled.toml", "--from", "r.toml"]);
}

#[test]
fn a_profile_behind_a_link_is_left_alone() {
    let bench = bench_with("key-sled");
    bench.write("r.toml", dated(SLED_READINGS));
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(bench.path("mine.toml"), bench.path("link.toml")).unwrap();
        let before = bench.contents();
        let ran = bench.run(&["machine", "measure", "link.toml", "--from", "r.toml"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("this is a link"), "{}", ran.err);
        assert_eq!(bench.contents(), before);
    }
}

#[test]
fn readings_in_a_spreadsheet_say_the_same() {
    let csv = "\
date,2026-11-30,,
unit,mm
resolution,0.01
# kerf
grooves.across,52.63,48.22,55.07,50.91,47.39
grooves.between,47.42,42.98,49.85,45.67,42.18,,
slot.1.slot,23
slot.1.steps,6
slot.1.across,140.81,140.79,\"140.84\"
slot.1.between,135.58 mm,135.57,135.60
slot.2.slot,46
slot.2.steps,3
slot.2.across,140.75,140.70,140.72
slot.2.between,135.52,135.49,135.51
stop.set,60
stop.readings,60.04,60.11,59.98,60.07,60.02
lap.correction,0
lap.depth,12.02,12.01,12.02
lap.first,5.92,5.95,5.90
lap.second,5.93,5.94,5.92
";
    let [toml, sheet] =
        [("r.toml", dated(SLED_READINGS)), ("r.csv", csv.to_owned())].map(|(name, text)| {
            let bench = bench_with("key-sled");
            bench.write(name, text);
            bench.ok(&["machine", "measure", "mine.toml", "--from", name]);
            bench.read("mine.toml")
        });
    assert_eq!(toml, sheet);
}

/// Every command that reckons with a measured figure says so with its date.
#[test]
fn sheets_say_what_was_measured_and_when() {
    let bench = bench_with("key-sled");
    bench.write("job.toml", JOB.replace("\"key-sled\"", "\"mine.toml\""));
    let line = "kerf 2.612 mm, measured 2026-11-30 from 5 readings, +-";
    assert!(
        !bench
            .ok(&["sled", "job.toml"])
            .out
            .contains("measured 2026")
    );
    bench.write("r.toml", dated(SLED_READINGS));
    bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
    assert!(bench.ok(&["sled", "job.toml"]).out.contains(line));
    let told = bench.ok(&["sled", "job.toml", "--format", "json"]).json();
    let notes = told["measured_figures"].as_array().unwrap();
    assert!(
        notes
            .iter()
            .any(|note| note["field"] == "blade.kerf" && note["value_mm"] == 2.612)
    );
    assert!(
        bench
            .ok(&["show", "job.toml"])
            .out
            .contains("measured 2026-11-30")
    );
    bench.ok(&["build", "job.toml", "-o", "out"]);
    assert!(bench.read("out/sled.txt").contains(line));
    bench.ok(&["sheet", "job.toml", "-o", "sheet.html"]);
    let page = bench.read("sheet.html");
    assert!(
        page.contains("Machine as measured") && page.contains("measured 2026-11-30 from"),
        "no line on the page"
    );
    // A figure that is changed by hand is no longer the one that was measured.
    let edited = bench
        .read("mine.toml")
        .replacen("kerf = \"2.612 mm\"", "kerf = \"2.7 mm\"", 1);
    bench.write("mine.toml", edited);
    let ran = bench.run(&["sled", "job.toml"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("not-as-measured") && ran.err.contains("take the record out"),
        "{}",
        ran.err
    );
}

#[test]
fn other_machines_say_it_too() {
    let bench = bench_with("small-router");
    bench.write(
        "laser.toml",
        lapwright::reading::shipped_machine("tube-laser")
            .unwrap()
            .text,
    );
    bench.write("r.toml", dated("[cutter]\nreadings = [2.02, 2.01, 2.02]\n"));
    bench.write(
        "l.toml",
        dated("[comb]\ncuts = 10\ngap = [1.7, 1.62, 1.66]\n"),
    );
    bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
    bench.ok(&["machine", "measure", "laser.toml", "--from", "l.toml"]);
    bench.write(
        "job.toml",
        JOB.replace("\"small-router\"", "\"mine.toml\"")
            .replace("\"tube-laser\"", "\"laser.toml\""),
    );
    bench.ok(&["build", "job.toml", "-o", "out"]);
    assert!(
        bench
            .read("out/router.txt")
            .contains("cutter over its edges 2.017 mm, measured 2026-11-30 from 3 readings")
    );
    assert!(
        bench
            .read("out/laser.txt")
            .contains("kerf 0.166 mm, measured 2026-11-30 from 3 readings")
    );
    let permissions = fs::metadata(bench.path("mine.toml")).unwrap().permissions();
    assert!(!permissions.readonly());
}

#[test]
fn plus_minus_is_written_as_the_profile_reads_it() {
    // s of 60.04, 60.11, 59.98, 60.07, 60.02 is 0.049295.
    for (word, wanted) in [("", "0.15 mm"), ("twice", "0.099 mm"), ("once", "0.049 mm")] {
        let bench = bench_with("stop-sled");
        if !word.is_empty() {
            let text = bench.read("mine.toml");
            bench.write(
                "mine.toml",
                format!("{text}\n[spread]\nplus_minus = \"{word}\"\n"),
            );
        }
        bench.write(
            "r.toml",
            dated("[stop]\nset = 60\nreadings = [60.04, 60.11, 59.98, 60.07, 60.02]\n"),
        );
        bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
        let line = format!("repeatability = \"{wanted}\"");
        assert!(
            bench.read("mine.toml").contains(&line),
            "{word}: {}",
            bench.read("mine.toml")
        );
    }
}
