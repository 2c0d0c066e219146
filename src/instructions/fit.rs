//! Whether a panel will go together, told before it is cut. Millimetres.

use super::degrees;
use crate::lattice::FitWishes;
use serde::Serialize;

/// A job's panel, way by way.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitPlan {
    /// What is made.
    pub title: String,
    /// What the job asks for.
    pub wishes: FitWishes,
    /// From where the random numbers run.
    pub seed: u64,
    /// One for each machine that cuts strips.
    pub ways: Vec<WayFit>,
    /// Whether all of them are as the job asks.
    pub ok: bool,
}

/// A panel as one machine would make it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayFit {
    /// `sled`, `router` or `laser`.
    pub way: &'static str,
    /// Which one.
    pub machine: String,
    /// How the profile's figures plus or minus are read: `limits`, `twice` or `once`.
    pub plus_minus: &'static str,
    /// Every figure plus or minus that was used.
    pub spreads: Vec<SpreadUsed>,
    /// Panels drawn.
    pub draws: usize,
    /// A few figures by formula and by draws, side by side.
    pub compared: Vec<ComparedFigure>,
    /// Every notch with the strip in it.
    pub joints: Vec<JointFit>,
    /// How far the front faces of lapped strips stand apart; nothing on grids of three families.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flush_mm: Option<Off>,
    /// The openings between strips.
    pub bays: Vec<BayFit>,
    /// Kinds of pieces.
    pub pieces: Vec<PieceFit>,
    /// Whether the strips go together; nothing where that is not predicted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub closes: Option<Closing>,
    /// The panel as a whole.
    pub panel: PanelFit,
    /// Whether trimmed ends meet the frame's mortises.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mortises: Option<MortiseFit>,
    /// What is not predicted, and why.
    pub not_predicted: Vec<&'static str>,
    /// What would help, cheapest first.
    pub advice: Vec<Advice>,
    /// Whether it goes together as often as the job asks; true where that is not predicted.
    pub ok: bool,
}

/// A figure plus or minus that went into the prediction.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpreadUsed {
    /// Of what.
    pub what: &'static str,
    /// Field of the profile.
    pub field: &'static str,
    /// Plus or minus.
    pub plus_minus_mm: f64,
    /// Standard deviation, by the way that it is read.
    pub deviation_mm: f64,
    /// `profile`, or `assumed` where nobody gave it.
    pub from: &'static str,
}

/// How far a figure is off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Off {
    /// The known part.
    pub known_mm: f64,
    /// Plus or minus on top, all figures at their worst.
    pub worst_mm: f64,
    /// Plus or minus on top, twice the root of the sum of squares, about 95 %; no more than the worst case where
    /// that is a limit.
    pub expanded_mm: f64,
}

/// A figure by formula and by draws.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComparedFigure {
    /// `place`, `clearance`, `opening`, `width` or `height`.
    pub kind: &'static str,
    /// Of what: the notch, the strips, the faces that it is measured over.
    pub what: String,
    /// As expected; of a place how far it is known to be off.
    pub value_mm: f64,
    /// Plus or minus, all figures at their worst.
    pub worst_mm: f64,
    /// Plus or minus, twice the root of the sum of squares.
    pub expanded_mm: f64,
    /// Plus or minus, half of the shortest span that holds 95 % of the draws.
    pub drawn_mm: f64,
}

/// A notch and the strip in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JointFit {
    /// What the notched strip is called.
    pub family: &'static str,
    /// Its label.
    pub strip: String,
    /// Which notch, from 1.
    pub notch: usize,
    /// Label of the strip in it.
    pub mate: String,
    /// How far the notch's middle is off, from the strip's datum end.
    pub place_error_mm: Off,
    /// Width of the notch as cut less the mate's thickness, square to the mate.
    pub clearance_mm: f64,
    /// Plus or minus of it, twice the root of the sum of squares.
    pub clearance_uncertainty_mm: f64,
    /// Chance that it binds: that clearance and crush together are below zero; by draws.
    pub bind_chance: f64,
    /// The same from a normal spread.
    pub bind_chance_by_formula: f64,
}

