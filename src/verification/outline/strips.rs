//! The side profiles that a lattice's strips must have, from where its strips lie.
//!
//! A beam cuts square to a strip's side. So a slot must be as long as its mate's slanted prism is
//! over the strip's whole thickness: from the first to the last of the four corners in which the
//! sides of the strip meet those of the mate's room, wherever the crossing's angle puts them.

use super::wanted_part::{WantedPart, alike_together};
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::lattice::{Face, Lattice, Notch, NotchMate, Strip, StripId};
use crate::machines::Fit;
use float_cmp::ApproxEq;
use std::collections::HashMap;

/// A slot of a profile: from where to where along the strip, and how deep.
#[derive(Clone, Copy)]
pub(super) struct ProfileSlot {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) depth: f64,
}

/// The strips of a lattice as side profiles: x from the datum end, y from the back face (0) to the
/// front face. Strips whose profiles are the same are counted together. With a fit, a mate has as
/// much room in its slot as the strip had in the slot that was tried.
pub fn strips_wanted(lattice: &Lattice, fit: Option<Fit>) -> Vec<WantedPart> {
    let clearance = fit.map_or(lattice.section.clearance, |fit| fit.slot - fit.strip);
    let by_id: HashMap<StripId, &Strip> = lattice.strips.iter().map(|s| (s.id, s)).collect();
    alike_together(lattice.strips.iter().map(|strip| {
        let name = format!("strips like {}", lattice.label(strip.id));
        WantedPart::plain(name, profile(lattice, clearance, strip, &by_id), 1)
    }))
}

/// A strip's ring: its back, and its front the way home.
fn profile(
    lattice: &Lattice,
    clearance: f64,
    strip: &Strip,
    by_id: &HashMap<StripId, &Strip>,
) -> Vec<Point> {
    let depth = lattice.section.depth;
    let length = strip.start.to(strip.end).length();
    let thickness = lattice.section.thickness;
    let mut back = Vec::new();
    let mut front = Vec::new();
    for notch in &strip.notches {
        let found = match notch.mate {
            NotchMate::Strip(id) => {
                let mate = by_id.get(&id);
                mate.and_then(|mate| room(thickness, clearance, strip, mate))
            }
            NotchMate::Piece => {
                let wider = clearance - lattice.section.clearance;
                Some(room_of_piece(thickness, wider, notch))
            }
        };
        let Some([from, to]) = found else {
            continue;
        };
        let depth = notch.depth;
        let slot = ProfileSlot { from, to, depth };
        match notch.face {
            Face::Back => back.push(slot),
            Face::Front => front.push(slot),
        }
    }
    let mut ring = skyline(&back, length);
    let front = skyline(&front, length).into_iter().rev();
    ring.extend(front.map(|p| Point::new(p.x, depth - p.y)));
    ring
}

/// From where to where along a strip a piece runs over it that has `wider` more room than is drawn.
fn room_of_piece(thickness: f64, wider: f64, notch: &Notch) -> [f64; 2] {
    let (sine, cosine) = notch.angle.sin_cos();
    let half = (notch.width + wider / sine) / 2.0 + thickness / 2.0 * (cosine / sine).abs();
    [notch.centre - half, notch.centre + half]
}

/// From where to where along a strip its mate, with the clearance on both its sides, lies within
/// the strip's thickness.
fn room(thickness: f64, clearance: f64, strip: &Strip, mate: &Strip) -> Option<[f64; 2]> {
    let along = strip.start.to(strip.end).unit()?;
    let across = mate.start.to(mate.end).unit()?;
    let half_room = (thickness + clearance) / 2.0;
    let mut ends = [f64::INFINITY, f64::NEG_INFINITY];
    for side in [-0.5, 0.5] {
        for edge in [-half_room, half_room] {
            // From the strip's datum end: u along + side t left = to mate + v across + edge left'.
            let to = strip.start.to(mate.start)
                + left_of(across) * edge
                + left_of(along) * (-side * thickness);
            let u = to.cross(across) / along.cross(across);
            ends = [ends[0].min(u), ends[1].max(u)];
        }
    }
    ends.iter().all(|end| end.is_finite()).then_some(ends)
}

/// A quarter turn to the left.
fn left_of(way: Vector) -> Vector {
    Vector::new(-way.y, way.x)
}

/// The line from (0, 0) to (length, 0) that goes down into every slot, to the deepest where
/// several lie over each other.
pub(super) fn skyline(slots: &[ProfileSlot], length: f64) -> Vec<Point> {
    let mut at: Vec<f64> = slots.iter().flat_map(|slot| [slot.from, slot.to]).collect();
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < SAME_POSITION_MM);
    let ends = at.iter().copied().skip(1).map(Some).chain([None]);
    let mut line = vec![Point::new(0.0, 0.0)];
    let mut before = 0.0_f64;
    for (from, to) in at.iter().copied().zip(ends) {
        let here = to.map_or(0.0, |to| deepest(slots, f64::midpoint(from, to)));
        if here.approx_ne(before, POSITION) {
            line.extend([Point::new(from, before), Point::new(from, here)]);
            before = here;
        }
    }
    line.push(Point::new(length, 0.0));
    line
}

/// Depth of the deepest slot at a place.
fn deepest(slots: &[ProfileSlot], at: f64) -> f64 {
    let over = slots.iter().filter(|slot| slot.from < at && at < slot.to);
    over.map(|slot| slot.depth).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slots_over_each_other_go_down_in_steps() {
        let slot = |from, to, depth| ProfileSlot { from, to, depth };
        let line = skyline(
            &[
                slot(10.0, 20.0, 3.0),
                slot(12.0, 18.0, 5.0),
                slot(10.0, 20.0, 2.0),
            ],
            40.0,
        );
        let wanted = [
            (0.0, 0.0),
            (10.0, 0.0),
            (10.0, 3.0),
            (12.0, 3.0),
            (12.0, 5.0),
            (18.0, 5.0),
            (18.0, 3.0),
            (20.0, 3.0),
            (20.0, 0.0),
            (40.0, 0.0),
        ];
        assert_eq!(line, wanted.map(|(x, y)| Point::new(x, y)));
    }
}
