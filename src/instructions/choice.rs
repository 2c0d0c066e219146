//! The panels worth making for an opening, side by side. Millimetres.

use crate::phrase::Phrase;
use crate::units::UnitSystem;
use serde::{Serialize, Serializer};

/// What there is to choose from, and by what it was ordered.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Choice {
    /// Between the frame's inner faces, or between the flush ends where there is no frame: what the bays
    /// and margins fill, width and height.
    pub inside_mm: [f64; 2],
    /// About this pitch, where one is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wanted_pitch_mm: Option<f64>,
    /// From the inside's edge to the outermost centre line.
    pub least_margin_mm: f64,
    /// Where one is asked for; else one pitch more than the least.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_margin_mm: Option<f64>,
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
    /// Of the inner bays: along x, between uprights, and along y, between cross strips.
    pub pitch_mm: [f64; 2],
    /// Of the first and last bay in each direction, where these are not like the others in both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub border_mm: Option<[f64; 2]>,
    /// Bays side by side.
    pub columns: usize,
    /// Bays above each other.
    pub rows: usize,
    /// From the inside's edge to the outermost centre line: at the left and right, below and above.
    pub margin_mm: [f64; 2],
    /// Over all, frame included; nothing where its members' widths are not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finished_mm: Option<[f64; 2]>,
    /// Whether the inner cells are as wide as high.
    pub square: bool,
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
    /// Whether every step of the panel is one that a slot gives as measured.
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
    /// Settings of a sled, sheets of a laser, set-ups of a router, blocks of a guide.
    pub set_ups: usize,
    /// The same in words.
    pub what: String,
    /// Of a sled: notches that its plan cuts, those of a bundle once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steps: Option<usize>,
    /// Of these, where it has a rack, those that are cut over the key.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steps_over_key: Option<usize>,
    /// Estimated, without clamping; only where the plan has an estimate, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_s: Option<f64>,
    /// Why it cannot do it, if it cannot.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[serde(serialize_with = "some_in_millimetres")]
    pub cannot: Option<Phrase>,
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
