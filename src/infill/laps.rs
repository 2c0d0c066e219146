//! Where pieces lap each other.

use super::clipping::{OVERLAP_MM2, common_area, common_parts, corners};
use super::contact::Polygon;
use super::piece_figures::PieceLap;
use super::skeleton::{Bar, same};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::{Point, crossing_fractions};
use crate::lattice::Face;
use std::f64::consts::PI;

/// A crossing of two pieces.
#[derive(Debug, Clone, Copy)]
pub(super) struct PieceCrossing {
    /// The piece notched from the front.
    pub(super) behind: usize,
    /// The piece notched from the back.
    pub(super) in_front: usize,
    /// Where the axes cross, from each piece's `from`, mm.
    at: (f64, f64),
    /// Along either axis: of the slot in the piece behind, and in the one in front.
    width: (f64, f64),
    /// From the front, part of the depth that the piece behind loses, and part that the one in front
    /// keeps: see [`shares`].
    shares: (f64, f64),
    /// From the direction of the piece behind to that of the one in front, in (0, pi).
    angle: f64,
}

/// Width of a slot for a piece, square to that piece, mm.
fn slot(mate: PieceStock) -> f64 {
    mate.thickness + mate.clearance
}

/// Pieces with their front faces in one plane meet in a lap half as far behind it as the shallower is
/// deep: that as a part of the depth of the one behind, and of the one in front.
fn shares(behind: f64, in_front: f64) -> (f64, f64) {
    let meet = behind.min(in_front) / 2.0;
    (meet / behind, meet / in_front)
}

pub(super) fn laps(bars: &[Bar], polygons: &[Polygon]) -> Result<Vec<PieceCrossing>, Vec<Finding>> {
    let mut all = Vec::new();
    let mut found = Vec::new();
    for (behind, bar) in bars.iter().enumerate() {
        for name in &bar.laps {
            let mate = bars.iter().position(|bar| bar.name == *name);
            let Some((in_front, mate)) = mate.and_then(|at| Some((at, bars.get(at)?))) else {
                continue;
            };
            match crossing_fractions(bar.from, bar.to, mate.from, mate.to) {
                Some((s, t)) if (0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t) => {
                    let sine = bar.along.cross(mate.along);
                    let crossing = PieceCrossing {
                        behind,
                        in_front,
                        at: (
                            s * bar.from.to(bar.to).length(),
                            t * mate.from.to(mate.to).length(),
                        ),
                        width: (slot(mate.stock) / sine.abs(), slot(bar.stock) / sine.abs()),
                        shares: shares(bar.stock.depth, mate.stock.depth),
                        angle: sine.atan2(bar.along.dot(mate.along)).rem_euclid(PI),
                    };
                    found.extend(lap_fault(&crossing, bars, polygons));
                    all.push(crossing);
                }
                _ => {
                    let text = format!(
                        "`{}` does not cross `{name}`: there is nothing to lap",
                        bar.name
                    );
                    let hint = "a lap needs axes that cross inside both pieces";
                    found.push(Finding::error("lap-does-not-cross", &bar.field, text).hint(hint));
                }
            }
        }
    }
    for node in nodes(&all, bars, polygons) {
        found.extend(layered(&node, &mut all, bars));
    }
    if found.is_empty() {
        Ok(all)
    } else {
        Err(found)
    }
}

/// A lap too near an end: the mate must lie wholly in the piece, side to side.
fn lap_fault(crossing: &PieceCrossing, bars: &[Bar], polygons: &[Polygon]) -> Option<Finding> {
    let behind = bars.get(crossing.behind)?;
    let in_front = bars.get(crossing.in_front)?;
    let one = corners(polygons.get(crossing.behind)?);
    let other = corners(polygons.get(crossing.in_front)?);
    // Bands t and t' thick that cross at an angle A share a parallelogram of area t t' / sin A.
    let whole = behind.stock.thickness * in_front.stock.thickness
        / behind.along.cross(in_front.along).abs();
    if (common_area(&one, &other) - whole).abs() < OVERLAP_MM2.max(whole * 1e-12) {
        return None;
    }
    let text = format!(
        "the lap of `{}` and `{}` runs out at an end",
        behind.name, in_front.name
    );
    Some(
        Finding::error("lap-at-end", &behind.field, text)
            .hint("both pieces must go on beyond their lap; or let one stand `against` the other"),
    )
}

/// Crossings that take the same wood from a piece, together: places of them, more than one each.
fn nodes(all: &[PieceCrossing], bars: &[Bar], polygons: &[Polygon]) -> Vec<Vec<usize>> {
    let mut nodes: Vec<Vec<usize>> = Vec::new();
    for (at, one) in all.iter().enumerate() {
        let (touching, mut others): (Vec<_>, Vec<_>) = nodes.into_iter().partition(|node| {
            let mut known = node.iter().filter_map(|other| all.get(*other));
            known.any(|other| share_wood(one, other, bars, polygons).is_some())
        });
        let mut node: Vec<usize> = touching.into_iter().flatten().collect();
        node.push(at);
        others.push(node);
        nodes = others;
    }
    nodes.retain(|node| node.len() > 1);
    nodes
}

