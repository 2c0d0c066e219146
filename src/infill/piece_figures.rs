//! What a piece's polygon says about making it.

use super::contact::{Contact, Polygon};
use super::pattern::PieceSide;
use serde::Serialize;

use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::lattice::Face;
use float_cmp::ApproxEq;
use std::f64::consts::{FRAC_PI_2, PI};

/// A piece's figures. Millimetres, radians.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Along the axis, from extreme point to extreme point.
    pub length: f64,
    /// The end at which the axis starts.
    pub from: End,
    /// The end at which the axis ends.
    pub to: End,
    /// Laps, in order from the first end.
    pub laps: Vec<PieceLap>,
    /// Where a strip is folded, in order from the first end: all other figures are of the unfolded one.
    pub folds: Vec<PieceFold>,
}

impl Figures {
    /// Both ends, `from` first.
    pub fn ends(&self) -> [&End; 2] {
        [&self.from, &self.to]
    }
}

/// How one end is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct End {
    /// One or two facets; of two the left one first.
    pub facets: Vec<Facet>,
    /// Signed distance from the axis of the line where two facets meet, positive to the left: the ridge
    /// of a point, the apex of a mouth.
    pub ridge_offset: Option<f64>,
}

/// A bird's mouth: two facets that turn inward, over a corner of other pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mouth {
    /// Between its facets, in the air; below pi.
    pub angle: f64,
    /// From the end's extreme point to the apex, along the axis.
    pub depth: f64,
    /// Signed distance of the apex from the axis, positive to the left.
    pub offset: f64,
}

impl End {
    /// With left and right exchanged, the left facet first again.
    pub(super) fn mirrored(&self) -> End {
        let seen = |facet: &Facet| Facet {
            side: match facet.side {
                FacetSide::Left => FacetSide::Right,
                FacetSide::Right => FacetSide::Left,
                FacetSide::Across => FacetSide::Across,
            },
            ..*facet
        };
        End {
            facets: self.facets.iter().rev().map(seen).collect(),
            ridge_offset: self.ridge_offset.map(|offset| -offset),
        }
    }

    /// What its facets leave where they turn inward.
    pub fn mouth(&self) -> Option<Mouth> {
        let [left, right] = self.facets.as_slice() else {
            return None;
        };
        let angle = 2.0 * PI - left.jig_angle - right.jig_angle;
        if angle > PI - DIRECTION.epsilon {
            return None;
        }
        let apex = left.shoulder + left.width / left.jig_angle.tan();
        Some(Mouth {
            angle,
            depth: left.shoulder.max(right.shoulder) - apex,
            offset: self.ridge_offset.unwrap_or_default(),
        })
    }
}

/// The side of a piece that a facet cuts into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum FacetSide {
    /// The left side, seen from the piece's `from` to its `to`.
    Left,
    /// The right side.
    Right,
    /// Square across the whole end.
    Across,
}

impl FacetSide {
    /// `left`, `right` or `across`.
    pub fn name(self) -> &'static str {
        match self {
            FacetSide::Left => PieceSide::Left.name(),
            FacetSide::Right => PieceSide::Right.name(),
            FacetSide::Across => "across",
        }
    }
}

/// One plane of an end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facet {
    /// The side that it cuts into.
    pub side: FacetSide,
    /// Between facet and axis; above 90 deg where of two facets this one leans past square, so
    /// that the piece's extreme point is its corner with the long side. Those of a mouth add up to more
    /// than 180 deg.
    pub jig_angle: f64,
    /// Axial distance from the piece's far extreme point to where the facet leaves that side.
    pub shoulder: f64,
    /// Along the facet, seen from the front.
    pub length: f64,
    /// Part of the thickness that it takes, square to the axis.
    pub width: f64,
    /// What it touches.
    pub touches: Contact,
}

/// Where a strip is cut nearly through by a V, and bent. Millimetres, radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceFold {
    /// Distance of the V's point from the first extreme point, along the axis of the unfolded strip.
    pub at: f64,
    /// Of the V, and what the strip turns by: pi less the angle between its legs.
    pub angle: f64,
    /// The side from which the V is cut, the inner one of the bend.
    pub inner: PieceSide,
    /// Of the V, from the inner side.
    pub depth: f64,
    /// What it leaves at the outer side.
    pub skin: f64,
    /// Along the outer side, unfolded: from where it begins at the first end to below the V's point, and from
    /// there to where it ends.
    pub outer: [f64; 2],
}

impl PieceFold {
    /// Half the V's width at the inner side.
    pub fn half_width(&self) -> f64 {
        self.depth * (self.angle / 2.0).tan()
    }

    /// Between either of the V's walls and the strip's axis: what a facet's jig angle is.
    pub fn wall_angle(&self) -> f64 {
        FRAC_PI_2 - self.angle / 2.0
    }

