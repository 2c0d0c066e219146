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
