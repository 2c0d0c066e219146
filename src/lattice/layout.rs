//! From grid lines to crossings to strips with notches.

use super::bundle::{Bundle, bundles};
use super::laps::{Face, lap};
use super::panel::{Family, GridLine, Panel, StripSection};
use crate::geometry::{Point, crossing_fractions};
use std::f64::consts::PI;

/// Which strip: its family and its number within it, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StripId {
    /// Index of the family.
    pub family: usize,
    /// From 1, in the order of positions.
    pub number: usize,
}

/// Where two strips lap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// On both centre lines, panel frame.
    pub at: Point,
    /// The strip in front.
    pub front: StripId,
    /// The strip behind.
    pub back: StripId,
}

/// One straight slot in a strip. Millimetres along the strip from its datum end; radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Notch {
    /// The strip that lies in it.
    pub mate: StripId,
    /// Position of its centre on the strip's centre line.
    pub centre: f64,
    /// Along the strip.
    pub width: f64,
    /// From the face it enters.
    pub depth: f64,
    /// The face it enters.
    pub face: Face,
    /// From the strip's direction to the mate's, counter-clockwise seen from the front, in (0, pi).
    pub angle: f64,
}

impl Notch {
    /// Position of the edge nearer the datum end.
    pub fn near_edge(&self) -> f64 {
        self.centre - self.width / 2.0
    }

    /// Position of the edge farther from the datum end.
    pub fn far_edge(&self) -> f64 {
        self.centre + self.width / 2.0
    }
}

/// A strip with its notches in order from the datum end.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Which one.
    pub id: StripId,
    /// Datum end of its centre line, panel frame.
    pub start: Point,
    /// Other end of its centre line, panel frame.
    pub end: Point,
    /// End to end, mm.
    pub length: f64,
    /// In order from the datum end.
    pub notches: Vec<Notch>,
}

/// A panel worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Lattice {
    /// Title of the panel.
    pub title: String,
    /// Front layer first.
    pub families: &'static [Family],
    /// What every strip is like.
    pub section: StripSection,
    /// Where strips lap.
    pub crossings: Vec<Crossing>,
    /// Family by family.
    pub strips: Vec<Strip>,
    /// Equal strips of a family.
    pub bundles: Vec<Bundle>,
}

impl Lattice {
    /// Works out a panel.
    pub fn of(panel: &Panel) -> Lattice {
        let families = panel.grid.families();
        let lines = panel.grid.lines();
        let strips: Vec<_> = lines
            .iter()
            .map(|line| strip(line, &lines, families, &panel.strip))
            .collect();
        Lattice {
            title: panel.title.clone(),
            families,
            section: panel.strip.clone(),
            crossings: crossings(&lines, families),
            bundles: bundles(&strips),
            strips,
        }
    }

    /// What a person calls one strip of a family.
    pub fn family_name(&self, family: usize) -> &'static str {
        self.families
            .get(family)
            .map_or("strip", |family| family.name)
    }

    /// Labels of a bundle's strips.
    pub fn labels(&self, bundle: &Bundle) -> Vec<String> {
        bundle.strips.iter().map(|id| self.label(*id)).collect()
    }

    /// Label of a strip, such as `U3`.
    pub fn label(&self, id: StripId) -> String {
        let letter = self
            .families
            .get(id.family)
            .map_or('?', |family| family.letter);
        format!("{letter}{}", id.number)
    }
}

fn id(line: &GridLine) -> StripId {
    StripId {
        family: line.family,
        number: line.number,
    }
}

/// Where two lines cross: fractions of the way along each, if they do inside both.
fn meeting(a: &GridLine, b: &GridLine) -> Option<(f64, f64)> {
    crossing_fractions(a.start, a.end, b.start, b.end)
        .filter(|(s, t)| (0.0..=1.0).contains(s) && (0.0..=1.0).contains(t))
}

