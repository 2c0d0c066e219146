//! Facts about woods: how heavy and how hard they are, how they take to tools and glue, how they move with the
//! air's humidity, and by which sizes and measures they are sold.

mod basis;
mod climate;
mod equilibrium;
mod known;
mod lumber;
mod species;
mod table;
mod working;

pub use basis::Basis;
pub use climate::{Air, Climate, GrowthRings};
pub use equilibrium::{CELSIUS, equilibrium_percent};
pub use known::{KnownWood, known_wood};
pub use lumber::{
    BOARD_FOOT_M3, Dressed, SOFTWOOD_THICKNESSES, SOFTWOOD_WIDTHS, SURFACED, hardwood_board_feet,
    softwood_board_feet, softwood_dressed, surfaced_thickness,
};
pub use species::{MOISTURE_PERCENT, Movement, Sourced, Weight, Wood};
pub use table::WOODS;
pub use working::{Class, Hardness, Rating, Workability, hardness_from_gravity};
