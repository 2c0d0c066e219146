//! Folded pieces as they are laid straight, from their legs as they lie in the panel.
//!
//! Legs share the edge of their mitre, from the inner corner of the bend to the outer one. The V's point lies on
//! it, nearer to the outer corner than the inner one is as the skin is thinner than the wood. The legs that come
//! before are turned about that point until both outer sides are in line; of both rings the outer corner is
//! left out, and the V's point comes between their inner corners.

use super::rings::{placed, vertex_distance};
use crate::geometry::{Point, Vector};
use crate::infill::{FilledCell, Infilling, PlacedPiece};

/// Corners that are nearer are one, mm.
const SAME_MM: f64 = 1e-6;

/// The outline of a kind that is folded, laid straight along x; nothing where it is not folded, or is in no
/// cell. Turned over or end for end it is the same part: it lies as the one does that is drawn.
pub(super) fn laid_straight(filled: &Infilling, kind: usize) -> Option<Vec<Point>> {
    let drawn = filled.kinds.get(kind)?;
    let share = drawn.stock.skin / drawn.stock.thickness;
    let ring = filled.cells.iter().find_map(|cell| {
        let of_it = |piece: &&PlacedPiece| piece.kind == kind && piece.arm.is_some();
        let strip = cell.pieces.iter().find(of_it)?.arm?.strip;
        let legs = legs(cell, strip);
        let mut ring = legs.first()?.outline.clone();
        for leg in legs.iter().skip(1) {
            ring = unbent(&ring, &leg.outline, share)?;
        }
        // The last leg has stayed where it is.
        let (from, to) = legs.last()?.axis;
        along_x(&ring, from.to(to))
    })?;
    let lies = [(1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0)].map(|(x, y)| {
        let turned = ring.iter().map(|p| Point::new(x * p.x, y * p.y));
        turned.collect::<Vec<Point>>()
    });
    let off =
        |ring: &Vec<Point>| vertex_distance(&placed(ring, &drawn.outline), &drawn.outline, true);
    lies.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// A ring turned so that a direction runs along x.
fn along_x(ring: &[Point], way: Vector) -> Option<Vec<Point>> {
    let long = way.length();
    let local = |p: &Point| {
        let p = Vector::new(p.x, p.y);
        Point::new(way.dot(p) / long, way.cross(p) / long)
    };
    (long > 0.0).then(|| ring.iter().map(local).collect())
}

/// The legs of a strip in the order along it.
fn legs(cell: &FilledCell, strip: usize) -> Vec<&PlacedPiece> {
    let place = |piece: &PlacedPiece| piece.arm.filter(|arm| arm.strip == strip);
    let pieces = cell.pieces.iter();
    let mut legs: Vec<_> = pieces.filter(|piece| place(piece).is_some()).collect();
    legs.sort_by_key(|piece| place(piece).map(|arm| arm.nth));
    legs
}

/// Angles that neighbouring legs of a cell's strips enclose, rad.
pub(super) fn leg_angles(cell: &FilledCell) -> Vec<f64> {
    let strips = cell.pieces.iter().filter_map(|piece| piece.arm);
    let count = strips.map(|arm| arm.strip + 1).max().unwrap_or(0);
    let mut angles = Vec::new();
    for strip in 0..count {
        let legs = legs(cell, strip);
        for pair in legs.windows(2) {
            let &[one, other] = pair else { continue };
            let (a, b) = (away(one, other), away(other, one));
            angles.push(
                (a.dot(b) / (a.length() * b.length()))
                    .clamp(-1.0, 1.0)
                    .acos(),
            );
        }
    }
    angles
}

/// Along a leg's axis, away from the end that lies nearer to another leg's.
fn away(leg: &PlacedPiece, other: &PlacedPiece) -> Vector {
    let (from, to) = leg.axis;
    let off = |p: Point| {
        let (a, b) = other.axis;
        p.to(a).length().min(p.to(b).length())
    };
    if off(from) < off(to) {
        from.to(to)
    } else {
        to.to(from)
    }
}

/// A ring turned onto the line of a leg that it shares a mitre with, both joined; `share`: of the mitre from
/// its outer corner to the V's point.
fn unbent(ring: &[Point], leg: &[Point], share: f64) -> Option<Vec<Point>> {
    let near = |p: Point, q: Point| p.to(q).length() < SAME_MM;
    let count = leg.len();
    let at = |ring: &[Point], at: usize| ring.get(at % ring.len()).copied().unwrap_or_default();
    let (own, theirs) = (0..ring.len()).find_map(|own| {
        let theirs = (0..count).find(|theirs| {
            near(at(ring, own), at(leg, theirs + 1)) && near(at(ring, own + 1), at(leg, *theirs))
        })?;
        Some((own, theirs))
    })?;
    // Both rings from their own end of the mitre on, all the way round to its beginning.
    let mine: Vec<Point> = (1..=ring.len()).map(|step| at(ring, own + step)).collect();
    let its: Vec<Point> = (1..=count).map(|step| at(leg, theirs + step)).collect();
    let (head, tail) = (*mine.first()?, *mine.last()?);
    let beside = |ring: &[Point], end: bool| match end {
        true => Some(ring.get(ring.len().checked_sub(2)?)?.to_owned()),
        false => ring.get(1).copied(),
    };
    // What leads away from the mitre's end at `tail`, along either leg.
    let my_way = tail.to(beside(&mine, true)?);
    let its_way = tail.to(beside(&its, false)?);
    let inward = my_way * (1.0 / my_way.length()) + its_way * (1.0 / its_way.length());
    let outer_is_tail = tail.to(head).dot(inward) > 0.0;
    let (outer, inner) = if outer_is_tail {
        (tail, head)
    } else {
        (head, tail)
    };
    let point = outer + outer.to(inner) * share;
    let (my_side, its_side) = if outer_is_tail {
        (my_way, its_way)
    } else {
        (head.to(beside(&mine, false)?), head.to(beside(&its, true)?))
    };
    let opposite = -its_side;
    let (sine, cosine) = (
        my_side.cross(opposite) / (my_side.length() * opposite.length()),
        my_side.dot(opposite) / (my_side.length() * opposite.length()),
    );
    let turned = |p: &Point| {
        let way = point.to(*p);
        point + Vector::new(way.x * cosine - way.y * sine, way.x * sine + way.y * cosine)
    };
    let mut joined: Vec<Point> = Vec::new();
    if outer_is_tail {
        // From my inner corner to the end of my outer side, on along the leg's, back to its inner corner.
        joined.extend(mine.iter().take(mine.len() - 1).map(turned));
        joined.extend(its.iter().skip(1));
    } else {
        joined.extend(mine.iter().skip(1).map(turned));
        joined.push(point);
        joined.extend(its.iter().take(its.len() - 1));
        return Some(joined);
    }
    joined.push(point);
    Some(joined)
}
