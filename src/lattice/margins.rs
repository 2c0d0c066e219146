//! What lies between a region and the frame round it.

use crate::geometry::offset::offset;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};

/// From the region's edge out to the frame's inner faces, mm. The two differ only round an upright
/// rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margins {
    /// At the left and the right.
    pub x: f64,
    /// Below and above.
    pub y: f64,
}

impl Margins {
    /// The same all round.
    pub fn even(all_round: f64) -> Margins {
        Margins {
            x: all_round,
            y: all_round,
        }
    }

    /// Beside an edge of the region, mm: above a level one, beside an upright one. Beside any other the
    /// two are alike.
    pub fn beside(self, from: Point, to: Point) -> f64 {
        if (from.y - to.y).abs() < SAME_POSITION_MM {
            self.y
        } else {
            self.x
        }
    }

    fn are_even(self) -> bool {
        (self.x - self.y).abs() < SAME_POSITION_MM
    }

    /// The outline so far out from a region's edges, counter-clockwise from the same corner; nothing where
    /// there is none, or where the two differ round what is no upright rectangle.
    pub fn around(self, region: &[Point]) -> Option<Vec<Point>> {
        if self.are_even() {
            return offset(region, self.x).ok();
        }
        let (low, high) = bounds(region.iter().copied())?;
        let middle = low + low.to(high) * 0.5;
        let at = |value: f64, ends: [f64; 2]| {
            ends.iter()
                .any(|end| (value - end).abs() < SAME_POSITION_MM)
        };
        let is_corner = |p: &Point| at(p.x, [low.x, high.x]) && at(p.y, [low.y, high.y]);
        if region.len() != 4 || !region.iter().all(is_corner) {
            return None;
        }
        let out = |p: &Point| {
            let from = middle.to(*p);
            *p + Vector::new(self.x * from.x.signum(), self.y * from.y.signum())
        };
        Some(region.iter().map(out).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rectangle_has_margins_of_its_own_each_way() {
        let ring = [(10.0, 10.0), (50.0, 10.0), (50.0, 40.0), (10.0, 40.0)];
        let ring = ring.map(|(x, y)| Point::new(x, y));
        let found = Margins { x: 3.0, y: 7.0 }.around(&ring).unwrap();
        let wanted = [(7.0, 3.0), (53.0, 3.0), (53.0, 47.0), (7.0, 47.0)];
        assert_eq!(found, wanted.map(|(x, y)| Point::new(x, y)));
        let beside = |from: usize| Margins { x: 3.0, y: 7.0 }.beside(ring[from], ring[from + 1]);
        assert_eq!([beside(0), beside(1), beside(2)], [7.0, 3.0, 7.0]);
        let even = Margins::even(3.0).around(&ring).unwrap();
        assert_eq!(even[0], Point::new(7.0, 7.0));
    }

    #[test]
    fn what_is_no_rectangle_has_one_margin() {
        let ring = [(0.0, 0.0), (50.0, 0.0), (25.0, 40.0)].map(|(x, y)| Point::new(x, y));
        assert!(Margins { x: 3.0, y: 7.0 }.around(&ring).is_none());
        assert!(Margins::even(3.0).around(&ring).is_some());
    }
}
