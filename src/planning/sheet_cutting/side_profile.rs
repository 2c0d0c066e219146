//! Side profiles of strips: what a beam square to the strip's side can cut of its notches.
//!
//! A side profile cannot show a slanted notch. It is cut square, as wide as clears the slant: over
//! the strip's thickness t a mate that crosses at the angle A moves along the strip by t / tan A,
//! so the slot is `(t + c) / sin A + t / |tan A|` wide, about the same centre. The mate then
//! touches both ends of its slot, each at another side of the strip, and stays in its place;
//! beside it two wedges stay open, each t / |tan A| long at one side of the strip and nothing at
//! the other. Slots that enter the same face at one node become one slot in steps.
//!
//! The other way, a strip laid flat and cut as seen from the front, was not chosen: that shows the
//! slant, but a beam cuts through, and a lap takes a part of the depth only; so every strip would
//! have to be glued up from sheets as thick as its laps are deep.

use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::instructions::laser::SquareCut;
use crate::lattice::{Face, Lattice, Notch, Strip};
use crate::phrase;
use crate::units::{AtLeast, Mm};
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// A slot about one centre.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ProfileSlot {
    centre: f64,
    face: Face,
    /// Width and depth of its steps, the widest first, each deeper than the one before.
    steps: Vec<[f64; 2]>,
}

impl ProfileSlot {
    /// A slot of one step: a lap `width` wide along the axis, cut square where it lies at an angle to
    /// a strip `thickness` thick.
    pub(super) fn alone(lap: SlantedLap, thickness: f64) -> Self {
        ProfileSlot {
            centre: lap.centre,
            face: lap.face,
            steps: vec![[lap.width + slant(lap.angle, thickness), lap.depth]],
        }
    }

    pub(super) fn width(&self) -> f64 {
        self.steps.first().map_or(0.0, |[width, _]| *width)
    }

    fn depth(&self) -> f64 {
        self.steps.last().map_or(0.0, |[_, depth]| *depth)
    }

    /// Position of its edge nearer the datum end.
    pub(super) fn near_edge(&self) -> f64 {
        self.centre - self.width() / 2.0
    }
}

/// A lap as it is drawn. Millimetres, radians.
#[derive(Debug, Clone, Copy)]
pub(super) struct SlantedLap {
    /// From the profile's left end.
    pub(super) centre: f64,
    /// Along the axis.
    pub(super) width: f64,
    pub(super) depth: f64,
    /// Between the axes, in (0, pi).
    pub(super) angle: f64,
    pub(super) face: Face,
}

/// What a mate that crosses at an angle moves along a strip from one side of it to the other.
pub(super) fn slant(angle: f64, thickness: f64) -> f64 {
    thickness / angle.tan().abs()
}

/// The slots of a strip, in order from the datum end.
pub(super) fn slots(notches: &[Notch], thickness: f64) -> Vec<ProfileSlot> {
    let laps = notches.iter().map(|notch| SlantedLap {
        centre: notch.centre,
        width: notch.width,
        depth: notch.depth,
        angle: notch.angle,
        face: notch.face,
    });
    merged(&laps.collect::<Vec<_>>(), thickness)
}

/// The slots of laps in order from the left end: those at one place in one face are one slot.
pub(super) fn merged(laps: &[SlantedLap], thickness: f64) -> Vec<ProfileSlot> {
    let mut slots = Vec::new();
    let is_one_node = |a: &SlantedLap, b: &SlantedLap| b.centre - a.centre < SAME_POSITION_MM;
    for node in laps.chunk_by(is_one_node) {
        for face in [Face::Front, Face::Back] {
            let on_face = node.iter().filter(|notch| notch.face == face);
            let mut wanted: Vec<[f64; 2]> = on_face
                .map(|notch| [notch.width + slant(notch.angle, thickness), notch.depth])
                .collect();
            wanted.sort_by(|a, b| b[0].total_cmp(&a[0]).then(b[1].total_cmp(&a[1])));
            let mut steps: Vec<[f64; 2]> = Vec::new();
            for [width, depth] in wanted {
                match steps.last_mut() {
                    Some(last) if depth <= last[1] + SAME_POSITION_MM => {}
                    // As wide but for rounding: one step.
                    Some(last) if last[0] - width < SAME_POSITION_MM => last[1] = depth,
                    _ => steps.push([width, depth]),
                }
            }
            if let (Some(first), false) = (node.first(), steps.is_empty()) {
                slots.push(ProfileSlot {
                    centre: first.centre,
                    face,
                    steps,
                });
            }
        }
    }
    slots
}

/// A strip seen from its side: x along it from the datum end, y from the back face (0) to the
/// front face (its depth); counter-clockwise from the datum end's back corner.
pub(super) fn side_profile(length: f64, depth: f64, slots: &[ProfileSlot]) -> Vec<Point> {
    let mut ring = face_line(length, depth, slots, Face::Back);
    ring.extend(
        face_line(length, depth, slots, Face::Front)
            .into_iter()
            .rev(),
    );
    ring
}

