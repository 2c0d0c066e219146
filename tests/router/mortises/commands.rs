//! The commands.

use super::SQUARE;
use crate::support::cli;
use float_cmp::approx_eq;

fn bench() -> cli::Bench {
    let bench = cli::Bench::new();
    let machines = "[machines]\nrouter = \"small-router\"\n";
    bench.write("job.toml", format!("{SQUARE}{machines}"));
    bench
}

#[test]
fn programs_are_written_proved_and_found_again() {
    let bench = bench();
    let before = bench.ok(&["rails", "job.toml"]);
    assert!(!before.out.contains("ROUTER"));
    let ran = bench.ok(&["rails", "job.toml", "-o", "rails.nc"]);
    assert!(
        ran.out
            .contains("X zero         left  top rail at its right inner corner"),
        "{}",
        ran.out
    );
    let proof = bench.ok(&["prove", "rails-3.nc", "job.toml"]);
    assert!(
        proof.out.contains("RIGHT AGAINST THE TOP RAIL OF THE JOB"),
        "{}",
        proof.out
    );
    let bad = bench.read("rails-3.nc").replace("X", "X1");
    bench.write("bad.nc", bad);
    assert_eq!(bench.run(&["prove", "bad.nc", "job.toml"]).code, 1);
    // One wall a little off is still known as a mortise of that rail.
    let whole = bench.read("rails-3.nc");
    let wall = whole.rfind("G1 X").unwrap() + 4;
    let end = wall
        + whole[wall..]
            .find(|c: char| c != '.' && !c.is_ascii_digit())
            .unwrap();
    let moved = whole[wall..end].parse::<f64>().unwrap() + 0.02;
    bench.write(
        "wall.nc",
        format!("{}{moved:.3}{}", &whole[..wall], &whole[end..]),
    );
    let ran = bench.run(&["prove", "wall.nc", "job.toml"]);
    assert!(
        ran.out.contains("NOT RIGHT AGAINST THE TOP RAIL"),
        "{}",
        ran.out
    );
    // A program for notches is still known as one.
    bench.ok(&["notch", "job.toml", "-o", "n.nc"]);
    let proof = bench.ok(&["prove", "n-1.nc", "job.toml"]);
    assert!(
        proof.out.contains("RIGHT AGAINST BUNDLE 1"),
        "{}",
        proof.out
    );
    let answer = bench.ok(&[
        "rails",
        "job.toml",
        "-o",
        "r.nc",
        "--machine",
        "mid-router",
        "--format",
        "json",
    ]);
    // The larger router's cutter of 2.5 mm goes into mortises 3.1 wide.
    assert_eq!(answer.json()["programs"][0]["tool_diameter_mm"], 2.5);
}

