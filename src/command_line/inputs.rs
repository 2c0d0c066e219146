//! Jobs and profiles by name or path.

use super::answers::{Failure, Shown};
use crate::finding::Finding;
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
    let text = text(path, "job").map_err(|refused| {
        let Refused { message, hint } = refused;
        (
            Unreadable::without_text(&name, "unreadable", message, hint),
            shown,
        )
    })?;
    read_job(&name, &text).map_err(|unreadable| (unreadable, shown).into())
}

/// Why a file gives no text, and what to do.
struct Refused {
    message: String,
    hint: &'static str,
}

fn text(path: &Path, what: &str) -> Result<String, Refused> {
    let unreadable = |error: std::io::Error| Refused {
        message: format!("this {what} file cannot be read: {error}"),
        hint: "check the path",
    };
    let about = std::fs::metadata(path).map_err(unreadable)?;
    if !about.is_file() || about.len() > MOST_BYTES {
        return Err(Refused {
            message: format!("this is no {what} file: a TOML text of at most 1 MB is expected"),
            hint: "check the path",
        });
    }
    let bytes = std::fs::read(path).map_err(unreadable)?;
    String::from_utf8(bytes).map_err(|_| Refused {
        message: format!("this {what} file is not UTF-8 text"),
        hint: "save it as UTF-8",
    })
}

/// A profile and the file that it came from, if any.
pub(super) struct Chosen {
    pub(super) profile: MachineProfile,
    pub(super) file: Option<PathBuf>,
}

/// Where a profile's or pattern's name was given.
pub(super) enum Named<'a> {
    /// As an argument.
    Argument,
    /// With this flag.
    Flag(&'static str),
    /// In a job, in this field.
    Job(&'a Job, &'a Path, String),
}

impl Named<'_> {
    /// The name as a path; one in a job file starts from the job's folder.
    fn path(&self, name: &str) -> PathBuf {
        match self {
            Named::Job(_, job, _) => job.with_file_name(name),
            _ => PathBuf::from(name),
        }
    }

    /// Refuses the name, at the place where it was given.
    fn refuse(&self, code: &'static str, message: String, hint: String, shown: Shown) -> Failure {
        match self {
            Named::Argument => Failure::input(format!("{message}\n  {hint}")),
            Named::Flag(flag) => Failure::input(format!("{flag}: {message}\n  {hint}")),
            Named::Job(job, _, field) => {
                let finding = Finding::error(code, field, message).hint(hint);
                Failure::findings(&job.source, &[finding], shown)
            }
        }
    }

    /// The text of the file that the name stands for, and the file's path. A word that is no path
    /// was meant for one of the `shipped`.
    fn text(
        &self,
        name: &str,
        what: &str,
        shipped: &str,
        shown: Shown,
    ) -> Result<(PathBuf, String), Failure> {
        let path = self.path(name);
        let looks_like_path = name.ends_with(".toml") || name.contains(['/', '\\']);
        if !looks_like_path && !path.is_file() {
            let message = format!("no {what} is called `{name}`");
            let hint = format!(
                "shipped: {shipped}; or give a path to a file of your own, such as my-{what}.toml"
            );
            return Err(self.refuse("no-such-name", message, hint, shown));
        }
        match text(&path, what) {
            Ok(text) => Ok((path, text)),
            Err(refused) => {
                let message = format!("{}: {}", path.display(), refused.message);
                Err(self.refuse("unreadable", message, refused.hint.into(), shown))
            }
        }
    }
}

/// A profile by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn machine(name: &str, named: &Named<'_>, shown: Shown) -> Result<Chosen, Failure> {
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
    let (path, text) = named.text(name, "profile", &shipped_names(), shown)?;
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

/// The names of the shipped profiles, for messages.
pub(super) fn shipped_names() -> String {
    let names: Vec<_> = SHIPPED_MACHINES
        .iter()
        .map(|profile| profile.name)
        .collect();
    names.join(", ")
}

/// The profile that a flag names, else the job, else the usual one; it must be of the kind.
pub(super) fn machine_of(
    kind: MachineKind,
    flag: Option<&str>,
    job: Option<(&Job, &Path)>,
    usual: Option<&str>,
    shown: Shown,
) -> Result<Chosen, Failure> {
    machine_by(kind, ("--machine", flag), job, usual, shown)
}

/// The same with another flag than `--machine`.
pub(super) fn machine_by(
    kind: MachineKind,
    (flag, given): (&'static str, Option<&str>),
    job: Option<(&Job, &Path)>,
    usual: Option<&str>,
    shown: Shown,
) -> Result<Chosen, Failure> {
    let in_job = job.and_then(|(job, path)| {
        let names = &job.machines;
        let name = match kind {
            MachineKind::Sled => &names.sled,
            MachineKind::Guides => &names.guides,
            MachineKind::Router => &names.router,
            MachineKind::Laser | MachineKind::SheetRouter => &names.laser,
        };
        let field = format!("machines.{}", kind.name());
        Some((name.as_deref()?, Named::Job(job, path, field)))
    });
    let chosen = given
        .map(|name| (name, Named::Flag(flag)))
        .or(in_job)
        .or(usual.map(|name| (name, Named::Argument)));
    let Some((name, named)) = chosen else {
        let whose = job.map_or(String::new(), |(_, path)| format!("{}: ", path.display()));
        return Err(Failure::input(format!(
            "{whose}no {0} is named: add `{0} = \"...\"` to [machines] in the job, or give {flag}",
            kind.name()
        )));
    };
    let chosen = machine(name, &named, shown)?;
    let found = chosen.profile.machine.kind();
    // Either cuts outlines from sheet.
    let serves = found == kind || (kind, found) == (MachineKind::Laser, MachineKind::SheetRouter);
    if !serves {
        let message = format!(
            "`{name}` is a {}; a {} is wanted here",
            found.name(),
            kind.name()
        );
        let hint = "`lapwright machine list` shows what there is".into();
        return Err(named.refuse("wrong-machine", message, hint, shown));
    }
    Ok(chosen)
}

/// A pattern by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn pattern(name: &str, named: &Named<'_>, shown: Shown) -> Result<PatternFile, Failure> {
    if let Some(shipped) = shipped_pattern(name) {
        let file = read_pattern(name, shipped.text).map_err(|unreadable| (unreadable, shown))?;
        return Ok(file);
    }
    let known: Vec<_> = SHIPPED_PATTERNS
        .iter()
        .map(|pattern| pattern.name)
        .collect();
    let (path, text) = named.text(name, "pattern", &known.join(", "), shown)?;
    let file = read_pattern(&path.display().to_string(), &text);
    file.map_err(|unreadable| (unreadable, shown).into())
}

/// The pattern that a job names.
pub(super) fn pattern_of(job: &Job, path: &Path, shown: Shown) -> Result<PatternFile, Failure> {
    match &job.panel.infill {
        Some(infill) => {
            let named = Named::Job(job, path, "infill.pattern".into());
            pattern(&infill.pattern, &named, shown)
        }
        None => Err(Failure::input(format!(
            "{}: the job has no pieces: add a table [infill] with pattern = \"square-hemp-leaf\", or another that `lapwright pattern list` shows",
            path.display()
        ))),
    }
}

/// The other kinds cannot come out of [`machine_of`]; said once, for every caller.
pub(super) fn wrong_kind(machine: &Machine) -> Failure {
    Failure::input(format!("a {} cannot do this", machine.kind().name()))
}
