//! How a pattern lies in each cell of a grid, and where that puts its points.

use super::cell_shape::CellShape;
use super::lie::Lie;
use super::pattern::Neighbours;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::lattice::{CellMeasures, GridCell};
use std::f64::consts::FRAC_PI_2;

/// A rigid motion from a pattern's own cell to the panel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CellFrame {
    origin: Point,
    x: Vector,
    y: Vector,
}

impl CellFrame {
    /// That of a pattern in a cell whose corners lie on the strips' centre lines.
    ///
    /// The clear opening's corner lies half a thickness inside both walls: as much along y and,
    /// where the walls enclose the angle A, `(1 + cos A) / sin A` times as much along x.
    pub(super) fn of(cell: &GridCell, lie: Lie, thickness: f64) -> CellFrame {
        let count = cell.corners.len();
        let corner = |at: usize| {
            let index = lie.corner(at % count.max(1), count);
            cell.corners.get(index).copied().unwrap_or_default()
        };
        let first = corner(0);
        let x = direction(first, corner(1));
        let last = direction(first, corner(count.saturating_sub(1)));
        let left = Vector::new(-x.y, x.x);
        let y = if lie.mirrored { -left } else { left };
        let along = (1.0 + x.dot(last)) / x.cross(last).abs();
        let half = thickness / 2.0;
        CellFrame {
            origin: first + x * (half * along) + y * half,
            x,
            y,
        }
    }

    /// That of a figure with its own origin and axis, both in this frame.
    pub(super) fn within(&self, origin: Point, along: Vector) -> CellFrame {
        let way = |v: Vector| self.x * v.x + self.y * v.y;
        CellFrame {
            origin: self.place(origin),
            x: way(along),
            y: way(Vector::new(-along.y, along.x)),
        }
    }

    pub(super) fn place(&self, p: Point) -> Point {
        self.origin + self.x * p.x + self.y * p.y
    }

    /// The opposite of [`CellFrame::place`].
    pub(super) fn local(&self, p: Point) -> Point {
        let way = self.origin.to(p);
        Point::new(way.dot(self.x), way.dot(self.y))
    }

    pub(super) fn mirrors(&self) -> bool {
        self.x.cross(self.y) < 0.0
    }
}

/// The unit vector from one point to another; along x or y without rounding.
fn direction(from: Point, to: Point) -> Vector {
    let v = from.to(to).unit().unwrap_or_default();
    if v.x.abs() < 1e-12 {
        Vector::new(0.0, v.y.signum())
    } else if v.y.abs() < 1e-12 {
        Vector::new(v.x.signum(), 0.0)
    } else {
        v
    }
}

/// How a pattern lies in the cells of a grid.
pub(super) struct Lies {
    shape: CellShape,
    neighbours: Neighbours,
    /// Corner 0 of the first cell, and the steps from node to node along its first and last wall;
    /// none where cells are rectangles: there columns and rows count.
    steps: Option<(Point, Vector, Vector)>,
    /// Which corner lies at which of the nodes where like corners meet: added to a node's place.
    shift: [i64; 2],
}

impl Lies {
    /// For patterns drawn for cells of `shape`.
    pub(super) fn of(cells: &[GridCell], shape: CellShape, neighbours: Neighbours) -> Lies {
        let steps = cells.first().and_then(|cell| match cell.measures {
            CellMeasures::Rectangle { .. } => None,
            CellMeasures::Rhomb { .. } | CellMeasures::Triangle { .. } => match cell.corners[..] {
                [corner, along, .., back] => Some((corner, corner.to(along), corner.to(back))),
                _ => None,
            },
        });
        Lies {
            shape,
            neighbours,
            steps,
            shift: [0; 2],
        }
    }

