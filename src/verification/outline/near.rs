//! Which of many boxes lie near one.

use crate::geometry::Point;
use static_aabb2d_index::{Control, StaticAABB2DIndex, StaticAABB2DIndexBuilder};

/// Boxes, found by where they are: looking for the near ones costs what they are, not what there is.
pub(super) struct Nearby {
    /// Nothing where there is no box.
    index: Option<StaticAABB2DIndex<f64>>,
}

impl Nearby {
    /// Of boxes in an order by which they are called; each its lower left and upper right corner.
    pub(super) fn of(boxes: impl ExactSizeIterator<Item = [Point; 2]>) -> Self {
        let mut builder = StaticAABB2DIndexBuilder::new(boxes.len());
        for [low, high] in boxes {
            builder.add(low.x, low.y, high.x, high.y);
        }
        // It fails where there are more or fewer boxes than were announced, and for none.
        Nearby {
            index: builder.build().ok(),
        }
    }

    /// The places in the order of those that touch a box grown by `within` to each side, rising.
    pub(super) fn near(&self, [low, high]: [Point; 2], within: f64) -> Vec<usize> {
        let Some(index) = &self.index else {
            return Vec::new();
        };
        let mut found = index.query(
            low.x - within,
            low.y - within,
            high.x + within,
            high.y + within,
        );
        found.sort_unstable();
        found
    }

    /// The place in the order of a box that is nearest to a point; nothing where there is no box.
    pub(super) fn nearest(&self, to: Point) -> Option<usize> {
        let mut found = None;
        let mut first = |at: usize, _: f64| {
            found = Some(at);
            Control::Break(())
        };
        if let Some(index) = &self.index {
            let _: Control<()> = index.visit_neighbors(to.x, to.y, &mut first);
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn near_boxes_are_those_that_a_look_at_all_finds(
            corners in prop::collection::vec((0.0..90.0_f64, 0.0..90.0_f64, 0.0..9.0_f64, 0.0..9.0_f64), 0..60),
            within in 0.0..5.0_f64,
        ) {
            let boxes: Vec<[Point; 2]> = corners
                .iter()
                .map(|(x, y, w, h)| [Point::new(*x, *y), Point::new(x + w, y + h)])
                .collect();
            let nearby = Nearby::of(boxes.iter().copied());
            for one in &boxes {
                let touches = |other: &[Point; 2]| {
                    one[0].x - within <= other[1].x && other[0].x <= one[1].x + within
                        && one[0].y - within <= other[1].y && other[0].y <= one[1].y + within
                };
                let all: Vec<usize> = (0..boxes.len()).filter(|at| touches(&boxes[*at])).collect();
                prop_assert_eq!(nearby.near(*one, within), all);
                let at = Point::new(one[0].x + 7.0 * within, one[0].y - within);
                let off = |other: &[Point; 2]| {
                    let aside = |at: f64, low: f64, high: f64| (low - at).max(at - high).max(0.0);
                    aside(at.x, other[0].x, other[1].x).hypot(aside(at.y, other[0].y, other[1].y))
                };
                let least = boxes.iter().map(off).fold(f64::INFINITY, f64::min);
                let found = nearby.nearest(at).map(|at| off(&boxes[at]));
                prop_assert!(found.is_some_and(|found| (found - least).abs() < 1e-9));
            }
        }
    }
}
