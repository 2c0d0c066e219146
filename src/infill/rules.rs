//! Rules that give every cell of a grid its class.

use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{CellMeasures, GridCell};
use float_cmp::ApproxEq;
use std::collections::BTreeMap;

/// A rule by which cells take one of several patterns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellRule {
    /// The cells at the panel's edge, and those within.
    Border,
    /// By turns, as on a chessboard: cells with a wall in common differ.
    Checker,
    /// Rings around the middle, the innermost first.
    Rings,
    /// By the size of the cell, the smallest first.
    BySize,
}

impl CellRule {
    /// All.
    pub const ALL: [CellRule; 4] = [
        CellRule::Border,
        CellRule::Checker,
        CellRule::Rings,
        CellRule::BySize,
    ];

    /// As a job has it.
    pub fn name(self) -> &'static str {
        match self {
            CellRule::Border => "border",
            CellRule::Checker => "checker",
            CellRule::Rings => "rings",
            CellRule::BySize => "by-size",
        }
    }

    /// The class of each of the cells, from 0; what is not to be `filled` has none and is as if it
    /// were not there.
    pub fn classes(
        self,
        cells: &[GridCell],
        filled: impl Fn(&GridCell) -> bool,
    ) -> Vec<Option<usize>> {
        let there: Vec<(usize, &GridCell)> = cells
            .iter()
            .enumerate()
            .filter(|(_, cell)| filled(cell))
            .collect();
        let of_those: Vec<&GridCell> = there.iter().map(|(_, cell)| *cell).collect();
        let classes = match self {
            CellRule::Border => rings(&of_those)
                .into_iter()
                .map(|ring| ring.min(1))
                .collect(),
            CellRule::Checker => {
                let origin = of_those.first().and_then(|cell| cell.corners.first());
                let origin = origin.copied().unwrap_or_default();
                of_those.iter().map(|cell| colour(cell, origin)).collect()
            }
            CellRule::Rings => {
                let rings = rings(&of_those);
                let innermost = rings.iter().copied().max().unwrap_or(0);
                rings.into_iter().map(|ring| innermost - ring).collect()
            }
            CellRule::BySize => sizes(&of_those),
        };
        let mut all = vec![None; cells.len()];
        for ((at, _), class) in there.into_iter().zip::<Vec<usize>>(classes) {
            if let Some(place) = all.get_mut(at) {
                *place = Some(class);
            }
        }
        all
    }
}

/// A node's place as a key: nodes of one place are equal up to rounding.
fn key(p: Point) -> (i64, i64) {
    // Half a step of this is far above rounding and far below any strip.
    const STEP_MM: f64 = 1e3 * SAME_POSITION_MM;
    #[allow(clippy::cast_possible_truncation)] // no panel is that large
    let step = |mm: f64| (mm / STEP_MM).round() as i64;
    (step(p.x), step(p.y))
}

/// Those of the keys around a place that are taken, so that rounding across a step does no harm.
fn near(p: Point) -> impl Iterator<Item = (i64, i64)> {
    let (x, y) = key(p);
    (-1..=1).flat_map(move |dx| (-1..=1).map(move |dy| (x + dx, y + dy)))
}

/// Which ring around the outside a cell lies in, 0 at the edge. A cell lies at the edge where one of its
/// corners does; a ring further in has a corner in common with the one before.
fn rings(cells: &[&GridCell]) -> Vec<usize> {
    let mut nodes: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    let mut walls: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (at, cell) in cells.iter().enumerate() {
        for corner in &cell.corners {
            put(&mut nodes, *corner, at);
        }
        for (p, q) in sides(cell) {
            put(&mut walls, middle(p, q), at);
        }
    }
    let mut ring = vec![usize::MAX; cells.len()];
    let mut last: Vec<usize> = Vec::new();
    for cell in cells {
        for (p, q) in sides(cell) {
            if of(&walls, middle(p, q)).len() < 2 {
                last.extend(of(&nodes, p));
                last.extend(of(&nodes, q));
            }
        }
    }
    let mut number = 0;
    while !last.is_empty() {
        let mut these: Vec<usize> = Vec::new();
        for at in last.drain(..) {
            if let Some(ring) = ring.get_mut(at).filter(|ring| **ring == usize::MAX) {
                *ring = number;
                these.push(at);
            }
        }
        let of_those = these.iter().filter_map(|at| cells.get(*at));
        let corners = of_those.flat_map(|cell| &cell.corners);
        last = corners
            .flat_map(|corner| of(&nodes, *corner).to_vec())
            .collect();
        last.retain(|at| ring.get(*at) == Some(&usize::MAX));
        number += 1;
    }
    ring
}

