//! A second opinion for the mutation test, as plain as can be: points of wood, straight moves, and
//! the rules of a careful machinist one after the other. It shares the reader with the proof (the
//! reference interpreter checks that) and nothing else.

use lapwright::verification::gcode::codes::{ProgramStop, SpindleTurn};
use lapwright::verification::gcode::interpreter::Interpreter;
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::gcode::state::{Event, StoredPositions, ToolMove, known};

const R: f64 = 1.0;
const SHANK: f64 = 3.175 / 2.0;
const FINE: f64 = 0.01;

/// A point of wood in plan: its height now, and the height wanted in the end (`None` right at an
/// edge).
struct Point {
    at: [f64; 2],
    height: f64,
    wanted: f64,
}

struct Oracle {
    wood: Vec<Point>,
    y: f64,
    waited: f64,
    turning: bool,
    at: [f64; 3],
    ended: bool,
    harm: Option<String>,
}

/// Points on and between the faces of the strips: a coarse net, and a fine row on both sides of
/// every wall.
fn wood(centres: &[f64], y_end: f64) -> Vec<Point> {
    let mut xs: Vec<f64> = (0..=187).map(|step| f64::from(step) * 0.8).collect();
    for centre in centres {
        for off in [-1.525, 1.525] {
            xs.extend([centre + off - FINE, centre + off + FINE]);
        }
        xs.extend([
            centre - 1.0,
            centre - 0.5,
            *centre,
            centre + 0.5,
            centre + 1.0,
        ]);
    }
    let in_notch = |x: f64| centres.iter().any(|centre| (x - centre).abs() < 1.525);
    let mut points = Vec::new();
    for x in xs {
        for step in 0..=6 {
            let y = y_end * f64::from(step) / 6.0;
            let wanted = if in_notch(x) { -6.0 } else { 0.0 };
            points.push(Point {
                at: [x, y],
                height: 0.0,
                wanted,
            });
        }
    }
    points
}

fn distance(p: [f64; 2], a: [f64; 3], b: [f64; 3]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let along = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / if square > 0.0 { square } else { 1.0 };
    let along = along.clamp(0.0, 1.0);
    (p[0] - a[0] - along * dx).hypot(p[1] - a[1] - along * dy)
}

impl Oracle {
    fn blame(&mut self, what: &str, line: usize) {
        self.harm.get_or_insert(format!("{what} in line {line}"));
    }

    fn see(&mut self, event: Event) {
        match event {
            Event::Move(step) => self.see_move(&step),
            Event::Dwell { amount, line } => {
                self.waited += amount;
                if amount > 60.0 {
                    self.blame("long wait", line);
                }
            }
            Event::Spindle { spindle, line } => {
                let turning = spindle.turn != SpindleTurn::Stopped;
                if turning != self.turning {
                    self.waited = 0.0;
                    let [x, y, z] = self.at;
                    if z < -FINE && y > -R && y < self.y + R && x > -R && x < 150.0 + R {
                        self.blame("spindle switched in the bundle", line);
                    }
                }
                self.turning = turning;
                if turning && !(10000.0..=24000.0).contains(&spindle.rpm) {
                    self.blame("speed", line);
                }
            }
            Event::Stop {
                stop: ProgramStop::End,
                line,
            } => {
                self.ended = true;
                if self.turning || self.at[2] < 2.0 {
                    self.blame("ends turning or down", line);
                }
            }
            Event::Stop { line, .. } if self.turning => self.blame("stop while turning", line),
            Event::Stop { .. } => {}
            Event::ToolChange { line, .. } => self.blame("tool change", line),
            Event::Hazard(fault) => self.blame(fault.code, fault.line),
        }
    }

    fn see_move(&mut self, step: &ToolMove) {
        let said = step.stated;
        if !(said.units && said.distance && said.work_zero && (said.feed_mode || step.rapid)) {
            self.blame("mode not stated", step.line);
        }
        let (Some(from), Some(to)) = (known(step.from), known(step.to)) else {
            return self.blame("unknown place", step.line);
        };
        assert!(step.arc.is_none());
        self.check_rates(step, from, to);
        // A slanted move in short parts, each at its lower end.
        let level = from[2] == to[2] || (from[0] == to[0] && from[1] == to[1]);
        let parts: u16 = if level { 1 } else { 400 };
        let place = |part: usize| -> [f64; 3] {
            let share = part as f64 / f64::from(parts);
            std::array::from_fn(|axis| from[axis] + share * (to[axis] - from[axis]))
        };
        for part in 0..usize::from(parts) {
            self.cut(step, place(part), place(part + 1));
        }
        self.at = to;
    }

