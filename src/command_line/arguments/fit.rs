//! Arguments of `lapwright fit`.

use clap::Args;
use clap::builder::RangedU64ValueParser;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright fit panel.toml
  lapwright fit panel.toml --way sled --draws 50000
  lapwright fit panel.toml --format json

Exit code 1 where the strips go together less often than the job's [fit] asks. What a profile does not say \
of its spread ([spread]) is assumed, and marked so.")]
pub(in crate::command_line) struct FitArguments {
    /// Job file that names a sled, a router or a laser
    pub(in crate::command_line) job: PathBuf,
    /// Only this way of working
    #[arg(long, value_enum)]
    pub(in crate::command_line) way: Option<FitWay>,
    /// Panels drawn at random; as many as take about two seconds unless given
    #[arg(long, value_parser = RangedU64ValueParser::<u32>::new().range(100..=10_000_000))]
    pub(in crate::command_line) draws: Option<u32>,
    /// Where the random numbers start: the same number gives the same answer
    #[arg(long)]
    pub(in crate::command_line) seed: Option<u64>,
}

/// A way of working.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(in crate::command_line) enum FitWay {
    /// Notched on a sled
    Sled,
    /// Notched by a router
    Router,
    /// Cut from sheet
    Laser,
}
