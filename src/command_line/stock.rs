//! `lapwright stock`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, StockArguments};
use super::files::{spare, write};
use super::inputs;
use super::whole_job::WholeJob;
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::making::{StockQuestion, Warnings, filled, woods_side_by_side};
use crate::reading::Job;
use crate::sheets::{cut_list, stock_answer_sheet, woods_sheet};
use crate::writing::{csv, json, text};

pub(super) fn run(asked: &StockArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    if let Some(path) = &asked.csv {
        spare(inputs, path)?;
    }
    let job = inputs::job(inputs, &asked.job, shown)?;
    if let Some(names) = &asked.woods {
        return woods(&job, names, shown);
    }
    let whole = WholeJob::of(inputs, job, &asked.job, shown)?;
    let refused = |error| Failure::not_made(error, &whole.documents(), shown);
    let has_pieces = whole.job.panel.design().infill.is_some();
    let filled = has_pieces.then(|| filled(&whole.job, whole.patterns()));
    let filled = filled.transpose().map_err(refused)?;
    let question = StockQuestion {
        job: &whole.job,
        filled: filled.as_ref(),
        workshop: &whole.workshop,
        planned: None,
    };
    let (plan, own) = question.answered().map_err(refused)?;
    let mut told = Warnings::default();
    told.add(Document::Job, whole.job.warnings.clone());
    told.append(own);
    let answer = match shown.format {
        Format::Text => {
            let sheet = stock_answer_sheet(&plan, &whole.job.stock, shown.units);
            text::answer(&sheet, SafetyNotes::worst_in_milling(), shown.units)
        }
        Format::Json => json::answer(
            "lapwright/stock/1",
            &plan,
            told.all(),
            SafetyNotes::for_milling().notes(),
        )?,
    };
    if let Some(path) = &asked.csv {
        let list = csv::csv(&cut_list(&plan)?).into_bytes();
        write(inputs, [(path.display().to_string(), list)])?;
    }
    print(&answer)?;
    warn(&told, &whole.documents(), shown);
    Ok(())
}

fn woods(job: &Job, names: &[String], shown: Shown) -> Outcome {
    let table = woods_side_by_side(job, names);
    let safety = SafetyNotes::for_milling();
    print(&match shown.format {
        Format::Text => {
            let worst = SafetyNotes::worst_in_milling();
            text::answer(&woods_sheet(&table), worst, shown.units)
        }
        Format::Json => json::answer("lapwright/woods/1", &table, &[], safety.notes())?,
    })
}
