//! Holes drawn by hand, and the largest rectangle in them by trying.

use super::{HoleMeasures, Scribe};
use crate::geometry::Point;
use crate::opening::size::Size;
use proptest::prelude::*;

/// A hole with straight walls and what a tape says of it.
fn measured(corners: [(f64, f64); 4]) -> HoleMeasures {
    let [a, b, c, d] = corners.map(|(x, y)| Point::new(x, y));
    let length = |from: Point, to: Point| from.to(to).length();
    let middle = |from: Point, to: Point| from + from.to(to) * 0.5;
    HoleMeasures {
        widths: [
            length(a, b),
            length(middle(a, d), middle(b, c)),
            length(d, c),
        ],
        heights: [
            length(a, d),
            length(middle(a, b), middle(d, c)),
            length(b, c),
        ],
        diagonals: Some([length(a, c), length(b, d)]),
    }
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-6, "{found} for {wanted}");
}

#[test]
fn a_square_hole_is_taken_as_it_is() {
    let size = Size {
        width: 612.0,
        height: 388.0,
    };
    let found = HoleMeasures::of(size).largest().unwrap();
    assert_eq!(found.size, size);
    assert_eq!(found.scribe.most(), 0.0);
    assert!(!found.skew_is_guessed);
}

#[test]
fn a_hole_that_leans() {
    // A parallelogram, 6 out of plumb in 400: 600 less 6 wide, and the gap runs out to 6 at the lower left
    // and at the upper right.
    let hole = measured([(0.0, 0.0), (600.0, 0.0), (606.0, 400.0), (6.0, 400.0)]);
    let found = hole.largest().unwrap();
    near(found.size.width, 594.0);
    near(found.size.height, 400.0);
    near(found.scribe.left[0], 6.0);
    near(found.scribe.left[1], 0.0);
    near(found.scribe.right[0], 0.0);
    near(found.scribe.right[1], 6.0);
    near(found.disagreement, 0.0);
}

#[test]
fn a_hole_with_a_falling_head() {
    let hole = measured([(0.0, 0.0), (600.0, 0.0), (600.0, 392.0), (0.0, 400.0)]);
    let found = hole.largest().unwrap();
    near(found.size.width, 600.0);
    near(found.size.height, 392.0);
    near(found.scribe.top[0], 8.0);
    near(found.scribe.top[1], 0.0);
}

#[test]
fn walls_that_bow_in() {
    let hole = HoleMeasures {
        widths: [600.0, 595.0, 600.0],
        heights: [400.0, 401.0, 400.0],
        diagonals: None,
    };
    let found = hole.largest().unwrap();
    near(found.size.width, 595.0);
    near(found.size.height, 400.0);
    near(found.scribe.walls_bow_in, 5.0);
    near(found.scribe.left[0] + found.scribe.right[0], 5.0);
    // A wall that leans and bows: the arc comes farthest in above its middle.
    let hole = HoleMeasures {
        widths: [600.0, 592.0, 590.0],
        heights: [400.0; 3],
        diagonals: None,
    };
    let found = hole.largest().unwrap();
    assert!(found.skew_is_guessed);
    assert!(
        found.size.width < 590.0 && found.size.width > 586.0,
        "{found:?}"
    );
}

#[test]
fn diagonals_that_disagree_are_fitted_both_or_refused() {
    let mut hole = measured([(0.0, 0.0), (600.0, 0.0), (606.0, 400.0), (6.0, 400.0)]);
    let alone = hole.largest().unwrap().size;
    if let Some([from_left, _]) = &mut hole.diagonals {
        *from_left += 1.5;
    }
    let found = hole.largest().unwrap();
    near(found.disagreement, -1.5);
    assert!(found.size.width < alone.width);
    if let Some([from_left, _]) = &mut hole.diagonals {
        *from_left += 15.0;
    }
    assert_eq!(hole.largest().unwrap_err().code, "diagonals-disagree");
    hole.diagonals = Some([20.0, 30.0]);
    assert_eq!(hole.largest().unwrap_err().code, "not-a-hole");
    let swapped = HoleMeasures {
        widths: [600.0, 500.0, 400.0],
        heights: [600.0, 500.0, 400.0],
        diagonals: None,
    };
    assert_eq!(swapped.largest().unwrap_err().code, "far-out-of-square");
}

/// Whether a rectangle lies in a convex ring, counter-clockwise.
fn lies_in(ring: &[Point; 4], x: [f64; 2], y: [f64; 2]) -> bool {
    let corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])];
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    sides.into_iter().take(4).all(|(from, to)| {
        let edge = from.to(*to);
        corners
            .iter()
            .all(|(px, py)| edge.cross(from.to(Point::new(*px, *py))) >= -1e-6)
    })
}

