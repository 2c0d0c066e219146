//! What `lapwright machine` is asked.

use super::named::MACHINE;
use super::paper::Paper;
use super::text_path::text_path;
use clap::{Args, Subcommand};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright machine list
  lapwright machine new --like key-sled -o my-sled.toml
  lapwright machine check my-sled.toml
  lapwright machine measure my-sled.toml --sheet test-cuts.pdf --begin readings.toml
  lapwright machine measure my-sled.toml --from readings.toml --dry-run")]
pub(in crate::command_line) struct MachineArguments {
    #[command(subcommand)]
    pub(in crate::command_line) action: MachineAction,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright machine measure my-sled.toml
  lapwright machine measure my-sled.toml --sheet test-cuts.pdf --begin readings.toml
  lapwright machine measure my-sled.toml --from readings.toml --dry-run
  lapwright machine measure my-sled.toml --from readings.toml

Without --from: which test pieces to cut, and where to put the caliper. With it: mean, standard
deviation and uncertainty (95 %) of every figure, written into the profile with its date; comments,
order and line ends stay. Outliers are named and counted all the same.")]
pub(in crate::command_line) struct MeasureArguments {
    /// Your own profile; for a sheet a shipped name will do
    #[arg(value_parser = MACHINE, hide_possible_values = true)]
    pub(in crate::command_line) profile: String,
    /// Readings (.toml, .csv) to be written into the profile
    #[arg(long, value_name = "FILE", conflicts_with_all = ["sheet", "begin"])]
    pub(in crate::command_line) from: Option<PathBuf>,
    /// When they were taken, such as 2026-11-30; else as their file says, else today
    #[arg(long, value_name = "DAY")]
    pub(in crate::command_line) date: Option<String>,
    /// Tell what would be written, and write nothing
    #[arg(long, requires = "from")]
    pub(in crate::command_line) dry_run: bool,
    /// Write the profile with its new figures to another file
    #[arg(short, long, value_name = "FILE", requires = "from", value_parser = text_path)]
    pub(in crate::command_line) output: Option<PathBuf>,
    /// Write the measuring sheet: .html, .pdf or .txt
    #[arg(long, value_name = "FILE", value_parser = text_path)]
    pub(in crate::command_line) sheet: Option<PathBuf>,
    /// Size of the sheet's paper
    #[arg(long, value_enum, default_value = "a4")]
    pub(in crate::command_line) paper: Paper,
    /// Begin a file of readings; an existing one is left alone
    #[arg(long, value_name = "FILE", value_parser = text_path)]
    pub(in crate::command_line) begin: Option<PathBuf>,
    /// The longest that the caliper measures
    #[arg(long, value_name = "LENGTH", default_value = "150mm")]
    pub(in crate::command_line) caliper: String,
}

#[derive(Debug, Subcommand)]
pub(in crate::command_line) enum MachineAction {
    /// The profiles that come with the program
    #[command(after_help = "Example:\n  lapwright machine list --format json")]
    List,
    /// A profile with its comments
    #[command(after_help = "Example:\n  lapwright machine show key-sled")]
    Show {
        /// A shipped name or a path
        #[arg(value_parser = MACHINE, hide_possible_values = true)]
        profile: String,
    },
    /// Whether a profile is sound
    #[command(after_help = "Example:\n  lapwright machine check my-sled.toml")]
    Check {
        /// A shipped name or a path
        #[arg(value_parser = MACHINE, hide_possible_values = true)]
        profile: String,
    },
    /// Figures of your own profile from test cuts: a sheet that says which, then the readings
    Measure(MeasureArguments),
    /// How thick to plane strips for a sled's blade, or what to do with strips as they are
    #[command(after_help = "\
Examples:
  lapwright machine thickness my-sled.toml --clearance 0.05mm
  lapwright machine thickness my-sled.toml --have 3.12mm")]
    Thickness {
        /// A shipped name or a path
        #[arg(value_parser = MACHINE, hide_possible_values = true)]
        profile: String,
        /// Notch less strip, as you want it; below zero for a press fit
        #[arg(
            long,
            value_name = "LENGTH",
            default_value = "0mm",
            allow_hyphen_values = true
        )]
        clearance: String,
        /// How thick the strips are that you have
        #[arg(long, value_name = "LENGTH")]
        have: Option<String>,
    },
    /// A profile of your own, begun from a shipped one
    #[command(after_help = "Example:\n  lapwright machine new --like key-sled -o my-sled.toml")]
    New {
        /// The shipped profile to begin from
        #[arg(long, value_name = "NAME", value_parser = MACHINE, hide_possible_values = true)]
        like: String,
        /// The file to write; an existing one is left alone
        #[arg(short, long, value_name = "FILE", value_parser = text_path)]
        output: PathBuf,
    },
}
