//! Openings of cells, and those that leaves are made for where bays as built differ a little: as few sizes as
//! will do.

use super::cell::Cell;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::lattice::{CellMeasures, GridCell, Panel};

/// Farther out of square than this no square leaf is made for a cell, however its figure needs one. Common
/// practice, no source, mm.
const MOST_OUT_OF_SQUARE_MM: f64 = 1.0;

/// A cell's clear opening as built.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Clear {
    /// Width and height, mm.
    sides: [f64; 2],
    /// Whether its figure needs a square.
    needs_square: bool,
}

impl Clear {
    /// The span of what its sides are.
    fn span(&self) -> [f64; 2] {
        let [wide, high] = self.sides;
        [wide.min(high), wide.max(high)]
    }

    /// What a square leaf for it has to be near to: its sides where these are alike, else their middle.
    /// Nothing where it takes a leaf as long and as wide as it is.
    fn square(&self, within: f64) -> Option<[f64; 2]> {
        let [least, most] = self.span();
        let middle = f64::midpoint(least, most);
        if most - least <= within {
            Some([least, most])
        } else if self.needs_square && most - least <= MOST_OUT_OF_SQUARE_MM {
            Some([middle; 2])
        } else {
            None
        }
    }
}

/// For each opening the width and the height that its leaf is made for, where leaves of openings that
/// differ by no more than `within` mm are made alike.
///
/// A cell whose two sides are alike takes a square leaf, so that its angles stay those of a square; such
/// cells whose sides all lie within `within` take the same. A cell that is farther out of square takes one
/// for the middle of its sides where its figure needs a square. Of all other cells the columns' and the
/// rows' openings are brought together, each direction by itself. A leaf is made for the middle of its
/// group, so it is too large or too small by no more than half of `within`, and half of what a cell is out
/// of square where that is more than `within`.
fn made_for(openings: &[Clear], within: f64) -> Vec<[f64; 2]> {
    let within = within + SAME_POSITION_MM;
    let squares = openings.iter().filter_map(|open| open.square(within));
    let squares = groups(squares.collect(), within);
    let others = || openings.iter().filter(|open| open.square(within).is_none());
    let along = |way: fn(&Clear) -> f64| {
        let sides = others().map(|open| [way(open); 2]);
        groups(sides.collect(), within)
    };
    let columns = along(|open| open.sides[0]);
    let rows = along(|open| open.sides[1]);
    let leaf = |open: &Clear| match open.square(within) {
        Some(span) => [middle(&squares, span); 2],
        None => {
            let [wide, high] = open.sides;
            [middle(&columns, [wide; 2]), middle(&rows, [high; 2])]
        }
    };
    openings.iter().map(leaf).collect()
}

/// Spans in the fewest groups none of which reaches over more than `within`; what each reaches over, rising.
///
/// In the order of their lower ends: the first begins a group and takes all that end no farther than
/// `within` above it. This is the fewest there can be: the spans that begin groups lie so that no group
/// holds two of them, since each of them ends beyond `within` of where the one before begins.
fn groups(mut spans: Vec<[f64; 2]>, within: f64) -> Vec<[f64; 2]> {
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut groups: Vec<[f64; 2]> = Vec::new();
    while let Some([first, _]) = spans.first().copied() {
        let (taken, left): (Vec<[f64; 2]>, _) = spans
            .into_iter()
            .partition(|span| span[1] <= first + within);
        let most = taken.iter().map(|span| span[1]).fold(first, f64::max);
        groups.push([first, most]);
        spans = left;
    }
    groups
}

/// The middle of the first group that holds a span.
fn middle(groups: &[[f64; 2]], span: [f64; 2]) -> f64 {
    let holds = |group: &&[f64; 2]| group[0] <= span[0] && span[1] <= group[1];
    let group = groups.iter().find(holds).copied().unwrap_or(span);
    f64::midpoint(group[0], group[1])
}

/// The cells as leaves are made for them, each about the middle of its own; as they are where the panel is
/// not known as built. `needs_square`: whether a cell's figure needs a square; nothing where it takes none.
pub(super) fn cells_made_for(
    panel: &Panel,
    cells: &[GridCell],
    needs_square: impl Fn(usize) -> Option<bool>,
) -> Vec<GridCell> {
    let mut made = cells.to_vec();
    let Some(as_built) = panel.known_as_built() else {
        return made;
    };
    let thickness = panel.design().strip.thickness;
    let mut places = Vec::new();
    let mut openings = Vec::new();
    for (at, cell) in cells.iter().enumerate() {
        let needs_square = needs_square(at);
        if let (CellMeasures::Rectangle { width, height }, Some(needs_square)) =
            (cell.measures, needs_square)
        {
            places.push(at);
            openings.push(Clear {
                sides: [width - thickness, height - thickness],
                needs_square,
            });
        }
    }
    let leaves = made_for(&openings, as_built.same_within);
    for (at, [wide, high]) in places.into_iter().zip(leaves) {
        if let Some(cell) = made.get_mut(at) {
            *cell = resized(cell, wide + thickness, high + thickness);
        }
    }
    made
}

