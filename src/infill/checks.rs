//! Whether pieces that were cut can be made and fit each other.

use super::clipping::{OVERLAP_MM2, common_area, corners};
use super::contact::{Contact, Polygon};
use super::hints::of_overlap;
use super::joint::Facing;
use super::laps::PieceCrossing;
use super::mouth;
use super::pattern::PieceSide;
use super::skeleton::{Bar, Skeleton, same};
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;

/// A piece whose polygon is none, or is not that of a mitred piece.
pub(super) fn shape_fault(bar: &Bar, polygon: &Polygon) -> Option<Finding> {
    let is_there = |side| {
        polygon
            .iter()
            .any(|(_, tag)| *tag == Contact::OwnSide(side))
    };
    if !is_there(PieceSide::Left) || !is_there(PieceSide::Right) {
        let what = if polygon.is_empty() {
            "nothing is left of it"
        } else {
            "its facets leave nothing of a long side"
        };
        let text = format!("`{}` vanishes: {what}", bar.name);
        return Some(
            Finding::error("piece-vanishes", &bar.field, text)
                .hint("take thinner strips, a larger cell, or move the piece's points"),
        );
    }
    let facets = facets_by_end(polygon);
    let (end, facets) = facets.iter().max_by_key(|(_, facets)| facets.len())?;
    if facets.len() <= 2 {
        return None;
    }
    let text = phrase!(
        "`{}` would get {} facets at its `{}` end",
        &bar.name,
        facets.len(),
        *end
    );
    let hint = "an end has two facets at most: move the point, or let fewer pieces cut it";
    Some(Finding::error("too-many-facets", format!("{}.{end}", bar.field), text).hint(hint))
}

/// Indices of the edges of both ends.
fn facets_by_end(polygon: &Polygon) -> [(&'static str, Vec<usize>); 2] {
    let count = polygon.len();
    let is_own = |at: usize, side| {
        polygon
            .get(at)
            .is_some_and(|(_, tag)| *tag == Contact::OwnSide(side))
    };
    let after = |from: PieceSide, until: PieceSide| -> Vec<usize> {
        let start = (0..count).find(|at| is_own(*at, from)).unwrap_or(0);
        let around = (1..count).map(|step| (start + step) % count.max(1));
        around.take_while(|at| !is_own(*at, until)).collect()
    };
    [
        ("from", after(PieceSide::Left, PieceSide::Right)),
        ("to", after(PieceSide::Right, PieceSide::Left)),
    ]
}

/// All that is wrong between the pieces of a cell.
pub(super) fn faults(
    skeleton: &Skeleton,
    polygons: &[Polygon],
    facings: &[Facing],
    laps: &[PieceCrossing],
) -> Vec<Finding> {
    let bars = &skeleton.bars;
    let mut found = Vec::new();
    for (at, (bar, polygon)) in bars.iter().zip(polygons).enumerate() {
        found.extend(against_fault(bar, bars, polygon, polygons));
        found.extend(mouth::faults(bar, polygon, bars, polygons));
        let lapped = laps
            .iter()
            .any(|lap| lap.behind == at || lap.in_front == at);
        found.extend(end_fault(skeleton, bar, polygon, lapped));
    }
    found.extend(
        facings
            .iter()
            .filter_map(|facing| facet_fault(facing, bars, polygons)),
    );
    // A fault above mostly is the reason of the overlap too.
    if found.is_empty() {
        found.extend(overlaps(bars, polygons, laps));
    }
    found
}

fn overlaps(bars: &[Bar], polygons: &[Polygon], laps: &[PieceCrossing]) -> Vec<Finding> {
    let all: Vec<(usize, &Bar, Vec<Point>)> = bars
        .iter()
        .zip(polygons)
        .enumerate()
        .map(|(at, (bar, polygon))| (at, bar, corners(polygon)))
        .collect();
    let mut found = Vec::new();
    for (at, bar, polygon) in &all {
        for (before, other, taken) in all.iter().take(*at) {
            let is_lap = |lap: &PieceCrossing| {
                [(*at, *before), (*before, *at)].contains(&(lap.behind, lap.in_front))
            };
            let area = common_area(polygon, taken);
            if area > OVERLAP_MM2 && !laps.iter().any(is_lap) {
                let text = phrase!(
                    "`{}` and `{}` overlap, as if one could go through the other",
                    &bar.name,
                    &other.name
                );
                let hint = "let one stand `against` the other, `lap` it, or join their ends in a [[junction]]";
                let hint = of_overlap(bar, other).unwrap_or_else(|| hint.to_owned());
                found.push(Finding::error("pieces-overlap", &bar.field, text).hint(hint));
            }
        }
    }
    found
}

/// Edges of a polygon with a tag, from start to end.
fn edges_of(polygon: &Polygon, tag: Contact) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = polygon.iter().cycle().skip(1);
    let edges = polygon.iter().zip(next);
    edges
        .filter(move |((_, own), _)| *own == tag)
        .map(|((p, _), (q, _))| (*p, *q))
}