    /// How far the corner, round the skin, comes short of the one that is drawn.
    pub fn short_of_corner(&self) -> f64 {
        self.skin * (1.0 / (self.angle / 2.0).cos() - 1.0)
    }
}

/// A half lap in a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceLap {
    /// Name of the piece that lies in it.
    pub mate: String,
    /// Distance of its centre from the first extreme point, along the axis.
    pub centre: f64,
    /// Along the axis: `(thickness + clearance) / sin angle`.
    pub width: f64,
    /// From this piece's direction to the mate's, counter-clockwise, in (0, pi).
    pub angle: f64,
    /// Its depth as a part of the piece's depth.
    pub fraction: f64,
    /// The face that it enters.
    pub face: Face,
}

/// A piece's outline in its own frame: axis along x, extreme point of the first end at x = 0, y to
/// the left; counter-clockwise from the lowest of its leftmost corners. And the position of the
/// first extreme point along the axis, which runs from `from` in the direction `along`.
pub(super) fn own_frame(from: Point, along: Vector, polygon: &Polygon) -> (Polygon, f64) {
    let left = Vector::new(-along.y, along.x);
    let local = |p: Point| {
        let way = from.to(p);
        Point::new(way.dot(along), way.dot(left))
    };
    let mut outline: Polygon = polygon.iter().map(|(p, tag)| (local(*p), *tag)).collect();
    let first = outline
        .iter()
        .map(|(p, _)| p.x)
        .fold(f64::INFINITY, f64::min);
    for (p, _) in &mut outline {
        p.x -= first;
    }
    let is_leftmost = |p: Point| p.x < SAME_POSITION_MM;
    let start = (0..outline.len()).filter_map(|i| outline.get(i).map(|(p, _)| (i, *p)));
    let start = start.filter(|(_, p)| is_leftmost(*p));
    let start = start
        .min_by(|(_, p), (_, q)| p.y.total_cmp(&q.y))
        .map_or(0, |(i, _)| i);
    outline.rotate_left(start);
    (outline, first)
}

/// The figures of an outline in its own frame, laps left empty; `None` where a long side is gone
/// or an end has more than two facets.
pub(super) fn figures(outline: &Polygon) -> Option<Figures> {
    let mut ring = outline.clone();
    let right = ring
        .iter()
        .position(|(_, tag)| *tag == Contact::OwnSide(PieceSide::Right))?;
    ring.rotate_left(right);
    let left = ring
        .iter()
        .position(|(_, tag)| *tag == Contact::OwnSide(PieceSide::Left))?;
    let length = ring.iter().map(|(p, _)| p.x).fold(0.0, f64::max);
    // Counter-clockwise: right side, `to` end from right to left, left side, `from` end back.
    let to = ring.get(1..=left)?;
    let mut from = ring.get(left + 1..)?.to_vec();
    from.push(*ring.first()?);
    // Turned end for end, the `from` end looks like a `to` end.
    let turned: Polygon = from
        .iter()
        .map(|(p, tag)| (Point::new(length - p.x, -p.y), *tag))
        .collect();
    let from = end(&turned)?;
    Some(Figures {
        length,
        from: from.mirrored(),
        to: end(to)?,
        laps: Vec::new(),
        folds: Vec::new(),
    })
}

/// The figures of the end toward x, the far extreme point being at x = 0: its corners from the end
/// of the right side to the start of the left side.
fn end(corners: &[(Point, Contact)]) -> Option<End> {
    match *corners {
        [(right, touches), (left, _)] => {
            let way = right.to(left);
            let single = |side, shoulder| Facet {
                side,
                jig_angle: way.y.abs().atan2(way.x.abs()),
                shoulder,
                length: way.length(),
                width: way.y.abs(),
                touches,
            };
            let facet = if way.x.approx_eq(0.0, POSITION) {
                Facet {
                    jig_angle: FRAC_PI_2,
                    ..single(FacetSide::Across, right.x)
                }
            } else if way.x > 0.0 {
                single(FacetSide::Right, right.x)
            } else {
                single(FacetSide::Left, left.x)
            };
            Some(End {
                facets: vec![facet],
                ridge_offset: None,
            })
        }
        [(right, on_right), (ridge, on_left), (left, _)] => Some(End {
            facets: vec![
                pointed(FacetSide::Left, left, ridge, on_left),
                pointed(FacetSide::Right, right, ridge, on_right),
            ],
            ridge_offset: Some(ridge.y),
        }),
        _ => None,
    }
}

fn pointed(side: FacetSide, corner: Point, ridge: Point, touches: Contact) -> Facet {
    let way: Vector = corner.to(ridge);
    Facet {
        side,
        jig_angle: way.y.abs().atan2(way.x),
        shoulder: corner.x,
        length: way.length(),
        width: way.y.abs(),
        touches,
    }
}
