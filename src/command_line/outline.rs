//! `lapwright outline`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, OutlineArguments, What};
use super::files::{inputs_of, numbered, write};
use super::inputs::{self, Chosen};
use super::products;
use crate::instructions::safety::SafetyNotes;
use crate::lattice::Lattice;
use crate::machines::MachineKind;
use crate::planning::{laser_sheet, plan_pieces};
use crate::reading::Job;
use crate::writing::{json, text};
use serde_json::json;

pub(super) fn run(asked: &OutlineArguments, shown: Shown) -> Outcome {
    let job = inputs::job(&asked.job, shown)?;
    if asked.what == What::Panel {
        return panel(asked, &job, shown);
    }
    if asked
        .output
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("svg"))
    {
        return Err(Failure::input(
            "parts to be cut are written as DXF; a picture is drawn of --what panel",
        ));
    }
    let flag = asked.machine.as_deref();
    let with_path = Some((&job, asked.job.as_path()));
    let chosen = inputs::machine_of(MachineKind::Laser, flag, with_path, None, shown)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let (plan, drawings) = cut(asked, &job, &chosen, shown, &mut told)?;
    let answer = match shown.format {
        Format::Text => text::sheet(&laser_sheet(&plan), shown.units),
        Format::Json => {
            let safety = SafetyNotes::for_laser();
            json::answer("lapwright/outline/1", &plan, &told.all(), safety.notes())?
        }
    };
    write(inputs_of(&job, &asked.job, &[&chosen]), &drawings)?;
    told.show(shown);
    print(&answer)
}

/// What is to be cut, laid out and proven.
fn cut<'a>(
    asked: &OutlineArguments,
    job: &Job,
    chosen: &'a Chosen,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<products::Drawings, Failure> {
    let name = |at, count| numbered(&asked.output, at, count);
    let version = asked.dxf.into();
    let lattice = Lattice::of(&job.panel);
    if asked.what == What::Strips {
        return products::strips(&lattice, chosen, version, &name, shown, told);
    }
    let pattern = inputs::pattern_of(job, &asked.job, shown)?;
    let filled = products::filled(job, &pattern, shown)?;
    if asked.what == What::Pieces {
        return products::pieces(&job.panel, &filled, chosen, version, &name, shown, told);
    }
    let (pare, _) = plan_pieces(&job.panel, &filled, 0.0, None);
    products::blocks(&pare, chosen, version, &name, shown, told)
}

/// The assembled panel as a picture.
fn panel(asked: &OutlineArguments, job: &Job, shown: Shown) -> Outcome {
    if !asked
        .output
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("svg"))
    {
        return Err(Failure::input(
            "the assembled panel is a picture: give a file that ends in .svg",
        ));
    }
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let picture = products::picture(job, &asked.job, shown, &mut told)?;
    let path = asked.output.display().to_string();
    write(
        inputs_of(job, &asked.job, &[]),
        &[(path.clone(), picture.into_bytes())],
    )?;
    told.show(shown);
    match shown.format {
        Format::Text => print(&format!("{path}: the assembled panel from the front\n")),
        Format::Json => {
            let answer = json!({ "files": [{ "path": path }] });
            print(&json::answer(
                "lapwright/outline/1",
                &answer,
                &told.all(),
                SafetyNotes::for_laser().notes(),
            )?)
        }
    }
}
