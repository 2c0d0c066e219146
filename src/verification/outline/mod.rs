//! Whether an outline file says what was meant: read as text and by an independent reader, the
//! kerf taken off again, compared vertex by vertex with the finished parts.
//!
//! What a caller asks: [`prove_drawings`] for a job's drawings that a beam follows, [`prove_read`] for
//! those that are read already, [`check_sheet`] and [`check_places`] for one sheet whose parts have their
//! places, [`check_svg_twin`] for the SVG beside a DXF file, [`check_panel`] for a picture of the
//! panel, [`check_frame`] for the members of a frame as parts. What a job's drawings must hold is worked out by the functions that end in `_wanted`, and by
//! [`GuideOrder`].

mod bridges;
mod comb;
mod contours;
mod drawings;
mod dxf_entities;
mod dxf_survey;
mod dxf_tags;
mod engraving;
mod folded;
mod found_parts;
mod frame;
mod frame_joints;
mod frame_wanted;
mod guide;
mod kerf;
mod lapped;
mod matching;
mod meant_sheet;
mod near;
mod panel;
mod pieces;
mod rack;
mod read_drawing;
mod reliefs;
mod report;
mod rings;
mod sheet_drawing;
mod spacing;
mod story_sticks;
mod strips;
mod svg_twin;
mod wanted_part;

pub use comb::comb_wanted;
pub use drawings::{DrawingsReport, holds_any, prove_drawings, prove_read};
pub use frame::{check_frame, holds_members};
pub use frame_wanted::FrameOrder;
pub use guide::{GuideOrder, Labels};
pub use lapped::LappedOrder;
pub use meant_sheet::MeantSheet;
pub use panel::{check_panel, has_cuts};
pub use pieces::{deepest_piece, pieces_wanted};
pub use rack::rack_wanted;
pub use read_drawing::ReadDrawing;
pub use report::{OutlineFault, OutlineReport};
pub use sheet_drawing::{check_places, check_sheet};
pub use story_sticks::gauge_wanted;
pub use strips::strips_wanted;
pub use svg_twin::check_svg_twin;
pub use wanted_part::{Engraved, EngravedText, WantedPart};
