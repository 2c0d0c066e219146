//! What a pattern needs and how it looks over several cells, for lists and pictures of patterns.

use super::paring::settings::jig_angles;
use crate::finding::Finding;
use crate::geometry::{Point, Vector};
use crate::infill::{
    Cell, CellShape, EdgeCells, Infilling, Pattern, PieceStock, SolvedCell, fill, solve,
};
use crate::instructions::patterns::PatternFacts;
use crate::lattice::{
    Design, DiamondGrid, DiamondStance, Grid, Infill, Joinery, Lattice, Panel, PieceSection,
    PieceWay, Region, SquareGrid, StripSection, TriangularGrid, TriangularStance,
    USUAL_FOLD_SKIN_MM,
};

/// Sharp angle of the rhomb in which a pattern for rhombs is shown: two triangles of equal sides.
const USUAL_RHOMB: f64 = std::f64::consts::FRAC_PI_3;

/// Depth of all wood where a pattern is shown, mm: nothing that is told of a pattern hangs on it.
const DEPTH_MM: f64 = 12.0;

/// Squares and rhombs in a row of a figure, and rows.
const CELLS: usize = 3;

/// Triangles from the middle of a figure to its corner.
const RINGS: usize = 2;

/// Finest step in which the greatest thickness is sought, as a part of the pitch.
const FINE: f64 = 0.001;

/// The sizes that a pattern is shown with. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShownSizes {
    /// Between neighbouring centre lines; of triangles the side.
    pub pitch: f64,
    /// Of strips.
    pub thickness: f64,
    /// Of pieces; nothing where they are such a part of the strips' as the pattern says.
    pub pieces: Option<f64>,
}

impl ShownSizes {
    /// The clear opening of a cell; nothing where the strips leave none.
    pub fn opening(self, shape: CellShape) -> Option<Cell> {
        let ShownSizes {
            pitch, thickness, ..
        } = self;
        match shape {
            CellShape::Square => Cell::rectangle(pitch - thickness, pitch - thickness),
            CellShape::Triangle => Cell::triangle_of_grid(pitch, thickness),
            CellShape::Rhomb => Cell::rhomb_of_grid(pitch, USUAL_RHOMB, thickness),
        }
    }

    /// A pattern's pieces in one cell.
    ///
    /// # Errors
    /// Sizes that leave no opening; why the pattern does not fit it (fields of the pattern).
    pub fn solve(self, pattern: &Pattern) -> Result<SolvedCell, Vec<Finding>> {
        let Some(cell) = self.opening(pattern.cell) else {
            let text = "a cell of this pitch and thickness has no opening";
            let hint = "take thinner strips or a greater pitch";
            return Err(vec![Finding::error("no-opening", "", text).hint(hint)]);
        };
        let wood = PieceStock {
            thickness: self.thickness,
            depth: DEPTH_MM,
            clearance: 0.0,
            skin: USUAL_FOLD_SKIN_MM,
        };
        let stock = match self.pieces {
            Some(thickness) => PieceStock { thickness, ..wood },
            None => wood.share(pattern.section),
        };
        solve(pattern, &cell, stock)
    }

    /// Three by three squares or rhombs, or a hexagon of triangles with two of them from its middle to
    /// a corner.
    fn grid(self, shape: CellShape) -> Grid {
        let overhang = 2.5 * self.thickness;
        let pitch = self.pitch;
        match shape {
            CellShape::Square => Grid::Square(SquareGrid {
                pitches_x: vec![pitch; CELLS],
                pitches_y: vec![pitch; CELLS],
                overhang,
            }),
            CellShape::Triangle => Grid::Triangular(TriangularGrid {
                side: pitch,
                stance: TriangularStance::Lying,
                region: Region::Hexagon { rings: RINGS },
                overhang,
            }),
            CellShape::Rhomb => Grid::Diamond(rhombs(pitch, overhang)),
        }
    }
}

/// Rhombs with their sharp corners at the left and at the right, in a rhomb.
fn rhombs(pitch: f64, overhang: f64) -> DiamondGrid {
    let mut grid = DiamondGrid {
        pitch,
        angle: std::f64::consts::PI - USUAL_RHOMB,
        stance: DiamondStance::OnPoint,
        region: Region::Cells {
            columns: 1,
            rows: 1,
        },
        overhang,
    };
    let side = CELLS as f64 * grid.step();
    let (sine, cosine) = (USUAL_RHOMB / 2.0).sin_cos();
    let [up, down] = [sine, -sine].map(|sine| Vector::new(cosine, sine) * side);
    let left = Point::default();
    grid.region = Region::Polygon {
        corners: vec![left, left + down, left + down + up, left + up],
        node: left,
    };
    grid
}

/// A pattern over several cells.
#[derive(Debug, Clone)]
pub struct PatternFigure {
    /// The strips.
    pub lattice: Lattice,
    /// The pieces in all cells.
    pub filled: Infilling,
}

