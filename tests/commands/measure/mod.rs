//! `machine measure`: from readings to a person's own profile.

mod bad_readings;
mod profiles;
mod sheets;
mod statistics;
mod virtual_sled;

use crate::support::cli::Bench;

/// Begins a profile of one's own.
fn bench_with(like: &str) -> Bench {
    let bench = Bench::new();
    bench.ok(&["machine", "new", "--like", like, "-o", "mine.toml"]);
    bench
}

/// Readings with date, unit and last digit before them.
fn dated(readings: &str) -> String {
    format!("date = 2026-11-30\nunit = \"mm\"\nresolution = 0.01\n{readings}")
}

/// Kerf, two slots, the stop and the blade's height, as somebody read them.
const SLED_READINGS: &str = "\
[grooves]
across = [52.63, 48.22, 55.07, 50.91, 47.39]
between = [47.42, 42.98, 49.85, 45.67, 42.18]
[[slot]]
slot = 23
steps = 6
across = [140.81, 140.79, 140.84]
between = [135.58, 135.57, 135.60]
[[slot]]
slot = 46
steps = 3
across = [140.75, 140.70, 140.72]
between = [135.52, 135.49, 135.51]
[stop]
set = 60
readings = [60.04, 60.11, 59.98, 60.07, 60.02]
[lap]
correction = 0
depth = [12.02, 12.01, 12.02]
first = [5.92, 5.95, 5.90]
second = [5.93, 5.94, 5.92]
";
