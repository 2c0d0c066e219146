//! Moving a contour sideways by a fixed distance, corners kept sharp: from the finished contour
//! to the line along which the middle of a beam runs.

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::signed_area;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    fn ring(points: &[(f64, f64)]) -> Vec<Point> {
        points.iter().map(|&(x, y)| Point::new(x, y)).collect()
    }

    fn assert_same(found: &[Point], wanted: &[(f64, f64)]) {
        assert_eq!(found.len(), wanted.len(), "{found:?}");
        for (p, &(x, y)) in found.iter().zip(wanted) {
            let off = p.to(Point::new(x, y)).length();
            assert!(off < 1e-12, "{found:?} is not {wanted:?}");
        }
    }

    /// 40 by 12 with a notch 3 wide and 6 deep from below at 20.
    const NOTCHED: [(f64, f64); 8] = [
        (0.0, 0.0),
        (18.5, 0.0),
        (18.5, 6.0),
        (21.5, 6.0),
        (21.5, 0.0),
        (40.0, 0.0),
        (40.0, 12.0),
        (0.0, 12.0),
    ];

    #[test]
    fn square_corners_by_hand() {
        let wanted = [
            (-0.1, -0.1),
            (18.6, -0.1),
            (18.6, 5.9),
            (21.4, 5.9),
            (21.4, -0.1),
            (40.1, -0.1),
            (40.1, 12.1),
            (-0.1, 12.1),
        ];
        assert_same(&offset(&ring(&NOTCHED), 0.1).unwrap(), &wanted);
        let hole = ring(&[(1.0, 1.0), (4.0, 1.0), (4.0, 3.0), (1.0, 3.0)]);
        let wanted = [(1.25, 1.25), (3.75, 1.25), (3.75, 2.75), (1.25, 2.75)];
        assert_same(&offset(&hole, -0.25).unwrap(), &wanted);
    }

    #[test]
    fn slanted_corners_by_hand() {
        // Right isosceles triangle, legs 2: the moved sides are x = -d, y = -d and
        // x + y = 2 + d sqrt 2.
        let d = 0.5;
        let far = 2.0 + d * 2f64.sqrt() + d;
        let triangle = ring(&[(0.0, 0.0), (2.0, 0.0), (0.0, 2.0)]);
        let wanted = [(-d, -d), (far, -d), (-d, far)];
        assert_same(&offset(&triangle, d).unwrap(), &wanted);
    }

    #[test]
    fn the_start_does_not_matter_and_a_clockwise_ring_moves_the_other_way() {
        let straight = offset(&ring(&NOTCHED), 0.1).unwrap();
        for start in 1..NOTCHED.len() {
            let mut turned = ring(&NOTCHED);
            turned.rotate_left(start);
            let mut found = offset(&turned, 0.1).unwrap();
            found.rotate_right(start);
            assert_eq!(found, straight);
        }
        let mut reversed = ring(&NOTCHED);
        reversed.reverse();
        let mut found = offset(&reversed, -0.1).unwrap();
        found.reverse();
        for (p, q) in found.iter().zip(&straight) {
            assert!(p.to(*q).length() < 1e-12);
        }
    }

    #[test]
    fn a_straight_through_vertex_stays() {
        let with_middle = ring(&[(0.0, 0.0), (1.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)]);
        let found = offset(&with_middle, 0.2).unwrap();
        assert_eq!(found[1], Point::new(1.0, -0.2));
    }

    #[test]
    fn a_sharp_tip_is_cut_square_beyond_the_part() {
        // Half angle atan(0.1) = 5.7 degrees, tip at (10, 0), bisector along x.
        let wedge = ring(&[(0.0, -1.0), (10.0, 0.0), (0.0, 1.0)]);
        let found = offset(&wedge, 0.1).unwrap();
        assert_eq!(found.len(), 4);
        for p in &found[1..3] {
            assert!(approx_eq!(f64, p.x, 10.4, epsilon = 1e-12), "{found:?}");
            // On the moved side: distance 0.1 from the side's line.
            let side = wedge[0].to(wedge[1]).unit().unwrap();
            let aside = side.cross(wedge[0].to(Point::new(p.x, -p.y.abs())));
            assert!((aside + 0.1).abs() < 1e-12, "{found:?}");
        }
        assert!((found[1].y + found[2].y).abs() < 1e-12 && found[1].y < 0.0);
        // 22.5 degrees, the sharpest point of the square hemp leaf, keeps its point.
        let (sine, cosine) = (22.5_f64.to_radians() / 2.0).sin_cos();
        let point = ring(&[
            (-10.0 * cosine, -10.0 * sine),
            (0.0, 0.0),
            (-10.0 * cosine, 10.0 * sine),
        ]);
        let found = offset(&point, 0.1).unwrap();
        assert_eq!(found.len(), 3);
        assert!(approx_eq!(f64, found[1].x, 0.1 / sine, epsilon = 1e-12));
    }

    #[test]
    fn what_has_no_room_is_refused_with_its_edge() {
        // The notch is 3 wide: its floor, edge 2, is gone from 1.5 on.
        let lost = Err(OffsetError::EdgeLost { edge: 2 });
        assert_eq!(offset(&ring(&NOTCHED), 1.5), lost);
        assert_eq!(offset(&ring(&NOTCHED), 1.7), lost);
        assert!(offset(&ring(&NOTCHED), 1.49).is_ok());
        // A bottle: neck 1 wide, belly 3 by 3 inside a block. Moved out by 0.6 the neck's walls
        // have crossed while every edge still has its direction.
        let bottle = ring(&[
            (0.0, 0.0),
            (4.5, 0.0),
            (4.5, 3.0),
            (3.5, 3.0),
            (3.5, 6.0),
            (6.5, 6.0),
            (6.5, 3.0),
            (5.5, 3.0),
            (5.5, 0.0),
            (10.0, 0.0),
            (10.0, 10.0),
            (0.0, 10.0),
        ]);
        assert!(offset(&bottle, 0.4).is_ok());
        assert!(matches!(
            offset(&bottle, 0.6),
            Err(OffsetError::Crossing { .. })
        ));
    }

    /// The first pair by a look at all.
    fn crossing_by_all_pairs(ring: &[Point]) -> Option<(usize, usize)> {
        let n = ring.len();
        let edge = |i: usize| (ring[i], ring[(i + 1) % n]);
        let pairs = (0..n).flat_map(|i| (i + 2..n).map(move |j| (i, j)));
        let mut pairs = pairs.filter(|pair| *pair != (0, n - 1));
        pairs.find(|(i, j)| touch(edge(*i), edge(*j)))
    }

    proptest! {
        #[test]
        fn the_first_crossing_is_that_of_a_look_at_all_pairs(
            corners in prop::collection::vec((0..40_i32, 0..40_i32), 3..70),
            teeth in 0..30_u32,
        ) {
            let mut ring: Vec<Point> = corners
                .iter()
                .map(|(x, y)| Point::new(f64::from(*x), f64::from(*y)))
                .collect();
            prop_assert_eq!(first_crossing(&ring), crossing_by_all_pairs(&ring));
            // A comb crosses nothing, as far as its last corner does not.
            ring = (0..teeth)
                .flat_map(|at| [(4 * at, 0), (4 * at, 3), (4 * at + 2, 3), (4 * at + 2, 0)])
                .map(|(x, y)| Point::new(f64::from(x), f64::from(y)))
                .collect();
            ring.extend([Point::new(200.0, -5.0), Point::new(f64::from(corners[0].0), f64::from(corners[0].1) - 20.0)]);
            if ring.len() > 2 {
                prop_assert_eq!(first_crossing(&ring), crossing_by_all_pairs(&ring));
            }
        }
    }

    #[test]
    fn nonsense_is_refused() {
        let square = ring(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
        assert_eq!(offset(&square[..2], 0.1), Err(OffsetError::TooFewVertices));
        assert_eq!(offset(&square, f64::NAN), Err(OffsetError::NotFinite));
        let repeated = ring(&[(0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (0.0, 1.0)]);
        assert_eq!(
            offset(&repeated, 0.1),
            Err(OffsetError::NoLength { edge: 1 })
        );
        let spike = ring(&[(0.0, 0.0), (2.0, 0.0), (1.0, 0.0), (1.0, 1.0)]);
        assert_eq!(offset(&spike, 0.1), Err(OffsetError::FoldsBack { edge: 1 }));
        let bow = ring(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)]);
        assert!(offset(&bow, 0.1).is_err());
    }

    /// A star-shaped ring around the origin: radii at even angles.
    fn star() -> impl Strategy<Value = Vec<Point>> {
        prop::collection::vec(8.0..12.0, 5..16).prop_map(|radii: Vec<f64>| {
            let step = std::f64::consts::TAU / radii.len() as f64;
            let at = |(i, r): (usize, &f64)| {
                let (sine, cosine) = (i as f64 * step).sin_cos();
                Point::new(r * cosine, r * sine)
            };
            radii.iter().enumerate().map(at).collect()
        })
    }

    proptest! {
        #[test]
        fn there_and_back_is_where_it_was(ring in star(), distance in 0.01..0.3) {
            let out = offset(&ring, distance).unwrap();
            prop_assert!(signed_area(&out) > signed_area(&ring));
            let back = offset(&out, -distance).unwrap();
            for (p, q) in ring.iter().zip(&back) {
                prop_assert!(p.to(*q).length() < 1e-11);
            }
        }

        #[test]
        fn every_edge_stays_parallel_at_the_distance(ring in star(), distance in -0.3..0.3) {
            let out = offset(&ring, distance).unwrap();
            let n = ring.len();
            for i in 0..n {
                let along = ring[i].to(ring[(i + 1) % n]).unit().unwrap();
                for q in [out[i], out[(i + 1) % n]] {
                    let aside = -along.cross(ring[i].to(q));
                    prop_assert!(approx_eq!(f64, aside, distance, epsilon = 1e-12));
                }
            }
        }
    }
}
