//! Moving a contour sideways by a fixed distance, corners kept sharp: from the finished contour
//! to the line along which the middle of a beam runs.

#[cfg(test)]
mod tests;

use super::point::{Point, Vector};
use super::tolerance::SAME_POSITION_MM;
use static_aabb2d_index::{StaticAABB2DIndex, StaticAABB2DIndexBuilder};
use std::fmt;

/// Tips sharper than this, in rad, are cut square: the mitre of a 20 degree tip already reaches
/// 5.8 offsets beyond it.
const SHARPEST_MITRE: f64 = 20.0 * std::f64::consts::PI / 180.0;

/// How far beyond the tip the square cut of such a tip lies, in offsets. Own choice: anything
/// from 1 (the beam just reaches the tip) up leaves the tip whole.
const SQUARE_REACH: f64 = 4.0;

/// Why a ring cannot be offset. Edge `i` runs from vertex `i` to the next one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OffsetError {
    /// Fewer than three vertices.
    TooFewVertices,
    /// A coordinate or the distance is not finite.
    NotFinite,
    /// The edge has no length.
    NoLength {
        /// Which edge.
        edge: usize,
    },
    /// The ring turns right back on itself where this edge begins.
    FoldsBack {
        /// Which edge.
        edge: usize,
    },
    /// The edge vanishes or turns around: there is less room beside it than the offset takes.
    EdgeLost {
        /// Which edge.
        edge: usize,
    },
    /// Two edges that are not neighbours touch or cross after the offset.
    Crossing {
        /// The first edge.
        edge: usize,
        /// The other one.
        other: usize,
    },
}

impl fmt::Display for OffsetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OffsetError::TooFewVertices => f.write_str("it has fewer than three corners"),
            OffsetError::NotFinite => f.write_str("one of its figures is not a number"),
            OffsetError::NoLength { edge } => write!(f, "edge {edge} has no length"),
            OffsetError::FoldsBack { edge } => {
                write!(f, "it folds back on itself where edge {edge} begins")
            }
            OffsetError::EdgeLost { edge } => write!(
                f,
                "edge {edge} is lost when the path is moved aside: there is no room for the kerf"
            ),
            OffsetError::Crossing { edge, other } => write!(
                f,
                "edges {edge} and {other} meet when the path is moved aside: there is no room \
                 for the kerf"
            ),
        }
    }
}

impl std::error::Error for OffsetError {}

/// The ring moved sideways by `distance` mm, corners sharp: outward for positive distances of a
/// counter-clockwise ring, inward for negative ones. One vertex per vertex, in the same order;
/// only a tip under 20 degrees that the path goes around gets two (cut square, four offsets
/// beyond the tip).
///
/// Derivation: let `u` and `v` be the unit directions of the edges that end and begin at corner
/// `p`, `n1` and `n2` their right-hand normals (outward on a counter-clockwise ring). The wanted
/// corner `q` lies on both moved lines: `(q - p).n1 = (q - p).n2 = d`. By symmetry `q - p` points
/// along `n1 + n2`, so `q = p + c (n1 + n2)` with `c (1 + n1.n2) = d`; a quarter turn of both
/// leaves the dot product as it is, `n1.n2 = u.v`, hence
/// `q = p + d (n1 + n2) / (1 + u.v)`.
///
/// # Errors
/// [`OffsetError`], with the edge's index, where the result would not be a simple ring with the
/// same edges.
pub fn offset(ring: &[Point], distance: f64) -> Result<Vec<Point>, OffsetError> {
    let directions = directions(ring, distance)?;
    let mut moved = Vec::with_capacity(ring.len());
    // For each vertex of the result, the edge of `ring` that it begins; `None` for a square tip.
    let mut begins = Vec::with_capacity(ring.len());
    let before = directions.iter().cycle().skip(ring.len() - 1);
    for (edge, ((&p, &v), &u)) in ring.iter().zip(&directions).zip(before).enumerate() {
        match corner(p, u, v, distance).ok_or(OffsetError::FoldsBack { edge })? {
            Corner::Sharp(q) => moved.push(q),
            Corner::Square(q, r) => {
                moved.push(q);
                begins.push(None);
                moved.push(r);
            }
        }
        begins.push(Some((edge, v)));
    }
    let ends = moved.iter().cycle().skip(1);
    for ((from, to), begun) in moved.iter().zip(ends).zip(&begins) {
        if let Some((edge, along)) = *begun
            && from.to(*to).dot(along) < SAME_POSITION_MM
        {
            return Err(OffsetError::EdgeLost { edge });
        }
    }
    match first_crossing(&moved) {
        None => Ok(moved),
        Some((i, j)) => {
            // A square tip counts as the edge before it.
            let edge_of = |i: usize| {
                let known = begins.iter().take(i + 1).rev().find_map(|begun| *begun);
                known.map_or(ring.len() - 1, |(edge, _)| edge)
            };
            Err(OffsetError::Crossing {
                edge: edge_of(i),
                other: edge_of(j),
            })
        }
    }
}

