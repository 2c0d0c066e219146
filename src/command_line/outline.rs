//! `lapwright outline`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, OutlineArguments, What};
use super::drawings::{Bench, Drawings, Files, has_ending, panel_dxf};
use super::files::{inputs_of, numbered, write};
use super::inputs::{self, Chosen};
use super::products;
use crate::instructions::safety::SafetyNotes;
use crate::lattice::Lattice;
use crate::machines::MachineKind;
use crate::planning::{laser_sheet, plan_pieces, safety_of};
use crate::reading::Job;
use crate::units::{Kind, parse};
use crate::writing::{json, text};
use serde_json::json;

pub(super) fn run(asked: &OutlineArguments, shown: Shown) -> Outcome {
    if let Some(refusal) = idle_flag(asked) {
        return Err(Failure::input(refusal));
    }
    let job = inputs::job(&asked.job, shown)?;
    if asked.what == What::Panel {
        return panel(asked, &job, shown);
    }
    let flag = asked.machine.as_deref();
    let with_path = Some((&job, asked.job.as_path()));
    let chosen = inputs::machine_of(MachineKind::Laser, flag, with_path, None, shown)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let sled = match asked.what {
        What::Rack => {
            let flag = ("--sled", asked.sled.as_deref());
            Some(inputs::machine_by(
                MachineKind::Sled,
                flag,
                with_path,
                None,
                shown,
            )?)
        }
        _ => None,
    };
    let (plan, drawings) = cut(asked, &job, (&chosen, sled.as_ref()), shown, &mut told)?;
    let answer = match shown.format {
        Format::Text => text::sheet(&laser_sheet(&plan), shown.units),
        Format::Json => {
            let safety = safety_of(&plan);
            json::answer("lapwright/outline/1", &plan, &told.all(), safety.notes())?
        }
    };
    let from: Vec<&Chosen> = std::iter::once(&chosen).chain(&sled).collect();
    write(inputs_of(&job, &asked.job, &from), drawings)?;
    told.show(shown);
    print(&answer)
}

/// A flag that would do nothing here.
fn idle_flag(asked: &OutlineArguments) -> Option<&'static str> {
    let (rack, comb) = (asked.what == What::Rack, asked.what == What::Comb);
    if asked.sled.is_some() && !rack {
        return Some("--sled: only a rack is made for a sled");
    }
    (asked.slots.is_some() && !rack && !comb)
        .then_some("--slots: only a rack and a comb have slots of their own")
}

/// What is to be cut, laid out and proven; what the files came from besides the laser's profile.
fn cut<'a>(
    asked: &OutlineArguments,
    job: &Job,
    (chosen, sled): (&'a Chosen, Option<&Chosen>),
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<Drawings, Failure> {
    let name = |at, count| numbered(&asked.output, at, count);
    let files = Files::of(&asked.output, asked.dxf.into());
    let bench = Bench::new(chosen, files, &name, shown)?;
    let lattice = Lattice::of(&job.panel);
    let slots = asked.slots.as_deref().map(slots).transpose()?;
    match (asked.what, sled) {
        (What::Strips, _) => return bench.strips(&lattice, told),
        (What::Gauge, _) => return bench.gauge(&lattice, told),
        (What::Comb, _) => return bench.comb(&lattice, slots.as_deref(), told),
        (What::Rack, Some(sled)) => return bench.rack(&lattice, sled, slots.as_deref(), told),
        _ => {}
    }
    let pattern = inputs::pattern_of(job, &asked.job, shown)?;
    let filled = products::filled(job, &pattern, shown)?;
    if asked.what == What::Pieces {
        return bench.pieces(&job.panel, &filled, told);
    }
    let (pare, _) = plan_pieces(&job.panel, &filled, 0.0, None);
    bench.blocks(&pare, told)
}

/// More slots than this are no comb and no rack.
const MOST_SLOTS: usize = 60;

/// A list of lengths above zero, all different, sorted.
fn slots(text: &str) -> Result<Vec<f64>, Failure> {
    let refuse = |why: &str| Failure::input(format!("--slots `{text}`: {why}"));
    let mut lengths = Vec::new();
    for item in text.split(',') {
        let length = parse(item.trim(), Kind::Length)
            .map_err(|error| refuse(&format!("`{}`: {error}; {}", item.trim(), error.hint())))?
            .value;
        if length <= 0.0 {
            return Err(refuse("every length must be above zero"));
        }
        lengths.push(length);
    }
    lengths.sort_by(f64::total_cmp);
    if lengths.len() > MOST_SLOTS {
        return Err(refuse(&format!("at most {MOST_SLOTS} slots are drawn")));
    }
    // Closer than labels with three decimals can tell.
    if lengths
        .windows(2)
        .any(|pair| matches!(pair, [a, b] if b - a < 1e-3))
    {
        return Err(refuse("the same length is there twice"));
    }
    Ok(lengths)
}

/// The assembled panel: a picture, or its outlines as DXF.
fn panel(asked: &OutlineArguments, job: &Job, shown: Shown) -> Outcome {
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let content = if has_ending(&asked.output, "svg") {
        products::picture(job, &asked.job, shown, &mut told)?.into_bytes()
    } else if has_ending(&asked.output, "dxf") {
        let filled = products::filled_of(job, &asked.job, shown, &mut told)?;
        panel_dxf(&Lattice::of(&job.panel), filled.as_ref(), asked.dxf.into())?
    } else {
        return Err(Failure::input(
            "the assembled panel is a picture or a drawing: give a file that ends in .svg or .dxf",
        ));
    };
    let path = asked.output.display().to_string();
    write(inputs_of(job, &asked.job, &[]), [(path.clone(), content)])?;
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
