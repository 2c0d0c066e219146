//! Readings that cannot be right: all problems at once, at their lines, and nothing is written.

use super::{SLED_READINGS, bench_with, dated};

/// What is wrong with a file of readings for a key sled, and what is said of it.
const BAD: &[(&str, &[&str])] = &[
    ("[grooves]\nacross = []\nbetween = []\n", &["nothing-read"]),
    (
        "[grooves]\nacross = [52.63]\nbetween = [47.42]\n",
        &["one-reading", "it lacks a second"],
    ),
    (
        "[grooves]\nacross = [52.63, 48.22]\nbetween = [47.42]\n",
        &["lists-differ", "across has 2, between has 1"],
    ),
    (
        "[grooves]\nacross = [52.63, 48.22]\n",
        &["missing", "`between` has no reading"],
    ),
    (
        "[grooves]\nacross = [52.63, -48.22]\nbetween = [47.42, 42.98]\n",
        &["quantity", "r.toml:5:18"],
    ),
    (
        "[grooves]\nacross = [52.63, 0]\nbetween = [47.42, 42.98]\n",
        &["not-positive", "r.toml:5:18"],
    ),
    (
        "[grooves]\nacross = [47.42, 42.98]\nbetween = [52.63, 48.22]\n",
        &["not-positive", "check which list is which"],
    ),
    (
        "[grooves]\nacross = [72.63, 68.22]\nbetween = [47.42, 42.98]\n",
        &["too-far", "the profile says 2.60 mm"],
    ),
    (
        "[grooves]\nacross = [\"52.63\", 48.22]\nbetween = [47.42, 42.98]\n",
        &["quantity"],
    ),
    (
        "[grooves]\nacross = [\"52.63 kg\", 48.22]\nbetween = [47.42, 42.98]\n",
        &["quantity"],
    ),
    (
        "[grooves]\nacross = [true, 48.22]\nbetween = [47.42, 42.98]\n",
        &["wrong-type"],
    ),
    (
        "[grooves]\nacross = [52.63, 48.22]\nbetwen = [47.42, 42.98]\n",
        &["unknown-key", "known here: across, between"],
    ),
    (
        "[groove]\nreadings = [2.6, 2.61]\n",
        &["unknown-table", "what is: grooves"],
    ),
    (
        "[comb]\ncuts = 10\ngap = [1.2, 1.3]\n",
        &["unknown-table", "not measured on this sled"],
    ),
    (
        "[[grooves]]\nacross = [52.63, 48.22]\nbetween = [47.42, 42.98]\n",
        &["wrong-type", "single brackets"],
    ),
    (
        "[[slot]]\nslot = 24\nsteps = 6\nacross = [140.81, 140.79]\nbetween = [135.58, 135.57]\n",
        &["no-such-slot", "23.00 mm, 31.00 mm"],
    ),
    (
        "[[slot]]\nslot = 23\nsteps = 0\nacross = [140.81, 140.79]\nbetween = [135.58, 135.57]\n",
        &["count-out-of-range"],
    ),
    (
        "[[slot]]\nslot = 23\nacross = [140.81, 140.79]\nbetween = [135.58, 135.57]\n",
        &["missing", "`steps` is missing"],
    ),
    (
        "[[slot]]\nslot = 23\nsteps = 5\nacross = [140.81, 140.79]\nbetween = [135.58, 135.57]\n",
        &["lists-differ", "with these figures"],
    ),
    (
        "[[slot]]\nslot = 23\nsteps = 6\nacross = [140.81, 140.79]\nbetween = [135.58, 135.57]\n[[slot]]\nslot = 23\nsteps = 6\nacross = [140.8, 140.7]\nbetween = [135.5, 135.6]\n",
        &["measured-twice"],
    ),
    (
        "[stop]\nset = \"\"\nreadings = [60.0, 60.1]\n",
        &["missing", "`set` is missing"],
    ),
    (
        "kerf = 2.6\n[stop]\nset = 60\nreadings = [60.0, 60.1]\n",
        &["unknown-key", "at the top"],
    ),
    ("[stop]\nset = 60\nreadings = [60.0, 60.1\n", &["syntax"]),
];

