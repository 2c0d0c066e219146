//! `lapwright movement`

use super::answers::{Failure, Outcome, Shown, print};
use super::arguments::{Format, MovementArguments};
use super::inputs;
use crate::finding::Document;
use crate::finding::all_in_document;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::planning::MovementOrder;
use crate::sheets::movement_lines;
use crate::writing::{json, text};

pub(super) fn run(asked: &MovementArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let order = MovementOrder {
        panel: &job.panel,
        frame: job.frame.as_ref(),
        climate: job.climate,
    };
    let refused =
        |faults| Failure::findings(&job.source, &all_in_document(faults, Document::Job), shown);
    let plan = order.plan().map_err(refused)?;
    let safety = SafetyNotes::for_assembly();
    match shown.format {
        Format::Text => {
            let lines = movement_lines(&plan);
            let lines = lines.iter().map(|line| (line.label.as_str(), &line.words));
            let mut answer = text::wrapped(&plan.title);
            answer.push('\n');
            answer.push_str(&text::labelled(lines, shown.units));
            answer.push_str(&text::safety_in_short(&safety.short()));
            print(&answer)
        }
        Format::Json => print(&json::answer(
            "lapwright/movement/1",
            &plan,
            &job.warnings,
            safety.notes(),
        )?),
    }
}
