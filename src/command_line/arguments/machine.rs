//! What `lapwright machine` is asked.

use super::named::MACHINE;
use super::text_path::text_path;
use clap::{Args, Subcommand};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright machine list
  lapwright machine new --like key-sled -o my-sled.toml
  lapwright machine check my-sled.toml")]
pub(in crate::command_line) struct MachineArguments {
    #[command(subcommand)]
    pub(in crate::command_line) action: MachineAction,
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
