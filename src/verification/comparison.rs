//! Notch by notch: what the simulated bundle shows beside what was wanted.

use super::crossed::{Crossed, Other};
use super::faults::{Fault, figure};
use super::inputs::{ExpectedNotch, Tolerances, Workpiece};
use super::simulation::bundle::{Bundle, Plane};
use super::simulation::profile::{Profile, Step};
use super::slots::{FoundSlot, cuts, find};

/// What became of one notch, the worst of all strips, both their sides, top and floor.
#[derive(Debug, Clone, PartialEq)]
pub struct NotchReport {
    /// Its number.
    pub index: usize,
    /// How far its centre is off along x; `None` where it is missing.
    pub centre_error_mm: Option<f64>,
    /// Width where it is worst, along the strip; 0 where it is missing.
    pub width_mm: f64,
    /// That less the width wanted.
    pub width_error_mm: f64,
    /// Depth less the depth wanted, where it is worst.
    pub depth_error_mm: f64,
    /// Angle less the angle wanted, on the worst strip; `None` where it is missing.
    pub angle_error_rad: Option<f64>,
    /// Line that cut it first; 0 where it is missing.
    pub line: usize,
    /// Whether all of it is within the tolerances.
    pub ok: bool,
}

/// What one plane shows of one notch, program frame, mm.
#[derive(Debug)]
pub(super) struct Seen {
    pub(super) top: [f64; 2],
    pub(super) floor: Option<[f64; 2]>,
    /// Depth at the deepest place of the cut, and at the shallowest inside the notch.
    pub(super) depths: [f64; 2],
    pub(super) line: usize,
}

/// Keeps the error that is farthest from 0.
fn worse(kept: &mut f64, error: f64) {
    if error.abs() > kept.abs() {
        *kept = error;
    }
}

fn middle(ends: [f64; 2]) -> f64 {
    (ends[0] + ends[1]) / 2.0
}

/// The notch's ends on a plane, program frame.
fn wanted_ends(plane: &Plane, workpiece: &Workpiece, notch: &ExpectedNotch) -> [f64; 2] {
    let across = plane.in_strip - workpiece.thickness_mm / 2.0;
    notch.ends(across).map(|x| x + plane.start)
}

fn overlaps(step: &Step, ends: [f64; 2]) -> bool {
    step.ends[0] < ends[1] && ends[0] < step.ends[1]
}

/// The outermost ends of some steps.
fn hull<'a>(steps: impl Iterator<Item = &'a Step>) -> Option<[f64; 2]> {
    steps
        .map(|step| step.ends)
        .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

fn look(
    (wood, runs): (&Profile, &[Step]),
    wanted: [f64; 2],
    notch: &ExpectedNotch,
    tolerances: &Tolerances,
) -> Option<Seen> {
    let here: Vec<&Step> = runs.iter().filter(|run| overlaps(run, wanted)).collect();
    let top = hull(here.iter().copied())?;
    let line = here.first()?.line;
    let deepest = here.iter().map(|run| -run.height).fold(0.0, f64::max);
    let steps = || wood.steps().iter().filter(|step| overlaps(step, top));
    let deep_enough = tolerances.depth_mm - notch.depth_mm;
    let floor = hull(steps().filter(|step| step.height <= deep_enough));
    let (floor, shared) = shared_floor(wanted, top, floor, tolerances);
    let shallowest = wood
        .steps()
        .iter()
        .filter(|step| overlaps(step, shared))
        .map(|step| -step.height)
        .fold(f64::INFINITY, f64::min);
    Some(Seen {
        top,
        floor,
        depths: [deepest, shallowest.min(deepest)],
        line,
    })
}

/// A floor that ends farther than this share of the notch's width from where it should is not a
/// floor between walls that are off, but one that is not deep enough in places.
const FLOOR_OFF: f64 = 0.25;

/// The floor that is held against the walls wanted, if there is one; and where it is held against the
/// depth: inside the walls found and those wanted, so that a wall that is off is no error of the
/// depth. An end of either that is off by more than the margin shows in width or place.
pub(super) fn shared_floor(
    wanted: [f64; 2],
    top: [f64; 2],
    floor: Option<[f64; 2]>,
    tolerances: &Tolerances,
) -> (Option<[f64; 2]>, [f64; 2]) {
    let margin = tolerances.position_mm + tolerances.width_mm;
    let off = FLOOR_OFF * (wanted[1] - wanted[0]);
    let floor = floor.filter(|ends| (0..2).all(|side| (ends[side] - wanted[side]).abs() <= off));
    let found = floor.unwrap_or(top);
    let shared = [
        wanted[0].max(top[0]).max(found[0]) + margin,
        wanted[1].min(top[1]).min(found[1]) - margin,
    ];
    (floor, shared)
}

/// A notch's report while its planes are looked at.
struct Measuring<'a> {
    notch: &'a ExpectedNotch,
    report: NotchReport,
    missing_in: Option<usize>,
    /// Strip, its first plane's centre error, and its last's.
    ends: Option<(usize, f64, f64)>,
}

