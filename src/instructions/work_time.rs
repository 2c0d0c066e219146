//! How long a job's work takes. Seconds.

use serde::Serialize;

/// Work at machines and bench, way by way.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorkTime {
    /// What cuts the strips' notches, each machine that the job names.
    pub strips: Vec<WayTime>,
    /// What makes the pieces' mitres, each way that they could be made.
    pub pieces: Vec<WayTime>,
    /// Laying strips and pieces in, gluing, trimming.
    pub assembly: WayTime,
    /// The rates that it is reckoned with.
    pub rates: Vec<RateUsed>,
}

/// One way to do a piece of work.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayTime {
    /// `sled`, `router`, `laser`; `guides`, `rows`, `stick-ends`, `routed-rows`; `bench`.
    pub way: &'static str,
    /// The machine, where it is one's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// Whether the job takes this way.
    pub is_taken: bool,
    /// What it is made of.
    pub work: Vec<WorkCount>,
    /// Of machines that are planned by time: without loading and clamping.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub machine_s: Option<f64>,
    /// All together; nothing where a part of it cannot be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_s: Option<f64>,
    /// Why not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub not_told: Option<&'static str>,
}

/// So much of a kind of work.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WorkCount {
    /// Its rate, as the job's `[rates]` call it.
    pub rate: &'static str,
    /// How often.
    pub count: usize,
    /// All of it.
    pub time_s: f64,
}

/// A rate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RateUsed {
    /// As the job's `[rates]` call it.
    pub rate: &'static str,
    /// For each.
    pub seconds: f64,
    /// Whether the job says so; else it is an example.
    pub is_own: bool,
}
