//! A frame's members as parts: drawn, proved, put together by shapely, damaged.

mod damaged;

use crate::support::check_frame_parts;
use crate::support::cli::{Bench, JOB};
use serde_json::{Value, json};

/// A square lattice in a frame, by its numbers alone. Millimetres.
struct Case {
    pitch: f64,
    columns: u32,
    rows: u32,
    margin: f64,
    thickness: f64,
    /// Bottom, right, top, left.
    widths: [f64; 4],
    mortise_depth: f64,
    clearance: f64,
    /// Further lines of the frame's table.
    more: &'static str,
    joint: Value,
    groove: f64,
    rebate: f64,
}

impl Case {
    fn mitred(widths: [f64; 4], more: &'static str) -> Case {
        Case {
            pitch: 40.0,
            columns: 4,
            rows: 5,
            margin: 7.5,
            thickness: 3.0,
            widths,
            mortise_depth: 6.0,
            clearance: 0.1,
            more,
            joint: Value::Null,
            groove: 0.0,
            rebate: 0.0,
        }
    }

    fn tenoned(widths: [f64; 4], more: &'static str, [length, play, haunch]: [f64; 3]) -> Case {
        Case {
            joint: json!({ "length": length, "play": play, "haunch": haunch }),
            ..Case::mitred(widths, more)
        }
    }

    fn job(&self) -> String {
        let widths = self
            .widths
            .map(|width| format!("\"{width} mm\""))
            .join(", ");
        let joint = if self.joint.is_null() {
            ""
        } else {
            "joint = \"mortise-and-tenon\"\n"
        };
        format!(
            "title = \"t\"\n[grid]\nkind = \"square\"\npitch = \"{} mm\"\ncolumns = {}\nrows = {}\n\
             overhang = \"20 mm\"\n[strip]\nthickness = \"{} mm\"\ndepth = \"12 mm\"\n[frame]\n\
             thickness = \"24 mm\"\nmargin = \"{} mm\"\nsetback = \"3 mm\"\nmortise_depth = \"{} mm\"\n\
             clearance = \"{} mm\"\nwidths = [{widths}]\n{joint}{}",
            self.pitch,
            self.columns,
            self.rows,
            self.thickness,
            self.margin,
            self.mortise_depth,
            self.clearance,
            self.more
        )
    }

    /// Width and height between the members.
    fn inside(&self) -> [f64; 2] {
        [self.columns, self.rows].map(|bays| f64::from(bays) * self.pitch + 2.0 * self.margin)
    }

    /// Of the strips that meet a member, along it.
    fn strips(&self, bays: u32) -> Vec<[f64; 2]> {
        let half = (self.thickness + self.clearance) / 2.0;
        let centre = |at: u32| self.margin + f64::from(at) * self.pitch;
        (0..=bays)
            .map(|at| [centre(at) - half, centre(at) + half])
            .collect()
    }

    /// Where mortises, tenons and a recess lie, from the members' front face, 24 from the back: strips 12
    /// deep 3 behind it, half the clearance around them; tenons a third of the frame thick in its
    /// middle, or in line with the groove, 4 wide at 17.2; a rebate 6 deep.
    fn check_depths(&self, answer: &Value) {
        let half = self.clearance / 2.0;
        let groove = (self.groove > 0.0).then_some([17.2, 21.2]);
        let rebate = (self.rebate > 0.0).then_some([18.0, 24.0]);
        let tenons = (!self.joint.is_null()).then_some(groove.unwrap_or([8.0, 16.0]));
        for (key, wanted) in [
            ("mortises_from_front_mm", Some([3.0 - half, 15.0 + half])),
            ("tenons_from_front_mm", tenons),
            ("recess_from_front_mm", groove.or(rebate)),
        ] {
            let found: Option<[f64; 2]> = serde_json::from_value(answer[key].clone()).unwrap();
            let pair = found.zip(wanted);
            let near = pair.map(|(a, b)| (a[0] - b[0]).abs().max((a[1] - b[1]).abs()) < 1e-9);
            assert_eq!(near, wanted.map(|_| true), "{key}: {found:?}");
            assert_eq!(found.is_some(), wanted.is_some(), "{key}: {found:?}");
        }
    }

    fn described(&self, file: &Value) -> Value {
        let [width, height] = self.inside();
        let [across, up] = [self.strips(self.columns), self.strips(self.rows)];
        json!({
            "file": file,
            "inside": [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]],
            "widths": self.widths,
            "joint": self.joint,
            "groove": self.groove,
            "rebate": self.rebate,
            "mortise_depth": self.mortise_depth,
            "strips": [across, up, across, up],
        })
    }
}

