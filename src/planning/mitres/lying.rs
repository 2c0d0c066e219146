//! How a piece lies in a stick, seen from above on the machine.
//!
//! Stick frame: x along the stick from the stop's side to the right, y across it away from the
//! fence, 0 to the strips' thickness. A piece's own frame has its axis along x from its first end's
//! extreme point, y to the left.

use crate::geometry::Point;
use crate::infill::FacetSide;
use crate::lattice::Face;

/// How a piece lies in a stick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Lying {
    /// Whether its first end lies to the right.
    pub(crate) reversed: bool,
    /// Whether its left side lies away from the fence.
    pub(crate) left_away: bool,
}

impl Lying {
    /// The face that lies down, if what is seen from above is to be the piece as it is drawn and
    /// not its mirror image: drawn is what the front shows.
    pub(crate) fn face_down(self) -> Face {
        // As drawn, or turned half round: two mirrorings or none.
        if self.reversed != self.left_away {
            Face::Back
        } else {
            Face::Front
        }
    }

    /// The mirror image along the stick: the same side stays at the fence.
    pub(crate) fn mirrored(self) -> Lying {
        Lying {
            reversed: !self.reversed,
            ..self
        }
    }

    /// A point of the piece's own frame, the piece's leftmost point lying at x = 0.
    pub(crate) fn place(self, p: Point, length: f64, thickness: f64) -> Point {
        let x = if self.reversed { length - p.x } else { p.x };
        let y = if self.left_away { p.y } else { -p.y };
        Point::new(x, thickness / 2.0 + y)
    }

    /// Which end lies to the right: 0 for the first, 1 for the second.
    pub(crate) fn right_end(self) -> usize {
        usize::from(!self.reversed)
    }

    /// The side of the piece that lies on the fence.
    pub(crate) fn on_fence(self) -> FacetSide {
        if self.left_away {
            FacetSide::Right
        } else {
            FacetSide::Left
        }
    }
}
