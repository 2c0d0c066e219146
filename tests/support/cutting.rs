//! What a cylindrical cutter takes away from a bundle of strips on its way, from the reference
//! interpreter's calls alone. Millimetres in the program's frame: X along the strips from their
//! datum end, Y across the bundle from its front edge, Z up from the top of the stock.

use super::{Canonical, LengthUnits};
use float_cmp::approx_eq;

/// Coordinates are printed with four decimals, programs may have three.
pub const TOLERANCE: f64 = 0.001;

/// Why a program is not as it should be.
pub type Checked<T> = Result<T, String>;

macro_rules! ensure {
    ($condition:expr, $($text:tt)+) => {
        match $condition {
            true => {}
            false => return Err(format!($($text)+)),
        }
    };
}
#[allow(unused_imports, reason = "not every test program runs programs")]
pub(crate) use ensure;

/// The wood, the tool and what it may do; all from the job's and the profile's own numbers.
#[derive(Debug, Clone)]
pub struct Bench {
    /// Length, width and depth of the bundle.
    pub stock: [f64; 3],
    pub diameter: f64,
    pub flute_length: f64,
    pub safe_height: f64,
    pub depth_per_pass: f64,
    /// What the roughing passes leave on each wall.
    pub wall_allowance: f64,
    pub run_out: f64,
    /// Room beside the bundle.
    pub clear_beside: f64,
    /// Where the program's zero lies in the machine along X and Y.
    pub zero: [f64; 2],
    pub travel: [f64; 3],
    /// Speed, feed while cutting, feed on the way down.
    pub speed_and_feeds: [f64; 3],
    /// What the dwell must at least say.
    pub dwell: f64,
}

/// One straight move.
#[derive(Debug, Clone, Copy)]
struct Move {
    from: [f64; 3],
    to: [f64; 3],
    rapid: bool,
    feed: f64,
}

/// A pass through the whole bundle: from where to where along X, how deep, and whether toward
/// larger Y.
#[derive(Debug, Clone, Copy)]
struct Pass {
    low: f64,
    high: f64,
    depth: f64,
    upward: bool,
}

/// A slot through the whole bundle with a flat floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slot {
    pub low: f64,
    pub high: f64,
    pub depth: f64,
}

impl Slot {
    pub fn centre(&self) -> f64 {
        (self.low + self.high) / 2.0
    }

    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}

/// The slots that a program leaves in the bundle, in order along X, and whether on the way to them
/// it keeps to all rules. `meant` are the slots that the job wants.
pub fn slots_of_program(calls: &[Canonical], bench: &Bench, meant: &[Slot]) -> Checked<Vec<Slot>> {
    let moves = moves(calls, bench)?;
    let mut passes: Vec<Pass> = Vec::new();
    for step in &moves {
        if let Some(pass) = pass(step, bench).map_err(|error| format!("{step:?}: {error}"))? {
            check_pass(&pass, &passes, bench, meant)
                .map_err(|error| format!("{step:?}: {error}"))?;
            passes.push(pass);
        }
    }
    Ok(slots(&passes))
}

/// The moves of a program whose spindle, feeds, units and end are in order.
fn moves(calls: &[Canonical], bench: &Bench) -> Checked<Vec<Move>> {
    let (mut at, mut feed, mut speed, mut waited) = ([0.0; 3], 0.0, 0.0, 0.0);
    let (mut turning, mut metric, mut ended) = (false, false, false);
    let mut moves: Vec<Move> = Vec::new();
    for call in calls {
        ensure!(!ended, "{call:?} behind the program's end");
        let mut go = |to: [f64; 3], rapid: bool| {
            ensure!(metric, "a move before the units");
            let from = at;
            at = to;
            if from != to {
                moves.push(Move {
                    from,
                    to,
                    rapid,
                    feed,
                });
            }
            Ok(())
        };
        match *call {
            Canonical::Traverse { x, y, z } => go([x, y, z], true)?,
            Canonical::Feed { x, y, z } => {
                ensure!(turning && speed > 0.0, "a cut with the spindle off");
                ensure!(
                    waited >= bench.dwell - 1e-9,
                    "a cut {waited} after the spindle"
                );
                go([x, y, z], false)?;
            }
            Canonical::SetFeed(rate) => feed = rate,
            Canonical::SetSpeed(rate) => {
                ensure!(!turning, "another speed while the spindle turns");
                ensure!(
                    (rate - bench.speed_and_feeds[0]).abs() <= 0.5,
                    "speed {rate}"
                );
                speed = rate;
            }
            Canonical::SpindleOn { clockwise } => {
                ensure!(clockwise && speed > 0.0, "spindle on: {clockwise}, {speed}");
                (turning, waited) = (true, 0.0);
            }
            Canonical::SpindleOff => {
                ensure!(
                    at[2] >= bench.safe_height - TOLERANCE,
                    "spindle off at {at:?}"
                );
                turning = false;
            }
            Canonical::Dwell(time) => waited += if turning { time } else { 0.0 },
            Canonical::UseLengthUnits(units) => {
                ensure!(units == LengthUnits::Millimetres, "inches");
                ensure!(at == [0.0; 3], "units after a move");
                metric = true;
            }
            Canonical::ProgramEnd => {
                ensure!(!turning, "end with the spindle on");
                ended = true;
            }
            Canonical::Arc { .. } => return Err("an arc".to_owned()),
            Canonical::Comment(_) => {}
            Canonical::Other(ref call) => ensure!(harmless(call), "{call}"),
        }
    }
    ensure!(ended, "no end");
    first_and_last(&moves, bench)?;
    Ok(moves)
}

