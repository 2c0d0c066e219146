//! From lines to crossings to strips with notches.

use super::assembly::assembly;
use super::bundle::{Bundle, Riding, bundles, riding};
use super::grid_types::{Family, is_steep};
use super::laps::{Face, Parting};
use super::lines::{Line, Meeting, lines};
use super::panel::{Design, StripSection};
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
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
    /// Whether it lies in the panel's region, not in overhangs that are trimmed off.
    pub inside: bool,
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
    /// Its place from the front (0); strips of one place never meet.
    pub place: usize,
    /// In order from the datum end.
    pub notches: Vec<Notch>,
}

impl Strip {
    /// The end that it is measured from, as it lies in the panel.
    pub fn datum_end(&self) -> &'static str {
        datum_end(self.start.to(self.end))
    }

    /// The other one.
    pub fn far_end(&self) -> &'static str {
        if is_steep(self.start.to(self.end)) {
            "upper end"
        } else {
            "right end"
        }
    }
}

/// What the first end of a line from its datum end is called: of flat ones the left end, of those
/// at 45 degrees and steeper the lower one.
pub(super) fn datum_end(along: Vector) -> &'static str {
    if is_steep(along) {
        "lower end"
    } else {
        "left end"
    }
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
    /// The outline that the panel is trimmed to, convex, counter-clockwise, panel frame.
    pub region: Vec<Point>,
    /// From the region's edge to a strip's end, along the strip, mm.
    pub overhang: f64,
    /// Where strips lap.
    pub crossings: Vec<Crossing>,
    /// Family by family.
    pub strips: Vec<Strip>,
    /// Grid lines that meet fewer than two others in the region, and are left out.
    pub left_out: usize,
    /// Whether overhangs run on into ever more strips; never of a panel that was checked.
    pub(super) tangled: bool,
    /// Whether every notch is as far from its strip's end as in stock as drawn. Where strips lap
    /// in their overhangs, other stock may need longer ones.
    pub centres_as_drawn: bool,
    /// Equal strips of a family, and those that ride with them.
    pub bundles: Vec<Bundle>,
    /// Strips in the order in which they are laid on each other, the panel's back down: every
    /// step's strips lie before those of the next one.
    pub assembly: Vec<Vec<StripId>>,
}

impl Lattice {
    /// Works out a design whose measures make sense; it may yet not be fit to be built.
    pub(super) fn of(design: &Design) -> Lattice {
        let section = &design.strip;
        let found = lines(&design.grid, section);
        let parting = Parting::of(section);
        let strips: Vec<_> = (found.lines.iter())
            .map(|line| strip(line, &found.lines, &parting, section))
            .collect();
        Lattice {
            title: design.title.clone(),
            families: design.grid.families(),
            section: section.clone(),
            region: design.grid.region(),
            overhang: design.grid.overhang(),
            crossings: crossings(&found.lines),
            left_out: found.left_out,
            tangled: found.tangled,
            centres_as_drawn: (section.as_drawn())
                .is_none_or(|drawn| found.lies_like(&lines(&design.grid, &drawn))),
            bundles: bundles(&strips, section),
            assembly: assembly(&strips).unwrap_or_default(),
            strips,
        }
    }

    /// What it saves and costs to notch shorter strips with longer ones.
    pub fn riding(&self) -> Riding {
        riding(&self.strips, self.section.thickness)
    }

