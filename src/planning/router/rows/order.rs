//! A kind of piece in a row on a stick, in the program's frame: where its pieces lie, where the
//! middles of all cuts go, how long the stick has to be.
//!
//! The tool goes along the middle of every kerf, which is as wide as the tool: so it runs one radius
//! beside each facet, on the waste side. It turns round in air on two lines along X, before and behind
//! the stick, and stays out of the grips with all of its width.

use super::super::bed::{StripBed, program_angle};
use super::super::notch_path::lateral;
use crate::geometry::SAME_POSITION_MM;
use crate::infill::{PieceKind, PieceLap};
use crate::instructions::routed_rows::{RowLap, RowMitre, RowPlace};
use crate::lattice::Face;
use crate::planning::mitres::lying::Lying;
use crate::planning::mitres::row::{Row, RowCut, RowOrder};

/// What a row depends on. Millimetres.
#[derive(Debug, Clone, Copy)]
pub(super) struct RowSticks<'a> {
    pub(super) kind: &'a PieceKind,
    /// Across a stick.
    pub(super) thickness: f64,
    /// Of a stick.
    pub(super) depth: f64,
    /// Of a stick at either end.
    pub(super) grip: f64,
    pub(super) tool_diameter: f64,
    pub(super) wall_allowance: f64,
    /// From a stick's sides to where the tool's centre turns round.
    pub(super) beyond: f64,
}

/// A row as it lies.
#[derive(Debug, Clone)]
pub(super) struct LaidRow {
    pub(super) pieces: Vec<RowPlace>,
    pub(super) laps: Vec<RowLap>,
    pub(super) mitres: Vec<RowMitre>,
    /// Least length of a stick.
    pub(super) length: f64,
    /// Least and greatest X of the tool's centre.
    pub(super) reach: [f64; 2],
}

/// The face that laps of a piece enter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LappedFaces {
    None,
    One(Face),
    Both,
}

impl LappedFaces {
    pub(super) fn of(laps: &[PieceLap]) -> LappedFaces {
        match laps.first() {
            None => LappedFaces::None,
            Some(first) if laps.iter().all(|lap| lap.face == first.face) => {
                LappedFaces::One(first.face)
            }
            Some(_) => LappedFaces::Both,
        }
    }

    /// The face that has to lie up, if one has to.
    pub(super) fn up(self) -> Option<Face> {
        match self {
            LappedFaces::One(face) => Some(face),
            LappedFaces::None | LappedFaces::Both => None,
        }
    }
}

