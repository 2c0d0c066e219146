//! Openings that leaves are made for where bays as built differ a little: as few sizes as will do.

use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::lattice::{CellMeasures, GridCell, Panel};

/// Width and height of a clear opening, mm.
pub(super) type Clear = (f64, f64);

/// For each opening the one that its leaf is made for, where leaves of openings that differ by no more
/// than `within` mm are made alike.
///
/// A cell whose two openings are alike takes a square leaf, so that its angles stay those of a square;
/// such cells whose openings all lie within `within` take the same. Of all other cells the columns' and
/// the rows' openings are brought together, each direction by itself. A leaf is made for the middle of its
/// group, so it is too large or too small by no more than half of `within`.
pub(super) fn made_for(openings: &[Clear], within: f64) -> Vec<Clear> {
    let within = within + SAME_POSITION_MM;
    let spans = |open: &Clear| [open.0.min(open.1), open.0.max(open.1)];
    let is_square = |open: &&Clear| {
        let [least, most] = spans(open);
        most - least <= within
    };
    let squares: Vec<[f64; 2]> = openings.iter().filter(is_square).map(spans).collect();
    let others = || openings.iter().filter(|open| !is_square(open));
    let squares = groups(squares, within);
    let columns = groups(others().map(|open| [open.0; 2]).collect(), within);
    let rows = groups(others().map(|open| [open.1; 2]).collect(), within);
    let leaf = |open: &Clear| match is_square(&open) {
        true => {
            let side = middle(&squares, spans(open));
            (side, side)
        }
        false => (middle(&columns, [open.0; 2]), middle(&rows, [open.1; 2])),
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
        let (taken, left): (Vec<[f64; 2]>, _) =
            spans.into_iter().partition(|span| span[1] <= first + within);
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
/// not known as built. `takes`: whether a cell takes a leaf.
pub(super) fn cells_made_for(
    panel: &Panel,
    cells: &[GridCell],
    takes: impl Fn(usize) -> bool,
) -> Vec<GridCell> {
    let mut made = cells.to_vec();
    let Some(as_built) = panel.known_as_built() else {
        return made;
    };
    let thickness = panel.design().strip.thickness;
    let mut places = Vec::new();
    let mut openings = Vec::new();
    for (at, cell) in cells.iter().enumerate().filter(|(at, _)| takes(*at)) {
        if let CellMeasures::Rectangle { width, height } = cell.measures {
            places.push(at);
            openings.push((width - thickness, height - thickness));
        }
    }
    for (at, (wide, high)) in places.into_iter().zip(made_for(&openings, as_built.same_within)) {
        if let Some(cell) = made.get_mut(at) {
            *cell = resized(cell, wide + thickness, high + thickness);
        }
    }
    made
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

    #[test]
    fn sizes_by_hand() {
        // 35.40, 35.46 and 35.50 lie within 0.1, and 35.62 does not: middles 35.45 and 35.62.
        let open = [35.40, 35.46, 35.50, 35.62].map(|side| (side, side));
        let found = made_for(&open, 0.1);
        for (found, wanted) in found.iter().zip([35.45, 35.45, 35.45, 35.62]) {
            assert!((found.0 - wanted).abs() < 1e-9 && (found.1 - wanted).abs() < 1e-9);
        }
        // Not a square: its own width, its own height.
        assert_eq!(made_for(&[(35.9, 35.4)], 0.1), [(35.9, 35.4)]);
        // Just within, however 35.62 - 35.52 is rounded.
        let (wide, high) = made_for(&[(35.62, 35.52)], 0.1)[0];
        assert!((wide - 35.57).abs() < 1e-9 && (high - 35.57).abs() < 1e-9);
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
            open in prop::collection::vec((35.0..36.0_f64, 35.0..36.0_f64), 1..60),
            within in 0.0..0.5_f64,
        ) {
            for (open, leaf) in open.iter().zip(made_for(&open, within)) {
                let most = within / 2.0 + 1e-6;
                prop_assert!((open.0 - leaf.0).abs() <= most && (open.1 - leaf.1).abs() <= most);
                let alike = (open.0 - open.1).abs() <= within;
                #[allow(clippy::float_cmp)]
                let square = leaf.0 == leaf.1;
                prop_assert!(!alike || square);
            }
        }
    }
}
