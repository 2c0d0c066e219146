//! The tool's way through one mortise: a pocket with a floor, entered along a ramp, as a tool that
//! is driven straight down into wood burns and pulls.

use super::notch_path::lateral;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::tool_path::{Motion, Move, NotchPath, Notches, Position};

/// Fall of a ramp over its length, 4.6 degrees. A few degrees are common practice, no source.
const RAMP: f64 = 0.08;

/// What the path of a mortise depends on. Millimetres in the program's frame, mm/min, s.
#[derive(Debug, Clone)]
pub(super) struct Pocket {
    /// Its walls across X.
    pub(super) x: [f64; 2],
    /// Its walls across Y.
    pub(super) y: [f64; 2],
    /// Depths of the passes, from above; the last is the floor.
    pub(super) levels: Vec<f64>,
    pub(super) tool_diameter: f64,
    pub(super) safe_height: f64,
    /// Left on every wall by the roughing passes.
    pub(super) wall_allowance: f64,
    /// The walls at full depth are cut twice, or the slot where there are none.
    pub(super) spring_pass: bool,
    /// How long the tool rests in corners, where the control would round them.
    pub(super) rest: Option<f64>,
    pub(super) feed: f64,
    pub(super) plunge_feed: f64,
}

/// The mortises of a program, in the order in which they are cut.
#[derive(Debug)]
pub(super) struct Pockets(pub(super) Vec<Pocket>);

impl Notches for Pockets {
    fn notch(&self, at: usize) -> Option<NotchPath> {
        Some(NotchPath {
            index: at + 1,
            moves: pocket_moves(self.0.get(at)?),
        })
    }
}

/// The ways of the tool's centre in a pocket, from its middle. The long side may lie along X or Y.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PocketRows {
    /// Roughing passes: their places across the long side.
    pub(super) across: Vec<f64>,
    /// How far they reach along it to either side.
    pub(super) reach: f64,
    /// The wall pass: half its sides, across the long side and along it.
    pub(super) wall: Option<[f64; 2]>,
    /// What it takes off every wall.
    pub(super) left: f64,
}

impl PocketRows {
    /// For a pocket of these sides, no shorter than the tool is wide. The wall pass takes the same
    /// off all four walls, never more than half a radius: what stands between the ends of two rows,
    /// up to 0.4 of a radius before them, is then within its reach too.
    pub(super) fn of(sides: [f64; 2], diameter: f64, allowance: f64) -> PocketRows {
        let [short, long] = [sides[0].min(sides[1]), sides[0].max(sides[1])];
        let half = ((long - diameter) / 2.0).max(0.0);
        let left = allowance.min(diameter / 4.0);
        let (across, wall) = lateral(short, diameter, left);
        PocketRows {
            across,
            reach: wall.map_or(half, |wall| half - left.min(wall)),
            wall: wall.map(|wall| [wall, half]),
            left: wall.map_or(0.0, |wall| left.min(wall)),
        }
    }
}

/// Fall over length of a ramp at full feed that goes down no faster than the plunge feed: the share
/// of the way that goes down is the sine of its angle.
pub(super) fn ramp(feed: f64, plunge_feed: f64) -> f64 {
    RAMP.atan().min((plunge_feed / feed).min(1.0).asin()).tan()
}

/// How often a ramp runs along a row to get `step` deeper.
pub(super) fn ramp_legs(step: f64, reach: f64, slope: f64) -> f64 {
    (step / (slope * 2.0 * reach) - 1e-9).ceil().max(1.0)
}

