//! Mitred pieces against closed forms, plane geometry and themselves.

mod figures;
mod itself;
mod language;
mod panel;
mod slanted;

use float_cmp::approx_eq;
use lapwright::infill::{
    Cell, CellShape, Facet, FacetSide, Figures, Pattern, PieceStock, SolvedCell, SolvedPiece, solve,
};
use lapwright::reading::{read_pattern, shipped_pattern};
use lapwright::units::UnitSystem;

fn read(name: &str, text: &str) -> Pattern {
    match read_pattern(name, text) {
        Ok(file) => file.pattern,
        Err(bad) => panic!(
            "{}",
            bad.source.report(&bad.findings, UnitSystem::Millimetres)
        ),
    }
}

fn pattern(name: &str) -> Pattern {
    read(name, shipped_pattern(name).unwrap().text)
}

fn stock(thickness: f64) -> PieceStock {
    PieceStock {
        thickness,
        depth: 12.0,
        clearance: 0.0,
        // No thicker than a sixth of what is to be folded.
        skin: (thickness / 6.0).min(0.5),
    }
}

/// The cell of a grid: between centre lines, a square of that side or a triangle of that side.
fn cell(shape: CellShape, side: f64, t: f64) -> Cell {
    match shape {
        CellShape::Square => Cell::rectangle(side - t, side - t).unwrap(),
        CellShape::Triangle => Cell::triangle_of_grid(side, t).unwrap(),
        CellShape::Rhomb => Cell::rhomb_of_grid(side, std::f64::consts::FRAC_PI_3, t).unwrap(),
    }
}

fn solved(name: &str, side: f64, t: f64) -> SolvedCell {
    let pattern = pattern(name);
    match solve(&pattern, &cell(pattern.cell, side, t), stock(t)) {
        Ok(cell) => cell,
        Err(found) => panic!("{name}, t {t}: {found:#?}"),
    }
}

fn piece<'a>(cell: &'a SolvedCell, name: &str) -> &'a SolvedPiece {
    cell.pieces.iter().find(|piece| piece.name == name).unwrap()
}

fn near(found: f64, wanted: f64) {
    assert!(
        approx_eq!(f64, found, wanted, epsilon = 1e-9),
        "{found} is not {wanted}"
    );
}

fn facet(figures: &Figures, end: usize, side: FacetSide) -> Facet {
    let facets = &figures.ends()[end].facets;
    *facets.iter().find(|facet| facet.side == side).unwrap()
}

/// Jig angles of both ends, left before right, in degrees.
fn near_angles(figures: &Figures, wanted: [&[f64]; 2]) {
    for (end, wanted) in figures.ends().iter().zip(wanted) {
        assert_eq!(end.facets.len(), wanted.len(), "{end:?}");
        for (facet, wanted) in end.facets.iter().zip(wanted) {
            near(facet.jig_angle.to_degrees(), *wanted);
        }
    }
}