fn cases() -> Vec<Case> {
    let groove = "groove = { width = \"4 mm\", depth = \"4.5 mm\", from_front = \"17.2 mm\" }\n";
    let rebate = "rebate = { width = \"8 mm\", depth = \"6 mm\" }\n";
    vec![
        Case::mitred([30.0; 4], ""),
        Case::mitred([32.0, 21.0, 40.0, 25.5], ""),
        Case {
            rebate: 8.0,
            ..Case::mitred([32.0, 24.0, 40.0, 25.5], rebate)
        },
        Case {
            groove: 4.5,
            ..Case::mitred([32.0, 24.0, 40.0, 25.5], groove)
        },
        // Two thirds of the narrower stile, half a millimetre of play, haunches as thick as the tenons.
        Case::tenoned([40.0, 33.0, 32.0, 30.0], "", [20.0, 0.5, 8.0]),
        Case::tenoned(
            [40.0, 33.0, 32.0, 30.0],
            "haunch = \"0 mm\"\nend_gap = \"1 mm\"\ntenon_length = \"19 mm\"\n",
            [19.0, 1.0, 0.0],
        ),
        Case {
            groove: 4.5,
            ..Case::tenoned([40.0, 33.0, 36.0, 30.0], groove, [20.0, 0.5, 4.5])
        },
        Case {
            rebate: 8.0,
            ..Case::tenoned([40.0, 33.0, 32.0, 30.0], rebate, [20.0, 0.5, 8.0])
        },
        // The rebate takes more than the haunch, and more than the tenon is wide.
        Case {
            rebate: 14.0,
            ..Case::tenoned(
                [25.0, 33.0, 26.0, 30.0],
                "rebate = { width = \"14 mm\", depth = \"6 mm\" }\nhaunch = \"3 mm\"\n",
                [20.0, 0.5, 3.0],
            )
        },
    ]
}

/// Draws a job's frame and has it proved, in one of both editions of the format.
fn drawn(bench: &Bench, name: &str, job: &str, edition: &str) -> Value {
    let (toml, dxf) = (format!("{name}.toml"), format!("{name}.dxf"));
    bench.write(&toml, job);
    let what = [
        "outline", &toml, "--what", "frame", "--dxf", edition, "-o", &dxf,
    ];
    let answer = bench
        .ok(&[&["--format", "json"][..], &what].concat())
        .json();
    let proved = bench.ok(&["prove", &dxf, &toml]);
    assert!(
        proved.out.contains("MEMBERS OF THE JOB'S FRAME"),
        "{}",
        proved.out
    );
    answer
}

#[test]
fn members_go_together_as_drawn() {
    let bench = Bench::new();
    let mut frames = Vec::new();
    for (at, case) in cases().iter().enumerate() {
        for edition in ["r2000", "r12"] {
            let name = format!("frame{at}-{edition}");
            let answer = drawn(&bench, &name, &case.job(), edition);
            assert_eq!(answer["members"].as_array().unwrap().len(), 4);
            case.check_depths(&answer);
            frames.push(case.described(&json!(bench.path(&format!("{name}.dxf")))));
        }
    }
    check_frame_parts(&json!({ "frames": frames })).unwrap();
    // And not against other numbers.
    for (key, value) in [
        ("widths", json!([30.0, 30.0, 30.0, 30.5])),
        ("mortise_depth", json!(6.5)),
        ("rebate", json!(1.0)),
    ] {
        let mut wrong = frames[0].clone();
        wrong[key] = value;
        assert!(
            check_frame_parts(&json!({ "frames": [wrong] })).is_err(),
            "{key}"
        );
    }
    let mut wrong = frames[8].clone();
    assert!(wrong["joint"]["length"] == json!(20.0));
    wrong["joint"]["length"] = json!(20.2);
    assert!(check_frame_parts(&json!({ "frames": [wrong] })).is_err());
}

