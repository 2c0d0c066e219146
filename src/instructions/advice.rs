//! What would change the work most, worked out by planning it so.

use serde::Serialize;

/// Shorter strips could ride in longer ones' bundles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    /// Bundles as the job has them, and with `bundling = "runs"`.
    pub bundles: [usize; 2],
    /// Set-ups of the router, likewise, where it can make both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub setups: Option<[usize; 2]>,
    /// Wood that is then trimmed off, over all strips.
    pub wood_mm: f64,
}
