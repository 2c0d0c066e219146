//! Facts about woods: how heavy they are, and how they move with the air's humidity.

mod basis;
mod climate;
mod equilibrium;
mod species;

pub use basis::Basis;
pub use climate::{Air, Climate, GrowthRings};
pub use equilibrium::{CELSIUS, equilibrium_percent};
pub use species::{
    KnownWood, MOISTURE_PERCENT, Movement, Sourced, WOODS, Weight, Wood, known_wood,
};
