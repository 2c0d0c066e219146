//! `lapwright machine`

use super::answers::{Failure, Outcome, Shown, print};
use super::arguments::{Format, MachineAction, MachineArguments};
use super::files::write;
use super::inputs::{self, Named, shipped_names};
use super::measure;
use super::thickness;
use crate::inputs::Inputs;
use crate::reading::{SHIPPED_MACHINES, read_machine, shipped_machine};
use crate::writing::json;
use serde_json::json;
use std::path::Path;

pub(super) fn run(asked: &MachineArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    match &asked.action {
        MachineAction::List => list(shown),
        MachineAction::Show { profile } => show(profile, inputs, shown),
        MachineAction::Check { profile } => check(profile, inputs, shown),
        MachineAction::New { like, output } => new(like, output, inputs, shown),
        MachineAction::Measure(asked) => measure::run(asked, inputs, shown),
        MachineAction::Thickness {
            profile,
            clearance,
            have,
        } => {
            let asked = thickness::Asked {
                profile,
                clearance,
                have: have.as_deref(),
            };
            thickness::run(&asked, inputs, shown)
        }
    }
}

fn list(shown: Shown) -> Outcome {
    let mut rows = Vec::new();
    for shipped in SHIPPED_MACHINES {
        let profile = read_machine(shipped.name, shipped.text);
        let profile = profile.map_err(|unreadable| (unreadable, shown))?;
        rows.push((shipped.name, profile.machine.kind().name(), profile.about));
    }
    match shown.format {
        Format::Text => {
            let width =
                |of: fn(&(&str, &str, String)) -> usize| rows.iter().map(of).max().unwrap_or(0) + 2;
            let names = width(|row| row.0.chars().count());
            let kinds = width(|row| row.1.chars().count());
            let lines = rows
                .iter()
                .map(|(name, kind, about)| format!("{name:<names$}{kind:<kinds$}{about}\n"));
            let lines: String = lines.collect();
            print(&format!(
                "{lines}\nAll are examples: `lapwright machine new --like NAME -o FILE`, then measure your own.\n"
            ))
        }
        Format::Json => {
            let machines: Vec<_> = rows
                .iter()
                .map(|(name, kind, about)| json!({ "name": name, "kind": kind, "about": about }))
                .collect();
            let answer = json::answer(
                "lapwright/machine-list/1",
                &json!({ "machines": machines }),
                &[],
                &[],
            )?;
            print(&answer)
        }
    }
}

fn show(name: &str, inputs: &Inputs, shown: Shown) -> Outcome {
    let profile = inputs::machine(inputs, name, &Named::Argument, shown)?;
    match shown.format {
        Format::Text => print(&profile.source.text),
        Format::Json => {
            let answer = json!({
                "name": profile.name,
                "kind": profile.machine.kind().name(),
                "about": profile.about,
                "toml": profile.source.text,
            });
            print(&json::answer(
                "lapwright/machine-show/1",
                &answer,
                &[],
                &[],
            )?)
        }
    }
}

fn check(name: &str, inputs: &Inputs, shown: Shown) -> Outcome {
    let profile = inputs::machine(inputs, name, &Named::Argument, shown)?;
    let kind = profile.machine.kind().name();
    match shown.format {
        Format::Text => print(&format!(
            "{name}: a sound {kind} profile: {}\n",
            profile.about
        )),
        Format::Json => {
            let answer = json!({ "name": name, "kind": kind, "ok": true });
            print(&json::answer(
                "lapwright/machine-check/1",
                &answer,
                &[],
                &[],
            )?)
        }
    }
}

fn new(like: &str, output: &Path, inputs: &Inputs, shown: Shown) -> Outcome {
    let Some(shipped) = shipped_machine(like) else {
        return Err(Failure::input(format!(
            "--like: no shipped profile is called `{like}`\n  shipped: {}",
            shipped_names()
        )));
    };
    if output.exists() {
        return Err(Failure::input(format!(
            "{}: this is there already; choose another name",
            output.display()
        )));
    }
    let name = output.display().to_string();
    write(inputs, [(name, shipped.text.as_bytes().to_vec())])?;
    match shown.format {
        Format::Text => print(&format!(
            "{}: begun from {like}; now measure and edit every value\n",
            output.display()
        )),
        Format::Json => {
            let written = json!({ "path": output.display().to_string(), "like": like });
            print(&json::answer(
                "lapwright/machine-new/1",
                &written,
                &[],
                &[],
            )?)
        }
    }
}
