//! Pieces of every pattern checked by shapely: they fit each other, their cells and the strips.
#![allow(clippy::print_stdout)]

mod constructed;
mod folded;
mod mouths;
mod slanted;

use crate::support::check_pieces;
use lapwright::geometry::Point;
use lapwright::infill::{
    Cell, CellShape, Contact, EdgeCells, FilledCell, Pattern, PieceStock, SolvedCell, fill, solve,
};
use lapwright::lattice::{Design, Grid, Joinery, Panel, SquareGrid, StripSection};
use lapwright::reading::{SHIPPED_PATTERNS, read_pattern};
use serde_json::{Value, json};

const SIDE: f64 = 50.0;

fn patterns(shape: CellShape) -> Vec<Pattern> {
    SHIPPED_PATTERNS
        .iter()
        .map(|shipped| read_pattern(shipped.name, shipped.text).unwrap().pattern)
        .filter(|pattern| pattern.cell == shape && is_in_one_cell(pattern))
        .collect()
}

/// Whether its pieces end at what they touch, in their own cell, and lap two by two; others are checked as
/// solids.
fn is_in_one_cell(pattern: &Pattern) -> bool {
    let mut pieces = pattern.pieces.iter();
    let plain = pieces.all(|piece| piece.horns == [None; 2]);
    plain && !pattern.runs_over() && pattern.name != "three-way-star"
}

fn ring(points: &[Point]) -> Value {
    points.iter().map(|p| json!([p.x, p.y])).collect()
}

fn solved(pattern: &Pattern, cell: &Cell, thickness: f64) -> Option<SolvedCell> {
    let stock = PieceStock {
        depth: 12.0,
        thickness,
        clearance: 0.0,
        skin: 0.2 * thickness,
    };
    solve(pattern, cell, stock).ok()
}

/// Pairs of pieces of a cell that share a facet at a junction.
fn touching(cell: &SolvedCell) -> Value {
    let pieces = cell.pieces.iter().enumerate();
    let pairs = pieces.flat_map(|(at, piece)| {
        piece
            .edges
            .iter()
            .filter_map(move |edge| match edge.contact {
                Contact::FacetOf(mate) if mate < at => Some(json!([at, mate])),
                _ => None,
            })
    });
    pairs.collect()
}