/// Frames of any shape close: their inside by the answer about the rails.
#[test]
fn members_of_slanted_frames_go_together() {
    let bench = Bench::new();
    let mut frames = Vec::new();
    let shapes: [(&[[f64; 2]], &[f64]); 4] = [
        (
            &[[0.0, 0.0], [300.0, 5.0], [210.0, 260.0]],
            &[30.0, 22.0, 40.0],
        ),
        (
            &[[0.0, 0.0], [340.0, 10.0], [330.0, 250.0], [5.0, 300.0]],
            &[30.0; 4],
        ),
        (
            &[
                [100.0, 0.0],
                [300.0, 11.0],
                [400.0, 183.0],
                [290.0, 340.0],
                [90.0, 346.0],
                [0.0, 173.0],
            ],
            &[30.0, 25.0, 30.0, 25.0, 30.0, 25.0],
        ),
        // A narrow neighbour of a blunt corner: the long point is the inner corner.
        (
            &[[0.0, 0.0], [300.0, 8.0], [380.0, 200.0], [3.0, 260.0]],
            &[50.0, 12.0, 30.0, 30.0],
        ),
    ];
    for (at, (corners, widths)) in shapes.iter().enumerate() {
        let corner = |[x, y]: &[f64; 2]| format!("[\"{x} mm\", \"{y} mm\"]");
        let corners_text = corners.iter().map(corner).collect::<Vec<_>>().join(", ");
        let widths_text: Vec<String> = widths.iter().map(|w| format!("\"{w} mm\"")).collect();
        let job = format!(
            "title = \"t\"\n[grid]\nkind = \"diamond\"\npitch = \"70 mm\"\nangle = \"70 deg\"\n\
             stance = \"upright\"\nregion = \"polygon\"\ncorners = [{corners_text}]\noverhang = \"60 mm\"\n\
             [strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\
             [frame]\nmargin = \"0 mm\"\nthickness = \"20 mm\"\nmortise_depth = \"4 mm\"\nwidths = [{}]\n",
            widths_text.join(", ")
        );
        let name = format!("slanted{at}");
        drawn(&bench, &name, &job, "r2000");
        frames.push(json!({
            "file": bench.path(&format!("{name}.dxf")), "inside": corners, "widths": widths,
            "joint": null, "groove": 0.0, "rebate": 0.0, "mortise_depth": 4.0, "strips": null,
        }));
    }
    check_frame_parts(&json!({ "frames": frames })).unwrap();
}

#[test]
fn what_has_no_members_to_draw_is_refused() {
    let bench = Bench::with_job();
    let draw = ["outline", "job.toml", "--what", "frame", "-o", "frame.dxf"];
    let refused = bench.run(&draw);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("no [frame]"), "{}", refused.err);
    let frame = "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"6 mm\"\n";
    bench.write("job.toml", format!("{JOB}{frame}"));
    let refused = bench.run(&draw);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("add `width`"), "{}", refused.err);
    bench.write("job.toml", format!("{JOB}{frame}width = \"30 mm\"\n"));
    for (more, said) in [
        (["--what", "strips"], "a drawing of their own"),
        (["--machine", "tube-laser"], "for no machine"),
    ] {
        let refused = bench.run(&[&draw[..], &more].concat());
        assert_eq!(refused.code, 2);
        assert!(refused.err.contains(said), "{}", refused.err);
    }
    assert!(!bench.path("frame.dxf").exists());
    bench.ok(&draw);
    // A build writes both.
    bench.ok(&["build", "job.toml", "-o", "made"]);
    assert_eq!(bench.read("made/frame.dxf"), bench.read("frame.dxf"));
    assert!(bench.read("made/frame.svg").contains("id=\"MORTISES\""));
}

/// What a job has none of is told for what it is, not proved as nothing.
#[test]
fn none_of_a_kind_is_refused() {
    let bench = Bench::new();
    let pieces = |pattern: &str| format!("{JOB}[infill]\npattern = \"{pattern}\"\n");
    bench.write("job.toml", pieces("square-hemp-leaf"));
    bench.ok(&[
        "outline",
        "job.toml",
        "--what",
        "strips",
        "-o",
        "strips.dxf",
    ]);
    let refused = |what: &str, said: &str| {
        let refused = bench.run(&["prove", "strips.dxf", "job.toml", "--what", what]);
        assert_eq!(refused.code, 2, "{}{}", refused.out, refused.err);
        assert!(refused.err.contains(said), "{}", refused.err);
        assert_eq!(refused.out, "");
    };
    refused("lapped", "no pieces of this pattern lap each other");
    refused("strips,lapped", "no pieces of this pattern lap each other");
    refused("frame", "no [frame]");
    bench.write("job.toml", JOB);
    refused("pieces", "the job has no pieces");
    refused("lapped", "the job has no pieces");
    bench.ok(&["prove", "strips.dxf", "job.toml", "--what", "strips"]);
    // A drawing of members, and no job with members.
    let frame = "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"6 mm\"\n";
    bench.write("framed.toml", format!("{JOB}{frame}width = \"30 mm\"\n"));
    bench.ok(&[
        "outline",
        "framed.toml",
        "--what",
        "frame",
        "-o",
        "frame.dxf",
    ]);
    let stranger = bench.run(&["prove", "frame.dxf", "job.toml"]);
    assert!(stranger.err.contains("no [frame]"), "{}", stranger.err);
    bench.write("job.toml", format!("{JOB}{frame}"));
    let stranger = bench.run(&["prove", "frame.dxf", "job.toml"]);
    assert!(stranger.err.contains("add `width`"), "{}", stranger.err);
}
