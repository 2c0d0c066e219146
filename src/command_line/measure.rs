//! `lapwright machine measure`

use super::answers::{Failure, Outcome, Shown, print, tell};
use super::arguments::{Format, MeasureArguments};
use super::files::{rewrite, spare, write};
use super::inputs::{self, Named, readings_text};
use super::measured_answer::{Answer, answer};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::SetupSheet;
use crate::machines::Date;
use crate::making::{SheetFormat, safety_at, set_up_file};
use crate::measuring::{Measured, begun, evaluate, written_up};
use crate::reading::{
    MachineProfile, ReadingsFormat, Unreadable, read_machine, read_readings, shipped_machine,
};
use crate::sheets::{measuring_booklet, measuring_sheet};
use crate::units::{Kind, parse};
use crate::writing::html::Renewal;
use crate::writing::profile_text::{FigureRecord, WrittenFigure, with_figures};
use crate::writing::{json, text};
use chrono::Datelike;
use serde_json::json;
use std::path::Path;

/// Shorter calipers than this there are none, mm.
const SHORTEST_CALIPER_MM: f64 = 50.0;

pub(super) fn run(asked: &MeasureArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let date = asked.date.as_deref().map(day).transpose()?;
    match &asked.from {
        Some(from) => measure(asked, from, date, inputs, shown),
        None => sheet(asked, date, inputs, shown),
    }
}

fn day(text: &str) -> Result<Date, Failure> {
    Date::parse(text).ok_or_else(|| {
        Failure::input(format!(
            "--date: `{text}` is no day of the calendar\n  write year, month and day: 2026-11-30"
        ))
    })
}

/// Today, by the clock of the place.
fn today() -> Result<Date, Failure> {
    let now = chrono::Local::now().date_naive();
    let parts = (
        u16::try_from(now.year()),
        u8::try_from(now.month()),
        u8::try_from(now.day()),
    );
    let (Ok(year), Ok(month), Ok(day)) = parts else {
        return Err(Failure::input("the clock has no date: give it with --date"));
    };
    Date::new(year, month, day)
        .ok_or_else(|| Failure::input("the clock has no date: give it with --date"))
}

/// Which test pieces to cut, and a file of readings that is begun for them.
fn sheet(asked: &MeasureArguments, date: Option<Date>, inputs: &Inputs, shown: Shown) -> Outcome {
    let profile = inputs::machine(inputs, &asked.profile, &Named::Argument, shown)?;
    let caliper = caliper(&asked.caliper)?;
    let safety = safety_at(&profile.machine);
    let notes = safety.notes().to_vec();
    let told = measuring_sheet(
        &asked.profile,
        &profile.machine,
        caliper,
        safety,
        shown.units,
    );
    let mut files = Vec::new();
    let mut lines = String::new();
    if let Some(path) = &asked.sheet {
        spare(inputs, path)?;
        let name = path.display().to_string();
        lines.push_str(&format!(
            "{name}: test pieces for {}, with fields for the readings\n",
            asked.profile
        ));
        files.push((name, sheet_bytes(path, &told, asked, shown)?));
    }
    if let Some(path) = &asked.begin {
        let name = path.display().to_string();
        if path.exists() {
            return Err(Failure::input(format!(
                "{name}: this is there already; choose another name"
            )));
        }
        let date = date.map_or_else(today, Ok)?;
        let text = begun(&asked.profile, &profile.machine, caliper, date, shown.units);
        lines.push_str(&format!(
            "{name}: begun; type the readings into its lists\n"
        ));
        files.push((name, text.into_bytes()));
    }
    let paths: Vec<_> = files
        .iter()
        .map(|(path, _)| json!({ "path": path }))
        .collect();
    let is_written = !files.is_empty();
    write(inputs, files)?;
    match shown.format {
        Format::Text if is_written => {
            lines.push_str(&text::safety_in_short(&safety_at(&profile.machine).short()));
            print(&lines)
        }
        Format::Text => print(&text::sheet(&told, shown.units)),
        Format::Json => {
            let kind = profile.machine.kind().name();
            let told = json!({ "machine": asked.profile, "kind": kind, "files": paths });
            let answer = json::answer("lapwright/machine-measuring-sheet/1", &told, &[], &notes)?;
            print(&answer)
        }
    }
}

fn caliper(text: &str) -> Result<f64, Failure> {
    let length = parse(text, Kind::Length)
        .map_err(|error| Failure::input(format!("--caliper: {error}\n  {}", error.hint())))?;
    if length.value < SHORTEST_CALIPER_MM {
        return Err(Failure::input(
            "--caliper: no caliper is as short as that\n  the longest that it measures, such as 150mm",
        ));
    }
    Ok(length.value)
}

