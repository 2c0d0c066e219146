//! Arguments of `lapwright show` and `lapwright compare`.

use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright show panel.toml
  lapwright show panel.toml --watch
  lapwright show panel.toml --units in --no-picture
  lapwright show panel.toml --format json

What a machine cannot do is told in its line; exit code 0 all the same. Nothing is written.")]
pub(in crate::command_line) struct ShowArguments {
    /// Job file; it need not name a machine
    pub(in crate::command_line) job: PathBuf,
    /// Draw the panel where the answer does not go to a terminal, too
    #[arg(long, conflicts_with = "no_picture")]
    pub(in crate::command_line) picture: bool,
    /// Leave the picture out
    #[arg(long)]
    pub(in crate::command_line) no_picture: bool,
    /// Show it again whenever the job, a profile or the pattern changes; Ctrl-C ends
    #[arg(long)]
    pub(in crate::command_line) watch: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  lapwright compare panel.toml panel-wider.toml

Exit code 0 whether they differ or not: the first line says which.")]
pub(in crate::command_line) struct CompareArguments {
    /// Job file
    pub(in crate::command_line) first: PathBuf,
    /// Job file that it is held beside
    pub(in crate::command_line) second: PathBuf,
}
