//! Mitred pieces against closed forms, plane geometry and themselves.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use lapwright::infill::{
    Cell, CellShape, Facet, FacetSide, Figures, Pattern, SolvedCell, SolvedPiece, Stock, solve,
};
use lapwright::reading::{SHIPPED_PATTERNS, read_pattern, shipped_pattern};
use lapwright::units::UnitSystem;

fn pattern(name: &str) -> Pattern {
    let text = shipped_pattern(name).unwrap().text;
    match read_pattern(name, text) {
        Ok(file) => file.pattern,
        Err(bad) => panic!(
            "{}",
            bad.source.report(&bad.findings, UnitSystem::Millimetres)
        ),
    }
}

/// The cell of a grid: square of that pitch, or triangle of that side, between centre lines.
fn cell(shape: CellShape, pitch: f64, t: f64) -> Cell {
    match shape {
        CellShape::Square => Cell::rectangle(pitch - t, pitch - t).unwrap(),
        CellShape::Triangle => Cell::triangle_of_grid(pitch, t).unwrap(),
    }
}

fn solved(name: &str, pitch: f64, t: f64) -> SolvedCell {
    let pattern = pattern(name);
    let stock = Stock {
        thickness: t,
        clearance: 0.0,
    };
    match solve(&pattern, &cell(pattern.cell, pitch, t), stock) {
        Ok(cell) => cell,
        Err(found) => panic!("{name}, t {t}: {found:#?}"),
    }
}

fn piece<'a>(cell: &'a SolvedCell, name: &str) -> &'a SolvedPiece {
    cell.pieces.iter().find(|piece| piece.name == name).unwrap()
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

fn facet(figures: &Figures, end: usize, side: FacetSide) -> Facet {
    let facets = &figures.ends()[end].facets;
    *facets.iter().find(|facet| facet.side == side).unwrap()
}

fn angles(figures: &Figures) -> Vec<Vec<f64>> {
    let of_end = |end: &lapwright::infill::End| {
        end.facets
            .iter()
            .map(|facet| facet.jig_angle.to_degrees())
            .collect()
    };
    figures.ends().map(of_end).to_vec()
}

fn near_angles(figures: &Figures, wanted: [&[f64]; 2]) {
    let found = angles(figures);
    for (found, wanted) in found.iter().zip(wanted) {
        assert_eq!(found.len(), wanted.len(), "{found:?}");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
        }
    }
}

#[test]
fn every_shipped_pattern_is_solved() {
    for shipped in SHIPPED_PATTERNS {
        let cell = solved(shipped.name, 50.0, 2.8);
        for piece in &cell.pieces {
            println!("{} {} {:?}", shipped.name, piece.name, piece.figures);
        }
    }
}
