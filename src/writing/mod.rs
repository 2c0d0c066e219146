//! Spelling instructions out as files and sheets.

pub mod dxf;
