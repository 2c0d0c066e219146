//! What a proof found, as text.

use crate::instructions::proof::{FaultFound, MotionFound, NotchProof, ProofAnswer, SlotFound};
use crate::instructions::sheet::{Block, Figure, Section, Table, TableCell};
use crate::instructions::tool_path::ProgramWork;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, UnitSystem, decimal};
use crate::writing::text;
use std::collections::BTreeMap;

/// The verdict, what is wrong, then the figures, the worst first.
pub(super) fn report(answer: &ProofAnswer, units: UnitSystem) -> String {
    let verdict = if answer.ok { "RIGHT" } else { "NOT RIGHT" };
    let mut sections = vec![Section {
        heading: format!("{verdict} against {}", answer.against),
        blocks: vec![Block::Remarks(fault_lines(answer))],
    }];
    if !answer.notches.is_empty() {
        sections.push(Section {
            heading: match answer.work {
                ProgramWork::Notches => "Notches, the worst first".into(),
                ProgramWork::Mortises => "Mortises, the worst first".into(),
                ProgramWork::Mitres => "Pieces, the worst first".into(),
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
    let mut lines = code_lines(&answer.faults, "");
    if lines.is_empty() {
        lines.push(phrase!("No faults found."));
    }
    lines.extend(code_lines(&answer.remarks, "warning: "));
    lines
}

/// The first few of every code, each behind `lead`, and how many more there are.
fn code_lines(faults: &[FaultFound], lead: &str) -> Vec<Phrase> {
    let line = |fault: &FaultFound| {
        let place = match (&fault.file, fault.line) {
            (Some(file), _) => format!("{file}: "),
            (None, 0) => String::new(),
            (None, line) => format!("line {line}: "),
        };
        phrase!(
            "{}{}{}: {}",
            lead,
            place,
            fault.code.as_str(),
            fault.text.as_str()
        )
    };
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let mut lines = Vec::new();
    for fault in faults {
        let count = counts.entry(&fault.code).or_default();
        if let Some(more) = fault.more {
            *count += more;
            continue;
        }
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
    // Bundles that share a program number its notches each in their own way.
    let shared = (answer.notches.windows(2))
        .any(|pair| pair[0].part == pair[1].part && pair[0].setup != pair[1].setup);
    let off = |mm: Option<f64>| {
        TableCell::Text(mm.map_or("-".into(), |mm| decimal(mm, 4).unwrap_or_default()))
    };
    let rows = notches.iter().map(|notch| {
        let mut row = Vec::from_iter(notch.part.map(TableCell::Count));
        row.extend(shared.then_some(TableCell::Count(notch.setup)));
        let there = |mm: f64| notch.centre_error_mm.map(|_| mm);
        row.extend([
            TableCell::Count(notch.index),
            off(notch.centre_error_mm),
            off(there(notch.width_error_mm)),
            off(there(notch.depth_error_mm)),
            TableCell::Text(
                match (notch.ok, notch.centre_error_mm) {
                    (true, _) => "right",
                    (false, Some(_)) => "WRONG",
                    (false, None) => "MISSING",
                }
                .into(),
            ),
        ]);
        row
    });
    let (caption, name) = match answer.work {
        ProgramWork::Notches => (
            "Off, in mm, where each notch is worst of all strips, both their sides, top and floor: found less wanted.",
            "notch",
        ),
        ProgramWork::Mortises => (
            "Off, in mm: centre and width along X at the widest place, the depth where it is worst: found less wanted.",
            "mortise",
        ),
        ProgramWork::Mitres => (
            "Off, in mm, where each piece is worst: centre and width along X between its facets, the depth of its mitres' floor: found less wanted. Pieces count from the datum end, stick by stick from the front.",
            "piece",
        ),
    };
    let of_parts = answer.notches.iter().any(|notch| notch.part.is_some());
    let columns = [name, "centre", "width", "depth", "verdict"];
    Table {
        caption: caption.into(),
        columns: of_parts
            .then_some("part")
            .into_iter()
            .chain(shared.then_some("bundle"))
            .chain(columns)
            .collect(),
        rows: rows.collect(),
    }
}

fn slot_table(slots: &[SlotFound]) -> Table {
    let rows = slots.iter().map(|slot| {
        vec![
            TableCell::Length(slot.centre_mm[0]),
            TableCell::Length(slot.centre_mm[1]),
            TableCell::Length(slot.width_mm[1]),
            TableCell::Length(slot.depth_mm[1]),
            TableCell::Count(slot.line),
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
        Figure::new("moves", motion.moves, "rapid ones and those at a feed"),
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
