//! A diamond grid at 90 degrees is the square grid: the same answers and files, to the last digit.

use crate::support::cli::Bench;
use float_cmp::approx_eq;
use std::collections::BTreeMap;

/// Pitch, columns, rows, overhang, what else the strips have.
const JOBS: [(&str, usize, usize, &str, &str); 5] = [
    ("50 mm", 4, 3, "20 mm", ""),
    ("41.6667 mm", 6, 6, "15 mm", "clearance = \"0.05 mm\""),
    ("1 3/8 in", 5, 2, "3/4 in", ""),
    ("33.333 mm", 3, 7, "12.345 mm", "weave = \"alternate\""),
    ("37 mm", 5, 5, "15 mm", "keeps = [\"5 mm\", \"7 mm\"]"),
];

fn job(
    kind: &str,
    (pitch, columns, rows, overhang, more): (&str, usize, usize, &str, &str),
) -> String {
    format!(
        "title = \"Door\"\n[grid]\n{kind}\npitch = \"{pitch}\"\ncolumns = {columns}\nrows = {rows}\n\
         overhang = \"{overhang}\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n{more}\n\
         [infill]\npattern = \"square-hemp-leaf\"\n\
         [machines]\nsled = \"key-sled\"\nlaser = \"tube-laser\"\nrouter = \"mid-router\"\n\
         guides = \"paring-guides\"\n"
    )
}

const SQUARE: &str = "kind = \"square\"";
const DIAMOND: &str = "kind = \"diamond\"\nangle = \"90 deg\"\nregion = \"rectangle\"";

#[test]
fn all_files_are_the_same() {
    for sizes in JOBS {
        let built = [SQUARE, DIAMOND].map(|kind| {
            let bench = Bench::new();
            bench.write("job.toml", job(kind, sizes));
            let ran = bench.ok(&["build", "job.toml", "-o", "out", "--format", "json"]);
            std::fs::remove_file(bench.path("job.toml")).unwrap();
            let folder = bench.path("");
            let inside = |(path, content): (std::path::PathBuf, _)| {
                (path.strip_prefix(&folder).unwrap().to_owned(), content)
            };
            let files: BTreeMap<_, _> = bench.contents().into_iter().map(inside).collect();
            (ran.out, files)
        });
        let [square, diamond] = &built;
        assert!(square.1.len() > 10, "{sizes:?}");
        for (name, content) in &square.1 {
            let other = diamond
                .1
                .get(name)
                .unwrap_or_else(|| panic!("{} is missing", name.display()));
            assert!(content == other, "{sizes:?}: {} differs", name.display());
        }
        assert_eq!(square, diamond, "{sizes:?}");
    }
}

#[test]
fn a_hair_from_90_degrees_is_not_the_square_grid() {
    let bench = Bench::new();
    bench.write(
        "job.toml",
        job(&DIAMOND.replace("90 deg", "89.9 deg"), JOBS[0])
            .replace("[infill]\npattern = \"square-hemp-leaf\"\n", ""),
    );
    let answer = bench.ok(&["sled", "job.toml", "--format", "json"]).json();
    let width = answer["bundles"][0]["notches"][0]["width_mm"]
        .as_f64()
        .unwrap();
    // 3 / sin 89.9 deg.
    assert!(
        approx_eq!(f64, width, 3.000_004_57, epsilon = 1e-7),
        "{width}"
    );
}