    /// The same with a corner of the pattern at the node nearest to a point, of equals the first of the cells.
    ///
    /// Where cells are mirrored, nodes fall into as many kinds as a cell has corners, and each takes one of
    /// them: of squares by whether column and row are even, of triangles as in [`Lies::kind`].
    pub(super) fn with_middle(self, cells: &[GridCell], corner: usize, middle: Point) -> Lies {
        let nodes = cells.iter().filter(|cell| cell.whole).flat_map(|cell| {
            let corners = cell.corners.iter().enumerate();
            corners.map(move |(at, p)| (cell, at, *p))
        });
        let mut nearest: Option<(f64, &GridCell, usize)> = None;
        for (cell, at, p) in nodes {
            let away = p.to(middle).length();
            if nearest.is_none_or(|(least, ..)| away < least - SAME_POSITION_MM) {
                nearest = Some((away, cell, at));
            }
        }
        let Some((_, cell, at)) = nearest else {
            return self;
        };
        let here = cell.corners.get(at).copied().unwrap_or_default();
        let shift = if cell.corners.len() == 3 {
            [corner as i64 - self.kind(here), 0]
        } else {
            const OF_CORNERS: [[i64; 2]; 4] = [[0, 0], [1, 0], [1, 1], [0, 1]];
            let of = |at: usize| OF_CORNERS.get(at).copied().unwrap_or_default();
            let [column, row] = self.place(cell);
            let [[x, y], [u, v]] = [of(at), of(corner)];
            [u - column - x, v - row - y]
        };
        Lies { shift, ..self }
    }

    /// In one cell.
    pub(super) fn lie(&self, cell: &GridCell) -> Lie {
        if cell.corners.len() == 3 {
            return self.in_triangle(cell);
        }
        let [column, row] = self.place(cell);
        let (column, row) = (column + self.shift[0], row + self.shift[1]);
        let odd = |n: i64| n.rem_euclid(2) == 1;
        let lie = |first, mirrored| Lie { first, mirrored };
        // A rhomb's own figure starts at a sharp corner.
        let sharp = usize::from(self.shape == CellShape::Rhomb && is_blunt(cell));
        match (self.neighbours, odd(column), odd(row)) {
            (Neighbours::Same, ..) | (_, false, false) => lie(sharp, false),
            (Neighbours::Mirror, true, false) => lie(1, true),
            (Neighbours::Mirror, false, true) => lie(3, true),
            (Neighbours::Mirror, true, true) => lie(2, false),
            (Neighbours::Turn, true, true) => lie(sharp, false),
            (Neighbours::Turn, ..) if self.shape == CellShape::Rhomb => lie(sharp + 2, false),
            (Neighbours::Turn, ..) => lie(1, false),
        }
    }

    /// Column and row of a cell, from 0; on slanted grids steps to its first corner.
    fn place(&self, cell: &GridCell) -> [i64; 2] {
        if self.steps.is_none() {
            return [cell.column as i64 - 1, cell.row as i64 - 1];
        }
        let corner = cell.corners.first().copied().unwrap_or_default();
        let (column, row) = self.node(corner);
        [column, row]
    }

    /// The nodes of a triangular grid fall into three kinds, of which every triangle has one each:
    /// of node (i, j) it is (i - j) mod 3. Neighbours that are mirrored in the wall between them
    /// have like corners at like nodes: a pattern's corner k at those of kind k.
    fn kind(&self, p: Point) -> i64 {
        let (i, j) = self.node(p);
        (i - j + self.shift[0]).rem_euclid(3)
    }

    fn in_triangle(&self, cell: &GridCell) -> Lie {
        if self.neighbours != Neighbours::Mirror {
            return Lie::default();
        }
        let kinds: Vec<i64> = cell.corners.iter().map(|p| self.kind(*p)).collect();
        let first = kinds.iter().position(|kind| *kind == 0).unwrap_or(0);
        let next = kinds.get((first + 1) % 3);
        Lie {
            first,
            mirrored: next != Some(&1),
        }
    }

    /// Steps from the first cell's first corner to a node.
    #[allow(clippy::cast_possible_truncation)] // bays were counted before
    fn node(&self, p: Point) -> (i64, i64) {
        let Some((origin, along, back)) = self.steps else {
            return (0, 0);
        };
        let to = origin.to(p);
        let area = along.cross(back);
        let whole = |part: f64| (part / area).round() as i64;
        (whole(to.cross(back)), whole(along.cross(to)))
    }
}

