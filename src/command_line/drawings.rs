//! What is cut from sheet: plans and their drawings, each read back before anybody gets it.

use super::answers::{Failure, Shown, Warnings};
use super::inputs::{Chosen, wrong_kind};
use super::products::{NamedFile, settle};
use crate::finding::Finding;
use crate::infill::Infilling;
use crate::instructions::laser::LaserPlan;
use crate::instructions::pare::ParePlan;
use crate::lattice::{Lattice, Panel};
use crate::machines::{Colours, Laser, Machine, Sheet};
use crate::planning::{
    RackOrder, panel_outlines, plan_blocks, plan_comb, plan_gauge, plan_piece_outlines, plan_rack,
    plan_strips,
};
use crate::reading::Job;
use crate::verification::outline::{
    DrawingsReport, Meant, Wanted, alike_together, blocks_wanted, check, check_panel, check_twin,
    comb_wanted, gauge_wanted, prove_drawings, prove_routed, rack_wanted, strips_wanted,
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
    chosen: &'a Chosen,
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

    fn machine(&self) -> &'a str {
        &self.chosen.profile.name
    }

    fn finish(
        &self,
        planned: Result<(LaserPlan, Vec<Finding>), Vec<Finding>>,
        wanted: &[Wanted],
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let plan = settle(planned, self.chosen, self.shown, told)?;
        proven(plan, wanted, self.laser, self.files)
    }

    /// Outlines of the strips.
    pub(super) fn strips(
        &self,
        lattice: &Lattice,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let planned = plan_strips(lattice, self.machine(), self.laser, self.file_name);
        self.finish(planned, &strips_wanted(lattice, self.laser.fit), told)
    }

    /// Outlines of the pieces.
    pub(super) fn pieces(
        &self,
        panel: &Panel,
        filled: &Infilling,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let planned =
            plan_piece_outlines(panel, filled, self.machine(), self.laser, self.file_name);
        let wanted = alike_together(
            filled
                .kinds
                .iter()
                .map(|kind| Wanted::plain(&kind.name, kind.outline.clone(), kind.count)),
        );
        self.finish(planned, &wanted, told)
    }

    /// Outlines of guide blocks.
    pub(super) fn blocks(
        &self,
        pare: &ParePlan,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let planned = plan_blocks(pare, self.machine(), self.laser, self.file_name);
        let angles = pare.blocks.iter().map(|block| block.jig_angle);
        let wanted = blocks_wanted(angles, self.laser.label_height > 0.0);
        self.finish(planned, &wanted, told)
    }

    /// Story sticks.
    pub(super) fn gauge(
        &self,
        lattice: &Lattice,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let planned = plan_gauge(lattice, self.machine(), self.laser, self.file_name);
        self.finish(planned, &gauge_wanted(lattice), told)
    }

    /// A comb of slots, of the widths given or about the strips' thickness.
    pub(super) fn comb(
        &self,
        lattice: &Lattice,
        widths: Option<&[f64]>,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let planned = plan_comb(lattice, widths, self.machine(), self.laser, self.file_name);
        self.finish(planned, &comb_wanted(lattice, widths), told)
    }

    /// Base inserts of a sled, for the distances given or the lattice's steps.
    pub(super) fn rack(
        &self,
        lattice: &Lattice,
        chosen: &Chosen,
        distances: Option<&[f64]>,
        told: &mut Warnings<'a>,
    ) -> Result<Drawings, Failure> {
        let Machine::Sled(sled) = &chosen.profile.machine else {
            return Err(wrong_kind(&chosen.profile.machine));
        };
        let rack = RackOrder { sled, distances };
        let planned = plan_rack(lattice, &rack, self.machine(), self.laser, self.file_name);
        if let Err(faults) = &planned
            && faults.iter().all(|fault| fault.field.starts_with("blade"))
        {
            return Err(Failure::findings(
                &chosen.profile.source,
                faults,
                self.shown,
            ));
        }
        self.finish(planned, &rack_wanted(lattice, sled, distances), told)
    }
}

/// Whether a laser cuts sheet as thick as a job's pieces are deep.
pub(super) fn cuts_pieces(job: &Job, chosen: &Chosen) -> bool {
    laser_of(chosen).is_ok_and(|laser| job.panel.strip.depth <= laser.thickest)
}

fn laser_of(chosen: &Chosen) -> Result<&Laser, Failure> {
    match &chosen.profile.machine {
        Machine::Laser(laser) | Machine::SheetRouter(laser) => Ok(laser),
        other => Err(wrong_kind(other)),
    }
}

/// Writes a plan's drawings and reads them back; nothing comes of it if they are not just the parts
/// wanted.
fn proven(
    plan: LaserPlan,
    wanted: &[Wanted],
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
    let sheet_mm = (laser.sheet.length, laser.sheet.width);
    let mut report = match &laser.cutter {
        None => prove_drawings(&bytes, wanted, laser.kerf, sheet_mm),
        Some(cutter) => prove_routed(&bytes, wanted, cutter, sheet_mm),
    };
    // Against the job, wherever the parts lie; and against the layout, labels and places too.
    for ((file, bytes), found) in plan.files.iter().zip(&bytes).zip(&mut report.files) {
        let meant = Meant {
            parts: &file.finished,
            kerf_mm: laser.kerf,
            cutter_mm: laser.cutter.map(|cutter| cutter.diameter),
            sheet_mm,
        };
        found.faults.extend(check(bytes, &meant).faults);
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
        "error: the drawings were read back and are not what was meant; nothing was written\n{faults}"
    );
    Err(Failure { code: 1, text })
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
        found.faults.extend(check_twin(&svg, dxf, (length, width)));
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
