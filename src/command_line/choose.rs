//! `lapwright choose`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{ChooseArguments, Format, Kind, LiesAs, Measured};
use super::files::write;
use super::inputs::{self, MachineFlags, PatternFiles};
use crate::choosing::{ChosenPanels, FrameWritten, JobAround, PanelFigures, PanelRequest, choose};
use crate::finding::{Document, Finding};
use crate::inputs::Inputs;
use crate::instructions::choice::PanelOption;
use crate::instructions::safety::SafetyNotes;
use crate::machines::Station;
use crate::making::{Warnings, Workshop};
use crate::opening::{GridWish, MeasuredAt, Slanted, Wanted};
use crate::reading::{
    CellKind, Documents, FrameSection, Job, MachineProfile, PanelFlags, Stance, read_panel_flags,
    shipped_machine, shipped_pattern,
};
use crate::sheets::choice_sections;
use crate::writing::{json, text};
use serde_json::{Value, json};
use std::path::Path;

impl From<Measured> for MeasuredAt {
    fn from(measured: Measured) -> Self {
        match measured {
            Measured::Hole => MeasuredAt::Hole,
            Measured::Inside => MeasuredAt::Inside,
            Measured::Panel => MeasuredAt::Panel,
        }
    }
}

/// What the panels are made with.
struct AtHand {
    workshop: Workshop,
    patterns: PatternFiles,
}

pub(super) fn run(asked: &ChooseArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    if let Some(output) = &asked.output {
        not_there_yet(output)?;
    }
    let job = match &asked.job {
        Some(path) => Some((inputs::job(inputs, path, shown)?, path.as_path())),
        None => None,
    };
    let wished = wished(job.as_ref().map(|(job, _)| job));
    let kind = asked.kind.map(CellKind::from);
    let kind = kind.or(wished.as_ref().map(|wish| wish.kind));
    let flags = read_panel_flags(&panel_flags(asked, kind.unwrap_or_default()), job.is_some());
    let flags = flags.map_err(|unreadable| (unreadable, shown))?;
    let at_hand = at_hand(asked, inputs, job.as_ref(), shown)?;
    let (around, source) = match (&job, flags.section) {
        (Some((job, path)), _) => (of_job(asked, job, path, shown)?, &job.source),
        (None, Some(section)) => {
            let figures = PanelFigures {
                opening: section.opening,
                measured: asked.measured.into(),
                play: section.play,
                thickness: section.thickness,
                depth: section.depth,
                clearance: section.clearance,
                frame: section.frame.map(FrameWritten::from),
                way: asked.way.into(),
                pattern: asked
                    .pattern
                    .as_deref()
                    .map(|name| seen_from(asked, name, is_pattern)),
                machines: named_machines(asked),
            };
            let around = JobAround::of_figures(&figures);
            let around =
                around.map_err(|faults| Failure::findings(&flags.source, &faults, shown))?;
            (around, &flags.source)
        }
        // No flag is missing where they were read.
        (None, None) => return Err(Failure::input("give a job file or --opening")),
    };
    let bays_by_flag = flags.pitch.is_some() || flags.columns.is_some() || flags.rows.is_some();
    // Of another kind of grid nothing but the margin says anything.
    let alike = wished.as_ref().filter(|wish| Some(wish.kind) == kind);
    let of_job = alike.filter(|_| !bays_by_flag);
    let request = PanelRequest {
        around,
        slanted: (flags.slanted).map(|flags| flags.or(alike.and_then(|wish| wish.slanted))),
        pitch: flags.pitch.or(of_job.and_then(|wish| wish.pitch)),
        columns: flags.columns.or(of_job.and_then(|wish| wish.columns)),
        rows: flags.rows.or(of_job.and_then(|wish| wish.rows)),
        least_margin: flags
            .least_margin
            .or(wished.as_ref().and_then(|wish| wish.least_margin)),
        most_margin: flags.most_margin,
        workshop: &at_hand.workshop,
        patterns: &at_hand.patterns.patterns,
    };
    let by_flag = bays_by_flag || asked.angle.is_some();
    let source = if by_flag { &flags.source } else { source };
    let panels = choose(&request).map_err(|faults| Failure::findings(source, &faults, shown))?;
    let picked = match &asked.output {
        Some(output) => Some(keep(asked, output, &panels, &at_hand, inputs)?),
        None => None,
    };
    let mut told = Warnings::default();
    if let Some((job, _)) = &job {
        // Those of its grid go with the grid.
        let of_opening = |warning: &&Finding| warning.field.starts_with("opening");
        let kept = job.warnings.iter().filter(of_opening).cloned();
        told.add(Document::Job, kept.collect::<Vec<_>>());
    }
    tell(&panels, picked.as_ref(), &at_hand, &told, shown)?;
    if let Some((job, _)) = &job {
        warn(&told, &Documents::of_job(&job.source), shown);
    }
    Ok(())
}