/// Puts a cell to a place; places that are one up to rounding share a key.
fn put(places: &mut BTreeMap<(i64, i64), Vec<usize>>, p: Point, cell: usize) {
    let known = near(p).find(|key| places.contains_key(key));
    let cells = places.entry(known.unwrap_or_else(|| key(p))).or_default();
    if !cells.contains(&cell) {
        cells.push(cell);
    }
}

fn of(places: &BTreeMap<(i64, i64), Vec<usize>>, p: Point) -> &[usize] {
    let mut found = near(p).filter_map(|key| places.get(&key));
    found.next().map_or(&[], Vec::as_slice)
}

fn sides(cell: &GridCell) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = cell.corners.iter().cycle().skip(1);
    cell.corners.iter().copied().zip(next.copied())
}

fn middle(p: Point, q: Point) -> Point {
    Point::new(f64::midpoint(p.x, q.x), f64::midpoint(p.y, q.y))
}

/// For each cell and each of its walls the cell beyond it, if there is one.
pub(super) fn beyond(cells: &[GridCell]) -> Vec<Vec<Option<usize>>> {
    let mut walls: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (at, cell) in cells.iter().enumerate() {
        for (p, q) in sides(cell) {
            put(&mut walls, middle(p, q), at);
        }
    }
    let mut all = Vec::with_capacity(cells.len());
    for (at, cell) in cells.iter().enumerate() {
        let other = |(p, q)| {
            let mut both = of(&walls, middle(p, q)).iter().copied();
            both.find(|other| *other != at)
        };
        all.push(sides(cell).map(other).collect());
    }
    all
}

/// Cells with a wall in common differ: of squares and rhombs by the sum of column and row, of triangles
/// by the side to which they point. On grids where rows are cut off differently columns are no measure,
/// so that rhombs go by the steps from a node, `origin`, to theirs.
fn colour(cell: &GridCell, origin: Point) -> usize {
    match (cell.measures, cell.corners.as_slice()) {
        (CellMeasures::Rectangle { .. }, _) => (cell.column + cell.row) % 2,
        (CellMeasures::Rhomb { .. }, [node, along, .., back]) => {
            let (u, v) = (node.to(*along), node.to(*back));
            let area = u.cross(v);
            let to = origin.to(*node);
            let count = |part: f64| (part / area).round();
            let sum = count(to.cross(v)) + count(u.cross(to));
            usize::from(sum.rem_euclid(2.0) > 0.5)
        }
        // Both of a pair lie turned by half a turn to each other: one's first wall runs to the right or
        // up, the other's to the left or down.
        (_, [first, second, ..]) => {
            let along = first.to(*second);
            let back = if along.x.abs() > SAME_POSITION_MM {
                along.x < 0.0
            } else {
                along.y < 0.0
            };
            usize::from(back)
        }
        _ => 0,
    }
}

/// The number of each cell's size, the smallest area first; cells that are equal turned are of one size.
fn sizes(cells: &[&GridCell]) -> Vec<usize> {
    let mut known: Vec<[f64; 2]> = Vec::new();
    for cell in cells {
        let size = size(cell);
        if !known.iter().any(|other| same(*other, size)) {
            known.push(size);
        }
    }
    let area = |size: &[f64; 2]| size.iter().product::<f64>();
    known.sort_by(|a, b| area(a).total_cmp(&area(b)));
    let number = |cell: &&GridCell| known.iter().position(|other| same(*other, size(cell)));
    cells.iter().map(|cell| number(cell).unwrap_or(0)).collect()
}

