//! Kinds' names and numbers of rows and columns in the panel's picture.

use super::bodies::is_square;
use super::labels::{self, Label, Taken};
use crate::geometry::convex::depth;
use crate::geometry::{Point, Vector, bounds};
use crate::infill::{FilledCell, Infilling, MapForm};
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::legible::LEAST_CAPITALS_MM;
use crate::lattice::Lattice;

/// Where there are several kinds: the name of its kind in every cell that takes pieces. There, and where
/// a map or a rule says which cells take what: the rows' numbers at their right ends and, on a square
/// grid, the columns' numbers above.
pub(super) fn marks(
    drawing: &mut Drawing,
    taken: &mut Taken,
    filled: &Infilling,
    lattice: &Lattice,
    capitals: f64,
) {
    let kinds = filled.cell_kinds();
    let several = kinds.len() > 1;
    if !several && filled.map.form == MapForm::Same {
        return;
    }
    for kind in kinds.iter().filter(|_| several && capitals > 0.0) {
        for cell in kind.cells.iter().filter_map(|at| filled.cells.get(*at)) {
            let pieces = cell.pieces.iter().map(|piece| &piece.outline[..]);
            let pieces: Vec<&[Point]> = pieces.collect();
            let letters = kind.name.chars().count();
            let between = |height: f64| {
                let place =
                    labels::between(&cell.outline, &lattice.region, &pieces, letters, height);
                place.map(|at| (at, height))
            };
            let smaller = [1.0, 0.85].map(|share| (share * capitals).max(LEAST_CAPITALS_MM));
            match smaller.into_iter().find_map(between) {
                Some((at, height)) => drawing.text(Role::Name, at, height, kind.name.as_str()),
                None => on_a_plate(drawing, cell, &lattice.region, (&kind.name, capitals)),
            }
        }
    }
    taken.add(lattice.region.clone());
    bays(drawing, taken, filled, lattice, capitals);
}

/// A name in the middle of a cell, its pieces covered below it; nothing where the cell is too small, or cut
/// off there by the panel's edge.
fn on_a_plate(
    drawing: &mut Drawing,
    cell: &FilledCell,
    edge: &[Point],
    (name, capitals): (&str, f64),
) {
    let (low, high) = bounds(cell.outline.iter().copied()).unwrap_or_default();
    let middle = Point::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y));
    let room = labels::figures_room(middle, name.chars().count() + 1, 1.3 * capitals);
    if room
        .iter()
        .all(|corner| depth(&cell.outline, *corner) > 0.0 && depth(edge, *corner) > 0.0)
    {
        drawing.face(Role::Cut, room);
        drawing.text(Role::Name, middle, capitals, name);
    }
}

/// Numbers of rows and columns.
fn bays(
    drawing: &mut Drawing,
    taken: &mut Taken,
    filled: &Infilling,
    lattice: &Lattice,
    height: f64,
) {
    let farthest = 2.0 * (drawing.high.x - drawing.low.x + drawing.high.y - drawing.low.y);
    // Where the word has no room its number alone may have.
    let mut number = |what: &str, count: usize, cell: &FilledCell, way: Vector| {
        let (low, high) = bounds(cell.outline.iter().copied()).unwrap_or_default();
        let middle = Point::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y));
        let label = |text: String| Label {
            role: Role::Name,
            height,
            text: text.into(),
        };
        let whole = label(format!("{what} {count}"));
        if !taken.write_outward(drawing, whole, middle, way, farthest) {
            taken.write_outward(drawing, label(count.to_string()), middle, way, farthest);
        }
    };
    // Row by row from the bottom, each from the left.
    for row in filled.cells.chunk_by(|a, b| a.row == b.row) {
        if let Some(last) = row.last() {
            number("row", last.row, last, Vector::new(1.0, 0.0));
        }
    }
    let top = filled.cells.last().map_or(0, |cell| cell.row);
    if is_square(lattice) {
        for cell in filled.cells.iter().filter(|cell| cell.row == top) {
            number("column", cell.column, cell, Vector::new(0.0, 1.0));
        }
    }
}
