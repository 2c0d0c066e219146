//! What the bench must be told about a panel, whatever machine notches its strips. Millimetres.

use crate::lattice::{PanelEnd, Turn};
use serde::Serialize;

/// A panel's joints, their order and its strips' peculiarities.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PanelFacts {
    /// Which end of a family's strips is the datum, and how they are numbered.
    pub datums: Vec<FamilyDatum>,
    /// The least that stays of a strip at a node, family by family.
    pub least_sections: Vec<LeastSection>,
    /// Which strips are laid on each other in which order, the panel's back down.
    pub assembly: Vec<AssemblyStep>,
    /// Strips that lie in the panel turned end for end, bundle by bundle.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub turned: Vec<TurnedStrips>,
    /// Strips that are notched longer than they are needed, and what is kept of them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trims: Vec<TrimmedStrips>,
    /// What it saves and costs to notch shorter strips with longer ones.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub riding: Option<RidingFacts>,
    /// Bundles that are the same part, or its mirror image.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub alike: Vec<AlikeBundles>,
}

/// How the strips of a family lie in the panel, seen from its front.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FamilyDatum {
    /// What the strips are called.
    pub family: &'static str,
    /// The letter of their labels.
    pub letter: char,
    /// The datum end.
    pub datum: PanelEnd,
    /// Where number 1 lies.
    pub first: PanelSide,
}

/// A side of the panel, seen from its front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PanelSide {
    /// Where upright strips are numbered from.
    Left,
    /// Where flat ones are.
    Bottom,
}

impl PanelSide {
    /// `left` or `bottom`.
    pub fn name(self) -> &'static str {
        match self {
            PanelSide::Left => "left",
            PanelSide::Bottom => "bottom",
        }
    }
}

/// What stays of a family's strips where it is least.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeastSection {
    /// What the strips are called.
    pub family: &'static str,
    /// Front to back.
    pub depth_kept_mm: f64,
    /// As seen from the front.
    pub thickness_mm: f64,
}

/// Strips that may be laid together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AssemblyStep {
    /// From 1.
    pub step: usize,
    /// Their labels, runs shortened.
    pub strips: String,
}

/// Strips of a bundle that are turned end for end before they are laid.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TurnedStrips {
    /// Index of the bundle, from 1.
    pub bundle: usize,
    /// Their labels, runs shortened.
    pub strips: String,
}

/// Strips of a bundle that are cut to length after notching.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimmedStrips {
    /// Index of the bundle, from 1.
    pub bundle: usize,
    /// Their labels, runs shortened.
    pub strips: String,
    /// First cut, from the datum end of the bundle as its notches are listed.
    pub kept_from_mm: f64,
    /// Second cut, likewise.
    pub kept_to_mm: f64,
}

/// Shorter strips notched in longer ones' bundles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RidingFacts {
    /// Whether the job asks for it.
    pub done: bool,
    /// Bundles of equal strips.
    pub bundles_apart: usize,
    /// Bundles where shorter strips ride along.
    pub bundles_together: usize,
    /// Wood more, over all strips.
    pub wood_mm: f64,
}

/// Two bundles whose parts are alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlikeBundles {
    /// Index of the bundle, from 1.
    pub bundle: usize,
    /// Index of an earlier one.
    pub like_bundle: usize,
    /// How a strip of it is turned to be the earlier one's part; nothing for a mirror image.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turn: Option<Turn>,
    /// Whether its datum end then lies at the earlier one's far end.
    pub ends_change: bool,
}
