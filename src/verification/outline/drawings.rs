//! Whether drawings hold just the parts that a job needs, wherever they lie on their sheets.

use super::bridges::check_bridges;
use super::found_parts::{PathTool, find_parts, share_out_marks};
use super::meant_sheet::MeantSheet;
use super::read_drawing::ReadDrawing;
use super::report::{OutlineFault, OutlineReport};
use super::sheet_drawing::check_read_sheet;
use super::wanted_part::WantedPart;
use crate::instructions::outline::CutPart;
use crate::machines::{Cutter, Sheet};

/// What was found in a job's drawings.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingsReport {
    /// One for each file.
    pub files: Vec<OutlineReport>,
    /// Of all files together: parts that are missing, or there too often.
    pub faults: Vec<OutlineFault>,
}

impl DrawingsReport {
    /// Whether nothing is wrong.
    pub fn ok(&self) -> bool {
        self.faults.is_empty() && self.files.iter().all(|file| file.faults.is_empty())
    }
}

/// Proves the drawings of a job's sheets that a beam follows: reads them and compares what they cut
/// with the parts wanted.
///
/// In: the bytes of all DXF files of the job; the parts that they must hold together, as they are
/// after cutting; the kerf, which is taken off again, 0 where the files show finished outlines; the
/// sheet with its margin and gap. Out: a report for each file, and faults of all together. It never
/// fails: bytes that are no DXF file are faults too.
///
/// Parts may lie anywhere, but are never turned: their grain runs along x, and front and back of a
/// strip would be exchanged. Not checked: in which order the paths are cut, engravings of parts whose
/// [`WantedPart::engraved`] is `None`, and titles.
///
/// Codes as for [`check_sheet`](super::check_sheet), and `mark-outside` for a label that is not on a part, `mark-missing`,
/// `mark-surplus`, `check-line`, `words` where a part's engraving is known, `count` for parts that
/// are missing or there too often.
pub fn prove_drawings(
    files: &[&[u8]],
    wanted: &[WantedPart],
    kerf_mm: f64,
    sheet: Sheet,
) -> DrawingsReport {
    let read: Vec<ReadDrawing> = files.iter().map(|bytes| ReadDrawing::of(bytes)).collect();
    prove_read(&read, wanted, (kerf_mm, None), sheet)
}

/// Proves drawings that are read already: as [`prove_drawings`], for a beam's kerf or for a cutter.
///
/// Files for a cutter show finished outlines, which it keeps outside of, with reliefs in concave corners, so
/// that a square mate sits there, and with bridges; the kerf is not taken off.
///
/// Codes besides: `relief-stray`, `not-seated`; `bridge-place`, `bridge-width`, `bridge-count`.
pub fn prove_read(
    files: &[ReadDrawing],
    wanted: &[WantedPart],
    tool: (f64, Option<&Cutter>),
    sheet: Sheet,
) -> DrawingsReport {
    prove(files, wanted, path_tool(tool), sheet)
}

/// A cutter's paths have no kerf.
fn path_tool((kerf_mm, cutter): (f64, Option<&Cutter>)) -> PathTool {
    PathTool {
        kerf_mm: cutter.map_or(kerf_mm, |_| 0.0),
        cutter: cutter.copied(),
    }
}

/// Whether drawings hold any of the parts wanted, or what is nearly one: tells which kind of parts
/// files are of before they are proved. Files that cannot be read hold none.
pub fn holds_any(
    files: &[ReadDrawing],
    wanted: &[WantedPart],
    (kerf_mm, cutter): (f64, Option<&Cutter>),
) -> bool {
    let tool = PathTool {
        kerf_mm,
        cutter: cutter.copied(),
    };
    let mut found = vec![0; wanted.len()];
    for drawing in files {
        find_parts(drawing.contours(), wanted, &mut found, tool);
    }
    found.iter().any(|count| *count > 0)
}

fn prove(
    files: &[ReadDrawing],
    wanted: &[WantedPart],
    tool: PathTool,
    sheet: Sheet,
) -> DrawingsReport {
    let mut counts = vec![0; wanted.len()];
    let mut reports = Vec::new();
    for drawing in files {
        reports.push(prove_file(drawing, wanted, &mut counts, tool, sheet));
    }
    let mut faults = Vec::new();
    for (part, found) in wanted.iter().zip(counts) {
        if part.count != found {
            let text = format!(
                "{}: {} wanted, {found} in the drawings",
                part.name, part.count
            );
            faults.push(OutlineFault::new("count", text));
        }
    }
    DrawingsReport {
        files: reports,
        faults,
    }
}

/// One file of a job; `counts` says how many of each part wanted have been found so far.
fn prove_file(
    drawing: &ReadDrawing,
    wanted: &[WantedPart],
    counts: &mut [usize],
    tool: PathTool,
    sheet: Sheet,
) -> OutlineReport {
    let contours = drawing.contours();
    let mut found = find_parts(contours, wanted, counts, tool);
    let mut faults = share_out_marks(contours, &mut found);
    for part in &mut found {
        part.choose_by_engraving(wanted, counts);
    }
    for part in &found {
        part.check_engraving(&mut faults);
    }
    if let Some(cutter) = &tool.cutter {
        for part in &mut found {
            part.check_reliefs(contours, cutter, &mut faults);
        }
    }
    let parts: Vec<CutPart> = found.into_iter().map(|found| found.part).collect();
    if let Some(cutter) = &tool.cutter {
        check_bridges(contours, &parts, cutter, &mut faults);
    }
    let meant = MeantSheet {
        parts: &parts,
        kerf_mm: tool.kerf_mm,
        cutter_mm: tool.cutter.map(|cutter| cutter.diameter),
        sheet,
    };
    let mut report = check_read_sheet(drawing, &meant);
    report.faults.extend(faults);
    report
}
