//! The steps from a board to sticks, one after the other, each with what goes through it and what comes out.

use super::sections::Section;
use crate::instructions::milling::{Mill, MilledBoard, MillingStep, RippedFrom};
use crate::machines::{StickUse, StockWishes, ThinBy};

/// The wood of one board on its way.
struct Bench<'a> {
    section: &'a Section,
    wishes: &'a StockWishes,
    /// Length, width, thickness as each piece of it lies now.
    now: [f64; 3],
    count: usize,
    steps: Vec<MillingStep>,
}

/// Two figures that are the same but for rounding, mm.
const SAME_MM: f64 = 1e-9;

impl Bench<'_> {
    fn step(&mut self, step: Mill, figure: f64, after: [f64; 3], count: usize) {
        self.steps.push(MillingStep {
            section: self.section.number,
            step,
            figure_mm: figure,
            count,
            before_mm: self.now,
            after_mm: after,
        });
        self.now = after;
        self.count = count;
    }

    fn rest(&mut self) {
        let [length, ..] = self.now;
        self.step(Mill::Rest, length, self.now, self.count);
    }

    /// Planes what lies there to a thickness, on a carrier board where the planer does not take it bare.
    fn plane_to(&mut self, thickness: f64) {
        let [length, width, now] = self.now;
        if now - thickness < SAME_MM {
            return;
        }
        let bare = thickness >= self.wishes.planer.least_thickness.value - SAME_MM;
        let step = if bare {
            Mill::Plane
        } else {
            Mill::PlaneOnCarrier
        };
        self.step(step, thickness, [length, width, thickness], self.count);
    }

    /// Rips pieces of a size off the width; they come to lie on their sawn side, as thick as they were ripped.
    fn rip(&mut self, step: Mill, size: f64, each: usize) {
        let [length, _, thickness] = self.now;
        let count = self.count * each;
        self.step(step, size, [length, thickness, size], count);
    }

    fn cut_ends(&mut self, stick: f64) {
        let [_, width, thickness] = self.now;
        self.step(Mill::CutEnds, stick, [stick, width, thickness], self.count);
    }
}

/// All steps of one board.
pub(super) fn steps(
    section: &Section,
    milled: &MilledBoard,
    wishes: &StockWishes,
) -> Vec<MillingStep> {
    let board = &milled.board;
    let milling = &wishes.milling;
    let ripped = &milled.ripped;
    let mut bench = Bench {
        section,
        wishes,
        now: [board.length_mm, board.width_mm, board.thickness_mm],
        count: 1,
        steps: Vec::new(),
    };
    bench.rest();
    let flat = board.thickness_mm - milling.surfacing.value;
    let straight = board.width_mm - milling.straightening.value;
    bench.step(Mill::Surface, flat, [board.length_mm, straight, flat], 1);
    match ripped.from {
        RippedFrom::Edge | RippedFrom::Members => bench.plane_to(section.planed_size()),
        RippedFrom::Blanks => {
            let rough = ripped.blank_rough_mm.unwrap_or_default();
            bench.rip(Mill::RipBlanks, rough, ripped.blanks);
            bench.rest();
            bench.plane_to(section.planed_size());
        }
    }
    bench.rip(Mill::RipSticks, ripped.rough_mm, ripped.sticks_per_blank);
    bench.rest();
    thin(&mut bench, milling.thin_by);
    bench.cut_ends(milled.stick_mm);
    bench.steps
}

/// From the size as ripped to the finished one.
fn thin(bench: &mut Bench<'_>, by: ThinBy) {
    let size = bench.section.ripped_size();
    let [length, width, now] = bench.now;
    if now - size < SAME_MM {
        return;
    }
    let bare = size >= bench.wishes.planer.least_thickness.value - SAME_MM;
    let step = match (bench.section.used_for, by) {
        (StickUse::Frame, _) => Mill::PlaneEdges,
        (_, ThinBy::CarrierBoard) if bare => Mill::ThinInPlaner,
        (_, ThinBy::CarrierBoard) => Mill::ThinOnCarrier,
        (_, ThinBy::DrumSander) => Mill::ThinInDrumSander,
        (_, ThinBy::HandPlane) => Mill::ThinByHand,
    };
    bench.step(step, size, [length, width, size], bench.count);
}

/// What is left of the panel's depth once its faces are flush.
pub(super) fn flush(section: &Section, wishes: &StockWishes) -> Option<MillingStep> {
    let off = wishes.milling.flushing.value;
    let deep = section.planed_size();
    let before = [0.0, section.ripped_size(), deep];
    (section.used_for == StickUse::Strips && off > 0.0).then(|| MillingStep {
        section: section.number,
        step: Mill::Flush,
        figure_mm: deep - off,
        count: 1,
        before_mm: before,
        after_mm: [0.0, section.ripped_size(), deep - off],
    })
}
