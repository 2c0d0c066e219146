//! Sixty ways to write a file wrong.

/// A shipped file with a part of it written otherwise.
pub(super) struct Bad {
    pub(super) file: &'static str,
    pub(super) from: &'static str,
    pub(super) to: &'static str,
    /// Whether a schema can know.
    pub(super) seen: bool,
}

const fn bad(file: &'static str, from: &'static str, to: &'static str) -> Bad {
    Bad {
        file,
        from,
        to,
        seen: true,
    }
}

/// One figure has to be weighed against another, or a name be looked for elsewhere.
const fn unseen(file: &'static str, from: &'static str, to: &'static str) -> Bad {
    Bad {
        seen: false,
        ..bad(file, from, to)
    }
}

const PANTRY: &str = "demo/pantry-door.toml";
const ATTIC: &str = "demo/attic-window.toml";
const PORCH: &str = "demo/porch-window.toml";
const HALL: &str = "demo/hall-screen.toml";
const SLED: &str = "profiles/key-sled.toml";
const BEVEL: &str = "profiles/stop-sled.toml";
const HOOK: &str = "profiles/bench-hook.toml";
const GUIDES: &str = "profiles/paring-guides.toml";
const ROUTER: &str = "profiles/small-router.toml";
const LASER: &str = "profiles/tube-laser.toml";
const SHEETS: &str = "profiles/sheet-router.toml";
const LEAF: &str = "profiles/patterns/square-hemp-leaf.toml";
const SQUARE: &str = "profiles/patterns/nested-square.toml";

pub(super) const BAD: &[Bad] = &[
    // Jobs.
    bad(PANTRY, "title =", "titel ="),
    bad(PANTRY, "[strip]", "[strips]"),
    bad(PANTRY, "kind = \"square\"", "kind = \"sqare\""),
    bad(PANTRY, "kind = \"square\"\n", ""),
    bad(PANTRY, "pitch = \"2 in\"\n", ""),
    bad(PANTRY, "pitch = \"2 in\"", "pitch = 50"),
    bad(PANTRY, "pitch = \"2 in\"", "pitch = \"2\""),
    bad(PANTRY, "pitch = \"2 in\"", "pitch = \"2 kg\""),
    bad(PANTRY, "pitch = \"2 in\"", "pitch = \"-2 in\""),
    bad(PANTRY, "pitch = \"2 in\"", "pitch_about = \"2 in\""),
    bad(PANTRY, "columns = 4", "columns = 0"),
    bad(PANTRY, "columns = 4", "columns = \"4\""),
    bad(PANTRY, "columns = 4", "columns = 4.5"),
    bad(PANTRY, "columns = 4\n", ""),
    bad(PANTRY, "overhang = \"3/4 in\"\n", ""),
    bad(
        PANTRY,
        "kind = \"square\"",
        "kind = \"square\"\nregion = \"rectangle\"",
    ),
    bad(PANTRY, "kind = \"square\"", "kind = \"triangular\""),
    bad(PANTRY, "[strip]", "[strip]\nlap = \"most-cut\""),
    bad(PANTRY, "sled = \"stop-sled\"", "sled = [\"stop-sled\"]"),
    bad(PANTRY, "laser = \"tube-laser\"", "lazer = \"tube-laser\""),
    unseen(PANTRY, "thickness = \"1/8 in\"", "thickness = \"3 in\""),
    unseen(PANTRY, "[strip]", "[strip]\nleast_web = \"4 in\""),
    bad(
        ATTIC,
        "legend.V = { pattern = \"single-diagonal\", turn = \"90 deg\" }",
        "legend.V = 3",
    ),
    bad(ATTIC, "turn = \"90 deg\"", "turn = 90"),
    bad(ATTIC, "turn = \"90 deg\"", "turned = \"90 deg\""),
    bad(ATTIC, "map = [", "rule = \"rings\"\nmap = ["),
    bad(ATTIC, "map = [", "pattern = \"corner-brace\"\nmap = ["),
    unseen(ATTIC, "\"WWWWWWWWWWWW\"", "\"WWWWWWWWWWWWW\""),
    unseen(ATTIC, "turn = \"90 deg\"", "turn = \"50 deg\""),
    bad(PORCH, "measured = \"hole\"", "measured = \"panel\""),
    bad(
        PORCH,
        "measured = \"hole\"",
        "measured = \"hole\"\nwidth = \"613 mm\"",
    ),
    bad(
        PORCH,
        "joint = \"mortise-and-tenon\"",
        "joint = \"mitre\"\nhaunch = \"4 mm\"",
    ),
    bad(PORCH, "setback = \"3 mm\"", "margin = \"3 mm\""),
    bad(PORCH, "rebate = {", "groove = {"),
    bad(
        PORCH,
        "rest = \"even-margins\"",
        "cells = \"fill\"\nrest = \"even-margins\"",
    ),
    bad(HALL, "mortise_depth = \"6 mm\"\n", ""),
    bad(HALL, "width = \"30 mm\"", "width = \"0 mm\""),
    unseen(HALL, "[strip]", "[strip]\nkeeps = [\"2 mm\", \"2 mm\"]"),
    // Profiles.
    bad(SLED, "kind = \"sled\"", "kind = \"slide\""),
    bad(SLED, "kind = \"sled\"", "kind = \"laser\""),
    bad(SLED, "about =", "abuot ="),
    bad(SLED, "tooth = \"flat-top\"", "tooth = \"alternate-bevel\""),
    bad(SLED, "powered = true", "powered = false"),
    bad(SLED, "powered = true", "powered = \"yes\""),
    unseen(SLED, "overlap = \"0.3 mm\"", "overlap = \"3 mm\""),
    unseen(SLED, "nearest = \"5 mm\"", "nearest = \"900 mm\""),
    bad(BEVEL, "tooth = \"alternate-bevel\"", "tooth = \"flat-top\""),
    bad(HOOK, "[stop]", "[halt]"),
    bad(GUIDES, "angles = [", "angels = ["),
    bad(ROUTER, "flutes = 2", "flutes = 9"),
    bad(ROUTER, "decimals = 3\n", ""),
    bad(ROUTER, "zero_x =", "key_x = \"45 mm\"\nzero_x ="),
    unseen(ROUTER, "safe_height = \"8 mm\"", "safe_height = \"4 mm\""),
    bad(LASER, "letters = 150", "letters = 256"),
    bad(SHEETS, "relief = \"bone\"", "relief = \"dog\""),
    // Patterns.
    bad(LEAF, "neighbours = \"mirror\"", "neighbours = \"mirrored\""),
    bad(
        LEAF,
        "low = { meet = [\"south\", \"diagonal.right\"] }",
        "low = { meet = [\"south\"] }",
    ),
    bad(
        LEAF,
        "jig = { hinge = \"67.5 deg\" }",
        "jig = { hinge = 67.5 }",
    ),
    bad(SQUARE, "south = [0.5, 0]", "south = [0.5, 0, 1]"),
    bad(SQUARE, "from = \"south\"\n", ""),
];
