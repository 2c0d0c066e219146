//! The command as a person or a script uses it.

use crate::support::cli::{Bench, JOB};

const FIT: [&str; 4] = ["fit", "job.toml", "--draws", "500"];

#[test]
fn each_way_that_a_job_names_fits_a_screen() {
    let bench = Bench::with_job();
    for way in ["sled", "router", "laser"] {
        let ran = bench.run(&[&FIT[..], &["--way", way]].concat());
        assert!(ran.code < 2, "{}", ran.err);
        assert!(
            ran.out.contains(&format!("{}, ", way.to_uppercase())),
            "{}",
            ran.out
        );
        assert!(
            ran.out.contains("assumed") && ran.out.contains("Wilson"),
            "{}",
            ran.out
        );
        assert!(ran.out.lines().count() <= 32, "{}", ran.out);
        assert!(
            ran.out.lines().all(|line| line.chars().count() <= 100),
            "{}",
            ran.out
        );
    }
    let all = bench.run(&FIT);
    assert!(
        ["SLED", "ROUTER", "LASER"]
            .iter()
            .all(|way| all.out.contains(way))
    );
}

#[test]
fn the_same_seed_gives_the_same_answer() {
    let bench = Bench::with_job();
    let ask = |seed: &str| {
        bench
            .run(&[&FIT[..], &["--seed", seed, "--format", "json"]].concat())
            .out
    };
    assert_eq!(ask("3"), ask("3"));
    assert_ne!(ask("3"), ask("4"));
}

#[test]
fn json_has_what_programs_rely_on() {
    let bench = Bench::with_job();
    let ran = bench.run(&[&FIT[..], &["--way", "sled", "--format", "json"]].concat());
    let answer = ran.json();
    assert_eq!(answer["schema"], "lapwright/fit/1");
    assert!(!answer["safety"].as_array().unwrap().is_empty());
    let way = &answer["ways"][0];
    assert_eq!(way["way"], "sled");
    // 5 uprights with 6 notches, 6 cross strips with 5.
    assert_eq!(way["joints"].as_array().unwrap().len(), 60);
    assert_eq!(way["bays"].as_array().unwrap().len(), 20);
    let joint = &way["joints"][0];
    for key in ["family", "strip", "notch", "clearance_mm", "bind_chance"] {
        assert!(!joint[key].is_null(), "{key}");
    }
    for key in ["margin_mm", "chance", "chance_within"] {
        assert!(!way["closes"][key].is_null(), "{key}");
    }
    for key in ["size_mm", "diagonal_difference_mm", "rack_deg"] {
        assert!(!way["panel"][key].is_null(), "{key}");
    }
    let spreads = way["spreads"].as_array().unwrap();
    assert!(
        spreads
            .iter()
            .any(|one| one["field"] == "stop.repeatability" && one["from"] == "profile")
    );
    assert!(
        spreads
            .iter()
            .any(|one| one["field"] == "spread.kerf" && one["from"] == "assumed")
    );
    let bay = &way["bays"][0];
    assert!((bay["drawn_mm"][0].as_f64().unwrap() - 37.0).abs() < 1e-9);
}

#[test]
fn of_a_slanted_grid_it_says_what_is_not_predicted() {
    let bench = Bench::new();
    bench.write(
        "job.toml",
        "title = \"slanted\"\n[grid]\nkind = \"diamond\"\npitch = \"40 mm\"\nangle = \"60 deg\"\noverhang = \"20 mm\"\n\
         region = \"rectangle\"\nwidth = \"200 mm\"\nheight = \"240 mm\"\n[strip]\nthickness = \"3 mm\"\n\
         depth = \"12 mm\"\nclearance = \"0.05 mm\"\n[machines]\nlaser = \"tube-laser\"\n",
    );
    let ran = bench.ok(&[&FIT[..], &["--format", "json"]].concat());
    let way = &ran.json()["ways"][0];
    assert!(way["closes"].is_null() && way["ok"] == true);
    assert!(!way["joints"].as_array().unwrap().is_empty());
    assert!(!way["bays"].as_array().unwrap().is_empty());
    let left_out = way["not_predicted"].to_string();
    assert!(
        left_out.contains("whether a slanted grid goes together"),
        "{left_out}"
    );
    assert!(bench.ok(&FIT).out.contains("closing is not predicted"));
}

#[test]
fn a_job_without_a_machine_for_strips_is_wrong_input() {
    let bench = Bench::new();
    let (job, _) = JOB.split_once("[machines]").unwrap();
    bench.write("job.toml", job);
    assert_eq!(bench.run(&FIT).code, 2);
    bench.write(
        "job.toml",
        format!("{job}[machines]\nguides = \"paring-guides\"\n"),
    );
    let ran = bench.run(&FIT);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("notches strips"), "{}", ran.err);
}
