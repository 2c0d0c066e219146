//! From plans to what people read: sentences, tables and pictures, machine by machine, and the booklet
//! for all of them. No figure is worked out here.

mod advice;
mod alike;
mod as_built;
mod booklet;
mod choice;
mod fit;
mod frame_joint;
mod frame_mitres;
mod frame_parts;
mod lapped_blanks;
mod measured_figures;
mod measured_stock;
mod measuring;
mod mitres;
mod movement;
mod overview;
mod panel;
mod panel_picture;
mod panel_size;
mod paring;
mod pattern_map;
mod pattern_sheet;
mod rails;
mod routed_rows;
mod router;
mod sheet_cutting;
mod sled;
mod stock;
mod thickness;
mod warnings;
mod wood_table;

pub use advice::advice_words;
pub use booklet::{BookletWork, booklet, guide_pictures};
pub use choice::choice_sections;
pub use fit::{FitLines, fit_lines};
pub use frame_parts::frame_parts_sheet;
pub use measuring::{measuring_booklet, measuring_sheet};
pub use mitres::mitre_sheet;
pub use movement::movement_lines;
pub use overview::{
    Compared, LetterPicture, OverviewLine, Room, compared, letter_picture, overview_lines,
};
pub use panel_picture::{figure_drawing, panel_drawing, panel_outlines, pattern_drawing};
pub use paring::{pare_sheet, piece_list};
pub use pattern_map::pattern_map;
pub use pattern_sheet::pattern_sheet_drawing;
pub use rails::rail_sheet;
pub use routed_rows::routed_rows_sheet;
pub use router::router_sheet;
pub use sheet_cutting::laser_sheet;
pub use sled::{sled_answer, sled_sheet};
pub use stock::{cut_list, milling_sheet, shopping_sheet, stock_answer_sheet};
pub use thickness::thickness_lines;
pub use warnings::{mind_in, mind_section, missing_first, missing_section};
pub use wood_table::{wood_section, woods_sheet};
