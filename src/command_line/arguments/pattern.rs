//! Arguments of `lapwright pattern`.

use super::named::PATTERN;
use super::text_path::text_path;
use clap::{Args, Subcommand};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright pattern learn
  lapwright pattern list --picture patterns.html
  lapwright pattern show square-hemp-leaf --picture leaf.svg
  lapwright pattern check my-pattern.toml --pitch 38mm --thickness 3mm
  lapwright pattern map panel.toml")]
pub(in crate::command_line) struct PatternArguments {
    #[command(subcommand)]
    pub(in crate::command_line) action: PatternAction,
}

#[derive(Debug, Subcommand)]
pub(in crate::command_line) enum PatternAction {
    /// A pattern in ten minutes: one figure, from an empty file to pieces that are proved
    Learn,
    /// The patterns that come with the program
    List {
        /// Write all of them drawn over several cells: one page (.html), or one sheet (.svg)
        #[arg(short = 'o', long, value_name = "FILE", value_parser = text_path)]
        picture: Option<PathBuf>,
    },
    /// A pattern with its comments, and a drawing of it
    Show {
        /// A shipped name or a path
        #[arg(value_parser = PATTERN, hide_possible_values = true)]
        pattern: String,
        /// Write a drawing (SVG): one cell with the pieces' names and lengths, and several cells
        #[arg(short = 'o', long, alias = "output", value_name = "FILE", value_parser = text_path)]
        picture: Option<PathBuf>,
        /// Pitch of the grid, or side of its triangles
        #[arg(long, value_name = "LENGTH")]
        pitch: Option<String>,
        /// Thickness of strips and pieces
        #[arg(long, value_name = "LENGTH")]
        thickness: Option<String>,
    },
    /// Whether a pattern is sound in a cell
    Check {
        /// A shipped name or a path
        #[arg(value_parser = PATTERN, hide_possible_values = true)]
        pattern: String,
        /// Pitch of the grid, or side of its triangles
        #[arg(long, value_name = "LENGTH")]
        pitch: Option<String>,
        /// Thickness of strips and pieces
        #[arg(long, value_name = "LENGTH")]
        thickness: Option<String>,
    },
    /// Which cell of a job takes which pattern, as lines to edit and put into the job
    Map {
        /// Job file with a table [infill]
        job: PathBuf,
    },
}