/// One face of it, in and out of the slots, from the datum end.
fn face_line(length: f64, depth: f64, slots: &[ProfileSlot], face: Face) -> Vec<Point> {
    let mut line = vec![(0.0, 0.0)];
    for slot in slots.iter().filter(|slot| slot.face == face) {
        line.extend(around(slot));
    }
    line.push((length, 0.0));
    let points = line.into_iter().map(|(x, below)| match face {
        Face::Back => Point::new(x, below),
        Face::Front => Point::new(x, depth - below),
    });
    points.collect()
}

/// A slot's corners from its near to its far edge, as positions along the strip and depths.
fn around(slot: &ProfileSlot) -> Vec<(f64, f64)> {
    let mut near = Vec::new();
    let mut above = 0.0;
    for [width, depth] in &slot.steps {
        near.extend([(-width / 2.0, above), (-width / 2.0, *depth)]);
        above = *depth;
    }
    let far = near.iter().rev().map(|(x, depth)| (-x, *depth));
    let all = near.iter().copied().chain(far);
    all.map(|(x, depth)| (slot.centre + x, depth)).collect()
}

/// The strip in which slots that were widened leave the least wood between two nodes, if that is
/// too little.
pub(super) fn thin_web(
    lattice: &Lattice,
    strips: &[(&Strip, Vec<ProfileSlot>)],
) -> Option<Finding> {
    let section = &lattice.section;
    let mut thinnest: Option<(f64, f64, &Strip)> = None;
    for (strip, slots) in strips.iter().filter(|(strip, _)| is_slanted(strip)) {
        for (at, slot) in slots.iter().enumerate() {
            let others = slots.iter().skip(at + 1);
            // The slots of the next node: two at most; those farther away stand behind them.
            let next = others.filter(|other| other.centre - slot.centre > SAME_POSITION_MM);
            for other in next.take(2) {
                let web = web(slot, other, section.depth);
                let step = other.centre - slot.centre;
                if thinnest.is_none_or(|(least, ..)| web < least) {
                    thinnest = Some((web, step, strip));
                }
            }
        }
    }
    let (web, step, strip) =
        thinnest.filter(|(web, ..)| *web < section.least_web - SAME_POSITION_MM)?;
    let text = phrase!(
        "strip {} keeps {} between two notches that are cut square; at least {} must stay",
        lattice.label(strip.id),
        Mm(web.max(0.0)),
        Mm(section.least_web)
    );
    let hint = phrase!(
        "let nodes lie {} or more apart along the strip (here {}); or notch the strips on a saw or a router, which follow the slant",
        AtLeast(step + section.least_web - web),
        Mm(step)
    );
    Some(Finding::error("square-cut-web-too-thin", "laser", text).hint(hint))
}

/// Wood between two slots, mm; negative where they run into each other.
pub(super) fn web(a: &ProfileSlot, b: &ProfileSlot, depth: f64) -> f64 {
    let along = (b.centre - a.centre) - (a.width() + b.width()) / 2.0;
    let through = depth - a.depth() - b.depth();
    if a.face == b.face || through <= 0.0 {
        along
    } else {
        along.max(0.0).hypot(through)
    }
}

fn is_slanted(strip: &Strip) -> bool {
    strip.notches.iter().any(is_slanted_notch)
}

fn is_slanted_notch(notch: &Notch) -> bool {
    notch.angle.cos().abs() > 1e-9
}

