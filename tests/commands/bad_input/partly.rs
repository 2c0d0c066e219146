//! A machine that cannot do a job does not take the others down.

use crate::support::cli::{Bench, JOB, Ran, shipped, with_line};
use float_cmp::approx_eq;
use serde_json::Value;

/// Neither the sled holds the strips nor the router reaches along them; the laser can.
fn bench() -> Bench {
    let bench = Bench::new();
    let sled = with_line(
        &shipped("key-sled"),
        "longest_strip",
        "longest_strip = \"100 mm\"",
    );
    let router = with_line(&shipped("small-router"), "x", "x = \"60 mm\"");
    bench.write("sled.toml", sled);
    bench.write("router.toml", router);
    let job = with_line(JOB, "sled", "sled = \"sled.toml\"");
    bench.write(
        "job.toml",
        with_line(&job, "router", "router = \"router.toml\""),
    );
    bench
}

fn says(ran: &Ran, all: &[&str]) {
    for said in all {
        assert!(ran.err.contains(said), "{said}:\n{}", ran.err);
    }
}

fn manifest(bench: &Bench) -> Value {
    serde_json::from_str(&bench.read("out/manifest.json")).unwrap()
}

/// Texts are broken into lines.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

const LAST: &str =
    "not made: sled settings (sled.toml), notching programs (router.toml); all else is written\n";