impl<'a> Measuring<'a> {
    fn new(notch: &'a ExpectedNotch) -> Self {
        let report = NotchReport {
            index: notch.index,
            centre_error_mm: None,
            width_mm: notch.width_mm,
            width_error_mm: 0.0,
            depth_error_mm: 0.0,
            angle_error_rad: None,
            line: 0,
            ok: true,
        };
        Measuring {
            notch,
            report,
            missing_in: None,
            ends: None,
        }
    }

    fn add(&mut self, strip: usize, wanted: [f64; 2], seen: Option<&Seen>, thickness: f64) {
        let report = &mut self.report;
        let Some(seen) = seen else {
            self.missing_in.get_or_insert(strip);
            worse(&mut report.width_error_mm, -self.notch.width_mm);
            worse(&mut report.depth_error_mm, -self.notch.depth_mm);
            return;
        };
        if report.line == 0 {
            report.line = seen.line;
        }
        for ends in [Some(seen.top), seen.floor].into_iter().flatten() {
            let width = ends[1] - ends[0];
            worse(&mut report.width_error_mm, width - self.notch.width_mm);
            let off = middle(ends) - middle(wanted);
            worse(report.centre_error_mm.get_or_insert(0.0), off);
        }
        for depth in seen.depths {
            worse(&mut report.depth_error_mm, depth - self.notch.depth_mm);
        }
        self.turn(strip, middle(seen.top) - middle(wanted), thickness);
    }

    /// The angle on a strip, from the centre errors on its two faces: the slot runs by
    /// t / tan(angle) + (error behind - error in front) along x over the thickness t.
    fn turn(&mut self, strip: usize, off: f64, thickness: f64) {
        let first = match self.ends {
            Some((same, first, _)) if same == strip => first,
            _ => off,
        };
        self.ends = Some((strip, first, off));
        let angle = self.notch.angle_rad;
        let run = thickness * angle.cos() / angle.sin() + off - first;
        let error = thickness.atan2(run) - angle;
        worse(self.report.angle_error_rad.get_or_insert(0.0), error);
    }

    /// The report, and the faults of the notch.
    fn close(mut self, tolerances: &Tolerances) -> (NotchReport, Vec<Fault>) {
        let mut report = self.report.clone();
        report.width_mm = self.notch.width_mm + report.width_error_mm;
        let mut faults = Vec::new();
        let number = report.index;
        let mut add = |code, text: String| faults.push(Fault::at(code, report.line, text));
        if let Some(strip) = self.missing_in.take() {
            let strip = strip + 1;
            let text = if report.centre_error_mm.is_none() {
                format!("notch {number} is missing: it is cut in no strip")
            } else {
                format!("notch {number} is not cut right through: it is missing in strip {strip}")
            };
            add("notch-missing", text);
        } else {
            let centre = report.centre_error_mm.unwrap_or(0.0);
            let angle = report.angle_error_rad.unwrap_or(0.0);
            let rows = [
                ("notch-centre", "centre", centre, tolerances.position_mm),
                (
                    "notch-width",
                    "width",
                    report.width_error_mm,
                    tolerances.width_mm,
                ),
                (
                    "notch-depth",
                    "depth",
                    report.depth_error_mm,
                    tolerances.depth_mm,
                ),
            ];
            for (code, what, error, allowed) in rows {
                if error.abs() > allowed {
                    let (error, allowed) = (figure(error), figure(allowed));
                    let text =
                        format!("notch {number}: its {what} is {error} off, {allowed} is allowed");
                    add(code, text);
                }
            }
            if angle.abs() > tolerances.angle_rad {
                let degrees = angle.to_degrees();
                add(
                    "notch-angle",
                    format!("notch {number} is turned by {degrees:.3} deg"),
                );
            }
        }
        report.ok = faults.is_empty();
        (report, faults)
    }
}

/// The other notches that cross one on a plane.
fn crossing(all: &[Other], place: usize, wanted: [f64; 2], tolerances: &Tolerances) -> Vec<Other> {
    let margin = tolerances.position_mm + tolerances.width_mm;
    let near =
        |other: &Other| other.ends[0] - margin < wanted[1] && wanted[0] < other.ends[1] + margin;
    let others = all.iter().enumerate().filter(|(at, _)| *at != place);
    others.map(|(_, other)| *other).filter(near).collect()
}