fn sheet_bytes(
    path: &Path,
    sheet: &SetupSheet,
    asked: &MeasureArguments,
    shown: Shown,
) -> Result<Vec<u8>, Failure> {
    let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
    let format = match ending.to_str() {
        Some("txt") => return Ok(text::sheet(sheet, shown.units).into_bytes()),
        Some("html") => SheetFormat::Page(Renewal::Never),
        Some("pdf") => SheetFormat::Document(asked.paper.into()),
        _ => {
            return Err(Failure::input(format!(
                "--sheet: {}: give a file that ends in .html, .pdf or .txt",
                path.display()
            )));
        }
    };
    let booklet = measuring_booklet(sheet.clone());
    Ok(set_up_file(&booklet, format, shown.units)?.bytes)
}

/// Readings into the profile.
fn measure(
    asked: &MeasureArguments,
    from: &Path,
    date: Option<Date>,
    inputs: &Inputs,
    shown: Shown,
) -> Outcome {
    own_profile(&asked.profile)?;
    let profile = inputs::machine(inputs, &asked.profile, &Named::Argument, shown)?;
    let format = format_of(from)?;
    let text = readings_text(inputs, from)?;
    let name = from.display().to_string();
    let (readings, source) = read_readings(&name, &text, format, &profile.machine)
        .map_err(|unreadable| (unreadable, shown))?;
    let measured = evaluate(&readings, &profile.machine, &profile)
        .map_err(|findings| Failure::findings(&source, &findings, shown))?;
    let date = match date.or(readings.date) {
        Some(date) => date,
        None => today()?,
    };
    let changed = changed_text(&profile, &measured, date, shown)?;
    let output = asked.output.as_deref().unwrap_or(Path::new(&asked.profile));
    if !asked.dry_run && !measured.figures.is_empty() {
        match &asked.output {
            Some(path) => write(inputs, [(path.display().to_string(), changed.into_bytes())])?,
            None => rewrite(inputs, output, changed.into_bytes())?,
        }
    }
    let safety: SafetyNotes = safety_at(&profile.machine);
    let told = Answer {
        profile: &profile,
        readings: &readings,
        measured: &measured,
        from: &name,
        output: &output.display().to_string(),
        dry_run: asked.dry_run,
        date,
    };
    let printed = print(&answer(&told, safety.notes(), shown)?);
    tell(&source.report(&measured.warnings, shown.units));
    printed
}

/// Shipped profiles are never changed.
fn own_profile(name: &str) -> Outcome {
    if shipped_machine(name).is_none() {
        return Ok(());
    }
    Err(Failure::input(format!(
        "{name}: this profile comes with the program and is never changed\n  begin one of your own: \
         lapwright machine new --like {name} -o my-{name}.toml, then measure that"
    )))
}

fn format_of(path: &Path) -> Result<ReadingsFormat, Failure> {
    let ending = path.extension().unwrap_or_default().to_ascii_lowercase();
    match ending.to_str() {
        Some("toml") => Ok(ReadingsFormat::Toml),
        Some("csv") => Ok(ReadingsFormat::Csv),
        _ => Err(Failure::input(format!(
            "--from: {}: give a file that ends in .toml or .csv",
            path.display()
        ))),
    }
}

/// The profile's text with the figures in it, which is read as any profile before it is written.
fn changed_text(
    profile: &MachineProfile,
    measured: &Measured,
    date: Date,
    shown: Shown,
) -> Result<String, Failure> {
    let figures = measured.figures.iter().map(|figure| WrittenFigure {
        field: figure.field.clone(),
        text: figure.text.clone(),
        record: figure.is_measured().then(|| FigureRecord {
            date: date.to_string(),
            readings: figure.statistics.count(),
            deviation: written_up(figure.statistics.deviation()),
            uncertainty: written_up(figure.uncertainty.expanded()),
        }),
    });
    let figures: Vec<WrittenFigure> = figures.collect();
    let source = &profile.source;
    let changed = with_figures(&source.text, &figures)
        .map_err(|why| Failure::input(format!("{}: {why}", source.name)))?;
    let name = format!("{} with these figures", source.name);
    match read_machine(&name, &changed) {
        Ok(_) => Ok(changed),
        Err(Unreadable { source, findings }) => Err(Failure::findings(&source, &findings, shown)),
    }
}
