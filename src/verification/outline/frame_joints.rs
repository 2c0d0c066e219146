//! Members as they were drawn, put back to their places in the panel: do they close, and does each tenon go
//! into its mortise?

use super::frame_wanted::{FrameOrder, WantedMember};
use super::report::{OutlineFault, TOLERANCE_MM, mm};
use crate::geometry::convex::common;
use crate::geometry::{Point, signed_area};
use crate::instructions::outline::FrameLine;
use crate::lattice::CornerJoint;
use std::f64::consts::PI;

/// Two vertices, each off by what it may be, and both once more by its outline's corner.
const CLOSE_MM: f64 = 4.0 * TOLERANCE_MM;

/// Members that touch share no more than this, mm2: a meter of edge, off by what it may be.
const TOUCH_MM2: f64 = 0.1;

/// A member of the drawing.
pub(super) struct Drawn<'w> {
    /// What it must be.
    pub(super) member: &'w WantedMember,
    /// Its outline as drawn, in the member's own frame.
    pub(super) ring: Vec<Point>,
    /// Lines on it, likewise.
    pub(super) lines: Vec<(FrameLine, Vec<Point>)>,
}

impl Drawn<'_> {
    fn in_panel(&self, ring: &[Point]) -> Vec<Point> {
        ring.iter()
            .map(|point| self.member.in_panel(*point))
            .collect()
    }

    /// Least and greatest x of its lines of a kind that stand upright.
    fn lines(&self, wanted: FrameLine) -> impl Iterator<Item = &Vec<Point>> {
        let of = self.lines.iter().filter(move |(line, _)| *line == wanted);
        of.map(|(_, points)| points)
    }

    /// How deep a line of a kind lies below the inner edge.
    fn depth_of(&self, wanted: FrameLine) -> f64 {
        let points = self.lines(wanted).flatten();
        points.map(|point| -point.y).fold(0.0, f64::max)
    }

    /// How far the outline goes on beyond an inner corner at a depth; `at_end` for the second.
    fn beyond(&self, depth: f64, at_end: bool) -> f64 {
        let next = self.ring.iter().cycle().skip(1);
        let upright = self.ring.iter().zip(next).filter(|(p, q)| {
            let (low, high) = (p.y.min(q.y), p.y.max(q.y));
            low < -depth && -depth < high
        });
        let xs = upright.map(|(p, q)| f64::midpoint(p.x, q.x));
        if at_end {
            xs.fold(f64::NEG_INFINITY, f64::max) - self.member.inner
        } else {
            -xs.fold(f64::INFINITY, f64::min)
        }
    }
}

/// Checks the corners of a frame of which all members were found.
pub(super) fn check_joints(
    order: &FrameOrder<'_>,
    drawn: &[Drawn<'_>],
    faults: &mut Vec<OutlineFault>,
) {
    let named = order.names.iter();
    let round = named.filter_map(|name| drawn.iter().find(|of| of.member.name == *name));
    let round: Vec<&Drawn<'_>> = round.collect();
    if round.len() != order.names.len() {
        return;
    }
    let next = round.iter().cycle().skip(1);
    for (one, other) in round.iter().zip(next) {
        match order.frame.joint {
            CornerJoint::Mitre => mitres_meet(one, other, faults),
            CornerJoint::Tenon(_) => tenon_goes_in(one, other, faults),
        }
    }
    let bodies: Vec<Vec<Point>> = round.iter().map(|of| body(of)).collect();
    for (at, one) in bodies.iter().enumerate() {
        for (other, ring) in bodies.iter().enumerate().skip(at + 1) {
            let shared = signed_area(&common(one, ring)).abs();
            if shared > TOUCH_MM2 {
                let name = |at: usize| order.names.get(at).map_or("", String::as_str);
                let text = format!(
                    "{} and {} lie over each other, put together: {} mm2",
                    name(at),
                    name(other),
                    mm(shared)
                );
                faults.push(OutlineFault::new("members-overlap", text));
            }
        }
    }
}

/// What no other member may reach into, in the panel: all of it, of a tenoned rail what is between its
/// shoulders at the front.
fn body(of: &Drawn<'_>) -> Vec<Point> {
    let xs = of
        .lines(FrameLine::Shoulders)
        .flatten()
        .map(|point| point.x);
    let (low, high) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
        (low.min(x), high.max(x))
    });
    if low > high {
        return of.in_panel(&of.ring);
    }
    let deep = of.ring.iter().map(|point| point.y).fold(0.0, f64::min);
    let p = Point::new;
    of.in_panel(&[p(low, deep), p(high, deep), p(high, 0.0), p(low, 0.0)])
}

