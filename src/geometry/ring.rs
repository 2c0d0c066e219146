//! Area and extent of rings.

use super::point::Point;

/// Twice-signed area halved: positive for a counter-clockwise ring, mm^2.
pub fn signed_area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(next)
        .map(|(p, q)| p.x * q.y - q.x * p.y)
        .sum::<f64>()
        / 2.0
}

/// Smallest and largest coordinates of some points; `None` of no points.
pub fn bounds(points: impl IntoIterator<Item = Point>) -> Option<(Point, Point)> {
    points.into_iter().fold(None, |bounds, p| {
        let (low, high) = bounds.unwrap_or((p, p));
        Some((
            Point::new(low.x.min(p.x), low.y.min(p.y)),
            Point::new(high.x.max(p.x), high.y.max(p.y)),
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn area_has_the_sign_of_the_turn() {
        let ring = [
            Point::new(0.0, 0.0),
            Point::new(2.0, 0.0),
            Point::new(2.0, 3.0),
        ];
        assert!(approx_eq!(f64, signed_area(&ring), 3.0, epsilon = 1e-15));
    }
}
