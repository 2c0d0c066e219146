//! The profiles that come with the program, built into it.

/// A profile as it is shipped.
#[derive(Debug, Clone, Copy)]
pub struct ShippedProfile {
    /// What jobs call it.
    pub name: &'static str,
    /// Its commented TOML text.
    pub text: &'static str,
}

macro_rules! shipped {
    ($($name:literal),* $(,)?) => {
        &[$(ShippedProfile {
            name: $name,
            text: include_str!(concat!("../../profiles/", $name, ".toml")),
        }),*]
    };
}

/// All of them.
pub const SHIPPED_MACHINES: &[ShippedProfile] = shipped![
    "key-sled",
    "stop-sled",
    "bench-hook",
    "paring-guides",
    "small-router",
    "mid-router",
    "tube-laser",
    "diode-laser",
];

/// The shipped profile of that name.
pub fn shipped_machine(name: &str) -> Option<&'static ShippedProfile> {
    SHIPPED_MACHINES.iter().find(|profile| profile.name == name)
}
