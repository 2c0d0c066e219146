//! The frame's rails and their mortises. Millimetres.

use super::degrees;
use serde::Serialize;

/// A panel's frame.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RailPlan {
    /// What is made.
    pub title: String,
    /// Mortise, from the rail's inner face to its floor.
    pub mortise_depth_mm: f64,
    /// Mortise, across the rail.
    pub mortise_height_mm: f64,
    /// Front face of the rail to the mortise's front edge.
    pub from_front_mm: f64,
    /// Rail, front to back.
    pub thickness_mm: f64,
    /// What corners a router's tool leaves, where the job names a router.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_radius_mm: Option<f64>,
    /// Round the panel counter-clockwise.
    pub rails: Vec<RailFigures>,
    /// Where strips are trimmed after glue-up.
    pub trims: Vec<TrimFigures>,
}

/// One rail.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RailFigures {
    /// What it is called.
    pub name: String,
    /// Of the inner face, between the inner corners of the frame.
    pub inner_length_mm: f64,
    /// From its left or lower inner corner.
    pub mortises: Vec<MortiseFigures>,
    /// Strips cut flush with its face: they meet it too near a corner.
    pub flush: Vec<String>,
}

/// One mortise; positions along the rail's inner face from its left or lower inner corner.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MortiseFigures {
    /// From 1.
    pub index: usize,
    /// Strips that it takes.
    pub strips: Vec<String>,
    /// To its middle.
    pub centre_mm: f64,
    /// To its nearer edge.
    pub near_edge_mm: f64,
    /// To its farther edge.
    pub far_edge_mm: f64,
    /// Along the rail.
    pub width_mm: f64,
    /// Between rail and strip, radians; degrees when serialised.
    #[serde(rename = "angle_deg", serialize_with = "degrees")]
    pub angle: f64,
}

/// Where strips are trimmed; the same for all that are named.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimFigures {
    /// Labels, runs shortened.
    pub strips: String,
    /// From the strip's datum end to the cut there, in the middle of its thickness.
    pub datum_end_mm: f64,
    /// From the strip's datum end to the cut at the other end.
    pub other_end_mm: f64,
    /// Between strip and cut, radians; degrees when serialised.
    #[serde(rename = "datum_end_angle_deg", serialize_with = "degrees")]
    pub datum_angle: f64,
    /// The same at the other end.
    #[serde(rename = "other_end_angle_deg", serialize_with = "degrees")]
    pub other_angle: f64,
}
