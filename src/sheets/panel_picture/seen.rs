//! Which lines of flat bodies are seen from the front: none that lies behind another body, none
//! twice.

use crate::geometry::convex::{chord, depth, edges, parts};
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::instructions::drawing::Role;
use static_aabb2d_index::{StaticAABB2DIndex, StaticAABB2DIndexBuilder};
use std::borrow::Cow;
use std::collections::HashMap;
use std::f64::consts::PI;

/// Lines shorter than this are left out, mm: no printer or plotter draws them.
const SHORTEST_MM: f64 = 1e-3;

/// Something flat that hides what lies behind it.
pub(super) struct Body {
    /// What it is.
    pub(super) role: Role,
    /// Counter-clockwise.
    pub(super) ring: Vec<Point>,
    /// Indices of the bodies of its group that may lie over it.
    pub(super) under: Vec<usize>,
}

/// A line that is seen.
pub(super) struct Line {
    /// Whose edge it is.
    pub(super) role: Role,
    /// Its corners; the first is not repeated at the end of a closed one.
    pub(super) points: Vec<Point>,
    /// Whether it goes all round.
    pub(super) closed: bool,
}

impl Line {
    /// Its straight parts.
    fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        let count = self.points.len() - usize::from(!self.closed && !self.points.is_empty());
        edges(&self.points).take(count)
    }
}

type Segment = (Point, Point);

/// The lines of a group of bodies, those in front first, that are seen and that no line of `drawn`
/// is already.
pub(super) fn lines(bodies: &[Body], drawn: &[Segment]) -> Vec<Line> {
    let mut drawn = DrawnLines::of(drawn, bodies);
    let mut all = Vec::new();
    for body in bodies {
        let over = body.under.iter().filter_map(|at| bodies.get(*at));
        let over: Vec<Vec<Point>> = over.flat_map(|other| parts(&other.ring)).collect();
        let spans = edges(&body.ring).flat_map(|edge| {
            let stretch = Stretch::of(edge);
            let behind = over.iter().filter_map(|other| stretch.behind(other));
            let near = drawn.near(edge);
            let twice = near.iter().filter_map(|line| stretch.along(*line));
            stretch.without(behind.chain(twice).collect())
        });
        let seen = chained(spans.collect(), body.role);
        seen.iter()
            .flat_map(Line::segments)
            .for_each(|line| drawn.add(line));
        all.extend(seen);
    }
    all
}

/// The straight parts of some lines.
pub(super) fn segments(lines: &[Line]) -> Vec<Segment> {
    lines.iter().flat_map(Line::segments).collect()
}

/// Those straight parts that come near a body.
pub(super) fn near(drawn: &[Segment], ring: &[Point]) -> Vec<Segment> {
    let Some(room) = bounds(ring.iter().copied()) else {
        return Vec::new();
    };
    let reaches = |line: &&Segment| reaches(line, room);
    drawn.iter().filter(reaches).copied().collect()
}

fn reaches((p, q): &Segment, (low, high): (Point, Point)) -> bool {
    let beside = |p: f64, q: f64, low: f64, high: f64| {
        p.max(q) > low - SHORTEST_MM && p.min(q) < high + SHORTEST_MM
    };
    beside(p.x, q.x, low.x, high.x) && beside(p.y, q.y, low.y, high.y)
}

/// Straight parts, found by where they are.
pub(super) struct NearLines {
    lines: Vec<Segment>,
    /// Nothing where there are none.
    index: Option<StaticAABB2DIndex<f64>>,
}

impl NearLines {
    pub(super) fn of(lines: Vec<Segment>) -> Self {
        let mut builder = StaticAABB2DIndexBuilder::new(lines.len());
        for (p, q) in &lines {
            builder.add(p.x.min(q.x), p.y.min(q.y), p.x.max(q.x), p.y.max(q.y));
        }
        NearLines {
            index: builder.build().ok(),
            lines,
        }
    }