#[test]
fn two_machines_cannot_and_one_can() {
    let bench = bench();
    let ran = bench.run(&["build", "job.toml", "-o", "out"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    says(
        &ran,
        &[
            "error[strip-too-long]: sled.longest_strip: no sled settings: strips 230.00 mm long",
            "sled.toml:",
            "error[travel-too-short]: travel.x: no notching programs: the tool would go",
            "router.toml:",
            "2 of this kind",
            "bundle 1; bundle 2",
            LAST,
        ],
    );
    assert!(ran.out.contains("strips.dxf") && ran.out.contains("set-up.pdf"));
    for file in [
        "strips.dxf",
        "laser.json",
        "panel.svg",
        "gauge.dxf",
        "set-up.pdf",
    ] {
        assert!(bench.path(&format!("out/{file}")).is_file(), "{file}");
    }
    for file in ["sled.json", "router.json", "notches-1.nc", "notches-2.nc"] {
        assert!(!bench.path(&format!("out/{file}")).exists(), "{file}");
    }
    // The machines' own sheets say so, with their cautions; the laser's says nothing of it.
    for (file, why) in [
        ("sled", "No sled settings: strips 230.00 mm long"),
        ("router", "No notching programs: the tool would go"),
    ] {
        let text = squeezed(&bench.read(&format!("out/{file}.txt")));
        for said in ["SAFETY FIRST", "NOT MADE", why] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }
    assert!(!bench.read("out/laser.txt").contains("NOT MADE"));
    let missing = &manifest(&bench)["missing"];
    let told: Vec<_> = missing.as_array().unwrap().iter().collect();
    assert_eq!(told.len(), 2, "{missing}");
    assert_eq!(told[0]["part"], "sled");
    assert_eq!(told[1]["machine"], "router.toml");
    assert_eq!(told[1]["why"][0]["code"], "travel-too-short");
    assert_eq!(told[1]["why"][0]["count"], 2);
    assert_eq!(told[1]["why"][0]["places"][1]["bundle"], 2);

    let page = bench.read("out/set-up.html");
    for format in ["text", "json"] {
        let args = ["sheet", "job.toml", "-o", "s.html", "--format", format];
        let ran = bench.run(&args);
        assert_eq!(ran.code, 1, "{}", ran.err);
        says(&ran, &[LAST]);
        assert_eq!(bench.read("s.html"), page);
        if format == "json" {
            assert_eq!(ran.json()["missing"], *missing);
        }
    }
    let part = page.split("aria-labelledby=\"missing\"").nth(1).unwrap();
    let part = part.split("</section>").next().unwrap();
    for said in [
        "Not made",
        "Safety first",
        "No sled settings (sled.toml)",
        "No notching programs (router.toml)",
        "230.00 mm",
    ] {
        assert!(part.contains(said), "{said}: {part}");
    }
    assert!(page.find("id=\"missing\"") < page.find("id=\"laser\""));
}

#[test]
fn a_command_for_one_machine_is_refused_as_before() {
    let bench = bench();
    let before = bench.contents();
    for args in [
        &["sled", "job.toml"][..],
        &["notch", "job.toml", "-o", "a.nc"],
    ] {
        let ran = bench.run(args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.err);
        assert!(!ran.err.contains("not made"), "{}", ran.err);
    }
    assert!(bench.contents() == before);
}

#[test]
fn where_no_machine_can_or_an_input_is_wrong_nothing_is_written() {
    let bench = bench();
    let job = bench.read("job.toml");
    let cases = [
        ("no machine", with_line(&job, "laser", ""), "strip-too-long"),
        (
            "the design",
            with_line(&job, "thickness", "thickness = \"60 mm\""),
            "job.toml",
        ),
        (
            "a profile",
            with_line(&job, "laser", "laser = \"bad.toml\""),
            "bad.toml",
        ),
        (
            "a pattern",
            job.replace(
                "[machines]",
                "[infill]\npattern = \"no.toml\"\n\n[machines]",
            ),
            "no.toml",
        ),
        (
            "a frame",
            job.clone() + "\n[frame]\nthickness = \"20 mm\"\nmortise_depth = \"60 mm\"\n",
            "overhang-too-short",
        ),
    ];
    bench.write(
        "bad.toml",
        with_line(&shipped("tube-laser"), "kerf", "kerf = 3"),
    );
    for (what, job, said) in cases {
        bench.write("job.toml", job);
        let before = bench.contents();
        for args in [
            ["build", "job.toml", "-o", "out"],
            ["sheet", "job.toml", "-o", "s.pdf"],
        ] {
            let ran = bench.run(&args);
            assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{what}: {}", ran.err);
            says(&ran, &[said]);
            assert!(bench.contents() == before, "{what}");
        }
    }
}

/// By hand: a stop that reaches to 40 mm, no spacers, no key: of notches at 15, 55, 95, 135, 175 (and
/// 215) mm less half a kerf of 2.8 mm the first alone is within reach.
#[test]
fn what_repeats_is_told_once() {
    let bench = Bench::with_job();
    let whole = with_line(&shipped("key-sled"), "farthest", "farthest = \"40 mm\"");
    let bare = whole.split("[spacers]").next().unwrap();
    bench.write("bare.toml", bare);
    let job = with_line(JOB, "sled", "sled = \"bare.toml\"");
    bench.write("job.toml", job);
    let ran = bench.run(&["sled", "job.toml"]);
    assert_eq!(ran.code, 2);
    assert_eq!(
        ran.err.matches("stop-out-of-reach").count(),
        1,
        "{}",
        ran.err
    );
    let (four, five) = (("2-5", 173.7), ("2-6", 213.7));
    says(
        &ran,
        &[
            "needs the stop's face",
            &format!(
                "9 of this kind, 53.70 mm to {:.2} mm, this the worst",
                five.1
            ),
            "bundle 1 notches 2-",
            "bundle 2 notches 2-",
        ],
    );
    assert!(
        ran.err.contains(four.0) && ran.err.contains(five.0),
        "{}",
        ran.err
    );
    bench.run(&["build", "job.toml", "-o", "out"]);
    let why = &manifest(&bench)["missing"][0]["why"];
    assert_eq!(why.as_array().unwrap().len(), 1, "{why}");
    assert_eq!(why[0]["count"], 9);
    let range: Vec<f64> = serde_json::from_value(why[0]["range_mm"].clone()).unwrap();
    assert!(
        approx_eq!(f64, range[0], 53.7, epsilon = 1e-9)
            && approx_eq!(f64, range[1], five.1, epsilon = 1e-9)
    );
    let counts: Vec<usize> = (0..2)
        .map(|at| why[0]["places"][at]["notches"].as_array().unwrap().len())
        .collect();
    assert_eq!(counts.iter().sum::<usize>(), 9);
}

/// A laser that holds the blocks and not the strips, pieces that are no longer than a cell.
#[test]
fn a_laser_makes_what_its_bed_holds() {
    let bench = Bench::new();
    let laser = with_line(&shipped("tube-laser"), "length", "length = \"150 mm\"");
    bench.write("laser.toml", laser);
    let job = with_line(JOB, "laser", "laser = \"laser.toml\"");
    let infill = "[infill]\npattern = \"square-hemp-leaf\"\n\n[machines]";
    bench.write("job.toml", job.replace("[machines]", infill));
    let ran = bench.run(&["build", "job.toml", "-o", "out"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    says(&ran, &["no outlines of strips: ", "does-not-fit-sheet"]);
    assert!(
        bench.path("out/guide-blocks.dxf").is_file() && bench.path("out/notches-1.nc").is_file()
    );
    assert!(!bench.path("out/strips.dxf").exists() && !bench.path("out/laser.json").exists());
    let text = bench.read("out/laser.txt");
    assert!(
        squeezed(&text).contains("No outlines of strips: "),
        "{text}"
    );
    // What it cannot cut at all.
    bench.write(
        "laser.toml",
        bench.read("laser.toml").replace("150 mm", "30 mm"),
    );
    let ran = bench.run(&["build", "job.toml", "-o", "small"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    says(&ran, &["no guide blocks: ", "(laser.toml)"]);
}

/// Rails within and without the router's reach.
#[test]
fn rails_that_the_router_does_not_reach_are_missing() {
    let bench = Bench::with_job();
    let frame = "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"6 mm\"\n\n[machines]";
    bench.write("job.toml", JOB.replace("[machines]", frame));
    bench.ok(&["build", "job.toml", "-o", "all"]);
    // The outermost strips lie at the corners and have no mortises: the last one of a stile is 160 mm
    // from the first strip, of the other rails 120 mm; zero is 15 mm from the low end. Strips go over
    // the key.
    let router = with_line(&shipped("small-router"), "x", "x = \"150 mm\"");
    let router = router.replace("# key_", "key_");
    bench.write("router.toml", router);
    let job = bench.read("job.toml");
    bench.write(
        "job.toml",
        with_line(&job, "router", "router = \"router.toml\""),
    );
    let ran = bench.run(&["build", "job.toml", "-o", "out"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    says(&ran, &["no program for the ", "travel.x"]);
    assert!(bench.path("out/rails-1.nc").is_file() || bench.path("out/rails.nc").is_file());
    let text = squeezed(&bench.read("out/rails.txt"));
    assert!(text.contains("NOT MADE No program for the "), "{text}");
    let json: Value = serde_json::from_str(&bench.read("out/rails.json")).unwrap();
    assert!(!json["without_program"].as_array().unwrap().is_empty());
    assert_eq!(manifest(&bench)["missing"][0]["part"], "rails");
}
