//! Whether a program does harm, by brute force: points of wood on a net, and the rules of a
//! careful machinist one after the other. Nothing of the proof is used here.

use super::control::{Act, Modes};
use lapwright::dialects::DwellUnit;
use lapwright::lattice::{Bundle, Face, Lattice, Notch};
use lapwright::machines::Router;
use lapwright::verification::HeldBundle;

/// What a hand's breadth is to a house: 0.01 mm.
const FINE: f64 = 0.01;

/// How far inside or outside of a wall the nearest points of the net stand: a wall that is off by
/// more has passed one of them.
const BESIDE: f64 = 0.0099;

#[derive(Clone)]
struct Point {
    at: [f64; 2],
    height: f64,
    wanted: f64,
}

/// A bundle on a router before the program runs.
pub(crate) struct Oracle<'a> {
    router: &'a Router,
    /// By x.
    wood: Vec<Point>,
    /// Least and greatest of all strips' ends.
    x: [f64; 2],
    width: f64,
    depth: f64,
}

/// A slot as seen from above.
#[derive(Clone, Copy)]
struct Slot {
    centre: f64,
    width: f64,
    depth: f64,
    /// How much farther along X it lies for every millimetre toward the back.
    slant: f64,
}

impl Slot {
    fn of(notch: &Notch, up: Face) -> Slot {
        let slant = notch.angle.cos() / notch.angle.sin();
        Slot {
            centre: notch.centre,
            width: notch.width,
            depth: notch.depth,
            // A strip that was rolled over shows its slots the other way round.
            slant: if up == Face::Front { slant } else { -slant },
        }
    }

    fn holds(&self, x: f64, across: f64) -> bool {
        (x - self.centre - across * self.slant).abs() < self.width / 2.0
    }
}

/// Where the wood of a strip is looked at, along it.
fn places(slots: &[Slot], across: f64, length: f64) -> Vec<f64> {
    let mut xs: Vec<f64> = (0..)
        .map(|n| f64::from(n) * 0.45)
        .take_while(|x| *x < length)
        .collect();
    xs.extend([BESIDE, length - BESIDE]);
    for slot in slots {
        let half = slot.width / 2.0;
        let middle = slot.centre + across * slot.slant;
        let off = [half + BESIDE, half - BESIDE, half - 0.3, half * 0.5, 0.1];
        xs.extend(off.iter().flat_map(|d| [middle - d, middle + d]));
    }
    // Too close to a wall to tell.
    let clear = |x: &f64| {
        let off = |slot: &Slot| (x - slot.centre - across * slot.slant).abs() - slot.width / 2.0;
        slots.iter().all(|slot| off(slot).abs() > BESIDE - 1e-6)
    };
    xs.retain(clear);
    xs
}

struct Run<'a> {
    job: &'a Oracle<'a>,
    wood: Vec<Point>,
    modes: Modes,
    at: [Option<f64>; 3],
    turning: Option<bool>,
    waited: f64,
    ended: bool,
    /// Lowest and highest so far.
    z: [f64; 2],
    /// The move before: feed (without end for a rapid), direction, lowest z, length.
    leg: Option<(f64, [f64; 3], f64, f64)>,
}

