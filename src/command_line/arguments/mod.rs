//! What can be asked for.

mod choose;
mod deferred;
mod fit;
mod machine;
mod movement;
mod named;
mod order;
mod outline;
mod paper;
mod pare;
mod parts;
mod pattern;
mod reference;
mod show;
mod stock;
mod text_path;
mod words;

use crate::reading::SHIPPED_STARTERS;
use crate::units::UnitSystem;
use crate::writing::html::Renewal;

pub(super) use choose::{ChooseArguments, Kind, LiesAs, Measured};
use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use deferred::Deferred;
pub(super) use fit::{FitArguments, FitWay};
pub(super) use machine::{MachineAction, MachineArguments, MeasureArguments};
pub(super) use movement::MovementArguments;
use named::MACHINE;
pub(super) use order::Order;
pub(super) use outline::{Dxf, OutlineArguments, What};
pub(super) use paper::Paper;
pub(super) use pare::PareArguments;
pub(super) use parts::Part;
pub(super) use pattern::{PatternAction, PatternArguments};
pub(super) use reference::{FileKind, HelpArguments, ManArguments, SchemaArguments};
pub(super) use show::{CompareArguments, ShowArguments};
use std::path::PathBuf;
pub(super) use stock::StockArguments;
use text_path::{folder_path, text_path};
pub(super) use words::Told;

/// Machine settings, outlines and notching programs for kumiko lattices.
#[derive(Debug, Parser)]
#[command(
    name = "lapwright",
    version,
    max_term_width = 100,
    disable_help_subcommand = true,
    after_help = "\
Examples:
  lapwright show panel.toml
  lapwright sled --pitch 46mm --bays 5 --overhang 14mm --thickness 2.6mm --depth 9mm
  lapwright choose --opening 612mm,388mm --pitch 40mm --thickness 3mm --depth 12mm
  lapwright panel.toml
  lapwright sled panel.toml --format json
  lapwright outline panel.toml --what strips -o strips.dxf
  lapwright notch panel.toml -o strips.nc
  lapwright build panel.toml -o panel-parts
  lapwright sheet panel.toml -o set-up.html
  lapwright help job

Exit codes: 0 done; 1 done, and the answer is no: a proof finds faults, or build and sheet lack what
a machine cannot make; 2 wrong input or usage, or nothing can be made: nothing written.
Results go to standard output, everything else to standard error."
)]
pub(super) struct Arguments {
    /// For people or for programs
    #[arg(long, global = true, value_enum, default_value = "text")]
    pub(super) format: Format,
    /// Lengths in text, else in the units of most lengths of the job; JSON is always in millimetres
    #[arg(long, global = true, value_enum)]
    pub(super) units: Option<Units>,
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Text that is read at arm's length
    Text,
    /// One JSON object
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// Millimetres
    Mm,
    /// Inches: fractions where they are true, else decimal with the nearest 1/64
    In,
}