/// What the modes at the head of a program and its end bring with them.
fn harmless(call: &str) -> bool {
    [
        "SET_FEED_MODE(0, 0)",
        "SELECT_PLANE(CANON_PLANE_XY)",
        "SET_G5X_OFFSET(1, 0.0000, 0.0000, 0.0000, 0.0000, 0.0000, 0.0000)",
        "SET_XY_ROTATION(0.0000)",
        "SET_SPINDLE_MODE(0 0.0000)",
        "PALLET_SHUTTLE()",
        "SET_NAIVECAM_TOLERANCE(0.0000)",
    ]
    .contains(&call)
        || call.starts_with("SET_MOTION_CONTROL_MODE(")
}

/// Nobody knows where the tool stands at the start: it goes up first, alone.
fn first_and_last(moves: &[Move], bench: &Bench) -> Checked<()> {
    let (Some(first), Some(last)) = (moves.first(), moves.last()) else {
        return Err("no moves".to_owned());
    };
    let safe = bench.safe_height;
    ensure!(first.rapid && first.to[..2] == [0.0; 2], "first {first:?}");
    ensure!((first.to[2] - safe).abs() <= TOLERANCE, "first {first:?}");
    ensure!((last.to[2] - safe).abs() <= TOLERANCE, "last {last:?}");
    Ok(())
}

fn changed(step: &Move) -> Vec<usize> {
    (0..3)
        .filter(|&axis| step.from[axis] != step.to[axis])
        .collect()
}

/// Where a move goes through the bundle as a whole, the pass; nothing where it meets no wood.
fn pass(step: &Move, bench: &Bench) -> Checked<Option<Pass>> {
    let [_, width, depth] = bench.stock;
    let low = |axis: usize| step.from[axis].min(step.to[axis]);
    let high = |axis: usize| step.from[axis].max(step.to[axis]);
    check_reach(step, bench)?;
    check_feed(step, bench)?;
    if low(2) >= bench.safe_height - TOLERANCE {
        ensure!(step.rapid || changed(step).len() == 1, "two axes at once");
        return Ok(None);
    }
    ensure!(
        changed(step).len() == 1,
        "two axes at once below the safe height"
    );
    // The first move of all comes from wherever the tool stands.
    if step.from == [0.0; 3] {
        return Ok(None);
    }
    ensure!(!step.rapid || step.to[2] >= step.from[2], "a rapid down");
    let radius = bench.diameter / 2.0;
    let beside = high(1) + radius <= 0.0 || low(1) - radius >= width;
    if beside {
        ensure!(
            changed(step) != [0] || !step.rapid,
            "a rapid sideways at depth"
        );
        return Ok(None);
    }
    ensure!(!step.rapid, "a rapid through the bundle");
    ensure!(
        changed(step) == [1],
        "into the wood other than across the bundle"
    );
    // The tool's edge must leave the wood by the run-out on both sides.
    let clear = radius + bench.run_out - TOLERANCE;
    ensure!(
        low(1) <= -clear && high(1) >= width + clear,
        "not through the whole bundle"
    );
    ensure!(low(2) > -depth, "through the strips");
    ensure!(
        -low(2) <= bench.flute_length + TOLERANCE,
        "deeper than the flutes"
    );
    Ok(Some(Pass {
        low: low(0) - radius,
        high: high(0) + radius,
        depth: -low(2),
        upward: step.to[1] > step.from[1],
    }))
}

