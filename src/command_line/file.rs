//! `lapwright panel.toml`: what can be done with a file.

use super::answers::{Outcome, Shown, print};
use super::arguments::{Arguments, Format};
use super::inputs::{self, NamedFile};
use crate::inputs::Inputs;
use crate::lattice::Grid;
use crate::machines::Station;
use crate::making::size_of;
use crate::phrase::counted;
use crate::reading::Job;
use crate::units::Mm;
use crate::writing::json;
use clap::CommandFactory;
use serde_json::json;
use std::ffi::OsString;
use std::path::Path;

/// The command's arguments, with the verb that stands for a path alone.
pub(super) fn with_verb(arguments: impl IntoIterator<Item = OsString>) -> Vec<OsString> {
    let mut all: Vec<OsString> = arguments.into_iter().collect();
    let is_alone = all.get(1).is_some_and(|first| is_path(Path::new(first)));
    if is_alone {
        all.insert(1, OsString::from("file"));
    }
    all
}

/// Whether a word is a file and no verb: one that is there, or that is written as one.
fn is_path(word: &Path) -> bool {
    let text = word.to_string_lossy();
    let looks_so = text.ends_with(".toml") || text.contains(['/', '\\']);
    // What is neither is asked first: to know the verbs all commands are described.
    if text.starts_with('-') || !(looks_so || word.is_file()) {
        return false;
    }
    let commands = Arguments::command();
    let mut verbs = commands.get_subcommands();
    !verbs.any(|verb| verb.get_name() == text)
}

/// A thing to do next.
struct Suggestion {
    command: String,
    what: &'static str,
}

pub(super) fn run(file: &Path, inputs: &Inputs, shown: Shown) -> Outcome {
    let name = file.display().to_string();
    let (about, next) = match inputs::kind_of(inputs, file, shown)? {
        NamedFile::Job(job) => (of_job(&job, shown), job_suggestions(&job, &name)),
        NamedFile::Profile(kind) => (
            vec![format!("{name}: a machine's profile, kind `{kind}`")],
            vec![
                suggest(&format!("machine check {name}"), "whether it is sound"),
                suggest(
                    &format!("machine measure {name}"),
                    "which test cuts to make for its figures",
                ),
                suggest(
                    "build panel.toml -o FOLDER",
                    "makes a job that names it in [machines]",
                ),
            ],
        ),
        NamedFile::Pattern => (
            vec![format!("{name}: a pattern of pieces")],
            vec![
                suggest(
                    &format!("pattern check {name}"),
                    "whether it is sound in a cell",
                ),
                suggest(
                    &format!("pattern show {name} --picture pattern.svg"),
                    "a drawing of one cell and of several",
                ),
            ],
        ),
        NamedFile::Made => (
            vec![format!(
                "{name}: no TOML text; a program or a drawing is proved against its job"
            )],
            vec![suggest(
                &format!("prove {name} panel.toml"),
                "whether it does what the job needs",
            )],
        ),
    };
    match shown.format {
        Format::Json => {
            let next: Vec<_> = next
                .iter()
                .map(|next| json!({ "command": format!("lapwright {}", next.command), "what": next.what }))
                .collect();
            let answer = json!({ "path": name, "about": about, "next": next });
            print(&json::answer("lapwright/file/1", &answer, &[], &[])?)
        }
        Format::Text => {
            let width = next.iter().map(|next| next.command.chars().count()).max();
            let width = width.unwrap_or(0);
            let lines = next
                .iter()
                .map(|next| format!("  lapwright {:<width$}   {}\n", next.command, next.what));
            let lines: String = lines.collect();
            print(&format!("{}\n\n{lines}", about.join("\n")))
        }
    }
}

fn suggest(command: &str, what: &'static str) -> Suggestion {
    Suggestion {
        command: command.to_owned(),
        what,
    }
}

/// What a job is, in a few lines.
fn of_job(job: &Job, shown: Shown) -> Vec<String> {
    let lattice = job.panel.lattice();
    let design = job.panel.design();
    let length = |mm: f64| Mm(mm).text(shown.units);
    let strips = counted(lattice.strips.len(), "strip");
    let mut about = vec![design.title.clone()];
    about.push(format!(
        "{} grid of {strips} {} thick and {} deep",
        kind(&design.grid),
        length(design.strip.thickness),
        length(design.strip.depth)
    ));
    if let Some([width, height]) = size_of(job).finished_mm {
        about.push(format!(
            "finished size: {} by {}",
            length(width),
            length(height)
        ));
    }
    let patterns = job.map.iter().flat_map(|map| &map.patterns);
    let patterns: Vec<&str> = patterns.map(|pattern| pattern.name.as_str()).collect();
    about.push(match patterns.is_empty() {
        true => "no pieces in its cells".into(),
        false => format!("pieces: {}", patterns.join(", ")),
    });
    let machines: Vec<String> = Station::ALL
        .into_iter()
        .filter_map(|station| Some(format!("{} {}", station.name(), job.machines.at(station)?)))
        .collect();
    about.push(match machines.is_empty() {
        true => "no machines: add a table [machines] before it can be built".into(),
        false => format!("machines: {}", machines.join(", ")),
    });
    about
}

fn kind(grid: &Grid) -> &'static str {
    match grid {
        Grid::Square(_) => "square",
        Grid::Diamond(_) => "diamond",
        Grid::Triangular(_) => "triangular",
    }
}

/// What makes sense for a job's machines.
fn job_suggestions(job: &Job, name: &str) -> Vec<Suggestion> {
    let has = |station| job.machines.at(station).is_some();
    let mut next = Vec::new();
    let mut add = |when: bool, command: &str, what| {
        if when {
            next.push(suggest(&command.replace("JOB", name), what));
        }
    };
    let any = job.machines.stations().next().is_some();
    add(
        any,
        "build JOB -o FOLDER",
        "all of it, proved, into a folder",
    );
    add(
        any,
        "sheet JOB -o set-up.html",
        "the sheet beside the machines",
    );
    add(
        true,
        "stock JOB",
        "what to buy, how to cut it up and mill it",
    );
    let to_cut = !job.panel.lattice().strips_are_cut;
    add(to_cut, "sled JOB", "settings of the sled");
    add(
        to_cut && has(Station::Laser),
        "outline JOB --what strips -o strips.dxf",
        "outlines of the strips",
    );
    add(
        to_cut && has(Station::Router),
        "notch JOB -o strips.nc",
        "notching programs",
    );
    let pieces = job.map.is_some();
    add(pieces, "pare JOB", "pieces: counts, lengths, angles, stops");
    add(
        job.frame.is_some(),
        "rails JOB",
        "mortises and mitres of the frame",
    );
    add(
        any,
        "outline JOB --what panel -o panel.svg",
        "a picture of the panel",
    );
    add(
        job.fitted.is_some(),
        "choose JOB",
        "other panels for the same opening",
    );
    next
}
