//! The set-up sheet for a laser.

use super::lapped_blanks::lapped_section;
use super::measured_figures::measured_section;
use super::measured_stock::stock_section;
use super::panel::assembly_block;
use crate::geometry::tolerance::POSITION;
use crate::instructions::laser::{LaserPlan, RowsFound, SheetFile, Unlabelled, Ware};
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm, Rad, decimal};
use float_cmp::ApproxEq;

/// The sheet for a plan.
pub fn laser_sheet(plan: &LaserPlan) -> SetupSheet {
    let mut sections = Vec::from_iter(stock_section(plan.measured_stock.as_ref()));
    sections.extend(measured_section(&plan.measured_figures));
    sections.push(cutting_section(plan));
    sections.extend(parts_sections(plan));
    SetupSheet {
        sections,
        ..blank_sheet(plan)
    }
}

/// The sheet of what cuts a plan, with nothing on it yet.
pub(in crate::sheets) fn blank_sheet(plan: &LaserPlan) -> SetupSheet {
    let kind = if plan.cutter_mm.is_some() {
        "Sheet router"
    } else {
        "Laser"
    };
    SetupSheet {
        part: SheetPart::Laser,
        title: format!("{} - {}", plan.title, plan.machine),
        heading: format!("{kind}: {}", plan.machine),
        safety: plan.safety(),
        sections: Vec::new(),
    }
}

/// What must be known about the parts once they are cut.
fn parts_sections(plan: &LaserPlan) -> Vec<Section> {
    let panel = (!plan.assembly.is_empty()).then(|| panel(plan));
    let mut sections = sections_of_parts(plan);
    sections.extend(panel);
    sections
}

/// The same without the order in which strips are laid, which the bench has.
pub(in crate::sheets) fn sections_of_parts(plan: &LaserPlan) -> Vec<Section> {
    let slants = (!plan.square_cuts.is_empty()).then(|| slants(plan));
    let blanks = (!plan.lapped.is_empty()).then(|| lapped_section(plan));
    let key = [Ware::Strips, Ware::Lapped, Ware::Pieces].map(|ware| key(plan, ware));
    let key = key.into_iter().flatten();
    slants.into_iter().chain(blanks).chain(key).collect()
}

/// How the sheets are cut.
pub(in crate::sheets) fn cutting_section(plan: &LaserPlan) -> Section {
    let table = Table {
        caption: SIZES.into(),
        columns: vec![
            "sheet",
            "file",
            "parts",
            "along",
            "across",
            "used",
            "off-cut along",
            "across",
        ],
        rows: plan.files.iter().map(file_row).collect(),
    };
    Section {
        heading: format!("From sheet: {}", plan.what),
        blocks: vec![
            Block::Figures(cutting_figures(plan)),
            Block::Table(table),
            Block::Steps(steps(plan)),
        ],
    }
}

/// What a drawing's measures are good for.
pub(in crate::sheets) const SIZES: &str = "Along and across the grain: size of the whole drawing. Compare it with what the program at the machine shows; a factor of 25.4 is a unit gone wrong.";

/// A drawing's row: which, how many parts, how large, what is left of the sheet.
pub(in crate::sheets) fn file_row(file: &SheetFile) -> Vec<TableCell> {
    let percent = |share: f64| format!("{} %", decimal(share * 100.0, 0).unwrap_or_default());
    let [x, y] = file.used_mm;
    vec![
        TableCell::Count(file.sheet),
        TableCell::Text(file.path.clone()),
        TableCell::Count(file.parts.len()),
        TableCell::Length(x),
        TableCell::Length(y),
        TableCell::Text(percent(file.utilisation)),
        TableCell::Length(file.offcut_mm[0]),
        TableCell::Length(file.offcut_mm[1]),
    ]
}

