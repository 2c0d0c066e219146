//! The set-up sheet for mitres of pieces at a sled.

mod after;
mod joint_view;
mod reach_words;
mod row_words;
mod settings;
mod sheet;
mod stick_words;
mod stops;

pub use sheet::mitre_sheet;
