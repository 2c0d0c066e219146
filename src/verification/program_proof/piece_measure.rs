//! What the planes of simulated sticks show of each piece.

use crate::geometry::Point;
use crate::phrase;
use crate::verification::faults::{Fault, figure};
use crate::verification::notches::NotchReport;
use crate::verification::simulation::bundle::{BRUSH_HEIGHT_MM, SimulatedBundle};
use crate::verification::simulation::plane::WoodPlane;
use crate::verification::simulation::wood_step::WoodStep;
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedLap, ExpectedPiece, ExpectedRows};

/// So wide, mm, the wood beside a facet must be gone on every plane.
const BESIDE_MM: f64 = 0.1;

/// Wood that stands farther out than this before a facet, mm, is a facet that is not cut.
const NOT_CUT_MM: f64 = 0.5;

/// Narrower parts of a piece, mm, right before its point, show nothing.
const TIP_MM: f64 = 0.02;

/// A report for each piece, and what is wrong with them.
pub(super) fn measured(
    bundle: &SimulatedBundle,
    expected: &ExpectedRows,
    tolerances: &Tolerances,
) -> (Vec<NotchReport>, Vec<Fault>) {
    let mut reports = Vec::new();
    let mut faults = Vec::new();
    let mut order: Vec<CutOrder> = vec![CutOrder::default(); expected.sticks_y_mm.len()];
    for piece in &expected.pieces {
        let mut measure = PieceMeasure {
            piece,
            floor: -expected.mitre_depth_mm,
            off: tolerances,
            ends: [EndFound::default(); 2],
            shallow: 0.0,
            length: 0.0,
            line: 0,
            laps: vec![LapFound::default(); piece.laps.len()],
            order: CutOrder::default(),
        };
        let planes = bundle.planes().iter();
        for plane in planes.filter(|plane| plane.strip == Some(piece.stick)) {
            measure.take_in(plane);
        }
        if let Some(order) = order.get_mut(piece.stick) {
            order.join(measure.order);
        }
        let (report, found) = measure.close();
        reports.push(report);
        faults.extend(found);
    }
    for (number, order) in (1..).zip(order) {
        if let Some(line) = order.late() {
            let text = format!(
                "in stick {number} a lap is cut after a mitre, when a skin alone holds the piece"
            );
            faults.push(Fault::at("lap-late", line, text));
        }
    }
    (reports, faults)
}

/// Lines of the program that began a stick's first mitre and its last lap.
#[derive(Debug, Clone, Copy, Default)]
struct CutOrder {
    first_mitre: Option<usize>,
    last_lap: Option<usize>,
}

impl CutOrder {
    fn join(&mut self, other: CutOrder) {
        self.mitre(other.first_mitre);
        self.last_lap = self.last_lap.max(other.last_lap);
    }

    fn mitre(&mut self, line: Option<usize>) {
        self.first_mitre = [self.first_mitre, line].into_iter().flatten().min();
    }

    /// The line of a lap that came too late.
    fn late(self) -> Option<usize> {
        self.last_lap
            .filter(|lap| self.first_mitre.is_some_and(|mitre| mitre < *lap))
    }
}

/// What stands before an end's facets, or lacks of them, square to them, mm; where it is most.
#[derive(Debug, Clone, Copy, Default)]
struct EndFound {
    worst: f64,
    along_x: f64,
    y: f64,
}

/// What was found of a lap.
#[derive(Debug, Clone, Copy, Default)]
struct LapFound {
    /// Most wood, mm along x, that stands between its walls, and at which y.
    standing: f64,
    y: f64,
    /// Depth less the depth wanted, where it is worst.
    depth_error: f64,
    line: usize,
}

struct PieceMeasure<'a> {
    piece: &'a ExpectedPiece,
    /// z of the mitres' floor.
    floor: f64,
    off: &'a Tolerances,
    /// At low and at high x.
    ends: [EndFound; 2],
    /// How much too high the floor is beside a facet, mm.
    shallow: f64,
    /// Longest chord of what stands.
    length: f64,
    line: usize,
    laps: Vec<LapFound>,
    order: CutOrder,
}