/// Sheets, what cuts them, and how they are laid out.
pub(in crate::sheets) fn cutting_figures(plan: &LaserPlan) -> Vec<Figure> {
    let [length, width] = plan.sheet_mm;
    let mut figures = vec![
        Figure::new(
            "sheets",
            plan.files.len(),
            match plan.sheet_thickness_mm {
                Some(thickness) => phrase!(
                    "{} thick, {} along the grain by {}",
                    Mm(thickness),
                    Mm(length),
                    Mm(width)
                ),
                None => phrase!("{} by {}", Mm(length), Mm(width)),
            },
        ),
        match plan.cutter_mm {
            None => Figure::new(
                "kerf",
                Mm(plan.kerf_mm),
                "whole width of the groove; every outline runs half of it outside the part",
            ),
            Some(diameter) => Figure::new(
                "cutter",
                Mm(diameter),
                "over its edges; the drawing shows finished outlines, reliefs for this cutter in every corner where a square part sits",
            ),
        },
    ];
    figures.push(Figure::new(
        "layout",
        Mm(plan.width_taken_mm),
        phrase!(
            "across the grain: the sheets below added up. No layout on {} takes less than {}, no part turned. Fewest sheets: {} by area, {} by the long parts",
            match plan.files.len() {
                1 => "one sheet".to_owned(),
                count => format!("{count} sheets or fewer"),
            },
            Mm(plan.least_width_mm),
            plan.fewest_sheets_by_area,
            plan.fewest_sheets_by_length
        ),
    ));
    figures.extend(plan.rows.map(rows_figure));
    if let Some(stack) = plan.stack {
        figures.push(Figure::new(
            "layers",
            stack.layers,
            phrase!(
                "of every block, fence and stop, glued on each other, all of them drawn: of sheet {} thick or thicker they stand {} high or higher",
                AtLeast(stack.least_sheet_mm),
                AtLeast(stack.height_mm)
            ),
        ));
    }
    let sum = |way: fn(&SheetFile) -> f64| plan.files.iter().map(way).sum::<f64>();
    figures.push(Figure::new(
        "travel",
        Mm(sum(|file| file.travel_mm)),
        phrase!(
            "way from path to path as drawn; {} in the parts' own order",
            Mm(sum(|file| file.travel_before_mm))
        ),
    ));
    if let Some(clearance) = plan.fitted_clearance_mm {
        figures.push(Figure::new(
            "clearance",
            Mm(clearance),
            "notch less strip, from the slot that fitted; the job's own is not used",
        ));
    }
    figures
}

/// Rows of parts of one height, and how few there could be.
fn rows_figure(rows: RowsFound) -> Figure {
    let note = if rows.proved {
        phrase!("of parts beside each other; it is proved that no layout has fewer")
    } else {
        phrase!(
            "of parts beside each other; no layout has fewer than {}, whether one has fewer than these is not known",
            rows.fewest
        )
    };
    Figure::new("rows", rows.taken, note)
}

/// How the strips lie in the panel, and in which order they come into it. A strip is drawn from
/// its datum end at the left, its back face below.
fn panel(plan: &LaserPlan) -> Section {
    let mut blocks = Vec::new();
    blocks.extend(label_words(plan).map(|words| Block::Remarks(vec![words])));
    blocks.push(assembly_block(&plan.assembly));
    Section {
        heading: "Panel".into(),
        blocks,
    }
}

/// Which end and which face a strip's label tells, where it has one.
pub(in crate::sheets) fn label_words(plan: &LaserPlan) -> Option<Phrase> {
    let mut parts = plan.files.iter().flat_map(|file| &file.finished);
    let labelled = !plan.assembly.is_empty() && parts.any(|part| !part.strokes.is_empty());
    labelled.then(|| {
        phrase!(
            "A strip's label stands at its datum end, the left or lower one in the panel; the letters' feet point to its back face, their heads to its front face."
        )
    })
}

/// Which strip or piece is which where labels have no room. Pieces of one number that follow each
/// other along the grain share a row.
fn key(plan: &LaserPlan, ware: Ware) -> Option<Section> {
    let parts = plan.unlabelled.iter().filter(|part| part.ware == ware);
    let parts: Vec<&Unlabelled> = parts.collect();
    if parts.is_empty() {
        return None;
    }
    let table = if ware == Ware::Lapped {
        let runs = parts.chunk_by(|a, b| follows(a, b)).map(run);
        Table {
            caption: "Lower left corners of blanks on their sheet, from the sheet's, each its end A and back face: those of one piece that follow each other along the grain, from the first to the last. Write its number on each beside end A before it leaves the sheet.".into(),
            columns: vec!["sheet", "blank", "count", "along: first", "last", "across"],
            rows: runs.collect(),
        }
    } else if ware == Ware::Pieces {
        let runs = parts.chunk_by(|a, b| follows(a, b)).map(run);
        Table {
            caption: "Lower left corners of pieces on their sheet, from the sheet's: those of one number that follow each other along the grain, from the first to the last. Write its number on each before it leaves the sheet.".into(),
            columns: vec!["sheet", "piece", "count", "along: first", "last", "across"],
            rows: runs.collect(),
        }
    } else {
        let row = |part: &&Unlabelled| {
            vec![
                TableCell::Count(part.sheet),
                TableCell::Text(part.label.clone()),
                TableCell::Length(part.at_mm[0]),
                TableCell::Length(part.at_mm[1]),
            ]
        };
        Table {
            caption: "Lower left corner of each strip on its sheet, from the sheet's. Write its label on it before it leaves the sheet.".into(),
            columns: vec!["sheet", "strip", "along", "across"],
            rows: parts.iter().map(row).collect(),
        }
    };
    let heading = match ware {
        Ware::Pieces => "Pieces without numbers",
        Ware::Lapped => "Blanks without labels",
        _ => "Strips without labels",
    };
    Some(Section {
        heading: heading.into(),
        blocks: vec![Block::Table(table)],
    })
}

