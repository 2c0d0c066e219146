//! Reliefs in the corners of outlines that a round cutter follows: whether a square mate sits in
//! every corner, and no more wood is gone than must be.

use super::report::{OutlineFault, TOLERANCE_MM, mm, place};
use super::rings::{Edge, edges, is_inside};
use crate::geometry::{Point, Vector, signed_area};
use crate::machines::Cutter;

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

/// What a ring bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RingKind {
    /// A part: the wood is inside.
    Outline,
    /// A hole in a part: the wood is outside.
    Hole,
}

impl RingKind {
    /// Whether wood would be at a place, with this ring alone.
    fn has_wood(self, place: Point, ring: &[Point]) -> bool {
        match self {
            RingKind::Outline => is_inside(place, ring),
            RingKind::Hole => !is_inside(place, ring),
        }
    }

    /// The ring in the direction in which the wood lies on its left.
    fn with_wood_left(self, ring: &[Point]) -> Vec<Point> {
        let counter_clockwise = signed_area(ring) > 0.0;
        let mut ring = ring.to_vec();
        if counter_clockwise != (self == RingKind::Outline) {
            ring.reverse();
        }
        ring
    }
}

/// Checks the reliefs of the ring found against the one wanted: wood is only missing near concave
/// corners, and in each of them the cutter reaches every point of both sides.
pub(super) fn check_reliefs(
    name: &str,
    wanted: &[Point],
    found: &[Point],
    kind: RingKind,
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    let wanted = kind.with_wood_left(wanted);
    let found = kind.with_wood_left(found);
    let radius = cutter.diameter / 2.0;
    let concave = concave_corners(&wanted);
    for point in &found {
        let known = wanted
            .iter()
            .any(|corner| corner.to(*point).length() <= TOLERANCE_MM);
        let near =
            |corner: &ConcaveCorner| corner.at.to(*point).length() <= 2.0 * (radius + ROOM_MM);
        if !known && !concave.iter().any(near) {
            let text = format!("{name}: the vertex at {} is no relief", place(*point));
            faults.push(OutlineFault::new("relief-stray", text));
        } else if !known && beyond(*point, &wanted, kind) {
            let text = format!("{name}: wood beyond the outline at {}", place(*point));
            faults.push(OutlineFault::new("relief-stray", text));
        }
    }
    let touching = concave.iter().filter_map(|corner| corner.touching(radius));
    let touching: Vec<Point> = touching.flatten().collect();
    for corner in &concave {
        if let Some(point) = corner.unreached(&found, kind, radius, &touching) {
            let text = format!(
                "{name}: a cutter of {} mm does not reach {}: a square mate would not sit",
                mm(cutter.diameter),
                place(point)
            );
            faults.push(OutlineFault::new("not-seated", text));
        }
    }
}

/// Whether a vertex of the drawing lies outside the wood that is wanted, not only on its edge.
fn beyond(point: Point, wanted: &[Point], kind: RingKind) -> bool {
    let off = edges(wanted).map(|edge| edge.distance(point));
    !kind.has_wood(point, wanted) && off.fold(f64::INFINITY, f64::min) > TOLERANCE_MM
}

/// A corner of a ring (the part on its left) at which it turns right.
struct ConcaveCorner {
    at: Point,
    sides: [SideAway; 2],
}

/// A side of a corner.
#[derive(Clone, Copy)]
struct SideAway {
    /// Along it, away from the corner, length 1.
    way: Vector,
    length: f64,
}

impl SideAway {
    fn of(way: Vector) -> Option<SideAway> {
        Some(SideAway {
            way: way.unit()?,
            length: way.length(),
        })
    }
}

/// The wood around a corner that a cutter may not touch.
struct WoodAround<'a> {
    ring: &'a [Point],
    kind: RingKind,
    /// The edges of the ring that are near enough to matter.
    near: Vec<Edge>,
    radius: f64,
}

impl WoodAround<'_> {
    /// Whether the cutter, its middle here, touches none of it.
    fn clears(&self, middle: Point) -> bool {
        let mut near = self.near.iter();
        !self.kind.has_wood(middle, self.ring)
            && near.all(|edge| edge.distance(middle) >= self.radius - TOUCH_MM)
    }
}

fn concave_corners(ring: &[Point]) -> Vec<ConcaveCorner> {
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let after = ring.iter().cycle().skip(1);
    let corner = |(at, (before, after)): (&Point, (&Point, &Point))| {
        let back = at.to(*before);
        let on = at.to(*after);
        // Coming in along -back and leaving along on.
        let turns_right = (-back).cross(on) < -1e-9 * back.length() * on.length();
        turns_right.then_some(ConcaveCorner {
            at: *at,
            sides: [SideAway::of(back)?, SideAway::of(on)?],
        })
    };
    ring.iter()
        .zip(before.zip(after))
        .filter_map(corner)
        .collect()
}

impl ConcaveCorner {
    /// Where a cutter touches the corner: on its bisector, and on either side.
    fn touching(&self, radius: f64) -> Option<[Point; 3]> {
        let [first, second] = self.sides.map(|side| side.way);
        let ways = [(first + second).unit()?, first, second];
        Some(ways.map(|way| self.at + way * radius))
    }

    /// A point of one of the sides, within two diameters of the corner, that no place of the
    /// cutter clears: it would have to stand within a radius of the point, and its whole disc out
    /// of the wood. Tried are the places beside each point of a side and those that touch one of
    /// the corners around.
    fn unreached(
        &self,
        ring: &[Point],
        kind: RingKind,
        radius: f64,
        touching: &[Point],
    ) -> Option<Point> {
        // Middles that are tried lie within 6 radii of the corner: what they touch, within 7.
        let wood = WoodAround {
            ring,
            kind,
            near: edges(ring)
                .filter(|edge| edge.distance(self.at) < 8.0 * radius)
                .collect(),
            radius,
        };
        let around: Vec<Point> = touching
            .iter()
            .copied()
            .filter(|middle| self.at.to(*middle).length() < 6.0 * radius)
            .filter(|middle| wood.clears(*middle))
            .collect();
        let [first, second] = self.sides;
        for (side, other) in [(first, second), (second, first)] {
            let along = side.way;
            let across = other.way;
            // Square to the side, to where the other one leads.
            let normal = (across + along * -across.dot(along)).unit()?;
            let steps = (side.length.min(4.0 * radius) / STEP_MM).floor();
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few hundred
            for step in 0..=steps as u32 {
                let point = self.at + along * (f64::from(step) * STEP_MM);
                let reached = around
                    .iter()
                    .any(|middle| middle.to(point).length() <= radius + TOUCH_MM)
                    || wood.clears(point + normal * radius);
                if !reached {
                    return Some(point);
                }
            }
        }
        None
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::machines::Relief;
    use crate::planning::sheet_cutting::relief::relieved;

    pub(in crate::verification::outline) fn cutter(diameter: f64, relief: Relief) -> Cutter {
        Cutter {
            diameter,
            relief,
            bridges: None,
        }
    }

    pub(in crate::verification::outline) fn bar(wide: f64) -> Vec<Point> {
        let a = 20.0 - wide / 2.0;
        let b = 20.0 + wide / 2.0;
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
        check_reliefs("bar", wanted, found, RingKind::Outline, cutter, &mut faults);
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
}
