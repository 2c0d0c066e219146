//! Jobs and profiles by name or path.

use super::answers::{Failure, Shown};
use super::arguments::Told;
use crate::finding::Finding;
use crate::infill::Pattern;
use crate::inputs::{InputKind, Inputs, STANDARD_INPUT, Unread};
use crate::machines::{AtStation, Chosen, Station};
use crate::making::with_crossing_pieces;
use crate::reading::{
    Documents, Job, MachineProfile, PatternFile, SHIPPED_MACHINES, SHIPPED_PATTERNS, Source,
    Unreadable, most_of, read_job, read_machine, read_pattern, shipped_machine, shipped_pattern,
    written_in,
};
use crate::units::UnitSystem;
use std::path::{Path, PathBuf};

/// Larger files than this are no job and no profile.
const MOST_BYTES: u64 = 1 << 20;

/// The units that a job, or flags that stand for one, are written in.
pub(super) fn units_of(inputs: &Inputs, told: &Told<'_>) -> UnitSystem {
    match told {
        // What can be read once only, such as a pipe, is left to the command; standard input is kept.
        Told::Job(path) if path.is_file() || *path == Path::new(STANDARD_INPUT) => {
            let text = text(inputs, path, InputKind::Job);
            text.map_or_else(|_| UnitSystem::default(), |text| written_in(&text))
        }
        Told::Flags(words) => most_of(words.iter().copied()),
        Told::Job(_) | Told::Nowhere => UnitSystem::default(),
    }
}

/// Reads a job file. The files that it names are inputs too, even those that the run has no use for.
pub(super) fn job(inputs: &Inputs, path: &Path, shown: Shown) -> Result<Job, Failure> {
    let name = called(path);
    let text = text(inputs, path, InputKind::Job).map_err(|refused| {
        let Refused { message, hint } = refused;
        (
            Unreadable::without_text(&name, "unreadable", message, hint),
            shown,
        )
    })?;
    let job = read_job(&name, &text).map_err(|unreadable| (unreadable, shown))?;
    let stations = job.machines.stations();
    let profiles = stations.filter_map(|station| job.machines.at(station));
    for profile in profiles.filter(|name| shipped_machine(name).is_none()) {
        inputs.named(&path.with_file_name(profile), InputKind::Profile);
    }
    let patterns = job.pattern_names();
    for pattern in patterns.filter(|name| shipped_pattern(name).is_none()) {
        inputs.named(&path.with_file_name(pattern), InputKind::Pattern);
    }
    crossed(inputs, job, path, shown)
}

/// What a file is called in messages.
fn called(path: &Path) -> String {
    if path == Path::new(STANDARD_INPUT) {
        return "standard input".into();
    }
    path.display().to_string()
}

/// The job with notches for pieces that run over its strips: its patterns have a say in the strips.
fn crossed(inputs: &Inputs, job: Job, path: &Path, shown: Shown) -> Result<Job, Failure> {
    let files = patterns_if_any(inputs, &job, path, shown)?;
    if !files.patterns.iter().any(Pattern::runs_over) {
        return Ok(job);
    }
    let source = job.source.clone();
    with_crossing_pieces(job, &files.patterns).map_err(|error| {
        let documents = Documents::of_job(&source).with_patterns(files.sources());
        Failure::not_made(error, &documents, shown)
    })
}

/// A file of which nobody said what it is.
pub(super) enum NamedFile {
    Job(Box<Job>),
    /// The kind of its machine.
    Profile(&'static str),
    Pattern,
    /// By its name a program or a drawing.
    Made,
}

/// Endings of programs and drawings.
const MADE: [&str; 6] = ["nc", "ngc", "gcode", "tap", "dxf", "svg"];

/// What a file is: by its ending, else by the keys that only profiles and patterns have.
pub(super) fn kind_of(inputs: &Inputs, path: &Path, shown: Shown) -> Result<NamedFile, Failure> {
    let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
    if path.is_file() && MADE.iter().any(|made| *made == ending) {
        return Ok(NamedFile::Made);
    }
    let name = path.display().to_string();
    let keys = text(inputs, path, InputKind::Job).unwrap_or_default();
    let keys: toml::Table = keys.parse().unwrap_or_default();
    let has = |key| keys.contains_key(key);
    if has("grid") || !has("about") {
        return job(inputs, path, shown).map(|job| NamedFile::Job(Box::new(job)));
    }
    if has("kind") {
        let profile = machine(inputs, &name, &Named::Argument, shown)?;
        return Ok(NamedFile::Profile(profile.machine.kind().name()));
    }
    pattern(inputs, &name, &Named::Argument, shown)?;
    Ok(NamedFile::Pattern)
}

/// Why a file gives no text, and what to do.
struct Refused {
    message: String,
    hint: &'static str,
}

/// The text of a file of readings.
pub(super) fn readings_text(inputs: &Inputs, path: &Path) -> Result<String, Failure> {
    text(inputs, path, InputKind::Readings).map_err(|refused| {
        let Refused { message, hint } = refused;
        Failure::input(format!("{}: {message}\n  {hint}", path.display()))
    })
}

fn text(inputs: &Inputs, path: &Path, kind: InputKind) -> Result<String, Refused> {
    let what = what(kind);
    let bytes = inputs
        .read(path, kind, MOST_BYTES)
        .map_err(|unread| Refused {
            message: match unread {
                Unread::Io(error) => format!("this {what} file cannot be read: {error}"),
                Unread::NoFile => {
                    format!("this is no {what} file: a text of at most 1 MB is expected")
                }
            },
            hint: "check the path",
        })?;
    String::from_utf8(bytes).map_err(|_| Refused {
        message: format!("this {what} file is not UTF-8 text"),
        hint: "save it as UTF-8",
    })
}

/// In messages about the file itself.
fn what(kind: InputKind) -> &'static str {
    match kind {
        InputKind::Job => "job",
        InputKind::Profile => "profile",
        InputKind::Pattern => "pattern",
        InputKind::Proved => "program or drawing",
        InputKind::Readings => "readings",
    }
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

