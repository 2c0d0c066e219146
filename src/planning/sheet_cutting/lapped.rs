//! Blanks of pieces with half laps, as side profiles, grain along the piece, from sheet as thick as
//! the strips.
//!
//! One part cannot carry both: facets are cut as they are seen from the front, in sheet as thick as
//! the piece is deep; half laps as they are seen from the side, in sheet as thick as the piece is
//! wide. So the laps are cut from sheet and the ends, still square, are pared after that.

use super::super::measured_stock::stock_of;
use super::batch::WareBatch;
use super::labels::{Letters, SMALLEST_MM, fitting};
use super::pieces::whole_thickness;
use super::side_profile::{ProfileSlot, SlantedLap, merged, side_profile, slant, web};
use super::strips::cut_square;
use super::turned_over::{TurnedOver, turned_over};
use crate::finding::{Document, Finding};
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::infill::{Infilling, PieceStock};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::laser::{BlankSlot, LappedBlank, SquareCut, Ware};
use crate::instructions::lettering;
use crate::instructions::outline::CutPart;
use crate::instructions::pare::{LapFigures, ParePlan, PieceFigures};
use crate::lattice::Panel;
use crate::machines::Laser;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;
use std::f64::consts::PI;

impl WareBatch {
    /// Those of a panel's pieces that lap each other, as blanks of their rough length: half of what
    /// is pared away stands at either end.
    ///
    /// # Errors
    /// Where no pieces lap each other, and where too little wood stays beside laps cut square.
    pub fn lapped(
        panel: &Panel,
        filled: &Infilling,
        pare: &ParePlan,
        laser: &Laser,
    ) -> Result<WareBatch, Vec<Finding>> {
        let stock = |piece: &PieceFigures| {
            let kind = piece
                .number
                .checked_sub(1)
                .and_then(|at| filled.kinds.get(at));
            kind.map_or(filled.most_stock, |kind| kind.stock)
        };
        let thickness = filled.most_stock.thickness;
        let on_sheet =
            |piece: &&PieceFigures| stock(piece).thickness.approx_eq(thickness, POSITION);
        let made = |piece: &&PieceFigures| piece.made > 0 && !piece.laps.is_empty();
        let others = pare
            .pieces
            .iter()
            .filter(made)
            .filter(|piece| !on_sheet(piece));
        let others = others.map(|piece| not_on_sheet(piece, stock(piece).thickness, thickness));
        let others: Vec<Finding> = others.collect();
        let blanks = pare.pieces.iter().filter(made).filter(on_sheet);
        let blanks: Vec<Blank> = blanks
            .map(|piece| Blank::of(piece, (stock(piece), panel.design().strip.least_web), laser))
            .collect();
        if blanks.is_empty() {
            return Err(vec![no_laps()]);
        }
        let faults: Vec<Finding> = blanks.iter().filter_map(Blank::thin_web).collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        let letters = Letters::of(laser);
        let parts: Vec<CutPart> = blanks
            .iter()
            .flat_map(|blank| blank.parts(&letters))
            .collect();
        let labels = blanks.iter();
        let labels = labels.flat_map(|blank| vec![blank.label(); blank.piece.made]);
        let square_cuts = square_cuts(&blanks);
        let mut warnings = Vec::from_iter(no_room(&parts, &letters, laser));
        warnings.extend(others);
        warnings.extend(square_cuts.iter().map(|cut| cut_square(cut, Ware::Lapped)));
        let told = |blank: &Blank| blank.told(turned_over(filled, blank.piece.number));
        Ok(WareBatch {
            labels: labels.collect(),
            square_cuts,
            fitted: true,
            warnings,
            lapped: blanks.iter().map(told).collect(),
            ..WareBatch::new(Ware::Lapped, Some(thickness), stock_of(panel), parts)
        })
    }
}

/// A piece's blank: x from its square end A, y from the back face (0) to the front face.
struct Blank<'a> {
    piece: &'a PieceFigures,
    section: PieceStock,
    /// Least wood beside a lap, mm.
    least_web: f64,
    /// What either end is longer than the piece's point there, mm.
    rough: f64,
    /// The laps as they are drawn, and the slots that are cut for them, in order from end A.
    slots: Vec<(SlantedLap, ProfileSlot)>,
}

