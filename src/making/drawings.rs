//! What is cut from sheet: plans and their drawings, each read back before anybody gets it.

use super::not_made::{Disproved, NotMade};
use super::sheet_parts::SheetParts;
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::Infilling;
use crate::instructions::laser::{LaserPlan, Ware};
use crate::lattice::{Frame, Lattice};
use crate::machines::{Colours, Laser, Sheet, Station};
use crate::planning::{frame_outlines, plan_sheets};
use crate::sheets::panel_outlines;
use crate::threads;
use crate::verification::outline::{
    DrawingsReport, MeantSheet, ReadDrawing, WantedPart, check_panel, check_places, check_svg_twin,
    prove_read,
};
use crate::writing::cut_sheet_svg::cut_sheet_svg;
use crate::writing::dxf::{DxfVersion, dxf};
use std::path::Path;

/// A file's name and content.
type NamedFile = (String, Vec<u8>);

/// Where a laser's findings are.
const LASER: Document = Document::Profile(Station::Laser);

/// A plan of sheets and its drawings, which were read back and found right.
#[derive(Debug, Clone)]
pub struct Drawings {
    /// What lies where.
    pub plan: LaserPlan,
    /// Names and contents.
    pub files: Vec<NamedFile>,
}

/// Which files are made of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawingFiles {
    /// DXF alone.
    Dxf(DxfVersion),
    /// SVG alone.
    Svg,
    /// DXF, and an SVG beside each.
    Both(DxfVersion),
}

/// Parts to be laid out on sheets and drawn.
#[derive(Clone, Copy)]
pub struct SheetOrder<'a> {
    /// What the profile is called.
    pub machine: &'a str,
    /// What there is to cut, and what cuts it.
    pub parts: SheetParts<'a>,
    /// What is made of each drawing.
    pub files: DrawingFiles,
    /// A file's name from its number, from 0, and how many there are.
    pub file_name: &'a dyn Fn(usize, usize) -> String,
}

impl SheetOrder<'_> {
    /// Lays out what a job gives of some kinds, all together; the drawings are read back.
    ///
    /// # Errors
    /// What keeps them from being cut, and drawings that are not what was meant.
    pub fn drawn(&self, wares: &[Ware]) -> Result<(Drawings, Vec<Finding>), NotMade> {
        let cannot = |faults| NotMade::cannot(faults, LASER);
        let mut batches = Vec::new();
        let mut wanted = Vec::new();
        for ware in wares {
            batches.push(self.parts.batch(*ware, wares).map_err(cannot)?);
            wanted.extend(self.parts.wanted(*ware, wares));
        }
        let SheetParts { panel, laser, .. } = self.parts;
        let planned = plan_sheets(
            &panel.design().title,
            self.machine,
            batches,
            laser,
            self.file_name,
        );
        let (plan, warnings) = planned.map_err(cannot)?;
        let drawings = proven(plan, &wanted, laser, self.files)?;
        Ok((drawings, all_in_document(warnings, LASER)))
    }
}

/// Writes a plan's drawings and reads them back; nothing comes of it if they are not just the parts
/// wanted.
fn proven(
    plan: LaserPlan,
    wanted: &[WantedPart],
    laser: &Laser,
    files: DrawingFiles,
) -> Result<Drawings, NotMade> {
    let version = match files {
        DrawingFiles::Dxf(version) | DrawingFiles::Both(version) => version,
        DrawingFiles::Svg => DxfVersion::default(),
    };
    let mut drawings: Vec<NamedFile> = Vec::new();
    for file in &plan.files {
        drawings.push((
            file.path.clone(),
            dxf(&file.drawing, version, laser.colours)?,
        ));
    }
    let read = threads::each(&drawings, |(_, bytes)| ReadDrawing::of(bytes));
    let mut report = report(&read, wanted, laser);
    // Against the job, wherever the parts lie; and against the layout, labels and places too.
    for ((file, drawing), found) in plan.files.iter().zip(&read).zip(&mut report.files) {
        let meant = MeantSheet {
            parts: &file.finished,
            kerf_mm: laser.kerf,
            cutter_mm: laser.cutter.map(|cutter| cutter.diameter),
            sheet: laser.sheet,
        };
        found.faults.extend(check_places(drawing, &meant));
    }
    let twins = match files {
        DrawingFiles::Dxf(_) => Vec::new(),
        DrawingFiles::Svg | DrawingFiles::Both(_) => twins(&plan, laser, &read, &mut report)?,
    };
    if !report.ok() {
        let text = "the drawings were read back and are not what was meant";
        return Err(NotMade::disproved(text, proof_faults(&drawings, &report)));
    }
    let files = match files {
        DrawingFiles::Svg => twins,
        DrawingFiles::Dxf(_) | DrawingFiles::Both(_) => {
            drawings.extend(twins);
            drawings
        }
    };
    Ok(Drawings { plan, files })
}

/// What a proof found, one line each.
fn proof_faults(drawings: &[NamedFile], report: &DrawingsReport) -> Vec<String> {
    let names = drawings.iter().map(|(name, _)| name.as_str());
    let of_files = names.zip(&report.files).flat_map(|(name, file)| {
        file.faults
            .iter()
            .map(move |fault| format!("{name}: {}: {}", fault.code, fault.text))
    });
    let of_all = report
        .faults
        .iter()
        .map(|fault| format!("{}: {}", fault.code, fault.text));
    of_all.chain(of_files).collect()
}

/// What the proof finds in the drawings of all sheets.
pub(crate) fn report(
    files: &[ReadDrawing],
    wanted: &[WantedPart],
    laser: &Laser,
) -> DrawingsReport {
    let tool = (laser.kerf, laser.cutter.as_ref());
    prove_read(files, wanted, tool, laser.sheet)
}

/// An SVG of each sheet, compared with its DXF.
fn twins(
    plan: &LaserPlan,
    laser: &Laser,
    drawings: &[ReadDrawing],
    report: &mut DrawingsReport,
) -> Result<Vec<NamedFile>, NotMade> {
    let Sheet { length, width, .. } = laser.sheet;
    let mut twins = Vec::new();
    for ((file, dxf), found) in plan.files.iter().zip(drawings).zip(&mut report.files) {
        let svg = cut_sheet_svg(&file.drawing, length, width, laser.colours)?.into_bytes();
        found
            .faults
            .extend(check_svg_twin(&svg, dxf, [length, width]));
        let name = Path::new(&file.path).with_extension("svg");
        twins.push((name.display().to_string(), svg));
    }
    Ok(twins)
}

/// The panel from the front as DXF, its frame on a layer of its own, read back and found right.
///
/// # Errors
/// A drawing that is not what was meant, or a figure that is not finite.
pub fn panel_dxf(
    lattice: &Lattice,
    filled: Option<&Infilling>,
    frame: Option<&Frame>,
    version: DxfVersion,
) -> Result<Vec<u8>, NotMade> {
    let members = frame.and_then(|frame| frame_outlines(lattice, frame));
    let outlines = panel_outlines(lattice, filled, members.as_ref());
    let bytes = dxf(&outlines, version, Colours::default())?;
    let faults = check_panel(&bytes, lattice, filled, frame);
    if faults.is_empty() {
        return Ok(bytes);
    }
    let faults = faults
        .iter()
        .map(|fault| format!("{}: {}", fault.code, fault.text));
    let what = "the drawing was read back and is not what was meant; nothing was written";
    Err(NotMade::Disproved(Disproved {
        what: what.to_owned(),
        faults: faults.collect(),
    }))
}
