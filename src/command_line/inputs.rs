//! Jobs and profiles by name or path.

use super::answers::{Failure, Shown};
use crate::machines::{Machine, MachineKind};
use crate::reading::{
    Job, MachineProfile, PatternFile, SHIPPED_MACHINES, SHIPPED_PATTERNS, Unreadable, read_job,
    read_machine, read_pattern, shipped_machine, shipped_pattern,
};
use std::path::{Path, PathBuf};

/// Larger files than this are no job and no profile.
const MOST_BYTES: u64 = 1 << 20;

/// Reads a job file.
pub(super) fn job(path: &Path, shown: Shown) -> Result<Job, Failure> {
    let name = path.display().to_string();
    let text = text(path, "job").map_err(|unreadable| (unreadable, shown))?;
    read_job(&name, &text).map_err(|unreadable| (unreadable, shown).into())
}

fn text(path: &Path, what: &str) -> Result<String, Unreadable> {
    let name = path.display().to_string();
    let refuse =
        |message: String, hint: &str| Unreadable::without_text(&name, "unreadable", message, hint);
    let about = std::fs::metadata(path).map_err(|error| {
        refuse(
            format!("this {what} file cannot be read: {error}"),
            "check the path",
        )
    })?;
    if !about.is_file() || about.len() > MOST_BYTES {
        let message = format!("this is no {what} file: a TOML text of at most 1 MB is expected");
        return Err(refuse(message, "check the path"));
    }
    let bytes = std::fs::read(path).map_err(|error| {
        refuse(
            format!("this {what} file cannot be read: {error}"),
            "check the path",
        )
    })?;
    String::from_utf8(bytes).map_err(|_| {
        refuse(
            format!("this {what} file is not UTF-8 text"),
            "save it as UTF-8",
        )
    })
}

/// A profile and the file that it came from, if any.
pub(super) struct Chosen {
    pub(super) profile: MachineProfile,
    pub(super) file: Option<PathBuf>,
}

/// A profile by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn machine(name: &str, from: Option<&Path>, shown: Shown) -> Result<Chosen, Failure> {
    if let Some(shipped) = shipped_machine(name) {
        let profile = read_machine(&format!("profiles/{name}.toml (shipped)"), shipped.text);
        let profile = profile.map_err(|unreadable| (unreadable, shown))?;
        return Ok(Chosen {
            profile: MachineProfile {
                name: name.into(),
                ..profile
            },
            file: None,
        });
    }
    let path = placed(name, from);
    if !looks_like_path(name) && !path.is_file() {
        let known: Vec<_> = SHIPPED_MACHINES
            .iter()
            .map(|profile| profile.name)
            .collect();
        return Err(Failure::input(format!(
            "no machine profile is called `{name}`\n  shipped: {}\n  or give a path to a file of your own, such as my-sled.toml",
            known.join(", ")
        )));
    }
    let text = text(&path, "profile").map_err(|unreadable| (unreadable, shown))?;
    let profile = read_machine(&path.display().to_string(), &text);
    let profile = profile.map_err(|unreadable| (unreadable, shown))?;
    Ok(Chosen {
        profile: MachineProfile {
            name: name.into(),
            ..profile
        },
        file: Some(path),
    })
}

/// The profile that a flag names, else the job, else the usual one; it must be of the kind.
pub(super) fn machine_of(
    kind: MachineKind,
    flag: Option<&str>,
    job: Option<(&Job, &Path)>,
    usual: Option<&str>,
    shown: Shown,
) -> Result<Chosen, Failure> {
    let named = job.and_then(|(job, path)| {
        let names = &job.machines;
        let name = match kind {
            MachineKind::Sled => &names.sled,
            MachineKind::Guides => &names.guides,
            MachineKind::Router => &names.router,
            MachineKind::Laser => &names.laser,
        };
        Some((name.as_deref()?, Some(path)))
    });
    let chosen = flag
        .map(|name| (name, None))
        .or(named)
        .or(usual.map(|name| (name, None)));
    let Some((name, from)) = chosen else {
        return Err(Failure::input(format!(
            "no {0} is named: add `{0} = \"...\"` to [machines] in the job, or give --machine",
            kind.name()
        )));
    };
    let chosen = machine(name, from, shown)?;
    if chosen.profile.machine.kind() != kind {
        return Err(Failure::input(format!(
            "`{name}` is a {}; a {} is wanted here",
            chosen.profile.machine.kind().name(),
            kind.name()
        )));
    }
    Ok(chosen)
}

/// A pattern by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn pattern(
    name: &str,
    from: Option<&Path>,
    shown: Shown,
) -> Result<PatternFile, Failure> {
    if let Some(shipped) = shipped_pattern(name) {
        let file = read_pattern(name, shipped.text).map_err(|unreadable| (unreadable, shown))?;
        return Ok(file);
    }
    let path = placed(name, from);
    if !looks_like_path(name) && !path.is_file() {
        let known: Vec<_> = SHIPPED_PATTERNS
            .iter()
            .map(|pattern| pattern.name)
            .collect();
        return Err(Failure::input(format!(
            "no pattern is called `{name}`\n  shipped: {}\n  or give a path to a file of your own, such as my-pattern.toml",
            known.join(", ")
        )));
    }
    let text = text(&path, "pattern").map_err(|unreadable| (unreadable, shown))?;
    let file = read_pattern(&path.display().to_string(), &text);
    file.map_err(|unreadable| (unreadable, shown).into())
}

/// The pattern that a job names.
pub(super) fn pattern_of(job: &Job, path: &Path, shown: Shown) -> Result<PatternFile, Failure> {
    match &job.panel.infill {
        Some(infill) => pattern(&infill.pattern, Some(path), shown),
        None => Err(Failure::input(format!(
            "{}: the job has no pieces: add a table [infill] with pattern = \"square-hemp-leaf\", or another that `lapwright pattern list` shows",
            path.display()
        ))),
    }
}

/// A name in a job file as a path, from the job's folder.
fn placed(name: &str, from: Option<&Path>) -> PathBuf {
    match from.and_then(Path::parent) {
        Some(folder) => folder.join(name),
        None => PathBuf::from(name),
    }
}

fn looks_like_path(name: &str) -> bool {
    name.ends_with(".toml") || name.contains(['/', '\\'])
}

/// The other kinds cannot come out of [`machine_of`]; said once, for every caller.
pub(super) fn wrong_kind(machine: &Machine) -> Failure {
    Failure::input(format!("a {} cannot do this", machine.kind().name()))
}
