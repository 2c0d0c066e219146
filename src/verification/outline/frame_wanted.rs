//! A frame's members as they must be, from where they lie in the panel.

use super::rings::points;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::instructions::outline::FrameLine;
use crate::lattice::{CornerJoint, Frame, Lattice, MemberWidths, Rail, RecessKind, TenonWish};

/// What a frame is, and what its members are called, round it from the first rail.
#[derive(Debug, Clone, Copy)]
pub struct FrameOrder<'a> {
    /// The panel's strips.
    pub lattice: &'a Lattice,
    /// The frame.
    pub frame: &'a Frame,
    /// Its members' names.
    pub names: &'a [String],
}

/// A member as it must be drawn.
#[derive(Debug, Clone)]
pub(super) struct WantedMember {
    pub(super) name: String,
    pub(super) label: String,
    /// Its place in the panel: the inner edge's beginning and direction, counter-clockwise.
    pub(super) from: Point,
    pub(super) along: Vector,
    /// Length of the inner edge.
    pub(super) inner: f64,
    /// Inner edge along x from 0, wood below.
    pub(super) ring: Vec<Point>,
    pub(super) lines: Vec<(FrameLine, Vec<Point>)>,
}

impl WantedMember {
    /// A point of its own frame in the panel.
    pub(super) fn in_panel(&self, point: Point) -> Point {
        let inward = Vector::new(-self.along.y, self.along.x);
        self.from + self.along * point.x + inward * point.y
    }

    fn has(&self, wanted: FrameLine) -> bool {
        self.lines.iter().any(|(line, _)| *line == wanted)
    }

    /// A point of the panel in its own frame.
    fn own(&self, point: Point) -> Point {
        let way = self.from.to(point);
        Point::new(way.dot(self.along), self.along.cross(way))
    }
}

/// A member's place and width.
struct Side {
    from: Point,
    along: Vector,
    inner: f64,
    width: f64,
}

/// Depth of a groove and width of a rebate, mm; zero for what there is not.
#[derive(Clone, Copy)]
struct Taken {
    groove: f64,
    rebate: f64,
}

/// Tenons by the job's words, mm.
struct Corner {
    tenon: f64,
    haunch: f64,
    play: f64,
}

