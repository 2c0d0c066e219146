//! The sections that sticks are needed of.

use super::order::StockOrder;
use crate::geometry::tolerance::POSITION;
use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind};
use crate::machines::StickUse;
use float_cmp::ApproxEq;

/// A section, and the parts that have it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Section {
    /// From 1.
    pub(super) number: usize,
    pub(super) used_for: StickUse,
    /// Whether sticks that the job names for that use have it: of several sections of pieces only that of most.
    pub(super) has_named_sticks: bool,
    /// As [`Need::section_mm`].
    pub(super) size: [f64; 2],
}

impl Section {
    fn has(&self, need: &Need) -> bool {
        let is_member = need.kind == NeedKind::Member;
        let sizes = self.size.iter().zip(need.section_mm);
        (self.used_for == StickUse::Frame) == is_member
            && sizes
                .into_iter()
                .all(|(own, other)| own.approx_eq(other, POSITION))
    }

    /// Edge to edge as it lies in the board, which is as thick as the other figure: strips are ripped by their
    /// thickness, members by their width.
    pub(super) fn ripped_size(&self) -> f64 {
        let [across, _] = self.size;
        across
    }

    /// Of the board it comes off, between its faces once planed.
    pub(super) fn planed_size(&self) -> f64 {
        let [_, deep] = self.size;
        deep
    }

    /// Its area, mm2.
    pub(super) fn area(&self) -> f64 {
        self.ripped_size() * self.planed_size()
    }
}

/// Numbers the sections of all parts that are cut from sticks, in the order of the parts.
pub(super) fn sections(order: &StockOrder<'_>, needs: &mut [Need]) -> Vec<Section> {
    let mut all: Vec<Section> = Vec::new();
    for need in needs.iter_mut().filter(|need| need.from == NeedFrom::Stick) {
        let known = all.iter().find(|section| section.has(need));
        let number = known.map(|section| section.number).unwrap_or_else(|| {
            let number = all.len() + 1;
            all.push(section(order, need, number));
            number
        });
        need.section = Some(number);
    }
    // Test pieces come off sticks that others need.
    for need in needs
        .iter_mut()
        .filter(|need| need.from == NeedFrom::OffCut)
    {
        need.section = all
            .iter()
            .find(|section| section.has(need))
            .map(|section| section.number);
    }
    all
}

fn section(order: &StockOrder<'_>, need: &Need, number: usize) -> Section {
    let strips = &order.lattice.section;
    let is = |[across, deep]: [f64; 2]| {
        let [own_across, own_deep] = need.section_mm;
        own_across.approx_eq(across, POSITION) && own_deep.approx_eq(deep, POSITION)
    };
    let (used_for, has_named_sticks) = match need.kind {
        NeedKind::Member => (StickUse::Frame, true),
        _ if is([strips.thickness, strips.depth]) => (StickUse::Strips, true),
        _ => (StickUse::Pieces, is(order.piece_section)),
    };
    Section {
        number,
        used_for,
        has_named_sticks,
        size: need.section_mm,
    }
}
