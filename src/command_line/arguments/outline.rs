//! What `lapwright outline` is asked.

use super::named::MACHINE;
use super::text_path::text_path;
use crate::writing::dxf::DxfVersion;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright outline panel.toml --machine tube-laser --what strips -o strips.dxf
  lapwright outline panel.toml --what strips -o strips.svg
  lapwright outline panel.toml --what strips,blocks,gauge -o sheet.dxf
  lapwright outline panel.toml --what guide,blocks -o guide.dxf
  lapwright outline panel.toml --what panel -o panel.svg
  lapwright outline panel.toml --what frame -o frame.dxf
  lapwright outline panel.toml --what comb --slots 2.7mm,2.8mm,2.9mm -o comb.dxf
  lapwright outline panel.toml --what rack --sled key-sled -o rack.dxf

More than one sheet: numbered files, strips-1.dxf, strips-2.dxf.")]
pub(in crate::command_line) struct OutlineArguments {
    /// Job file
    pub(in crate::command_line) job: PathBuf,
    /// Profile of the laser or sheet router: a shipped name or a path; else the job's laser
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(in crate::command_line) machine: Option<String>,
    /// What to draw; several are laid out together, as far as they are cut from sheet of one
    /// thickness
    #[arg(
        long,
        value_enum,
        value_delimiter = ',',
        required = true,
        value_name = "KIND,KIND,..."
    )]
    pub(in crate::command_line) what: Vec<What>,
    /// Of a rack: the sled that it is for, a shipped name or a path; else the job's
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(in crate::command_line) sled: Option<String>,
    /// Of a rack: distances from key to blade; of a comb: widths of its slots
    #[arg(long, value_name = "LENGTH,LENGTH,...", allow_hyphen_values = true)]
    pub(in crate::command_line) slots: Option<String>,
    /// The file to write: an SVG where its name ends in .svg, else DXF
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(in crate::command_line) output: PathBuf,
    /// Edition of the drawing format; r12 for old machines' software
    #[arg(long, value_enum, default_value = "r2000")]
    pub(in crate::command_line) dxf: Dxf,
    /// Write it again whenever the job, a profile or the pattern changes; Ctrl-C ends. An edit that is
    /// wrong is told, and the files stay as they are
    #[arg(long)]
    pub(in crate::command_line) watch: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum What {
    /// Side profiles of all strips with their notches, true size
    Strips,
    /// Plan outlines of all pieces, true size
    Pieces,
    /// Blanks of the pieces that lap each other, their half laps in them, both ends square
    Lapped,
    /// The assembled panel from the front: a picture (SVG), or its outlines (DXF)
    Panel,
    /// The frame's members as finished parts, true size, their joints on layers of their own; for no
    /// machine of its own: no kerf
    Frame,
    /// A guide block for each jig angle of the pieces, in as many layers as it takes
    Blocks,
    /// Base, fence and stop that the guide blocks go with
    Guide,
    /// Story sticks: all notches of each distinct strip, marked and labelled
    Gauge,
    /// Base inserts of the sled: slots for blade and key at the steps of the strips
    Rack,
    /// A comb of slots in small steps, to find the notch that fits
    Comb,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum Dxf {
    /// AC1015, light polylines
    R2000,
    /// AC1009, old polylines
    R12,
}

impl From<Dxf> for DxfVersion {
    fn from(dxf: Dxf) -> DxfVersion {
        match dxf {
            Dxf::R2000 => DxfVersion::R2000,
            Dxf::R12 => DxfVersion::R12,
        }
    }
}
