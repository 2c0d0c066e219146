//! The board that a section's sticks come off.

use super::rips::Rip;
use super::sections::Section;
use crate::finding::Finding;
use crate::instructions::milling::{BoardFigures, MilledBoard, RingsLie, Ripped, RippedFrom};
use crate::machines::{Board, RipFrom, StickUse, StockWishes};
use crate::phrase;
use crate::units::{AtLeast, Mm};

/// Thicknesses that boards are sawn to. Common practice, no source, mm.
const SAWN_MM: [f64; 9] = [16.0, 19.0, 25.0, 32.0, 38.0, 50.0, 63.0, 75.0, 100.0];

/// Where blanks are ripped, an example is not thinner: sticks come off its thickness. Common practice, no source, mm.
const LEAST_FOR_BLANKS_MM: f64 = 25.0;

/// Width of a board where nobody says; wider in steps for wide members. Common practice, no source, mm.
const USUAL_WIDTH_MM: f64 = 150.0;
const WIDTH_STEP_MM: f64 = 10.0;

/// Least length of an example, and its steps. Common practice, no source, mm.
const USUAL_LENGTH_MM: f64 = 1000.0;
const LENGTH_STEP_MM: f64 = 100.0;

/// A board with what it is milled by.
#[derive(Debug, Clone, Copy)]
pub(super) struct BoardOrder<'a> {
    pub(super) wishes: &'a StockWishes,
    pub(super) section: &'a Section,
    /// The longest part, mm.
    pub(super) longest: f64,
}

