//! What is cut from sheet: plans and their drawings, each read back before anybody gets it.

use super::answers::{Failed, Failure, Shown, Warnings};
use super::cutting::Cutting;
use super::inputs::{Chosen, wrong_kind};
use super::products::NamedFile;
use crate::finding::Finding;
use crate::infill::Infilling;
use crate::instructions::laser::{LaserPlan, Ware};
use crate::lattice::Lattice;
use crate::machines::{Colours, Laser, Machine, Sheet};
use crate::planning::{panel_outlines, plan_sheets};
use crate::verification::outline::{
    DrawingsReport, MeantSheet, WantedPart, check_panel, check_sheet, check_svg_twin,
    prove_drawings, prove_routed,
};
use crate::writing::dxf::{DxfVersion, dxf};
use crate::writing::sheet_svg::sheet_svg;
use std::path::Path;

/// A laser's plan and its proven drawings.
pub(super) type Drawings = (LaserPlan, Vec<NamedFile>);

/// Which files are made of a drawing.
#[derive(Debug, Clone, Copy)]
pub(super) enum Files {
    /// DXF alone.
    Dxf(DxfVersion),
    /// SVG alone.
    Svg,
    /// DXF, and an SVG beside each.
    Both(DxfVersion),
}

impl Files {
    /// What a file's name asks for.
    pub(super) fn of(output: &Path, version: DxfVersion) -> Self {
        if has_ending(output, "svg") {
            Files::Svg
        } else {
            Files::Dxf(version)
        }
    }
}

/// Whether a file's name ends so, in capitals or not.
pub(super) fn has_ending(path: &Path, wanted: &str) -> bool {
    let ending = path.extension();
    ending.is_some_and(|ending| ending.eq_ignore_ascii_case(wanted))
}

/// What every drawing needs to know.
#[derive(Clone, Copy)]
pub(super) struct Bench<'a, 'n> {
    pub(super) chosen: &'a Chosen,
    laser: &'a Laser,
    files: Files,
    file_name: &'n dyn Fn(usize, usize) -> String,
    shown: Shown,
}

impl<'a, 'n> Bench<'a, 'n> {
    /// # Errors
    /// Where the machine cuts no sheet.
    pub(super) fn new(
        chosen: &'a Chosen,
        files: Files,
        file_name: &'n dyn Fn(usize, usize) -> String,
        shown: Shown,
    ) -> Result<Self, Failure> {
        Ok(Bench {
            chosen,
            laser: laser_of(chosen)?,
            files,
            file_name,
            shown,
        })
    }

    /// Lays out what a job gives of some kinds, all together; the drawings are read back.
    pub(super) fn drawn(
        &self,
        cutting: &Cutting<'_>,
        wares: &[Ware],
    ) -> Result<(Drawings, Vec<Finding>), Failed> {
        let mut batches = Vec::new();
        let mut wanted = Vec::new();
        for ware in wares {
            batches.push(cutting.batch(*ware, wares).map_err(Failed::Cannot)?);
            wanted.extend(cutting.wanted(*ware, wares));
        }
        let (title, machine) = (&cutting.panel.title, &self.chosen.profile.name);
        let planned = plan_sheets(title, machine, batches, self.laser, self.file_name);
        let (plan, warnings) = planned.map_err(Failed::Cannot)?;
        let drawings = proven(plan, &wanted, self.laser, self.files).map_err(Failed::Wrong)?;
        Ok((drawings, warnings))
    }

    /// The same, its warnings and faults told at the profile's lines: those about the blade at the
    /// sled's.
    pub(super) fn told(
        &self,
        cutting: &Cutting<'_>,
        wares: &[Ware],
        sled: Option<&Chosen>,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        match self.drawn(cutting, wares) {
            Ok((drawings, warnings)) => {
                told.add(&self.chosen.profile.source, warnings);
                Ok(drawings)
            }
            Err(Failed::Wrong(failure)) => Err(failure),
            Err(Failed::Cannot(faults)) => {
                let all = |field: &str| faults.iter().all(|fault| fault.field.starts_with(field));
                if all("what") {
                    return Err(asked_for(&faults, self.shown));
                }
                let chosen = sled.filter(|_| all("blade")).unwrap_or(self.chosen);
                Err(Failure::findings(
                    &chosen.profile.source,
                    &faults,
                    self.shown,
                ))
            }
        }
    }
}

/// Faults of the list of kinds that was asked for.
fn asked_for(faults: &[Finding], shown: Shown) -> Failure {
    let lines = faults.iter().map(|fault| {
        let hint = fault.hint.as_ref().map(|hint| hint.text(shown.units));
        let hint = hint.map_or(String::new(), |hint| format!("\n  {hint}"));
        format!("--what: {}{hint}", fault.message.text(shown.units))
    });
    Failure::input(lines.collect::<Vec<_>>().join("\n"))
}