impl FrameOrder<'_> {
    /// What is seen of each member from the front, in the panel: a rail ends at its shoulders.
    pub(super) fn seen(&self) -> Vec<Vec<Point>> {
        let members = self.members().into_iter();
        let ring = |member: WantedMember| {
            let deep = member.ring.iter().map(|point| point.y).fold(0.0, f64::min);
            let shown = if member.has(FrameLine::Shoulders) {
                pocket([0.0, member.inner], deep)
            } else {
                member.ring.clone()
            };
            shown.iter().map(|point| member.in_panel(*point)).collect()
        };
        members.map(ring).collect()
    }

    /// All members; none where the frame cannot be made or its members' widths are not known.
    pub(super) fn members(&self) -> Vec<WantedMember> {
        let Ok(made) = self.frame.rails(self.lattice) else {
            return Vec::new();
        };
        let Some(sides) = self.sides(&made.rails) else {
            return Vec::new();
        };
        let taken = self.taken();
        let mut all = Vec::new();
        for (at, (side, rail)) in sides.iter().zip(&made.rails).enumerate() {
            let name = self.names.get(at).cloned().unwrap_or_default();
            let before = sides.get((at + sides.len() - 1) % sides.len());
            let after = sides.get((at + 1) % sides.len());
            let (Some(before), Some(after)) = (before, after) else {
                continue;
            };
            let bare: String = name.replace(['(', ')'], "");
            let mut member = WantedMember {
                name,
                label: bare.to_uppercase(),
                from: side.from,
                along: side.along,
                inner: side.inner,
                ring: Vec::new(),
                lines: Vec::new(),
            };
            match self.frame.joint {
                CornerJoint::Mitre => mitre(&mut member, side, before, after, taken),
                CornerJoint::Tenon(wish) => {
                    let corner = self.corner(wish, &sides);
                    if side.along.y.abs() < side.along.x.abs() {
                        tenons(&mut member, side.width, taken, &corner);
                    } else {
                        sockets(&mut member, side.width, before, after, taken, &corner);
                    }
                }
            }
            self.pockets(&mut member, rail);
            all.push(member);
        }
        all
    }

    /// Every member as it is met by one who goes round counter-clockwise.
    fn sides(&self, rails: &[Rail]) -> Option<Vec<Side>> {
        let widths = self.frame.widths.as_ref()?;
        let mut sides = Vec::new();
        for (at, rail) in rails.iter().enumerate() {
            // Outward is to the right of the way round.
            let along = Vector::new(-rail.outward.y, rail.outward.x);
            let way = rail.start.to(rail.end);
            let from = if way.dot(along) > 0.0 {
                rail.start
            } else {
                rail.end
            };
            let width = match widths {
                MemberWidths::Same(width) => *width,
                MemberWidths::Each(widths) => *widths.get(at)?,
            };
            sides.push(Side {
                from,
                along,
                inner: way.length(),
                width,
            });
        }
        Some(sides)
    }

    fn taken(&self) -> Taken {
        let of = |kind: RecessKind| {
            let recess = self.frame.recess.filter(|recess| recess.kind == kind);
            recess.map_or(0.0, |recess| match kind {
                RecessKind::Rebate => recess.width,
                RecessKind::Groove => recess.depth,
            })
        };
        Taken {
            groove: of(RecessKind::Groove),
            rebate: of(RecessKind::Rebate),
        }
    }

    fn corner(&self, wish: TenonWish, sides: &[Side]) -> Corner {
        let upright = sides.iter().filter(|side| side.along.x.abs() < 0.5);
        let narrow = upright.map(|side| side.width).fold(f64::INFINITY, f64::min);
        let frame = self.frame;
        let groove = frame
            .recess
            .filter(|recess| recess.kind == RecessKind::Groove);
        let usual_haunch = match (groove, wish.thickness) {
            (Some(groove), _) => groove.depth,
            (None, Some(thick)) => thick,
            (None, None) => frame.thickness / 3.0,
        };
        Corner {
            tenon: wish.length.unwrap_or(2.0 * narrow / 3.0),
            haunch: wish.haunch.unwrap_or(usual_haunch),
            play: frame.end_gap,
        }
    }

    /// Mortises for strips.
    fn pockets(&self, member: &mut WantedMember, rail: &Rail) {
        let way = rail.start.to(rail.end).unit().unwrap_or_default();
        for mortise in &rail.mortises {
            let ends = mortise.edges.map(|edge| rail.start + way * edge);
            let xs = ends.map(|end| member.own(end).x);
            let deep = -self.frame.mortise_depth;
            member.lines.push((FrameLine::Mortises, pocket(xs, deep)));
        }
    }
}

fn pocket([a, b]: [f64; 2], deep: f64) -> Vec<Point> {
    points(&[(a, 0.0), (b, 0.0), (b, deep), (a, deep)])
}

/// Where a member's outer edge, drawn on, meets another's.
fn outer_corner(side: &Side, other: &Side) -> Point {
    let out = |side: &Side| Vector::new(side.along.y, -side.along.x);
    let p = side.from + out(side) * side.width;
    let q = other.from + out(other) * other.width;
    let share = p.to(q).cross(other.along) / side.along.cross(other.along);
    p + side.along * share
}

fn mitre(member: &mut WantedMember, side: &Side, before: &Side, after: &Side, taken: Taken) {
    let inner = [side.from, side.from + side.along * side.inner];
    let outer = [outer_corner(side, before), outer_corner(side, after)];
    let [a, b] = inner.map(|point| member.own(point));
    let [c, d] = outer.map(|point| member.own(point));
    member.ring = vec![a, b, d, c];
    let (line, deep) = recess(taken);
    if deep > 0.0 {
        let on = |from: Point, to: Point| from + from.to(to) * (deep / side.width);
        member.lines.push((line, vec![on(a, c), on(b, d)]));
    }
}

fn recess(taken: Taken) -> (FrameLine, f64) {
    if taken.rebate > 0.0 {
        (FrameLine::Rebates, taken.rebate)
    } else {
        (FrameLine::Grooves, taken.groove)
    }
}