impl PieceMeasure<'_> {
    fn take_in(&mut self, plane: &WoodPlane) {
        let Some(chord) = chord(&self.piece.outline, plane.y) else {
            return;
        };
        let [low, high] = chord.map(|end| end.x);
        if high - low < TIP_MM {
            return;
        }
        let kept = self.kept(plane, f64::midpoint(low, high));
        self.length = self.length.max(kept[1] - kept[0]);
        for (at, (end, kept)) in chord.iter().zip(kept).enumerate() {
            let outward = if at == 0 { -1.0 } else { 1.0 };
            let proud = (kept - end.x) * outward;
            self.judge_end(at, plane.y, proud, end.sine);
            let from = end.x + outward * self.off.position_mm / end.sine;
            self.floor_beside(plane, from, outward);
        }
        self.laps_on(plane, [low, high]);
    }

    fn judge_end(&mut self, at: usize, y: f64, proud: f64, sine: f64) {
        let Some(found) = self.ends.get_mut(at) else {
            return;
        };
        if (proud * sine).abs() > found.worst.abs() {
            *found = EndFound {
                worst: proud * sine,
                along_x: proud,
                y,
            };
        }
    }

    /// Ends of the wood around x that stands higher than the mitres' floor, whatever is cut into its
    /// top; both at x where there is none.
    fn kept(&self, plane: &WoodPlane, x: f64) -> [f64; 2] {
        let mut kept = [x, x];
        let high = |step: &&WoodStep| step.height > self.floor + BRUSH_HEIGHT_MM;
        // What is cut somewhere, though not deep enough, is another fault.
        let cut = |step: &WoodStep| step.height < -BRUSH_HEIGHT_MM && !self.in_lap(plane.y, step);
        let mut run: Option<[f64; 2]> = None;
        for step in plane.wood.steps().iter().filter(high) {
            if cut(step) {
                continue;
            }
            run = Some(match run {
                Some([from, to]) if step.ends[0] - to < 1e-6 => [from, step.ends[1]],
                _ => step.ends,
            });
            if let Some(run) = run.filter(|run| run[0] <= x && x <= run[1]) {
                kept = run;
            }
        }
        kept
    }

    fn in_lap(&self, y: f64, step: &WoodStep) -> bool {
        let middle = f64::midpoint(step.ends[0], step.ends[1]);
        let holds = |lap: &ExpectedLap| {
            let [low, high] = lap.walls(y);
            low - 1.0 < middle && middle < high + 1.0
        };
        self.piece.laps.iter().any(holds)
    }

    /// The wood beside a facet is gone down to the floor.
    fn floor_beside(&mut self, plane: &WoodPlane, from: f64, outward: f64) {
        let to = from + outward * BESIDE_MM;
        let beside = [from.min(to), from.max(to)];
        for step in overlapping(plane, beside) {
            if step.height < -BRUSH_HEIGHT_MM {
                self.shallow = self.shallow.max(step.height - self.floor);
                if self.line == 0 || step.line < self.line {
                    self.line = step.line;
                }
                self.order.mitre(Some(step.line));
            }
        }
    }

    fn laps_on(&mut self, plane: &WoodPlane, [low, high]: [f64; 2]) {
        let piece = self.piece;
        for (lap, found) in piece.laps.iter().zip(&mut self.laps) {
            let by = self.off.position_mm / lap.angle_rad.sin();
            let [near, far] = lap.walls(plane.y);
            let inside = [(near + by).max(low + by), (far - by).min(high - by)];
            for step in overlapping(plane, inside) {
                if step.height >= -BRUSH_HEIGHT_MM {
                    let wide = step.ends[1].min(inside[1]) - step.ends[0].max(inside[0]);
                    if wide > found.standing {
                        found.standing = wide;
                        found.y = plane.y;
                    }
                    continue;
                }
                let error = -step.height - lap.depth_mm;
                if error.abs() > found.depth_error.abs() {
                    found.depth_error = error;
                }
                found.line = found.line.max(step.line);
                self.order.last_lap = self.order.last_lap.max(Some(step.line));
            }
        }
    }

    fn close(self) -> (NotchReport, Vec<Fault>) {
        let number = self.piece.index;
        let mut faults = Vec::new();
        for (name, end) in ["nearer", "farther"].into_iter().zip(&self.ends) {
            faults.extend(self.end_fault(name, end));
        }
        if self.shallow > self.off.depth_mm {
            let text = phrase!(
                "piece {}: beside a facet the cut ends {} above the mitres' floor",
                number,
                figure(self.shallow)
            );
            faults.push(Fault::at("mitre-depth", self.line, text));
        }
        for (at, (lap, found)) in (1..).zip(self.piece.laps.iter().zip(&self.laps)) {
            faults.extend(self.lap_fault(at, lap, found));
        }
        let [near, far] = self.ends.map(|end| end.along_x);
        let lap_depth = self.laps.iter().map(|lap| lap.depth_error);
        let depth_error = lap_depth.fold(-self.shallow, |worst, error| {
            if error.abs() > worst.abs() {
                error
            } else {
                worst
            }
        });
        let report = NotchReport {
            index: number,
            centre_error_mm: (near.max(far) <= NOT_CUT_MM).then_some((far - near) / 2.0),
            width_mm: self.length,
            width_error_mm: far + near,
            depth_error_mm: depth_error,
            angle_error_rad: None,
            line: self.line,
            ok: faults.is_empty(),
        };
        (report, faults)
    }

    fn end_fault(&self, name: &str, end: &EndFound) -> Option<Fault> {
        let number = self.piece.index;
        if end.worst.abs() <= self.off.position_mm {
            return None;
        }
        let (code, text) = if end.worst > NOT_CUT_MM {
            (
                "facet-missing",
                phrase!(
                    "piece {}: at its end {} to the datum end a facet is not cut: {} of wood stand before it at Y {}",
                    number,
                    name,
                    figure(end.worst),
                    figure(end.y)
                ),
            )
        } else if end.worst > 0.0 {
            (
                "facet-off",
                phrase!(
                    "piece {}: at its end {} to the datum end {} of wood stand before a facet at Y {}",
                    number,
                    name,
                    figure(end.worst),
                    figure(end.y)
                ),
            )
        } else {
            (
                "piece-cut",
                phrase!(
                    "piece {}: at its end {} to the datum end {} of wood are lacking at Y {}",
                    number,
                    name,
                    figure(-end.worst),
                    figure(end.y)
                ),
            )
        };
        Some(Fault::at(code, self.line, text))
    }

    fn lap_fault(&self, at: usize, lap: &ExpectedLap, found: &LapFound) -> Option<Fault> {
        let number = self.piece.index;
        let (code, text) = if found.standing > lap.width_mm / 2.0 {
            (
                "lap-missing",
                phrase!("piece {}: lap {} is not cut", number, at),
            )
        } else if found.standing > 0.0 {
            (
                "lap-width",
                phrase!(
                    "piece {}: {} of wood stand inside the walls of lap {} at Y {}",
                    number,
                    figure(found.standing),
                    at,
                    figure(found.y)
                ),
            )
        } else if found.depth_error.abs() > self.off.depth_mm {
            (
                "lap-depth",
                phrase!(
                    "piece {}: the depth of lap {} is {} off",
                    number,
                    at,
                    figure(found.depth_error)
                ),
            )
        } else {
            return None;
        };
        Some(Fault::at(code, found.line, text))
    }
}

