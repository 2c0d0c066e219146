//! The panels worth making for an opening, side by side. Millimetres.

use super::degrees;
use crate::phrase::Phrase;
use crate::units::UnitSystem;
use serde::{Serialize, Serializer};

/// What there is to choose from, and by what it was ordered.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Choice {
    /// What the cells are: `square`, `diamond`, `triangular`.
    pub kind: &'static str,
    /// Between the frame's inner faces, or between the flush ends where there is no frame: what the bays
    /// and margins fill, width and height.
    pub inside_mm: [f64; 2],
    /// About this pitch, where one is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wanted_pitch_mm: Option<f64>,
    /// From the inside's edge to the outermost centre line; of slanted grids to the edge of what the cells
    /// fill, and only where one is asked for: else it is half a strip beside an edge that strips may lie
    /// along.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_margin_mm: Option<f64>,
    /// Where one is asked for; else, of square grids, one pitch more than the least.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_margin_mm: Option<f64>,
    /// What rough times are reckoned with.
    pub rates: Vec<RateFigures>,
    /// What decides, the first before the second.
    pub ranked_by: Vec<&'static str>,
    /// Best first.
    pub options: Vec<PanelOption>,
}

/// One panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelOption {
    /// From 1.
    pub option: usize,
    /// Of the inner bays: along x, between uprights, and along y, between cross strips; of slanted grids
    /// twice the distance between neighbouring centre lines, square to them.
    pub pitch_mm: [f64; 2],
    /// Of the first and last bay in each direction, where these are not like the others in both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub border_mm: Option<[f64; 2]>,
    /// Bays side by side, those included that the frame closes; of slanted grids whole columns.
    pub columns: usize,
    /// Bays above each other, likewise.
    pub rows: usize,
    /// From the inside's edge to the outermost centre line, of slanted grids to the edge of what the cells
    /// fill: at the left and right, below and above.
    pub margin_mm: [f64; 2],
    /// Over all, frame included; nothing where its members' widths are not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finished_mm: Option<[f64; 2]>,
    /// Whether the inner cells are as wide as high.
    pub square: bool,
    /// Whether the frame's inner faces close the outermost cells, and no strip.
    pub frame_closes: bool,
    /// What only rhombs and triangles have.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slanted: Option<SlantedFigures>,
    /// What the sled's rack does for it, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rack: Option<RackChoice>,
    /// Distinct pieces of the pattern, where there is one.
    pub piece_kinds: usize,
    /// Pieces in all.
    pub pieces: usize,
    /// Whole cells that the pattern leaves open.
    pub cells_open: usize,
    /// Strips in all.
    pub strips: usize,
    /// Their lengths together, overhangs included, m.
    pub strip_metres: f64,
    /// At all machines together.
    pub set_ups: usize,
    /// Machine by machine, in working order.
    pub at_machines: Vec<MachineShare>,
    /// What is done by hand.
    pub at_bench: BenchShare,
    /// Why it stands where it stands.
    #[serde(serialize_with = "in_millimetres")]
    pub reason: Phrase,
}

/// The slots of a rack that a panel is drawn to, or the one that comes nearest.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RackChoice {
    /// What the inner bays' slot is called.
    pub slot_mm: f64,
    /// What it gives: centre of the key to centre of the kerf as measured.
    pub bay_mm: f64,
    /// Whether every step of the panel is one that a slot gives as measured. Of notches in overhangs, which
    /// are trimmed off, some may lie elsewhere.
    pub reached: bool,
    /// The slot of the outermost bays along x and y, where they are not like the others.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub border_slot_mm: Option<[f64; 2]>,
}

/// What one machine has to do for a panel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MachineShare {
    /// Where it stands: `sled`, `laser`, `router`, `guides`.
    pub station: &'static str,
    /// Its profile.
    pub machine: String,
    /// Settings of a sled, sheets of a laser, set-ups of a router, blocks of a guide: for strips, and for
    /// guides.
    pub set_ups: usize,
    /// For the mitres of pieces: settings of a sled, programs of a router.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mitre_set_ups: Option<usize>,
    /// Facets of pieces that are made here.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facets: Option<usize>,
    /// The same in words.
    pub what: String,
    /// Of a sled: notches that its plan cuts, those of a bundle once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steps: Option<usize>,
    /// Of these, where it has a rack, those that are cut over the key.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steps_over_key: Option<usize>,
    /// Passes of a sled through blocks of strips and sticks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cuts: Option<usize>,
    /// Estimated, s: of a router by its plans, without clamping; of a sled settings and cuts by the rates.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_s: Option<f64>,
    /// Why it cannot do it, if it cannot.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[serde(serialize_with = "some_in_millimetres")]
    pub cannot: Option<Phrase>,
}

/// A rhomb's or a triangle's figures, and where the inside cuts them. Millimetres, radians.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SlantedFigures {
    /// How they lie: `upright`, `on-point`, `lying`.
    pub stance: &'static str,
    /// Between the families; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
    /// Of a triangle, from node to node.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub side_mm: Option<f64>,
    /// What a column and a row take.
    pub cell_mm: [f64; 2],
    /// Where a node lies: `node` in the middle of what the cells fill, `corner` at its lower left corner.
    pub centre: &'static str,
    /// What becomes of what whole cells leave over: `cut-cells`, `margins`.
    pub rest: &'static str,
    /// What whole cells leave over within the least margins, at the left and right each, below and above
    /// each.
    pub left_over_mm: [f64; 2],
    /// Cells that are whole.
    pub whole_cells: usize,
    /// Cells that the edge of what they fill cuts.
    pub cut_cells: usize,
    /// Of the strips, between the frame's inner faces or the flush ends, the shortest.
    pub shortest_strip_mm: f64,
}

/// What is done by hand, and roughly how long that takes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BenchShare {
    /// Strips to lay, glue and trim.
    pub strips: usize,
    /// Pieces to cut to rough length, or part from a stick, and to fit.
    pub pieces: usize,
    /// Facets to pare.
    pub facets: usize,
    /// Blocks of guides to fit.
    pub blocks: usize,
    /// By the rates, s.
    pub time_s: f64,
}

/// How long one of a kind of work takes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RateFigures {
    /// As a job's table of rates calls it.
    pub name: &'static str,
    /// For each, s.
    pub seconds: f64,
    /// Whether it is an example, and nobody's own.
    pub example: bool,
}

impl PanelOption {
    /// Machines that cannot do their share.
    pub fn lacking(&self) -> Vec<&MachineShare> {
        let all = self.at_machines.iter();
        all.filter(|share| share.cannot.is_some()).collect()
    }
}

fn in_millimetres<S: Serializer>(phrase: &Phrase, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(&phrase.text(UnitSystem::Millimetres))
}

fn some_in_millimetres<S: Serializer>(phrase: &Option<Phrase>, to: S) -> Result<S::Ok, S::Error> {
    match phrase {
        Some(phrase) => in_millimetres(phrase, to),
        None => to.serialize_none(),
    }
}
