//! Pieces that lie in rows in their sticks: whether the tool comes into one of them, or into the skin
//! below.

use super::collisions::{below, point_gap};
use super::watch::{AT_TOP_MM, Watch};
use crate::geometry::Point;
use crate::phrase;
use crate::verification::faults::figure;
use crate::verification::gcode::state::{Point3, ToolMove};
use crate::verification::simulation::sweep::{KnownMove, chords};
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedLap, ExpectedPiece};

impl Watch<'_> {
    /// Below the top of the sticks the tool's centre keeps a radius away from every piece, but for
    /// laps, between whose walls it stays; and nowhere does it go deeper than the mitres.
    pub(super) fn check_rows(&mut self, step: &ToolMove, way: &KnownMove) {
        let Some(rows) = self.rows else { return };
        let off = Tolerances::default();
        let [lowest, _] = way.range(2);
        if lowest >= -AT_TOP_MM {
            return;
        }
        let into = -rows.mitre_depth_mm - lowest;
        if into > off.depth_mm {
            let text = phrase!(
                "the tool goes {} below the mitres' floor, into the skin that joins the pieces",
                figure(into)
            );
            self.fault("skin-cut", step.line, text);
        }
        let radius = self.limits.tool_radius_mm();
        let points = match &way.arc {
            Some(arc) => chords(arc, way.from, way.to),
            None => vec![way.from, way.to],
        };
        for pair in points.windows(2) {
            let &[a, b] = pair else { continue };
            let Some([a, b]) = below(a, b, 0.0) else {
                continue;
            };
            let hurt = rows
                .pieces
                .iter()
                .filter(|piece| may_meet(piece, a, b, radius))
                .map(|piece| (piece, radius - gap(piece, a, b)))
                .filter(|(piece, deep)| {
                    *deep > off.position_mm && !in_a_lap(piece, a, b, radius, &off)
                });
            let worst = hurt.max_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((piece, deep)) = worst {
                let text = phrase!(
                    "this cuts {} into piece {}, or as much into its lap's walls or floor",
                    figure(deep),
                    piece.index
                );
                return self.fault("piece-cut", step.line, text);
            }
        }
    }
}

/// Whether the rectangles around both come near enough at all.
fn may_meet(piece: &ExpectedPiece, a: Point3, b: Point3, radius: f64) -> bool {
    let apart = |axis: usize, of: fn(&Point) -> f64| {
        let places = piece.outline.iter().map(of);
        let [low, high] = places.fold([f64::INFINITY, f64::NEG_INFINITY], |all, place| {
            [all[0].min(place), all[1].max(place)]
        });
        a[axis].min(b[axis]) - high > radius || low - a[axis].max(b[axis]) > radius
    };
    !apart(0, |corner| corner.x) && !apart(1, |corner| corner.y)
}

/// Distance in plan between a straight way and a piece: 0 where they meet, else the least from an end
/// of the way to a side or from a corner to the way.
fn gap(piece: &ExpectedPiece, a: Point3, b: Point3) -> f64 {
    if meets(&piece.outline, a, b) {
        return 0.0;
    }
    let mut least = f64::INFINITY;
    let sides = piece.outline.iter();
    for (p, q) in sides.clone().zip(sides.cycle().skip(1)) {
        let [from, to] = [p, q].map(|corner| [corner.x, corner.y, 0.0]);
        for end in [a, b] {
            least = least.min(point_gap([end[0], end[1]], from, to));
        }
        least = least.min(point_gap([p.x, p.y], a, b));
    }
    least
}

/// Whether a straight way meets a convex polygon: what its sides' half planes leave of the way (Cyrus
/// and Beck).
fn meets(outline: &[Point], a: Point3, b: Point3) -> bool {
    let turn: f64 = sides(outline).map(|(p, q)| p.x * q.y - p.y * q.x).sum();
    let mut part = [0.0_f64, 1.0_f64];
    for (p, q) in sides(outline) {
        let inside =
            |x: f64, y: f64| ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x)) * turn.signum();
        let start = inside(a[0], a[1]);
        let rate = inside(b[0], b[1]) - start;
        if rate.abs() < f64::EPSILON {
            if start < 0.0 {
                return false;
            }
        } else if rate > 0.0 {
            part[0] = part[0].max(-start / rate);
        } else {
            part[1] = part[1].min(-start / rate);
        }
    }
    part[0] <= part[1]
}

fn sides(outline: &[Point]) -> impl Iterator<Item = (&Point, &Point)> {
    outline.iter().zip(outline.iter().cycle().skip(1))
}

/// Whether a way that comes into a piece stays between the walls of one of its laps and above its
/// floor.
fn in_a_lap(piece: &ExpectedPiece, a: Point3, b: Point3, radius: f64, off: &Tolerances) -> bool {
    let holds = |lap: &ExpectedLap| {
        let room = lap.half_width() - radius + off.position_mm;
        let within = |place: Point3| {
            lap.off([place[0], place[1]]) <= room && place[2] >= -lap.depth_mm - off.depth_mm
        };
        within(a) && within(b)
    };
    piece.laps.iter().any(holds)
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn piece() -> ExpectedPiece {
        ExpectedPiece {
            index: 1,
            stick: 0,
            outline: [
                [0.0, 0.0],
                [10.0, 0.0],
                [13.0, 3.0],
                [10.0, 6.0],
                [0.0, 6.0],
            ]
            .map(|[x, y]| Point::new(x, y))
            .to_vec(),
            laps: Vec::new(),
        }
    }

    #[test]
    fn gaps_between_ways_and_pieces() {
        let of = |a: [f64; 2], b: [f64; 2]| gap(&piece(), [a[0], a[1], -1.0], [b[0], b[1], -1.0]);
        // Beside the facet from (10, 0) to (13, 3), 2 square to it.
        let by = 2.0 / 2.0_f64.sqrt();
        let beside = of([5.0 + by, -5.0 - by], [20.0 + by, 10.0 - by]);
        assert!(approx_eq!(f64, beside, 2.0, epsilon = 1e-12));
        assert_eq!(of([5.0, -3.0], [5.0, 20.0]), 0.0);
        assert_eq!(of([4.0, 2.0], [5.0, 3.0]), 0.0);
        assert_eq!(of([15.0, 3.0], [15.0, 3.0]), 2.0);
        assert_eq!(of([-3.0, 3.0], [-3.0, 8.0]), 3.0);
        // The same ring the other way round.
        let mut turned = piece();
        turned.outline.reverse();
        assert_eq!(gap(&turned, [5.0, -3.0, -1.0], [5.0, 20.0, -1.0]), 0.0);
    }
}