    /// A file of that name that cannot be used; where a job names what is none of the program's files, its line
    /// is told as well.
    fn unreadable(&self, unreadable: Unreadable, shown: Shown) -> Failure {
        let by_mistake = unreadable.is_not_ours();
        let told = Failure::from((unreadable, shown));
        match self {
            Named::Job(job, _, field) if by_mistake => {
                let text = "this names a file that is none of this program";
                let finding = Finding::error("not-ours", field, text);
                let named = Failure::findings(&job.source, &[finding], shown);
                Failure::joined(vec![told, named])
            }
            _ => told,
        }
    }

    /// The text of the file that the name stands for, and the file's path. A word that is no path
    /// was meant for one of the `shipped`.
    fn text(
        &self,
        inputs: &Inputs,
        (name, kind): (&str, InputKind),
        shipped: &str,
        shown: Shown,
    ) -> Result<(PathBuf, String), Failure> {
        let path = self.path(name);
        let what = what(kind);
        let looks_like_path = name.ends_with(".toml") || name.contains(['/', '\\']);
        if !looks_like_path && !path.is_file() {
            // It may come to be there while somebody waits for it.
            inputs.named(&path, kind);
            let message = format!("no {what} is called `{name}`");
            let hint = format!(
                "shipped: {shipped}; or give a path to a file of your own, such as my-{what}.toml"
            );
            return Err(self.refuse("no-such-name", message, hint, shown));
        }
        match text(inputs, &path, kind) {
            Ok(text) => Ok((path, text)),
            Err(refused) => {
                let message = format!("{}: {}", path.display(), refused.message);
                Err(self.refuse("unreadable", message, refused.hint.into(), shown))
            }
        }
    }
}

