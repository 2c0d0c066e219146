//! Junctions: the facet planes that pieces share where their ends meet.
//!
//! All axes run through the junction's named point. The planes run out from one point P, one
//! between every two neighbours, counter-clockwise. Seen along the axis away from the junction, a
//! piece has a plane to its left at the jig angle L and one to its right at R. Neighbours whose
//! axes enclose the angle A share a plane, so `L + R' = A`.
//!
//! Where the pattern gives no jig angle, `L = R' = A / 2` and P is where the axes meet: where the
//! pieces are equally thick their corners are flush, and others are refused.
//!
//! Where it gives some, every plane follows from a neighbour whose angle is given, and P follows
//! from the flush corners. With `n` a piece's unit normal to the left of its axis (away from the
//! junction), `d` the way from the named point to P and `e = n.d`, a left facet starts `t/2 - e`
//! from the piece's left side, a right facet `t/2 + e` from its right side; seen square to the
//! axis the plane rises with the sine of the jig angle. Equal facet lengths on both sides of a
//! plane mean
//!
//! `(t/2 - n.d) / sin L = (t'/2 + n'.d) / sin R'`
//!
//! or `(n / sin L + n' / sin R').d = t/2 / sin L - t'/2 / sin R'`: linear in `d`, one equation a
//! plane. Least squares solves them; what is left over means that no P makes all corners flush.

#[cfg(test)]
mod tests;

use super::clipping::HalfPlane;
use super::skeleton::{Bar, Joint, same};
use crate::finding::Finding;
use crate::geometry::Vector;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;
use std::f64::consts::{PI, TAU};

/// Sums of angles that differ by more do not close, rad.
const CLOSED_RAD: f64 = 1e-9;

/// Facets whose lengths differ by more do not make a flush corner, mm.
const FLUSH_MM: f64 = 1e-9;

/// A plane that cuts one piece's end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Facing {
    /// The piece that it cuts.
    pub(super) bar: usize,
    /// The piece on its other side.
    pub(super) mate: usize,
    /// What stays of the piece.
    pub(super) keeps: HalfPlane,
    /// Whether the pieces must touch along it: not on the outside of a bend.
    pub(super) must_touch: bool,
}

/// One piece's end at a junction.
#[derive(Clone, Copy)]
struct Arm {
    bar: usize,
    /// Unit vector along the axis, away from the junction.
    away: Vector,
    /// Half as thick as the piece is, mm.
    half: f64,
    /// To the next arm counter-clockwise, rad.
    sector: f64,
    /// Given jig angles, left and right of `away`.
    given: (Option<f64>, Option<f64>),
}

/// The plane between an arm and the next one: jig angles on its two sides.
#[derive(Clone, Copy)]
struct Plane {
    left: f64,
    next_right: f64,
}

/// The planes that cut the pieces of a junction.
///
/// # Errors
/// Fewer than two pieces, angles that do not close, corners that cannot be flush.
pub(super) fn facings(joint: &Joint, bars: &[Bar]) -> Result<Vec<Facing>, Vec<Finding>> {
    let arms = arms(joint, bars)?;
    let planes = planes(joint, &arms, bars)?;
    let is_given = arms.iter().any(|arm| arm.given.0.is_some());
    let meet = if is_given {
        joint.at + flush(joint, &arms, &planes)?
    } else {
        if let Some(fault) = unequal(joint, &arms, bars) {
            return Err(vec![fault]);
        }
        joint.at
    };
    let around = arms.iter().cycle().skip(1);
    let mut found = Vec::new();
    for ((arm, next), plane) in arms.iter().zip(around).zip(&planes) {
        let must_touch = arm.sector < PI + CLOSED_RAD;
        found.push(Facing {
            bar: arm.bar,
            mate: next.bar,
            keeps: HalfPlane::left_of(meet, turned(arm.away, plane.left)).flipped(),
            must_touch,
        });
        found.push(Facing {
            bar: next.bar,
            mate: arm.bar,
            keeps: HalfPlane::left_of(meet, turned(next.away, -plane.next_right)),
            must_touch,
        });
    }
    Ok(found)
}

fn turned(v: Vector, by: f64) -> Vector {
    let (sine, cosine) = by.sin_cos();
    Vector::new(v.x * cosine - v.y * sine, v.x * sine + v.y * cosine)
}