    /// As [`near`].
    pub(super) fn near(&self, ring: &[Point]) -> Vec<Segment> {
        let room = bounds(ring.iter().copied());
        let Some(((low, high), index)) = room.zip(self.index.as_ref()) else {
            return Vec::new();
        };
        let mut found = index.query(
            low.x - SHORTEST_MM,
            low.y - SHORTEST_MM,
            high.x + SHORTEST_MM,
            high.y + SHORTEST_MM,
        );
        found.sort_unstable();
        let lines = found.into_iter().filter_map(|at| self.lines.get(at));
        let reaches = |line: &&Segment| reaches(line, (low, high));
        lines.filter(reaches).copied().collect()
    }
}

/// Of so few bodies all lines are looked at.
const FEW_BODIES: usize = 100;

/// Lines that are drawn already, found by the straight line that they lie on.
struct DrawnLines {
    lines: Vec<Segment>,
    /// Nothing where all lines are looked at.
    by_carrier: Option<HashMap<Carrier, Vec<usize>>>,
    /// Lines too short to have a direction.
    short: Vec<usize>,
}

/// Where a straight line lies, about: its direction, one of [`DIRECTIONS`], and how far it is from the origin, in
/// bands of [`BAND_MM`].
type Carrier = [i64; 2];

/// Degrees, so that the lines of nearly all grids have one direction to the last digit.
const DIRECTIONS: i64 = 180;
const BAND_MM: f64 = 1.0;

/// Lines shorter than this are looked at by all.
const SHORT_MM: f64 = 0.01;

impl DrawnLines {
    /// Of those that are there before the lines of some bodies.
    fn of(drawn: &[Segment], bodies: &[Body]) -> Self {
        let mut all = DrawnLines {
            lines: Vec::new(),
            by_carrier: (bodies.len() > FEW_BODIES).then(HashMap::new),
            short: Vec::new(),
        };
        drawn.iter().for_each(|line| all.add(*line));
        all
    }

    fn add(&mut self, line: Segment) {
        let at = self.lines.len();
        self.lines.push(line);
        let Some(by_carrier) = &mut self.by_carrier else {
            return;
        };
        if line.0.to(line.1).length() < SHORT_MM {
            self.short.push(at);
        } else {
            let carriers = bands(line, direction(line, 0.0));
            carriers.for_each(|carrier| by_carrier.entry(carrier).or_default().push(at));
        }
    }

    /// Those that may run along a line.
    fn near(&self, line: Segment) -> Cow<'_, [Segment]> {
        let Some(by_carrier) = &self.by_carrier else {
            return Cow::Borrowed(&self.lines);
        };
        // Whose ends are as good as on it, however short it is.
        let lean = 2.0 * SAME_POSITION_MM / SHORT_MM;
        let mut directions = vec![direction(line, -lean), direction(line, lean)];
        directions.dedup();
        let carriers = directions.into_iter().flat_map(|own| bands(line, own));
        let found = carriers.filter_map(|carrier| by_carrier.get(&carrier));
        let mut found: Vec<usize> = found.flatten().chain(&self.short).copied().collect();
        found.sort_unstable();
        found.dedup();
        let lines = found.into_iter().filter_map(|at| self.lines.get(at));
        Cow::Owned(lines.copied().collect())
    }
}

/// The nearest of [`DIRECTIONS`] to a line's, turned by so many radians.
#[allow(clippy::cast_possible_truncation)] // some degrees
fn direction((from, to): Segment, turned: f64) -> i64 {
    let way = from.to(to);
    let angle = (way.y.atan2(way.x) + turned) / PI;
    ((angle * DIRECTIONS as f64).round() as i64).rem_euclid(DIRECTIONS)
}

