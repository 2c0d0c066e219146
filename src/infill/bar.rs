//! Axes of pieces and the points where their ends meet, before anything is cut.

use super::clipping::HalfPlane;
use super::pattern::PieceSide;
use super::stock::PieceStock;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, Vector};
use float_cmp::ApproxEq;

/// A piece before its ends are cut: a band about an axis.
#[derive(Debug, Clone)]
pub(super) struct Bar {
    pub(super) name: String,
    /// Field of the pattern that describes it.
    pub(super) field: String,
    pub(super) from: Point,
    pub(super) to: Point,
    /// Unit vector from `from` to `to`.
    pub(super) along: Vector,
    pub(super) against: Vec<String>,
    pub(super) laps: Vec<String>,
    /// Its own wood.
    pub(super) stock: PieceStock,
    /// Whether it ends as a horn: at `from`, at `to`.
    pub(super) horns: [bool; 2],
    /// The pieces whose corner it takes in a mouth: at `from`, at `to`.
    pub(super) mouths: [Option<[String; 2]>; 2],
    /// Whether it runs on over the strip there.
    pub(super) over: [bool; 2],
}

/// A point where ends share facet planes, and the jig angles (left, right) that are given there.
#[derive(Debug, Clone)]
pub(super) struct Joint {
    /// Field of the pattern that describes it.
    pub(super) field: String,
    pub(super) at: Point,
    pub(super) jig: Vec<(String, [f64; 2])>,
}

/// Pieces that are one strip, folded where they meet.
#[derive(Debug, Clone)]
pub(super) struct FoldedBars {
    /// Field of the pattern that describes it.
    pub(super) field: String,
    /// Their names, in the order along the strip.
    pub(super) pieces: Vec<String>,
}

/// All pieces and junctions of a cell.
#[derive(Debug, Clone, Default)]
pub(super) struct Skeleton {
    pub(super) bars: Vec<Bar>,
    pub(super) joints: Vec<Joint>,
    pub(super) folds: Vec<FoldedBars>,
}

impl Bar {
    /// Unit vector to the left.
    pub(super) fn left(&self) -> Vector {
        Vector::new(-self.along.y, self.along.x)
    }

    /// Signed distance of a point from the axis, positive to the left.
    pub(super) fn offset(&self, point: Point) -> f64 {
        self.from.to(point).dot(self.left())
    }

    /// The middle of its axis.
    pub(super) fn middle(&self) -> Point {
        Point::new(
            f64::midpoint(self.from.x, self.to.x),
            f64::midpoint(self.from.y, self.to.y),
        )
    }

    /// Whether an end, 0 for `from`, shares facets with others at its point: neither horns nor mouths do.
    pub(super) fn joins(&self, end: usize) -> bool {
        let is_horn = self.horns.get(end).is_some_and(|horn| *horn);
        let is_mouth = self.mouths.get(end).is_some_and(Option::is_some);
        !is_horn && !is_mouth
    }

    /// The points of its axis, `from` first.
    pub(super) fn ends(&self) -> [Point; 2] {
        [self.from, self.to]
    }

    /// Half as thick as it is, mm.
    pub(super) fn half(&self) -> f64 {
        self.stock.thickness / 2.0
    }

    /// The planes square to the axis in which its horns end.
    pub(super) fn horn_ends(&self) -> impl Iterator<Item = HalfPlane> {
        let ends = [(self.from, self.along), (self.to, -self.along)];
        let ends = ends.into_iter().zip(self.horns);
        ends.filter_map(|((on, inward), is_horn)| is_horn.then_some(HalfPlane { on, inward }))
    }

    /// The half plane of a long side that holds the piece.
    pub(super) fn side(&self, side: PieceSide) -> HalfPlane {
        let out = match side {
            PieceSide::Left => self.left(),
            PieceSide::Right => -self.left(),
        };
        HalfPlane {
            on: self.from + out * self.half(),
            inward: -out,
        }
    }
}

/// Two positions that are one.
pub(super) fn same(one: Point, other: Point) -> bool {
    one.approx_eq(other, POSITION)
}