impl<'a> Oracle<'a> {
    /// `held` says which notches are cut, which were before, and which face lies up.
    pub(crate) fn new(
        lattice: &Lattice,
        bundle: &Bundle,
        router: &'a Router,
        held: &HeldBundle,
    ) -> Self {
        let thickness = lattice.section.thickness;
        let width = held.strips as f64 * thickness;
        assert!(width <= router.fixture.widest_bundle, "one run");
        let of = |numbers: &[usize]| -> Vec<Slot> {
            let slot = |number: &usize| Slot::of(&bundle.notches[number - 1], held.face);
            numbers.iter().map(slot).collect()
        };
        let (before, cut) = (of(&held.before), of(&held.notches));
        let step = thickness * cut[0].slant;
        let mut wood = Vec::new();
        for strip in 0..held.strips {
            let start = strip as f64 * step;
            for row in 0..=4 {
                let in_strip = (thickness * f64::from(row) / 4.0).clamp(BESIDE, thickness - BESIDE);
                let across = in_strip - thickness / 2.0;
                let deepest = |slots: &[Slot], x: f64| {
                    let here = slots.iter().filter(|slot| slot.holds(x, across));
                    here.map(|slot| -slot.depth).fold(0.0, f64::min)
                };
                let all: Vec<Slot> = before.iter().chain(&cut).copied().collect();
                for x in places(&all, across, bundle.length) {
                    let height = deepest(&before, x);
                    wood.push(Point {
                        at: [start + x, strip as f64 * thickness + in_strip],
                        height,
                        wanted: height.min(deepest(&cut, x)),
                    });
                }
            }
        }
        wood.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
        let last = (held.strips - 1) as f64 * step;
        Oracle {
            router,
            wood,
            x: [last.min(0.0), bundle.length + last.max(0.0)],
            width,
            depth: lattice.section.depth,
        }
    }

    /// Why a program does harm; `None` if it does not.
    pub(crate) fn harm(&self, text: &str) -> Option<String> {
        let mut run = Run {
            job: self,
            wood: self.wood.clone(),
            modes: Modes::default(),
            at: [None; 3],
            turning: None,
            waited: 0.0,
            ended: false,
            z: [f64::INFINITY, f64::NEG_INFINITY],
            leg: None,
        };
        if text.starts_with("%\n%") {
            return Some("a program of no lines".to_owned());
        }
        let mut lines = text.lines().filter(|line| *line != "%").zip(1..);
        let found = lines.find_map(|(line, number)| {
            let why = run.line(line).err()?;
            Some(format!("{why}, line {number}"))
        });
        // A percent sign on the first line and on the last needs no M2 (NISTIR 6556, 3.1).
        if found.is_none() && text.starts_with("%\n") && text.ends_with("%\n") && !run.ended {
            return run.end().and_then(|()| run.outcome()).err();
        }
        found.or_else(|| run.outcome().err())
    }
}

type Judged = Result<(), String>;

fn rule(kept: bool, broken: &str) -> Judged {
    if kept { Ok(()) } else { Err(broken.to_owned()) }
}

/// Distance of a point from a segment, in plan.
fn distance(p: [f64; 2], a: [f64; 3], b: [f64; 3]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = (dx * dx + dy * dy).max(1e-300);
    let along = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
    let along = along.clamp(0.0, 1.0);
    (p[0] - a[0] - along * dx).hypot(p[1] - a[1] - along * dy)
}