impl<'a> Blank<'a> {
    fn of(piece: &'a PieceFigures, (section, least_web): (PieceStock, f64), laser: &Laser) -> Self {
        let rough = (piece.rough_length_mm - piece.length_over_points_mm) / 2.0;
        let wider = laser
            .fit
            .map_or(0.0, |fit| fit.slot - fit.strip - section.clearance);
        let slot = |lap: &LapFigures| {
            let lap = SlantedLap {
                centre: rough + lap.centre_mm,
                width: lap.width_mm + wider / lap.angle.sin(),
                depth: lap.depth_mm,
                angle: lap.angle,
                face: lap.face,
            };
            (lap, ProfileSlot::alone(lap, section.thickness))
        };
        Blank {
            piece,
            section,
            least_web,
            rough,
            slots: piece.laps.iter().map(slot).collect(),
        }
    }

    fn label(&self) -> String {
        format!("{}{}", self.piece.number, EndLetter::A.name())
    }

    /// Where along the blank the finished piece has both its long sides.
    fn whole_thickness(&self) -> [f64; 2] {
        let corners = self.piece.outline_mm.iter();
        let outline: Vec<Point> = corners.map(|[x, y]| Point::new(*x, *y)).collect();
        whole_thickness(&outline, self.section.thickness).map(|x| self.rough + x)
    }

    fn parts(&self, letters: &Letters) -> Vec<CutPart> {
        let laps: Vec<SlantedLap> = self.slots.iter().map(|(lap, _)| *lap).collect();
        let slots = merged(&laps, self.section.thickness);
        let copy = |copy| CutPart {
            name: format!("blank {} {}", self.piece.number, self.piece.name),
            copy,
            outer: side_profile(self.piece.rough_length_mm, self.section.depth, &slots),
            holes: Vec::new(),
            strokes: self.strokes(letters),
            laid_edge: false,
        };
        (1..=self.piece.made).map(copy).collect()
    }

    /// The label between end A's facets and the first slot, where it stays when the end is pared;
    /// nothing where there is no room.
    fn strokes(&self, letters: &Letters) -> Vec<Vec<Point>> {
        let [from, _] = self.whole_thickness();
        let to = self
            .slots
            .first()
            .map_or(from, |(_, slot)| slot.near_edge());
        let room = to - from - 2.0 * letters.clear;
        let height = letters.height.min(self.section.depth - 2.0 * letters.clear);
        if height <= 0.0 || room <= 0.0 {
            return Vec::new();
        }
        let text = self.label();
        let height = fitting(&text, room, height);
        if height < letters.least.max(SMALLEST_MM) {
            return Vec::new();
        }
        let corner = Point::new(
            (from + to - lettering::width(&text, height)) / 2.0,
            (self.section.depth - height) / 2.0,
        );
        lettering::strokes(&text, corner, height)
    }

    /// The least wood that slots which are wider than their laps leave in the finished piece, if
    /// that is too little.
    fn thin_web(&self) -> Option<Finding> {
        let mut webs = Vec::new();
        for ((one, slot), (other, next)) in self.slots.iter().zip(self.slots.iter().skip(1)) {
            // Laps at one place are layers of one node.
            if (other.centre - one.centre).abs() < SAME_POSITION_MM {
                continue;
            }
            if self.is_widened(one, slot) || self.is_widened(other, next) {
                let between = phrase!("between two half laps");
                webs.push((web(slot, next, self.section.depth), between));
            }
        }
        let [from, to] = self.whole_thickness();
        for (lap, slot) in self
            .slots
            .iter()
            .filter(|(lap, slot)| self.is_widened(lap, slot))
        {
            let far_edge = 2.0 * lap.centre - slot.near_edge();
            for (wood, end) in [
                (slot.near_edge() - from, EndLetter::A),
                (to - far_edge, EndLetter::B),
            ] {
                let between = phrase!("between a half lap and the facets of end {}", end.name());
                webs.push((wood, between));
            }
        }
        let least = self.least_web;
        let thinnest = webs.into_iter().min_by(|(a, _), (b, _)| a.total_cmp(b));
        let (wood, between) = thinnest.filter(|(wood, _)| *wood < least - SAME_POSITION_MM)?;
        Some(self.too_thin(wood, &between))
    }

