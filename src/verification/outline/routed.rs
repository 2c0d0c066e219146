//! Outlines that a round cutter follows: whether a square mate sits in every corner, and whether
//! bridges stand where they may.

use super::apart::to_segment;
use super::contours::Contour;
use super::{OutlineFault, TOLERANCE_MM, mm, place};
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::outline::{Part, Work};
use crate::machines::{Bridges, Cutter};

/// How much of the wood the cutter's edge may be said to touch, mm: chords lie inside their circle
/// by a little less.
const TOUCH_MM: f64 = 0.006;

/// How much larger than the cutter a relief may be, mm.
const ROOM_MM: f64 = 0.1;

/// From point to point of a side that is looked at, mm.
const STEP_MM: f64 = 0.05;

/// The vertices of a found ring that are corners of the part wanted, in their order; the others
/// belong to reliefs.
pub(super) fn without_reliefs(found: &[Point], wanted: &[Point]) -> Vec<Point> {
    let corner = |p: &&Point| wanted.iter().any(|q| p.to(*q).length() <= TOLERANCE_MM);
    found.iter().filter(corner).copied().collect()
}

/// Checks the reliefs of a ring against the part wanted: wood is only missing near concave corners,
/// and in each of them the cutter reaches every point of both sides. `part_inside` is false for a
/// hole.
pub(super) fn check_reliefs(
    name: &str,
    (wanted, found): (&[Point], &[Point]),
    part_inside: bool,
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    let turn = |ring: &[Point]| {
        let counter_clockwise = crate::geometry::signed_area(ring) > 0.0;
        let mut ring = ring.to_vec();
        if counter_clockwise != part_inside {
            ring.reverse();
        }
        ring
    };
    let (wanted, found) = (turn(wanted), turn(found));
    let radius = cutter.diameter / 2.0;
    let concave = concave_corners(&wanted);
    for point in &found {
        let known = wanted
            .iter()
            .any(|corner| corner.to(*point).length() <= TOLERANCE_MM);
        let near = |corner: &Concave| corner.at.to(*point).length() <= 2.0 * (radius + ROOM_MM);
        if !known && !concave.iter().any(near) {
            let text = format!("{name}: the vertex at {} is no relief", place(*point));
            faults.push(OutlineFault::new("relief-stray", text));
        } else if !known && beyond(*point, &wanted, part_inside) {
            let text = format!("{name}: wood beyond the outline at {}", place(*point));
            faults.push(OutlineFault::new("relief-stray", text));
        }
    }
    let edges: Vec<(Point, Point)> = edges(&found).collect();
    let touching = concave.iter().filter_map(|corner| corner.touching(radius));
    let touching: Vec<Point> = touching.flatten().collect();
    for corner in &concave {
        if let Some(point) = corner.unreached(&edges, &found, part_inside, radius, &touching) {
            let text = format!(
                "{name}: a cutter of {} mm does not reach {}: a square mate would not sit",
                mm(cutter.diameter),
                place(point)
            );
            faults.push(OutlineFault::new("not-seated", text));
        }
    }
}

fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    ring.iter()
        .copied()
        .zip(ring.iter().copied().cycle().skip(1))
}