#[test]
fn a_build_has_the_rails_programs_or_says_why_not() {
    let bench = bench();
    bench.ok(&["build", "job.toml", "-o", "parts"]);
    for number in 1..=4 {
        assert!(bench.path(&format!("parts/rails-{number}.nc")).is_file());
    }
    assert!(bench.read("parts/rails.txt").contains("rails-4.nc"));
    let short =
        cli::shipped("small-router").replace("flute_length = \"10 mm\"", "flute_length = \"6 mm\"");
    bench.write("short.toml", short);
    let job = bench.read("job.toml").replace("small-router", "short.toml");
    bench.write(
        "deep.toml",
        job.replace("mortise_depth = \"3 mm\"", "mortise_depth = \"7 mm\""),
    );
    let ran = bench.run(&["build", "deep.toml", "-o", "deep"]);
    assert_eq!(ran.code, 1, "something is missing");
    assert!(
        ran.err
            .contains("no programs for the rails: edges 6.00 mm long"),
        "{}",
        ran.err
    );
    assert!(!bench.path("deep/rails-1.nc").is_file());
    let ran = bench.run(&["rails", "deep.toml", "-o", "rails.nc"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("flute-too-short") && !bench.path("rails-1.nc").is_file(),
        "{}",
        ran.err
    );
}

#[test]
fn rails_need_a_router_only_for_programs() {
    let bench = cli::Bench::new();
    bench.write("job.toml", SQUARE);
    bench.ok(&["rails", "job.toml"]);
    let ran = bench.run(&["rails", "job.toml", "-o", "rails.nc"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("no router is named"), "{}", ran.err);
    bench.ok(&[
        "rails",
        "job.toml",
        "-o",
        "rails.nc",
        "--machine",
        "small-router",
    ]);
}

#[test]
fn trimmed_ends_stop_before_the_floors() {
    let bench = bench();
    let job = bench.read("job.toml");
    let cuts = |line: &str| -> Vec<[f64; 2]> {
        let depth = "mortise_depth = \"3 mm\"";
        bench.write("gap.toml", job.replace(depth, &format!("{depth}\n{line}")));
        let told = bench.ok(&["rails", "gap.toml", "--format", "json"]).json();
        let trims = told["trims"].as_array().unwrap().iter();
        let cut = |trim: &serde_json::Value, key| trim[key].as_f64().unwrap();
        trims
            .map(|trim| [cut(trim, "datum_end_mm"), cut(trim, "other_end_mm")])
            .collect()
    };
    let floors = cuts("end_gap = \"0 mm\"");
    for (line, gap) in [("", 0.5), ("end_gap = \"1.2 mm\"", 1.2)] {
        // Square strips: as much shorter at both ends as stays open; the outermost are cut flush.
        let shorter = cuts(line);
        let mut pairs: Vec<_> = shorter.iter().zip(&floors).collect();
        pairs.retain(|(_, long)| long[0] < 13.5);
        assert!(!pairs.is_empty());
        for (short, long) in pairs {
            assert!(
                approx_eq!(f64, short[0] - long[0], gap, epsilon = 1e-9),
                "{short:?} {long:?}"
            );
            assert!(
                approx_eq!(f64, long[1] - short[1], gap, epsilon = 1e-9),
                "{short:?} {long:?}"
            );
        }
    }
}

#[test]
fn rails_that_are_too_long_are_left_out_and_told() {
    let bench = bench();
    // Mortises lie 25 to 50 mm from the corner, zero 15 mm from the low end: a travel that reaches the
    // nearer ones only.
    let router = cli::shipped("small-router").replace("x = \"280 mm\"", "x = \"60 mm\"");
    bench.write("short.toml", router);
    let with = ["rails", "job.toml", "--machine", "short.toml"];
    let told = bench.run(&[&with[..], &["-o", "r.nc", "--format", "json"]].concat());
    assert_eq!(told.code, 1, "{}", told.err);
    let plan = told.json();
    let left: Vec<&str> = plan["without_program"]
        .as_array()
        .unwrap()
        .iter()
        .map(|name| name.as_str().unwrap())
        .collect();
    assert!(!left.is_empty(), "{plan}");
    let made: Vec<&str> = plan["programs"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|program| program["rails"].as_array().unwrap())
        .map(|rail| rail["name"].as_str().unwrap())
        .collect();
    assert!(!made.is_empty());
    assert!(made.iter().all(|name| !left.contains(name)));
    assert!(
        told.err.contains("no program for this: the tool would go"),
        "{}",
        told.err
    );
    let text = bench.ok(&with).out;
    assert!(
        !text.contains("Chop or drill after the list"),
        "nothing was asked of a router"
    );
    let ran = bench.run(&[&with[..], &["-o", "r.nc"]].concat());
    assert!(ran.code == 1 && ran.err.contains("not made: programs for the "));
    let text = ran.out;
    assert!(text.contains("Chop or drill after the list"), "{text}");
    for name in left {
        assert!(text.contains(name));
    }
    // None within reach: refused.
    let router = cli::shipped("small-router").replace("x = \"280 mm\"", "x = \"30 mm\"");
    bench.write("short.toml", router);
    let ran = bench.run(&[&with[..], &["-o", "none.nc"]].concat());
    assert_eq!(ran.code, 2);
    assert!(!bench.path("none-1.nc").exists() && !bench.path("none.nc").exists());
}

#[test]
fn what_a_program_says_of_itself_is_held_against_what_it_does() {
    let bench = bench();
    bench.ok(&["rails", "job.toml", "-o", "rails.nc"]);
    bench.ok(&["notch", "job.toml", "-o", "n.nc"]);
    let names = ["rails-1", "rails-2", "rails-3", "rails-4", "n-1", "n-2"];
    for name in names {
        let proof = bench.ok(&["prove", &format!("{name}.nc"), "job.toml"]);
        assert!(!proof.out.contains("remark"), "{}", proof.out);
    }
    let told = |name: &str, old: &str, new: &str| {
        let text = bench.read(name);
        assert!(text.contains(old), "{old}\n{text}");
        bench.write("edited.nc", text.replacen(old, new, 1));
        // Remarks cut nothing: the program is as right as before.
        bench.ok(&["prove", "edited.nc", "job.toml"]).out
    };
    for (name, old, new) in [
        ("n-1.nc", "(Job Door)", "(Job Window)"),
        ("n-1.nc", "back face up", "front face up"),
        ("n-1.nc", "(Machine ", "(Machine other "),
        ("rails-3.nc", "top rail", "bottom rail"),
        ("n-1.nc", "(Safety ", "(Notches 9, depth 4.00 mm)\n(Safety "),
        ("n-1.nc", "(Lapwright notching", "(Lapwright mortising"),
    ] {
        let out = told(name, old, new);
        assert!(out.contains("warning: line "), "{old}: {out}");
        assert!(
            out.contains(": remark-differs: the remark says"),
            "{old}: {out}"
        );
    }
    let out = told("n-1.nc", "(Notch 2)", "(Notch 3)");
    assert!(
        out.contains("remark-number: the remark says \"Notch 3\"; number 2 is cut"),
        "{out}"
    );
    // A note of one's own is nobody's business.
    let out = told("n-1.nc", "(Job Door)", "(Job Door)\n(the second copy)");
    assert!(!out.contains("remark"), "{out}");
    let answer = bench.run(&["prove", "edited.nc", "job.toml", "--format", "json"]);
    assert!(answer.json().get("remarks").is_none());
    told("n-1.nc", "(Job Door)", "(Job Window)");
    let answer = bench.run(&["prove", "edited.nc", "job.toml", "--format", "json"]);
    let remarks = answer.json()["remarks"].clone();
    assert_eq!(remarks[0]["code"], "remark-differs");
    assert_eq!(remarks[0]["line"], 2);
    assert_eq!(answer.json()["ok"], true);
}

#[test]
fn a_stile_is_not_its_mirror_image() {
    let bench = bench();
    bench.ok(&["rails", "job.toml", "-o", "rails.nc"]);
    let of = |name: &str| {
        let numbers = 1..=4;
        let mut files = numbers.map(|number| format!("rails-{number}.nc"));
        let is_for = |file: &String| bench.read(file).contains(&format!("(Mortises in {name},"));
        files.find(is_for).unwrap()
    };
    let (left, right) = (of("left stile"), of("right stile"));
    let proof = bench.ok(&["prove", &left, "job.toml"]);
    let heading = "the left stile of the job, 1 mortise; not for its mirror image, the right stile";
    assert!(proof.out.to_lowercase().contains(heading), "{}", proof.out);
    bench.ok(&["prove", &right, "job.toml", "--rail", "right stile"]);
    let wrong = bench.run(&["prove", &left, "job.toml", "--rail", "right stile"]);
    assert_eq!(wrong.code, 1);
    assert!(
        wrong
            .out
            .contains("other-work: this program is right, but for the left stile of the job"),
        "{}",
        wrong.out
    );
    // Headed for the other one.
    let text = bench.read(&left).replace("left stile", "right stile");
    bench.write("headed.nc", text);
    let proof = bench.ok(&["prove", "headed.nc", "job.toml"]);
    assert!(proof.out.contains("remark-differs"), "{}", proof.out);
    let unknown = bench.run(&["prove", &left, "job.toml", "--rail", "stile"]);
    assert_eq!(unknown.code, 2);
    assert!(unknown.err.contains("the left stile"), "{}", unknown.err);
}