/// A mitre's face as drawn: inner corner, outer corner, and the outer edge's other end.
fn mitre_face(of: &Drawn<'_>, at_end: bool) -> Option<[Point; 3]> {
    let deepest = of.ring.iter().map(|point| point.y).fold(0.0, f64::min);
    let outer = |point: &&Point| point.y < deepest / 2.0;
    let sorted = |outside: bool| {
        let of_side = of.ring.iter().filter(|point| outer(point) == outside);
        let mut all: Vec<Point> = of_side.copied().collect();
        all.sort_by(|a, b| a.x.total_cmp(&b.x));
        all
    };
    let (inside, outside) = (sorted(false), sorted(true));
    let [near, far] = outside.as_slice() else {
        return None;
    };
    Some(if at_end {
        [*inside.last()?, *far, *near]
    } else {
        [*inside.first()?, *near, *far]
    })
}

/// Both faces must be the same line, and both angles make up the frame's corner.
fn mitres_meet(one: &Drawn<'_>, other: &Drawn<'_>, faults: &mut Vec<OutlineFault>) {
    let names = format!("{} and {}", one.member.name, other.member.name);
    let (Some(a), Some(b)) = (mitre_face(one, true), mitre_face(other, false)) else {
        let text = format!("{names}: no mitres");
        faults.push(OutlineFault::new("mitres", text));
        return;
    };
    let placed = |of: &Drawn<'_>, point: Point| of.member.in_panel(point);
    let open = [0, 1].map(|at| placed(one, a[at]).to(placed(other, b[at])).length());
    let worst = open[0].max(open[1]);
    if worst > CLOSE_MM {
        let text = format!("{names}: the mitres stand {} mm apart", mm(worst));
        faults.push(OutlineFault::new("joint-open", text));
    }
    let angle = |[inner, outer, along]: [Point; 3]| {
        let (face, edge) = (outer.to(inner), outer.to(along));
        face.cross(edge).abs().atan2(face.dot(edge))
    };
    let (to, from) = (one.member.along, other.member.along);
    let corner = PI - to.cross(from).atan2(to.dot(from));
    let off = (angle(a) + angle(b) - corner).abs();
    if off * a[0].to(a[1]).length() > CLOSE_MM {
        let text = format!(
            "{names}: the mitres make up {} deg, the corner has {}",
            mm((angle(a) + angle(b)).to_degrees()),
            mm(corner.to_degrees())
        );
        faults.push(OutlineFault::new("mitres", text));
    }
}

/// Of a rail and a stile that follow each other: whatever of the rail goes on beyond its shoulder must
/// have room in the stile.
fn tenon_goes_in(one: &Drawn<'_>, other: &Drawn<'_>, faults: &mut Vec<OutlineFault>) {
    let level = |of: &Drawn<'_>| of.member.along.x.abs() > of.member.along.y.abs();
    let (rail, stile, at_end) = if level(one) {
        (one, other, true)
    } else {
        (other, one, false)
    };
    let corner = if at_end { rail.member.inner } else { 0.0 };
    let mut depths: Vec<f64> = rail.ring.iter().map(|point| -point.y).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| *a - *b < TOLERANCE_MM);
    let rebate = stile.depth_of(FrameLine::Rebates);
    for (from, to) in depths.iter().zip(depths.iter().skip(1)) {
        let beyond = rail.beyond(f64::midpoint(*from, *to), at_end);
        if beyond <= rebate + CLOSE_MM {
            continue;
        }
        // Along the stile, from its inner corner beside the rail.
        let places = [*from, *to].map(|depth| {
            let at = rail.member.in_panel(Point::new(corner, -depth));
            stile.member.from.to(at).dot(stile.member.along)
        });
        let (low, high) = (places[0].min(places[1]), places[0].max(places[1]));
        let room = stile.lines(FrameLine::Mortises).filter_map(|ring| {
            let xs = ring.iter().map(|point| point.x);
            let near = xs.clone().fold(f64::INFINITY, f64::min);
            let far = xs.fold(f64::NEG_INFINITY, f64::max);
            let deep = ring.iter().map(|point| -point.y).fold(0.0, f64::max);
            (near < low + CLOSE_MM && far > high - CLOSE_MM).then_some(deep)
        });
        let names = format!("{} in {}", rail.member.name, stile.member.name);
        match room.max_by(f64::total_cmp) {
            None => {
                let text = format!("{names}: no mortise where its tenon lies");
                faults.push(OutlineFault::new("tenon-off-mortise", text));
            }
            Some(deep) if beyond > deep + CLOSE_MM => {
                let text = format!(
                    "{names}: {} mm beyond the shoulder, the mortise is {} deep",
                    mm(beyond),
                    mm(deep)
                );
                faults.push(OutlineFault::new("tenon-too-long", text));
            }
            Some(_) => {}
        }
    }
}
