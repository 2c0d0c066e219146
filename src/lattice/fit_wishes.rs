//! What a job asks of how its panel goes together. Millimetres.

use serde::Serialize;

/// What a prediction is held against.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FitWishes {
    /// What wood gives at a joint before it binds: room is clearance and this.
    #[serde(rename = "crush_mm")]
    pub crush: f64,
    /// Whether nobody gave it.
    pub crush_is_assumed: bool,
    /// Least chance that the strips go together.
    pub least_chance: f64,
    /// How far a bay's pieces may differ from the mean of their batch.
    #[serde(rename = "batch_mm")]
    pub batch: f64,
}

impl Default for FitWishes {
    /// Common practice, no source.
    fn default() -> Self {
        FitWishes {
            crush: 0.03,
            crush_is_assumed: true,
            least_chance: 0.95,
            batch: 0.1,
        }
    }
}