#[test]
fn readings_that_cannot_be_right_are_refused_at_their_lines() {
    let bench = bench_with("key-sled");
    for (readings, said) in BAD {
        bench.write("r.toml", dated(readings));
        let before = bench.contents();
        let ran = bench.run(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
        assert_eq!(ran.code, 2, "{readings}:\n{}", ran.out);
        for part in *said {
            assert!(ran.err.contains(part), "{readings}: {part}\n{}", ran.err);
        }
        assert_eq!(bench.contents(), before, "{readings}");
    }
}

#[test]
fn what_stands_at_the_top_is_read_as_closely() {
    let bench = bench_with("key-sled");
    let readings = "[stop]\nset = \"60 mm\"\nreadings = [\"60.00 mm\", \"60.00 mm\"]\n";
    for (top, said) in [
        ("", "no-deviation"),
        ("resolution = \"0 mm\"\n", "not-positive"),
        ("resolution = 0.01\n", "bare-number"),
        ("unit = \"cm\"\n", "one of: mm, in"),
        ("date = 2026-02-30\n", "syntax"),
        ("date = \"2026-02-30\"\n", "no day of the calendar"),
        ("date = 2026-11-30T07:00:00\n", "no day of the calendar"),
    ] {
        bench.write("r.toml", format!("{top}{readings}"));
        let ran = bench.run(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
        assert_eq!(ran.code, 2, "{top}");
        assert!(ran.err.contains(said), "{top}: {}", ran.err);
    }
    let ran = bench.run(&[
        "machine",
        "measure",
        "mine.toml",
        "--from",
        "r.toml",
        "--date",
        "30.11.2026",
    ]);
    assert!(ran.code == 2 && ran.err.contains("--date"), "{}", ran.err);
    let ran = bench.run(&["machine", "measure", "mine.toml", "--from", "r.txt"]);
    assert!(
        ran.code == 2 && ran.err.contains(".toml or .csv"),
        "{}",
        ran.err
    );
}

#[test]
fn all_problems_are_told_at_once() {
    let bench = bench_with("key-sled");
    let readings = SLED_READINGS
        .replace("52.63", "\"52.63 kg\"")
        .replace("steps = 6", "steps = 0")
        .replace("set = 60", "set = -60");
    bench.write("r.toml", dated(&readings));
    let ran = bench.run(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
    assert_eq!(ran.code, 2);
    for part in ["grooves.across[0]", "slot[0].steps", "stop.set"] {
        assert!(ran.err.contains(part), "{part}: {}", ran.err);
    }
}

#[test]
fn lines_of_a_spreadsheet_are_named_too() {
    let bench = bench_with("key-sled");
    for (csv, said) in [
        (
            "unit,mm\ngrooves.across,52.63,,48.22\ngrooves.between,47.4,42.9,44\n",
            "r.csv:2",
        ),
        ("unit,mm\n,5\n", "no-key"),
        ("unit,mm\nslot.x.steps,5\n", "no-key"),
        ("unit,mm\nstop.set,60\nstop.set,61\n", "twice"),
        ("stop.set,60\nstop.readings,60,61\n", "bare-number"),
    ] {
        bench.write("r.csv", csv);
        let ran = bench.run(&["machine", "measure", "mine.toml", "--from", "r.csv"]);
        assert_eq!(ran.code, 2, "{csv}");
        assert!(ran.err.contains(said), "{csv}: {}", ran.err);
    }
}

/// An outlier is named and counts.
#[test]
fn outliers_are_pointed_out_and_stay() {
    let bench = bench_with("stop-sled");
    bench.write(
        "r.toml",
        dated("[strip]\nreadings = [3.01, 3.00, 3.02, 3.01, 3.00, 3.45, 3.01]\n"),
    );
    let ran = bench.ok(&[
        "machine",
        "measure",
        "mine.toml",
        "--from",
        "r.toml",
        "--format",
        "json",
    ]);
    assert!(
        ran.err.contains("outlier") && ran.err.contains("r.toml:5:"),
        "{}",
        ran.err
    );
    let told = ran.json();
    assert_eq!(told["warnings"][0]["code"], "outlier");
    assert_eq!(told["told"][0]["readings"], 7);
    let mean = told["told"][0]["value"].as_f64().unwrap();
    assert!((mean - 21.5 / 7.0).abs() < 1e-9, "{mean}");
}

/// Of three readings of which two are alike Grubbs' test names the third, whatever it is: a last digit is
/// no outlier.
#[test]
fn a_last_digit_is_no_outlier() {
    let bench = bench_with("small-router");
    bench.write(
        "r.toml",
        dated("[cutter]\nreadings = [2.02, 2.01, 2.02, 2.02]\n"),
    );
    let ran = bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
    assert_eq!(ran.err, "");
    bench.write(
        "r.toml",
        dated("[cutter]\nreadings = [2.02, 2.1, 2.02, 2.02]\n"),
    );
    let ran = bench.ok(&["machine", "measure", "mine.toml", "--from", "r.toml"]);
    assert!(ran.err.contains("outlier"), "{}", ran.err);
}
