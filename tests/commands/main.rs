//! The program as a person or a script uses it: answers, refusals, figures, and what is as good as
//! the same job said otherwise.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod as_built;
mod bad_input;
mod birds_mouths;
mod cell_opening;
mod choose;
mod choose_slanted;
mod command_line;
mod diamond_is_square;
#[cfg(unix)]
mod faults;
mod folded_pieces;
mod frame_mitres;
mod in_folder;
mod large_work;
mod lesson;
mod measure;
mod measured_stock;
mod movement;
mod one_truth;
mod pare;
mod pattern_hints;
mod patterns;
mod piece_wood;
mod reference_facts;
mod schema;
mod show;
mod standard_streams;
mod stock;
#[cfg(unix)]
mod stopped_runs;
mod thickness;
#[cfg(unix)]
mod under_way;
mod watch;

#[path = "../support/mod.rs"]
mod support;
