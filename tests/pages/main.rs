//! The set-up sheet: its figures beside the JSON's, in a real browser, and on paper by poppler and
//! pypdf.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod browser;
mod cards;
mod figures;
mod leaves;
mod paper;
mod patterns;
mod pictures;
mod player;
mod renewal;
mod structure;
mod ways;
mod writing;

#[path = "../support/mod.rs"]
mod support;

use std::fs;
use std::path::Path;
use support::cli::{self, Bench};

/// A title that would break out of anything that does not escape it; half of it reads from right
/// to left.
const ODD_TITLE: &str =
    r#"</title><script>alert('x')</script> "Tür" & {{ 7*7 }} <b>'דלת 12'</b> %PDF (a\) -->"#;

/// A demo job of the repository.
fn demo(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap()
}

/// All demo jobs.
const DEMOS: [&str; 5] = [
    "pantry-door",
    "reading-lamp",
    "stair-window",
    "tea-cabinet",
    "wardrobe-vent",
];

/// A job with another title.
fn titled(job: &str, title: &str) -> String {
    let literal = serde_json::to_string(title).unwrap();
    cli::with_line(job, "title", &format!("title = {literal}"))
}

/// A bench where everything of a job has been built.
fn built(job: &str, flags: &[&str]) -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", job);
    let mut args = vec!["build", "job.toml", "-o", "out"];
    args.extend(flags);
    bench.ok(&args);
    bench
}
