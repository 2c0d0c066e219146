//! The jobs, made up by chance but the same at every run, with machines that have room for them.

use super::slanted_texts::texts;
use crate::support::cli::{Bench, shipped, with_line};
use crate::support::jobs::{Job, jobs, samples};

/// A job that everything is made of.
pub(super) struct Case {
    pub(super) name: String,
    pub(super) toml: String,
    /// Figures of its strips by arithmetic of the tests, where the grid is square.
    pub(super) square: Option<Job>,
    /// Units of what is printed.
    pub(super) unit: &'static str,
}

/// Half of them square, half slanted; most with pieces.
pub(super) fn cases(count: usize) -> Vec<Case> {
    let square = samples(&jobs(), count / 2)
        .into_iter()
        .enumerate()
        .map(|(at, job)| {
            let pattern = ["single-diagonal", "crossed-diagonals", "well-curb", ""][at % 4];
            Case {
                name: format!("square {at}"),
                toml: with_machines(&job.toml(), pattern, at),
                square: Some(job),
                unit: ["mm", "in"][at / 2 % 2],
            }
        });
    let slanted = samples(&texts(), count - count / 2);
    let slanted = slanted.into_iter().enumerate().map(|(at, texts)| {
        let toml = texts.job;
        let pattern = if toml.contains("diamond") {
            "rhomb-spokes"
        } else {
            "spoked-triangle"
        };
        Case {
            name: format!("slanted {at}"),
            toml: with_machines(&toml, pattern, at),
            square: None,
            unit: ["mm", "in"][at / 2 % 2],
        }
    });
    square.chain(slanted).collect()
}

fn with_machines(job: &str, pattern: &str, at: usize) -> String {
    let sled = ["key.toml", "stop.toml"][at % 2];
    let infill = if pattern.is_empty() {
        String::new()
    } else {
        format!("[infill]\npattern = \"{pattern}\"\n")
    };
    format!(
        "{job}{infill}[machines]\nsled = \"{sled}\"\nlaser = \"laser.toml\"\nrouter = \"router.toml\"\n\
         guides = \"guides.toml\"\n"
    )
}

/// A bench with the job and its machines: the shipped ones with more room.
pub(super) fn bench(case: &Case) -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", &case.toml);
    let changed = |name: &str, lines: &[(&str, &str)]| {
        let text = shipped(name);
        lines.iter().fold(text, |text, (key, value)| {
            with_line(&text, key, &format!("{key} = {value}"))
        })
    };
    let sled = [
        ("shortest_strip", "\"1 mm\""),
        ("longest_strip", "\"9 m\""),
        ("farthest", "\"9 m\""),
        ("nearest", "\"0 mm\""),
        ("widest_block", "\"90 mm\""),
        ("travel", "\"900 mm\""),
    ];
    bench.write("key.toml", changed("key-sled", &sled));
    bench.write("stop.toml", changed("stop-sled", &sled));
    let laser = [
        ("thickest", "\"40 mm\""),
        ("length", "\"3 m\""),
        ("width", "\"2 m\""),
    ];
    bench.write("laser.toml", changed("tube-laser", &laser));
    let router = [
        ("x", "\"3 m\""),
        ("z", "\"200 mm\""),
        ("diameter", "\"1.2 mm\""),
        ("flute_length", "\"40 mm\""),
        ("stick_out", "\"45 mm\""),
        ("depth_per_pass", "\"1.2 mm\""),
        ("safe_height", "\"12.5 mm\""),
    ];
    bench.write("router.toml", changed("mid-router", &router));
    bench.write(
        "guides.toml",
        changed(
            "paring-guides",
            &[("stop_farthest", "\"2 m\""), ("stop_nearest", "\"0 mm\"")],
        ),
    );
    bench
}