/// The ends that meet at a junction, counter-clockwise.
fn arms(joint: &Joint, bars: &[Bar]) -> Result<Vec<Arm>, Vec<Finding>> {
    let mut arms = Vec::new();
    for (index, bar) in bars.iter().enumerate() {
        let given = joint.jig.iter().find(|(name, _)| *name == bar.name);
        let given = given.map(|(_, angles)| *angles);
        let (away, given) = if bar.joins(0) && same(bar.from, joint.at) {
            (bar.along, given)
        } else if bar.joins(1) && same(bar.to, joint.at) {
            // Looking back along the piece, its left is on the right.
            (-bar.along, given.map(|[left, right]| [right, left]))
        } else {
            continue;
        };
        arms.push(Arm {
            bar: index,
            away,
            half: bar.half(),
            sector: 0.0,
            given: (given.map(|[left, _]| left), given.map(|[_, right]| right)),
        });
    }
    let mut faults: Vec<Finding> = Vec::new();
    for (name, _) in &joint.jig {
        let is_here = arms
            .iter()
            .any(|arm| bars.get(arm.bar).is_some_and(|b| b.name == *name));
        if !is_here {
            let field = format!("{}.jig.{name}", joint.field);
            let text = format!("`{name}` does not end at this junction");
            let hint = "name pieces whose `from` or `to` is this point";
            faults.push(Finding::error("not-at-junction", field, text).hint(hint));
        }
    }
    if arms.len() < 2 {
        let field = format!("{}.at", joint.field);
        let text = match arms.len() {
            0 => "no piece ends here; a junction joins two or more",
            _ => "one piece ends here; a junction joins two or more",
        };
        let hint = "leave the junction out, or let pieces end here";
        faults.push(Finding::error("too-few-pieces", field, text).hint(hint));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    arms.sort_by(|a, b| {
        a.away
            .y
            .atan2(a.away.x)
            .total_cmp(&b.away.y.atan2(b.away.x))
    });
    let around: Vec<Arm> = arms
        .iter()
        .cycle()
        .skip(1)
        .take(arms.len())
        .copied()
        .collect();
    for (arm, next) in arms.iter_mut().zip(&around) {
        let angle = arm.away.cross(next.away).atan2(arm.away.dot(next.away));
        if angle.approx_eq(0.0, DIRECTION) {
            let text = format!(
                "`{}` and `{}` leave this junction in the same direction",
                name_of(bars, arm.bar),
                name_of(bars, next.bar)
            );
            let hint = "pieces of a junction run to different sides: move an end";
            return Err(vec![
                Finding::error("same-direction", &joint.field, text).hint(hint),
            ]);
        }
        arm.sector = angle.rem_euclid(TAU);
    }
    Ok(arms)
}

fn name_of(bars: &[Bar], index: usize) -> &str {
    bars.get(index).map_or("?", |bar| &bar.name)
}

/// The jig angles on both sides of every plane.
fn planes(joint: &Joint, arms: &[Arm], bars: &[Bar]) -> Result<Vec<Plane>, Vec<Finding>> {
    let is_given = arms.iter().any(|arm| arm.given.0.is_some());
    let around = arms.iter().cycle().skip(1);
    let mut faults = Vec::new();
    let mut planes = Vec::new();
    for (arm, next) in arms.iter().zip(around) {
        let names = (name_of(bars, arm.bar), name_of(bars, next.bar));
        let (left, next_right) = match (arm.given.0, next.given.1) {
            _ if !is_given => (arm.sector / 2.0, arm.sector / 2.0),
            (Some(left), Some(right)) => {
                let gap = arm.sector - left - right;
                if gap.abs() > CLOSED_RAD {
                    faults.push(open(joint, names, arm.sector, gap));
                }
                (left, right)
            }
            (Some(left), None) => (left, arm.sector - left),
            (None, Some(right)) => (arm.sector - right, right),
            (None, None) => {
                let text = format!(
                    "no jig angle fixes the plane between `{}` and `{}`",
                    names.0, names.1
                );
                let field = format!("{}.jig", joint.field);
                faults.push(
                    Finding::error("plane-not-fixed", field, text)
                        .hint("give the angle of one of them, or of no piece at all"),
                );
                continue;
            }
        };
        let is_angle = |angle: f64| angle > CLOSED_RAD && angle < PI - CLOSED_RAD;
        if !is_angle(left) || !is_angle(next_right) {
            let gap = arm.sector - left.max(next_right);
            faults.push(open(joint, names, arm.sector, gap));
        }
        planes.push(Plane { left, next_right });
    }
    if faults.is_empty() {
        faults.extend(reentrant(joint, arms, &planes, bars));
    }
    if faults.is_empty() {
        Ok(planes)
    } else {
        Err(faults)
    }
}

/// Pieces that are not equally thick where no jig angle is given: bisecting planes would leave steps.
fn unequal(joint: &Joint, arms: &[Arm], bars: &[Bar]) -> Option<Finding> {
    let first = arms.first()?;
    let other = arms
        .iter()
        .find(|arm| !arm.half.approx_eq(first.half, POSITION))?;
    let text = phrase!(
        "`{}` and `{}` meet here and are not equally thick: {} and {}",
        name_of(bars, first.bar),
        name_of(bars, other.bar),
        Mm(2.0 * first.half),
        Mm(2.0 * other.half)
    );
    let hint =
        "give jig angles here, make the pieces equally thick, or let one stand `against` the other";
    Some(Finding::error("not-equally-thick", format!("{}.at", joint.field), text).hint(hint))
}

fn open(joint: &Joint, names: (&str, &str), sector: f64, gap: f64) -> Finding {
    let mut text = phrase!(
        "the angles between `{}` and `{}` do not close: their axes enclose {}, ",
        names.0,
        names.1,
        Rad(sector)
    );
    text.append(if gap > 0.0 {
        phrase!("{} stay open", Rad(gap))
    } else {
        phrase!("the facets overlap by {}", Rad(-gap))
    });
    Finding::error("angles-do-not-close", format!("{}.jig", joint.field), text)
        .hint("the jig angles on both sides of a plane add up to the angle between the axes")
}

/// An end whose two facets would turn inward instead of forming a point.
fn reentrant(joint: &Joint, arms: &[Arm], planes: &[Plane], bars: &[Bar]) -> Option<Finding> {
    let before = planes.iter().cycle().skip(planes.len().saturating_sub(1));
    let mut ends = arms.iter().zip(planes.iter().zip(before));
    let (arm, _) =
        ends.find(|(_, (own, before))| own.left + before.next_right > PI + CLOSED_RAD)?;
    let text = format!(
        "the facets of `{}` would turn inward here: they cannot be pared",
        name_of(bars, arm.bar)
    );
    let field = format!("{}.jig", joint.field);
    let hint = "the jig angles of an end add up to 180 deg or less";
    Some(Finding::error("turns-inward", field, text).hint(hint))
}

/// The way from the junction's named point to the point P from which its planes run out, so that
/// all corners are flush: see the head of this file. Where the equations leave a direction free,
/// the shortest way.
fn flush(joint: &Joint, arms: &[Arm], planes: &[Plane]) -> Result<Vector, Vec<Finding>> {
    let normal = |arm: &Arm| Vector::new(-arm.away.y, arm.away.x);
    let around = arms.iter().cycle().skip(1);
    let rows: Vec<(Vector, f64)> = arms
        .iter()
        .zip(around)
        .zip(planes)
        .map(|((arm, next), plane)| {
            let left = 1.0 / plane.left.sin();
            let right = 1.0 / plane.next_right.sin();
            let row = normal(arm) * left + normal(next) * right;
            (row, arm.half * left - next.half * right)
        })
        .collect();
    let way = least_squares(&rows);
    let left_over = rows.iter().map(|(row, right)| (row.dot(way) - right).abs());
    let left_over = left_over.fold(0.0, f64::max);
    if left_over <= FLUSH_MM {
        return Ok(way);
    }
    let text = phrase!(
        "these jig angles leave no point from which all corners are flush: facets differ by {}",
        Mm(left_over)
    );
    let field = format!("{}.jig", joint.field);
    Err(vec![Finding::error("corners-not-flush", field, text).hint(
        "give the jig angles of fewer pieces; those of their neighbours follow",
    )])
}

/// The shortest vector `d` that makes the sum of `(row.d - right)^2` least, by the normal
/// equations `M d = b`, `M = sum row row^T`, `b = sum right row`. Where all rows are parallel, M
/// has the one eigenvalue `trace M` other than zero, b lies along its eigenvector, and the
/// shortest solution is `b / trace M`.
fn least_squares(rows: &[(Vector, f64)]) -> Vector {
    let sum = |term: &dyn Fn(&(Vector, f64)) -> f64| rows.iter().map(term).sum::<f64>();
    let xx = sum(&|(r, _)| r.x * r.x);
    let yy = sum(&|(r, _)| r.y * r.y);
    let xy = sum(&|(r, _)| r.x * r.y);
    let right = Vector::new(sum(&|(r, c)| c * r.x), sum(&|(r, c)| c * r.y));
    let trace = xx + yy;
    let determinant = xx * yy - xy * xy;
    if trace < 1e-12 {
        // Pieces in line: every point of their common plane is as good.
        return Vector::default();
    }
    if determinant < 1e-12 * trace * trace {
        return right * (1.0 / trace);
    }
    Vector::new(
        (yy * right.x - xy * right.y) / determinant,
        (xx * right.y - xy * right.x) / determinant,
    )
}
