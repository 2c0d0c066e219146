//! A frame's corners with mortise and tenon, and what is cut along its members. Millimetres.

use serde::Serialize;

/// Mortise and tenon at the corners.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TenonFigures {
    /// Tenon, front to back.
    pub thickness_mm: f64,
    /// Members' front face to the tenon's front cheek, and to its mortise's front wall.
    pub from_front_mm: f64,
    /// Tenon, shoulder to end.
    pub length_mm: f64,
    /// Mortise, stile's inner face to its floor.
    pub mortise_depth_mm: f64,
    /// Haunch, shoulder to its end; zero: none.
    pub haunch_mm: f64,
    /// Bottom and top.
    pub rails: Vec<TenonedRailFigures>,
    /// Left and right.
    pub stiles: Vec<StileFigures>,
    /// Added to a stile at both ends, and cut off when the joint is glued.
    pub horn_mm: f64,
    /// Least wood between a tenon's mortise and a strip's, along a stile.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_between_mortises_mm: Option<f64>,
}

/// A level member.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TenonedRailFigures {
    /// What it is called.
    pub name: String,
    /// Inner edge to outer edge.
    pub width_mm: f64,
    /// End to end, over its tenons.
    pub cut_length_mm: f64,
    /// Between its shoulders at the front.
    pub between_shoulders_mm: f64,
    /// Between its shoulders at the back: longer by a rebate on both sides.
    pub between_back_shoulders_mm: f64,
    /// Inner edge to the tenon's nearer edge.
    pub from_inner_edge_mm: f64,
    /// Tenon, across the rail: half of what a groove leaves, (w - g) / 2.
    pub tenon_width_mm: f64,
    /// What the rule gives if it is read as w / 2 - g; the same without a groove.
    pub tenon_width_read_otherwise_mm: f64,
    /// Haunch, across the rail, from the tenon to the outer edge.
    pub haunch_width_mm: f64,
}

/// An upright member.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StileFigures {
    /// What it is called.
    pub name: String,
    /// Inner edge to outer edge.
    pub width_mm: f64,
    /// End to end, without horns.
    pub cut_length_mm: f64,
    /// With a horn at each end: what it is cut to first.
    pub blank_mm: f64,
    /// Lower mortise, both edges from the stile's finished lower end.
    pub lower_mortise_mm: [f64; 2],
    /// Upper mortise, likewise.
    pub upper_mortise_mm: [f64; 2],
}

/// A rebate or groove along the members' inner edges.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RecessFigures {
    /// `rebate` or `groove`.
    pub kind: &'static str,
    /// Members' inner face to its wall or floor.
    pub into_member_mm: f64,
    /// Members' front face to its nearer and its farther wall; a rebate's farther one is the back face.
    pub from_front_mm: [f64; 2],
    /// Of what lies in it, wall to wall or floor to floor: width and height, where the frame is an upright
    /// rectangle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_mm: Option<[f64; 2]>,
}
