//! `lapwright prove`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, ProveArguments};
use super::files::spare;
use super::inputs;
use super::proof_report::report;
use super::prove_drawing;
use super::prove_program::{alone, beside_job, draw, safety_of};
use super::proved_files::{is_drawing, read};
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::proof::ProofAnswer;
use crate::instructions::safety::SafetyNotes;
use crate::making::Warnings;
use crate::proving::ProgramProof;
use crate::reading::Documents;
use crate::writing::{json, text};

pub(super) fn run(asked: &ProveArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let bytes = read(inputs, &asked.file)?;
    if bytes.trim_ascii_start().starts_with(b"<") {
        return Err(Failure::input(format!(
            "{}: an SVG was compared with its DXF when it was written: prove the DXF",
            asked.file.display()
        )));
    }
    let drawing = is_drawing(&bytes);
    let job = asked
        .job
        .as_ref()
        .map(|path| inputs::job(inputs, path, shown))
        .transpose()?;
    if !drawing && !asked.what.is_empty() {
        return Err(Failure::input("--what: only a drawing is of a kind"));
    }
    if let Some(picture) = &asked.picture {
        if drawing {
            return Err(Failure::input(
                "--picture: only a program's proof has one; a drawing shows itself",
            ));
        }
        spare(inputs, picture)?;
    }
    let mut told = Warnings::default();
    let (answer, safety) = match (&job, asked.job.as_deref()) {
        (Some(job), Some(path)) => {
            told.add(Document::Job, job.warnings.clone());
            if drawing {
                let proof = prove_drawing::proof(asked, inputs, bytes, job, path, shown)?;
                (proof.answer, proof.safety)
            } else {
                let proof = beside_job(asked, inputs, &bytes, job, path, shown)?;
                of_program(asked, inputs, &bytes, proof)?
            }
        }
        _ if drawing => {
            return Err(Failure::input(
                "a drawing is compared with a job: give the job file as well",
            ));
        }
        _ => {
            let proof = alone(asked, &bytes)?;
            of_program(asked, inputs, &bytes, proof)?
        }
    };
    let documents = job.as_ref().map(|job| Documents::of_job(&job.source));
    warn(&told, &documents.unwrap_or_default(), shown);
    match shown.format {
        Format::Text => {
            let notes = text::safety_in_short(&safety.short());
            print(&format!("{}\n{notes}", report(&answer, shown.units)))?;
        }
        Format::Json => print(&json::answer(
            "lapwright/prove/1",
            &answer,
            told.all(),
            safety.notes(),
        )?)?,
    }
    if answer.ok {
        Ok(())
    } else {
        Err(Failure {
            code: 1,
            text: String::new(),
        })
    }
}

/// The answer about a program; its picture is written if one was asked for.
fn of_program(
    asked: &ProveArguments,
    inputs: &Inputs,
    bytes: &[u8],
    proof: ProgramProof,
) -> Result<(ProofAnswer, SafetyNotes), Failure> {
    draw(asked, inputs, bytes, proof.part.as_ref())?;
    let safety = safety_of(proof.answer.work);
    Ok((proof.answer, safety))
}
