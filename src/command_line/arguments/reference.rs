//! What `lapwright help`, `lapwright schema` and `lapwright man` are asked.

use super::named::HELP;
use super::text_path::folder_path;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright help sled
  lapwright help job
  lapwright help machine sled
  lapwright help pattern")]
pub(in crate::command_line) struct HelpArguments {
    /// A command; or a kind of file: job, pattern, machine, machine sled
    #[arg(value_name = "COMMAND OR FILE", value_parser = HELP, hide_possible_values = true)]
    pub(in crate::command_line) about: Vec<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  lapwright schema job > lapwright-job.json

Editors that know TOML take it where the file says so in its first line:
  #:schema ./lapwright-job.json

A schema cannot weigh one figure against another: the program refuses more than it does.")]
pub(in crate::command_line) struct SchemaArguments {
    /// What kind of file
    pub(in crate::command_line) of: FileKind,
}

/// Kinds of files that people write.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum FileKind {
    /// A panel and its machines
    Job,
    /// A machine's profile
    Machine,
    /// A pattern of pieces
    Pattern,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  lapwright man -o ~/.local/share/man/man1")]
pub(in crate::command_line) struct ManArguments {
    /// The folder to write into; made if it is not there
    #[arg(short, long, value_name = "FOLDER", value_parser = folder_path)]
    pub(in crate::command_line) output: PathBuf,
}