impl BoardOrder<'_> {
    fn board(&self) -> &Board {
        match self.section.used_for {
            StickUse::Frame => &self.wishes.frame_board,
            StickUse::Strips | StickUse::Pieces => &self.wishes.board,
        }
    }

    /// The table of the job.
    pub(super) fn field(&self, key: &str) -> String {
        let table = match self.section.used_for {
            StickUse::Frame => "frame_board",
            StickUse::Strips | StickUse::Pieces => "board",
        };
        format!("stock.{table}.{key}")
    }

    pub(super) fn from(&self) -> RippedFrom {
        match (self.section.used_for, self.wishes.milling.from) {
            (StickUse::Frame, _) => RippedFrom::Members,
            (_, RipFrom::Edge) => RippedFrom::Edge,
            (_, RipFrom::Blanks) => RippedFrom::Blanks,
        }
    }

    /// The thinnest that does.
    fn least_thickness(&self) -> f64 {
        let milling = &self.wishes.milling;
        let planed = match self.from() {
            RippedFrom::Edge | RippedFrom::Members => self.section.planed_size(),
            RippedFrom::Blanks => self.section.ripped_size() + milling.planing.value,
        };
        // The planer makes its faces parallel.
        planed.max(self.wishes.planer.least_thickness.value) + milling.surfacing.value
    }

    /// The shortest that does: for the longest part, and for the machines.
    fn least_length(&self) -> f64 {
        let wishes = self.wishes;
        let ends = 2.0 * wishes.milling.ends.value;
        let part = self.longest + 2.0 * wishes.trim.value + ends;
        let machines = wishes.planer.shortest();
        part.max(machines)
            .max(wishes.milling.least_rip_length.value)
    }

    /// The board as the job has it; what it does not say is chosen so that it does.
    pub(super) fn figures(&self) -> BoardFigures {
        let board = self.board();
        let least = match self.from() {
            RippedFrom::Blanks => self.least_thickness().max(LEAST_FOR_BLANKS_MM),
            RippedFrom::Edge | RippedFrom::Members => self.least_thickness(),
        };
        let mut sawn = SAWN_MM.iter().copied();
        let thickness = sawn.find(|sawn| *sawn >= least).unwrap_or(least.ceil());
        let milling = &self.wishes.milling;
        let one =
            self.section.ripped_size() + milling.surfacing.value + milling.straightening.value;
        let up = |mm: f64, step: f64| (mm / step - 1e-9).ceil() * step;
        let long = up(self.least_length(), LENGTH_STEP_MM).max(USUAL_LENGTH_MM);
        BoardFigures {
            thickness_mm: board.thickness.unwrap_or(thickness),
            width_mm: board
                .width
                .unwrap_or(up(one, WIDTH_STEP_MM).max(USUAL_WIDTH_MM)),
            length_mm: board.length.unwrap_or(long),
            is_own: board.thickness.is_some() && board.width.is_some() && board.length.is_some(),
            sawn: board.sawn.map(crate::machines::Sawn::name),
        }
    }

    /// How a board is ripped that way; nothing where no stick comes of it.
    pub(super) fn ripped(&self, board: &BoardFigures, from: RippedFrom) -> Option<Ripped> {
        let milling = &self.wishes.milling;
        let kerf = milling.kerf.value;
        let width = board.width_mm - milling.straightening.value;
        let thickness = board.thickness_mm - milling.surfacing.value;
        let (size, deep) = (self.section.ripped_size(), self.section.planed_size());
        let planing = match from {
            RippedFrom::Members => milling.surfacing.value,
            RippedFrom::Edge | RippedFrom::Blanks => milling.planing.value,
        };
        let of_width = |width| Rip {
            width,
            size,
            planing,
            kerf,
        };
        let (blanks, rip, blank_rough_mm) = match from {
            RippedFrom::Edge | RippedFrom::Members => {
                let is_thick = thickness >= deep - 1e-9;
                (usize::from(is_thick), of_width(width), None)
            }
            RippedFrom::Blanks => {
                let blanks = Rip {
                    width,
                    size: deep,
                    planing: milling.surfacing.value,
                    kerf,
                };
                (blanks.count(), of_width(thickness), Some(blanks.rough()))
            }
        };
        let each = rip.count();
        let sticks = (blanks * each) as f64;
        let [flat, quarter] = match from {
            RippedFrom::Edge | RippedFrom::Members => {
                [RingsLie::AlongThickness, RingsLie::AcrossThickness]
            }
            RippedFrom::Blanks => [RingsLie::AcrossThickness, RingsLie::AlongThickness],
        };
        (blanks > 0 && each > 0).then(|| Ripped {
            from,
            blanks,
            sticks_per_blank: each,
            from_narrow_rest: rip.off_narrow(milling.least_rip_width.value),
            blank_mm: [rip.width, deep],
            blank_rough_mm,
            rough_mm: rip.rough(),
            step_mm: rip.step(),
            rest_mm: rip.rest(),
            shares: rip.shares(),
            kept_of_board: sticks * self.section.area() / (board.width_mm * board.thickness_mm),
            rings: [flat, quarter],
        })
    }

    /// The board without its number, which follows from the cut plan.
    ///
    /// # Errors
    /// Why no stick comes of it, at the job's fields.
    pub(super) fn milled(&self) -> Result<MilledBoard, Vec<Finding>> {
        let board = self.figures();
        let faults = self.faults(&board);
        let ripped = self.ripped(&board, self.from());
        let Some(ripped) = ripped.filter(|_| faults.is_empty()) else {
            return Err(faults);
        };
        let other = match ripped.from {
            RippedFrom::Edge => Some(RippedFrom::Blanks),
            RippedFrom::Blanks => Some(RippedFrom::Edge),
            RippedFrom::Members => None,
        };
        let own = self.board();
        Ok(MilledBoard {
            board,
            boards: 0,
            at_hand: own.count,
            price_each: own.price,
            price: None,
            volume_m3: 0.0,
            board_feet: 0.0,
            board_feet_hardwood: 0.0,
            ripped,
            otherwise: other.and_then(|other| self.ripped(&board, other)),
            stick_mm: board.length_mm - 2.0 * self.wishes.milling.ends.value,
        })
    }

    fn faults(&self, board: &BoardFigures) -> Vec<Finding> {
        let mut faults = Vec::new();
        let mut short = |key: &'static str, code, has: f64, least: f64, what: &'static str| {
            if has >= least - 1e-9 {
                return;
            }
            let text = phrase!("a board of {} gives no {}", Mm(has), what);
            let hint = phrase!("make it {} or more", AtLeast(least));
            faults.push(Finding::error(code, self.field(key), text).hint(hint));
        };
        let milling = &self.wishes.milling;
        let section = self.section;
        short(
            "thickness",
            "board-too-thin",
            board.thickness_mm,
            self.least_thickness(),
            "sticks as deep as they have to be, or none that the planer takes, once its faces are planed",
        );
        let across = match self.from() {
            RippedFrom::Edge => section.ripped_size() + milling.planing.value,
            RippedFrom::Members => section.ripped_size() + milling.surfacing.value,
            RippedFrom::Blanks => section.planed_size() + milling.surfacing.value,
        };
        short(
            "width",
            "board-too-narrow",
            board.width_mm,
            across + milling.straightening.value,
            "stick across its width",
        );
        short(
            "length",
            "board-too-short",
            board.length_mm,
            self.least_length(),
            "sticks that are long enough for the longest part, for the planer and for the saw, both ends cut off",
        );
        faults
    }
}