/// What a job wishes for its opening.
struct JobWish {
    kind: CellKind,
    slanted: Option<Slanted>,
    /// Square to the strips, mm.
    pitch: Option<f64>,
    columns: Option<usize>,
    rows: Option<usize>,
    least_margin: Option<f64>,
}

fn wished(job: Option<&Job>) -> Option<JobWish> {
    Some(match &job?.fitted.as_ref()?.wish {
        GridWish::Square(wish) => JobWish {
            kind: CellKind::Square,
            slanted: None,
            pitch: size_of(wish.pitch),
            columns: wish.columns,
            rows: wish.rows,
            least_margin: wish.least_margin,
        },
        GridWish::Diamond(wish) => JobWish {
            kind: CellKind::Diamond,
            slanted: Some(Slanted::Diamond {
                stance: wish.stance,
                angle: wish.angle,
            }),
            pitch: size_of(wish.pitch),
            columns: wish.columns,
            rows: wish.rows,
            least_margin: wish.least_margin,
        },
        GridWish::Triangular(wish) => JobWish {
            kind: CellKind::Triangular,
            slanted: Some(Slanted::Triangular {
                stance: wish.stance,
            }),
            // The pitch of triangles is their height.
            pitch: size_of(wish.side).map(|side| side * 0.75_f64.sqrt()),
            columns: wish.columns,
            rows: wish.rows,
            least_margin: wish.least_margin,
        },
    })
}

fn size_of(wanted: Wanted) -> Option<f64> {
    match wanted {
        Wanted::Exactly(size) | Wanted::About(size) => Some(size),
        Wanted::Free => None,
    }
}

impl From<Kind> for CellKind {
    fn from(kind: Kind) -> CellKind {
        match kind {
            Kind::Square => CellKind::Square,
            Kind::Diamond => CellKind::Diamond,
            Kind::Triangular => CellKind::Triangular,
        }
    }
}

impl From<LiesAs> for Stance {
    fn from(lies: LiesAs) -> Stance {
        match lies {
            LiesAs::Upright => Stance::Upright,
            LiesAs::OnPoint => Stance::OnPoint,
            LiesAs::Lying => Stance::Lying,
        }
    }
}

impl From<FrameSection> for FrameWritten {
    fn from(frame: FrameSection) -> FrameWritten {
        FrameWritten {
            thickness: frame.thickness,
            width: frame.width,
            mortise_depth: frame.mortise_depth,
            rebate: frame.rebate,
        }
    }
}

/// A job that somebody may have edited is no place for another one.
fn not_there_yet(output: &Path) -> Outcome {
    if output.exists() {
        return Err(Failure::input(format!(
            "{}: this is there already; choose another name",
            output.display()
        )));
    }
    Ok(())
}

fn panel_flags(asked: &ChooseArguments, kind: CellKind) -> PanelFlags {
    PanelFlags {
        kind,
        stance: asked.stance.map(Stance::from),
        angle: asked.angle.clone(),
        side: asked.side.clone(),
        frame_thickness: asked.frame_thickness.clone(),
        frame_width: asked.frame_width.clone(),
        mortise_depth: asked.mortise_depth.clone(),
        rebate: asked.rebate.clone(),
        opening: asked.opening.clone(),
        play: asked.play.clone(),
        thickness: asked.thickness.clone(),
        depth: asked.depth.clone(),
        clearance: asked.clearance.clone(),
        pitch: asked.pitch.clone(),
        columns: asked.columns.clone(),
        rows: asked.rows.clone(),
        least_margin: asked.least_margin.clone(),
        most_margin: asked.most_margin.clone(),
    }
}

