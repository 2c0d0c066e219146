//! All that is made of wood.

use super::members::members;
use super::order::StockOrder;
use super::part::need;
use super::pieces::{guide_parts, pieces};
use crate::geometry::tolerance::POSITION;
use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind};
use crate::machines::SpareShares;
use float_cmp::ApproxEq;

/// The parts in the order in which they are told; sections are not numbered yet.
pub(super) fn needs(order: &StockOrder<'_>) -> Vec<Need> {
    let mut all = strips(order);
    if let Some(pare) = order.pare {
        all.extend(pieces(order, pare));
    }
    all.extend(members(order));
    if let Some(pare) = order.pare {
        all.extend(guide_parts(order, pare));
    }
    all.extend(tests(order));
    all
}

/// Strips by family and length, as they are notched: overhangs included, one that rides along as long as its
/// bundle. None where they are cut already.
fn strips(order: &StockOrder<'_>) -> Vec<Need> {
    let lattice = order.lattice;
    if lattice.strips_are_cut {
        return Vec::new();
    }
    let section = [lattice.section.thickness, lattice.section.depth];
    let mut kinds: Vec<Need> = Vec::new();
    let by_bundle = lattice.bundles.iter();
    let all = by_bundle.flat_map(|bundle| bundle.strips.iter().map(|id| (id, bundle.length)));
    for (id, length) in all {
        let name = lattice.family_name(id.family);
        let is_same =
            |kind: &&mut Need| kind.what == name && kind.length_mm.approx_eq(length, POSITION);
        match kinds.iter_mut().find(is_same) {
            Some(kind) => kind.count += 1,
            None => kinds.push(need(
                (name.to_owned(), NeedKind::Strip),
                section,
                (length, 1),
                order.strips_from,
            )),
        }
    }
    for kind in &mut kinds {
        kind.spare = SpareShares::of(order.wishes.spares.strips, kind.count);
    }
    kinds
}

/// They come from what sticks leave.
fn tests(order: &StockOrder<'_>) -> Vec<Need> {
    let section = &order.lattice.section;
    let section = [section.thickness, section.depth];
    let all = order.tests.iter().map(|test| {
        need(
            (test.what.clone(), NeedKind::TestPiece),
            section,
            (test.length, test.count),
            NeedFrom::OffCut,
        )
    });
    all.collect()
}