/// Whether two parts have one label and lie in one row of a sheet.
fn follows(one: &Unlabelled, next: &Unlabelled) -> bool {
    let level = one.at_mm[1].approx_eq(next.at_mm[1], POSITION);
    one.sheet == next.sheet && one.name == next.name && level
}

/// Pieces that follow each other.
fn run(parts: &[&Unlabelled]) -> Vec<TableCell> {
    let first = parts.first();
    let last = parts.last();
    let text = first.map_or(String::new(), |part| part.name.clone());
    let at = |part: Option<&&Unlabelled>, axis: fn([f64; 2]) -> f64| {
        TableCell::length(part.map(|part| axis(part.at_mm)))
    };
    vec![
        first.map_or(TableCell::Empty, |part| TableCell::Count(part.sheet)),
        TableCell::Text(text),
        TableCell::Count(parts.len()),
        at(first, |[along, _]| along),
        at(last, |[along, _]| along),
        at(first, |[_, across]| across),
    ]
}

/// What stays open beside mates whose slanted notches are cut square, and what to do about it.
fn slants(plan: &LaserPlan) -> Section {
    let rows = plan.square_cuts.iter().map(|cut| {
        vec![
            TableCell::Text(Rad(cut.angle).text()),
            TableCell::Length(cut.notch_mm),
            TableCell::Length(cut.slot_mm),
            TableCell::Length(cut.gap_mm),
            TableCell::Length(cut.floor_gap_mm),
        ]
    });
    let table = Table {
        caption: "Angle: between the two that cross. Notch: as drawn, its clearance included; slot: as cut; both along the strip or piece. Gap: slot less notch. Below: from a mate to the floor, at most, where it shares its slot with one that lies deeper.".into(),
        columns: vec!["angle", "notch", "slot", "gap", "below"],
        rows: rows.collect(),
    };
    let remarks = vec![
        phrase!(
            "A beam, or an upright cutter, cuts square to the side of a strip or a piece, so each slot is as long as its mate's slant needs. The mate touches one end of it at one side and the other end at the other side: that holds it at its place and angle."
        ),
        phrase!(
            "Two wedges stay open beside it, as long as the gap at one side of the strip or piece, nothing at the other. They show on the face that the slot enters only."
        ),
        phrase!(
            "Leave them, or glue in wedges from off-cuts. Where they must not be, saw the notches, or notch strips on a router: a saw and a router follow the slant."
        ),
    ];
    Section {
        heading: "Slanted notches, cut square".into(),
        blocks: vec![Block::Table(table), Block::Remarks(remarks)],
    }
}

/// How a beam is kept on its line, or a cutter beside it.
fn kerf_steps(plan: &LaserPlan) -> Vec<Phrase> {
    let Some(diameter) = plan.cutter_mm else {
        return vec![phrase!(
            "Measure the kerf in this sheet: ten parallel cuts, parts pushed together, gap divided by ten. It must be {}; if it is not, write it into the profile and make the files again.",
            Mm(plan.kerf_mm)
        )];
    };
    let mut steps = vec![
        phrase!(
            "Measure the cutter by a test slot: it must be {} wide; if it is not, write it into the profile and make the files again.",
            Mm(diameter)
        ),
        phrase!(
            "In the program that drives the router: the cutter runs outside of OUTLINES and inside of OPENINGS, on the line of LETTERS; round no corner."
        ),
    ];
    if let Some(width) = plan.letter_line_mm {
        steps.push(phrase!(
            "LETTERS is for a pointed tool whose line is {} wide; take the cutter for the other layers.",
            Mm(width)
        ));
    }
    if let Some(count) = plan.bridges_of_each_part {
        steps.push(phrase!(
            "Leave a bridge at every stroke of BRIDGES, {} a part; nothing is cut along these strokes.",
            count
        ));
    }
    steps
}