/// A cell's clear opening as it lies, its first corner at the origin, its first wall along x.
pub(super) fn clear_opening(cell: &GridCell, thickness: f64) -> Option<Cell> {
    match cell.measures {
        CellMeasures::Rectangle { width, height } => {
            Cell::rectangle(width - thickness, height - thickness)
        }
        CellMeasures::Rhomb { pitch, angle } => Cell::rhomb_of_grid(pitch, angle, thickness),
        CellMeasures::Triangle { side } => Cell::triangle_of_grid(side, thickness),
    }
}

/// A rectangular cell of another size about the same middle.
fn resized(cell: &GridCell, width: f64, height: f64) -> GridCell {
    let (low, high) = bounds(cell.corners.iter().copied()).unwrap_or_default();
    let middle = low + low.to(high) * 0.5;
    let corner = |p: &Point| {
        let from = middle.to(*p);
        middle + Vector::new(from.x.signum() * width, from.y.signum() * height) * 0.5
    };
    GridCell {
        corners: cell.corners.iter().map(corner).collect(),
        measures: CellMeasures::Rectangle { width, height },
        ..cell.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn clear(wide: f64, high: f64, needs_square: bool) -> Clear {
        Clear {
            sides: [wide, high],
            needs_square,
        }
    }

    #[track_caller]
    fn near(found: &[[f64; 2]], wanted: &[[f64; 2]]) {
        assert_eq!(found.len(), wanted.len());
        for (found, wanted) in found.iter().flatten().zip(wanted.iter().flatten()) {
            assert!((found - wanted).abs() < 1e-9, "{found} for {wanted}");
        }
    }

    #[test]
    fn sizes_by_hand() {
        // 35.40, 35.46 and 35.50 lie within 0.1, and 35.62 does not: middles 35.45 and 35.62.
        let open = [35.40, 35.46, 35.50, 35.62].map(|side| clear(side, side, true));
        let wanted = [35.45, 35.45, 35.45, 35.62].map(|side| [side; 2]);
        near(&made_for(&open, 0.1), &wanted);
        // Just within, however 35.62 - 35.52 is rounded.
        near(&made_for(&[clear(35.62, 35.52, false)], 0.1), &[[35.57; 2]]);
    }

    #[test]
    fn a_cell_out_of_square_has_a_square_leaf_only_where_its_figure_needs_one() {
        near(&made_for(&[clear(35.9, 35.4, false)], 0.1), &[[35.9, 35.4]]);
        near(&made_for(&[clear(35.9, 35.4, true)], 0.1), &[[35.65; 2]]);
        // By more than 1 mm.
        near(&made_for(&[clear(36.6, 35.4, true)], 0.1), &[[36.6, 35.4]]);
        // It does not pull the others away: 35.65 is not within 0.1 of 35.4.
        let open = [clear(35.4, 35.4, true), clear(35.9, 35.4, true)];
        near(&made_for(&open, 0.1), &[[35.4; 2], [35.65; 2]]);
    }

    /// The fewest groups of spans of which none reaches over more than `within`: all ways to part them.
    fn fewest(spans: &[[f64; 2]], within: f64) -> usize {
        fn best(left: &[[f64; 2]], groups: &mut Vec<[f64; 2]>, within: f64, least: &mut usize) {
            if groups.len() >= *least {
                return;
            }
            let Some((span, rest)) = left.split_first() else {
                *least = groups.len();
                return;
            };
            for at in 0..groups.len() {
                let known = groups[at];
                let joined = [known[0].min(span[0]), known[1].max(span[1])];
                if joined[1] - joined[0] <= within {
                    groups[at] = joined;
                    best(rest, groups, within, least);
                    groups[at] = known;
                }
            }
            groups.push(*span);
            best(rest, groups, within, least);
            groups.pop();
        }
        let mut least = usize::MAX;
        best(spans, &mut Vec::new(), within, &mut least);
        least
    }

    proptest! {
        #[test]
        fn no_way_to_part_them_has_fewer(
            spans in prop::collection::vec((0.0..0.5_f64, 0.0..0.1_f64), 1..9)
        ) {
            let spans: Vec<[f64; 2]> = spans.iter().map(|(low, long)| [*low, low + long]).collect();
            prop_assert_eq!(groups(spans.clone(), 0.1).len(), fewest(&spans, 0.1));
        }

        #[test]
        fn every_leaf_is_near_its_opening(
            open in prop::collection::vec((35.0..36.0_f64, 35.0..36.0_f64, any::<bool>()), 1..60),
            within in 0.0..0.5_f64,
        ) {
            let open: Vec<Clear> = open.into_iter().map(|(w, h, square)| clear(w, h, square)).collect();
            for (open, leaf) in open.iter().zip(made_for(&open, within)) {
                let [least, most] = open.span();
                let out = most - least;
                let alike = out <= within;
                let square = alike || open.needs_square;
                let unavoidable = if square && !alike { out / 2.0 } else { 0.0 };
                for (side, made) in open.sides.iter().zip(leaf) {
                    prop_assert!((side - made).abs() <= unavoidable + within / 2.0 + 1e-6);
                }
                #[allow(clippy::float_cmp)]
                let is_square = leaf[0] == leaf[1];
                prop_assert!(!square || is_square);
            }
        }
    }
}