/// All moves of a mortise. At every depth: down along the first row, to and fro; the rows there and
/// back, overlapping; then the walls in the climb direction. Stock lies on the right of a climb cut
/// (see `notch_path`), so the way inside a pocket runs counter-clockwise seen from above.
fn pocket_moves(pocket: &Pocket) -> Vec<Move> {
    let sides = [pocket.x, pocket.y].map(|[low, high]| high - low);
    let rows = PocketRows::of(sides, pocket.tool_diameter, pocket.wall_allowance);
    let first = rows.across.first().copied().unwrap_or(0.0);
    let mut path = PocketWay {
        pocket,
        moves: Vec::new(),
        at: [first, -rows.reach],
        z: pocket.safe_height,
    };
    path.go(Motion::Rapid, path.at, pocket.safe_height);
    path.go(Motion::Air(pocket.plunge_feed), path.at, 0.0);
    path.rest();
    for (at, level) in pocket.levels.iter().enumerate() {
        path.ramp_down(first, rows.reach, *level);
        path.rough(&rows, *level);
        let last = at + 1 == pocket.levels.len();
        for _ in 0..if last && pocket.spring_pass { 2 } else { 1 } {
            path.round(&rows, *level);
        }
        if last && pocket.spring_pass && rows.wall.is_none() {
            path.along(&rows, *level);
        }
    }
    path.go(Motion::Rapid, path.at, pocket.safe_height);
    path.moves
}

struct PocketWay<'a> {
    pocket: &'a Pocket,
    moves: Vec<Move>,
    /// Across and along the long side, from the pocket's middle.
    at: [f64; 2],
    z: f64,
}