/// Whether the angle at a cell's first corner is above a right angle.
fn is_blunt(cell: &GridCell) -> bool {
    match cell.corners[..] {
        [corner, along, .., back] => {
            let u = corner.to(along);
            let v = corner.to(back);
            u.cross(v).atan2(u.dot(v)) > FRAC_PI_2 + 1e-9
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{Grid, Region, TriangularGrid, TriangularStance};
    use float_cmp::approx_eq;

    #[test]
    fn like_corners_of_mirrored_triangles_meet() {
        for stance in [TriangularStance::Lying, TriangularStance::Upright] {
            let grid = Grid::Triangular(TriangularGrid {
                side: 40.0,
                stance,
                region: Region::Hexagon { rings: 2 },
                overhang: 10.0,
            });
            let cells = grid.cells();
            let lies = Lies::of(&cells, CellShape::Triangle, Neighbours::Mirror);
            let mut corners: Vec<(Point, usize)> = Vec::new();
            for cell in &cells {
                let lie = lies.lie(cell);
                for corner in 0..3 {
                    let at = cell.corners[lie.corner(corner, 3)];
                    match corners.iter().find(|(p, _)| p.to(at).length() < 1e-6) {
                        Some((_, known)) => assert_eq!(*known, corner),
                        None => corners.push((at, corner)),
                    }
                }
            }
            assert_eq!(corners.len(), 3 * 4 + 3 * 2 + 1);
            assert_eq!(lies.lie(&cells[0]), Lie::default());
        }
    }

    #[test]
    fn a_frame_and_back() {
        let corners = [(0.0, 0.0), (40.0, 0.0), (20.0, 20.0 * 3_f64.sqrt())];
        let cell = GridCell {
            column: 1,
            row: 1,
            corners: corners.map(|(x, y)| Point::new(x, y)).to_vec(),
            whole: true,
            measures: CellMeasures::Triangle { side: 40.0 },
        };
        for (first, mirrored) in [(0, false), (1, false), (2, true)] {
            let frame = CellFrame::of(&cell, Lie { first, mirrored }, 3.0);
            assert_eq!(frame.mirrors(), mirrored);
            // Corner of the opening: twice half a thickness from the node, along the bisector.
            let corner = frame.place(Point::default());
            assert!(approx_eq!(
                f64,
                corner.to(cell.corners[first]).length(),
                3.0,
                epsilon = 1e-12
            ));
            let p = Point::new(7.0, 3.0);
            assert!(frame.local(frame.place(p)).to(p).length() < 1e-12);
        }
    }

    #[test]
    fn the_corner_that_is_asked_for_lies_at_the_middle() {
        use crate::lattice::{Grid, SquareGrid};
        let squares = |columns: usize, rows: usize| {
            let grid = SquareGrid {
                pitches_x: vec![40.0; columns],
                pitches_y: vec![40.0; rows],
                overhang: 10.0,
            };
            Grid::Square(grid).cells()
        };
        for (columns, rows) in [(2, 2), (4, 2), (6, 4), (3, 5)] {
            let cells = squares(columns, rows);
            let middle = Point::new(10.0 + 20.0 * columns as f64, 10.0 + 20.0 * rows as f64);
            for corner in 0..4 {
                let lies = Lies::of(&cells, CellShape::Square, Neighbours::Mirror);
                let lies = lies.with_middle(&cells, corner, middle);
                let at = |cell: &GridCell| cell.corners[lies.lie(cell).corner(corner, 4)];
                let away = |cell: &GridCell| middle.to(at(cell)).length();
                let nearest = cells.iter().map(away).fold(f64::INFINITY, f64::min);
                let node = |p: &Point| middle.to(*p).length();
                let nodes = cells.iter().flat_map(|cell| &cell.corners);
                let least = nodes.map(node).fold(f64::INFINITY, f64::min);
                assert!((nearest - least).abs() < 1e-9, "{columns} {rows} {corner}");
            }
        }
    }
}
