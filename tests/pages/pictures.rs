//! Pictures beside the demo jobs are those that the program makes: byte for byte.

use super::demo;
use crate::support::cli::Bench;
use std::fs;
use std::path::Path;

fn kept(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/pictures");
    fs::read_to_string(folder.join(name)).unwrap()
}

#[test]
fn pictures_beside_the_demo_jobs_are_those_of_the_program() {
    let bench = Bench::new();
    for job in ["tea-cabinet", "stair-window"] {
        bench.write(&format!("{job}.toml"), demo(job));
        let (text, picture) = (format!("{job}.toml"), format!("{job}.svg"));
        bench.ok(&["outline", &text, "--what", "panel", "-o", &picture]);
        assert!(
            bench.read(&picture) == kept(&picture),
            "make demo/pictures/{picture} anew"
        );
    }
    for figure in ["square-hemp-leaf", "hexagon-star", "well-curb"] {
        let picture = format!("{figure}.svg");
        bench.ok(&["pattern", "show", figure, "--picture", &picture]);
        assert!(
            bench.read(&picture) == kept(&picture),
            "make demo/pictures/{picture} anew"
        );
    }
}
