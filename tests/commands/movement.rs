//! `movement` as a person or a script uses it.

use crate::support::cli::{Bench, JOB, with_line};

fn job(more: &str) -> String {
    let job = with_line(JOB, "wood", "wood = \"basswood\"");
    format!("{job}\n{more}")
}

#[test]
fn one_screen_and_the_same_in_json() {
    let bench = Bench::new();
    bench.write(
        "job.toml",
        job("[climate]\nbench_moisture = \"8 %\"\nrings = \"along-thickness\"\n"),
    );
    let told = bench.ok(&["movement", "job.toml"]).out;
    assert!(told.lines().count() <= 30, "{told}");
    assert!(told.contains("8.0 % of moisture in the wood"), "{told}");
    assert!(
        told.contains("30 % relative humidity (an example)"),
        "{told}"
    );
    let inches = bench.ok(&["movement", "job.toml", "--units", "in"]).out;
    assert!(
        inches.contains(" in ") && !inches.contains(" mm"),
        "{inches}"
    );
    let answer = bench
        .ok(&["movement", "job.toml", "--format", "json"])
        .json();
    assert_eq!(answer["schema"], "lapwright/movement/1");
    assert_eq!(answer["bench"]["moisture_percent"], 8.0);
    assert!(!answer["safety"].as_array().unwrap().is_empty());
    let changes = |season: usize| answer["seasons"][season]["thickness_change_mm"].clone();
    // Drier than the bench at the driest, damper at the dampest, and the rings are known.
    assert!(changes(0)[0].as_f64().unwrap() < 0.0 && changes(0)[0] == changes(0)[1]);
    assert!(changes(1)[0].as_f64().unwrap() > 0.0);
}

fn refused(bench: &Bench) -> String {
    let ran = bench.run(&["movement", "job.toml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.err);
    ran.err
}

#[test]
fn what_is_wrong_is_told_at_its_place() {
    let bench = Bench::new();
    for (climate, code, field) in [
        ("bench = \"3 %\"", "out-of-range", "climate.bench"),
        ("bench = \"45\"", "quantity", "climate.bench"),
        ("driest = \"70 %\"", "wrong-order", "climate.driest"),
        (
            "bench = \"45 %\"\nbench_moisture = \"9 %\"",
            "both-given",
            "climate.bench_moisture",
        ),
        ("radial = \"0.1 %\"", "missing", "climate.tangential"),
        ("rings = \"quartered\"", "unknown-word", "climate.rings"),
        ("humidity = \"45 %\"", "unknown-key", "climate.humidity"),
    ] {
        bench.write("job.toml", job(&format!("[climate]\n{climate}\n")));
        let wrong = refused(&bench);
        assert!(
            wrong.contains(&format!("error[{code}]: {field}")),
            "{climate}: {wrong}"
        );
    }
    bench.write("job.toml", with_line(JOB, "wood", "wood = \"ash\""));
    let unknown = refused(&bench);
    assert!(
        unknown.contains("[movement-unknown]: strip.wood") && unknown.contains("radial"),
        "{unknown}"
    );
    assert!(!unknown.contains("white ash"), "{unknown}");
}