    fn check_rates(&mut self, step: &ToolMove, from: [f64; 3], to: [f64; 3]) {
        let machine = [[-300.0, 0.0], [-180.0, 0.0], [-45.0, 0.0]];
        for ((range, zero), place) in machine.iter().zip([-200.0, -100.0, -20.0]).zip(to) {
            if place + zero < range[0] - FINE || place + zero > range[1] + FINE {
                self.blame("travel", step.line);
            }
        }
        if step.rapid {
            return;
        }
        let way: [f64; 3] = std::array::from_fn(|axis| to[axis] - from[axis]);
        let length = way[0].hypot(way[1]).hypot(way[2]);
        let feed = step.feed.unwrap_or(0.0);
        if feed <= 0.0 || feed > 1000.0 || -way[2] / length * feed > 300.0 {
            self.blame("feed", step.line);
        }
    }

    fn cut(&mut self, step: &ToolMove, a: [f64; 3], b: [f64; 3]) {
        let z = a[2].min(b[2]);
        let clamp = [[30.0, 42.0], [-30.0, -6.0]];
        let steps = 200;
        for part in 0..=steps {
            let share = f64::from(part) / f64::from(steps);
            let gap = [0, 1].map(|axis: usize| {
                let value = a[axis] + share * (b[axis] - a[axis]);
                (clamp[axis][0] - value)
                    .max(value - clamp[axis][1])
                    .max(0.0)
            });
            if z < 4.0 - FINE && gap[0].hypot(gap[1]) < SHANK - FINE {
                self.blame("clamp", step.line);
            }
        }
        if z < -12.0 - FINE {
            self.blame("table", step.line);
        }
        let sideways = a[0] != b[0] || a[1] != b[1];
        let (mut taken, mut low) = (0.0_f64, false);
        for point in &mut self.wood {
            let off = distance(point.at, a, b);
            if off < R - 1e-4 {
                taken = taken.max(point.height - z);
                low |= step.rapid && sideways && point.height > z - 2.0 + FINE;
            }
            if off < R {
                point.height = point.height.min(z);
            }
        }
        if low {
            self.blame("low rapid", step.line);
        }
        if taken > FINE {
            let fine = !step.rapid
                && b[2] >= a[2]
                && taken < 3.0 + FINE
                && step.spindle.turn == SpindleTurn::Clockwise
                && step.spindle.rpm > 0.0
                && self.waited >= 3.0
                && step.feed.is_some_and(|feed| feed >= 500.0);
            if !fine {
                self.blame("unsafe cut", step.line);
            }
        }
    }
}

/// Why a program for these notches is harmful; `None` if it is not.
pub fn harm(text: &str, centres: &[f64], y_end: f64) -> Option<String> {
    let mut oracle = Oracle {
        wood: wood(centres, y_end),
        y: y_end,
        waited: 0.0,
        turning: false,
        at: [60.0, 3.0, 2.5],
        ended: false,
        harm: None,
    };
    // Left 2.5 mm above the stock by whoever set the zero.
    let settings = StoredPositions {
        start: [Some(60.0), Some(3.0), Some(2.5)],
        machine_zero: [Some(200.0), Some(100.0), Some(20.0)],
        ..StoredPositions::default()
    };
    let mut machine = Interpreter::new(settings);
    for block in blocks(text.as_bytes()) {
        let Ok(block) = block else {
            return Some("unreadable".to_owned());
        };
        if oracle.ended {
            if !block.only_ends() {
                return Some("text after the end".to_owned());
            }
            continue;
        }
        if machine
            .execute(&block, &mut |event| oracle.see(event))
            .is_err()
        {
            return Some("refused".to_owned());
        }
    }
    if !oracle.ended {
        return Some("no end".to_owned());
    }
    if oracle.harm.is_some() {
        return oracle.harm;
    }
    let wrong = oracle
        .wood
        .iter()
        .find(|point| (point.height - point.wanted).abs() > FINE);
    wrong.map(|point| format!("{:?} is at {}", point.at, point.height))
}
