//! What all planes together show of one notch, the worst of them.

use super::report::NotchReport;
use super::seen::{Seen, middle};
use crate::phrase;
use crate::verification::faults::{Fault, figure};
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::ExpectedNotch;

/// Keeps the error that is farthest from 0.
fn worse(kept: &mut f64, error: f64) {
    if error.abs() > kept.abs() {
        *kept = error;
    }
}

/// A notch's report while its planes are looked at.
pub(super) struct NotchMeasure<'a> {
    pub(super) notch: &'a ExpectedNotch,
    report: NotchReport,
    missing_in: Option<usize>,
    /// Strip, its first plane's centre error, and its last's.
    ends: Option<(usize, f64, f64)>,
}

impl<'a> NotchMeasure<'a> {
    pub(super) fn new(notch: &'a ExpectedNotch) -> Self {
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
        NotchMeasure {
            notch,
            report,
            missing_in: None,
            ends: None,
        }
    }

    pub(super) fn add(
        &mut self,
        strip: usize,
        wanted: [f64; 2],
        seen: Option<&Seen>,
        thickness: f64,
    ) {
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
    pub(super) fn close(self, tolerances: &Tolerances) -> (NotchReport, Vec<Fault>) {
        let mut report = self.report.clone();
        report.width_mm = self.notch.width_mm + report.width_error_mm;
        let faults = match self.missing_in {
            Some(strip) => vec![missing(&report, strip)],
            None => off(&report, tolerances),
        };
        report.ok = faults.is_empty();
        (report, faults)
    }
}

fn missing(report: &NotchReport, strip: usize) -> Fault {
    let number = report.index;
    let strip = strip + 1;
    let text = if report.centre_error_mm.is_none() {
        format!("notch {number} is missing: it is cut in no strip")
    } else {
        format!("notch {number} is not cut right through: it is missing in strip {strip}")
    };
    Fault::at("notch-missing", report.line, text)
}

/// One of a notch's errors.
struct NotchError {
    code: &'static str,
    what: &'static str,
    error_mm: f64,
    allowed_mm: f64,
}

/// What is off by more than is allowed.
fn off(report: &NotchReport, tolerances: &Tolerances) -> Vec<Fault> {
    let number = report.index;
    let errors = [
        NotchError {
            code: "notch-centre",
            what: "centre",
            error_mm: report.centre_error_mm.unwrap_or(0.0),
            allowed_mm: tolerances.position_mm,
        },
        NotchError {
            code: "notch-width",
            what: "width",
            error_mm: report.width_error_mm,
            allowed_mm: tolerances.width_mm,
        },
        NotchError {
            code: "notch-depth",
            what: "depth",
            error_mm: report.depth_error_mm,
            allowed_mm: tolerances.depth_mm,
        },
    ];
    let mut faults = Vec::new();
    for one in errors {
        if one.error_mm.abs() > one.allowed_mm {
            let text = phrase!(
                "notch {}: its {} is {} off, {} is allowed",
                number,
                one.what,
                figure(one.error_mm),
                figure(one.allowed_mm)
            );
            faults.push(Fault::at(one.code, report.line, text));
        }
    }
    let turned = report.angle_error_rad.unwrap_or(0.0);
    if turned.abs() > tolerances.angle_rad {
        let text = format!("notch {number} is turned by {:.3} deg", turned.to_degrees());
        faults.push(Fault::at("notch-angle", report.line, text));
    }
    faults
}
