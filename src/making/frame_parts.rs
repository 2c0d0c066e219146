//! A frame's members as parts: a drawing that is read back, and an SVG beside it.

use super::drawings::DrawingFiles;
use super::made::{FileKind, JobOrder, Made};
use super::not_made::{Disproved, NotMade};
use crate::finding::Document;
use crate::instructions::frame_parts::{FrameParts, PartsFile};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{Frame, Lattice};
use crate::machines::Colours;
use crate::planning::{plan_frame_parts, plan_rails, rail_names};
use crate::verification::outline::{FrameOrder, ReadDrawing, check_frame, check_svg_twin};
use crate::writing::cut_sheet_svg::outlines_svg;
use crate::writing::dxf::{DxfVersion, dxf};
use std::path::Path;

/// A file's name and content.
type NamedFile = (String, Vec<u8>);

/// What to draw of a frame.
#[derive(Debug, Clone, Copy)]
pub struct FrameDrawing<'a> {
    /// The panel's strips.
    pub lattice: &'a Lattice,
    /// The frame.
    pub frame: &'a Frame,
}

impl FrameDrawing<'_> {
    /// The drawing of all members, read back and found right, as files named after `output`.
    ///
    /// # Errors
    /// A frame that cannot be made, or whose members' widths are not known; a drawing that is not what was
    /// meant.
    pub fn drawn(
        &self,
        output: &Path,
        files: DrawingFiles,
    ) -> Result<(FrameParts, Vec<NamedFile>), NotMade> {
        let planned = plan_frame_parts(
            self.lattice,
            self.frame,
            frame_safety(self.lattice, self.frame),
        );
        let mut plan = planned.map_err(|faults| NotMade::cannot(faults, Document::Job))?;
        let version = match files {
            DrawingFiles::Dxf(version) | DrawingFiles::Both(version) => version,
            DrawingFiles::Svg => DxfVersion::default(),
        };
        let drawing = dxf(&plan.drawing, version, Colours::default())?;
        let names = member_names(self.lattice, self.frame);
        let order = FrameOrder {
            lattice: self.lattice,
            frame: self.frame,
            names: &names,
        };
        let mut faults = check_frame(&drawing, &order).faults;
        let title = format!("Members of the frame: {}", plan.title);
        let svg = outlines_svg(&plan.drawing, &title, plan.size_mm, Colours::default())?;
        faults.extend(check_svg_twin(
            svg.as_bytes(),
            &ReadDrawing::of(&drawing),
            plan.size_mm,
        ));
        if !faults.is_empty() {
            let faults = faults.iter();
            let faults = faults.map(|fault| format!("{}: {}", fault.code, fault.text));
            return Err(NotMade::Disproved(Disproved {
                what: "the frame's members were read back and are not what was meant; nothing was written".into(),
                faults: faults.collect(),
            }));
        }
        let named = |ending: &str| output.with_extension(ending).display().to_string();
        let own = output.display().to_string();
        let svg = svg.into_bytes();
        let made = match files {
            DrawingFiles::Dxf(_) => vec![(own, drawing)],
            DrawingFiles::Svg => vec![(own, svg)],
            DrawingFiles::Both(_) => vec![(own, drawing), (named("svg"), svg)],
        };
        let files = made
            .iter()
            .map(|(path, _)| PartsFile { path: path.clone() });
        plan.files = files.collect();
        Ok((plan, made))
    }
}

/// What a frame's members are called, round it from the first rail; none where it cannot be made.
pub fn member_names(lattice: &Lattice, frame: &Frame) -> Vec<String> {
    let made = frame.rails(lattice);
    made.map_or(Vec::new(), |made| rail_names(&made.rails))
}

/// Why a frame has no members that could be drawn, where it has none.
pub fn no_members(lattice: &Lattice, frame: &Frame) -> Option<NotMade> {
    let planned = plan_frame_parts(lattice, frame, frame_safety(lattice, frame));
    let faults = planned.err()?;
    Some(NotMade::cannot(faults, Document::Job))
}

/// For whoever makes a frame's members.
pub fn frame_safety(lattice: &Lattice, frame: &Frame) -> SafetyNotes {
    let planned = plan_rails(lattice, frame, None);
    planned.map_or_else(
        |_| SafetyNotes::for_mortises(false),
        |(plan, _)| plan.safety(),
    )
}

impl Made {
    /// The members as parts, where their widths are known.
    ///
    /// # Errors
    /// A drawing that is not what was meant.
    pub(super) fn add_members(
        &mut self,
        order: &JobOrder<'_>,
        frame: &Frame,
    ) -> Result<(), NotMade> {
        if frame.widths.is_none() {
            return Ok(());
        }
        let lattice = order.job.panel.lattice();
        let drawing = FrameDrawing { lattice, frame };
        let (_, files) = drawing.drawn(Path::new("frame.dxf"), DrawingFiles::Both(order.dxf))?;
        self.keep_files(files, FileKind::Outline, "");
        Ok(())
    }
}
