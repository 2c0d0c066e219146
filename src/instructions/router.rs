//! What a router does with a lattice's strips. Millimetres in the program's frame, mm/min, s.

use super::sled::NotchFigures;
use super::tool_path::ToolPath;
use serde::Serialize;

/// A lattice's strips on a router, one set-up a bundle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RouterPlan {
    /// What is made.
    pub title: String,
    /// On which machine.
    pub machine: String,
    /// In working order.
    pub setups: Vec<RouterSetup>,
}

/// One clamping of a bundle and its program.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RouterSetup {
    /// Name of the program's file.
    pub file: String,
    /// What the strips are called.
    pub family: &'static str,
    /// Their labels, runs shortened.
    pub strips: String,
    /// How many strips in all.
    pub count: usize,
    /// How many in one bundle.
    pub strips_per_run: usize,
    /// How often the program runs, with a new bundle each time.
    pub runs: usize,
    /// Pieces of scrap that fill up the last bundle.
    pub fill_with_scrap: usize,
    /// The face that lies up.
    pub face: &'static str,
    /// Over the cutting edges.
    pub tool_diameter_mm: f64,
    /// Where the wood is.
    pub stock: Stock,
    /// For moves from notch to notch.
    pub safe_z_mm: f64,
    /// Depth taken at once.
    pub step_down_mm: f64,
    /// While cutting.
    pub feed_mm_per_min: f64,
    /// While going down, in air.
    pub plunge_mm_per_min: f64,
    /// Clockwise.
    pub spindle_rpm: f64,
    /// From the datum end.
    pub notches: Vec<NotchFigures>,
    /// Way of the tool at cutting feed, through wood or in line with it.
    pub cutting_mm: f64,
    /// Way of the tool in rapid moves.
    pub rapid_mm: f64,
    /// Estimated, every move from rest to rest, spin-up included, for one run.
    pub time_s: f64,
    /// The tool's moves.
    #[serde(skip)]
    pub path: ToolPath,
}

/// Where the clamped bundle lies.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stock {
    /// Datum end, other end.
    pub x_mm: [f64; 2],
    /// Front edge, back edge.
    pub y_mm: [f64; 2],
    /// Bottom, top.
    pub z_mm: [f64; 2],
}