/// A rail's outline: rectangles over each other, of which at every depth the farthest counts.
fn tenons(member: &mut WantedMember, width: f64, taken: Taken, corner: &Corner) {
    let inner = member.inner;
    let share = (width - taken.groove) / 2.0;
    let top = taken.groove;
    let rectangles = [
        (0.0, width, 0.0),
        (taken.rebate, width, taken.rebate),
        (top, top + share, corner.tenon),
        (top + share, width, corner.haunch),
    ];
    let reach = |deep: f64| {
        let there = rectangles.iter();
        let there = there.filter(|(from, to, _)| *from < deep && deep < *to);
        there.map(|(_, _, out)| *out).fold(0.0, f64::max)
    };
    let mut steps: Vec<f64> = rectangles.iter().flat_map(|(a, b, _)| [*a, *b]).collect();
    steps.sort_by(f64::total_cmp);
    steps.dedup_by(|a, b| (*a - *b).abs() < SAME_POSITION_MM);
    let mut spans: Vec<(f64, f64, f64)> = Vec::new();
    for (from, to) in steps.iter().zip(steps.iter().skip(1)) {
        let out = reach(f64::midpoint(*from, *to));
        match spans
            .last_mut()
            .filter(|span| (span.2 - out).abs() < SAME_POSITION_MM)
        {
            Some(span) => span.1 = *to,
            None => spans.push((*from, *to, out)),
        }
    }
    let right = spans
        .iter()
        .flat_map(|(from, to, out)| [(inner + out, -from), (inner + out, -to)]);
    let mut ring: Vec<(f64, f64)> = right.collect();
    let left = spans.iter().rev();
    ring.extend(left.flat_map(|(from, to, out)| [(-out, -to), (-out, -from)]));
    member.ring = points(&ring);
    shoulder_lines(member, &spans, 0.0, FrameLine::Shoulders);
    if taken.rebate > 0.0 {
        shoulder_lines(member, &spans, taken.rebate, FrameLine::BackShoulders);
    }
    let (line, deep) = recess(taken);
    if deep > 0.0 {
        let ends = [(-taken.rebate, -deep), (inner + taken.rebate, -deep)];
        member.lines.push((line, points(&ends)));
    }
}

/// Upright lines so far beyond the inner corners, over all depths at least as deep at which the member
/// goes on beyond them.
fn shoulder_lines(member: &mut WantedMember, spans: &[(f64, f64, f64)], out: f64, line: FrameLine) {
    let beyond = spans.iter().filter(|span| span.2 > out + SAME_POSITION_MM);
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for (from, to, _) in beyond.filter(|span| span.1 > out + SAME_POSITION_MM) {
        let from = from.max(out);
        match stretches
            .last_mut()
            .filter(|(_, end)| from - *end < SAME_POSITION_MM)
        {
            Some((_, end)) => *end = *to,
            None => stretches.push((from, *to)),
        }
    }
    for (from, to) in stretches {
        for x in [-out, member.inner + out] {
            member.lines.push((line, points(&[(x, -from), (x, -to)])));
        }
    }
}

/// A stile: its ends lie level with the rails' outer edges.
fn sockets(
    member: &mut WantedMember,
    width: f64,
    before: &Side,
    after: &Side,
    taken: Taken,
    corner: &Corner,
) {
    let ends = [-before.width, member.inner + after.width];
    member.ring = pocket(ends, -width);
    let deep = -(corner.tenon + corner.play);
    for (rail, zero, sign) in [(before, 0.0, -1.0), (after, member.inner, 1.0)] {
        let share = (rail.width - taken.groove) / 2.0;
        let at = |out: f64| zero + sign * out;
        let tenon = [at(taken.groove), at(taken.groove + share)];
        member
            .lines
            .push((FrameLine::Mortises, pocket(tenon, deep)));
        if corner.haunch > 0.0 {
            let socket = [at(taken.groove + share), at(rail.width)];
            let deep = -(corner.haunch + corner.play);
            member
                .lines
                .push((FrameLine::Mortises, pocket(socket, deep)));
        }
    }
    let (line, deep) = recess(taken);
    if deep > 0.0 {
        member.lines.push((line, points(&ends.map(|x| (x, -deep)))));
    }
}