/// The bands of a direction in which a line lies. Lines that have a place in common have a band in common.
#[allow(clippy::cast_possible_truncation)] // saturates; then nothing is found near
fn bands((from, to): Segment, direction: i64) -> impl Iterator<Item = Carrier> {
    let (sin, cos) = (direction as f64 * PI / DIRECTIONS as f64).sin_cos();
    let beside = |point: Point| cos * point.y - sin * point.x;
    let (one, other) = (beside(from), beside(to));
    let band = |beside: f64| (beside / BAND_MM).floor() as i64;
    let low = band(one.min(other) - SAME_POSITION_MM);
    let high = band(one.max(other) + SAME_POSITION_MM);
    (low..=high).map(move |band| [direction, band])
}

/// A ring's parts of which nothing is drawn yet.
pub(super) fn not_drawn(ring: &[Point], role: Role, drawn: &[Segment]) -> Vec<Line> {
    let body = Body {
        role,
        ring: ring.to_vec(),
        under: Vec::new(),
    };
    lines(&[body], drawn)
}

/// One edge, measured along itself.
struct Stretch {
    from: Point,
    to: Point,
    along: Vector,
    length: f64,
}

impl Stretch {
    fn of(segment: Segment) -> Stretch {
        let (from, to) = segment;
        let way = from.to(to);
        Stretch {
            from,
            to,
            along: way.unit().unwrap_or_default(),
            length: way.length(),
        }
    }

    fn at(&self, place: f64) -> Point {
        if place <= 0.0 {
            self.from
        } else if place >= self.length {
            self.to
        } else {
            self.from + self.along * place
        }
    }

    /// What of it lies inside a convex ring, not along its edge.
    fn behind(&self, ring: &[Point]) -> Option<[f64; 2]> {
        let [from, to] = chord(ring, self.from, self.along, SAME_POSITION_MM)?;
        let from = from.max(0.0);
        let to = to.min(self.length);
        let middle = self.at(f64::midpoint(from, to));
        (to > from && depth(ring, middle) > SAME_POSITION_MM).then_some([from, to])
    }

    /// What of it another line runs along.
    fn along(&self, segment: Segment) -> Option<[f64; 2]> {
        let (p, q) = segment;
        let off = |point: Point| self.along.cross(self.from.to(point)).abs();
        let on = |point: Point| self.along.dot(self.from.to(point));
        let same = off(p) < SAME_POSITION_MM && off(q) < SAME_POSITION_MM;
        same.then(|| [on(p).min(on(q)), on(p).max(on(q))])
    }

    /// What is left of it when some parts are taken out.
    fn without(&self, mut taken: Vec<[f64; 2]>) -> Vec<Segment> {
        taken.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut left = Vec::new();
        let mut from = 0.0;
        for [start, end] in taken {
            if start - from > SHORTEST_MM {
                left.push([from, start.min(self.length)]);
            }
            from = end.max(from);
        }
        left.push([from, self.length]);
        let long = left
            .into_iter()
            .filter(|[from, to]| to - from > SHORTEST_MM);
        long.map(|[from, to]| (self.at(from), self.at(to)))
            .collect()
    }
}