/// Laps of a cell: the two pieces, and where the figures of the first say that it is.
fn laps<'a>(
    pieces: impl Iterator<Item = (&'a str, &'a [Point], (Point, Point), Vec<(&'a str, f64)>)>,
) -> Value {
    let pieces: Vec<_> = pieces.collect();
    let mut found = Vec::new();
    for (at, (_, outline, axis, laps)) in pieces.iter().enumerate() {
        let along = axis.0.to(axis.1).unit().unwrap();
        let start = outline.iter().map(|p| axis.0.to(*p).dot(along));
        let start = start.fold(f64::INFINITY, f64::min);
        for (mate, centre) in laps {
            let mate = pieces.iter().position(|(name, ..)| name == mate).unwrap();
            let p = axis.0 + along * (start + centre);
            found.push(json!([at, mate, p.x, p.y]));
        }
    }
    found.into()
}

fn filled_cell(cell: &FilledCell, touching: &Value) -> Value {
    let named = |piece: &lapwright::infill::PlacedPiece| json!({ "name": piece.name, "outline": ring(&piece.outline) });
    let lapped = cell.pieces.iter().map(|piece| {
        let laps = piece.laps.iter().map(|lap| (lap.mate.as_str(), lap.centre));
        (
            piece.name.as_str(),
            &piece.outline[..],
            piece.axis,
            laps.collect(),
        )
    });
    json!({
        "outline": ring(&cell.outline),
        "pieces": cell.pieces.iter().map(named).collect::<Value>(),
        "touching": if cell.pieces.is_empty() { json!([]) } else { touching.clone() },
        "laps": laps(lapped),
    })
}

fn rectangle(x: (f64, f64), y: (f64, f64)) -> Value {
    let p = Point::new;
    ring(&[p(x.0, y.0), p(x.1, y.0), p(x.1, y.1), p(x.0, y.1)])
}

/// A filled panel with its overhangs trimmed off.
fn square_panel(pattern: &Pattern, xs: &[f64], ys: &[f64], t: f64) -> Value {
    let overhang = 20.0;
    let design = Design {
        title: String::new(),
        grid: Grid::Square(SquareGrid {
            pitches_x: xs.to_vec(),
            pitches_y: ys.to_vec(),
            overhang,
        }),
        strip: StripSection {
            thickness: t,
            depth: 12.0,
            clearance: 0.0,
            drawn: None,
            least_web: 2.0,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        },
        infill: Some(lapwright::lattice::Infill {
            allowance: 0.0,
            fold_skin: 0.2 * t,
            section: None,
            way: lapwright::lattice::PieceWay::default(),
        }),
    };
    let panel = Panel::new(design).unwrap();
    let filled = fill(&panel, pattern, EdgeCells::Leave).unwrap();
    let ends = |pitches: &[f64]| {
        let last = overhang + pitches.iter().sum::<f64>();
        (overhang - t / 2.0, last + t / 2.0)
    };
    let (x, y) = (ends(xs), ends(ys));
    let strip = |line: &lapwright::lattice::Strip| match line.id.family {
        0 => rectangle((line.start.x - t / 2.0, line.start.x + t / 2.0), y),
        _ => rectangle(x, (line.start.y - t / 2.0, line.start.y + t / 2.0)),
    };
    let cell = Cell::rectangle(xs[0] - t, ys[0] - t).unwrap();
    let touching = touching(&solved(pattern, &cell, t).unwrap());
    json!({
        "name": format!("{} at {t}", pattern.name),
        "thickness": t,
        "outline": rectangle(x, y),
        "strips": panel.lattice().strips.iter().map(strip).collect::<Value>(),
        "cells": filled.cells.iter().map(|cell| filled_cell(cell, &touching)).collect::<Value>(),
    })
}

/// One cell with a strip on each wall, mitred at the corners.
fn single_cell(pattern: &Pattern, cell: &SolvedCell, t: f64) -> Value {
    let corners = cell.cell.corners();
    let count = corners.len();
    // A corner of the strips' outer faces: t off both walls.
    let outer = |at: usize| {
        let (before, here, after) = (
            corners[(at + count - 1) % count],
            corners[at],
            corners[(at + 1) % count],
        );
        let (u, v) = (
            before.to(here).unit().unwrap(),
            here.to(after).unit().unwrap(),
        );
        here + (u - v) * (t / u.cross(v))
    };
    let strip = |at: usize| {
        let next = (at + 1) % count;
        ring(&[outer(at), outer(next), corners[next], corners[at]])
    };
    let named = |piece: &lapwright::infill::SolvedPiece| json!({ "name": piece.name, "outline": ring(&piece.polygon()) });
    let polygons: Vec<_> = cell
        .pieces
        .iter()
        .map(lapwright::infill::SolvedPiece::polygon)
        .collect();
    let lapped = cell.pieces.iter().zip(&polygons).map(|(piece, polygon)| {
        let laps = piece
            .figures
            .laps
            .iter()
            .map(|lap| (lap.mate.as_str(), lap.centre));
        (
            piece.name.as_str(),
            &polygon[..],
            piece.axis,
            laps.collect(),
        )
    });
    json!({
        "name": format!("{} at {t}", pattern.name),
        "thickness": t,
        "outline": ring(&(0..count).map(outer).collect::<Vec<_>>()),
        "strips": (0..count).map(strip).collect::<Value>(),
        "cells": [{
            "outline": ring(corners),
            "pieces": cell.pieces.iter().map(named).collect::<Value>(),
            "touching": touching(cell),
            "laps": laps(lapped),
        }],
    })
}

fn check(panels: &[Value]) {
    check_pieces(&json!({ "panels": panels })).unwrap_or_else(|reason| panic!("{reason}"));
}

/// Whether a pattern says that its figure holds with pieces of that thickness.
fn is_held(pattern: &Pattern, cell: &Cell, t: f64) -> bool {
    let greatest = pattern
        .greatest
        .map(|share| Pattern::thickness_at(cell, share));
    greatest.is_none_or(|greatest| t < greatest + 1e-9)
}

#[test]
fn every_pattern_fits_its_cell_from_1_to_25_percent_of_the_pitch() {
    let mut panels = Vec::new();
    for percent in 1..=25 {
        let t = SIDE * f64::from(percent) / 100.0;
        let mut add = |pattern: &Pattern, cell: &Cell, t: f64| {
            let solved = solved(pattern, cell, t);
            assert_eq!(
                solved.is_some(),
                is_held(pattern, cell, t),
                "{} {t}",
                pattern.name
            );
            panels.extend(solved.map(|solved| single_cell(pattern, &solved, t)));
        };
        let cell = Cell::rectangle(SIDE - t, SIDE - t).unwrap();
        patterns(CellShape::Square)
            .iter()
            .for_each(|pattern| add(pattern, &cell, t));
        let rhomb = Cell::rhomb_of_grid(SIDE, 60_f64.to_radians(), t).unwrap();
        patterns(CellShape::Rhomb)
            .iter()
            .for_each(|pattern| add(pattern, &rhomb, t));
        let t = t * 3_f64.sqrt() / 2.0;
        let triangle = Cell::triangle_of_grid(SIDE, t).unwrap();
        patterns(CellShape::Triangle)
            .iter()
            .for_each(|pattern| add(pattern, &triangle, t));
    }
    assert!(
        panels.len() > 20 * SHIPPED_PATTERNS.len(),
        "{}",
        panels.len()
    );
    check(&panels);
}

#[test]
fn panels_of_every_pattern_fit_their_strips() {
    let mut panels = Vec::new();
    for pattern in patterns(CellShape::Square) {
        let greatest = SIDE * pattern.greatest.unwrap_or(0.25);
        for t in [0.5, 2.8, 6.0_f64.min(0.8 * greatest), greatest] {
            panels.push(square_panel(&pattern, &[SIDE; 2], &[SIDE; 2], t));
        }
        // Squares of two sizes, and cells that stay open or take a longer figure.
        panels.push(square_panel(&pattern, &[40.0, 55.0], &[40.0, 55.0], 3.0));
    }
    check(&panels);
}

/// The check itself: what was changed must be refused.
#[test]
fn changed_pieces_are_refused() {
    let leaf = &patterns(CellShape::Square)[0];
    let crossed = &patterns(CellShape::Square)[2];
    let panel = |pattern: &Pattern| square_panel(pattern, &[SIDE], &[SIDE], 2.8);
    type Change = fn(&mut Value);
    let shift = |piece: &mut Value, by: f64| {
        for p in piece["outline"].as_array_mut().unwrap() {
            p[0] = json!(p[0].as_f64().unwrap() + by);
        }
    };
    let cases: [(&Pattern, Change, &str); 6] = [
        // The last corner of a hinge moved by a hundredth of a millimetre.
        (
            leaf,
            |panel| {
                let p = &mut panel["cells"][0]["pieces"][1]["outline"][0][1];
                *p = json!(p.as_f64().unwrap() - 0.01);
            },
            "outside its cell",
        ),
        (
            leaf,
            |panel| panel["thickness"] = json!(2.9),
            "no two long sides",
        ),
        (
            leaf,
            |panel| {
                let outline = &mut panel["cells"][0]["pieces"][2]["outline"];
                outline.as_array_mut().unwrap().reverse();
            },
            "clockwise",
        ),
        (
            leaf,
            |panel| panel["cells"][0]["touching"] = json!([]),
            "whole facet shared: True",
        ),
        (
            crossed,
            |panel| panel["cells"][0]["laps"] = json!([]),
            "overlaps",
        ),
        (
            crossed,
            |panel| panel["cells"][0]["laps"][0][2] = json!(1.0),
            "the lap is not about",
        ),
    ];
    for (pattern, change, reason) in cases {
        let mut panel = panel(pattern);
        change(&mut panel);
        let refusal = check_pieces(&json!({ "panels": [panel] })).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
    let mut moved = panel(leaf);
    shift(&mut moved["cells"][0]["pieces"][2], -1e-5);
    check_pieces(&json!({ "panels": [moved] })).expect_err("a key that was shifted");
    let mut wider = panel(leaf);
    wider["outline"][0][0] = json!(wider["outline"][0][0].as_f64().unwrap() - 1e-6);
    let refusal = check_pieces(&json!({ "panels": [wider] })).expect_err("a panel that is wider");
    assert!(refusal.contains("areas add up to"), "{refusal}");
}