/// The largest upright rectangle in a convex ring by trying: left edge, right edge and lower edge step by
/// step, the upper edge as high as the ring lets it.
fn by_trying(ring: &[Point; 4], around: [f64; 4]) -> f64 {
    let [x0, x1, y0, y1] = around;
    let steps = 24;
    let spread = 14.0;
    let at = |middle: f64, step: i32| middle + spread * (f64::from(step) / f64::from(steps) - 0.5);
    let mut best = 0.0_f64;
    for i in 0..=steps {
        for j in 0..=steps {
            for k in 0..=steps {
                let (left, right, low) = (at(x0, i), at(x1, j), at(y0, k));
                let (mut fits, mut not) = (low, y1 + spread);
                if !lies_in(ring, [left, right], [low, low]) {
                    continue;
                }
                for _ in 0..30 {
                    let half = f64::midpoint(fits, not);
                    if lies_in(ring, [left, right], [low, half]) {
                        fits = half;
                    } else {
                        not = half;
                    }
                }
                best = best.max((right - left) * (fits - low));
            }
        }
    }
    best
}

fn offs() -> impl Strategy<Value = [f64; 5]> {
    [-9.0..9.0_f64, -9.0..9.0, -9.0..9.0, -9.0..9.0, -6.0..6.0]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn no_rectangle_by_trying_is_larger(
        [width, height] in [200.0..900.0_f64, 200.0..900.0],
        [cx, cy, dx, dy, _] in offs(),
    ) {
        let corners = [(0.0, 0.0), (width, 0.0), (width + cx, height + cy), (dx, height + dy)];
        let found = measured(corners).largest().unwrap();
        let ring = corners.map(|(x, y)| Point::new(x, y));
        let Scribe { left, bottom, .. } = found.scribe;
        // Where it lies: from the lower corner's wall inward by what is told.
        let y0 = bottom[0];
        let x0 = left[0] + dx * y0 / (height + dy);
        let x = [x0, x0 + found.size.width];
        let y = [y0, y0 + found.size.height];
        prop_assert!(lies_in(&ring, x, y), "{found:?}");
        let area = found.size.width * found.size.height;
        let tried = by_trying(&ring, [x[0], x[1], y[0], y[1]]);
        prop_assert!(tried <= area + 1e-3, "{tried} over {area}");
    }

    /// Whichever share of the bow either wall has, there is a place for the rectangle.
    #[test]
    fn it_fits_however_the_walls_bow(
        [width, height] in [200.0..900.0_f64, 200.0..900.0],
        [cx, cy, dx, dy, _] in offs(),
        [bow_x, bow_y] in [0.0..8.0_f64, 0.0..8.0],
        [share_x, share_y] in [0.0..1.0_f64, 0.0..1.0],
        exponent in 0.5..1.0_f64,
    ) {
        let corners = [(0.0, 0.0), (width, 0.0), (width + cx, height + cy), (dx, height + dy)];
        let mut hole = measured(corners);
        hole.widths[1] -= bow_x;
        hole.heights[1] -= bow_y;
        let found = hole.largest().unwrap();
        // Walls between a broken line (0.5: half the arc's surplus over it) and the arc.
        let bulge = |u: f64| {
            let arc = 4.0 * u * (1.0 - u);
            let broken = 1.0 - (2.0 * u - 1.0).abs();
            arc * (2.0 * exponent - 1.0) + broken * (2.0 - 2.0 * exponent)
        };
        let wall = |u: f64, from: f64, to: f64, bow: f64| from + (to - from) * u + bow * bulge(u);
        let sample = |from: f64, to: f64, of: &dyn Fn(f64) -> f64| {
            (0..=400)
                .map(|step| from + (to - from) * f64::from(step) / 400.0)
                .map(of)
                .fold(f64::NEG_INFINITY, f64::max)
        };
        let left = |y: f64| wall((y / (height + dy)).clamp(0.0, 1.0), 0.0, dx, share_x * bow_x);
        let right = |y: f64| {
            let u = (y / (height + cy)).clamp(0.0, 1.0);
            wall(u, -width, -width - cx, (1.0 - share_x) * bow_x)
        };
        let bottom = |x: f64| wall((x / width).clamp(0.0, 1.0), 0.0, 0.0, share_y * bow_y);
        let top = |x: f64| {
            let u = ((x - dx) / (width + cx - dx)).clamp(0.0, 1.0);
            wall(u, -height - dy, -height - cy, (1.0 - share_y) * bow_y)
        };
        // Put as low and as far left as it goes.
        let (mut x, mut y) = (0.0, 0.0);
        for _ in 0..20 {
            x = sample(y, y + found.size.height, &left);
            y = sample(x, x + found.size.width, &bottom);
        }
        let free_x = -sample(y, y + found.size.height, &right) - x;
        let free_y = -sample(x, x + found.size.width, &top) - y;
        prop_assert!(found.size.width <= free_x + 0.01, "{free_x} for {found:?}");
        prop_assert!(found.size.height <= free_y + 0.01, "{free_y} for {found:?}");
    }
}
