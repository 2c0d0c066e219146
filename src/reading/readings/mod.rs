//! Files of readings, TOML or CSV.

mod from_csv;
mod from_toml;
mod raw;
mod typed;

pub use typed::{ReadingsFormat, read_readings};