/// Unit directions of all edges of a ring that can be offset.
fn directions(ring: &[Point], distance: f64) -> Result<Vec<Vector>, OffsetError> {
    if ring.len() < 3 {
        return Err(OffsetError::TooFewVertices);
    }
    let finite = ring.iter().all(|p| p.x.is_finite() && p.y.is_finite());
    if !finite || !distance.is_finite() {
        return Err(OffsetError::NotFinite);
    }
    let ends = ring.iter().cycle().skip(1);
    let edges = ring.iter().zip(ends).enumerate();
    edges
        .map(|(edge, (from, to))| {
            let way = from.to(*to);
            let long_enough = way.length() >= SAME_POSITION_MM;
            let unit = way.unit().filter(|_| long_enough);
            unit.ok_or(OffsetError::NoLength { edge })
        })
        .collect()
}

enum Corner {
    Sharp(Point),
    Square(Point, Point),
}

/// The moved corner; `None` where the edges run back on each other.
fn corner(p: Point, u: Vector, v: Vector, distance: f64) -> Option<Corner> {
    let cosine = u.dot(v);
    let n1 = Vector::new(u.y, -u.x);
    let n2 = Vector::new(v.y, -v.x);
    // The angle between the edges, as seen from the inside of the tip, is pi less the turn:
    // its half has sine sqrt((1 + u.v) / 2).
    let half_sine = ((1.0 + cosine) / 2.0).max(0.0).sqrt();
    if half_sine < super::PARALLEL_SINE {
        return None;
    }
    let goes_around = u.cross(v) * distance > 0.0;
    if goes_around && half_sine < (SHARPEST_MITRE / 2.0).sin() {
        // A point t further along the moved edge: its part along the bisector is
        // d sin(half) + t cos(half), which is to be the wanted reach.
        let half_cosine = ((1.0 - cosine) / 2.0).max(0.0).sqrt();
        let t = distance.abs() * (SQUARE_REACH - half_sine) / half_cosine;
        return Some(Corner::Square(
            p + n1 * distance + u * t,
            p + n2 * distance - v * t,
        ));
    }
    let way = (n1 + n2) * (distance / (1.0 + cosine));
    Some(Corner::Sharp(p + way))
}

/// Whether no two edges of a ring touch or cross but neighbours at their common corner.
pub fn is_simple(ring: &[Point]) -> bool {
    ring.len() > 2 && first_crossing(ring).is_none()
}

/// Of so many edges it is quicker to look at all pairs than to make an index.
const FEW_EDGES: usize = 24;

/// The first two edges of a ring, not neighbours, that touch or cross.
fn first_crossing(ring: &[Point]) -> Option<(usize, usize)> {
    let ends = ring.iter().cycle().skip(1);
    let edges: Vec<(Point, Point)> = ring.iter().copied().zip(ends.copied()).collect();
    let last = edges.len() - 1;
    let meets = |i: usize, j: usize| {
        let neighbours = i == 0 && j == last;
        let pair = edges.get(i).zip(edges.get(j));
        !neighbours && pair.is_some_and(|(first, other)| touch(*first, *other))
    };
    let finite = ring.iter().all(|p| p.x.is_finite() && p.y.is_finite());
    let index = (finite && edges.len() > FEW_EDGES).then(|| index_of(&edges));
    let index = index.flatten();
    (0..edges.len()).find_map(|i| {
        let after = i + 2;
        let found = match &index {
            None => (after..edges.len()).find(|j| meets(i, *j)),
            Some(index) => {
                let (low, high) = corners(edges.get(i)?);
                let near = index.query(low.x, low.y, high.x, high.y).into_iter();
                near.filter(|j| *j >= after && meets(i, *j)).min()
            }
        };
        Some((i, found?))
    })
}

/// Lower left and upper right corner of an edge's box.
fn corners((from, to): &(Point, Point)) -> (Point, Point) {
    (
        Point::new(from.x.min(to.x), from.y.min(to.y)),
        Point::new(from.x.max(to.x), from.y.max(to.y)),
    )
}

/// Which edges are where; nothing where it cannot be made.
fn index_of(edges: &[(Point, Point)]) -> Option<StaticAABB2DIndex<f64>> {
    let mut builder = StaticAABB2DIndexBuilder::new(edges.len());
    for edge in edges {
        let (low, high) = corners(edge);
        builder.add(low.x, low.y, high.x, high.y);
    }
    builder.build().ok()
}

/// Whether two segments have a point in common.
fn touch(one: (Point, Point), other: (Point, Point)) -> bool {
    let (a, b) = one;
    let (c, d) = other;
    let apart = |a: f64, b: f64, c: f64, d: f64| a.max(b) < c.min(d) || c.max(d) < a.min(b);
    if apart(a.x, b.x, c.x, d.x) || apart(a.y, b.y, c.y, d.y) {
        return false;
    }
    // Boxes overlap: they touch unless one lies wholly on one side of the other's line.
    let side = |p: Point, q: Point, r: Point| p.to(q).cross(p.to(r));
    side(a, b, c) * side(a, b, d) <= 0.0 && side(c, d, a) * side(c, d, b) <= 0.0
}
