//! The commands, and ways of cutting.

use super::{case, long_cutter, plan, programs, square, texts};
use crate::support::cli;

/// A job that asks for rows on a router.
fn bench(more: &str) -> cli::Bench {
    let bench = cli::Bench::new();
    let job = format!(
        "title = \"rows\"\n[grid]\n{}\n[strip]\nthickness = \"2.6 mm\"\ndepth = \"9 mm\"\n[infill]\npattern = \"square-hemp-leaf\"\nway = \"routed-rows\"\n[machines]\n{more}",
        square(37.3, 2)
    );
    bench.write("job.toml", job);
    bench
}

#[test]
fn programs_are_written_proved_and_found_again() {
    let bench = bench("router = \"small-router\"\n");
    let ran = bench.ok(&["pare", "job.toml", "-o", "pieces.nc"]);
    let skin = ran.out.find("A bare skin does not count as held").unwrap();
    assert!(skin < ran.out.find("ROW: 2 HINGE").unwrap());
    let names = ["diagonal", "hinge", "lock"];
    for (number, name) in (1..).zip(names) {
        let file = format!("pieces-{number}.nc");
        let proof = bench.ok(&["prove", &file, "job.toml"]);
        let told = format!(
            "RIGHT AGAINST PIECE {number} OF THE JOB, {}",
            name.to_uppercase()
        );
        assert!(proof.out.contains(&told), "{}", proof.out);
    }
    // One mitre a little off is still known as that piece's.
    let whole = bench.read("pieces-2.nc");
    let at = whole.rfind("G1 X").unwrap() + 4;
    let end = at + whole[at..].find(' ').unwrap();
    let moved = whole[at..end].parse::<f64>().unwrap() + 0.03;
    bench.write(
        "bad.nc",
        format!("{}{moved:.3}{}", &whole[..at], &whole[end..]),
    );
    let ran = bench.run(&["prove", "bad.nc", "job.toml"]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.out.contains("NOT RIGHT AGAINST PIECE 2 OF THE JOB"),
        "{}",
        ran.out
    );
    // A program for notches is still known as one.
    bench.ok(&["notch", "job.toml", "-o", "n.nc"]);
    let proof = bench.ok(&["prove", "n.nc", "job.toml"]);
    assert!(
        proof.out.contains("RIGHT AGAINST BUNDLE 1"),
        "{}",
        proof.out
    );
    let answer = bench.ok(&["pare", "job.toml", "--format", "json"]).json();
    let rows = answer["routed"]["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    assert_eq!(
        rows[0]["pieces"].as_array().unwrap().len(),
        rows[0]["pieces_a_stick"]
    );
    assert!(answer["safety"][0].as_str().unwrap().contains("bare skin"));
}

#[test]
fn a_job_is_built_with_its_rows() {
    let bench = bench("router = \"small-router\"\n");
    bench.ok(&["build", "job.toml", "-o", "made"]);
    for name in ["pieces-1.nc", "pieces-3.nc", "mitres.txt", "mitres.json"] {
        assert!(bench.path("made").join(name).exists(), "{name}");
    }
    let sheet = std::fs::read_to_string(bench.path("made").join("set-up.html")).unwrap();
    assert!(sheet.contains("A bare skin does not count as held"));
}

#[test]
fn what_is_missing_is_said() {
    let none = bench("");
    let ran = none.run(&["pare", "job.toml", "-o", "pieces.nc"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("no router is named"), "{}", ran.err);
    let job = bench("router = \"small-router\"\n");
    let ran = job.run(&["pare", "job.toml", "--way", "guides", "-o", "pieces.nc"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("--way routed-rows"), "{}", ran.err);
    assert!(!job.path("pieces.nc").exists());
}

/// Every program is proved before anybody gets it, so that it is enough to ask for them.
#[test]
fn ways_of_cutting_and_controllers() {
    let leaf = case("square-hemp-leaf", &square(37.3, 2), [2.6, 9.0]);
    let crossed = case("crossed-diagonals", &square(37.3, 2), [3.4, 9.0]);
    for (old, new) in [
        ("[cutting]", "[cutting]\nreturns = \"in-air\""),
        ("[cutting]", "[cutting]\nspring_pass = true"),
        ("[cutting]", "[cutting]\nshort_ways = false"),
        ("[cutting]", "[cutting]\nchip_thinning = true"),
        ("[cutting]", "[cutting]\nfloor_allowance = \"0.3 mm\""),
        ("[controller]", "[controller]\npath_mode = \"exact-path\""),
        ("[controller]", "[controller]\npath_mode = \"continuous\""),
        (
            "[controller]",
            "[controller]\nline_numbers = true\npercent_signs = true",
        ),
        ("[fixture]", "[fixture]\nsingle = true"),
        ("widest_bundle = \"60 mm\"", "widest_bundle = \"12 mm\""),
        ("diameter = \"2.000 mm\"", "diameter = \"1.000 mm\""),
        ("decimals = 3", "decimals = 4"),
    ] {
        let router = long_cutter(&[(old, new)]);
        for case in [&leaf, &crossed] {
            let made = programs(case, &router);
            assert!(made.unmade.is_empty(), "{new}");
            let yielded = plan(&made).rows.iter();
            for row in yielded {
                assert!(row.pieces.len() * row.sticks() >= row.wanted, "{new}");
            }
        }
    }
    let wide = programs(
        &leaf,
        &long_cutter(&[("widest_bundle = \"60 mm\"", "widest_bundle = \"12 mm\"")]),
    );
    assert!(plan(&wide).rows.iter().all(|row| row.sticks_a_run <= 2));
    assert!(plan(&wide).rows.iter().any(|row| row.runs > 1));
}

#[test]
fn one_file_has_all_rows_and_runs() {
    let leaf = case("square-hemp-leaf", &square(37.3, 2), [2.6, 9.0]);
    let router = long_cutter(&[
        ("[controller]", "[controller]\nset_ups = \"one-file\""),
        ("widest_bundle = \"60 mm\"", "widest_bundle = \"12 mm\""),
    ]);
    let mut made = programs(&leaf, &router);
    let texts = texts(&mut made);
    assert_eq!(texts.len(), 1);
    let runs: usize = made.plan.rows.iter().map(|row| row.runs).sum();
    assert!(runs > 3);
    assert_eq!(texts[0].1.matches("\nM0\n").count(), runs - 1);
    let stops: Vec<_> = made
        .plan
        .rows
        .iter()
        .map(|row| row.after_stop.unwrap())
        .collect();
    assert_eq!(stops[0], 0);
    assert_eq!(stops[1], made.plan.rows[0].runs);
}
