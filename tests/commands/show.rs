//! `show` and `compare` as a person or a script uses them.

use crate::support::cli::{Bench, JOB, shipped, with_line};
use serde_json::json;

const PIECES: &str = "\n[infill]\npattern = \"square-hemp-leaf\"\n";

fn job() -> String {
    let job = with_line(JOB, "wood", "wood = \"basswood\"");
    format!("{job}guides = \"paring-guides\"\n{PIECES}")
}

#[test]
fn a_panel_fits_on_one_screen() {
    let bench = Bench::new();
    bench.write("job.toml", job());
    let piped = bench.ok(&["show", "job.toml"]);
    assert!(!piped.out.contains('┼'), "{}", piped.out);
    let vent = format!("{}/demo/wardrobe-vent.toml", env!("CARGO_MANIFEST_DIR"));
    let vent = bench.ok(&["show", &vent, "--units", "mm"]).out;
    let trim = "19.05 mm from the strip's end to the flush cut; from the last notch it differs\n";
    assert!(vent.contains(trim), "{vent}");
    for demo in [
        "attic-window",
        "tea-cabinet",
        "porch-window",
        "stair-window",
        "hall-screen",
        "wardrobe-vent",
    ] {
        let path = format!("{}/demo/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
        let shown = bench.ok(&["show", &path, "--picture"]).out;
        assert!(shown.lines().count() <= 40, "{shown}");
        assert!(
            shown.lines().all(|line| line.chars().count() <= 100),
            "{shown}"
        );
    }
    let shown = bench.ok(&["show", "job.toml", "--picture"]).out;
    for said in [
        "├─────┼─────┼─────┼─────┤",
        "│  A  │  A  │  A  │  A  │",
        "finished  163.00 mm wide, 203.00 mm high over the strips' ends, cut off flush",
        "13.50 mm from the strip's end to the flush cut, 1.50 mm from the last notch's middle",
        "5 uprights 230.00 mm (trimmed 203.00 mm); 6 cross strips 190.00 mm (trimmed 163.00 mm)",
        "cells     20: 20 square-hemp-leaf, 0 open",
        "30 laps at 30 nodes",
        "2.29 m of strips",
        "basswood, 414 kg/m3 at 12 % moisture\n          (secondary: ",
        "key-sled: ",
        "strips on 1 sheet of ",
        "560 facets pared on blocks of 22.5 deg, 45 deg, 67.5 deg",
    ] {
        assert!(shown.contains(said), "{said}:\n{shown}");
    }
    let inches = bench.ok(&["show", "job.toml", "--units", "in"]).out;
    assert!(
        inches.contains("ft of strips") && inches.contains(" lb "),
        "{inches}"
    );
}

#[test]
fn a_script_gets_what_the_screen_says() {
    let bench = Bench::new();
    bench.write("job.toml", job());
    let told = bench.ok(&["show", "job.toml", "--format", "json"]).json();
    assert_eq!(told["schema"], "lapwright/show/1");
    assert_eq!(told["finished_mm"], json!([163.0, 203.0]));
    assert_eq!(told["trim"]["from_end_mm"], json!(13.5));
    assert_eq!(told["trim"]["from_last_notch_mm"], json!(1.5));
    assert_eq!(told["strips"][0]["count"], json!(5));
    assert_eq!(told["joints"], json!(30));
    let pare = bench.ok(&["pare", "job.toml", "--format", "json"]).json();
    let lengths = |list: &serde_json::Value, length: &str, name: &str| -> Vec<_> {
        let list = list.as_array().unwrap().iter();
        list.map(|piece| {
            (
                piece[name].clone(),
                piece["count"].clone(),
                piece[length].clone(),
            )
        })
        .collect()
    };
    let shown = lengths(&told["pieces"], "length_mm", "kind");
    assert_eq!(
        shown,
        lengths(&pare["pieces"], "length_over_points_mm", "name")
    );
    let cells = told["cells"].as_array().unwrap();
    assert_eq!(cells.len(), 20);
    let last = &cells[19];
    assert_eq!([&last["row"], &last["column"]], [&json!(5), &json!(4)]);
    assert_eq!(last["pattern"], "square-hemp-leaf");
    let corners = json!([
        [135.0, 175.0],
        [175.0, 175.0],
        [175.0, 215.0],
        [135.0, 215.0]
    ]);
    assert_eq!(last["corners_mm"], corners);
    let machines = told["machines"].as_array().unwrap();
    let stations: Vec<_> = machines
        .iter()
        .map(|machine| machine["station"].clone())
        .collect();
    assert_eq!(stations, ["sled", "laser", "router", "guides"]);
}

#[test]
fn what_machines_would_do_is_what_they_do() {
    let bench = Bench::new();
    bench.write("job.toml", job());
    let told = bench.ok(&["show", "job.toml", "--format", "json"]).json();
    let work = |station: usize| told["machines"][station]["does"][0].clone();
    let sled = bench.ok(&["sled", "job.toml", "--format", "json"]).json();
    assert_eq!(
        work(0)["settings"],
        sled["settings"].as_array().unwrap().len()
    );
    let args = [
        "outline", "job.toml", "--what", "strips", "-o", "s.dxf", "--format", "json",
    ];
    let laser = bench.ok(&args).json();
    assert_eq!(work(1)["sheets"], laser["files"].as_array().unwrap().len());
    let router = bench
        .ok(&["notch", "job.toml", "-o", "s.nc", "--format", "json"])
        .json();
    assert_eq!(
        work(2)["set_ups"],
        router["setups"].as_array().unwrap().len()
    );
    assert_eq!(work(2)["time_s"], router["time_s"]);
}

#[test]
fn what_a_machine_cannot_is_told_in_its_line() {
    let bench = Bench::new();
    bench.write(
        "short.toml",
        with_line(&shipped("small-router"), "x", "x = \"60 mm\""),
    );
    let job = JOB.replace("\"small-router\"", "\"short.toml\"");
    bench.write("job.toml", &job);
    let ran = bench.ok(&["show", "job.toml"]);
    let line = ran
        .out
        .lines()
        .find(|line| line.starts_with("router"))
        .unwrap();
    assert!(line.contains("short.toml: cannot: "), "{line}");
    let told = bench.ok(&["show", "job.toml", "--format", "json"]).json();
    let cannot = &told["machines"][2]["cannot"][0];
    assert!(
        cannot["code"].is_string() && cannot["text"].is_string(),
        "{told}"
    );
    // A job needs no machine to be looked at.
    let end = JOB.find("[machines]").unwrap();
    bench.write("job.toml", &JOB[..end]);
    let ran = bench.ok(&["show", "job.toml"]);
    assert!(
        ran.out.contains("finished  163.00 mm") && !ran.out.contains("sled"),
        "{}",
        ran.out
    );
}

#[test]
fn woods_that_nobody_weighed() {
    let bench = Bench::new();
    for (wood, said) in [
        ("wood = \"hinoki\"", "No density is known here for `hinoki`"),
        (
            "wood = \"ash\"",
            "`ash` is not in the table; white ash would be",
        ),
        ("", "Name the wood in [strip]"),
    ] {
        bench.write("job.toml", with_line(JOB, "wood", wood));
        let told = bench.ok(&["show", "job.toml"]).out;
        let told: Vec<&str> = told.split_whitespace().collect();
        assert!(told.join(" ").contains(said), "{said}: {told:?}");
    }
}

#[test]
fn a_panel_is_like_itself() {
    let bench = Bench::new();
    bench.write("job.toml", job());
    let ran = bench.ok(&["compare", "job.toml", "job.toml"]);
    assert!(ran.out.starts_with("No figure differs: "), "{}", ran.out);
    let told = bench
        .ok(&["compare", "job.toml", "job.toml", "--format", "json"])
        .json();
    assert_eq!(told["differs"], json!([]));
    assert_eq!(told["panels"][0], told["panels"][1]);
}

#[test]
fn what_differs_comes_first() {
    let bench = Bench::new();
    bench.write("a.toml", job());
    bench.write("b.toml", with_line(&job(), "depth", "depth = \"12.5 mm\""));
    let ran = bench.ok(&["compare", "a.toml", "b.toml"]);
    assert!(
        ran.out.contains(" differ: 1 is a.toml, 2 is b.toml."),
        "{}",
        ran.out
    );
    let place = |text: &str| {
        ran.out
            .find(text)
            .unwrap_or_else(|| panic!("{text}:\n{}", ran.out))
    };
    assert!(place("12.50 mm deep") < place("the same"));
    let same = &ran.out[place("the same")..];
    for label in [
        "grid", "finished", "trim", "strips", "pieces", "cells", "joints", "wood",
    ] {
        assert!(same.contains(label), "{label}: {same}");
    }
    let told = bench
        .ok(&["compare", "a.toml", "b.toml", "--format", "json"])
        .json();
    let differs = told["differs"].as_array().unwrap();
    assert_eq!(differs[0]["figure"], "section");
    assert!(
        differs[0]["second"]
            .as_str()
            .unwrap()
            .contains("12.50 mm deep")
    );
    // Less than is printed is a difference all the same, and is told as one.
    bench.write(
        "b.toml",
        with_line(&job(), "depth", "depth = \"12.001 mm\""),
    );
    let ran = bench.ok(&["compare", "a.toml", "b.toml"]);
    assert!(
        ran.out.contains("section") && ran.out.contains("less than is printed"),
        "{}",
        ran.out
    );
    // What only one has.
    bench.write("b.toml", JOB);
    let told = bench
        .ok(&["compare", "a.toml", "b.toml", "--format", "json"])
        .json();
    let differs = told["differs"].as_array().unwrap();
    let pieces = differs
        .iter()
        .find(|one| one["figure"] == "pieces")
        .unwrap();
    assert!(
        pieces["first"].is_string() && pieces.get("second").is_none(),
        "{pieces}"
    );
}

#[test]
fn what_is_wrong_is_told_and_nothing_shown() {
    let bench = Bench::with_job();
    bench.write("bad.toml", with_line(JOB, "pitch", "pitch = \"2 mm\""));
    for (args, said) in [
        (vec!["show", "none.toml"], "cannot be read"),
        (vec!["show", "bad.toml"], "bad.toml:"),
        (vec!["compare", "job.toml", "bad.toml"], "bad.toml:"),
        (vec!["compare", "job.toml"], "<SECOND>"),
        (
            vec!["show", "job.toml", "--picture", "--no-picture"],
            "cannot be used with",
        ),
    ] {
        let ran = bench.run(&args);
        assert_eq!(ran.code, 2, "{args:?}");
        assert!(
            ran.out.is_empty() && ran.err.contains(said),
            "{args:?}: {}",
            ran.err
        );
    }
    bench.write("job.toml", JOB.replace("key-sled", "no-sled"));
    let ran = bench.run(&["show", "job.toml"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("no profile is called `no-sled`"),
        "{}",
        ran.err
    );
}

/// What machines have of a frame is what `rails` tells of it.
#[test]
fn a_frames_work_stands_with_its_machines() {
    let bench = Bench::new();
    let framed = |joint: &str| {
        format!(
            "{}[frame]\nthickness = \"20 mm\"\nmortise_depth = \"5 mm\"\nwidth = \"30 mm\"\n{joint}",
            job()
        )
    };
    let machines = |told: &serde_json::Value, station: usize| {
        let does = told["machines"][station]["does"].as_array().unwrap();
        does.iter()
            .map(|work| work["work"].clone())
            .collect::<Vec<_>>()
    };
    bench.write("job.toml", framed(""));
    let told = bench.ok(&["show", "job.toml", "--format", "json"]).json();
    let rails = ["rails", "job.toml", "-o", "rails.nc", "--format", "json"];
    let rails = bench.run(&rails).json();
    assert_eq!(machines(&told, 2), ["routed-notches", "routed-mortises"]);
    let routed = &told["machines"][2]["does"][1];
    let programs = rails["programs"].as_array().unwrap();
    let members: usize = programs
        .iter()
        .map(|p| p["rails"].as_array().unwrap().len())
        .sum();
    assert_eq!(routed["members"], members);
    let sawn = &told["machines"][0]["does"][1];
    let settings = rails["mitres"]["sled"]["settings"].as_array();
    assert_eq!(sawn["settings"], settings.unwrap().len());
    assert_eq!(sawn["mitres"], 8);
    assert_eq!(told["frame"]["mitres"], 8);
    bench.write("job.toml", framed("joint = \"mortise-and-tenon\"\n"));
    let told = bench.ok(&["show", "job.toml", "--format", "json"]).json();
    assert_eq!(machines(&told, 0), ["sawn-notches"]);
    assert_eq!(told["frame"]["tenons"]["count"], 4);
    let shown = bench.ok(&["show", "job.toml"]).out;
    assert!(shown.contains("4 tenons 20.00 mm long"), "{shown}");
    assert!(
        shown.contains("no machine here has settings for them"),
        "{shown}"
    );
}

#[test]
fn a_wood_that_no_table_has_is_weighed_by_the_job() {
    let bench = Bench::new();
    let frame = "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"5 mm\"\nwidth = \"30 mm\"\n";
    let of = |wood: &str, frame_wood: &str| {
        let job = with_line(JOB, "wood", wood);
        bench.write("job.toml", format!("{job}{frame}{frame_wood}"));
        bench.ok(&["show", "job.toml"]).out
    };
    let unknown = of("wood = \"hinoki\"", "");
    assert!(unknown.contains("say density = \"450 kg/m3\""), "{unknown}");
    assert!(
        unknown.contains("of the same wood stay in the frame"),
        "{unknown}"
    );
    let known = of("wood = \"hinoki\"\ndensity = \"410 kg/m3\"", "");
    assert!(known.contains("cm3 of hinoki, 410 kg/m3"), "{known}");
    assert!(known.contains("of the same wood\n"), "{known}");
    let other = of(
        "wood = \"hinoki\"\ndensity = \"410 kg/m3\"",
        "wood = \"black walnut\"\n",
    );
    assert!(other.contains("cm3 of black walnut, 616 kg/m3"), "{other}");
    // A width is needed for the frame's weight.
    bench.write(
        "job.toml",
        format!("{JOB}{}", frame.replace("width", "# width")),
    );
    let shown = bench.ok(&["show", "job.toml"]).out;
    assert!(
        shown.contains("does not say how wide the frame's members"),
        "{shown}"
    );
}
