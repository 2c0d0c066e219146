//! From a job and its machines to files that are proved: planned, written, read back and found right,
//! and only then given a name.
//!
//! | what | by |
//! | --- | --- |
//! | everything for a job, as far as its machines can make it | [`Made::of`] |
//! | settings of a sled | [`planned_sled`] |
//! | a router's plan and programs | [`planned_programs`], [`proven_programs`] |
//! | the mortises' programs of a frame | [`proven_rail_programs`] |
//! | a router's programs for pieces in rows on long sticks | [`planned_mitre_programs`] |
//! | drawings of parts that are cut from sheet | [`SheetOrder::drawn`] |
//! | a drawing of a frame's members | [`FrameDrawing::drawn`] |
//! | the cells of a panel with their pieces | [`filled`] |
//! | a pattern in a list, with its picture | [`pattern_entry`] |
//! | whether the panel will go together | [`FitQuestion::answered`] |
//! | its wood: parts, sticks, boards, milling, time | [`StockQuestion::answered`] |
//! | how these get their mitres | [`PieceOrder::planned`] |
//!
//! Nothing is written to a disk here but temporary files, and nothing is shown. What is wrong says in
//! which text it is ([`crate::finding::Document`]); [`crate::reading::Documents`] shows it there.

mod advice;
mod drawings;
mod extras;
mod file_names;
mod fit;
mod frame_parts;
mod infill;
mod lacking;
mod made;
mod mitres;
mod not_made;
mod overview;
mod patterns;
mod plain_sheets;
mod plans;
mod program_lines;
mod programs;
mod rails;
mod routed_rows;
mod safety;
mod set_up_sheets;
mod sheet_parts;
mod size;
mod sled;
mod slots_as_built;
mod stock;
mod strips_cut;
mod warnings;
mod whole_job;
mod workshop;

pub use advice::advice;
pub use drawings::{DrawingFiles, Drawings, SheetOrder, panel_dxf};
pub use file_names::numbered;
pub use fit::FitQuestion;
pub use frame_parts::{FrameDrawing, frame_safety, member_names, no_members};
pub use infill::{filled, panel_picture, with_crossing_pieces};
pub use made::{FileKind, JobOrder, Made, MadeFile};
pub use mitres::{PieceOrder, PiecePlans};
pub use not_made::{Disproved, Lacking, NotMade};
pub use overview::GlanceOrder;
pub use patterns::{LISTED, pattern_entry};
pub use plans::Plans;
pub use programs::{ProgramFile, RouterPrograms, planned_programs, proven_programs};
pub use rails::{
    MitreFindings, RailPrograms, RailWork, planned_rails, proven_rail_programs, saw_mitres,
};
pub use routed_rows::{MitrePrograms, planned_mitre_programs, proven_mitre_programs};
pub use safety::safety_at;
pub use set_up_sheets::{SetUpFile, SheetFormat, set_up_file};
pub use sheet_parts::SheetParts;
pub use size::size_of;
pub use sled::planned_sled;
pub use slots_as_built::slots_as_built;
pub use stock::{StockQuestion, woods_side_by_side};
pub use warnings::Warnings;
pub use workshop::Workshop;

pub(crate) use drawings::report;
pub(crate) use programs::task;
pub(crate) use routed_rows::row_task;
