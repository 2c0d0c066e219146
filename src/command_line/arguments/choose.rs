//! Flags of `choose`.

use super::text_path::text_path;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright choose --opening 612mm,388mm --pitch 40mm --thickness 3mm --depth 12mm
  lapwright choose --opening 612mm,388mm --pitch 40mm --thickness 3mm --depth 12mm \\
      --sled my-sled.toml --router small-router --pattern square-hemp-leaf -o panel.toml
  lapwright choose --opening '24 1/8 in,15 1/4 in' --columns 15 --rows 9 --thickness 1/8in --depth 1/2in
  lapwright choose porch.toml --pitch 36mm -o porch-2.toml --pick 2

A pitch is taken as about that, and a slot of the sled's rack as it measures. What another panel
beats in every respect is left out.")]
pub(in super::super) struct ChooseArguments {
    /// Job file with an [opening]: its strips, frame, pattern and machines stay, its grid is chosen
    pub(in super::super) job: Option<PathBuf>,
    /// Width and height of the opening
    #[arg(long, value_name = "WIDTH,HEIGHT", conflicts_with = "job")]
    pub(in super::super) opening: Option<String>,
    /// Where the tape was held: in the hole that the panel goes into, inside the frame, over the
    /// finished panel
    #[arg(long, value_enum, default_value = "hole", conflicts_with = "job")]
    pub(in super::super) measured: Measured,
    /// Air between panel and opening, at every side
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) play: Option<String>,
    /// About this distance between neighbouring centre lines
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in super::super) pitch: Option<String>,
    /// Bays side by side
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true)]
    pub(in super::super) columns: Option<String>,
    /// Bays above each other
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true)]
    pub(in super::super) rows: Option<String>,
    /// Least distance from the inside's edge to the outermost centre line
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in super::super) least_margin: Option<String>,
    /// Greatest such distance; else one pitch more than the least
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in super::super) most_margin: Option<String>,
    /// Width of a strip as seen from the front
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) thickness: Option<String>,
    /// Front to back
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) depth: Option<String>,
    /// Notch width less strip thickness; negative for a press fit
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) clearance: Option<String>,
    /// Pattern of the pieces: a shipped name or a path
    #[arg(long, value_name = "PATTERN", conflicts_with = "job")]
    pub(in super::super) pattern: Option<String>,
    /// Profile of the sled: a shipped name or a path
    #[arg(long, value_name = "PROFILE", conflicts_with = "job")]
    pub(in super::super) sled: Option<String>,
    /// Profile of the laser or sheet router
    #[arg(long, value_name = "PROFILE", conflicts_with = "job")]
    pub(in super::super) laser: Option<String>,
    /// Profile of the router
    #[arg(long, value_name = "PROFILE", conflicts_with = "job")]
    pub(in super::super) router: Option<String>,
    /// Profile of the paring guides
    #[arg(long, value_name = "PROFILE", conflicts_with = "job")]
    pub(in super::super) guides: Option<String>,
    /// Write the job of the one that is picked
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(in super::super) output: Option<PathBuf>,
    /// Which one: its number in the table
    #[arg(long, value_name = "NUMBER", requires = "output", default_value = "1")]
    pub(in super::super) pick: usize,
}

/// Where a person held the tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in super::super) enum Measured {
    /// In the hole that the panel goes into
    Hole,
    /// Between the inner faces of a frame that is there
    Inside,
    /// Over the finished panel
    Panel,
}