    /// What a person calls one strip of a family.
    pub fn family_name(&self, family: usize) -> &'static str {
        self.families
            .get(family)
            .map_or("strip", |family| family.name)
    }

    /// Labels of a bundle's strips, in the order of their numbers.
    pub fn labels(&self, bundle: &Bundle) -> Vec<String> {
        let mut strips = bundle.strips.clone();
        strips.sort_unstable();
        strips.iter().map(|id| self.label(*id)).collect()
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

fn id(line: &Line) -> StripId {
    StripId {
        family: line.family,
        number: line.number,
    }
}

fn crossings(lines: &[Line]) -> Vec<Crossing> {
    let mut found = Vec::new();
    for front in lines {
        for meeting in &front.meetings {
            let behind = lines
                .get(meeting.with)
                .filter(|back| back.place > front.place);
            if let Some(back) = behind {
                found.push(Crossing {
                    at: front.point(meeting.at),
                    front: id(front),
                    back: id(back),
                    inside: meeting.inside,
                });
            }
        }
    }
    found
}

fn strip(line: &Line, lines: &[Line], parting: &Parting, section: &StripSection) -> Strip {
    let nodes = nodes(&line.meetings).map(|node| {
        let mates = node.iter();
        mates
            .filter_map(|meeting| Some((meeting.at, lines.get(meeting.with)?)))
            .collect()
    });
    let notches = nodes.flat_map(|mates: Vec<_>| node_notches(line, &mates, parting, section));
    Strip {
        id: id(line),
        start: line.point(0.0),
        end: line.point(line.length()),
        length: line.length(),
        place: line.place,
        notches: notches.collect(),
    }
}

/// A strip's notches at one node, for its mates there and their positions along it.
fn node_notches(
    line: &Line,
    mates: &[(f64, &Line)],
    parting: &Parting,
    section: &StripSection,
) -> Vec<Notch> {
    let before = |place: usize| mates.iter().filter(|(_, mate)| mate.place < place).count();
    let own = before(line.place);
    let notch = |(at, mate): &(f64, &Line)| {
        let place = before(mate.place) + usize::from(line.place < mate.place);
        let lap = parting.lap(own, place, mates.len() + 1)?;
        let (along, other) = (line.along(), mate.along());
        let angle = along.cross(other).atan2(along.dot(other)).rem_euclid(PI);
        Some(Notch {
            mate: id(mate),
            centre: *at,
            width: notch_width(section.thickness, section.clearance, angle),
            depth: lap.depth,
            face: lap.face,
            angle,
        })
    };
    let mut notches: Vec<Notch> = mates.iter().filter_map(notch).collect();
    // At one place they would else stand in the order of their rounding.
    notches.sort_by_key(|notch| notch.mate);
    notches
}

/// Meetings at one place together, in order.
fn nodes(meetings: &[Meeting]) -> impl Iterator<Item = &[Meeting]> {
    meetings.chunk_by(|a, b| b.at - a.at < SAME_POSITION_MM)
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
    use crate::lattice::{Grid, Joinery, SquareGrid};
    use float_cmp::approx_eq;

    fn two_by_two() -> Lattice {
        let grid = SquareGrid {
            pitches_x: vec![46.0; 2],
            pitches_y: vec![46.0; 2],
            overhang: 18.0,
        };
        let strip = StripSection {
            thickness: 2.7,
            depth: 12.0,
            clearance: 0.0,
            drawn: None,
            least_web: 2.0,
            wood: None,
            joinery: Joinery::default(),
        };
        let design = Design {
            title: String::new(),
            grid: Grid::Square(grid),
            strip,
            infill: None,
        };
        Lattice::of(&design)
    }

    #[test]
    fn two_by_two_bays() {
        // Computed: 3 + 3 strips, 92 mm over the outer notches and 18 mm of overhang at each end,
        // half the depth each.
        let lattice = two_by_two();
        assert_eq!(lattice.strips.len(), 6);
        assert_eq!(lattice.crossings.len(), 9);
        for strip in &lattice.strips {
            assert_eq!(strip.length, 128.0);
            let centres: Vec<_> = strip.notches.iter().map(|notch| notch.centre).collect();
            for (found, wanted) in centres.iter().zip([18.0, 64.0, 110.0]) {
                assert!(approx_eq!(f64, *found, wanted, epsilon = 1e-12));
            }
            for notch in &strip.notches {
                assert_eq!(notch.depth, 6.0);
                assert!(approx_eq!(f64, notch.width, 2.7, epsilon = 1e-12));
                assert!(approx_eq!(f64, notch.angle, PI / 2.0, epsilon = 1e-12));
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
        assert!(approx_eq!(
            f64,
            notch_width(1.0, 0.0, PI / 3.0),
            1.154_700_538,
            epsilon = 1e-9
        ));
        assert!(approx_eq!(
            f64,
            notch_width(2.8, 0.2, PI / 4.0),
            3.0 * 2_f64.sqrt(),
            epsilon = 1e-12
        ));
    }
}
