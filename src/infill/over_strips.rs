//! Pieces that run on over a strip into the next cell, where their like lies: one piece of wood, half-lapped
//! with the strip.
//!
//! Every cell works out what lies in it. Two such parts are one piece where they end at the same strip, on
//! its two sides, and their axes are one line. The strip loses its front where the piece crosses it, down to
//! half of the piece's depth behind the piece's front face; there the piece loses its back.

use super::cell::Cell;
use super::contact::{Contact, Polygon, facing, joined, other_side};
use super::filled::{FilledCell, PieceRun, PlacedPiece};
use super::piece_figures::{PieceLap, figures, own_frame};
use super::piece_kinds::PieceKinds;
use super::placing::CellFrame;
use super::skeleton::same;
use super::solve::SolvedPiece;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::lattice::{Face, Notch, NotchMate, Panel, Strip, StripId};
use std::f64::consts::PI;

/// A part of a piece in its cell, panel frame.
pub(super) struct RunningPart {
    /// Place of its cell among the grid's, and its own among the cell's pieces.
    pub(super) at: (usize, usize),
    /// Of the map's patterns.
    pub(super) pattern: usize,
    /// The cell as it lies.
    pub(super) cell: Cell,
    /// As it was worked out.
    pub(super) piece: SolvedPiece,
    /// Counter-clockwise, its sides as seen from `from` to `to` in the panel.
    polygon: Polygon,
    axis: [Point; 2],
    laps: Vec<PieceLap>,
}

impl RunningPart {
    /// A piece laid into the panel.
    pub(super) fn of(
        (piece, pattern): (&SolvedPiece, usize),
        cell: &Cell,
        placed: &PlacedPiece,
        frame: &CellFrame,
        at: (usize, usize),
    ) -> RunningPart {
        let corners = piece.edges.iter();
        let mut polygon: Polygon = corners
            .map(|edge| (frame.place(edge.start), edge.contact))
            .collect();
        if frame.mirrors() {
            polygon = mirrored(&polygon);
        }
        RunningPart {
            at,
            pattern,
            cell: cell.clone(),
            piece: piece.clone(),
            polygon,
            axis: [placed.axis.0, placed.axis.1],
            laps: placed.laps.clone(),
        }
    }

    /// Out of its cell at an end.
    fn outward(&self, end: usize) -> Vector {
        let [from, to] = self.axis;
        let along = from.to(to).unit().unwrap_or_default();
        if end == 0 { -along } else { along }
    }

    fn start(&self) -> f64 {
        let [from, to] = self.axis;
        let along = from.to(to).unit().unwrap_or_default();
        let on = self.polygon.iter().map(|(p, _)| from.to(*p).dot(along));
        on.fold(f64::INFINITY, f64::min)
    }

    /// The strip that an end runs over, and where its axis crosses the strip's centre line.
    fn crossed<'p>(&self, panel: &'p Panel, end: usize) -> Option<(&'p Strip, Point)> {
        if !self.piece.over.get(end).copied().unwrap_or(false) {
            return None;
        }
        let wall = *self.axis.get(end)?;
        let out = self.outward(end);
        let half = panel.design().strip.thickness / 2.0;
        panel.lattice().strips.iter().find_map(|strip| {
            let way = strip.start.to(strip.end).unit()?;
            // From the wall to the centre line along the axis.
            let off = way.cross(strip.start.to(wall)).abs();
            let at = wall + out * (half / way.cross(out).abs());
            let on = way.cross(strip.start.to(at)).abs() < SAME_POSITION_MM;
            let along = way.dot(strip.start.to(at));
            let beside = (off - half).abs() < SAME_POSITION_MM;
            (on && beside && (0.0..=strip.length).contains(&along)).then_some((strip, at))
        })
    }
}

/// The polygon seen in a mirror, counter-clockwise again: what was left is right.
fn mirrored(polygon: &Polygon) -> Polygon {
    // Going round the other way, an edge starts where it ended.
    let next = polygon.iter().cycle().skip(1);
    let ends = polygon.iter().zip(next);
    let mut ring: Polygon = ends
        .map(|((_, tag), (end, _))| (*end, other_side(*tag)))
        .collect();
    ring.reverse();
    ring
}

/// What joining gave.
#[derive(Default)]
pub(super) struct Joined {
    /// Notches that strips get for the pieces that cross them.
    pub(super) notches: Vec<(StripId, Notch)>,
    /// Ends inside the panel that were to run over a strip and found no like, by pattern.
    pub(super) alone: Vec<(usize, usize)>,
}

/// Parts that follow each other over strips, in order, each with whether it lies against the piece's
/// direction; between two of them a strip.
struct Chain<'r> {
    parts: Vec<(&'r RunningPart, bool)>,
}