/// Inside the machine, and beside the bundle no farther than the fixture is cut away.
fn check_reach(step: &Move, bench: &Bench) -> Checked<()> {
    for axis in 0..2 {
        let place = step.to[axis] + bench.zero[axis];
        let inside = (-TOLERANCE..=bench.travel[axis] + TOLERANCE).contains(&place);
        ensure!(inside, "{place} on axis {axis}");
    }
    ensure!(
        step.to[2] <= bench.safe_height + TOLERANCE,
        "higher than safe"
    );
    ensure!(
        bench.safe_height - step.to[2] <= bench.travel[2] + TOLERANCE,
        "too deep"
    );
    let edge = bench.diameter / 2.0 - bench.clear_beside;
    let room = edge - TOLERANCE..=bench.stock[1] - edge + TOLERANCE;
    let above = step.to[2] >= bench.safe_height - TOLERANCE;
    ensure!(
        above || room.contains(&step.to[1]),
        "no room beside the bundle"
    );
    Ok(())
}

/// Feeds are written as whole mm/min.
fn check_feed(step: &Move, bench: &Bench) -> Checked<()> {
    let [_, cutting, down] = bench.speed_and_feeds;
    if step.rapid {
        return Ok(());
    }
    let wanted = if changed(step) == [2] { down } else { cutting };
    ensure!(
        // Programs state whole feeds, rounded down so that no limit is passed.
        (0.0..1.0).contains(&(wanted + 1e-6 - step.feed)),
        "feed {} for {wanted}",
        step.feed
    );
    Ok(())
}

/// How deep the wood is cut at a place.
fn depth_at(passes: &[Pass], x: f64) -> f64 {
    let over = passes.iter().filter(|pass| pass.low < x && x < pass.high);
    over.map(|pass| pass.depth).fold(0.0, f64::max)
}

/// Stretches of one depth each between `low` and `high`: ends and depth.
fn stretches(passes: &[Pass], low: f64, high: f64) -> Vec<(f64, f64, f64)> {
    let mut ends = vec![low, high];
    let near = passes
        .iter()
        .filter(|pass| pass.low < high && pass.high > low);
    let near: Vec<Pass> = near.copied().collect();
    ends.extend(near.iter().flat_map(|pass| [pass.low, pass.high]));
    ends.retain(|end| (low..=high).contains(end));
    ends.sort_by(f64::total_cmp);
    let stretch = |pair: &[f64]| {
        let depth = depth_at(&near, (pair[0] + pair[1]) / 2.0);
        (pair[0], pair[1], depth)
    };
    ends.windows(2)
        .filter(|pair| pair[1] - pair[0] > TOLERANCE)
        .map(stretch)
        .collect()
}

/// Depth taken at once, and the way along the walls.
fn check_pass(pass: &Pass, before: &[Pass], bench: &Bench, meant: &[Slot]) -> Checked<()> {
    let mut fresh = 0.0;
    for (low, high, depth) in stretches(before, pass.low, pass.high) {
        let taken = pass.depth - depth;
        ensure!(
            taken <= bench.depth_per_pass + TOLERANCE,
            "{taken} deep at once"
        );
        if taken > TOLERANCE {
            fresh += high - low;
        }
    }
    let of = |slot: &&Slot| slot.low - TOLERANCE <= pass.low && pass.high <= slot.high + TOLERANCE;
    let Some(slot) = meant.iter().find(of) else {
        return Err(format!(
            "from {} to {} there is no notch",
            pass.low, pass.high
        ));
    };
    // A tool as wide as the notch has wood on both sides.
    if slot.width() - bench.diameter < 4.0 * TOLERANCE {
        return Ok(());
    }
    let at_high_wall = pass.high > slot.high - 1.5 * TOLERANCE;
    let at_low_wall = pass.low < slot.low + 1.5 * TOLERANCE;
    if at_high_wall || at_low_wall {
        // Seen from above the tool turns clockwise. Climb: its edge moves against the feed where
        // it meets the wood, so the wood is on its right; facing larger Y, right is larger X.
        ensure!(
            pass.upward == at_high_wall,
            "a wall pass against the climb direction"
        );
        let most = bench.wall_allowance + 2.0 * TOLERANCE;
        ensure!(fresh <= most, "a wall pass that takes {fresh}");
    }
    Ok(())
}

/// Neighbouring stretches of one depth put together.
fn slots(passes: &[Pass]) -> Vec<Slot> {
    let low = passes
        .iter()
        .map(|pass| pass.low)
        .fold(f64::INFINITY, f64::min);
    let high = passes
        .iter()
        .map(|pass| pass.high)
        .fold(f64::NEG_INFINITY, f64::max);
    let mut slots: Vec<Slot> = Vec::new();
    for (low, high, depth) in stretches(passes, low, high) {
        match slots.last_mut() {
            Some(last) if approx_eq!(f64, last.depth, depth, epsilon = 1e-9) => last.high = high,
            _ => slots.push(Slot { low, high, depth }),
        }
    }
    slots.retain(|slot| slot.depth > 0.0);
    slots
}
