//! Strips as side profiles, grain along the strip.

use super::super::measured_stock::measured_stock;
use super::super::panel_facts::assembly;
use super::batch::WareBatch;
use super::fitted_notches::{fitted, too_little_wood};
use super::labels::Letters;
use super::side_profile::{ProfileSlot, side_profile, slots, square_cuts, thin_web};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::laser::{SquareCut, Ware};
use crate::instructions::lettering;
use crate::instructions::outline::CutPart;
use crate::lattice::{Lattice, Strip};
use crate::machines::Laser;
use crate::phrase;
use crate::units::{Mm, Rad};

impl WareBatch {
    /// A lattice's strips as parts.
    ///
    /// # Errors
    /// All that keeps them from being cut; fields are those of the laser's profile.
    pub fn strips(lattice: &Lattice, laser: &Laser) -> Result<WareBatch, Vec<Finding>> {
        if let Some(fault) = too_little_wood(lattice, laser) {
            return Err(vec![fault]);
        }
        let mut warnings = Vec::new();
        let thickness = lattice.section.thickness;
        let drawn = lattice
            .strips
            .iter()
            .map(|strip| drawn(lattice, laser, strip));
        let drawn: Vec<Strip> = drawn.collect();
        let strips: Vec<(&Strip, Vec<ProfileSlot>)> = drawn
            .iter()
            .map(|strip| (strip, slots(&strip.notches, thickness)))
            .collect();
        if let Some(fault) = thin_web(lattice, &strips) {
            return Err(vec![fault]);
        }
        let letters = Letters::of(laser);
        let parts: Vec<CutPart> = strips
            .iter()
            .map(|(strip, slots)| part(lattice, strip, slots, &letters))
            .collect();
        if letters.height > 0.0 && parts.iter().any(|part| part.strokes.is_empty()) {
            let text = phrase!(
                "the overhangs have no room for labels {} high; some strips have none",
                Mm(letters.height)
            );
            let hint = "labels are engraved on the overhang, which is trimmed off; the sheet says where strips without one lie";
            warnings.push(
                Finding::warning("no-room-for-label", Letters::field(laser), text).hint(hint),
            );
        }
        let square_cuts = square_cuts(lattice, &strips);
        warnings.extend(square_cuts.iter().map(|cut| cut_square(cut, Ware::Strips)));
        Ok(WareBatch {
            labels: lattice
                .strips
                .iter()
                .map(|strip| lattice.label(strip.id))
                .collect(),
            assembly: assembly(lattice),
            square_cuts,
            fitted: true,
            warnings,
            ..WareBatch::new(
                Ware::Strips,
                Some(thickness),
                measured_stock(lattice),
                parts,
            )
        })
    }
}

/// What is told of slanted notches of strips, or half laps of pieces, that are cut square.
pub(super) fn cut_square(cut: &SquareCut, ware: Ware) -> Finding {
    let text = match ware {
        Ware::Lapped => phrase!(
            "half laps at {} are cut square, {} wide along the piece: {} more than the lap as drawn",
            Rad(cut.angle),
            Mm(cut.slot_mm),
            Mm(cut.gap_mm)
        ),
        _ => phrase!(
            "notches at {} are cut square, {} wide along the strip: {} more than the notch as drawn",
            Rad(cut.angle),
            Mm(cut.slot_mm),
            Mm(cut.gap_mm)
        ),
    };
    Finding::warning("slant-cut-square", "laser", text)
        .hint("the set-up sheet says what stays open; a saw or a router follows the slant")
}

/// A strip with its notches as they are drawn.
fn drawn(lattice: &Lattice, laser: &Laser, strip: &Strip) -> Strip {
    let notches = strip.notches.iter();
    Strip {
        notches: notches.map(|notch| fitted(lattice, laser, notch)).collect(),
        ..strip.clone()
    }
}

fn part(lattice: &Lattice, strip: &Strip, slots: &[ProfileSlot], letters: &Letters) -> CutPart {
    let family = lattice.family_name(strip.id.family);
    CutPart {
        laid_edge: false,
        name: family.to_owned(),
        copy: strip.id.number,
        outer: side_profile(strip.length, lattice.section.depth, slots),
        holes: Vec::new(),
        strokes: label(
            &lattice.label(strip.id),
            strip.length,
            slots,
            lattice.section.depth,
            letters,
        ),
    }
}

/// A strip's label in the middle of its first overhang, which is trimmed off after glue-up;
/// nothing where there is no room.
fn label(
    text: &str,
    length: f64,
    slots: &[ProfileSlot],
    depth: f64,
    letters: &Letters,
) -> Vec<Vec<Point>> {
    let Letters { height, clear, .. } = *letters;
    let overhang = slots
        .iter()
        .map(ProfileSlot::near_edge)
        .fold(length, f64::min);
    let width = lettering::width(text, height);
    let fits = width + 2.0 * clear <= overhang && height + 2.0 * clear <= depth;
    if height <= 0.0 || !fits {
        return Vec::new();
    }
    lettering::strokes(
        text,
        Point::new((overhang - width) / 2.0, (depth - height) / 2.0),
        height,
    )
}