impl RowSticks<'_> {
    /// The face that has to lie up, as the tool comes from above; nothing where either may.
    pub(super) fn face_up(&self) -> Option<Face> {
        LappedFaces::of(&self.kind.figures.laps).up()
    }

    /// So many pieces in a row. Pieces without laps lie mirrored in turn, which is a piece turned over:
    /// ends of the same angles meet and share their cuts. Pieces with laps all lie alike.
    pub(super) fn laid(&self, count: usize) -> LaidRow {
        let face = self.face_up();
        let first = Lying {
            reversed: face == Some(Face::Back),
            left_away: true,
        };
        let order = RowOrder {
            outline: &self.kind.outline,
            length: self.kind.figures.length,
            thickness: self.thickness,
            cut_ends: [true, true],
            first,
            mirrored: face.is_none(),
            kerf: self.tool_diameter,
            rough: 0.0,
            hand_kerf: 0.0,
            grip: self.grip,
        };
        self.clear_of_grips(&order.row(count))
    }

    /// The row moved along until the tool's edge stays out of the first grip, and the stick as long as
    /// keeps it out of the second.
    fn clear_of_grips(&self, row: &Row) -> LaidRow {
        let mut laid = self.at(row, 0.0);
        let radius = self.tool_diameter / 2.0;
        let into = self.grip - (laid.reach[0] - radius);
        if into > 0.0 {
            laid = self.at(row, into);
        }
        laid.length = (row.length + into.max(0.0)).max(laid.reach[1] + radius + self.grip);
        laid
    }

    fn at(&self, row: &Row, shift: f64) -> LaidRow {
        let mut laid = LaidRow {
            pieces: Vec::new(),
            laps: Vec::new(),
            mitres: row.cuts.iter().map(|cut| self.mitre(cut, shift)).collect(),
            length: 0.0,
            reach: [f64::INFINITY, f64::NEG_INFINITY],
        };
        let length = self.kind.figures.length;
        for (number, piece) in (1..).zip(&row.pieces) {
            let from_mm = piece.from + shift;
            laid.pieces.push(RowPlace {
                from_mm,
                to_mm: from_mm + length,
                turned: piece.lying.reversed,
                left_in_front: !piece.lying.left_away,
                outline_mm: self.outline(piece.lying, from_mm),
            });
            let laps = self.kind.figures.laps.iter();
            let mut own: Vec<RowLap> = laps
                .map(|lap| self.lap(number, lap, piece.lying, from_mm))
                .collect();
            own.sort_by(|a, b| a.centre_mm.total_cmp(&b.centre_mm));
            laid.laps.extend(own);
        }
        let mitres = laid.mitres.iter();
        let spans = mitres.map(|cut| self.span(cut.centre_mm, cut.angle, self.tool_diameter));
        let laps = laid.laps.iter();
        let lap_spans = laps.map(|lap| self.span(lap.centre_mm, lap.angle, square_width(lap)));
        for [low, high] in spans.chain(lap_spans) {
            laid.reach = [laid.reach[0].min(low), laid.reach[1].max(high)];
        }
        laid
    }

    /// Corners of a piece as it lies, its leftmost point at `from`.
    fn outline(&self, lying: Lying, from: f64) -> Vec<[f64; 2]> {
        let length = self.kind.figures.length;
        let corners = self.kind.outline.iter();
        let laid = corners.map(|corner| lying.place(*corner, length, self.thickness));
        laid.map(|place| [from + place.x, place.y]).collect()
    }

    fn mitre(&self, cut: &RowCut, shift: f64) -> RowMitre {
        // The kerf's left side at the front edge; its middle is half a kerf to the right.
        let bed = self.bed(cut.angle);
        let middle = cut.near + shift + self.tool_diameter / 2.0 / cut.angle.sin();
        RowMitre {
            centre_mm: middle + self.thickness / 2.0 * bed.cotangent(),
            angle: cut.angle,
            facets: cut.facets,
        }
    }

    fn lap(&self, piece: usize, lap: &PieceLap, lying: Lying, from: f64) -> RowLap {
        let length = self.kind.figures.length;
        RowLap {
            piece,
            centre_mm: from
                + if lying.reversed {
                    length - lap.centre
                } else {
                    lap.centre
                },
            width_mm: lap.width,
            depth_mm: lap.fraction * self.depth,
            angle: program_angle(lying.face_down().opposite(), lap.angle),
        }
    }

    /// A stick with cuts at an angle.
    pub(super) fn bed(&self, angle: f64) -> StripBed {
        StripBed {
            strips: 1,
            thickness: self.thickness,
            length: 0.0,
            angle,
            datum: 0.0,
        }
    }

    /// Y, from a stick's front edge, at which the tool's centre turns round.
    pub(super) fn turns(&self) -> [f64; 2] {
        [-self.beyond, self.thickness + self.beyond]
    }

    /// Least and greatest X of the tool's centre on its way through a cut so wide, square to it.
    fn span(&self, centre: f64, angle: f64, width: f64) -> [f64; 2] {
        let way = self.way(centre, angle, width);
        way.iter()
            .fold([f64::INFINITY, f64::NEG_INFINITY], |all, [x, _]| {
                [all[0].min(*x), all[1].max(*x)]
            })
    }

    /// Corners of what the tool's centre goes over in a cut so wide, square to it, in a stick whose
    /// front edge lies at Y 0.
    pub(super) fn way(&self, centre: f64, angle: f64, width: f64) -> [[f64; 2]; 4] {
        let bed = self.bed(angle);
        let (roughing, wall) = lateral(width, self.tool_diameter, self.wall_allowance);
        let widest = roughing.iter().copied().chain(wall).fold(0.0, f64::max);
        let [low, high] = self.turns();
        [
            (-widest, low),
            (widest, low),
            (widest, high),
            (-widest, high),
        ]
        .map(|(offset, y)| [bed.slot_x(centre, offset, y), y])
    }
}

/// Square to its walls.
pub(super) fn square_width(lap: &RowLap) -> f64 {
    lap.width_mm * lap.angle.sin()
}

/// The most pieces in a row for which `holds`; the row's length grows with each.
pub(super) fn most(sticks: &RowSticks<'_>, most: usize, holds: impl Fn(&LaidRow) -> bool) -> usize {
    // How long a row is grows evenly after its first two pieces: doubling, then halving.
    let mut fits = 0;
    let mut beyond = most + 1;
    let mut next = 1;
    while fits + 1 < beyond {
        let tried = next.clamp(fits + 1, beyond - 1);
        if holds(&sticks.laid(tried)) {
            fits = tried;
            next = tried * 2;
        } else {
            beyond = tried;
            next = usize::midpoint(fits, beyond);
        }
    }
    fits
}

/// Whether a stick so long is no longer than `longest`.
pub(super) fn no_longer(row: &LaidRow, longest: f64) -> bool {
    row.length <= longest + SAME_POSITION_MM
}