/// The shorter measure first.
fn size(cell: &GridCell) -> [f64; 2] {
    match cell.measures {
        CellMeasures::Rectangle { width, height } => [width.min(height), width.max(height)],
        CellMeasures::Rhomb { pitch, .. } => [pitch; 2],
        CellMeasures::Triangle { side } => [side; 2],
    }
}

fn same(a: [f64; 2], b: [f64; 2]) -> bool {
    let both = a.iter().zip(&b);
    both.into_iter().all(|(a, b)| a.approx_eq(*b, POSITION))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{
        DiamondGrid, DiamondStance, Grid, Region, SquareGrid, TriangularGrid, TriangularStance,
    };

    fn classes(rule: CellRule, grid: &Grid) -> Vec<usize> {
        let classes = rule.classes(&grid.cells(), |cell| cell.whole);
        classes.into_iter().flatten().collect()
    }

    fn square(x: &[f64], y: &[f64]) -> Grid {
        Grid::Square(SquareGrid {
            pitches_x: x.to_vec(),
            pitches_y: y.to_vec(),
            overhang: 10.0,
        })
    }

    #[test]
    fn rules_on_squares() {
        let grid = square(&[40.0; 5], &[40.0; 3]);
        assert_eq!(
            classes(CellRule::Border, &grid),
            [0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 0, 0, 0, 0]
        );
        assert_eq!(
            classes(CellRule::Rings, &grid),
            [1, 1, 1, 1, 1, 1, 0, 0, 0, 1, 1, 1, 1, 1, 1]
        );
        assert_eq!(classes(CellRule::Checker, &grid)[..6], [0, 1, 0, 1, 0, 1]);
        let grid = square(&[20.0, 40.0, 20.0], &[40.0, 20.0]);
        assert_eq!(classes(CellRule::BySize, &grid), [1, 2, 1, 0, 1, 0]);
    }

    #[test]
    fn rings_of_a_hexagon_of_triangles() {
        for stance in [TriangularStance::Lying, TriangularStance::Upright] {
            let grid = Grid::Triangular(TriangularGrid {
                side: 40.0,
                stance,
                region: Region::Hexagon { rings: 3 },
                overhang: 10.0,
            });
            // Rings of a hexagon hold 6 (2 r - 1) triangles: 6, 18, 30.
            let rings = classes(CellRule::Rings, &grid);
            let counts = [0, 1, 2].map(|ring| rings.iter().filter(|at| **at == ring).count());
            assert_eq!(counts, [6, 18, 30]);
        }
    }

    #[test]
    fn a_checker_differs_across_every_wall() {
        let rectangle = Region::Rectangle {
            width: 300.0,
            height: 260.0,
        };
        let mut grids = vec![square(&[30.0, 50.0, 20.0], &[40.0; 4])];
        for stance in [TriangularStance::Lying, TriangularStance::Upright] {
            grids.push(Grid::Triangular(TriangularGrid {
                side: 40.0,
                stance,
                region: rectangle.clone(),
                overhang: 10.0,
            }));
        }
        for stance in [DiamondStance::Upright, DiamondStance::OnPoint] {
            grids.push(Grid::Diamond(DiamondGrid {
                pitch: 30.0,
                angle: 1.1,
                stance,
                region: rectangle.clone(),
                overhang: 10.0,
            }));
        }
        for grid in grids {
            let cells = grid.cells();
            let classes = CellRule::Checker.classes(&cells, |_| true);
            let mut pairs = 0;
            for (at, walls) in beyond(&cells).into_iter().enumerate() {
                for other in walls.into_iter().flatten() {
                    assert_ne!(classes[at], classes[other], "{:?}", cells[at]);
                    pairs += 1;
                }
            }
            assert!(pairs > 20);
        }
    }
}
