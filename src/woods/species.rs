//! What published tables say of woods.

use super::basis::Basis;
use super::working::{Class, Hardness, Workability};

/// A wood, and what is known of it.
#[derive(Debug, PartialEq)]
pub struct Wood {
    /// All that it is called, its usual name first. The order of the words does not matter.
    pub names: &'static [&'static str],
    /// How heavy it is.
    pub weight: Option<Sourced<Weight>>,
    /// How it moves.
    pub movement: Option<Sourced<Movement>>,
    /// What botany has it for.
    pub class: Class,
    /// How hard it is at [`MOISTURE_PERCENT`].
    pub hardness: Option<Sourced<Hardness>>,
    /// How it takes to tools and glue.
    pub work: Option<Sourced<Workability>>,
    /// Of its pieces that were planed on trial, the percentage that came out good.
    pub planed_well: Option<Sourced<f64>>,
}

/// A figure, how sure it is, and who says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// How sure it is.
    pub basis: Basis,
    /// Where it comes from.
    pub source: &'static str,
}

/// What a source says of a wood's weight at [`MOISTURE_PERCENT`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Weight {
    /// Specific gravity: oven-dry mass by volume at that moisture, by the density of water.
    SpecificGravity(f64),
    /// Density, kg/m3.
    Density(f64),
}

/// How much wider a wood becomes across its grain for each percent of moisture: parts of its width.
/// Along the grain it hardly moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Movement {
    /// Square to the growth rings.
    pub radial: f64,
    /// Along them.
    pub tangential: f64,
}

/// Water by oven-dry wood, percent: what tables of densities are made for.
pub const MOISTURE_PERCENT: f64 = 12.0;

impl Weight {
    /// Density at M percent moisture is 1000 G (1 + M / 100) kg/m3, G being oven-dry mass by volume at M
    /// percent (Wood Handbook, chapter 4; from memory).
    pub fn kg_per_m3(self) -> f64 {
        match self {
            Weight::SpecificGravity(gravity) => 1000.0 * gravity * (1.0 + MOISTURE_PERCENT / 100.0),
            Weight::Density(density) => density,
        }
    }
}
