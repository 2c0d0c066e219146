//! A comb of slots in steps, to find the one that fits: what comes of kerf, wood and taste
//! together, found by trying.

use super::super::measured_stock::measured_stock;
use super::batch::WareBatch;
use super::labels::{Letters, check_label, check_line, fitting, letter_height, upward};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::laser::Ware;
use crate::instructions::outline::CutPart;
use crate::lattice::{Lattice, Notch};
use crate::machines::Laser;
use crate::phrase;
use crate::units::{Mm, decimal};

/// Widest and narrowest slot against the strip's thickness, mm. Common practice, no source.
const REACH_MM: f64 = 0.2;

/// From slot to slot, mm.
const STEP_MM: f64 = 0.05;

/// Width of the comb's teeth, mm.
const TOOTH_MM: f64 = 8.0;

/// Wood beside the first and the last slot, mm.
const SIDE_MM: f64 = 12.0;

/// Height of the comb above its slots, mm.
const BACK_MM: f64 = 24.0;

/// What the check line takes of that, mm.
const LINE_MM: f64 = 8.0;

impl WareBatch {
    /// The comb as a part: its slots as wide as their labels say, whatever slot fitted before.
    ///
    /// # Errors
    /// All that keeps it from being cut; fields are those of the laser's profile.
    pub fn comb(
        lattice: &Lattice,
        widths: Option<&[f64]>,
        laser: &Laser,
    ) -> Result<WareBatch, Vec<Finding>> {
        let thickness = lattice.section.thickness;
        let widths = widths.map_or_else(|| steps(thickness), <[f64]>::to_vec);
        for width in &widths {
            if *width <= laser.kerf {
                let text = phrase!(
                    "a slot {} wide is no wider than the kerf of {}",
                    Mm(*width),
                    Mm(laser.kerf)
                );
                return Err(vec![Finding::error("slot-too-narrow", "laser.kerf", text)]);
            }
        }
        let notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
        let depth = notches.map(|notch: &Notch| notch.depth).fold(0.0, f64::max);
        let part = comb(&widths, depth, laser)?;
        Ok(WareBatch::new(
            Ware::Comb,
            Some(thickness),
            measured_stock(lattice),
            vec![part],
        ))
    }
}

fn steps(thickness: f64) -> Vec<f64> {
    let each_way = (REACH_MM / STEP_MM).round();
    #[allow(clippy::cast_possible_truncation)] // 4
    let each_way = each_way as i32;
    (-each_way..=each_way)
        .map(|step| thickness + f64::from(step) * STEP_MM)
        .collect()
}

fn comb(widths: &[f64], depth: f64, laser: &Laser) -> Result<CutPart, Vec<Finding>> {
    let p = Point::new;
    let labels: Vec<String> = widths.iter().map(|width| width_label(*width)).collect();
    let clear = Letters::of(laser).clear;
    let room = BACK_MM - LINE_MM - clear;
    let mut fits = TOOTH_MM;
    for label in &labels {
        fits = fitting(label, room, fits);
    }
    let height = letter_height(laser, fits, "combs")?;
    let mut ring = vec![p(0.0, 0.0)];
    let mut strokes = Vec::new();
    let mut at = SIDE_MM;
    for (width, label) in widths.iter().zip(&labels) {
        let far = at + width;
        ring.extend([p(at, 0.0), p(at, depth), p(far, depth), p(far, 0.0)]);
        let foot = depth + clear;
        strokes.extend(upward(label, f64::midpoint(at, far), foot, height));
        at = far + TOOTH_MM;
    }
    let length = (at - TOOTH_MM + SIDE_MM).max(60.0);
    let top = depth + BACK_MM;
    ring.extend([p(length, 0.0), p(length, top), p(0.0, top)]);
    let line = p(3.0, top - 5.5);
    strokes.push(check_line(line));
    strokes.extend(check_label(line, height));
    Ok(CutPart {
        name: "comb".into(),
        copy: 1,
        outer: ring,
        holes: Vec::new(),
        strokes,
        laid_edge: true,
    })
}

/// Two decimals, or three where two would not tell the truth.
fn width_label(width: f64) -> String {
    let text = decimal(width, 3).unwrap_or_default();
    text.strip_suffix('0').map_or(text.clone(), str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn nine_slots_about_the_thickness() {
        let widths = steps(3.0);
        assert_eq!(widths.len(), 9);
        assert!(
            approx_eq!(f64, widths[0], 2.8, epsilon = 1e-12)
                && approx_eq!(f64, widths[8], 3.2, epsilon = 1e-12)
        );
        let labels: Vec<String> = widths.iter().map(|width| width_label(*width)).collect();
        assert_eq!((&*labels[1], &*labels[4]), ("2.85", "3.00"));
        assert_eq!(width_label(3.175), "3.175");
    }
}
