//! What is known of woods that a job might be made of, side by side.

use crate::woods::Basis;
use serde::Serialize;

/// Woods, one a row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WoodTable {
    /// In the order in which they were asked for.
    pub woods: Vec<WoodRow>,
}

/// What is known of a wood; what is not there is not known.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WoodRow {
    /// What it is called in the table, or by who asked.
    pub wood: String,
    /// Where nothing is known by this name: woods that could be meant.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub like: Vec<&'static str>,
    /// At 12 % of moisture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density_kg_m3: Option<Told<f64>>,
    /// On its side, by Janka, newtons, at 12 % of moisture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardness_n: Option<Told<f64>>,
    /// By Brinell, N/mm2.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brinell_n_mm2: Option<Told<f64>>,
    /// For each percent of moisture, percent of its width across the growth rings, then along them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub movement_percent: Option<Told<[f64; 2]>>,
    /// How well it works.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub work: Option<Told<Ratings>>,
    /// Of pieces planed on trial, the percentage that came out good.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub planed_well_percent: Option<Told<f64>>,
    /// What it costs, by whoever asks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
}

/// A figure, how sure it is, and who says so.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Told<T> {
    /// The figure.
    pub value: T,
    /// How sure it is.
    pub basis: Basis,
    /// Where it comes from.
    pub source: &'static str,
}

/// From 1, fair, to 4, excellent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Ratings {
    /// Under machines' cutters.
    pub machining: u8,
    /// How well it keeps from splitting.
    pub splitting: u8,
    /// How well glue holds it.
    pub gluing: u8,
}

/// What a wood costs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Price {
    /// In any money.
    pub amount: f64,
    /// For how much wood.
    pub per: PricedBy,
}

/// What a price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PricedBy {
    /// A cubic metre.
    CubicMetre,
    /// A board foot.
    BoardFoot,
    /// A metre of ready strip.
    Metre,
}

impl PricedBy {
    /// After the amount.
    pub fn words(self) -> &'static str {
        match self {
            PricedBy::CubicMetre => "/m3",
            PricedBy::BoardFoot => "/bd ft",
            PricedBy::Metre => "/m",
        }
    }
}
