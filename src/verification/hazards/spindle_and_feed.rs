//! Modes, spindle, feeds, waits.

use super::watch::{AT_TOP_MM, Watch};
use crate::phrase;
use crate::units::{Mm, decimal};
use crate::verification::gcode::codes::SpindleTurn;
use crate::verification::gcode::state::{SpindleState, ToolMove};
use crate::verification::limits::DwellUnit;
use crate::verification::simulation::sweep::KnownMove;

/// A wait of more seconds than this is meant in milliseconds: nobody waits so long for a spindle.
const LONGEST_WAIT_S: f64 = 60.0;

/// A wait of fewer milliseconds than this is meant in seconds.
const SHORTEST_WAIT_MS: f64 = 50.0;

/// Feeds and speeds within this share of a limit are at the limit: they are printed rounded.
const SHARE: f64 = 1.0 + 1e-6;

/// A feed or speed for a sentence.
fn rate(value: f64) -> String {
    decimal(value, 0).unwrap_or_else(|_| "no figure".to_owned())
}

/// What is wrong with the spindle for a cutter that touches wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SpindleFault {
    Stopped,
    Backwards,
    NotUpToSpeed,
}

impl SpindleFault {
    fn code(self) -> &'static str {
        match self {
            SpindleFault::Stopped => "spindle-stopped",
            SpindleFault::Backwards => "spindle-backwards",
            SpindleFault::NotUpToSpeed => "no-spin-up",
        }
    }
}