/// Makes pieces of the parts: their kinds are found and counted, and their placed parts told of each other.
/// `beyond` says whether a cell lies on the other side of a part's end.
pub(super) fn join(
    panel: &Panel,
    parts: &[RunningPart],
    cells: &mut [(usize, FilledCell)],
    kinds: &mut PieceKinds,
    beyond: impl Fn(Point) -> bool,
) -> Joined {
    let mut joined = Joined::default();
    let links = links(panel, parts, &mut joined, beyond);
    let mut taken = vec![false; parts.len()];
    for first in 0..parts.len() {
        let is_end = links.get(first).is_some_and(|ends| ends.contains(&None));
        if !is_end || taken.get(first).copied().unwrap_or(true) {
            continue;
        }
        let chain = chain(parts, &links, first, &mut taken);
        place(panel, (&chain, first), cells, kinds);
    }
    joined
}

/// For each end of each part the part beyond the strip.
fn links(
    panel: &Panel,
    parts: &[RunningPart],
    joined: &mut Joined,
    beyond: impl Fn(Point) -> bool,
) -> Vec<[Option<usize>; 2]> {
    let mut links = vec![[None; 2]; parts.len()];
    for (at, part) in parts.iter().enumerate() {
        for end in [0, 1] {
            let Some((strip, middle)) = part.crossed(panel, end) else {
                continue;
            };
            let out = part.outward(end);
            let is_like = |(other, mate): &(usize, &RunningPart)| {
                *other != at
                    && [0, 1].into_iter().any(|mate_end| {
                        mate.crossed(panel, mate_end).is_some_and(|(other, p)| {
                            other.id == strip.id
                                && same(p, middle)
                                && mate.outward(mate_end).dot(out) < -1.0 + 1e-9
                        })
                    })
                    && mate.piece.stock.is_like(&part.piece.stock)
            };
            let like = parts.iter().enumerate().find(is_like);
            match like {
                Some((mate, _)) => {
                    if let Some(link) = links.get_mut(at).and_then(|ends| ends.get_mut(end)) {
                        *link = Some(mate);
                    }
                    // Once for both of them.
                    if at < mate {
                        joined
                            .notches
                            .push((strip.id, notch(panel, part, strip, middle)));
                    }
                }
                None if beyond(middle + out * panel.design().strip.thickness) => {
                    match joined.alone.iter_mut().find(|(of, _)| *of == part.pattern) {
                        Some((_, count)) => *count += 1,
                        None => joined.alone.push((part.pattern, 1)),
                    }
                }
                None => {}
            }
        }
    }
    links
}

/// How far behind the strips' front face the piece and the strip meet, mm.
fn meeting_depth(panel: &Panel, part: &RunningPart) -> f64 {
    panel.piece_section().setback + part.piece.stock.depth / 2.0
}

fn notch(panel: &Panel, part: &RunningPart, strip: &Strip, at: Point) -> Notch {
    let way = strip.start.to(strip.end).unit().unwrap_or_default();
    let along = part.outward(1);
    let angle = way.cross(along).atan2(way.dot(along)).rem_euclid(PI);
    let stock = part.piece.stock;
    Notch {
        mate: NotchMate::Piece,
        centre: way.dot(strip.start.to(at)),
        width: (stock.thickness + stock.clearance) / angle.sin(),
        depth: meeting_depth(panel, part),
        face: Face::Front,
        angle,
    }
}

/// From a part that ends a piece to its other end.
fn chain<'r>(
    parts: &'r [RunningPart],
    links: &[[Option<usize>; 2]],
    first: usize,
    taken: &mut [bool],
) -> Chain<'r> {
    let mut chain = Chain { parts: Vec::new() };
    let mut here = Some(first);
    let mut came_from = None;
    while let Some(at) = here {
        let (Some(part), Some(ends), Some(seen)) =
            (parts.get(at), links.get(at), taken.get_mut(at))
        else {
            break;
        };
        *seen = true;
        // The end that leads on: not the one that it was come in by.
        let on = match came_from {
            Some(before) => usize::from(ends[0] == Some(before)),
            None => usize::from(ends[0].is_none()),
        };
        chain.parts.push((part, on == 0));
        came_from = Some(at);
        here = ends.get(on).copied().flatten();
    }
    chain
}