/// Steps of a plane that have more in common with a stretch than an end.
fn overlapping(plane: &WoodPlane, [low, high]: [f64; 2]) -> impl Iterator<Item = WoodStep> {
    let inside = move |step: &&WoodStep| step.ends[1].min(high) - step.ends[0].max(low) > 1e-6;
    let steps: Vec<WoodStep> = plane.wood.steps().iter().filter(inside).copied().collect();
    steps.into_iter()
}

/// An end of a chord.
#[derive(Debug, Clone, Copy)]
struct ChordEnd {
    x: f64,
    /// Of the angle between x and the side that it lies on.
    sine: f64,
}

/// The chord of a convex polygon along x at a y: the ends at low and high x. Where the line runs along a
/// side or through a corner, the steeper side there counts.
fn chord(outline: &[Point], y: f64) -> Option<[ChordEnd; 2]> {
    let mut ends: Option<[ChordEnd; 2]> = None;
    let corners = outline.iter();
    for (p, q) in corners.clone().zip(corners.cycle().skip(1)) {
        let rise = q.y - p.y;
        let length = rise.hypot(q.x - p.x);
        if rise.abs() < 1e-9 {
            continue;
        }
        let share = (y - p.y) / rise;
        if !(-1e-9..=1.0 + 1e-9).contains(&share) {
            continue;
        }
        let end = ChordEnd {
            x: p.x + share.clamp(0.0, 1.0) * (q.x - p.x),
            sine: rise.abs() / length,
        };
        ends = Some(match ends {
            None => [end, end],
            Some([low, high]) => [
                if end.x < low.x { end } else { low },
                if end.x > high.x { end } else { high },
            ],
        });
    }
    ends
}
