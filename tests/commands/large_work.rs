//! Large work: the same bytes with any number of threads; what is wrong in large numbers is counted, and what is
//! rare among it is seen.

use crate::support::cli::{Bench, JOB};
use lapwright::geometry::Point;
use lapwright::instructions::outline::{CutPath, CutWork, SheetDrawing};
use lapwright::instructions::safety::SafetyNotes;
use lapwright::machines::Colours;
use lapwright::writing::dxf::{DxfVersion, dxf};
use serde_json::Value;
use std::collections::BTreeMap;

/// A job whose router has many programs, and one that takes pieces.
const JOBS: [&str; 2] = ["demo/hall-screen.toml", "demo/tea-cabinet.toml"];

#[test]
fn any_number_of_threads_makes_the_same_bytes() {
    let root = env!("CARGO_MANIFEST_DIR");
    for job in JOBS {
        let job = format!("{root}/{job}");
        let made = ["1", "2", "8"].map(|threads| {
            let bench = Bench::new();
            let mut command = bench.command(&["build", &job, "-o", "out", "--format", "json"]);
            let output = command.env("LAPWRIGHT_THREADS", threads).output().unwrap();
            // Of the hall screen the rails are longer than the router reaches.
            let code = output.status.code();
            assert!(matches!(code, Some(0 | 1)), "{job} with {threads} threads");
            let folder = bench.path("");
            let inside = |(path, content): (std::path::PathBuf, _)| {
                (path.strip_prefix(&folder).unwrap().to_owned(), content)
            };
            let files: BTreeMap<_, _> = bench.contents().into_iter().map(inside).collect();
            assert!(files.len() > 10, "{job}");
            (output.stdout, files)
        });
        let [one, two, eight] = &made;
        assert!(one == two && one == eight, "{job}");
    }
}

/// Bars one beside the other, each over the one before it; the last reaches out of the sheet.
fn heap(count: usize) -> Vec<u8> {
    let path = |n: usize| {
        let low = if n + 1 == count {
            600.0
        } else {
            20.0 + n as f64 * 0.05
        };
        let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 12.0), (0.0, 12.0)];
        CutPath {
            work: CutWork::Outlines,
            closed: true,
            points: corners.map(|(x, y)| Point::new(low + x, 20.0 + y)).to_vec(),
        }
    };
    let drawing = SheetDrawing {
        safety: SafetyNotes::for_laser(),
        paths: (0..count).map(path).collect(),
    };
    dxf(&drawing, DxfVersion::R2000, Colours::default()).unwrap()
}

/// How many of each code an answer tells, and how many more it says there are.
fn counts(answer: &Value) -> BTreeMap<String, (u64, u64)> {
    let mut counts: BTreeMap<String, (u64, u64)> = BTreeMap::new();
    for fault in answer["faults"].as_array().unwrap() {
        let of_code = counts.entry(fault["code"].as_str().unwrap().into());
        let (told, more) = of_code.or_default();
        match fault["more"].as_u64() {
            Some(count) => {
                assert_eq!(fault["text"], format!("{count} more of the same"));
                *more += count;
            }
            None => *told += 1,
        }
    }
    counts
}

#[test]
fn faults_of_a_heap_are_counted_and_the_rare_one_is_told() {
    let bench = Bench::with_job();
    bench.write("heap.dxf", heap(260));
    let proof = ["prove", "heap.dxf", "job.toml", "--what", "strips"];
    let ran = bench.run(&[&proof[..], &["--format", "json"]].concat());
    assert_eq!(ran.code, 1);
    let found = counts(&ran.json());
    // None of the bars is a strip.
    assert_eq!(found["surplus"], (200, 60));
    assert_eq!(found["off-sheet"], (1, 0));
    assert!(found["too-close"].0 <= 201, "{found:?}");
    let told = bench.run(&proof).out;
    assert!(told.contains("and 255 more of surplus"), "{told}");
    assert!(told.contains("off-sheet"), "{told}");
}

/// Lines of a program that are all wrong in one way: the text's count is that of the lines.
#[test]
fn faults_of_a_program_add_up() {
    let bench = Bench::with_job();
    let lines = "G1 X1 Y1 A1\n".repeat(90);
    bench.write("wrong.nc", format!("G21\nG90\n{}", lines.replace("A1", "")));
    let ran = bench.run(&["prove", "wrong.nc", "job.toml", "--format", "json"]);
    let found = counts(&ran.json());
    let (code, (told, more)) = found.iter().max_by_key(|(_, (_, more))| *more).unwrap();
    assert!(*more > 0, "{found:?}");
    let text = bench.run(&["prove", "wrong.nc", "job.toml"]).out;
    let wanted = format!("and {} more of {code}", told + more - 5);
    assert!(text.contains(&wanted), "{wanted}:\n{text}");
}

/// A map that is wrong in hundreds of places and a thickness that is wrong once.
#[test]
fn wrong_fields_of_one_kind_do_not_bury_another() {
    let bench = Bench::new();
    let pitches = vec!["\"no length\""; 300].join(", ");
    let job = JOB.replace(
        "pitch = \"40 mm\"\ncolumns = 4",
        &format!("pitches_x = [{pitches}]\npitch = \"40 mm\""),
    );
    bench.write("job.toml", job.replace("thickness = \"3 mm\"\n", ""));
    let ran = bench.run(&["show", "job.toml"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("strip.thickness"), "{}", ran.err);
    assert!(
        ran.err.contains("and 250 more like these in job.toml"),
        "{}",
        ran.err
    );
}