fn crossings(lines: &[GridLine], families: &[Family]) -> Vec<Crossing> {
    let layer = |line: &GridLine| families.get(line.family).map_or(0, |family| family.layer);
    let mut found = Vec::new();
    for front in lines {
        for back in lines.iter().filter(|back| layer(back) > layer(front)) {
            if let Some((s, _)) = meeting(front, back) {
                let at = front.start.plus(front.start.to(front.end).times(s));
                found.push(Crossing {
                    at,
                    front: id(front),
                    back: id(back),
                });
            }
        }
    }
    found
}

fn strip(
    line: &GridLine,
    lines: &[GridLine],
    families: &[Family],
    section: &StripSection,
) -> Strip {
    let length = line.start.to(line.end).length();
    let layer = |line: &GridLine| families.get(line.family).map_or(0, |family| family.layer);
    let notch = |mate: &GridLine| {
        let lap = lap(layer(line), layer(mate), families.len())?;
        let (along, _) = meeting(line, mate)?;
        let (own, other) = (line.start.to(line.end), mate.start.to(mate.end));
        let angle = own.cross(other).atan2(own.dot(other)).rem_euclid(PI);
        Some(Notch {
            mate: id(mate),
            centre: along * length,
            width: notch_width(section.thickness, section.clearance, angle),
            depth: lap.fraction * section.depth,
            face: lap.face,
            angle,
        })
    };
    let mut notches: Vec<_> = lines.iter().filter_map(notch).collect();
    notches.sort_by(|a, b| a.centre.total_cmp(&b.centre));
    Strip {
        id: id(line),
        start: line.start,
        end: line.end,
        length,
        notches,
    }
}

/// Width along the strip of a notch that a mate of a given thickness crosses at `angle`:
/// the mate's width square to itself, thickness and clearance, is seen along the strip
/// through the sine of the angle between them. Millimetres, radians.
pub(super) fn notch_width(mate_thickness: f64, clearance: f64, angle: f64) -> f64 {
    (mate_thickness + clearance) / angle.sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::panel::Design;
    use crate::lattice::{Grid, SquareGrid};

    fn two_by_two() -> Lattice {
        let grid = SquareGrid {
            pitches_x: vec![50.0; 2],
            pitches_y: vec![50.0; 2],
            overhang: 20.0,
        };
        let strip = StripSection {
            thickness: 2.8,
            depth: 12.0,
            clearance: 0.0,
            least_web: 2.0,
            wood: None,
        };
        let design = Design {
            title: String::new(),
            grid: Grid::Square(grid),
            strip,
            infill: None,
        };
        Lattice::of(&Panel::new(design).unwrap())
    }

    #[test]
    fn two_by_two_of_fifty() {
        // 3 + 3 strips, 100 mm over the outer notches, 140 mm strips with 20 mm overhang, half
        // the depth each: common practice, no source.
        let lattice = two_by_two();
        assert_eq!(lattice.strips.len(), 6);
        assert_eq!(lattice.crossings.len(), 9);
        for strip in &lattice.strips {
            assert_eq!(strip.length, 140.0);
            let centres: Vec<_> = strip.notches.iter().map(|notch| notch.centre).collect();
            for (found, wanted) in centres.iter().zip([20.0, 70.0, 120.0]) {
                assert!((found - wanted).abs() < 1e-12);
            }
            for notch in &strip.notches {
                assert_eq!(notch.depth, 6.0);
                assert!((notch.width - 2.8).abs() < 1e-12);
                assert!((notch.angle - PI / 2.0).abs() < 1e-12);
                let wanted = if strip.id.family == 0 {
                    Face::Back
                } else {
                    Face::Front
                };
                assert_eq!(notch.face, wanted);
            }
        }
        assert_eq!(lattice.bundles.len(), 2);
        assert!(
            lattice
                .bundles
                .iter()
                .all(|bundle| bundle.strips.len() == 3)
        );
    }

    #[test]
    fn a_slanting_mate_needs_a_wider_notch() {
        // t / sin 60 = 1.1547 t; 45 deg: 1.4142 t.
        assert!((notch_width(1.0, 0.0, PI / 3.0) - 1.154_700_538).abs() < 1e-9);
        assert!((notch_width(2.8, 0.2, PI / 4.0) - 3.0 * 2_f64.sqrt()).abs() < 1e-12);
    }
}
