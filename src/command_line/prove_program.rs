//! `lapwright prove` of a program, against a job or alone.

use super::answers::{Failure, Outcome, Shown, tell};
use super::arguments::ProveArguments;
use super::files::write;
use super::inputs::{self, FoundMachine, MachineFlags};
use super::lengths::above_zero;
use crate::infill::Infilling;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::ProgramWork;
use crate::machines::Router;
use crate::making::filled;
use crate::proving::{
    JobPieces, NoAnswer, ProgramProof, ProgramQuestion, ProvenPart, proof_picture, prove_alone,
    prove_program,
};
use crate::reading::{Documents, Job};
use crate::units::UnitSystem;
use crate::verification::Workpiece;
use crate::writing::svg;
use std::path::Path;

/// What a program does, compared with a job.
pub(super) fn beside_job(
    asked: &ProveArguments,
    inputs: &Inputs,
    bytes: &[u8],
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<ProgramProof, Failure> {
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let router: FoundMachine<Router> =
        inputs::machine_for(inputs, &flags, Some((job, path)), shown)?;
    let filled = pieces_of(inputs, job, path, &router.machine, shown)?;
    let pieces = filled.as_ref().map(|filled| JobPieces {
        panel: &job.panel,
        filled,
    });
    let question = ProgramQuestion {
        file: &asked.file.display().to_string(),
        bytes,
        lattice: job.panel.lattice(),
        frame: job.frame.as_ref(),
        pieces,
        router: router.chosen(),
        bundle: asked.bundle,
        rail: asked.rail.as_deref(),
        part: asked.part,
    };
    prove_program(&question).map_err(|none| no_answer(asked, &none))
}

/// The job's pieces, where the router may cut them in rows.
fn pieces_of(
    inputs: &Inputs,
    job: &Job,
    path: &Path,
    router: &Router,
    shown: Shown,
) -> Result<Option<Infilling>, Failure> {
    if job.panel.design().infill.is_none() || router.mitres.is_none() {
        return Ok(None);
    }
    let patterns = inputs::patterns_of(inputs, job, path, shown)?;
    let documents = Documents::of_job(&job.source).with_patterns(patterns.sources());
    let filled = filled(job, &patterns.patterns);
    filled
        .map(Some)
        .map_err(|error| Failure::not_made(error, &documents, shown))
}

/// Why there is no answer, at the flag that asks for what is not there.
fn no_answer(asked: &ProveArguments, none: &NoAnswer) -> Failure {
    match none {
        NoAnswer::OneProgram => {
            let flag = if asked.rail.is_some() {
                "--rail"
            } else {
                "--bundle"
            };
            Failure::input(format!(
                "{flag}: the router's profile has all set-ups in one program; choose one of them by --part"
            ))
        }
        NoAnswer::Bundles(count) => {
            Failure::input(format!("--bundle: the job has bundles 1 to {count}"))
        }
        NoAnswer::NoStrips => Failure::input("the job has no strips"),
        NoAnswer::NoRails => {
            Failure::input("--rail: the job has no frame, or its rails have no mortises")
        }
        NoAnswer::Rails(names) => Failure::input(format!(
            "--rail `{}`: the job has the {}",
            asked.rail.as_deref().unwrap_or_default(),
            names.join(", the ")
        )),
        NoAnswer::Parts(count) => {
            Failure::input(format!("--part: this program has parts 1 to {count}"))
        }
    }
}

/// A program alone, with nothing known but the stock and the tool.
pub(super) fn alone(asked: &ProveArguments, bytes: &[u8]) -> Result<ProgramProof, Failure> {
    let (Some(stock), Some(tool)) = (&asked.stock, &asked.tool) else {
        return Err(Failure::input(
            "nothing to compare with: give a job file, or --stock LENGTH,WIDTH,DEPTH and --tool DIAMETER",
        ));
    };
    let sizes: Vec<&str> = stock.split(',').collect();
    let [long, wide, deep] = sizes[..] else {
        return Err(Failure::input(format!(
            "--stock `{stock}`: give three lengths, such as 250mm,15mm,12mm"
        )));
    };
    let workpiece = Workpiece::plain(
        1,
        length("--stock", wide)?,
        length("--stock", deep)?,
        length("--stock", long)?,
    );
    let tool = length("--tool", tool)?;
    let name = asked.file.display().to_string();
    Ok(prove_alone(&name, bytes, workpiece, tool))
}

fn length(flag: &str, text: &str) -> Result<f64, Failure> {
    above_zero(flag, text, text.trim())
}

/// The cautions for the router that runs a program.
pub(super) fn safety_of(work: ProgramWork) -> SafetyNotes {
    match work {
        ProgramWork::Notches => SafetyNotes::for_router(),
        ProgramWork::Mortises => SafetyNotes::for_mortises(true),
        ProgramWork::Mitres => SafetyNotes::for_routed_rows(),
    }
}

/// Writes the picture of a part's proof, if one was asked for.
pub(super) fn draw(
    asked: &ProveArguments,
    inputs: &Inputs,
    bytes: &[u8],
    part: Option<&ProvenPart>,
) -> Outcome {
    let (Some(path), Some(part)) = (&asked.picture, part) else {
        return Ok(());
    };
    let drawing = proof_picture(bytes, part);
    let safety = safety_of(part.answer.work);
    let name = path.display().to_string();
    let picture = svg::svg(&drawing, &safety, UnitSystem::Millimetres)?;
    write(inputs, [(name, picture.into_bytes())])?;
    if let (Some((part, count)), None) = (part.of_parts, asked.part) {
        let picture = path.display();
        tell(&format!(
            "note: {picture} shows part {part} of {count}; --part N draws another\n"
        ));
    }
    Ok(())
}