/// What cutting slanted notches square leaves open, angle by angle.
pub(super) fn square_cuts(
    lattice: &Lattice,
    strips: &[(&Strip, Vec<ProfileSlot>)],
) -> Vec<SquareCut> {
    let thickness = lattice.section.thickness;
    let mut found: Vec<SquareCut> = Vec::new();
    for (strip, slots) in strips {
        for notch in strip.notches.iter().filter(|notch| is_slanted_notch(notch)) {
            let is_its = |slot: &&ProfileSlot| {
                slot.face == notch.face && slot.centre.approx_eq(notch.centre, POSITION)
            };
            let Some(slot) = slots.iter().find(is_its) else {
                continue;
            };
            let angle = notch.angle.min(PI - notch.angle);
            let below = (slot.depth() - notch.depth).max(0.0);
            let known = found
                .iter_mut()
                .find(|known| (known.angle - angle).abs() < 1e-9);
            match known {
                Some(known) => known.floor_gap_mm = known.floor_gap_mm.max(below),
                None => found.push(SquareCut {
                    angle,
                    notch_mm: notch.width,
                    slot_mm: notch.width + slant(notch.angle, thickness),
                    gap_mm: slant(notch.angle, thickness),
                    floor_gap_mm: below,
                }),
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::signed_area;
    use crate::lattice::{NotchMate, StripId};
    use float_cmp::approx_eq;
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_3};

    fn notch(centre: f64, face: Face, angle: f64, depth: f64) -> Notch {
        Notch {
            mate: NotchMate::Strip(StripId {
                family: 1,
                number: 1,
            }),
            centre,
            width: 3.0 / angle.sin(),
            depth,
            face,
            angle,
        }
    }

    #[test]
    fn a_profile_is_the_strip_less_its_notches() {
        let notches = [
            notch(20.0, Face::Back, FRAC_PI_2, 6.0),
            notch(50.0, Face::Front, FRAC_PI_2, 6.0),
            notch(80.0, Face::Back, FRAC_PI_2, 6.0),
        ];
        let ring = side_profile(100.0, 12.0, &slots(&notches, 3.0));
        assert_eq!(ring.len(), 4 + 3 * 4);
        assert!(approx_eq!(
            f64,
            signed_area(&ring),
            100.0 * 12.0 - 3.0 * 18.0,
            epsilon = 1e-9
        ));
        for (x, y) in [(48.5, 6.0), (18.5, 6.0), (0.0, 12.0)] {
            let near = |p: &Point| p.to(Point::new(x, y)).length() < 1e-12;
            assert!(ring.iter().any(near), "{x} {y}");
        }
    }

    #[test]
    fn a_slanted_notch_is_as_wide_as_its_slanted_prism() {
        // t / sin 60 + t / tan 60 = t (2 + 1) / sqrt 3 = t sqrt 3.
        let slots = slots(&[notch(20.0, Face::Back, 2.0 * FRAC_PI_3, 6.0)], 3.0);
        assert!(approx_eq!(
            f64,
            slots[0].width(),
            3.0 * 3_f64.sqrt(),
            epsilon = 1e-12
        ));
    }

    /// (2.4 + 0.05) / sin 60 = 2.8290, and 2.9 / tan 60 = 1.6743 more.
    #[test]
    fn a_lap_for_a_thinner_mate_is_widened_by_the_own_thickness() {
        let lap = SlantedLap {
            centre: 20.0,
            width: 2.45 / FRAC_PI_3.sin(),
            depth: 4.0,
            angle: FRAC_PI_3,
            face: Face::Back,
        };
        let slot = ProfileSlot::alone(lap, 2.9);
        assert!(approx_eq!(f64, slot.width(), 4.5033, epsilon = 5e-5));
        assert!(approx_eq!(
            f64,
            slant(lap.angle, 2.9),
            1.6743,
            epsilon = 5e-5
        ));
        assert!(approx_eq!(
            f64,
            slot.near_edge(),
            20.0 - 4.5033 / 2.0,
            epsilon = 5e-5
        ));
    }

    #[test]
    fn slots_of_one_node_become_one_in_steps() {
        let node = [
            notch(20.0, Face::Back, FRAC_PI_3, 4.0),
            notch(20.0, Face::Back, FRAC_PI_2, 8.0),
            notch(20.0, Face::Back, 2.0 * FRAC_PI_3, 5.0),
            notch(20.0, Face::Front, FRAC_PI_2, 2.0),
        ];
        let slots = slots(&node, 3.0);
        let wide = 3.0 * 3_f64.sqrt();
        assert_eq!(slots.len(), 2);
        let [[width, depth], [narrow, deep]] = slots[1].steps[..] else {
            panic!("{slots:?}")
        };
        assert!(
            approx_eq!(f64, width, wide, epsilon = 1e-12)
                && approx_eq!(f64, narrow, 3.0, epsilon = 1e-12)
        );
        assert_eq!((depth, deep), (5.0, 8.0));
        let ring = side_profile(40.0, 12.0, &slots);
        assert_eq!(ring.len(), 4 + 8 + 4);
        let left = 40.0 * 12.0 - wide * 5.0 - 3.0 * 3.0 - 3.0 * 2.0;
        assert!(approx_eq!(f64, signed_area(&ring), left, epsilon = 1e-9));
    }

    #[test]
    fn webs_are_told_from_slot_to_slot() {
        let of = |face| {
            slots(
                &[
                    notch(20.0, Face::Back, FRAC_PI_2, 6.0),
                    notch(30.0, face, FRAC_PI_2, 2.0),
                ],
                3.0,
            )
        };
        let same = of(Face::Back);
        assert!(approx_eq!(
            f64,
            web(&same[0], &same[1], 12.0),
            7.0,
            epsilon = 1e-12
        ));
        let other = of(Face::Front);
        assert!(approx_eq!(
            f64,
            web(&other[0], &other[1], 12.0),
            7_f64.hypot(4.0),
            epsilon = 1e-12
        ));
    }
}