/// Parts of a ring in their order, those that meet joined.
fn chained(spans: Vec<Segment>, role: Role) -> Vec<Line> {
    let meet = |p: &Point, q: &Point| p.to(*q).length() < SAME_POSITION_MM;
    let mut chains: Vec<Vec<Point>> = Vec::new();
    for (from, to) in spans {
        match chains.last_mut() {
            Some(chain) if chain.last().is_some_and(|last| meet(last, &from)) => chain.push(to),
            _ => chains.push(vec![from, to]),
        }
    }
    let round = match (chains.first(), chains.last()) {
        (Some(first), Some(last)) => match (first.first(), last.last()) {
            (Some(start), Some(end)) => meet(start, end),
            _ => false,
        },
        _ => false,
    };
    let closed = round && chains.len() == 1;
    if closed {
        chains.iter_mut().for_each(|chain| {
            chain.pop();
        });
    } else if round
        && let Some(mut last) = chains.pop()
        && let Some(first) = chains.first_mut()
    {
        last.extend(first.iter().skip(1).copied());
        *first = last;
    }
    let line = |points| Line {
        role,
        points,
        closed,
    };
    chains.into_iter().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn bar(low: (f64, f64), high: (f64, f64), under: &[usize]) -> Body {
        let p = Point::new;
        Body {
            role: Role::Wood,
            ring: vec![
                p(low.0, low.1),
                p(high.0, low.1),
                p(high.0, high.1),
                p(low.0, high.1),
            ],
            under: under.to_vec(),
        }
    }

    fn length(lines: &[Line]) -> f64 {
        let parts = segments(lines).into_iter();
        parts.map(|(p, q)| p.to(q).length()).sum()
    }

    #[test]
    fn a_bar_behind_stops_at_the_one_in_front() {
        let front = bar((-10.0, -1.0), (10.0, 1.0), &[]);
        let back = bar((-1.0, -10.0), (1.0, 10.0), &[0]);
        let seen = lines(&[front, back], &[]);
        assert!(seen[0].closed && seen[0].points.len() == 4);
        // The bar behind shows above and below, three sides of a rectangle each.
        assert_eq!(seen.len(), 3);
        assert!(
            seen[1..]
                .iter()
                .all(|line| !line.closed && line.points.len() == 4)
        );
        assert!(approx_eq!(
            f64,
            length(&seen),
            44.0 + 2.0 * (9.0 + 2.0 + 9.0),
            epsilon = 1e-9
        ));
    }

    /// A large grid is as many small ones: what is found by direction is what a look at all lines finds.
    #[test]
    fn many_bodies_are_drawn_as_few_are() {
        let count = 60;
        let reach = f64::from(count) * 10.0;
        let at = |n: i32| f64::from(n) * 10.1 + 0.7;
        let mut bodies: Vec<Body> = (0..count)
            .map(|n| bar((0.0, at(n)), (reach, at(n) + 3.0), &[]))
            .collect();
        let front: Vec<usize> = (0..bodies.len()).collect();
        bodies.extend((0..count).map(|n| bar((at(n), 0.0), (at(n) + 3.0, reach), &front)));
        // Edges that run along others, shorter and turned about.
        bodies.extend((0..9).map(|n| bar((at(n) - 5.0, -7.0), (at(n), 40.0), &front)));
        assert!(bodies.len() > FEW_BODIES);
        let by_direction = lines(&bodies, &[]);
        let drawn = |bodies: &[Body]| {
            let mut known: Vec<Segment> = Vec::new();
            let mut all = Vec::new();
            for body in bodies {
                let over = body.under.iter().map(|at| &bodies[*at]);
                let over: Vec<Vec<Point>> = over.flat_map(|other| parts(&other.ring)).collect();
                let spans = edges(&body.ring).flat_map(|edge| {
                    let stretch = Stretch::of(edge);
                    let behind = over.iter().filter_map(|other| stretch.behind(other));
                    let twice = known.iter().filter_map(|line| stretch.along(*line));
                    stretch.without(behind.chain(twice).collect())
                });
                let seen = chained(spans.collect(), body.role);
                known.extend(seen.iter().flat_map(Line::segments));
                all.extend(seen);
            }
            all
        };
        let wanted = segments(&drawn(&bodies));
        assert!(wanted.len() > 7000, "{}", wanted.len());
        assert_eq!(segments(&by_direction), wanted);
        let near_lines = NearLines::of(wanted.clone());
        for body in &bodies {
            assert_eq!(near_lines.near(&body.ring), near(&wanted, &body.ring));
        }
    }

    #[test]
    fn a_shared_edge_is_drawn_once() {
        let seen = lines(
            &[
                bar((0.0, 0.0), (4.0, 4.0), &[]),
                bar((4.0, 1.0), (6.0, 3.0), &[]),
            ],
            &[],
        );
        assert!(approx_eq!(f64, length(&seen), 16.0 + 6.0, epsilon = 1e-9));
        let again = not_drawn(
            &bar((0.0, 0.0), (4.0, 4.0), &[]).ring,
            Role::Cut,
            &segments(&seen),
        );
        assert!(again.is_empty());
    }
}
