//! A job's wood in words, tables and pictures: what to buy, how to cut it up, how to mill it, how long it takes.

mod bar;
mod board_view;
mod buy;
mod cuts;
mod list;
mod mill_words;
mod milling;
mod needs;
mod sheets;
mod stick_view;
mod time;

pub(in crate::sheets) use buy::sticks_words;
pub use list::cut_list;
pub use sheets::{milling_sheet, shopping_sheet, stock_answer_sheet};