impl PocketWay<'_> {
    /// Across is X where the long side lies along Y; else the pocket is turned by a right angle, so
    /// that counter-clockwise stays so.
    fn place(&self, [across, along]: [f64; 2], z: f64) -> Position {
        let Pocket { x, y, .. } = self.pocket;
        let [middle_x, middle_y] = [x, y].map(|[low, high]| f64::midpoint(*low, *high));
        let (x, y) = if x[1] - x[0] > y[1] - y[0] {
            (middle_x + along, middle_y - across)
        } else {
            (middle_x + across, middle_y + along)
        };
        Position { x, y, z }
    }

    fn go(&mut self, motion: Motion, to: [f64; 2], z: f64) {
        let to_place = self.place(to, z);
        self.moves.push(Move {
            motion,
            to: to_place,
        });
        self.at = to;
        self.z = z;
    }

    fn rest(&mut self) {
        if let Some(seconds) = self.pocket.rest {
            self.go(Motion::Rest(seconds), self.at, self.z);
        }
    }

    /// Through wood, or over a floor just cut; nowhere where the tool already is.
    fn cut(&mut self, to: [f64; 2], z: f64) {
        let [across, along] = [0, 1].map(|axis: usize| to[axis] - self.at[axis]);
        if across.hypot(along).hypot(z - self.z) <= SAME_POSITION_MM {
            return;
        }
        self.go(Motion::Cut(self.pocket.feed), to, z);
        self.rest();
    }

    /// The end of a row on the other side of the pocket.
    fn other_end(&self, reach: f64) -> f64 {
        if self.at[1] > 0.0 { -reach } else { reach }
    }

    fn ramp_down(&mut self, across: f64, reach: f64, level: f64) {
        let nearer = -self.other_end(reach);
        self.cut([across, nearer], self.z);
        let slope = ramp(self.pocket.feed, self.pocket.plunge_feed);
        let top = self.z;
        let step = level + self.z;
        let legs = ramp_legs(step, reach, slope);
        let mut leg = 1.0;
        while leg <= legs {
            let end = self.other_end(reach);
            self.cut([across, end], top - step * leg / legs);
            leg += 1.0;
        }
    }

    /// Every row from end to end; the first begins where the ramp ended.
    fn rough(&mut self, rows: &PocketRows, level: f64) {
        for &across in &rows.across {
            self.cut([across, self.at[1]], -level);
            self.along(rows, level);
        }
    }

    fn along(&mut self, rows: &PocketRows, level: f64) {
        self.cut([self.at[0], self.other_end(rows.reach)], -level);
    }

    /// Round the walls, from the corner next to the last row's end back to it.
    fn round(&mut self, rows: &PocketRows, level: f64) {
        let Some([wall, half]) = rows.wall else {
            return;
        };
        let corners = [[wall, -half], [wall, half], [-wall, half], [-wall, -half]];
        let is_far = |corner: &&[f64; 2]| {
            let here = |axis: usize| corner[axis].signum() == self.at[axis].signum();
            !(here(0) && here(1))
        };
        let skip = corners.iter().take_while(is_far).count();
        let way: Vec<[f64; 2]> = corners.iter().cycle().skip(skip).take(5).copied().collect();
        for corner in way {
            self.cut(corner, -level);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn pocket() -> Pocket {
        Pocket {
            x: [40.0, 43.05],
            y: [4.0, 16.05],
            levels: vec![1.5, 3.0],
            tool_diameter: 2.0,
            safe_height: 8.0,
            wall_allowance: 0.2,
            spring_pass: false,
            rest: None,
            feed: 800.0,
            plunge_feed: 300.0,
        }
    }

    #[test]
    fn the_ramp_is_no_steeper_and_no_faster_than_it_may_be() {
        assert!(approx_eq!(f64, ramp(800.0, 300.0), 0.08, epsilon = 1e-12));
        // 30 mm/min down of 600 mm/min along the way: sine 0.05.
        assert!(approx_eq!(
            f64,
            ramp(600.0, 30.0).atan().sin(),
            0.05,
            epsilon = 1e-12
        ));
        assert!(approx_eq!(f64, ramp(100.0, 300.0), 0.08, epsilon = 1e-12));
        // 1.5 mm at 0.08 take 18.75 mm: two ways of 10 mm, four of 5.
        assert_eq!(ramp_legs(1.5, 5.0, 0.08), 2.0);
        assert_eq!(ramp_legs(1.5, 2.5, 0.08), 4.0);
    }

    #[test]
    fn a_tool_as_wide_as_the_pocket_runs_to_and_fro_in_it() {
        let rows = PocketRows::of([2.0, 12.0], 2.0, 0.2);
        assert_eq!((rows.across, rows.reach, rows.wall), (vec![0.0], 5.0, None));
        let rows = PocketRows::of([3.05, 12.05], 2.0, 0.2);
        assert_eq!(rows.across.len(), 2);
        assert!(approx_eq!(f64, rows.reach, 4.825, epsilon = 1e-12));
        let [wall, half] = rows.wall.unwrap();
        assert!(
            approx_eq!(f64, wall, 0.525, epsilon = 1e-12)
                && approx_eq!(f64, half, 5.025, epsilon = 1e-12)
        );
    }

    /// Twice the area that a way encloses, counter-clockwise positive (shoelace formula).
    fn turns(moves: &[Move]) -> f64 {
        let pairs = moves.iter().zip(moves.iter().skip(1));
        pairs.map(|(a, b)| a.to.x * b.to.y - b.to.x * a.to.y).sum()
    }

    #[test]
    fn walls_are_cut_counter_clockwise_whichever_side_is_long() {
        for (x, y) in [([40.0, 43.05], [4.0, 16.05]), ([40.0, 60.0], [4.0, 16.05])] {
            let moves = pocket_moves(&Pocket { x, y, ..pocket() });
            // The last way round: five corners before the rise.
            let round = &moves[moves.len() - 6..moves.len() - 1];
            let area = (x[1] - x[0] - 2.0) * (y[1] - y[0] - 2.0);
            assert!(
                approx_eq!(f64, turns(round), 2.0 * area, epsilon = 1e-6),
                "{round:?}"
            );
            assert!(moves.iter().all(|step| {
                (x[0] + 0.999..=x[1] - 0.999).contains(&step.to.x)
                    && (y[0] + 0.999..=y[1] - 0.999).contains(&step.to.y)
            }));
        }
    }
}
