//! The vocabulary of all outputs: what planning says and writing spells out.

pub mod lettering;
pub mod outline;