/// What cuts sheet.
///
/// # Errors
/// Where the machine cuts none.
pub(super) fn laser_of(chosen: &Chosen) -> Result<&Laser, Failure> {
    match &chosen.profile.machine {
        Machine::Laser(laser) | Machine::SheetRouter(laser) => Ok(laser),
        other => Err(wrong_kind(other)),
    }
}

/// Writes a plan's drawings and reads them back; nothing comes of it if they are not just the parts
/// wanted.
fn proven(
    plan: LaserPlan,
    wanted: &[WantedPart],
    laser: &Laser,
    files: Files,
) -> Result<Drawings, Failure> {
    let version = match files {
        Files::Dxf(version) | Files::Both(version) => version,
        Files::Svg => DxfVersion::default(),
    };
    let mut drawings: Vec<NamedFile> = Vec::new();
    for file in &plan.files {
        drawings.push((
            file.path.clone(),
            dxf(&file.drawing, version, laser.colours)?,
        ));
    }
    let bytes: Vec<&[u8]> = drawings.iter().map(|(_, bytes)| bytes.as_slice()).collect();
    let mut report = report(&bytes, wanted, laser);
    // Against the job, wherever the parts lie; and against the layout, labels and places too.
    for ((file, bytes), found) in plan.files.iter().zip(&bytes).zip(&mut report.files) {
        let meant = MeantSheet {
            parts: &file.finished,
            kerf_mm: laser.kerf,
            cutter_mm: laser.cutter.map(|cutter| cutter.diameter),
            sheet: laser.sheet,
        };
        found.faults.extend(check_sheet(bytes, &meant).faults);
    }
    let twins = match files {
        Files::Dxf(_) => Vec::new(),
        Files::Svg | Files::Both(_) => twins(&plan, laser, &drawings, &mut report)?,
    };
    if report.ok() {
        return Ok(match files {
            Files::Svg => (plan, twins),
            Files::Dxf(_) | Files::Both(_) => (plan, [drawings, twins].concat()),
        });
    }
    let names = drawings.iter().map(|(name, _)| name.as_str());
    let of_files = names.zip(&report.files).flat_map(|(name, file)| {
        file.faults
            .iter()
            .map(move |fault| format!("  {name}: {}: {}\n", fault.code, fault.text))
    });
    let of_all = report
        .faults
        .iter()
        .map(|fault| format!("  {}: {}\n", fault.code, fault.text));
    let faults: String = of_all.chain(of_files).collect();
    let text = format!(
        "error: the drawings were read back and are not what was meant; nothing of this machine's was written\n{faults}"
    );
    Err(Failure { code: 1, text })
}

/// What the proof finds in the drawings of all sheets.
pub(super) fn report(files: &[&[u8]], wanted: &[WantedPart], laser: &Laser) -> DrawingsReport {
    match &laser.cutter {
        None => prove_drawings(files, wanted, laser.kerf, laser.sheet),
        Some(cutter) => prove_routed(files, wanted, cutter, laser.sheet),
    }
}

/// An SVG of each sheet, compared with its DXF.
fn twins(
    plan: &LaserPlan,
    laser: &Laser,
    drawings: &[NamedFile],
    report: &mut DrawingsReport,
) -> Result<Vec<NamedFile>, Failure> {
    let Sheet { length, width, .. } = laser.sheet;
    let mut twins = Vec::new();
    for ((file, (_, dxf)), found) in plan.files.iter().zip(drawings).zip(&mut report.files) {
        let svg = sheet_svg(&file.drawing, [length, width], laser.colours)?.into_bytes();
        found
            .faults
            .extend(check_svg_twin(&svg, dxf, [length, width]));
        let name = Path::new(&file.path).with_extension("svg");
        twins.push((name.display().to_string(), svg));
    }
    Ok(twins)
}

/// The panel from the front as DXF, read back.
pub(super) fn panel_dxf(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    version: DxfVersion,
) -> Result<Vec<u8>, Failure> {
    let bytes = dxf(
        &panel_outlines(lattice, filled),
        version,
        Colours::default(),
    )?;
    let faults = check_panel(&bytes, lattice, filled);
    if faults.is_empty() {
        return Ok(bytes);
    }
    let faults = faults
        .iter()
        .map(|fault| format!("  {}: {}\n", fault.code, fault.text));
    let text = format!(
        "error: the drawing was read back and is not what was meant; nothing was written\n{}",
        faults.collect::<String>()
    );
    Err(Failure { code: 1, text })
}
