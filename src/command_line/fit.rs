//! `lapwright fit`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{FitArguments, FitWay, Format};
use super::whole_job::WholeJob;
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::fit::FitPlan;
use crate::instructions::safety::SafetyNotes;
use crate::machines::Station;
use crate::making::{FitQuestion, Warnings, filled};
use crate::sheets::fit_lines;
use crate::writing::{json, text};

pub(super) fn run(asked: &FitArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let whole = WholeJob::read(inputs, &asked.job, shown)?;
    let refused = |error| Failure::not_made(error, &whole.documents(), shown);
    let has_pieces = whole.job.panel.design().infill.is_some();
    let filled = has_pieces.then(|| filled(&whole.job, whole.patterns()));
    let filled = filled.transpose().map_err(refused)?;
    let question = FitQuestion {
        job: &whole.job,
        workshop: &whole.workshop,
        pieces: filled.as_ref().map(|filled| (filled, whole.patterns())),
        draws: asked.draws.map(|draws| draws as usize),
        seed: asked.seed,
        only: asked.way.map(|way| match way {
            FitWay::Sled => Station::Sled,
            FitWay::Router => Station::Router,
            FitWay::Laser => Station::Laser,
        }),
    };
    let plan = question.answered().map_err(refused)?;
    if plan.ways.is_empty() {
        return Err(Failure::input(format!(
            "{}: no machine for this that notches strips: add a sled, a router or a laser to [machines]",
            asked.job.display()
        )));
    }
    let mut told = Warnings::default();
    told.add(Document::Job, whole.job.warnings.clone());
    let answer = match shown.format {
        Format::Text => in_lines(&plan, shown),
        Format::Json => json::answer(
            "lapwright/fit/1",
            &plan,
            told.all(),
            SafetyNotes::for_assembly().notes(),
        )?,
    };
    print(&answer)?;
    warn(&told, &whole.documents(), shown);
    too_seldom(&plan)
}

fn in_lines(plan: &FitPlan, shown: Shown) -> String {
    let mut answer = text::wrapped(&plan.title);
    answer.push_str(&text::fractions(shown.units));
    for way in fit_lines(plan) {
        let lines = way
            .lines
            .iter()
            .map(|line| (line.label.as_str(), &line.words));
        answer.push_str(&format!(
            "\n{}\n{}",
            way.heading,
            text::labelled(lines, shown.units)
        ));
    }
    answer.push_str(&text::safety_in_short(&SafetyNotes::for_assembly().short()));
    answer
}

/// The answer is no where a way does not close as often as the job asks.
fn too_seldom(plan: &FitPlan) -> Outcome {
    let seldom = plan.ways.iter().filter(|way| !way.ok);
    let named: Vec<String> = seldom
        .map(|way| format!("{} {}", way.way, way.machine))
        .collect();
    if named.is_empty() {
        return Ok(());
    }
    Err(Failure {
        code: 1,
        text: format!("goes together too seldom: {}\n", named.join(" and ")),
    })
}