/// A profile by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn machine(
    inputs: &Inputs,
    name: &str,
    named: &Named<'_>,
    shown: Shown,
) -> Result<MachineProfile, Failure> {
    if let Some(shipped) = shipped_machine(name) {
        let profile = read_machine(&format!("profiles/{name}.toml (shipped)"), shipped.text);
        let profile = profile.map_err(|unreadable| (unreadable, shown))?;
        return Ok(MachineProfile {
            name: name.into(),
            ..profile
        });
    }
    let (path, text) = named.text(inputs, (name, InputKind::Profile), &shipped_names(), shown)?;
    let profile = read_machine(&called(&path), &text);
    let profile = profile.map_err(|unreadable| named.unreadable(unreadable, shown))?;
    Ok(MachineProfile {
        name: name.into(),
        ..profile
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

/// A machine that a command works for, with the profile that describes it.
pub(super) struct FoundMachine<M> {
    pub(super) profile: MachineProfile,
    pub(super) machine: M,
}

impl<M: AtStation> FoundMachine<M> {
    /// As plans are made for it.
    pub(super) fn chosen(&self) -> Chosen<'_, M> {
        Chosen {
            name: &self.profile.name,
            machine: &self.machine,
        }
    }

    /// The texts that findings may be about, with this one's.
    pub(super) fn among<'a>(&'a self, documents: Documents<'a>) -> Documents<'a> {
        documents.with_profile(M::STATION, &self.profile.source)
    }

    /// The same where there may be no machine.
    pub(super) fn among_if<'a>(found: Option<&'a Self>, documents: Documents<'a>) -> Documents<'a> {
        match found {
            Some(found) => found.among(documents),
            None => documents,
        }
    }
}

/// What names a machine beside a job.
#[derive(Default)]
pub(super) struct MachineFlags<'a> {
    /// The flag that names a profile, and what it names.
    pub(super) flag: Option<&'static str>,
    pub(super) given: Option<&'a str>,
    /// The profile that is taken where nothing names one.
    pub(super) usual: Option<&'a str>,
}

impl<'a> MachineFlags<'a> {
    /// `--machine`.
    pub(super) fn machine(given: Option<&'a str>) -> Self {
        MachineFlags {
            given,
            ..MachineFlags::default()
        }
    }
}

/// The machine that a flag names, else the job, else the usual one; it must be one that stands where
/// an `M` does.
pub(super) fn machine_for<M: AtStation + Clone>(
    inputs: &Inputs,
    flags: &MachineFlags<'_>,
    job: Option<(&Job, &Path)>,
    shown: Shown,
) -> Result<FoundMachine<M>, Failure> {
    let profile = profile_for(inputs, M::STATION, flags, job, shown)?;
    match M::of(&profile.machine).cloned() {
        Some(machine) => Ok(FoundMachine { profile, machine }),
        // `profile_for` gives none that stands elsewhere.
        None => Err(Failure::input(format!(
            "a {} cannot do this",
            profile.machine.kind().name()
        ))),
    }
}

/// The profile of a machine that stands there.
pub(super) fn profile_for(
    inputs: &Inputs,
    station: Station,
    flags: &MachineFlags<'_>,
    job: Option<(&Job, &Path)>,
    shown: Shown,
) -> Result<MachineProfile, Failure> {
    let flag = flags.flag.unwrap_or("--machine");
    let in_job = job.and_then(|(job, path)| {
        let field = format!("machines.{}", station.name());
        Some((job.machines.at(station)?, Named::Job(job, path, field)))
    });
    let chosen = flags
        .given
        .map(|name| (name, Named::Flag(flag)))
        .or(in_job)
        .or(flags.usual.map(|name| (name, Named::Argument)));
    let Some((name, named)) = chosen else {
        let whose = job.map_or(String::new(), |(_, path)| format!("{}: ", path.display()));
        return Err(Failure::input(format!(
            "{whose}no {0} is named: add `{0} = \"...\"` to [machines] in the job, or give {flag}",
            station.name()
        )));
    };
    let profile = machine(inputs, name, &named, shown)?;
    if profile.station() != station {
        let message = format!(
            "`{name}` is a {}; a {} is wanted here",
            profile.machine.kind().name(),
            station.name()
        );
        let hint = "`lapwright machine list` shows what there is".into();
        return Err(named.refuse("wrong-machine", message, hint, shown));
    }
    Ok(profile)
}

/// A pattern by shipped name or path. A path in a job file starts from the job's folder.
pub(super) fn pattern(
    inputs: &Inputs,
    name: &str,
    named: &Named<'_>,
    shown: Shown,
) -> Result<PatternFile, Failure> {
    if let Some(shipped) = shipped_pattern(name) {
        let file = read_pattern(name, shipped.text).map_err(|unreadable| (unreadable, shown))?;
        return Ok(file);
    }
    let known: Vec<_> = SHIPPED_PATTERNS
        .iter()
        .map(|pattern| pattern.name)
        .collect();
    let (path, text) = named.text(inputs, (name, InputKind::Pattern), &known.join(", "), shown)?;
    let file = read_pattern(&called(&path), &text);
    file.map_err(|unreadable| named.unreadable(unreadable, shown))
}

/// The patterns that a job names, in its order.
#[derive(Default)]
pub(super) struct PatternFiles {
    pub(super) patterns: Vec<Pattern>,
    sources: Vec<Source>,
}

impl PatternFiles {
    /// Where findings about them point.
    pub(super) fn sources(&self) -> impl Iterator<Item = &Source> {
        self.sources.iter()
    }
}

/// The patterns that a job names; all problems of all of them at once.
pub(super) fn patterns_of(
    inputs: &Inputs,
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<PatternFiles, Failure> {
    let Some(map) = &job.map else {
        return Err(Failure::input(format!(
            "{}: the job has no pieces: add a table [infill] with pattern = \"square-hemp-leaf\", or another that `lapwright pattern list` shows",
            path.display()
        )));
    };
    let mut files = PatternFiles::default();
    let mut failures = Vec::new();
    for asked in &map.patterns {
        let named = Named::Job(job, path, asked.field.clone());
        match pattern(inputs, &asked.name, &named, shown) {
            Ok(file) => {
                files.patterns.push(file.pattern);
                files.sources.push(file.source);
            }
            Err(failure) => failures.push(failure),
        }
    }
    match failures.len() {
        0 => Ok(files),
        1 => Err(failures.remove(0)),
        _ => Err(Failure::joined(failures)),
    }
}

/// A pattern that a flag names, where there is no job.
pub(super) fn pattern_alone(
    inputs: &Inputs,
    name: &str,
    flag: &'static str,
    shown: Shown,
) -> Result<PatternFiles, Failure> {
    let file = pattern(inputs, name, &Named::Flag(flag), shown)?;
    Ok(PatternFiles {
        patterns: vec![file.pattern],
        sources: vec![file.source],
    })
}

/// The patterns that a job names, none if it has no pieces.
pub(super) fn patterns_if_any(
    inputs: &Inputs,
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<PatternFiles, Failure> {
    if job.map.is_none() {
        return Ok(PatternFiles::default());
    }
    patterns_of(inputs, job, path, shown)
}