impl PatternFigure {
    /// Lays a pattern into the cells of a small panel.
    ///
    /// # Errors
    /// Sizes that no panel can have; why the pattern does not fit its cells.
    pub fn of(pattern: &Pattern, sizes: ShownSizes) -> Result<PatternFigure, Vec<Finding>> {
        let strip = StripSection {
            thickness: sizes.thickness,
            depth: DEPTH_MM,
            drawn: None,
            clearance: 0.0,
            least_web: sizes.thickness / 10.0,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        };
        let pieces = |thickness| Infill {
            allowance: 0.0,
            fold_skin: USUAL_FOLD_SKIN_MM,
            section: Some(PieceSection {
                thickness,
                ..strip.for_pieces()
            }),
            way: PieceWay::default(),
        };
        let panel = Panel::new(Design {
            title: pattern.name.clone(),
            grid: sizes.grid(pattern.cell),
            infill: sizes.pieces.map(pieces),
            strip,
        })?;
        let filled = fill(&panel, pattern, EdgeCells::Leave)?;
        Ok(PatternFigure {
            lattice: panel.lattice().clone(),
            filled,
        })
    }
}

/// What a pattern needs, as it lies in such cells; its figure was laid with the same sizes.
///
/// # Errors
/// As for [`ShownSizes::solve`].
pub fn pattern_facts(
    pattern: &Pattern,
    sizes: ShownSizes,
    figure: &PatternFigure,
) -> Result<PatternFacts, Vec<Finding>> {
    Ok(PatternFacts {
        pieces: sizes.solve(pattern)?.all_made().len(),
        greatest: greatest(pattern),
        guide_angles: jig_angles(&figure.filled.kinds),
    })
}

/// The greatest thickness of strips and pieces that are equally thick, as a part of the pitch, to a
/// thousandth: up to where the pattern says, or to where its pieces no longer fit.
///
/// Sought from below in hundredths to the first that does not fit, then between the two by halves.
fn greatest(pattern: &Pattern) -> f64 {
    const COARSE: f64 = 0.01;
    const PITCH: f64 = 100.0;
    let pitch = match pattern.cell {
        // The side; centre lines are a triangle's height apart.
        CellShape::Triangle => PITCH / 0.75_f64.sqrt(),
        CellShape::Square | CellShape::Rhomb => PITCH,
    };
    let fits = |share: f64| {
        let thickness = share * PITCH;
        let sizes = ShownSizes {
            pitch,
            thickness,
            pieces: Some(thickness),
        };
        sizes.solve(pattern).is_ok()
    };
    let steps = (1..50).map(|step| f64::from(step) * COARSE);
    let too_much = steps.clone().find(|share| !fits(*share)).unwrap_or(0.5);
    let (mut low, mut high) = (too_much - COARSE, too_much);
    while high - low > FINE / 2.0 {
        let between = f64::midpoint(low, high);
        if fits(between) {
            low = between;
        } else {
            high = between;
        }
    }
    // What the pattern says itself lies at a step, and is not missed by less than one.
    let nearest = (high / FINE).round() * FINE;
    if fits(nearest) {
        nearest
    } else {
        (low / FINE).floor() * FINE
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{SHIPPED_PATTERNS, read_pattern};

    fn shipped(name: &str) -> Pattern {
        let text = SHIPPED_PATTERNS
            .iter()
            .find(|p| p.name == name)
            .unwrap()
            .text;
        read_pattern(name, text).unwrap().pattern
    }

    #[test]
    fn the_greatest_thickness_is_that_of_plane_geometry() {
        // A square on its point whose corners lie in the middles of the walls, opening w, thickness t: on
        // its inner side a bar is as long as the inner square's, w / sqrt 2 - t, and that ends where
        // w = P - t is sqrt 2 t: t / P = 1 / (1 + sqrt 2).
        let nested = greatest(&shipped("nested-square"));
        assert!((nested - (2_f64.sqrt() - 1.0)).abs() < FINE, "{nested}");
        // Its file says so.
        assert!((greatest(&shipped("four-leaf")) - 0.19).abs() < 1e-12);
    }

    #[test]
    fn a_figure_has_the_cells_of_its_shape() {
        let sizes = ShownSizes {
            pitch: 50.0,
            thickness: 4.0,
            pieces: None,
        };
        for (name, cells) in [("octagons", 9), ("hexagon-star", 24), ("rhomb-spokes", 9)] {
            let pattern = shipped(name);
            let figure = PatternFigure::of(&pattern, sizes).unwrap();
            let whole = figure.filled.cells.iter().filter(|cell| cell.whole);
            assert_eq!(whole.count(), cells, "{name}");
            let alone = sizes.solve(&pattern).unwrap().pieces.len();
            let laid = figure.filled.cells.iter().map(|cell| cell.pieces.len());
            assert_eq!(laid.sum::<usize>(), cells * alone, "{name}");
        }
    }
}
