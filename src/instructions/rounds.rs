//! The cuts at a saw in the order in which they are made: what is set, and all that is cut before it is moved.

use crate::lattice::Face;
use serde::Serialize;

/// By what the cuts of a setting of the saw are put in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CutOrder {
    /// A stop is set once, for all bundles that it serves.
    Stops,
    /// A bundle is cut through before the next one is begun.
    Bundles,
}

/// Cuts of one setting of the saw for which every block is laid once. At a slanted fence blocks are stepped
/// for one face, so bundles that are notched in both take two rounds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Round {
    /// The face that is notched, where all strips of the round lie on the same.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub face: Option<Face>,
    /// In working order.
    pub places: Vec<Place>,
}

/// One place of stop, spacers or key, and what is cut there.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Place {
    /// What is set.
    #[serde(flatten)]
    pub set: PlaceSet,
    /// In working order; what has to come away first stands with the first one's step.
    pub cuts: Vec<PlaceCut>,
}

/// What is set before anything is cut.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "register", rename_all = "lowercase")]
pub enum PlaceSet {
    /// The stop.
    Stop {
        /// Number of the stop's setting, from 1 in working order; the same number as before: it is not touched.
        stop_setting: usize,
        /// Face of the stop to the near side of the kerf, along the fence, of a single pass in the notch's
        /// middle.
        stop_to_kerf_mm: f64,
    },
    /// The stop, and spacers against it.
    Spacers {
        /// Number of the stop's setting, as above.
        stop_setting: usize,
        /// Face of the stop to the near side of the kerf, as above.
        stop_to_kerf_mm: f64,
        /// Length of the spacers together.
        spacer_mm: f64,
    },
    /// The key.
    Key {
        /// The rack's slot, by name.
        slot_mm: f64,
    },
}

/// One notch of a bundle's strips, in all its blocks.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PlaceCut {
    /// Index of the bundle, from 1; bundles that are cut as this one go with it.
    pub bundle: usize,
    /// The face that is notched.
    pub face: Face,
    /// Index of the notch, from 1.
    pub notch: usize,
    /// Index of the notch that drops over the key.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_notch: Option<usize>,
}

impl PlaceSet {
    /// Number of the stop's setting, where it stands.
    pub fn stop_setting(&self) -> Option<usize> {
        match self {
            PlaceSet::Stop { stop_setting, .. } | PlaceSet::Spacers { stop_setting, .. } => {
                Some(*stop_setting)
            }
            PlaceSet::Key { .. } => None,
        }
    }
}
