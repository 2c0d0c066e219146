//! The drilling cycles G81, G82 and G83 (NISTIR 6556, 3.5.16).

use super::block::GcodeBlock;
use super::codes::MotionCode;
use super::lexer::BlockProblem;

/// How far above the last bottom a peck slows down: 0.010 inch, mm (3.5.16.4 leaves the figure to
/// the control; this is the one of the public reference interpreter).
const PECK_CLEARANCE_MM: f64 = 0.254;

/// At most this many moves may come from one line.
const MOST_MOVES: usize = 4000;

/// What stays in force from one hole to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct DrillingCycle {
    /// Z as written, mm.
    z: f64,
    /// R as written, mm.
    r: f64,
    /// Seconds or milliseconds at the bottom, as written (G82).
    dwell: f64,
    /// Depth of a peck, mm (G83).
    peck: f64,
    /// Height before the first hole of the row, mm, program frame: where G98 goes back to.
    before: f64,
}

/// One step of a hole: a vertical move or a wait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum HoleStep {
    /// A rapid to this height.
    Rapid(f64),
    /// Down at the feed to this height.
    Feed(f64),
    /// A wait.
    Dwell(f64),
}

/// Heights of a hole, mm, program frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HoleHeights {
    /// Where the feed begins.
    pub(super) r: f64,
    pub(super) bottom: f64,
}

fn problem(text: &str) -> BlockProblem {
    BlockProblem {
        code: "cycle",
        column: 0,
        text: text.to_owned(),
    }
}

impl DrillingCycle {
    /// The cycle that a block asks for, with what it leaves out taken from the hole before;
    /// `scale` turns its lengths into mm, `height` is where the cutter is.
    pub(super) fn read(
        block: &GcodeBlock,
        motion: MotionCode,
        before: Option<DrillingCycle>,
        scale: f64,
        height: f64,
    ) -> Result<DrillingCycle, BlockProblem> {
        let length = |letter| block.number(letter).map(|value| value * scale);
        let z = length('Z').or(before.map(|cycle| cycle.z));
        let r = length('R').or(before.map(|cycle| cycle.r));
        let Some((z, r)) = z.zip(r) else {
            return Err(problem("a drilling cycle says Z and R"));
        };
        let dwell = block.number('P').or(before.map(|cycle| cycle.dwell));
        let peck = length('Q').or(before.map(|cycle| cycle.peck));
        let missing = motion == MotionCode::DrillDwell && dwell.is_none()
            || motion == MotionCode::DrillPeck && peck.is_none();
        if missing {
            return Err(problem("G82 says P, G83 says Q"));
        }
        let dwell = dwell.unwrap_or(0.0);
        let peck = peck.unwrap_or(0.0);
        if dwell < 0.0 || motion == MotionCode::DrillPeck && peck <= 0.0 {
            return Err(problem("P is not negative, Q is more than 0"));
        }
        let before = before.map_or(height, |cycle| cycle.before);
        Ok(DrillingCycle {
            z,
            r,
            dwell,
            peck,
            before,
        })
    }

    /// Where the cutter goes after the hole: to R, or with G98 back to where it came from.
    pub(super) fn clear(&self, retract_to_old: bool, r: f64) -> f64 {
        if retract_to_old {
            self.before.max(r)
        } else {
            r
        }
    }

    /// The heights of a hole, in the units and frame of `old`; with G91, R counts from the height
    /// before and Z from R (3.5.16). `up` is where the frame's Z zero is.
    pub(super) fn heights(&self, absolute: bool, old: f64, up: f64) -> HoleHeights {
        if absolute {
            HoleHeights {
                r: self.r + up,
                bottom: self.z + up,
            }
        } else {
            HoleHeights {
                r: self.r + old,
                bottom: self.z + self.r + old,
            }
        }
    }

    /// The steps of one hole from R down to the bottom and up to `clear`.
    pub(super) fn hole(
        &self,
        motion: MotionCode,
        heights: HoleHeights,
        clear: f64,
    ) -> Result<Vec<HoleStep>, BlockProblem> {
        let HoleHeights { r, bottom } = heights;
        if r < bottom {
            return Err(problem("R of a drilling cycle lies below its Z"));
        }
        let mut steps = vec![HoleStep::Rapid(r)];
        if motion == MotionCode::DrillPeck {
            if (r - bottom) / self.peck * 3.0 > MOST_MOVES as f64 {
                return Err(problem(
                    "Q is so small that the hole has thousands of pecks",
                ));
            }
            let mut depth = r - self.peck;
            while depth > bottom {
                steps.push(HoleStep::Feed(depth));
                steps.push(HoleStep::Rapid(r));
                steps.push(HoleStep::Rapid(depth + PECK_CLEARANCE_MM));
                depth -= self.peck;
            }
        }
        steps.push(HoleStep::Feed(bottom));
        if motion == MotionCode::DrillDwell {
            steps.push(HoleStep::Dwell(self.dwell));
        }
        steps.push(HoleStep::Rapid(clear));
        Ok(steps)
    }
}

/// How often the hole is repeated (L), bounded so that no line makes endless work.
pub(super) fn repeats(block: &GcodeBlock, moves_per_hole: usize) -> Result<usize, BlockProblem> {
    let count = block.whole('L')?.unwrap_or(1) as usize;
    if count == 0 || count.saturating_mul(moves_per_hole + 2) > MOST_MOVES {
        return Err(problem("L is 1 or more, and not thousands of moves"));
    }
    Ok(count)
}