/// Compares all notches; the reports come in the order of `expected`.
pub fn compare(
    bundle: &Bundle,
    workpiece: &Workpiece,
    expected: &[ExpectedNotch],
    tolerances: &Tolerances,
) -> (Vec<NotchReport>, Vec<Fault>) {
    let all: Vec<ExpectedNotch> = expected
        .iter()
        .chain(&workpiece.cut_before)
        .copied()
        .collect();
    let mut measuring: Vec<Measuring> = all.iter().map(Measuring::new).collect();
    let mut webs = Webs::new(&all, tolerances.web_mm);
    for plane in bundle.planes() {
        let Some(strip) = plane.strip else { continue };
        let mut tops = Vec::new();
        let everywhere: Vec<Other> = all
            .iter()
            .map(|notch| Other {
                ends: wanted_ends(plane, workpiece, notch),
                depth: notch.depth_mm,
            })
            .collect();
        // The plane itself shows what has not been cut, its surroundings what has.
        let (exact, least) = (cuts(&plane.wood), cuts(&plane.around));
        for (place, one) in measuring.iter_mut().enumerate() {
            let wanted = wanted_ends(plane, workpiece, one.notch);
            let others = crossing(&everywhere, place, wanted, tolerances);
            let look_at = |wood: &Profile, runs: &[Step]| {
                if others.is_empty() {
                    return look((wood, runs), wanted, one.notch, tolerances);
                }
                let crossed = Crossed {
                    wanted,
                    notch: one.notch,
                    others: &others,
                    tolerances,
                };
                crossed.look(wood)
            };
            let on_plane = look_at(&plane.wood, &exact);
            let seen = look_at(&plane.around, &least);
            one.add(strip, wanted, on_plane.as_ref(), workpiece.thickness_mm);
            one.add(strip, wanted, seen.as_ref(), workpiece.thickness_mm);
            tops.push((wanted, seen.map(|seen| seen.top)));
        }
        webs.add(&tops);
    }
    let mut reports = Vec::new();
    let mut faults = Vec::new();
    for one in measuring {
        let (report, wrong) = one.close(tolerances);
        reports.push(report);
        faults.extend(wrong);
    }
    reports.truncate(expected.len());
    faults.extend(webs.close());
    faults.extend(surplus(bundle, workpiece, &all));
    (reports, faults)
}

/// The least web between neighbouring notches, less the web planned.
struct Webs<'a> {
    notches: &'a [ExpectedNotch],
    /// Indices in the order along the strip.
    order: Vec<usize>,
    /// For each neighbouring pair.
    least: Vec<f64>,
    allowed: f64,
}

impl<'a> Webs<'a> {
    fn new(notches: &'a [ExpectedNotch], allowed: f64) -> Self {
        let mut order: Vec<usize> = (0..notches.len()).collect();
        let centre = |place: &usize| notches.get(*place).map_or(0.0, |notch| notch.centre_mm);
        order.sort_by(|a, b| centre(a).total_cmp(&centre(b)));
        let least = vec![0.0; notches.len().saturating_sub(1)];
        Webs {
            notches,
            order,
            least,
            allowed,
        }
    }

    fn add(&mut self, tops: &[([f64; 2], Option<[f64; 2]>)]) {
        for (pair, least) in self.order.windows(2).zip(&mut self.least) {
            let &[a, b] = pair else { continue };
            let (Some((want_a, Some(a))), Some((want_b, Some(b)))) = (tops.get(a), tops.get(b))
            else {
                continue;
            };
            let planned = want_b[0] - want_a[1];
            // One cut from notch to notch leaves no web at all.
            let left = (b[0] - a[1]).max(0.0);
            *least = least.min(left - planned);
        }
    }

    fn close(self) -> Vec<Fault> {
        let pairs = self.order.windows(2).zip(&self.least);
        pairs
            .filter(|(_, least)| **least < -self.allowed)
            .filter_map(|(pair, least)| {
                let &[a, b] = pair else { return None };
                let (a, b) = (self.notches.get(a)?.index, self.notches.get(b)?.index);
                let thin = figure(-least);
                let text =
                    format!("the wood between notches {a} and {b} is {thin} thinner than planned");
                Some(Fault::at("thin-web", 0, text))
            })
            .collect()
    }
}

/// Cuts that belong to no notch.
fn surplus(bundle: &Bundle, workpiece: &Workpiece, all: &[ExpectedNotch]) -> Vec<Fault> {
    let stray = |plane: &Plane, run: &Step| {
        !all.iter()
            .any(|notch| overlaps(run, wanted_ends(plane, workpiece, notch)))
    };
    find(bundle, stray).iter().map(surplus_fault).collect()
}

fn surplus_fault(slot: &FoundSlot) -> Fault {
    let [first, last] = slot.strips.map(|strip| strip + 1);
    let (x, width) = (figure(slot.centre_mm[0]), figure(slot.width_mm[1]));
    let text = format!(
        "a cut that nobody wanted: at x {x}, {width} wide, {} deep, strips {first} to {last}",
        figure(slot.depth_mm[1])
    );
    Fault::at("notch-surplus", slot.line, text)
}
