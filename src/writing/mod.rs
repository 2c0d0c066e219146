//! Instructions to bytes: text for people, JSON for programs, drawings and programs for machines.

pub mod as_built;
mod colour_index;
mod columns;
pub mod csv;
pub mod cut_sheet_svg;
pub mod dxf;
pub mod files;
pub mod gcode;
pub mod html;
pub mod json;
pub mod pdf;
pub mod profile_text;
pub mod stopping;
pub mod svg;
mod svg_repeats;
mod temporary;
pub mod text;
pub mod theme;
mod told_table;