impl Watch<'_> {
    /// Every mode is said before it first matters; each is complained of once.
    pub(super) fn check_stated(&mut self, step: &ToolMove) {
        let said = step.stated;
        let line = step.line;
        let rows = [
            (
                said.units || self.told.units,
                "units-unstated",
                "this moves before the program has said G20 or G21",
            ),
            (
                said.distance || self.told.distance,
                "distance-unstated",
                "this moves before the program has said G90 or G91",
            ),
            (
                said.work_zero || self.told.work_zero || self.limits.one_zero,
                "work-zero-unstated",
                "this moves before the program has said G54",
            ),
            (
                said.feed_mode || self.told.feed_mode || step.rapid,
                "feed-mode-unstated",
                "this cuts before the program has said G94",
            ),
            (
                said.plane || self.told.plane || step.arc.is_none(),
                "plane-unstated",
                "this arc comes before the program has said G17",
            ),
        ];
        for (fine, code, text) in rows {
            if !fine {
                self.fault(code, line, text);
            }
        }
        self.told.units = true;
        self.told.distance = true;
        self.told.work_zero = true;
        self.told.feed_mode |= !step.rapid;
        self.told.plane |= step.arc.is_some();
    }

    /// Feeds that need no wood to be wrong; `way` is `None` where the places are not known.
    pub(super) fn check_feed(&mut self, step: &ToolMove, way: Option<&KnownMove>) {
        if step.rapid {
            return;
        }
        let Some(feed) = step.feed else {
            let text =
                "this cuts without a feed: F is missing or 0; write F in this line or before it";
            return self.fault("no-feed", step.line, text);
        };
        if let Some(limit) = self.limits.max_feed.filter(|limit| feed > limit * SHARE) {
            let feed = rate(feed);
            let limit = rate(limit);
            let text = format!("F is {feed} mm/min, the limit {limit}");
            self.fault("feed-too-fast", step.line, text);
        }
        let down = way.map_or(0.0, KnownMove::steepest_fall);
        let limit = self.limits.max_plunge;
        if let Some(limit) = limit.filter(|limit| feed * down > limit * SHARE) {
            let feed = rate(feed * down);
            let limit = rate(limit);
            let text = format!("this goes down at {feed} mm/min, the limit is {limit}");
            self.fault("plunge-too-fast", step.line, text);
        }
    }

    /// By how much faster than in full wood a cutter may go that takes slices so wide. Its edges
    /// leave the wood where the circle is at most half a chord from its middle line: chips there are
    /// as much thinner than the feed as half the chord is shorter than the radius.
    fn thinning(&self, slice: f64) -> f64 {
        let radius = self.limits.tool_radius_mm();
        if slice >= radius || slice <= 0.0 {
            return 1.0;
        }
        let half_chord = (radius * radius - (radius - slice).powi(2)).sqrt();
        (radius / half_chord).min(self.limits.most_thinning)
    }

    /// Feed and speed are held against `thickest`, the feed per turn that the edges take here,
    /// `faster` times that of full wood. The figures that would do are rounded to the safe side.
    fn chip_text(&self, feed: f64, rpm: f64, thickest: f64, faster: f64) -> String {
        let enough = (thickest * rpm * SHARE).floor();
        let turns = (feed / thickest).ceil();
        let mut text = format!(
            "this cuts at {} mm/min; at {} turns a minute the cutter's edges take {} here: write F{}",
            rate(feed),
            rate(rpm),
            rate(enough),
            rate(enough),
        );
        if self.limits.max_rpm.is_none_or(|most| turns <= most) {
            text.push_str(&format!(", or S{}", rate(turns)));
        }
        text.push_str("; edges that take more need a greater chip_load in the router's profile");
        if faster > 1.0 {
            text.push_str(&format!(
                " (slices off a wall, thinner chips: {faster:.3} times the feed of full wood)"
            ));
        }
        text
    }

    /// What is wrong with the spindle for a cutter that touches wood.
    pub(super) fn spindle_fault(&self, step: &ToolMove) -> Option<SpindleFault> {
        let needed = self.limits.spin_up_s.unwrap_or(0.0);
        if !step.spindle.turns() {
            Some(SpindleFault::Stopped)
        } else if step.spindle.turn == SpindleTurn::CounterClockwise {
            Some(SpindleFault::Backwards)
        } else {
            (self.waited_s * SHARE < needed).then_some(SpindleFault::NotUpToSpeed)
        }
    }

    /// The spindle in a move that touches wood; `what` says how.
    pub(super) fn check_spindle(&mut self, step: &ToolMove, what: &str) {
        let Some(fault) = self.spindle_fault(step) else {
            return;
        };
        let text = match fault {
            SpindleFault::Stopped => format!("this {what} with the spindle stopped"),
            SpindleFault::Backwards => format!("this {what} with the spindle turning backwards"),
            SpindleFault::NotUpToSpeed => format!(
                "this {what} {:.1} s of waiting after the spindle was started; it needs {} s",
                self.waited_s,
                self.limits.spin_up_s.unwrap_or(0.0)
            ),
        };
        self.fault(fault.code(), step.line, text);
    }

    /// The feed in a move that cuts slices so wide, mm square to its way.
    pub(super) fn check_chips(&mut self, step: &ToolMove, slice: f64) {
        let line = step.line;
        let faster = self.thinning(slice);
        let per_turn = self.limits.max_feed_per_turn_mm.map(|most| most * faster);
        if let Some((thickest, feed)) = per_turn.zip(step.feed)
            && step.spindle.turns()
            && feed > thickest * step.spindle.rpm * SHARE
        {
            let text = self.chip_text(feed, step.spindle.rpm, thickest, faster);
            self.fault("chip-too-thick", line, text);
        }
        let slow = self.limits.min_feed.zip(step.feed);
        if let Some((limit, feed)) = slow.filter(|(limit, feed)| feed * SHARE < *limit) {
            let feed = rate(feed);
            let limit = rate(limit);
            let text = format!("this cuts at {feed} mm/min; below {limit} the cutter rubs");
            self.fault("feed-too-slow", line, text);
        }
    }

    pub(super) fn see_spindle(&mut self, spindle: SpindleState, line: usize) {
        let turning = (spindle.turn != SpindleTurn::Stopped).then_some((spindle.turn, spindle.rpm));
        if turning == self.turning {
            return;
        }
        let switched = turning.map(|(turn, _)| turn) != self.turning.map(|(turn, _)| turn);
        self.turning = turning;
        self.waited_s = 0.0;
        if switched && self.is_in_wood() {
            let text = "the spindle is started or stopped with the cutter down in the bundle";
            self.fault("spindle-switched-in-stock", line, text);
        }
        let Some((_, rpm)) = turning else { return };
        if rpm <= 0.0 {
            let text = "the spindle is started without a speed: S is missing or 0";
            return self.fault("no-spindle-speed", line, text);
        }
        let low = self.limits.min_rpm;
        let high = self.limits.max_rpm;
        if low.is_some_and(|low| rpm * SHARE < low) || high.is_some_and(|high| rpm > high * SHARE) {
            let bound = |limit: Option<f64>| limit.map_or_else(|| "any".to_owned(), rate);
            let rpm = rate(rpm);
            let low = bound(low);
            let high = bound(high);
            let text = format!("S is {rpm} per minute; the limits are {low} to {high}");
            self.fault("spindle-speed", line, text);
        }
    }

    /// Whether the cutter is below the stock's top, over the bundle.
    fn is_in_wood(&self) -> bool {
        let [Some(x), Some(y), Some(z)] = self.place else {
            return false;
        };
        z < -AT_TOP_MM && self.bundle.is_over([x, y])
    }

    pub(super) fn see_dwell(&mut self, amount: f64, line: usize) {
        let (seconds, wrong) = match self.limits.dwell_unit {
            Some(DwellUnit::Milliseconds) => {
                (amount / 1000.0, amount > 0.0 && amount < SHORTEST_WAIT_MS)
            }
            Some(DwellUnit::Seconds) | None => (amount, amount > LONGEST_WAIT_S),
        };
        if wrong {
            let text = format!("this control waits {seconds} s here: P is in the wrong unit");
            self.fault("dwell-unit", line, text);
        }
        if seconds > 0.0 {
            // The axes stand still in a wait (NISTIR 6556, 3.5.4): no corner is rounded there.
            self.before = None;
        }
        self.waited_s += seconds;
        self.sums.waiting_s += seconds;
    }

    pub(super) fn see_tool_change(&mut self, tool: Option<u32>, line: usize) {
        if self.has_cut {
            let name = tool.map_or_else(String::new, |tool| format!(" to T{tool}"));
            let diameter = Mm(self.limits.tool_diameter_mm);
            let text = phrase!(
                "a change{} after the first cut: only the cutter of {} is known here; write one program a tool",
                name,
                diameter
            );
            self.fault("tool-change", line, text);
        }
    }
}
