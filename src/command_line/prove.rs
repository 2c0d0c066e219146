//! `lapwright prove`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, ProveArguments};
use super::files::write;
use super::proof_picture::picture;
use super::{inputs, prove_program as own};
use crate::instructions::proof::{
    FaultFound, MotionFound, NotchProof, OutlinesFound, ProofAnswer, SlotFound,
};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Cell, Figure, Section, Table};
use crate::instructions::tool_path::Work;
use crate::lattice::Lattice;
use crate::machines::{Laser, Machine, MachineKind};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Kind, Mm, UnitSystem, decimal, parse};
use crate::verification::inputs::{Limits, Tolerances, Workpiece};
use crate::verification::outline::{prove_drawings, prove_routed, strips_wanted};
use crate::verification::slots::FoundSlot;
use crate::verification::trace::trace;
use crate::verification::{ProgramReport, prove_program};
use crate::writing::{json, svg, text};
use std::collections::BTreeMap;
use std::path::Path;

/// Larger files than this are not proved.
const MOST_BYTES: u64 = 1 << 30;

pub(super) fn run(asked: &ProveArguments, shown: Shown) -> Outcome {
    let bytes = read(&asked.file)?;
    let drawing = is_drawing(&bytes);
    let mut told = Warnings::default();
    let job = asked
        .job
        .as_ref()
        .map(|path| inputs::job(path, shown))
        .transpose()?;
    let (answer, safety) = match (&job, asked.job.as_deref()) {
        (Some(job), Some(path)) => {
            told.add(&job.source, job.warnings.clone());
            let kind = if drawing {
                MachineKind::Laser
            } else {
                MachineKind::Router
            };
            let flag = asked.machine.as_deref();
            let chosen = inputs::machine_of(kind, flag, Some((job, path)), None, shown)?;
            let lattice = Lattice::of(&job.panel);
            match &chosen.profile.machine {
                Machine::Laser(laser) => (
                    outlines(asked, bytes, &lattice, laser)?,
                    SafetyNotes::for_laser(),
                ),
                Machine::SheetRouter(router) => (
                    outlines(asked, bytes, &lattice, router)?,
                    SafetyNotes::for_sheet_router(),
                ),
                Machine::Router(router) => (
                    own::program(asked, &bytes, (&lattice, job.frame.as_ref()), router)?,
                    SafetyNotes::for_router(),
                ),
                other => return Err(inputs::wrong_kind(other)),
            }
        }
        _ if drawing => {
            return Err(Failure::input(
                "a drawing is compared with a job: give the job file as well",
            ));
        }
        _ => (stranger(asked, &bytes)?, SafetyNotes::for_router()),
    };
    told.show(shown);
    match shown.format {
        Format::Text => print(&report(&answer, shown.units))?,
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

fn read(path: &Path) -> Result<Vec<u8>, Failure> {
    let refuse = |why: String| Failure::input(format!("{}: {why}", path.display()));
    let about = std::fs::metadata(path).map_err(|error| refuse(error.to_string()))?;
    if !about.is_file() || about.len() > MOST_BYTES {
        return Err(refuse("a file of at most 1 GB is expected".into()));
    }
    std::fs::read(path).map_err(|error| refuse(error.to_string()))
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

/// Writes the picture of a program's proof, if one was asked for.
pub(super) fn draw(
    asked: &ProveArguments,
    bytes: &[u8],
    answer: &ProofAnswer,
    workpiece: &Workpiece,
) -> Outcome {
    let Some(path) = &asked.picture else {
        return Ok(());
    };
    let drawing = picture(answer, workpiece, &trace(bytes, MOST_DRAWN));
    let inputs = std::iter::once(asked.file.clone())
        .chain(asked.job.clone())
        .collect();
    let name = path.display().to_string();
    write(
        inputs,
        &[(
            name,
            svg::svg(&drawing, UnitSystem::Millimetres)?.into_bytes(),
        )],
    )
}

/// A program alone, with nothing known but the stock and the tool.
fn stranger(asked: &ProveArguments, bytes: &[u8]) -> Result<ProofAnswer, Failure> {
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
    let against = "the stock and tool given; no limits of a machine are known";
    let answer = answer_of(asked, against.into(), 1, &report);
    draw(asked, bytes, &answer, &workpiece)?;
    Ok(answer)
}

pub(super) fn answer_of(
    asked: &ProveArguments,
    against: String,
    setup: usize,
    report: &ProgramReport,
) -> ProofAnswer {
    let notch = |notch: &crate::verification::comparison::NotchReport| NotchProof {
        setup,
        index: notch.index,
        centre_error_mm: notch.centre_error_mm,
        width_mm: notch.width_mm,
        width_error_mm: notch.width_error_mm,
        depth_error_mm: notch.depth_error_mm,
        ok: notch.ok,
    };
    let slot = |slot: &FoundSlot| SlotFound {
        centre_mm: slot.centre_mm,
        y_mm: slot.y_mm,
        width_mm: slot.width_mm,
        depth_mm: slot.depth_mm,
        line: slot.line,
        outline_mm: slot.outline_mm.clone(),
    };
    let fault = |code: &str, line, text| FaultFound {
        code: code.to_owned(),
        file: None,
        line,
        text,
    };
    let told = report.faults.iter().map(|found| {
        fault(
            found.code,
            found.line,
            found.text.text(UnitSystem::Millimetres),
        )
    });
    let more = report
        .more_faults
        .iter()
        .map(|(code, count)| fault(code, 0, format!("{count} more of the same")));
    let [x_mm, y_mm, z_mm] = report.extent_mm;
    ProofAnswer {
        file: asked.file.display().to_string(),
        against,
        work: Work::Notches,
        ok: report.ok(),
        notches: report.notches.iter().map(notch).collect(),
        slots: report.slots.iter().map(slot).collect(),
        motion: Some(MotionFound {
            moves: report.moves,
            cutting_mm: report.cutting_mm,
            rapid_mm: report.rapid_mm,
            x_mm,
            y_mm,
            z_mm,
        }),
        outlines: None,
        faults: told.chain(more).collect(),
    }
}

/// Drawings of all sheets together.
fn outlines(
    asked: &ProveArguments,
    first: Vec<u8>,
    lattice: &Lattice,
    laser: &Laser,
) -> Result<ProofAnswer, Failure> {
    let mut names = vec![asked.file.display().to_string()];
    let mut sheets = vec![first];
    for sheet in &asked.sheet {
        names.push(sheet.display().to_string());
        sheets.push(read(sheet)?);
    }
    let bytes: Vec<&[u8]> = sheets.iter().map(Vec::as_slice).collect();
    let wanted = strips_wanted(lattice, laser.fit);
    let sheet_mm = (laser.sheet.length, laser.sheet.width);
    let report = match &laser.cutter {
        None => prove_drawings(&bytes, &wanted, laser.kerf, sheet_mm),
        Some(cutter) => prove_routed(&bytes, &wanted, cutter, sheet_mm),
    };
    let fault =
        |file: Option<&String>, fault: &crate::verification::outline::OutlineFault| FaultFound {
            code: fault.code.to_owned(),
            file: file.cloned(),
            line: 0,
            text: fault.text.clone(),
        };
    let of_files = names.iter().zip(&report.files).flat_map(|(name, file)| {
        file.faults
            .iter()
            .map(move |found| fault(Some(name), found))
    });
    let of_all = report.faults.iter().map(|found| fault(None, found));
    Ok(ProofAnswer {
        file: names.join(", "),
        against: format!("all {} strips of the job", lattice.strips.len()),
        work: Work::Notches,
        ok: report.ok(),
        notches: Vec::new(),
        slots: Vec::new(),
        motion: None,
        outlines: Some(OutlinesFound {
            contours: report.files.iter().map(|file| file.contours).sum(),
            worst_error_mm: report
                .files
                .iter()
                .map(|file| file.worst_error_mm)
                .fold(0.0, f64::max),
        }),
        faults: of_all.chain(of_files).collect(),
    })
}

/// The verdict, what is wrong, then the figures, the worst first.
fn report(answer: &ProofAnswer, units: UnitSystem) -> String {
    let verdict = if answer.ok { "RIGHT" } else { "NOT RIGHT" };
    let mut sections = vec![Section {
        heading: format!("{verdict} against {}", answer.against),
        blocks: vec![Block::Remarks(fault_lines(answer))],
    }];
    if !answer.notches.is_empty() {
        sections.push(Section {
            heading: match answer.work {
                Work::Notches => "Notches, the worst first".into(),
                Work::Mortises => "Mortises, the worst first".into(),
            },
            blocks: vec![Block::Table(notch_table(answer))],
        });
    } else if !answer.slots.is_empty() {
        sections.push(Section {
            heading: "Cuts in the stock".into(),
            blocks: vec![Block::Table(slot_table(&answer.slots))],
        });
    }
    if let Some(motion) = &answer.motion {
        sections.push(Section {
            heading: "Moves".into(),
            blocks: vec![Block::Figures(motion_figures(motion))],
        });
    }
    if let Some(outlines) = &answer.outlines {
        let figures = vec![
            Figure::new(
                "contours",
                outlines.contours,
                "outlines and label strokes read",
            ),
            Figure::new(
                "worst corner",
                format!("{} mm", micrometres(outlines.worst_error_mm)),
                "off where it should be, kerf taken off",
            ),
        ];
        sections.push(Section {
            heading: "Outlines".into(),
            blocks: vec![Block::Figures(figures)],
        });
    }
    format!("{}\n{}", answer.file, text::sections(&sections, units))
}

fn micrometres(mm: f64) -> String {
    decimal(mm, 6).unwrap_or_else(|_| "(missing)".into())
}

fn fault_lines(answer: &ProofAnswer) -> Vec<Phrase> {
    if answer.faults.is_empty() {
        return vec![phrase!("No faults found.")];
    }
    let line = |fault: &FaultFound| {
        let place = match (&fault.file, fault.line) {
            (Some(file), _) => format!("{file}: "),
            (None, 0) => String::new(),
            (None, line) => format!("line {line}: "),
        };
        phrase!("{}{}: {}", place, fault.code.as_str(), fault.text.as_str())
    };
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let mut lines = Vec::new();
    for fault in &answer.faults {
        let count = counts.entry(&fault.code).or_default();
        *count += 1;
        if *count <= MOST_OF_A_CODE {
            lines.push(line(fault));
        }
    }
    for (code, count) in counts
        .into_iter()
        .filter(|(_, count)| *count > MOST_OF_A_CODE)
    {
        lines.push(phrase!("and {} more of {}", count - MOST_OF_A_CODE, code));
    }
    lines
}

/// Faults of one code that are told to people one by one; a program gets all of them.
const MOST_OF_A_CODE: usize = 5;

fn notch_table(answer: &ProofAnswer) -> Table {
    let mut notches: Vec<&NotchProof> = answer.notches.iter().collect();
    // Differences below what is printed keep the notches in their order.
    let printed = |notch: &NotchProof| (notch.worst() * 1e4).round();
    notches.sort_by(|a, b| printed(b).total_cmp(&printed(a)));
    let off = |mm: Option<f64>| {
        Cell::Text(mm.map_or("missing".into(), |mm| decimal(mm, 4).unwrap_or_default()))
    };
    let rows = notches.iter().map(|notch| {
        vec![
            Cell::Count(notch.index),
            off(notch.centre_error_mm),
            off(Some(notch.width_error_mm)),
            off(Some(notch.depth_error_mm)),
            Cell::Text(if notch.ok { "right" } else { "WRONG" }.into()),
        ]
    });
    let (caption, name) = match answer.work {
        Work::Notches => (
            "Off, in mm, where each notch is worst of all strips, both their sides, top and floor: found less wanted.",
            "notch",
        ),
        Work::Mortises => (
            "Off, in mm: centre and width along X at the widest place, the depth where it is worst: found less wanted.",
            "mortise",
        ),
    };
    Table {
        caption: caption.into(),
        columns: vec![name, "centre", "width", "depth", "verdict"],
        rows: rows.collect(),
    }
}

fn slot_table(slots: &[SlotFound]) -> Table {
    let rows = slots.iter().map(|slot| {
        vec![
            Cell::Length(slot.centre_mm[0]),
            Cell::Length(slot.centre_mm[1]),
            Cell::Length(slot.width_mm[1]),
            Cell::Length(slot.depth_mm[1]),
            Cell::Count(slot.line),
        ]
    });
    Table {
        caption: "Centre: along X from the stock's datum end, at the front and at the back of the cut. Width along X, depth from the top of the stock: the greatest. Line: of the program that cut it first.".into(),
        columns: vec!["centre front", "centre back", "width", "depth", "line"],
        rows: rows.collect(),
    }
}

fn motion_figures(motion: &MotionFound) -> Vec<Figure> {
    let metres = |mm: f64| format!("{} m", decimal(mm / 1000.0, 2).unwrap_or_default());
    let mut figures = vec![
        Figure::new("moves", motion.moves, "all of the program"),
        Figure::new("at a feed", metres(motion.cutting_mm), "way of the tool"),
        Figure::new("rapid", metres(motion.rapid_mm), "way of the tool"),
    ];
    for (axis, extent) in [("X", motion.x_mm), ("Y", motion.y_mm), ("Z", motion.z_mm)] {
        if let Some([low, high]) = extent {
            figures.push(Figure::new(
                axis,
                Mm(low),
                phrase!("to {}, of the tool's end, from program zero", Mm(high)),
            ));
        }
    }
    figures
}
