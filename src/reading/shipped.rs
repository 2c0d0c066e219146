//! The profiles, patterns and starter jobs that come with the program, built into it.

/// A profile, a pattern or a starter job as it is shipped.
#[derive(Debug, Clone, Copy)]
pub struct ShippedProfile {
    /// What jobs call it.
    pub name: &'static str,
    /// Its commented TOML text.
    pub text: &'static str,
}

macro_rules! shipped {
    ($folder:literal, $($name:literal),* $(,)?) => {
        &[$(ShippedProfile {
            name: $name,
            text: include_str!(concat!("../../profiles/", $folder, $name, ".toml")),
        }),*]
    };
}

/// All machines.
pub const SHIPPED_MACHINES: &[ShippedProfile] = shipped![
    "",
    "key-sled",
    "stop-sled",
    "bench-hook",
    "paring-guides",
    "small-router",
    "mid-router",
    "tube-laser",
    "diode-laser",
    "sheet-router",
];

/// All patterns of infill: those for square cells, then those for triangular ones
/// and for rhombs.
pub const SHIPPED_PATTERNS: &[ShippedProfile] = shipped![
    "patterns/",
    "square-hemp-leaf",
    "single-diagonal",
    "crossed-diagonals",
    "horned-well-curb",
    "horned-crossings",
    "corner-brace",
    "nested-square",
    "upright-cross",
    "double-lines",
    "turned-slats",
    "well-curb",
    "well-curb-locks",
    "eight-spokes",
    "folded-hemp-leaf",
    "four-leaf",
    "braced-diagonals",
    "nested-diagonals",
    "nested-cross",
    "nested-locks",
    "point-locks",
    "star-spokes",
    "octagons",
    "held-square",
    "corner-square",
    "crossing-squares",
    "locked-squares",
    "four-point-star",
    "triangular-hemp-leaf",
    "central-triangle",
    "wall-spokes",
    "leaf-spokes",
    "fine-hemp-leaf",
    "hemp-hexagons",
    "corner-bars",
    "double-hexagons",
    "crossed-parallels",
    "three-way-star",
    "triangle-locks",
    "triangle-leaves",
    "floating-triangle",
    "spoked-triangle",
    "three-point-star",
    "triangle-whirl",
    "hexagon-rings",
    "hexagon-wheel",
    "hexagon-star",
    "hexagon-star-ring",
    "hexagon-flower",
    "hexagon-petals",
    "double-petals",
    "diamond-hemp-leaf",
    "rhomb-spokes",
    "rhomb-hexagons",
    "nested-rhomb",
];

/// Starter jobs: one for each kind of grid, and for what is put round it.
pub const SHIPPED_STARTERS: &[ShippedProfile] = shipped![
    "starters/",
    "square",
    "diamond",
    "triangular",
    "hexagon",
    "opening",
    "frame",
];

/// The shipped starter job of that name.
pub fn shipped_starter(name: &str) -> Option<&'static ShippedProfile> {
    SHIPPED_STARTERS.iter().find(|starter| starter.name == name)
}

/// The shipped pattern of that name.
pub fn shipped_pattern(name: &str) -> Option<&'static ShippedProfile> {
    SHIPPED_PATTERNS.iter().find(|profile| profile.name == name)
}

/// The shipped machine profile of that name.
pub fn shipped_machine(name: &str) -> Option<&'static ShippedProfile> {
    SHIPPED_MACHINES.iter().find(|profile| profile.name == name)
}
