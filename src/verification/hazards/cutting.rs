//! The cutter in the wood: what it removes, and whether it may.

use super::watch::{AT_TOP_MM, Watch};
use crate::phrase;
use crate::phrase::Phrase;
use crate::verification::faults::figure;
use crate::verification::gcode::state::ToolMove;
use crate::verification::simulation::bundle::BRUSH_HEIGHT_MM;
use crate::verification::simulation::footprint::Footprint;
use crate::verification::simulation::piece::MovePiece;
use crate::verification::simulation::sweep::KnownMove;

/// The shank is taken this much larger in radius, mm: nothing runs so true that less is air. A
/// cutter so near to a wall or a floor touches it.
const RUN_OUT_MM: f64 = 0.02;

/// Greatest fall over length of a way down into wood, inside a mortise or along a notch: a few
/// degrees, common practice, no source.
const STEEPEST_RAMP: f64 = 0.1;

/// A ramp steeper by less than this share is as steep as it may be: places are printed with three
/// decimals.
const STEEPER: f64 = 1e-3;

/// What a move met.
#[derive(Default)]
struct MetWood {
    /// Height of wood that it took away.
    wood: Option<f64>,
    /// Height of wood beside the shank.
    shank: Option<f64>,
    /// Height of wood above the clearance below a rapid.
    close: Option<f64>,
    /// How wide the wood that it took away was at most, square to the way.
    slice: f64,
    /// Whether there is wood beside or below it that it touches without taking any away; looked for
    /// only where the spindle does not turn as it must.
    touches: bool,
}

fn higher(kept: &mut Option<f64>, height: Option<f64>) {
    *kept = [*kept, height].into_iter().flatten().reduce(f64::max);
}