/// The laps of a chain with the strips between its parts.
fn strip_laps(panel: &Panel, chain: &Chain<'_>, along: impl Fn(Point) -> f64) -> Vec<PieceLap> {
    let strip = &panel.design().strip;
    let lap = |(part, reversed): &(&RunningPart, bool)| {
        let end = usize::from(!*reversed);
        let (crossed, at) = part.crossed(panel, end)?;
        let out = part.outward(end);
        let way = crossed.start.to(crossed.end).unit()?;
        let angle = out.cross(way).atan2(out.dot(way)).rem_euclid(PI);
        Some(PieceLap {
            mate: STRIP.into(),
            centre: along(at),
            width: (strip.thickness + strip.clearance) / angle.sin(),
            angle,
            fraction: 0.5,
            face: Face::Back,
        })
    };
    let between = chain.parts.len().saturating_sub(1);
    chain.parts.iter().take(between).filter_map(lap).collect()
}

/// What a lap's mate is called that is a strip; no piece can be called so.
pub(super) const STRIP: &str = "strip below";

/// Puts a chain's piece, known by the `number` of its first part, to the kinds and tells its parts.
fn place(
    panel: &Panel,
    (chain, number): (&Chain<'_>, usize),
    cells: &mut [(usize, FilledCell)],
    kinds: &mut PieceKinds,
) {
    let Some((whole, first)) = whole(panel, chain) else {
        return;
    };
    let kind = kinds.of(&whole, &first.cell, first.pattern);
    let count = chain.parts.len();
    for (nth, (part, reversed)) in chain.parts.iter().enumerate() {
        let (cell, at) = part.at;
        kinds.count_part(kind, cell, nth == 0);
        let found = cells.iter_mut().find(|(index, _)| *index == cell);
        let Some(piece) = found.and_then(|(_, cell)| cell.pieces.get_mut(at)) else {
            continue;
        };
        piece.kind = kind;
        let mut over = [nth > 0, nth + 1 < count];
        if *reversed {
            over.reverse();
        }
        if over == [false, false] {
            continue;
        }
        if nth == 0 {
            piece.laps = whole.figures.laps.clone();
        }
        piece.outline = stretched(panel, part, over);
        piece.run = Some(PieceRun {
            piece: number,
            first: nth == 0,
            over,
        });
    }
}

/// A part's outline over the strips that it crosses, as far as the next cell.
fn stretched(panel: &Panel, part: &RunningPart, over: [bool; 2]) -> Vec<Point> {
    let across = |end: usize| {
        let crossed = part
            .crossed(panel, end)
            .filter(|_| over.get(end) == Some(&true));
        crossed.map_or(Vector::default(), |(strip, _)| {
            let out = part.outward(end);
            let way = strip.start.to(strip.end).unit().unwrap_or_default();
            out * (panel.design().strip.thickness / way.cross(out).abs())
        })
    };
    let moved = [across(0), across(1)];
    let [from, to] = part.axis;
    let along = from.to(to).unit().unwrap_or_default();
    let middle = from + along * (from.to(to).length() / 2.0);
    let corner = |(p, _): &(Point, Contact)| {
        let end = usize::from(middle.to(*p).dot(along) > 0.0);
        *p + moved.get(end).copied().unwrap_or_default()
    };
    part.polygon.iter().map(corner).collect()
}

/// A chain as one piece, and its first part.
fn whole<'r>(panel: &Panel, chain: &Chain<'r>) -> Option<(SolvedPiece, &'r RunningPart)> {
    let (first, first_reversed) = *chain.parts.first()?;
    let (last, last_reversed) = *chain.parts.last()?;
    let outer = |part: &RunningPart, reversed: bool, end: usize| {
        let end = if reversed { 1 - end } else { end };
        part.axis.get(end).copied()
    };
    let from = outer(first, first_reversed, 0)?;
    let to = outer(last, last_reversed, 1)?;
    let along = from.to(to).unit()?;
    let polygon = joined(
        &facing(&first.polygon, first_reversed),
        &facing(&last.polygon, last_reversed),
    );
    let (outline, start) = own_frame(from, along, &polygon);
    let mut figures = figures(&outline)?;
    let on = |p: Point| from.to(p).dot(along) - start;
    figures.laps = strip_laps(panel, chain, on);
    for (part, reversed) in &chain.parts {
        let own = part.axis[0] + part.outward(1) * part.start();
        for lap in &part.laps {
            let at = own + part.outward(1) * lap.centre;
            debug_assert!(part.outward(1).dot(along) > 0.0 || *reversed);
            figures.laps.push(PieceLap {
                centre: on(at),
                ..lap.clone()
            });
        }
    }
    figures.laps.sort_by(|a, b| a.centre.total_cmp(&b.centre));
    let piece = SolvedPiece {
        name: first.piece.name.clone(),
        edges: Vec::new(),
        axis: (from, to),
        outline: outline.iter().map(|(p, _)| *p).collect(),
        figures,
        stock: first.piece.stock,
        over: [false; 2],
        locks: first.piece.locks,
    };
    Some((piece, first))
}
