//! What a program for rows of pieces has to do, from the pieces' geometry and the router's profile.

use super::router_limits::{EVERYWHERE, FAR_MM, machine_limits, standing};
use crate::geometry::Point;
use crate::infill::{PieceKind, PieceLap};
use crate::lattice::Face;
use crate::machines::{LongSticks, Router};
use crate::verification::limits::Limits;
use crate::verification::workpiece::{ExpectedLap, ExpectedPiece, ExpectedRows, Workpiece};

/// Sticks with rows of pieces on a router, as a proof is told of them.
#[derive(Debug, Clone)]
pub struct MitringTask {
    /// All sticks and what is between them, as one block: where wood is, the sticks say.
    pub workpiece: Workpiece,
    /// The pieces.
    pub expected: ExpectedRows,
    /// What the machine can do.
    pub limits: Limits,
}

/// How a piece lies in its stick, in the words of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeldPiece {
    /// From the stick's datum end to the piece's nearest point, mm.
    pub from_mm: f64,
    /// Whether its first end lies away from the datum end.
    pub turned: bool,
    /// Whether the side on its left lies at the stick's front edge.
    pub left_in_front: bool,
}

impl HeldPiece {
    /// The face that is seen from above: each turn that is no half turn shows the other one.
    fn face_up(self) -> Face {
        if self.turned == self.left_in_front {
            Face::Front
        } else {
            Face::Back
        }
    }
}

/// How sticks lie on the machine.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldRow {
    /// Length of a stick, mm.
    pub stick_mm: f64,
    /// y of the sticks' front edges, mm.
    pub front_edges_mm: Vec<f64>,
    /// The pieces of each.
    pub pieces: Vec<HeldPiece>,
}

impl MitringTask {
    /// Pieces of a kind in sticks that lie so. Nothing where that cannot be right, whatever is cut: no
    /// profile for it, sticks on top of each other, a lap that looks down.
    pub fn of(
        kind: &PieceKind,
        (thickness, depth): (f64, f64),
        router: &Router,
        held: &HeldRow,
    ) -> Option<MitringTask> {
        let long_sticks = router.mitres?;
        let wide = thickness;
        let sticks_y_mm: Vec<[f64; 2]> = (held.front_edges_mm.iter())
            .map(|front| [*front, front + wide])
            .collect();
        let apart = |pair: &[[f64; 2]]| matches!(pair, [a, b] if a[1] <= b[0]);
        if !sticks_y_mm.windows(2).all(apart) {
            return None;
        }
        let mut pieces = Vec::new();
        for (stick, [front, _]) in sticks_y_mm.iter().enumerate() {
            for piece in &held.pieces {
                let laid = Laid {
                    piece: *piece,
                    length: kind.figures.length,
                    middle: front + wide / 2.0,
                };
                let laps = kind.figures.laps.iter();
                pieces.push(ExpectedPiece {
                    index: pieces.len() + 1,
                    stick,
                    outline: kind
                        .outline
                        .iter()
                        .map(|corner| laid.place(*corner))
                        .collect(),
                    laps: laps
                        .map(|lap| laid.lap(lap, depth))
                        .collect::<Option<_>>()?,
                });
            }
        }
        let block = sticks_y_mm.last().map_or(0.0, |last| last[1]);
        let workpiece = Workpiece::plain(1, block, depth, held.stick_mm);
        Some(MitringTask {
            limits: limits(router, &long_sticks, &workpiece),
            expected: ExpectedRows {
                sticks_y_mm,
                pieces,
                mitre_depth_mm: depth - long_sticks.skin,
            },
            workpiece,
        })
    }
}

/// A piece in its stick.
struct Laid {
    piece: HeldPiece,
    length: f64,
    /// y of the stick's centre line.
    middle: f64,
}

impl Laid {
    fn place(&self, corner: Point) -> Point {
        let along = if self.piece.turned {
            self.length - corner.x
        } else {
            corner.x
        };
        let across = if self.piece.left_in_front {
            -corner.y
        } else {
            corner.y
        };
        Point::new(self.piece.from_mm + along, self.middle + across)
    }

    /// A lap as it lies; nothing where its face lies down.
    fn lap(&self, lap: &PieceLap, depth: f64) -> Option<ExpectedLap> {
        if lap.face != self.piece.face_up() {
            return None;
        }
        let start = Point::new(lap.centre, 0.0);
        let (sine, cosine) = lap.angle.sin_cos();
        let middle = self.place(start);
        let on = self.place(Point::new(start.x + cosine, sine));
        let angle = (on.y - middle.y).atan2(on.x - middle.x);
        Some(ExpectedLap {
            middle,
            width_mm: lap.width,
            depth_mm: lap.fraction * depth,
            angle_rad: angle.rem_euclid(std::f64::consts::PI),
        })
    }
}

/// Clamps stand on the sticks' ends, as far in as the profile's grip; the fixture before and behind all
/// sticks, and no farther back than it holds them.
fn limits(router: &Router, long_sticks: &LongSticks, workpiece: &Workpiece) -> Limits {
    let fixture = &router.fixture;
    let top = fixture.clamp_height;
    let width = workpiece.thickness_mm.min(fixture.widest_bundle);
    let before = [-FAR_MM, -fixture.clear_beside];
    let behind = [width + fixture.clear_beside, FAR_MM];
    let at_datum = [-FAR_MM, long_sticks.grip];
    let at_far_end = [workpiece.length_mm - long_sticks.grip, FAR_MM];
    let machine = machine_limits(router);
    let mut keep_outs = vec![
        standing("the fixture before the sticks", EVERYWHERE, before, top),
        standing("the fixture behind the sticks", EVERYWHERE, behind, top),
        standing("the grip at the datum end", at_datum, EVERYWHERE, top),
        standing("the grip at the far end", at_far_end, EVERYWHERE, top),
    ];
    keep_outs.extend(machine.keep_outs);
    Limits {
        keep_outs,
        table_z_mm: Some(-workpiece.depth_mm),
        ..machine
    }
}