/// The piece from which two laps take the same wood.
fn share_wood(
    one: &PieceCrossing,
    other: &PieceCrossing,
    bars: &[Bar],
    polygons: &[Polygon],
) -> Option<usize> {
    let a = (one.behind, one.in_front);
    let b = (other.behind, other.in_front);
    let shared = [a.0, a.1].into_iter().find(|at| [b.0, b.1].contains(at))?;
    let mates = [a.0 + a.1 - shared, b.0 + b.1 - shared];
    let polygon = |at: usize| polygons.get(at).map(corners);
    let first = common_parts(&polygon(shared)?, &polygon(mates[0])?);
    let second = polygon(mates[1])?;
    let areas = first.iter().map(|part| common_area(part, &second));
    let meets = areas.sum::<f64>() > OVERLAP_MM2;
    (meets && bars.get(shared).is_some()).then_some(shared)
}

/// Most pieces that lap at one place: thinner layers than a quarter do not hold. Common practice, no source.
const MOST_LAYERS: usize = 4;

/// Parts the depth at a place where more than two pieces lap evenly among them, the first in front: one
/// that is the k-th from the front of n keeps what lies from (k - 1)/n to k/n of the depth.
fn layered(node: &[usize], all: &mut [PieceCrossing], bars: &[Bar]) -> Option<Finding> {
    let crossings: Vec<PieceCrossing> =
        node.iter().filter_map(|at| all.get(*at).copied()).collect();
    let mut pieces: Vec<usize> = crossings
        .iter()
        .flat_map(|c| [c.behind, c.in_front])
        .collect();
    pieces.sort_unstable();
    pieces.dedup();
    let count = pieces.len();
    let before = |piece: usize| crossings.iter().filter(|c| c.behind == piece).count();
    let mut places: Vec<usize> = pieces.iter().map(|piece| before(*piece)).collect();
    places.sort_unstable();
    let is_ranked = places.into_iter().eq(0..count);
    let meets_all = crossings.len() == count * count.saturating_sub(1) / 2;
    let place = crossings.first()?.place(bars)?;
    let one_place = crossings
        .iter()
        .all(|c| c.place(bars).is_some_and(|other| same(other, place)));
    if !(is_ranked && meets_all && one_place && count <= MOST_LAYERS) {
        return Some(laps_overlap(&pieces, bars));
    }
    let depths = pieces
        .iter()
        .filter_map(|at| Some(bars.get(*at)?.stock.depth));
    let depth = depths.fold(f64::INFINITY, f64::min);
    for at in node {
        let Some(crossing) = all.get_mut(*at) else {
            continue;
        };
        let of = |piece: usize| bars.get(piece).map_or(depth, |bar| bar.stock.depth);
        let layer = depth / count as f64;
        crossing.shares = (
            layer * before(crossing.behind) as f64 / of(crossing.behind),
            layer * (before(crossing.in_front) + 1) as f64 / of(crossing.in_front),
        );
    }
    None
}

/// Laps that take the same wood, of pieces that do not all lap each other in one point.
fn laps_overlap(pieces: &[usize], bars: &[Bar]) -> Finding {
    let named = pieces.iter().filter_map(|at| bars.get(*at));
    let names: Vec<String> = named.clone().map(|bar| format!("`{}`", bar.name)).collect();
    let text = format!("the laps of {} take the same wood", names.join(", "));
    let mut lapping = named.filter(|bar| !bar.laps.is_empty());
    let field = lapping.next_back().map_or("piece", |bar| &bar.field);
    Finding::error("laps-overlap", field, text).hint(
        "let no more than four pieces cross there, all in one point, each lapping every one that lies before it; or move one of them",
    )
}

impl PieceCrossing {
    /// Where the axes cross.
    fn place(&self, bars: &[Bar]) -> Option<Point> {
        let bar = bars.get(self.behind)?;
        Some(bar.from + bar.along * self.at.0)
    }
}

/// The laps of one piece; `start` is the axial position of its first extreme point.
pub(super) fn laps_of(
    index: usize,
    all: &[PieceCrossing],
    bars: &[Bar],
    start: f64,
) -> Vec<PieceLap> {
    let lap = |crossing: &PieceCrossing| {
        let is_behind = crossing.behind == index;
        if !is_behind && crossing.in_front != index {
            return None;
        }
        let (mate, at, width) = match is_behind {
            true => (crossing.in_front, crossing.at.0, crossing.width.0),
            false => (crossing.behind, crossing.at.1, crossing.width.1),
        };
        let (angle, fraction, face) = match is_behind {
            true => (crossing.angle, crossing.shares.0, Face::Front),
            false => (PI - crossing.angle, 1.0 - crossing.shares.1, Face::Back),
        };
        Some(PieceLap {
            mate: bars.get(mate)?.name.clone(),
            centre: at - start,
            width,
            angle,
            fraction,
            face,
        })
    };
    let mut laps: Vec<PieceLap> = all.iter().filter_map(lap).collect();
    laps.sort_by(|a, b| a.centre.total_cmp(&b.centre));
    laps
}
