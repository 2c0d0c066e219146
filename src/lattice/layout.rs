//! From lines to crossings to strips with notches.

use super::assembly::assembly;
use super::bundle::{Bundle, Riding, bundles, riding};
use super::design::{Design, StripSection};
use super::grid_types::Family;
use super::laps::Parting;
use super::lines::{Meeting, StripLine, lines};
use super::strip::{Notch, NotchMate, Strip, StripId, notch_width};
use crate::geometry::{Point, SAME_POSITION_MM};
use std::f64::consts::PI;

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
    /// Whether its strips are cut and there: then its lines are as measured.
    pub strips_are_cut: bool,
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
            strips_are_cut: false,
            bundles: bundles(&strips, section),
            assembly: assembly(&strips).unwrap_or_default(),
            strips,
        }
    }

    /// The same with notches for pieces that run over the strips.
    pub(super) fn with_crossing_pieces(mut self, crossed: &[(StripId, Notch)]) -> Lattice {
        for strip in &mut self.strips {
            let own = crossed.iter().filter(|(id, _)| *id == strip.id);
            let before = strip.notches.len();
            strip.notches.extend(own.map(|(_, notch)| *notch));
            if strip.notches.len() > before {
                strip.notches.sort_by(|a, b| a.centre.total_cmp(&b.centre));
            }
        }
        self.bundles = bundles(&self.strips, &self.section);
        self
    }

    /// The same with strips that are cut, of each family as long as given, mm, from their datum ends.
    pub(super) fn with_strips_cut(mut self, lengths: [f64; 2]) -> Lattice {
        for strip in &mut self.strips {
            let length = lengths.get(strip.id.family);
            let along = strip.start.to(strip.end).unit();
            if let Some((length, along)) = length.zip(along) {
                strip.length = *length;
                strip.end = strip.start + along * *length;
            }
        }
        self.bundles = bundles(&self.strips, &self.section);
        self.strips_are_cut = true;
        self
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

fn id(line: &StripLine) -> StripId {
    StripId {
        family: line.family,
        number: line.number,
    }
}

fn crossings(lines: &[StripLine]) -> Vec<Crossing> {
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

fn strip(
    line: &StripLine,
    lines: &[StripLine],
    parting: &Parting,
    section: &StripSection,
) -> Strip {
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
    line: &StripLine,
    mates: &[(f64, &StripLine)],
    parting: &Parting,
    section: &StripSection,
) -> Vec<Notch> {
    let before = |place: usize| mates.iter().filter(|(_, mate)| mate.place < place).count();
    let own = before(line.place);
    let notch = |(at, mate): &(f64, &StripLine)| {
        let place = before(mate.place) + usize::from(line.place < mate.place);
        let lap = parting.lap(own, place, mates.len() + 1)?;
        let along = line.along();
        let other = mate.along();
        let angle = along.cross(other).atan2(along.dot(other)).rem_euclid(PI);
        Some(Notch {
            mate: NotchMate::Strip(id(mate)),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{Face, Grid, Region, SquareGrid, TriangularGrid, TriangularStance};
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_3};

    fn lattice(grid: Grid) -> Lattice {
        Lattice::of(&Design {
            title: String::new(),
            grid,
            strip: StripSection::sample(3.0),
            infill: None,
        })
    }

    /// Three nodes across, the outer six at the corners of a hexagon with sides of 60: level strips in
    /// front, falling ones at the back, three at each of the seven nodes.
    fn hexagon() -> Lattice {
        lattice(Grid::Triangular(TriangularGrid {
            side: 60.0,
            stance: TriangularStance::Lying,
            region: Region::Hexagon { rings: 1 },
            overhang: 15.0,
        }))
    }

    /// Two bays of 46 each way.
    fn square() -> Lattice {
        lattice(Grid::Square(SquareGrid {
            pitches_x: vec![46.0; 2],
            pitches_y: vec![46.0; 2],
            overhang: 18.0,
        }))
    }

    fn near(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
    }

    #[test]
    fn three_ways_at_a_node_by_hand() {
        let lattice = hexagon();
        // Faces and depths at each family's mates, of 12: those next to each other part at a third, the
        // outer ones in the middle. Angles are counted from the strip's own direction.
        let [steep, blunt] = [FRAC_PI_3, 2.0 * FRAC_PI_3];
        let wanted = |own: usize, mate: usize| match (own, mate) {
            (0, 1) => (Face::Back, 8.0, steep),
            (0, 2) => (Face::Back, 6.0, blunt),
            (1, 0) => (Face::Front, 4.0, blunt),
            (1, 2) => (Face::Back, 4.0, steep),
            (2, 0) => (Face::Front, 6.0, steep),
            (2, 1) => (Face::Front, 8.0, blunt),
            _ => panic!("{own} at {mate}"),
        };
        assert_eq!(lattice.strips.len(), 9);
        for strip in &lattice.strips {
            // Two nodes on a side of the hexagon, three on its way across.
            let nodes: &[f64] = match strip.id.number {
                2 => &[15.0, 75.0, 135.0],
                _ => &[15.0, 75.0],
            };
            assert_eq!(strip.notches.len(), 2 * nodes.len());
            for (at, notch) in strip.notches.iter().enumerate() {
                near(notch.centre, nodes[at / 2]);
                let mate = notch.mate.strip().unwrap().family;
                let (face, depth, angle) = wanted(strip.id.family, mate);
                assert_eq!(notch.face, face, "{strip:?}");
                near(notch.depth, depth);
                near(notch.angle, angle);
                // 3 by the height of an even triangle with sides of 1.
                near(notch.width, 6.0 / 3_f64.sqrt());
            }
            let mates = strip.notches.chunks(2).map(|of| (of[0].mate, of[1].mate));
            assert!(mates.into_iter().all(|(first, second)| first < second));
        }
        // Three pairs at each node, each told once, the one in front first.
        assert_eq!(lattice.crossings.len(), 21);
        for crossing in &lattice.crossings {
            assert!(crossing.front.family < crossing.back.family && crossing.inside);
        }
    }

    #[test]
    fn strips_have_names_of_their_families() {
        let lattice = hexagon();
        let names = [0, 1, 2, 3].map(|family| lattice.family_name(family));
        let wanted = ["level strip", "rising strip", "falling strip", "strip"];
        assert_eq!(names, wanted);
        let strip = |family, number| StripId { family, number };
        assert_eq!(lattice.label(strip(1, 2)), "R2");
        assert_eq!(lattice.label(strip(3, 2)), "?2");
        let mut bundle = square().bundles[0].clone();
        bundle.strips.reverse();
        assert_eq!(square().labels(&bundle), ["U1", "U2", "U3"]);
    }

    #[test]
    fn notches_for_pieces_stand_in_order_and_part_bundles() {
        let second = StripId {
            family: 0,
            number: 2,
        };
        let piece = |centre: f64| Notch {
            mate: NotchMate::Piece,
            centre,
            width: 4.0,
            depth: 5.0,
            face: Face::Front,
            angle: FRAC_PI_2,
        };
        let whole = square();
        assert_eq!(whole.bundles.len(), 2);
        let crossed = [(second, piece(87.0)), (second, piece(41.0))];
        let found = whole.clone().with_crossing_pieces(&crossed);
        for (strip, before) in found.strips.iter().zip(&whole.strips) {
            if strip.id == second {
                let centres: Vec<f64> = strip.notches.iter().map(|notch| notch.centre).collect();
                assert_eq!(centres, [18.0, 41.0, 64.0, 87.0, 110.0]);
            } else {
                assert_eq!(strip, before);
            }
        }
        assert_eq!(found.bundles.len(), 3);
    }

    #[test]
    fn strips_that_are_cut_keep_their_datum_ends() {
        let found = square().with_strips_cut([127.0, 130.5]);
        for (strip, before) in found.strips.iter().zip(&square().strips) {
            let length = [127.0, 130.5][strip.id.family];
            assert_eq!((strip.start, strip.length), (before.start, length));
            // Uprights stand, cross strips lie.
            let way = strip.start.to(strip.end);
            let wanted = [(0.0, 127.0), (130.5, 0.0)][strip.id.family];
            assert_eq!((way.x, way.y), wanted);
        }
        assert!(found.strips_are_cut && !square().strips_are_cut);
        let lengths: Vec<f64> = found.bundles.iter().map(|bundle| bundle.length).collect();
        assert_eq!(lengths, [127.0, 130.5]);
    }
}
