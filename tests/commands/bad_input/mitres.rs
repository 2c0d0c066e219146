//! Mitres of pieces that no sled can saw, and profiles that say wrong things of them.

use super::{Case, check, rows};
use crate::support::cli::{JOB, shipped};

fn leaves() -> String {
    format!("{JOB}\n[infill]\npattern = \"square-hemp-leaf\"\n")
}

fn sawn(way: &'static str) -> [&'static str; 6] {
    ["pare", "job.toml", "--way", way, "--sled", "own.toml"]
}

/// Rows that change the key sled's profile, for rows on long sticks.
#[test]
fn profiles() {
    let profile = shipped("key-sled");
    let case = |row| Case::row(row, "own.toml", &profile, &sawn("rows")).file("job.toml", leaves());
    let table = r#"
        skin = "0 mm"            | mitres.skin | as thin as -0.20 mm | make it 0.40 mm or more
        skin = "0.39 mm"         | mitres.skin | as thin as 0.19 mm | 0.20 mm is the least
        skin = "30 mm"           | mitres.skin | leaves nothing to cut
        least_skin = "0 mm"      | mitres.least_skin | above zero
        least_skin = "0.3 mm" @ skin | mitres.skin | make it 0.50 mm or more
        height_error = "0.2 mm" @ skin | mitres.skin | the cut's height off by 0.20 mm
        depth_spread = "0.2 mm" @ skin | mitres.skin | sticks by 0.20 mm
        height_error = "-0.1 mm" | mitres.height_error | cannot be negative
        grip = "220 mm" @ longest_stick | mitres.longest_stick | are all grip
        longest_stick = 440      | mitres.longest_stick | no unit
        wedge = "90 deg"         | mitres.wedge | less than 90 deg
        wedge = "20 deg" @ swing | fence.swing | no end of a piece can be cut here
        stop_board = "yes"       | mitres.stop_board | `stop_board = true`
        cross_board -> crossboard = true | mitres.crossboard | did you mean `cross_board`
        farthest = "200 mm"      | stop.farthest | shorter sticks: longest_stick
        nearest = "60 mm"        | stop.nearest | more grip
        highest = "20 mm"        | blade.highest | over the table
        "#;
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn machines_that_saw_no_mitres() {
    let bare = shipped("key-sled");
    let bare = &bare[..bare.find("[mitres]").unwrap()];
    let case = |way, says: &[&str]| Case::args(&sawn(way), says).file("job.toml", leaves());
    check(&[
        case(
            "rows",
            &["own.toml", "does not say how mitres are cut", "[mitres]"],
        )
        .file("own.toml", bare),
        case("stick-ends", &["own.toml", "[mitres]"]).file("own.toml", bare),
        case(
            "rows",
            &["own.toml", "blade.powered", "a hand saw's mitres"],
        )
        .file("own.toml", shipped("bench-hook")),
        case("rows", &["own.toml` is a guides; a sled is wanted here"])
            .file("own.toml", shipped("paring-guides")),
        Case::args(
            &["pare", "job.toml", "--way", "rows"],
            &["machines.sled", "no sled is named"],
        )
        .file("job.toml", leaves().replace("sled = \"key-sled\"\n", "")),
        Case::args(
            &["pare", "job.toml", "--way", "row"],
            &["--way", "possible values", "rows"],
        )
        .file("job.toml", leaves()),
        Case::args(
            &["pare", "job.toml"],
            &["job.toml:", "infill.way", "did you mean `rows`"],
        )
        .file("job.toml", format!("{}way = \"row\"\n", leaves())),
    ]);
}
