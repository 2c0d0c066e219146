//! What `lapwright pare` is asked.

use super::named::MACHINE;
use super::text_path::text_path;
use crate::lattice::PieceWay;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// How mitres of pieces are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum Way {
    /// Pared on guides, piece by piece
    Guides,
    /// Sawn in rows on long sticks, a skin holding them together
    Rows,
    /// Sawn on the end of a stick, each piece then cut off by hand
    StickEnds,
    /// Routed in rows on long sticks
    RoutedRows,
}

impl From<Way> for PieceWay {
    fn from(way: Way) -> PieceWay {
        match way {
            Way::Guides => PieceWay::Guides,
            Way::Rows => PieceWay::Rows,
            Way::StickEnds => PieceWay::StickEnds,
            Way::RoutedRows => PieceWay::RoutedRows,
        }
    }
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright pare panel.toml --machine paring-guides
  lapwright pare panel.toml --way rows
  lapwright pare panel.toml --way routed-rows -o pieces.nc
  lapwright pare panel.toml --cell-opening 35.6mm,35.3mm,50.2mm
  lapwright pare panel.toml --csv pieces.csv")]
pub(in crate::command_line) struct PareArguments {
    /// Job file with a table [infill]
    pub(in crate::command_line) job: PathBuf,
    /// How mitres are made: pared on guides, sawn in rows on long sticks or on sticks' ends, or routed
    /// in rows; else as the job says
    #[arg(long, value_enum)]
    pub(in crate::command_line) way: Option<Way>,
    /// Profile of the sled that saws mitres: a shipped name or a path; else the job's
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(in crate::command_line) sled: Option<String>,
    /// Profile of the router that cuts rows: a shipped name or a path; else the job's
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(in crate::command_line) router: Option<String>,
    /// Programs that cut the pieces on a router; several get numbers
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(in crate::command_line) output: Option<PathBuf>,
    /// Profile of the guides: a shipped name or a path; else the job's
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(in crate::command_line) machine: Option<String>,
    /// A cell's clear opening as it was built and measured: one length, width,height or
    /// width,height,diagonal; or diagonal=LENGTH alone, from corner to corner
    #[arg(long, value_name = "LENGTHS")]
    pub(in crate::command_line) cell_opening: Option<String>,
    /// The kind of cell that it was measured of, as the panel's picture names it; else all whose opening
    /// is the nearest
    #[arg(long, value_name = "KIND", requires = "cell_opening")]
    pub(in crate::command_line) cell_kind: Option<String>,
    /// Write the list of pieces as comma-separated values as well
    #[arg(long, value_name = "FILE", value_parser = text_path)]
    pub(in crate::command_line) csv: Option<PathBuf>,
}
