//! What a rail's program has to do, from the frame's geometry and the router's profile alone.

use super::router_limits::{EVERYWHERE, FAR_MM, machine_limits, standing};
use crate::geometry::Point;
use crate::lattice::{Frame, Lattice, Rail};
use crate::machines::Router;
use crate::verification::limits::Limits;
use crate::verification::workpiece::{ExpectedMortise, Workpiece};

/// A rail on a router, as a proof is told of it.
#[derive(Debug, Clone)]
pub struct MortisingTask {
    /// The rail. How far it goes on beyond the frame's inner corners, and how wide it is from the
    /// inner face outward, is not known: there is wood everywhere.
    pub workpiece: Workpiece,
    /// Its mortises.
    pub expected: Vec<ExpectedMortise>,
    /// What the machine can do.
    pub limits: Limits,
}

impl MortisingTask {
    /// A rail inner face up, front face toward y 0. Its x runs from the inner corner that lies at
    /// the left then: y to the back, z toward the panel's inside and x make a right-handed frame
    /// only if, seen from the front, the panel's inside lies to the left of x.
    pub fn of(lattice: &Lattice, frame: &Frame, rail: &Rail, router: &Router) -> MortisingTask {
        let mut workpiece = Workpiece::plain(1, frame.thickness, FAR_MM, 2.0 * FAR_MM);
        workpiece.datum_mm = -FAR_MM;
        let half = frame.clearance / 2.0;
        let y_mm = [
            frame.setback - half,
            frame.setback + lattice.section.depth + half,
        ];
        let length = rail.length();
        let from_start = is_left_of(rail, &lattice.region);
        let placed = |[near, far]: [f64; 2]| {
            if from_start {
                [near, far]
            } else {
                [length - far, length - near]
            }
        };
        let mut x_mm: Vec<[f64; 2]> = rail.mortises.iter().map(|m| placed(m.edges)).collect();
        x_mm.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let expected = (1..).zip(x_mm).map(|(index, x_mm)| ExpectedMortise {
            index,
            x_mm,
            y_mm,
            depth_mm: frame.mortise_depth,
        });
        MortisingTask {
            limits: limits(router, frame.thickness),
            expected: expected.collect(),
            workpiece,
        }
    }
}

/// Whether the panel lies to the left of the way from the rail's start to its end.
fn is_left_of(rail: &Rail, region: &[Point]) -> bool {
    let side = |corner: &Point| {
        let along = rail.start.to(rail.end);
        let to = rail.start.to(*corner);
        along.x * to.y - along.y * to.x
    };
    region.iter().map(side).sum::<f64>() > 0.0
}

/// Beside the rail stands what holds it, up to the height of clamps.
fn limits(router: &Router, thickness: f64) -> Limits {
    let before = [-FAR_MM, 0.0];
    let behind = [thickness, FAR_MM];
    let top = router.fixture.clamp_height;
    let mut limits = machine_limits(router);
    // In a corner of a mortise no slice is thin.
    limits.most_thinning = 1.0;
    limits.keep_outs.extend([
        standing("what holds the rail before it", EVERYWHERE, before, top),
        standing("what holds the rail behind it", EVERYWHERE, behind, top),
    ]);
    limits
}
