//! Widths of a frame's members that cannot be.

use super::{Case, check, rows};
use crate::support::cli::JOB;

fn framed() -> String {
    let frame = "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"5 mm\"\nmargin = \"2 mm\"\nwidth = \"30 mm\"\n";
    format!("{JOB}\n{frame}")
}

#[test]
fn widths() {
    let framed = framed();
    let case = |row| Case::row(row, "job.toml", &framed, &["rails", "job.toml"]);
    let table = r#"
        width = "0 mm"             | frame.width | above zero
        width = "-30 mm"           | frame.width | cannot be negative
        width = 30                 | frame.width | a bare number has no unit
        width = "30 deg"           | frame.width | not a unit of length
        width = "6.5 mm"           | frame.width | keeps 1.50 mm behind mortises 5.00 mm deep | 7.00 mm or more
        width -> widht = "30 mm"   | frame.widht | did you mean `width
        width -> widths = ["30 mm", "24 mm"] | frame.widths | 2 widths for a frame of 4 members | one for each
        width -> widths = []       | frame.widths | 0 widths for a frame of 4 members
        width -> widths = "30 mm"  | frame.widths | as in `widths = [
        width -> widths = ["30 mm", 24, "30 mm", "0 mm"] | frame.widths[1] | a bare number has no unit
        width -> widths = ["30 mm", "0 mm", "30 mm", "0 mm"] | frame.widths[1] | frame.widths[3] | above zero
        width -> widths = ["30 mm", "5 mm", "30 mm", "6 mm"] | frame.widths[1] | frame.widths[3] | keeps 0.00 mm | keeps 1.00 mm
        margin -> widths = ["30 mm", "24 mm", "30 mm", "24 mm"] | frame.widths | `width` is given as well | leave one out
        "#;
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn a_member_without_an_outer_edge() {
    let job = r#"title = "Screen"

[grid]
kind = "triangular"
side = "60 mm"
region = "hexagon"
rings = 2
overhang = "25 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"

[frame]
thickness = "20 mm"
mortise_depth = "5 mm"
widths = ["180 mm", "8 mm", "30 mm", "30 mm", "30 mm", "8 mm"]
"#;
    let says = [
        "frame.widths[0]",
        "job.toml:17:11",
        "rail 1 keeps no outer edge",
        "make it narrower, or its neighbours wider",
    ];
    check(&[Case::args(&["rails", "job.toml"], &says).file("job.toml", job)]);
}
