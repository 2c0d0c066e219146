//! Flags of `choose`.

use super::named::{MACHINE, PATTERN};
use super::pare::Way;
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
  lapwright choose --opening 612mm,388mm --kind triangular --side 46mm --thickness 3mm --depth 12mm \\
      --frame-thickness 20mm --frame-width 30mm --mortise-depth 6mm --sled my-sled.toml
  lapwright choose porch.toml --pitch 36mm -o porch-2.toml --pick 2

A pitch is taken as about that, and a slot of the sled's rack as it measures. What another panel
beats in every respect is left out. Minutes at saw and bench are counts times rates: examples, until
a job's table [rates] has your own (`lapwright help job`).")]
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
    /// What the cells are: square, or as the job's grid has them
    #[arg(long, value_enum)]
    pub(in super::super) kind: Option<Kind>,
    /// How diamonds lie (upright, on-point) or triangles (lying, upright); else on-point and lying, or
    /// as the job says
    #[arg(long, value_enum)]
    pub(in super::super) stance: Option<LiesAs>,
    /// Between the strips of diamonds; else it follows from whole cells
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub(in super::super) angle: Option<String>,
    /// About this side of a triangle, from node to node, instead of --pitch
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in super::super) side: Option<String>,
    /// About this distance between neighbouring centre lines, square to them
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
    /// Front to back of a frame's members; with it comes a frame that takes the strips' ends
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) frame_thickness: Option<String>,
    /// Of its members, seen from the front: what the hole is larger than the inside, at every side
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) frame_width: Option<String>,
    /// From its members' inner faces to the floors of the mortises for the strips' ends
    #[arg(
        long,
        value_name = "LENGTH",
        conflicts_with = "job",
        allow_hyphen_values = true
    )]
    pub(in super::super) mortise_depth: Option<String>,
    /// A rebate at its back for paper or glass: width from the inner face, depth from the back face
    #[arg(long, value_name = "WIDTH,DEPTH", conflicts_with = "job")]
    pub(in super::super) rebate: Option<String>,
    /// Pattern of the pieces: a shipped name or a path
    #[arg(long, value_name = "PATTERN", conflicts_with = "job", value_parser = PATTERN, hide_possible_values = true)]
    pub(in super::super) pattern: Option<String>,
    /// How the pieces' mitres are made: pared on guides, sawn in rows on long sticks or on sticks'
    /// ends, or routed in rows
    #[arg(long, value_enum, default_value = "guides", conflicts_with = "job")]
    pub(in super::super) way: Way,
    /// Profile of the sled: a shipped name or a path
    #[arg(long, value_name = "PROFILE", conflicts_with = "job", value_parser = MACHINE, hide_possible_values = true)]
    pub(in super::super) sled: Option<String>,
    /// Profile of the laser or sheet router
    #[arg(long, value_name = "PROFILE", conflicts_with = "job", value_parser = MACHINE, hide_possible_values = true)]
    pub(in super::super) laser: Option<String>,
    /// Profile of the router
    #[arg(long, value_name = "PROFILE", conflicts_with = "job", value_parser = MACHINE, hide_possible_values = true)]
    pub(in super::super) router: Option<String>,
    /// Profile of the paring guides
    #[arg(long, value_name = "PROFILE", conflicts_with = "job", value_parser = MACHINE, hide_possible_values = true)]
    pub(in super::super) guides: Option<String>,
    /// Write the job of the one that is picked
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(in super::super) output: Option<PathBuf>,
    /// Which one: its number in the table
    #[arg(long, value_name = "NUMBER", requires = "output", default_value = "1")]
    pub(in super::super) pick: usize,
}

/// What the cells are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in super::super) enum Kind {
    /// Uprights and cross strips
    Square,
    /// Rhombs
    Diamond,
    /// Triangles
    Triangular,
}

/// How slanted cells lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in super::super) enum LiesAs {
    /// One family of strips stands
    Upright,
    /// Diamonds stand on a corner
    OnPoint,
    /// One family of triangles' strips lies level
    Lying,
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