impl From<Units> for UnitSystem {
    fn from(units: Units) -> UnitSystem {
        match units {
            Units::Mm => UnitSystem::Millimetres,
            Units::In => UnitSystem::Inches,
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// The few panels worth making for an opening, side by side; writes the one that is picked as a job
    Choose(Box<Deferred<ChooseArguments>>),
    /// The panel on one screen: picture, sizes, trim, parts, weight, what each machine would do
    Show(Deferred<ShowArguments>),
    /// The same of two panels, what differs first
    Compare(Deferred<CompareArguments>),
    /// Whether the strips will go together, told before they are cut: joints, bays, pieces, the chance,
    /// and what would help
    Fit(Deferred<FitArguments>),
    /// What the seasons do to strips, laps, cells and frame, from the bench to the room; how tight to cut
    Movement(Deferred<MovementArguments>),
    /// What to buy and how to cut it up: all parts of wood, sticks, boards and their milling, time
    Stock(Deferred<StockArguments>),
    /// Key positions, stops, fence figures and blade height for a table saw sled or bench hook
    Sled(Deferred<SledArguments>),
    /// Outlines for a laser or a sheet router, as DXF or SVG
    Outline(Deferred<OutlineArguments>),
    /// Notching programs for a router, as G-code
    Notch(Deferred<NotchArguments>),
    /// Mitred pieces: counts, lengths, jig angles and stops of the paring guides
    Pare(Deferred<PareArguments>),
    /// Mortises in the frame's rails that take the strips' ends, where to trim these, and the rails'
    /// mitres
    Rails(Deferred<RailsArguments>),
    /// Patterns of pieces: learn, list, show, check; which cell of a job takes which
    Pattern(Deferred<PatternArguments>),
    /// Whether a program or drawing does what the job needs, read afresh
    Prove(Deferred<ProveArguments>),
    /// All that a job needs of the machines that it names, into a folder: settings, programs,
    /// outlines, story sticks, base inserts for a sled with key slots
    Build(Deferred<BuildArguments>),
    /// The set-up sheet that hangs beside the machines, as HTML or PDF
    Sheet(Deferred<SheetArguments>),
    /// Machine profiles: list, show, check, new; measure your own from test cuts
    Machine(Deferred<MachineArguments>),
    /// What a command does, and what may stand in a job, a profile, a pattern
    Help(Deferred<HelpArguments>),
    /// A schema (JSON) by which editors check and complete jobs, profiles and patterns
    Schema(Deferred<SchemaArguments>),
    /// Pages of the manual
    Man(Deferred<ManArguments>),
    /// A starter job, commented, that can be built as it stands
    New(Deferred<NewArguments>),
    /// What can be done with a file
    #[command(hide = true)]
    File {
        /// Job, profile, pattern, program or drawing
        file: PathBuf,
    },
    /// Completion script for a shell
    #[command(after_help = "\
Example:
  lapwright completions bash > ~/.local/share/bash-completion/completions/lapwright")]
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
}

impl Command {
    /// Whether it goes on until somebody ends it.
    pub(super) fn is_watched(&self) -> bool {
        match self {
            Command::Show(asked) => asked.watch,
            Command::Outline(asked) => asked.watch,
            Command::Build(asked) => asked.watch,
            Command::Sheet(asked) => asked.watch,
            _ => false,
        }
    }
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright rails panel.toml
  lapwright rails panel.toml -o rails.nc
  lapwright rails panel.toml -o rails.nc --machine mid-router")]
pub(super) struct RailsArguments {
    /// Job file with a [frame]
    pub(super) job: PathBuf,
    /// Programs that cut the mortises on a router; several get numbers
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(super) output: Option<PathBuf>,
    /// Profile of the router: a shipped name or a path; else the one that the job names
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(super) machine: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright sled --pitch 46mm --bays 5 --overhang 14mm --thickness 2.6mm --depth 9mm
  lapwright sled --pitch 46mm --bays 5 --overhang 14mm --thickness 2.6mm --depth 9mm --angle 60deg
  lapwright sled panel.toml
  lapwright sled panel.toml --machine my-sled.toml --units in
  lapwright sled panel.toml --order bundles
  lapwright sled panel.toml --as-built >> panel.toml")]
pub(super) struct SledArguments {
    /// Job file; or leave it out and give the grid by flags
    pub(super) job: Option<PathBuf>,
    /// Profile of the sled: a shipped name or a path
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(super) machine: Option<String>,
    /// Instead of the settings the table [as_built] for a job whose strips are cut by them: the clear
    /// openings that the rack's slots give as measured
    #[arg(long)]
    pub(super) as_built: bool,
    /// By what the steps are put in order; else as the job says, by stops where it does not
    #[arg(long, value_enum)]
    pub(super) order: Option<Order>,
    /// Distance between neighbouring centre lines
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(super) pitch: Option<String>,
    /// Number of bays in each direction
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "COUNT",
        allow_hyphen_values = true
    )]
    pub(super) bays: Option<String>,
    /// Angle between the families, uprights and strips that cross them; else they are square
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "ANGLE",
        allow_hyphen_values = true
    )]
    pub(super) angle: Option<String>,
    /// From a strip's end to the centre of its first notch
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(super) overhang: Option<String>,
    /// Width of a strip as seen from the front
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(super) thickness: Option<String>,
    /// Front to back
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(super) depth: Option<String>,
    /// Notch width less strip thickness; negative for a press fit
    #[arg(
        long,
        conflicts_with = "job",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(super) clearance: Option<String>,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  lapwright notch panel.toml --machine small-router -o strips.nc

More than one bundle: numbered files, strips-1.nc, strips-2.nc.")]
pub(super) struct NotchArguments {
    /// Job file
    pub(super) job: PathBuf,
    /// Profile of the router: a shipped name or a path; else the job's
    #[arg(long, value_parser = MACHINE, hide_possible_values = true)]
    pub(super) machine: Option<String>,
    /// The file to write
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(super) output: PathBuf,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright new square -o panel.toml
  lapwright new opening -o panel.toml")]
pub(super) struct NewArguments {
    /// Kind of panel
    #[arg(value_parser = PossibleValuesParser::new(SHIPPED_STARTERS.iter().map(|starter| starter.name)))]
    pub(super) kind: String,
    /// The file to write
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(super) output: PathBuf,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  lapwright build panel.toml -o panel-parts

What a machine cannot make is told, on the sheets too, and the others make theirs: exit code 1.")]
pub(super) struct BuildArguments {
    /// Job file
    pub(super) job: PathBuf,
    /// The folder to write into; made if it is not there
    #[arg(short, long, value_name = "FOLDER", value_parser = folder_path)]
    pub(super) output: PathBuf,
    /// Edition of the drawing format; r12 for old machines' software
    #[arg(long, value_enum, default_value = "r2000")]
    pub(super) dxf: Dxf,
    /// Size of paper for the set-up sheet
    #[arg(long, value_enum, default_value = "a4")]
    pub(super) paper: Paper,
    /// Write all again whenever the job, a profile or the pattern changes; Ctrl-C ends. An edit that is
    /// wrong is told, and the files stay as they are; the page reloads itself
    #[arg(long)]
    pub(super) watch: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright sheet panel.toml -o set-up.html
  lapwright sheet panel.toml -o set-up.html --watch
  lapwright sheet panel.toml -o set-up.pdf --paper letter --units in
  lapwright sheet panel.toml -o cards.pdf --part cards --paper a5
  lapwright sheet panel.toml -o saw.pdf --part sled,templates

It begins with what a machine cannot make, if there is anything: exit code 1.")]
pub(super) struct SheetArguments {
    /// Job file that names its machines
    pub(super) job: PathBuf,
    /// The file to write: .html for a screen, .pdf for paper, templates at true size included
    #[arg(short, long, value_name = "FILE", value_parser = text_path)]
    pub(super) output: PathBuf,
    /// Size of paper
    #[arg(long, value_enum, default_value = "a4")]
    pub(super) paper: Paper,
    /// Only these parts of it, commas between them; all where none is named. What is not made is told
    /// in any case
    #[arg(long = "part", value_enum, value_delimiter = ',', value_name = "PART")]
    pub(super) parts: Vec<Part>,
    /// Write it again whenever the job, a profile or the pattern changes; Ctrl-C ends. An edit that is
    /// wrong is told, and the files stay as they are; a page (.html) reloads itself
    #[arg(long)]
    pub(super) watch: bool,
}

/// How a page behaves whose file is written again and again, or once.
pub(super) fn renewal(watch: bool) -> Renewal {
    if watch {
        Renewal::WhenRewritten
    } else {
        Renewal::Never
    }
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  lapwright prove strips-1.nc panel.toml --machine small-router
  lapwright prove strips-1.dxf panel.toml --sheet strips-2.dxf
  lapwright prove comb.dxf panel.toml --what comb --slots 2.7mm,2.8mm,2.9mm
  lapwright prove stranger.nc --stock 250mm,15mm,12mm --tool 2mm

Exit code 1: read, and not right.")]
pub(super) struct ProveArguments {
    /// Program or drawing
    pub(super) file: PathBuf,
    /// Job file that it should fulfil
    pub(super) job: Option<PathBuf>,
    /// Profile of the router or laser: a shipped name or a path; else the job's
    #[arg(long, requires = "job", value_parser = MACHINE, hide_possible_values = true)]
    pub(super) machine: Option<String>,
    /// The job's bundle that a program is for; else the one that it fits best
    #[arg(long, value_name = "NUMBER", requires = "job")]
    pub(super) bundle: Option<usize>,
    /// The rail whose mortises a program is for; else the one that it fits best
    #[arg(long, value_name = "NAME", requires = "job", conflicts_with = "bundle")]
    pub(super) rail: Option<String>,
    /// Of a program with stops: tell of this part only, from 1
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "job",
        conflicts_with = "stock"
    )]
    pub(super) part: Option<usize>,
    /// Further sheets of the same job's drawings
    #[arg(long, value_name = "FILE", requires = "job")]
    pub(super) sheet: Vec<PathBuf>,
    /// What a drawing should hold; else what it fits best
    #[arg(
        long,
        value_enum,
        value_delimiter = ',',
        value_name = "KIND,KIND,...",
        requires = "job"
    )]
    pub(super) what: Vec<What>,
    /// Of a rack: the sled that it is for, a shipped name or a path; else the job's
    #[arg(long, requires = "what", value_parser = MACHINE, hide_possible_values = true)]
    pub(super) sled: Option<String>,
    /// Of a rack or a comb: the lengths that it was drawn with
    #[arg(
        long,
        value_name = "LENGTH,LENGTH,...",
        allow_hyphen_values = true,
        requires = "what"
    )]
    pub(super) slots: Option<String>,
    /// Without a job: size of the stock along X, across Y and down
    #[arg(long, value_name = "LENGTH,WIDTH,DEPTH", conflicts_with = "job")]
    pub(super) stock: Option<String>,
    /// Without a job: the cutter's diameter
    #[arg(long, value_name = "LENGTH", conflicts_with = "job")]
    pub(super) tool: Option<String>,
    /// Write a picture (SVG) of a program's simulated bundle, faults marked
    #[arg(long, value_name = "FILE", value_parser = text_path)]
    pub(super) picture: Option<PathBuf>,
}