/// The profiles that flags name, with the flags.
fn machine_flags(asked: &ChooseArguments) -> [(Station, &'static str, Option<&str>); 4] {
    [
        (Station::Sled, "--sled", asked.sled.as_deref()),
        (Station::Laser, "--laser", asked.laser.as_deref()),
        (Station::Router, "--router", asked.router.as_deref()),
        (Station::Guides, "--guides", asked.guides.as_deref()),
    ]
}

/// The machines and the pattern; all problems at once.
fn at_hand(
    asked: &ChooseArguments,
    inputs: &Inputs,
    job: Option<&(Job, &Path)>,
    shown: Shown,
) -> Result<AtHand, Failure> {
    let mut found: Vec<MachineProfile> = Vec::new();
    let mut failures = Vec::new();
    for (station, flag, given) in machine_flags(asked) {
        let in_job = job.and_then(|(job, _)| job.machines.at(station));
        if given.is_none() && in_job.is_none() {
            continue;
        }
        let flags = MachineFlags {
            flag: Some(flag),
            given,
            usual: None,
        };
        let job = job.map(|(job, path)| (job, *path));
        match inputs::profile_for(inputs, station, &flags, job, shown) {
            Ok(profile) => found.push(profile),
            Err(failure) => failures.push(failure),
        }
    }
    let patterns = match (&asked.pattern, job) {
        (Some(name), _) => inputs::pattern_alone(inputs, name, "--pattern", shown),
        (None, Some((job, path))) => inputs::patterns_if_any(inputs, job, path, shown),
        (None, None) => Ok(PatternFiles::default()),
    };
    match (patterns, failures.is_empty()) {
        (Ok(patterns), true) => Ok(AtHand {
            workshop: Workshop::new(found),
            patterns,
        }),
        (Ok(_), false) => Err(Failure::joined(failures)),
        (Err(failure), _) => {
            failures.push(failure);
            Err(Failure::joined(failures))
        }
    }
}

fn is_machine(name: &str) -> bool {
    shipped_machine(name).is_some()
}

fn is_pattern(name: &str) -> bool {
    shipped_pattern(name).is_some()
}

/// A profile's name as it is seen from the job that is written: a path in a job starts from its folder.
fn seen_from(asked: &ChooseArguments, name: &str, is_shipped: fn(&str) -> bool) -> String {
    let folder = asked.output.as_deref().and_then(Path::parent);
    let stays = folder.is_none_or(|folder| folder.as_os_str().is_empty());
    if stays || is_shipped(name) {
        return name.to_owned();
    }
    let whole = std::path::absolute(name);
    whole.map_or_else(|_| name.to_owned(), |path| path.display().to_string())
}

fn named_machines(asked: &ChooseArguments) -> Vec<(Station, String)> {
    let named = machine_flags(asked).into_iter();
    named
        .filter_map(|(station, _, name)| Some((station, seen_from(asked, name?, is_machine))))
        .collect()
}

/// The text of a job but for its grid.
fn of_job(
    asked: &ChooseArguments,
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<JobAround, Failure> {
    let refuse = |faults: Vec<Finding>| Failure::findings(&job.source, &faults, shown);
    let folder = |path: &Path| path.parent().map(Path::to_owned).unwrap_or_default();
    if let Some(output) = &asked.output
        && folder(output) != folder(path)
        && let Some(field) = named_by_path(job)
    {
        let text = "this file is named from the job's folder, and another folder is asked for";
        let hint = "write the new job beside this one, or name the file by its whole path";
        return Err(refuse(vec![
            Finding::error("moved", field, text).hint(hint),
        ]));
    }
    JobAround::of_job(job).map_err(refuse)
}

/// A field of a job that names a file by a path from the job's folder.
fn named_by_path(job: &Job) -> Option<String> {
    let relative = |name: &str| Path::new(name).is_relative();
    let mut stations = job.machines.stations();
    let machine = stations.find(|station| {
        let name = job.machines.at(*station);
        name.is_some_and(|name| !is_machine(name) && relative(name))
    });
    let machine = machine.map(|station| format!("machines.{}", station.name()));
    let mut patterns = job.map.iter().flat_map(|map| &map.patterns);
    let pattern = patterns.find(|pattern| !is_pattern(&pattern.name) && relative(&pattern.name));
    machine.or(pattern.map(|pattern| pattern.field.clone()))
}

/// What was written.
struct Picked {
    number: usize,
    path: String,
}

/// Writes the job of the one that is picked.
fn keep(
    asked: &ChooseArguments,
    output: &Path,
    panels: &ChosenPanels,
    at_hand: &AtHand,
    inputs: &Inputs,
) -> Result<Picked, Failure> {
    let number = asked.pick;
    let count = panels.jobs.len();
    let Some(text) = number.checked_sub(1).and_then(|at| panels.jobs.get(at)) else {
        return Err(Failure::input(format!(
            "--pick {number}: there are {count} to choose from, numbered from 1"
        )));
    };
    let mut stations = at_hand.workshop.profiles().map(MachineProfile::station);
    if stations.all(|station| station == Station::Guides) {
        return Err(Failure::input(format!(
            "{}: a job without a machine cannot be built: name what you have with --sled, --laser or --router\n  `lapwright machine list` shows what there is to begin with",
            output.display()
        )));
    }
    let option = number
        .checked_sub(1)
        .and_then(|at| panels.choice.options.get(at));
    let at_machines = option.map_or(&[][..], |option| option.at_machines.as_slice());
    let guides = Station::Guides.name();
    let mut making = at_machines.iter().filter(|share| share.station != guides);
    if making.all(|share| share.cannot.is_some()) {
        return Err(Failure::input(format!(
            "--pick {number}: none of the machines that notch or cut strips can make this panel, so it is not written; the same without -o says why"
        )));
    }
    let path = output.display().to_string();
    write(inputs, [(path.clone(), text.clone().into_bytes())])?;
    Ok(Picked { number, path })
}

fn tell(
    panels: &ChosenPanels,
    picked: Option<&Picked>,
    at_hand: &AtHand,
    warnings: &Warnings,
    shown: Shown,
) -> Outcome {
    let safety = at_hand.workshop.safety();
    match shown.format {
        Format::Json => {
            let mut notes: Vec<&str> = Vec::new();
            for note in safety.iter().flat_map(SafetyNotes::notes) {
                if !notes.contains(note) {
                    notes.push(note);
                }
            }
            let mut answer = serde_json::to_value(&panels.choice).unwrap_or(Value::Null);
            if let Some(picked) = picked {
                answer["written"] = json!({ "path": picked.path, "option": picked.number });
            }
            print(&json::answer(
                "lapwright/choose/1",
                &answer,
                warnings.all(),
                &notes,
            )?)
        }
        Format::Text => {
            let mut told =
                text::sections(&choice_sections(&panels.choice, shown.units), shown.units);
            told.push('\n');
            told.push_str(&match picked {
                Some(picked) => written(picked, panels),
                None => "To keep one: the same again with -o panel.toml, and --pick NUMBER for another than the first\n".to_owned(),
            });
            told.push_str(&text::safety_in_short(&SafetyNotes::short_of(&safety)));
            print(&told)
        }
    }
}

/// What is said of a job that was written.
fn written(picked: &Picked, panels: &ChosenPanels) -> String {
    let Picked { number, path } = picked;
    let option = panels
        .choice
        .options
        .iter()
        .find(|option| option.option == *number);
    let lacking = option.map(PanelOption::lacking).unwrap_or_default();
    let machines: Vec<&str> = lacking.iter().map(|share| share.machine.as_str()).collect();
    let without = match machines.is_empty() {
        true => String::new(),
        false => format!(
            "What {} cannot make will be missing there; `build` says so, and exits with 1.\n",
            machines.join(" and ")
        ),
    };
    format!(
        "Panel {number} is written to {path}; it was read back and planned at the machines first.\nNext: lapwright build {path} -o FOLDER\n{without}"
    )
}