impl Run<'_> {
    fn line(&mut self, line: &str) -> Judged {
        let acts = self.modes.read(line, self.at)?;
        let only_ends = acts == [Act::End];
        rule(
            !self.ended || acts.is_empty() || only_ends,
            "text after the end",
        )?;
        for act in acts {
            match act {
                Act::Move { rapid, to } => self.step(rapid, to)?,
                Act::Wait(amount) => {
                    self.waited += match self.job.router.controller.dwell {
                        DwellUnit::Seconds => amount,
                        DwellUnit::Milliseconds => amount / 1000.0,
                    };
                }
                Act::Spindle(turning) => self.spindle(turning)?,
                Act::End => self.end()?,
            }
        }
        Ok(())
    }

    fn end(&mut self) -> Judged {
        self.ended = true;
        rule(self.turning.is_none(), "ends turning")?;
        let clear = self.job.router.fixture.clamp_height;
        rule(self.at[2].is_some_and(|z| z >= clear), "ends down")
    }

    fn spindle(&mut self, turning: Option<bool>) -> Judged {
        if turning != self.turning {
            self.waited = 0.0;
            self.turning = turning;
            if let [Some(x), Some(y), Some(z)] = self.at {
                let down = z < 0.0 && self.job.touches([x, y], 0.0);
                rule(!down, "spindle switched in the bundle")?;
            }
        }
        let spindle = self.job.router.spindle;
        let held = (spindle.slowest..=spindle.fastest).contains(&self.modes.rpm);
        rule(turning.is_none() || held, "spindle speed")
    }

    fn step(&mut self, rapid: bool, to: [Option<f64>; 3]) -> Judged {
        let modes = &self.modes;
        let said = modes.units_said && modes.distance_said && modes.zero_said;
        rule(said && (rapid || modes.feed_mode_said), "mode not said")?;
        let clear = self.job.router.fixture.clamp_height;
        let from = self.at;
        self.at = to;
        let (Some(from), Some(to)) = (all(from), all(to)) else {
            // The program begins anywhere: first up, then sideways up there.
            let up = to[0].is_none() && to[1].is_none();
            let high = from[2].is_some_and(|z| z >= clear);
            return rule(
                (up || high) && to[2].is_some_and(|z| z >= clear),
                "from nobody knows where",
            );
        };
        self.travel(to)?;
        self.rates(rapid, from, to)?;
        self.corner(rapid, from, to)?;
        self.rooms(rapid, from, to)?;
        let level = from[2] == to[2] || (from[0] == to[0] && from[1] == to[1]);
        let parts = if level { 1 } else { 300 };
        for part in 0..parts {
            let place = |part: i32| {
                let share = f64::from(part) / f64::from(parts);
                [0, 1, 2].map(|axis| from[axis] + share * (to[axis] - from[axis]))
            };
            self.cut(rapid, place(part), place(part + 1))?;
        }
        Ok(())
    }

    fn travel(&mut self, to: [f64; 3]) -> Judged {
        let Router {
            travel, fixture, ..
        } = self.job.router;
        let off = |value: f64, [low, high]: [f64; 2]| (low - value).max(value - high);
        let x = off(to[0] + fixture.zero_x, [0.0, travel.x]);
        let y = off(to[1] + fixture.zero_y, [0.0, travel.y]);
        // Zero is set to the stock's top, wherever that is on the machine.
        self.z = [self.z[0].min(to[2]), self.z[1].max(to[2])];
        let z = self.z[1] - self.z[0] - travel.z;
        rule(x.max(y).max(z) <= FINE, "travel")?;
        rule(to[2] >= -self.job.depth - FINE, "table")
    }

    fn rates(&self, rapid: bool, from: [f64; 3], to: [f64; 3]) -> Judged {
        if rapid {
            return Ok(());
        }
        let router = self.job.router;
        let feed = self.modes.feed;
        rule(feed > 0.0, "no feed")?;
        rule(feed <= router.travel.fastest_feed + 1e-6, "feed")?;
        let way: [f64; 3] = std::array::from_fn(|axis| to[axis] - from[axis]);
        let length = way[0].hypot(way[1]).hypot(way[2]);
        let down = if length > 0.0 { -way[2] / length } else { 0.0 };
        rule(
            feed * down <= router.cutting.plunge_feed + 1e-6,
            "plunge feed",
        )
    }

    /// A control that keeps its feed v through a corner leaves it by v^2 / 2a, and the straight
    /// way 1 / (sqrt 2 - 1) times as far before it.
    fn corner(&mut self, rapid: bool, from: [f64; 3], to: [f64; 3]) -> Judged {
        let way: [f64; 3] = std::array::from_fn(|axis| to[axis] - from[axis]);
        let length = way[0].hypot(way[1]).hypot(way[2]);
        if length == 0.0 {
            return Ok(());
        }
        let feed = if rapid {
            f64::INFINITY
        } else {
            self.modes.feed
        };
        let unit = way.map(|part| part / length);
        let before = self.leg.replace((feed, unit, from[2].min(to[2]), length));
        let Some((feed_before, unit_before, low, length_before)) =
            before.filter(|_| !self.modes.exact)
        else {
            return Ok(());
        };
        let straight: f64 = (0..3).map(|axis| unit[axis] * unit_before[axis]).sum();
        let speed = feed.min(feed_before).min(1e5) / 60.0;
        let off = speed * speed / (2.0 * self.job.router.travel.acceleration);
        let slow = off < FINE || straight > 0.999 || low.min(from[2].min(to[2])) >= 0.0;
        let reach = (off / (2_f64.sqrt() - 1.0)).min(length.min(length_before) / 2.0);
        let fed = feed.is_finite() || feed_before.is_finite();
        rule(
            slow || !fed || !self.job.touches([from[0], from[1]], reach - FINE),
            "corner rounded in the wood",
        )
    }

    /// The fixture before and behind the bundle, and rapids that run low.
    fn rooms(&self, rapid: bool, from: [f64; 3], to: [f64; 3]) -> Judged {
        let fixture = &self.job.router.fixture;
        let z = from[2].min(to[2]);
        let radius = self.job.router.tool.diameter / 2.0;
        let low = from[1].min(to[1]) - radius + fixture.clear_beside;
        let high = from[1].max(to[1]) + radius - fixture.clear_beside - self.job.width;
        rule(
            z >= fixture.clamp_height || (low >= -FINE && high <= FINE),
            "into the fixture",
        )?;
        let sideways = from[0] != to[0] || from[1] != to[1];
        let mut over = false;
        for part in 0..=100 {
            let share = f64::from(part) / 100.0;
            let place = [0, 1].map(|axis: usize| from[axis] + share * (to[axis] - from[axis]));
            over |= self.job.touches(place, -FINE);
        }
        let low = z < -FINE || (over && z < fixture.clamp_height - FINE);
        rule(!(rapid && sideways && low), "low rapid")
    }

    fn cut(&mut self, rapid: bool, a: [f64; 3], b: [f64; 3]) -> Judged {
        let z = a[2].min(b[2]);
        if z >= 0.0 {
            return Ok(());
        }
        let radius = self.job.router.tool.diameter / 2.0;
        let (low, high) = (a[0].min(b[0]) - radius, a[0].max(b[0]) + radius);
        let first = self.wood.partition_point(|point| point.at[0] < low);
        let mut taken = 0.0_f64;
        for point in self.wood.iter_mut().skip(first) {
            if point.at[0] > high {
                break;
            }
            if point.height > z && distance(point.at, a, b) < radius {
                taken = taken.max(point.height - z);
                point.height = z;
            }
        }
        let router = self.job.router;
        rule(
            z >= -router.tool.flute_length - FINE || taken <= FINE,
            "shank",
        )?;
        if taken <= FINE {
            return Ok(());
        }
        rule(!rapid, "rapid in wood")?;
        rule(b[2] >= a[2], "plunge in wood")?;
        rule(
            taken <= router.cutting.depth_per_pass + FINE,
            "pass too deep",
        )?;
        rule(self.turning == Some(true), "spindle not clockwise")?;
        rule(self.waited >= router.spindle.spin_up - 1e-9, "spin-up")?;
        let chip = f64::from(router.tool.flutes) * router.cutting.chip_load;
        rule(self.modes.feed <= self.modes.rpm * chip + 1e-6, "chip")?;
        // A cutter that is hardly fed burns.
        let spindle = router.spindle;
        let rpm = spindle.speed.clamp(spindle.slowest, spindle.fastest);
        let meant = (rpm * chip).min(router.travel.fastest_feed);
        rule(self.modes.feed >= meant / 4.0 - 1e-6, "rubs")
    }

    /// What must hold at the end.
    fn outcome(&self) -> Judged {
        rule(self.ended, "no end")?;
        let off = |point: &&Point| (point.height - point.wanted).abs() > FINE;
        match self.wood.iter().find(off) {
            None => Ok(()),
            Some(point) => Err(format!(
                "{:.3} {:.3} is at {}",
                point.at[0], point.at[1], point.height
            )),
        }
    }
}

impl Oracle<'_> {
    /// Whether the cutter at a place, `wider` mm larger, touches the bundle.
    fn touches(&self, [x, y]: [f64; 2], wider: f64) -> bool {
        let off = |value: f64, [low, high]: [f64; 2]| (low - value).max(value - high).max(0.0);
        let radius = self.router.tool.diameter / 2.0;
        off(x, self.x).hypot(off(y, [0.0, self.width])) < radius + wider
    }
}

fn all([x, y, z]: [Option<f64>; 3]) -> Option<[f64; 3]> {
    Some([x?, y?, z?])
}
