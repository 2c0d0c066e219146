//! Arguments of `lapwright movement`.

use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright movement panel.toml
  lapwright movement panel.toml --format json

The wood is `wood` in [strip], the air stands in [climate]: `lapwright help job`.")]
pub(in crate::command_line) struct MovementArguments {
    /// Job file
    pub(in crate::command_line) job: PathBuf,
}