/// The steps at the machine, of one kind of parts.
pub(in crate::sheets) fn steps(plan: &LaserPlan) -> Vec<Phrase> {
    let mut steps = Vec::new();
    if let Some(thickness) = plan.sheet_thickness_mm {
        steps.push(phrase!(
            "Measure the sheet's thickness with a caliper: it must be {}, or nothing will fit. Where it is not, put what it measures into the job ({}) and make the files again.",
            Mm(thickness),
            thickness_field(plan)
        ));
    }
    steps.extend(steps_of_measured_sheet(plan));
    steps
}

/// The field of the job that has what the sheet measures.
pub(in crate::sheets) fn thickness_field(plan: &LaserPlan) -> &'static str {
    if plan.wares.contains(&Ware::Pieces) {
        "strip.measured_depth"
    } else {
        "strip.measured_thickness"
    }
}

/// The steps behind the caliper's.
pub(in crate::sheets) fn steps_of_measured_sheet(plan: &LaserPlan) -> Vec<Phrase> {
    let mut steps = kerf_steps(plan);
    steps.extend([
        phrase!("Lay the sheet with its grain along X (the drawing's longer parts)."),
        phrase!("Layers in order: LETTERS (engrave), OPENINGS, OUTLINES (cut through)."),
    ]);
    steps.extend(plan.wares.iter().map(|ware| what_to_do(*ware, plan)));
    if plan
        .wares
        .iter()
        .any(|ware| !matches!(ware, Ware::Strips | Ware::Pieces | Ware::Lapped))
    {
        steps.push(phrase!(
            "Measure the check line in the first part that has one: it must be {} long.",
            Mm(50.0)
        ));
    }
    steps
}

/// What is to be done with parts of a kind.
fn what_to_do(ware: Ware, plan: &LaserPlan) -> Phrase {
    match ware {
        Ware::Strips => {
            phrase!("Cut two strips first, lap them, and check the fit before you cut the rest.")
        }
        Ware::Pieces => {
            phrase!("Cut the pieces of one cell first and try them before you cut the rest.")
        }
        Ware::Lapped => phrase!(
            "Cut two blanks that lap first, push them together, and check the fit before you cut the rest. A drawing of pieces shows the same pieces pared, without their laps: cut them from one of the two drawings only."
        ),
        Ware::Blocks => {
            phrase!("Check each block against a bevel gauge or a drawing that you trust.")
        }
        Ware::Guide => guide_words(),
        Ware::Sticks => stick_words(plan),
        Ware::Inserts => phrase!(
            "Each label says how far a key slot's centre is from the blade's, in {}. Measure it before you trust it, and write what you measured into the sled's profile.",
            plan.marked_in.name()
        ),
        Ware::Comb => phrase!(
            "Push a strip into slot after slot. Write the label of the one that fits, and the thickness of that strip, into the profile: a table [fit] with slot and strip. Every notch of strips, every notch on story sticks and every key slot of base inserts is then drawn that much wider than what goes into it."
        ),
    }
}

/// How a story stick is read.
fn stick_words(plan: &LaserPlan) -> Phrase {
    let labels = plan.stick_labels;
    let mut words = phrase!(
        "The left end is the strips' datum end. Each label says a notch's number and where its centre is, in {} from that end",
        plan.marked_in.name()
    );
    words.append(match labels.faces {
        true => phrase!(
            "; FRONT or BACK is the face that it enters, said where strips have notches in both."
        ),
        false => phrase!("."),
    });
    words.append(match labels.angles {
        true => phrase!(
            " DEG is the slot's angle, said where one is not square: from the strip's direction, datum end to far end, counter-clockwise, seen from the panel's front. The box below a label has the notch's two edges where they are on the strip's centre line; on its long sides a slanting slot's edges lie to one side of them."
        ),
        false => phrase!(" The box below a label has the notch's two edges."),
    });
    words
}

/// How a guide is put together.
pub(in crate::sheets) fn guide_words() -> Phrase {
    phrase!(
        "Glue the fence's layers on the base, flush with its far and left edges, and check with a square that its right end is square to its front edge. Bolts M6 from below, nuts on top: one through the slot and the stop, two through base and block. Screw battens under the base, so that the bolts' heads are clear and one of them goes into the vice. Butt each block against the fence's end, a steel rule along both front edges, and tighten."
    )
}
