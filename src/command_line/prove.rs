//! `lapwright prove`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, ProveArguments};
use super::files::{spare, write};
use super::proof_picture::picture;
use super::proof_report::report;
use super::{inputs, prove_drawing, prove_program as own};
use crate::inputs::{InputKind, Inputs, Unread};
use crate::instructions::proof::{FaultFound, MotionFound, NotchProof, ProofAnswer, SlotFound};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::Work;
use crate::lattice::Lattice;
use crate::machines::{Machine, MachineKind};
use crate::units::{Kind, UnitSystem, parse};
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::program::blocks;
use crate::verification::trace::trace;
use crate::verification::{Limits, ProgramReport, Tolerances, Workpiece, prove_program};
use crate::writing::{json, svg, text};
use std::path::Path;

/// Larger files than this are not proved.
const MOST_BYTES: u64 = 1 << 30;

pub(super) fn run(asked: &ProveArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let bytes = read(inputs, &asked.file)?;
    if bytes.trim_ascii_start().starts_with(b"<") {
        return Err(Failure::input(format!(
            "{}: an SVG was compared with its DXF when it was written: prove the DXF",
            asked.file.display()
        )));
    }
    let drawing = is_drawing(&bytes);
    let mut told = Warnings::default();
    let job = asked
        .job
        .as_ref()
        .map(|path| inputs::job(inputs, path, shown))
        .transpose()?;
    let idle = !drawing && !asked.what.is_empty();
    if idle {
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
    let (answer, drawing_safety) = match (&job, asked.job.as_deref()) {
        (Some(job), Some(path)) => {
            told.add(&job.source, job.warnings.clone());
            if drawing {
                let (answer, safety) =
                    prove_drawing::answer(asked, inputs, bytes, (job, path), shown)?;
                (answer, Some(safety))
            } else {
                let flag = asked.machine.as_deref();
                let with_path = Some((job, path));
                let chosen =
                    inputs::machine_of(inputs, MachineKind::Router, flag, with_path, None, shown)?;
                let Machine::Router(router) = &chosen.profile.machine else {
                    return Err(inputs::wrong_kind(&chosen.profile.machine));
                };
                let panel = (&Lattice::of(&job.panel), job.frame.as_ref());
                (
                    own::program(
                        (asked, inputs),
                        &bytes,
                        panel,
                        (&chosen.profile.name, router),
                    )?,
                    None,
                )
            }
        }
        _ if drawing => {
            return Err(Failure::input(
                "a drawing is compared with a job: give the job file as well",
            ));
        }
        _ => (stranger((asked, inputs), &bytes)?, None),
    };
    let safety = drawing_safety.unwrap_or_else(|| safety_of(answer.work));
    told.show(shown);
    match shown.format {
        Format::Text => {
            let notes = text::safety_in_short(&safety.short());
            print(&format!("{}\n{notes}", report(&answer, shown.units)))?;
        }
        Format::Json => print(&json::answer(
            "lapwright/prove/1",
            &answer,
            &told.all(),
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

/// The cautions for the router that runs a program.
fn safety_of(work: Work) -> SafetyNotes {
    match work {
        Work::Notches => SafetyNotes::for_router(),
        Work::Mortises => SafetyNotes::for_mortises(true),
    }
}

pub(super) fn read(inputs: &Inputs, path: &Path) -> Result<Vec<u8>, Failure> {
    let refuse = |why: String| Failure::input(format!("{}: {why}", path.display()));
    let bytes = inputs.read(path, InputKind::Proved, MOST_BYTES);
    bytes.map_err(|unread| match unread {
        Unread::Io(error) => refuse(error.to_string()),
        Unread::NoFile => refuse("a file of at most 1 GB is expected".into()),
    })
}

/// A DXF file starts with a group code 0 or 999; no program has a bare number on its first line.
fn is_drawing(bytes: &[u8]) -> bool {
    let first = bytes
        .split(|byte| *byte == b'\n')
        .next()
        .unwrap_or_default();
    matches!(first.trim_ascii(), b"0" | b"999")
}

/// Moves that are drawn; more of them make a picture that shows nothing.
const MOST_DRAWN: usize = 20_000;

/// Writes the picture of a proof, if one was asked for: of the lines `first` to `last` of the program.
pub(super) fn draw(
    (asked, inputs): (&ProveArguments, &Inputs),
    bytes: &[u8],
    answer: &ProofAnswer,
    (workpiece, [first, last]): (&Workpiece, [usize; 2]),
) -> Outcome {
    let Some(path) = &asked.picture else {
        return Ok(());
    };
    let mut traces = trace(bytes, last);
    traces.retain(|step| step.line >= first);
    traces.truncate(MOST_DRAWN);
    let drawing = picture(answer, workpiece, &traces);
    let safety = safety_of(answer.work);
    let name = path.display().to_string();
    write(
        inputs,
        [(
            name,
            svg::svg(&drawing, &safety, UnitSystem::Millimetres)?.into_bytes(),
        )],
    )
}

/// A program alone, with nothing known but the stock and the tool.
fn stranger(
    (asked, inputs): (&ProveArguments, &Inputs),
    bytes: &[u8],
) -> Result<ProofAnswer, Failure> {
    let (Some(stock), Some(tool)) = (&asked.stock, &asked.tool) else {
        return Err(Failure::input(
            "nothing to compare with: give a job file, or --stock LENGTH,WIDTH,DEPTH and --tool DIAMETER",
        ));
    };
    let length = |flag: &str, text: &str| {
        let value = parse(text.trim(), Kind::Length).map(|quantity| quantity.value);
        match value {
            Ok(value) if value > 0.0 => Ok(value),
            Ok(_) => Err(Failure::input(format!(
                "{flag} `{text}`: this must be above zero"
            ))),
            Err(error) => Err(Failure::input(format!(
                "{flag} `{text}`: {error}; {}",
                error.hint()
            ))),
        }
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
    let limits = Limits::tool_only(length("--tool", tool)?);
    let report = prove_program(bytes, &workpiece, None, &limits, &Tolerances::default());
    let mut against = String::from("the stock and tool given; no limits of a machine are known");
    let stops = blocks(bytes).filter(|block| block.as_ref().is_ok_and(GcodeBlock::only_stops));
    match stops.count() {
        0 => {}
        count => against.push_str(&format!(
            "; it stops {count} times for a hand, and all that follows is taken as cut into the same stock"
        )),
    }
    let found = Found {
        setup: 1,
        part: None,
        again: false,
        report: &report,
    };
    let answer = answer_of(asked, against, &[found]);
    draw((asked, inputs), bytes, &answer, (&workpiece, report.lines))?;
    Ok(answer)
}

/// A part of a program, or a program that is all of one part, and what its proof found.
pub(super) struct Found<'a> {
    /// Number of the bundle, or of the rail.
    pub(super) setup: usize,
    /// Which part, from 1; none where there is one.
    pub(super) part: Option<usize>,
    /// Whether it has been told of already for another bundle that shares it: its moves and cuts are
    /// the same.
    pub(super) again: bool,
    pub(super) report: &'a ProgramReport,
}

impl Found<'_> {
    fn notches(&self) -> impl Iterator<Item = NotchProof> {
        self.report.notches.iter().map(|notch| NotchProof {
            part: self.part,
            setup: self.setup,
            index: notch.index,
            centre_error_mm: notch.centre_error_mm,
            width_mm: notch.width_mm,
            width_error_mm: notch.width_error_mm,
            depth_error_mm: notch.depth_error_mm,
            ok: notch.ok,
        })
    }

    fn slots(&self) -> impl Iterator<Item = SlotFound> {
        self.report.slots.iter().map(|slot| SlotFound {
            centre_mm: slot.centre_mm,
            y_mm: slot.y_mm,
            width_mm: slot.width_mm,
            depth_mm: slot.depth_mm,
            line: slot.line,
            outline_mm: slot.outline_mm.clone(),
        })
    }

    fn faults(&self) -> impl Iterator<Item = FaultFound> {
        let fault = |code: &str, line, text| FaultFound {
            code: code.to_owned(),
            file: None,
            line,
            text,
        };
        let told = self.report.faults.iter().map(move |found| {
            let text = found.text.text(UnitSystem::Millimetres);
            // A part as a whole has no line of its own.
            match self.part {
                Some(part) if found.line == 0 => {
                    fault(found.code, 0, format!("part {part}: {text}"))
                }
                _ => fault(found.code, found.line, text),
            }
        });
        let more = self.report.more_faults.iter();
        told.chain(
            more.map(move |(code, count)| fault(code, 0, format!("{count} more of the same"))),
        )
    }
}

/// What is wrong with all of them; what is wrong for another bundle in the same way is told once.
fn faults(found: &[Found<'_>]) -> Vec<FaultFound> {
    let mut told: Vec<FaultFound> = Vec::new();
    for part in found {
        if !part.again {
            told.extend(part.faults());
            continue;
        }
        let own: Vec<FaultFound> = (part.faults())
            .filter(|fault| !told.contains(fault))
            .map(|fault| FaultFound {
                text: format!("for bundle {}: {}", part.setup, fault.text),
                ..fault
            })
            .collect();
        told.extend(own);
    }
    told
}

/// What is told of a program.
pub(super) fn answer_of(
    asked: &ProveArguments,
    against: String,
    found: &[Found<'_>],
) -> ProofAnswer {
    let reports = || found.iter().map(|part| part.report);
    let once = || found.iter().filter(|part| !part.again);
    let moved = || once().map(|part| part.report);
    let sum = |of: fn(&ProgramReport) -> f64| moved().map(of).sum();
    let mut faults = faults(found);
    // Where a stop is missing, parts are held against the wrong tasks: that comes first.
    faults.sort_by_key(|fault| fault.code != "set-up-missing");
    let [x_mm, y_mm, z_mm] = [0, 1, 2].map(|axis| {
        let extents = moved().filter_map(|report| report.extent_mm[axis]);
        extents.reduce(|all, own| [all[0].min(own[0]), all[1].max(own[1])])
    });
    ProofAnswer {
        file: asked.file.display().to_string(),
        against,
        work: Work::Notches,
        ok: reports().all(ProgramReport::ok),
        notches: found.iter().flat_map(Found::notches).collect(),
        slots: once().flat_map(Found::slots).collect(),
        motion: Some(MotionFound {
            moves: moved().map(|report| report.moves).sum(),
            cutting_mm: sum(|report| report.cutting_mm),
            rapid_mm: sum(|report| report.rapid_mm),
            x_mm,
            y_mm,
            z_mm,
        }),
        outlines: None,
        faults,
        remarks: Vec::new(),
    }
}
