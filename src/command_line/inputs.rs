//! Jobs and profiles by name or path.

use super::answers::{Failure, Shown};
use crate::finding::Finding;
use crate::machines::{Machine, MachineKind};
use crate::reading::{
    Job, MachineProfile, SHIPPED_MACHINES, Unreadable, read_job, read_machine, shipped_machine,
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

/// Where a profile's name was given.
#[derive(Clone, Copy)]
pub(super) enum Named<'a> {
    /// As an argument of `machine`.
    Argument,
    /// With `--machine`.
    Flag,
    /// In a job's table `[machines]`, under this kind.
    Job(&'a Job, &'a Path, MachineKind),
}

impl Named<'_> {
    /// Refuses the name, at the place where it was given.
    fn refuse(self, code: &'static str, message: String, hint: String, shown: Shown) -> Failure {
        match self {
            Named::Argument => Failure::input(format!("{message}\n  {hint}")),
            Named::Flag => Failure::input(format!("--machine: {message}\n  {hint}")),
            Named::Job(job, _, kind) => {
                let field = format!("machines.{}", kind.name());
                let finding = Finding::error(code, field, message).hint(hint);
                Failure::findings(&job.source, &[finding], shown)
            }
        }
    }
}

/// A profile by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn machine(name: &str, named: Named<'_>, shown: Shown) -> Result<Chosen, Failure> {
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
    let path = match named {
        Named::Job(_, job, _) => job.with_file_name(name),
        _ => PathBuf::from(name),
    };
    let looks_like_path = name.ends_with(".toml") || name.contains(['/', '\\']);
    if !looks_like_path && !path.is_file() {
        let message = format!("no machine profile is called `{name}`");
        let hint = format!(
            "shipped: {}; or give a path to a file of your own, such as my-sled.toml",
            shipped_names()
        );
        return Err(named.refuse("no-such-machine", message, hint, shown));
    }
    let text = text(&path, "profile").map_err(|refused| {
        let message = format!("{}: {}", path.display(), refused.message);
        named.refuse("unreadable", message, refused.hint.into(), shown)
    })?;
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
    let in_job = job.and_then(|(job, path)| {
        let names = &job.machines;
        let name = match kind {
            MachineKind::Sled => &names.sled,
            MachineKind::Guides => &names.guides,
            MachineKind::Router => &names.router,
            MachineKind::Laser => &names.laser,
        };
        Some((name.as_deref()?, Named::Job(job, path, kind)))
    });
    let chosen = flag
        .map(|name| (name, Named::Flag))
        .or(in_job)
        .or(usual.map(|name| (name, Named::Argument)));
    let Some((name, named)) = chosen else {
        let whose = job.map_or(String::new(), |(_, path)| format!("{}: ", path.display()));
        return Err(Failure::input(format!(
            "{whose}no {0} is named: add `{0} = \"...\"` to [machines] in the job, or give --machine",
            kind.name()
        )));
    };
    let chosen = machine(name, named, shown)?;
    let found = chosen.profile.machine.kind();
    if found != kind {
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

/// The other kinds cannot come out of [`machine_of`]; said once, for every caller.
pub(super) fn wrong_kind(machine: &Machine) -> Failure {
    Failure::input(format!("a {} cannot do this", machine.kind().name()))
}