/// Inside a ring, by the parity of crossings.
fn within(point: Point, ring: &[Point]) -> bool {
    let crossed = edges(ring).filter(|(a, b)| {
        (a.y > point.y) != (b.y > point.y)
            && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}

/// Whether a vertex of the drawing lies outside the wood that is wanted, not only on its edge.
fn beyond(point: Point, wanted: &[Point], part_inside: bool) -> bool {
    let off = edges(wanted).map(|(a, b)| to_segment(point, a, b));
    within(point, wanted) != part_inside && off.fold(f64::INFINITY, f64::min) > TOLERANCE_MM
}

/// A corner of a ring (the part on its left) at which it turns right.
struct Concave {
    at: Point,
    /// Along both sides, away from the corner, and how long they are.
    away: [(Vector, f64); 2],
}

fn concave_corners(ring: &[Point]) -> Vec<Concave> {
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let after = ring.iter().cycle().skip(1);
    let corner = |(at, (before, after)): (&Point, (&Point, &Point))| {
        let (back, on) = (at.to(*before), at.to(*after));
        // Coming in along -back and leaving along on.
        let turns_right = back.times(-1.0).cross(on) < -1e-9 * back.length() * on.length();
        turns_right.then_some(Concave {
            at: *at,
            away: [(back.unit()?, back.length()), (on.unit()?, on.length())],
        })
    };
    ring.iter()
        .zip(before.zip(after))
        .filter_map(corner)
        .collect()
}

impl Concave {
    /// Where a cutter touches the corner: on its bisector, and on either side.
    fn touching(&self, radius: f64) -> Option<[Point; 3]> {
        let [(first, _), (second, _)] = self.away;
        let ways = [first.plus(second).unit()?, first, second];
        Some(ways.map(|way| self.at.plus(way.times(radius))))
    }

    /// A point of one of the sides, within two diameters of the corner, that no place of the
    /// cutter clears: it would have to stand within a radius of the point, and its whole disc out
    /// of the wood. Tried are the places beside each point of a side and those that touch one of
    /// the corners around.
    fn unreached(
        &self,
        edges: &[(Point, Point)],
        ring: &[Point],
        part_inside: bool,
        radius: f64,
        touching: &[Point],
    ) -> Option<Point> {
        let near: Vec<(Point, Point)> = edges
            .iter()
            .filter(|(a, b)| to_segment(self.at, *a, *b) < 8.0 * radius)
            .copied()
            .collect();
        let clear = |middle: Point| {
            within(middle, ring) != part_inside
                && near
                    .iter()
                    .all(|(a, b)| to_segment(middle, *a, *b) >= radius - TOUCH_MM)
        };
        let [(first, _), (second, _)] = self.away;
        let around = touching
            .iter()
            .filter(|middle| self.at.to(**middle).length() < 6.0 * radius);
        let around: Vec<Point> = around.filter(|middle| clear(**middle)).copied().collect();
        for (along, across) in [(first, second), (second, first)] {
            let length = self.away.iter().find(|(way, _)| *way == along)?.1;
            // Square to the side, to where the other one leads.
            let normal = across.plus(along.times(-across.dot(along))).unit()?;
            let steps = (length.min(4.0 * radius) / STEP_MM).floor();
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few hundred
            for step in 0..=steps as u32 {
                let point = self.at.plus(along.times(f64::from(step) * STEP_MM));
                let reached = around
                    .iter()
                    .any(|middle| middle.to(point).length() <= radius + TOUCH_MM)
                    || clear(point.plus(normal.times(radius)));
                if !reached {
                    return Some(point);
                }
            }
        }
        None
    }
}

/// Gives each bridge to the part on whose outline it lies and checks them: as many on each part as
/// the profile says and as wide, on a side along the grain at the part's lowest or highest y, a
/// cutter's width from every corner; none on a lowest side that is laid against something.
pub(super) fn check_bridges(
    contours: &[Contour],
    parts: &[Part],
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    let Bridges { count, width } = cutter.bridges.unwrap_or(Bridges {
        count: 0,
        width: 0.0,
    });
    let mut fault = |code, text: String| faults.push(OutlineFault::new(code, text));
    let mut found = vec![0; parts.len()];
    for bridge in contours
        .iter()
        .filter(|contour| contour.work == Work::Bridges)
    {
        let [a, b] = bridge.points[..] else {
            fault("bridge-place", "a bridge that is no straight stroke".into());
            continue;
        };
        let on = |part: &Part| {
            edges(&part.outer).any(|(p, q)| {
                to_segment(a, p, q) <= TOLERANCE_MM && to_segment(b, p, q) <= TOLERANCE_MM
            })
        };
        let Some((index, part)) = parts.iter().enumerate().find(|(_, part)| on(part)) else {
            fault(
                "bridge-place",
                format!("the bridge at {} is on no outline", place(a)),
            );
            continue;
        };
        let (name, ring) = (&part.name, &part.outer);
        if let Some(count) = found.get_mut(index) {
            *count += 1;
        }
        if (a.to(b).length() - width).abs() > TOLERANCE_MM {
            fault(
                "bridge-width",
                format!("{name}: a bridge of {} mm", mm(a.to(b).length())),
            );
        }
        let (low, high) = bounds(ring.iter().copied()).unwrap_or_default();
        let level = |y: f64| (a.y - y).abs() <= TOLERANCE_MM && (b.y - y).abs() <= TOLERANCE_MM;
        let corner = |p: &Point| to_segment(*p, a, b) < cutter.diameter - TOLERANCE_MM;
        let below = level(low.y) && !part.laid_edge;
        if !(below || level(high.y)) || ring.iter().any(corner) {
            let text = format!(
                "{name}: the bridge at {} is in or too near a corner, an end or a facet, or on a side that is laid against something",
                place(a)
            );
            fault("bridge-place", text);
        }
    }
    for (Part { name, .. }, found) in parts.iter().zip(found).filter(|(_, found)| *found != count) {
        fault(
            "bridge-count",
            format!("{name}: {found} bridges, {count} wanted"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::Relief;
    use crate::planning::sheet_cutting::relief::relieved;

    fn cutter(diameter: f64, relief: Relief) -> Cutter {
        Cutter {
            diameter,
            relief,
            bridges: None,
        }
    }

    fn bar(wide: f64) -> Vec<Point> {
        let (a, b) = (20.0 - wide / 2.0, 20.0 + wide / 2.0);
        let corners = [
            (0.0, 0.0),
            (a, 0.0),
            (a, 6.0),
            (b, 6.0),
            (b, 0.0),
            (40.0, 0.0),
            (40.0, 12.0),
            (0.0, 12.0),
        ];
        corners.map(|(x, y)| Point::new(x, y)).to_vec()
    }

    fn codes(wanted: &[Point], found: &[Point], cutter: &Cutter) -> Vec<&'static str> {
        let mut faults = Vec::new();
        check_reliefs("bar", (wanted, found), true, cutter, &mut faults);
        faults.iter().map(|fault| fault.code).collect()
    }

    #[test]
    fn both_forms_let_a_square_mate_sit_and_no_relief_does_not() {
        for form in [Relief::Bone, Relief::Tee] {
            let cutter = cutter(1.5, form);
            let found = relieved(&bar(3.0), true, &cutter).unwrap();
            assert_eq!(
                codes(&bar(3.0), &found, &cutter),
                [] as [&str; 0],
                "{form:?}"
            );
        }
        let bone = cutter(1.5, Relief::Bone);
        assert_eq!(codes(&bar(3.0), &bar(3.0), &bone), ["not-seated"; 2]);
    }

    #[test]
    fn a_relief_that_is_too_small_or_takes_too_much_is_found() {
        let bone = cutter(1.5, Relief::Bone);
        // Made for a thinner cutter: this one does not get in.
        let thin = relieved(&bar(3.0), true, &cutter(1.2, Relief::Bone)).unwrap();
        assert!(codes(&bar(3.0), &thin, &bone).contains(&"not-seated"));
        // Made for a thicker one: more wood is gone than must be.
        let thick = relieved(&bar(6.0), true, &cutter(4.0, Relief::Tee)).unwrap();
        assert!(codes(&bar(6.0), &thick, &bone).contains(&"relief-stray"));
        let found = relieved(&bar(3.0), true, &bone).unwrap();
        // Clockwise is the same ring.
        let turned: Vec<Point> = found.into_iter().rev().collect();
        assert!(codes(&bar(3.0), &turned, &bone).is_empty());
    }

    #[test]
    fn bridges_are_counted_and_kept_from_corners() {
        let bridges_of = |strokes: &[[(f64, f64); 2]], laid_edge: bool| {
            let contour = |stroke: &[(f64, f64); 2]| Contour {
                work: Work::Bridges,
                closed: false,
                points: stroke.iter().map(|&(x, y)| Point::new(x, y)).collect(),
            };
            let contours: Vec<Contour> = strokes.iter().map(contour).collect();
            let cutter = Cutter {
                bridges: Some(Bridges {
                    count: 1,
                    width: 3.0,
                }),
                ..cutter(1.5, Relief::Bone)
            };
            let mut faults = Vec::new();
            let part = Part {
                name: "bar".into(),
                copy: 1,
                outer: bar(3.0),
                holes: Vec::new(),
                strokes: Vec::new(),
                laid_edge,
            };
            check_bridges(&contours, &[part], &cutter, &mut faults);
            faults.iter().map(|fault| fault.code).collect::<Vec<_>>()
        };
        let bridges = |strokes: &[[(f64, f64); 2]]| bridges_of(strokes, false);
        assert_eq!(
            bridges_of(&[[(5.0, 0.0), (8.0, 0.0)]], true),
            ["bridge-place"]
        );
        assert!(bridges_of(&[[(18.5, 12.0), (21.5, 12.0)]], true).is_empty());
        assert!(bridges(&[[(5.0, 0.0), (8.0, 0.0)]]).is_empty());
        assert!(bridges(&[[(18.5, 12.0), (21.5, 12.0)]]).is_empty());
        assert_eq!(bridges(&[]), ["bridge-count"]);
        assert_eq!(bridges(&[[(5.0, 0.0), (8.1, 0.0)]]), ["bridge-width"]);
        // Nearer than a cutter's width to the notch, or to the end; in the notch; on the end.
        assert_eq!(bridges(&[[(14.5, 0.0), (17.5, 0.0)]]), ["bridge-place"]);
        assert_eq!(bridges(&[[(1.0, 0.0), (4.0, 0.0)]]), ["bridge-place"]);
        assert_eq!(bridges(&[[(18.5, 2.0), (18.5, 5.0)]]), ["bridge-place"]);
        assert_eq!(bridges(&[[(0.0, 4.0), (0.0, 7.0)]]), ["bridge-place"]);
        // In the air: on no outline, and then one is missing.
        assert_eq!(
            bridges(&[[(18.6, 0.0), (21.4, 0.0)]]),
            ["bridge-place", "bridge-count"]
        );
    }
}