fn is_on(point: Point, p: Point, q: Point) -> bool {
    let length = p.to(q).length();
    let along = p.to(q).dot(p.to(point)) / length;
    let aside = p.to(q).cross(p.to(point)) / length;
    aside.approx_eq(0.0, POSITION) && along > -SAME_POSITION_MM && along < length + SAME_POSITION_MM
}

/// A piece that does not touch one that it stands against, or not along its full facet.
fn against_fault(
    bar: &Bar,
    bars: &[Bar],
    polygon: &Polygon,
    polygons: &[Polygon],
) -> Option<Finding> {
    bar.against.iter().enumerate().find_map(|(nth, name)| {
        let at = bars.iter().position(|mate| mate.name == *name)?;
        let mate = polygons.get(at)?;
        let field = if bar.field.starts_with("piece") {
            format!("{}.against[{nth}]", bar.field)
        } else {
            bar.field.clone()
        };
        let Some(facet) = edges_of(polygon, Contact::SideOf(at)).next() else {
            let text = format!("`{}` does not touch `{name}`", bar.name);
            return Some(
                Finding::error("does-not-touch", field, text)
                    .hint("leave it out of `against`, or move the end there"),
            );
        };
        let sides = [PieceSide::Left, PieceSide::Right].map(|side| {
            edges_of(mate, Contact::OwnSide(side))
                .any(|(p, q)| is_on(facet.0, p, q) && is_on(facet.1, p, q))
        });
        (!sides.contains(&true)).then(|| {
            let text = format!(
                "the facet of `{}` hangs over the end of the side of `{name}`",
                bar.name
            );
            Finding::error("facet-hangs-over", field, text)
                .hint("move the end along, or let the other piece be longer")
        })
    })
}

/// An end that runs on beyond its point because nothing there cuts it.
fn end_fault(skeleton: &Skeleton, bar: &Bar, polygon: &Polygon, lapped: bool) -> Option<Finding> {
    let [from, to] = facets_by_end(polygon);
    [(bar.from, from), (bar.to, to)].into_iter().find_map(|(point, (end, facets))| {
        let at_joint = skeleton.joints.iter().any(|joint| same(joint.at, point));
        let is_held = facets.iter().any(|at| {
            let edge = polygon.get(*at).zip(polygon.get((at + 1) % polygon.len()));
            let Some(((p, tag), (q, _))) = edge else {
                return false;
            };
            match tag {
                Contact::Wall(_) => is_on(point, *p, *q),
                Contact::SideOf(mate) => skeleton.bars.get(*mate).is_some_and(|mate| {
                    mate.offset(point).abs() < mate.half() + SAME_POSITION_MM
                }),
                Contact::FacetOf(_) => at_joint,
                Contact::Free => lapped,
                Contact::OwnSide(_) => false,
            }
        });
        (!is_held).then(|| {
            let text = format!(
                "nothing holds the `{end}` end of `{}`: neither a wall nor a piece nor a junction is at its point",
                bar.name
            );
            Finding::error("end-not-held", format!("{}.{end}", bar.field), text)
                .hint(end_hint(bar, end))
        })
    })
}

/// What would hold an end.
fn end_hint(bar: &Bar, end: &str) -> &'static str {
    let nth = usize::from(end == "to");
    if bar.horns.get(nth) == Some(&true) {
        return "a horn stands out beyond a lap at its point: let a piece that crosses there `lap` it, or leave the horn out";
    }
    if bar.mouths.get(nth).is_some_and(Option::is_some) {
        return "a mouth's point is the corner that it takes: choose the point where those two pieces meet";
    }
    "choose a point on a wall, name the piece it stands `against`, or add a [[junction]]"
}

/// Neighbours at a junction that do not share the whole of a facet.
fn facet_fault(facing: &Facing, bars: &[Bar], polygons: &[Polygon]) -> Option<Finding> {
    if !facing.must_touch {
        return None;
    }
    let length = |of: usize, mate: usize| {
        let polygon = polygons.get(of)?;
        let edge = edges_of(polygon, Contact::FacetOf(mate)).next();
        Some(edge.map_or(0.0, |(p, q)| p.to(q).length()))
    };
    let own = length(facing.bar, facing.mate)?;
    let other = length(facing.mate, facing.bar)?;
    if own > 0.0 && other > 0.0 && own.approx_eq(other, POSITION) {
        return None;
    }
    let bar = bars.get(facing.bar)?;
    let mate = bars.get(facing.mate)?;
    let text = phrase!(
        "`{}` and `{}` do not share a whole facet: it is {} long on one and {} on the other",
        &bar.name,
        &mate.name,
        Mm(own),
        Mm(other)
    );
    Some(
        Finding::error("facet-does-not-fit", &bar.field, text).hint(
            "another wall or piece cuts the facet: move the junction, or change its jig angles",
        ),
    )
}