/// An opening. On square grids it has a column and a row, from 1; on others it lies between two strips.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BayFit {
    /// From the left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub column: Option<usize>,
    /// From below.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub row: Option<usize>,
    /// Labels of the strips that it lies between, where it has no column and row.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub between: Vec<String>,
    /// From face to face: width and height, or the one distance between two strips.
    pub opening_mm: Vec<f64>,
    /// The same as drawn.
    pub drawn_mm: Vec<f64>,
    /// Plus or minus of each, twice the root of the sum of squares.
    pub uncertainty_mm: Vec<f64>,
}

/// A kind of piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceFit {
    /// Its name.
    pub kind: String,
    /// How many.
    pub count: usize,
    /// Length over points as drawn.
    pub drawn_mm: f64,
    /// The mean over all bays, for the openings as they come out.
    pub length_mm: f64,
    /// Shortest and longest over all bays, uncertainty included.
    pub range_mm: [f64; 2],
    /// Whether all can be made to one length: no bay differs from the mean by more than the job's `batch`.
    pub batch: bool,
    /// Column and row of the bays that need pieces of their own.
    pub own_bays: Vec<[usize; 2]>,
}

/// Whether rigid straight strips go together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Closing {
    /// The least of half the room less the residual, over all joints of the best assembly, of the panel
    /// with what is known alone.
    pub margin_mm: f64,
    /// The room at every joint is its clearance and this, which wood gives.
    pub crush_mm: f64,
    /// How much of that the tightest joint takes in the mean: what is pressed.
    pub squeeze_mm: f64,
    /// Share of the draws that go together.
    pub chance: f64,
    /// Its limits at 95 %, Wilson's interval.
    pub chance_within: [f64; 2],
    /// Draws that bounds decided, and those that the linear program was asked for.
    pub decided_by_bounds: usize,
    /// See there.
    pub decided_by_program: usize,
    /// Draws left over; the share of those asked stands for them, and widens the limits.
    pub left_open: usize,
    /// What it takes to bend a strip.
    pub bending: Bending,
}

/// Bending the worst strip into place: a force in the middle of two bays, both ends held.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Bending {
    /// How far.
    pub deflection_mm: f64,
    /// Over which length.
    pub span_mm: f64,
    /// Newton.
    pub force_n: f64,
    /// Young's modulus that was taken, N/mm2; assumed.
    pub stiffness: f64,
}

/// The panel as a whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelFit {
    /// Over the outer faces of the outermost strips, width and height; nothing where the grid is slanted.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub size_mm: Vec<f64>,
    /// Plus or minus of each, twice the root of the sum of squares.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub size_uncertainty_mm: Vec<f64>,
    /// How far the bare grid turns before walls bear, radians; degrees when serialised.
    #[serde(rename = "rack_deg", serialize_with = "degrees")]
    pub rack: f64,
    /// By how much its diagonals, over the outer centre lines, differ then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diagonal_difference_mm: Option<f64>,
}

/// Ends in mortises.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MortiseFit {
    /// Greatest distance of an end from its mortise's middle, the panel moved as it fits best; known part
    /// and what comes on top.
    pub off_mm: Off,
    /// Half of what a mortise is wider than its strip, with what wood gives.
    pub half_room_mm: f64,
    /// Share of the draws in which all ends meet.
    pub chance: f64,
}

/// A change that helps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    /// Field of the job or profile.
    pub setting: &'static str,
    /// Whose field: `job` or `profile`.
    pub of: &'static str,
    /// As it is.
    pub from_mm: f64,
    /// As it should be.
    pub change_mm: f64,
    /// The chance to go together then: the same draws with the change.
    pub gain: f64,
}