impl Watch<'_> {
    /// Cuts the bundle with a move and judges it.
    pub(super) fn cut(&mut self, step: &ToolMove, way: &KnownMove) {
        let bent = self.bent_rapid(step, way);
        let met = self.sweep(step, way);
        let line = step.line;
        let wood = [met.wood, bent].into_iter().flatten().reduce(f64::max);
        if let Some(height) = wood {
            self.has_cut = true;
            if step.rapid {
                let text = rapid_text(height, met.wood.is_none());
                self.fault("rapid-in-stock", line, text);
            } else if way.steepest_fall() > 0.0 && !self.check_descent(way, height, line) {
                // Told already.
            } else if let Some(limit) = self.limits.max_depth_per_pass_mm
                && height > limit + BRUSH_HEIGHT_MM
            {
                let height = figure(height);
                let limit = figure(limit);
                let text = phrase!("this takes {} in one pass, the limit is {}", height, limit);
                self.fault("pass-too-deep", line, text);
            }
            self.check_spindle(step, "cuts");
            self.check_chips(step, met.slice);
        } else if met.touches {
            self.check_spindle(step, "runs along wood");
        }
        if wood.is_some() {
            // Told already.
        } else if met.close.is_some() {
            let text = "this runs sideways at full speed too low above wood, or along a cut";
            self.fault("low-rapid", line, text);
        } else if self.runs_low(step, way) {
            let text = "this runs sideways at full speed below the top of the stock, where clamps \
                        and stops stand";
            self.fault("low-rapid", line, text);
        }
        if let Some(height) = met.shank {
            let text = phrase!(
                "the flutes are too short: {} of wood stand beside the shank",
                figure(height)
            );
            self.fault("shank-in-stock", line, text);
        }
    }

    /// Whether the cutter may go down into the wood so: along a ramp in a mortise or a notch, else
    /// never.
    fn check_descent(&mut self, way: &KnownMove, height: f64, line: usize) -> bool {
        let radius = self.limits.tool_radius_mm();
        let sine = way.steepest_fall();
        let is_plunge = sine > 1.0 - 1e-9;
        if is_plunge || !self.ways_in.admit(way, radius) {
            let height = figure(height);
            let way_in = self.ways_in.advice();
            let text = phrase!("this goes down into {} of wood: {}", height, way_in);
            self.fault("plunge", line, text);
            return false;
        }
        if sine.asin().tan() > STEEPEST_RAMP * (1.0 + STEEPER) {
            let text = format!(
                "this goes down by 1 in {:.1}; at most 1 in {:.0} is allowed",
                sine.asin().tan().recip(),
                STEEPEST_RAMP.recip()
            );
            self.fault("ramp-too-steep", line, text);
            return false;
        }
        true
    }

    /// A sideways rapid below the top of the stock, on a machine whose clearance is known: beside
    /// the bundle as well, fixtures are built closer than the program can know.
    fn runs_low(&self, step: &ToolMove, way: &KnownMove) -> bool {
        let sideways = [0, 1].iter().any(|axis| {
            let [low, high] = way.range(*axis);
            low < high
        });
        let below = way.range(2)[0] < -AT_TOP_MM;
        step.rapid && sideways && below && self.limits.clearance_mm.is_some()
    }

    #[allow(clippy::float_cmp)] // exact: a move along an axis leaves the others as they are
    fn sweep(&mut self, step: &ToolMove, way: &KnownMove) -> MetWood {
        let mut met = MetWood::default();
        let radius = self.limits.tool_radius_mm();
        let shank = self.limits.shank_diameter_mm.map_or(radius, |d| d / 2.0);
        let wider = shank.max(radius) - radius + RUN_OUT_MM;
        let flutes = self.limits.flute_length_mm;
        let sideways = way.from[0] != way.to[0] || way.from[1] != way.to[1];
        let clearance = self.limits.clearance_mm.filter(|_| step.rapid && sideways);
        let idle = self.spindle_fault(step).is_some();
        let slant = slant(way);
        // How wide a slice is matters to few moves, and takes time to find out.
        let measure = self.limits.most_thinning > 1.0 && !step.rapid && slant > 0.0;
        let bundle = &mut self.bundle;
        if !bundle.is_near([way.range(0), way.range(1)], radius + wider) {
            return met;
        }
        way.pieces_below(clearance.unwrap_or(0.0), &mut |piece| {
            if let Some(clearance) = clearance {
                // At the clearance exactly is high enough.
                let close = piece.raised(2.0 * BRUSH_HEIGHT_MM - clearance);
                higher(&mut met.close, bundle.contact(&close, 0.0));
            }
            let in_stock = piece.below(0.0);
            let Some(piece) = in_stock.filter(|piece| piece.lowest() < -AT_TOP_MM) else {
                return;
            };
            if idle && met.wood.is_none() && bundle.contact(&piece, 0.0).is_none() {
                let near = piece.raised(-RUN_OUT_MM);
                met.touches |= bundle.contact(&near, RUN_OUT_MM).is_some();
            }
            let cut = bundle.cut(&piece, step.line, measure);
            higher(&mut met.wood, cut.height);
            met.slice = met.slice.max(cut.across * slant);
            if let Some(above) = flutes.and_then(|flutes| piece.raised(flutes).below(0.0)) {
                higher(&mut met.shank, bundle.contact(&above, wider));
            }
        });
        met
    }

    /// A rapid along several axes is a straight line by NISTIR 6556, 3.5.1; on many controls each
    /// axis runs at its own speed, so that the cutter may be anywhere in the box between its ends.
    fn bent_rapid(&self, step: &ToolMove, way: &KnownMove) -> Option<f64> {
        let [x, y, z] = [0, 1, 2].map(|axis| way.range(axis));
        let moving = [x, y, z].iter().filter(|range| range[0] < range[1]).count();
        if !step.rapid || moving < 2 || z[0] >= -AT_TOP_MM {
            return None;
        }
        let footprint = Footprint::Anywhere([x, y]);
        self.bundle.contact(&MovePiece::level(footprint, z[0]), 0.0)
    }
}

/// Width square to a straight way as a share of the width along x; 1 where it is not straight.
fn slant(way: &KnownMove) -> f64 {
    let [x, y] = [0, 1].map(|axis| way.to[axis] - way.from[axis]);
    if way.arc.is_some() || x.hypot(y) <= 0.0 {
        return 1.0;
    }
    y.abs() / x.hypot(y)
}

fn rapid_text(height: f64, only_bent: bool) -> Phrase {
    let height = figure(height);
    if only_bent {
        return phrase!(
            "on a control that runs each axis at its own speed this rapid goes through {} \
             of wood: one axis at a time below the top",
            height
        );
    }
    phrase!("this rapid goes through {} of wood", height)
}