    /// Whether a slot is wider than the lap as the job draws it.
    fn is_widened(&self, lap: &SlantedLap, slot: &ProfileSlot) -> bool {
        let drawn = self
            .piece
            .laps
            .iter()
            .find(|own| (self.rough + own.centre_mm).approx_eq(lap.centre, POSITION));
        drawn.is_some_and(|drawn| slot.width() > drawn.width_mm + SAME_POSITION_MM)
    }

    fn too_thin(&self, wood: f64, between: &Phrase) -> Finding {
        let mut text = phrase!(
            "the blank of the {} keeps {} ",
            self.piece.name.as_str(),
            Mm(wood.max(0.0))
        );
        text.append(between.clone());
        text.append(phrase!(
            ", which is cut square; at least {} must stay",
            Mm(self.least_web)
        ));
        Finding::error("square-cut-web-too-thin", "laser", text)
            .hint("saw these laps, which follows the slant: `lapwright pare JOB` has their figures")
    }

    /// What the sheet tells of it.
    fn told(&self, turned: TurnedOver) -> LappedBlank {
        let slot = |((lap, slot), figures): (&(SlantedLap, ProfileSlot), &LapFigures)| BlankSlot {
            mate: figures.mate.clone(),
            centre_mm: lap.centre,
            slot_mm: slot.width(),
            depth_mm: lap.depth,
            face: lap.face,
        };
        LappedBlank {
            number: self.piece.number,
            name: self.piece.name.clone(),
            label: self.label(),
            count: self.piece.made,
            length_mm: self.piece.rough_length_mm,
            rough_end_mm: self.rough,
            slots: self.slots.iter().zip(&self.piece.laps).map(slot).collect(),
            turned_over: turned.count,
            turned_names: turned.names,
            as_drawn_names: turned.as_drawn,
        }
    }
}

fn not_on_sheet(piece: &PieceFigures, thick: f64, sheet: f64) -> Finding {
    let text = phrase!(
        "the {} is {} thick and no part of a sheet {} thick: its blank is not drawn",
        piece.name.as_str(),
        Mm(thick),
        Mm(sheet)
    );
    Finding::warning("piece-not-on-sheet", "laser", text).hint("saw its half laps")
}

/// What cutting slanted laps square leaves open, angle by angle.
fn square_cuts(blanks: &[Blank]) -> Vec<SquareCut> {
    let mut found: Vec<SquareCut> = Vec::new();
    for blank in blanks {
        for (lap, slot) in &blank.slots {
            let cut = SquareCut {
                angle: lap.angle.min(PI - lap.angle),
                notch_mm: lap.width,
                slot_mm: slot.width(),
                gap_mm: slant(lap.angle, blank.section.thickness),
                floor_gap_mm: 0.0,
            };
            if cut.gap_mm > SAME_POSITION_MM && !found.iter().any(|known| known.is_like(&cut)) {
                found.push(cut);
            }
        }
    }
    found
}

fn no_laps() -> Finding {
    let text = "no pieces of this pattern lap each other: there are no laps to cut in blanks";
    Finding::error("nothing-to-cut", "infill.pattern", text)
        .in_document(Document::Job)
        .hint("their outlines are drawn by `lapwright outline JOB --what pieces -o pieces.dxf`")
}

/// Where letters are asked for and some blanks have no room for them.
fn no_room(parts: &[CutPart], letters: &Letters, laser: &Laser) -> Option<Finding> {
    let bare = parts.iter().filter(|part| part.strokes.is_empty()).count();
    (letters.height > 0.0 && bare > 0).then(|| {
        let text = phrase!(
            "{} of {} lapped blanks have no room for a label that can be read",
            bare,
            parts.len()
        );
        Finding::warning("no-room-for-label", Letters::field(laser), text)
            .hint("the sheet says where they lie")
    })
}
