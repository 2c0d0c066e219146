//! Arguments of `lapwright stock`.

use super::text_path::text_path;
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright stock panel.toml
  lapwright stock panel.toml --csv cut-list.csv
  lapwright stock panel.toml --format json
  lapwright stock panel.toml --woods basswood,walnut

What you have or can buy, your saw and your planer stand in [stock]: `lapwright help job`. Without it all \
figures of the workshop are examples.")]
pub(in crate::command_line) struct StockArguments {
    /// Job file; it need not name a machine
    pub(in crate::command_line) job: PathBuf,
    /// Write the cut list as comma-separated values as well
    #[arg(long, value_name = "FILE", value_parser = text_path)]
    pub(in crate::command_line) csv: Option<PathBuf>,
    /// Instead: what is known of these woods, of those in [[stock.woods]] and of the job's own, side by side;
    /// of all woods where neither names any
    #[arg(
        long,
        value_name = "WOODS",
        value_delimiter = ',',
        num_args = 0..,
        conflicts_with = "csv"
    )]
    pub(in crate::command_line) woods: Option<Vec<String>>,
}
