//! The measuring sheet: which test pieces to cut, where to put the caliper, and fields for what it says.

use crate::instructions::booklet::Booklet;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::machines::Machine;
use crate::measuring::{Holds, TestPiece, pieces_of};
use crate::phrase::Phrase;
use crate::units::{Brief, UnitSystem};

/// Readings in a line.
const IN_LINE: usize = 5;

/// Where somebody writes.
const FIELD: &str = "_______";

/// The headings of the fields.
const COLUMNS: [&str; IN_LINE + 2] = ["list", "beside", "1", "2", "3", "4", "5"];

/// A sheet for a machine; `name` is its profile's, `caliper` the longest that the caliper measures, mm.
pub fn measuring_sheet(
    name: &str,
    machine: &Machine,
    caliper: f64,
    safety: SafetyNotes,
    units: UnitSystem,
) -> SetupSheet {
    let pieces = pieces_of(machine);
    SetupSheet {
        part: SheetPart::Measuring,
        title: format!("Measure {name}"),
        heading: format!("Measure {name}"),
        safety,
        sections: [
            vec![before_all()],
            pieces_sections(&pieces),
            vec![readings_section(name, &pieces, machine, caliper, units)],
        ]
        .concat(),
    }
}

/// The same as a page or a document of its own.
pub fn measuring_booklet(sheet: SetupSheet) -> Booklet {
    Booklet {
        front: Vec::new(),
        title: sheet.title.clone(),
        sheets: vec![sheet],
        templates: Vec::new(),
        templates_safety: SafetyNotes::for_assembly(),
    }
}

fn before_all() -> Section {
    let remarks = [
        "Cut from the wood and with the blade or cutter of the work to come; what has no reading stays as it is. A cut of its own for every reading, two at least: how they differ says how far a figure may be off. Caliper closed and set to zero, no force; its own error is in no figure.",
    ];
    Section {
        heading: "Before you cut".into(),
        blocks: vec![Block::Remarks(remarks.map(Phrase::from).into())],
    }
}

/// As many test pieces as stand in one section: pages are broken between sections.
const IN_SECTION: usize = 8;

/// A sentence or two for each kind of test piece, under the name of its lists.
fn pieces_sections(pieces: &[&TestPiece]) -> Vec<Section> {
    let sections = pieces.chunks(IN_SECTION).enumerate();
    let section = |(at, pieces): (usize, &[&TestPiece])| Section {
        heading: if at == 0 {
            "Test pieces".into()
        } else {
            "More test pieces".into()
        },
        blocks: vec![Block::Ready(
            pieces.iter().map(|piece| words(piece)).collect(),
        )],
    };
    sections.map(section).collect()
}

fn words(piece: &TestPiece) -> Phrase {
    let TestPiece {
        name,
        title,
        cut,
        caliper,
        ..
    } = piece;
    Phrase::from(format!("{name} - {title}. {cut} {caliper}"))
}

/// One table for all readings, under the names of the file that they are typed into.
fn readings_section(
    name: &str,
    pieces: &[&TestPiece],
    machine: &Machine,
    caliper: f64,
    units: UnitSystem,
) -> Section {
    let mut rows = Vec::new();
    for piece in pieces {
        for beside in (piece.begun)(machine, caliper) {
            let beside = beside_words(piece, &beside, units);
            for series in piece.series {
                rows.extend(fields(piece, series.key, &beside));
            }
        }
    }
    let table = Table {
        caption: format!(
            "Beside: how it is cut; where you cut it otherwise, write that here and into the file. lapwright machine measure {name} --begin readings.toml begins the file: type the readings into its lists. Then the same with --from readings.toml --dry-run tells what follows and names outliers: measure those pieces again. Without --dry-run it goes into the profile."
        )
        .into(),
        columns: COLUMNS.to_vec(),
        rows,
    };
    Section {
        heading: "Readings".into(),
        blocks: vec![Block::Table(table)],
    }
}

/// What stands beside the readings: `slot 23.00 mm, steps 6`.
fn beside_words(piece: &TestPiece, beside: &[Option<f64>], units: UnitSystem) -> String {
    let words = piece.given.iter().zip(beside).map(|(given, figure)| {
        let Some(figure) = figure else {
            return format!("{} {FIELD}", given.key);
        };
        let value = match given.holds {
            Holds::Length | Holds::Signed => Brief(*figure).text(units),
            Holds::Count(..) => format!("{figure}"),
            Holds::Word(_) => given.holds.word(*figure).unwrap_or_default().to_owned(),
        };
        format!("{} {value}", given.key)
    });
    words.collect::<Vec<_>>().join(", ")
}

/// Lines of fields for one list.
fn fields(piece: &TestPiece, key: &str, beside: &str) -> Vec<Vec<TableCell>> {
    let lines = piece.times.div_ceil(IN_LINE);
    let line = |at: usize| {
        let first = at * IN_LINE;
        let list = match at {
            0 => format!("{}.{key}", piece.name),
            _ => format!("from the {}th on", first + 1),
        };
        let mut cells = vec![TableCell::Text(list), TableCell::Text(beside.to_owned())];
        for place in first..first + IN_LINE {
            let field = if place < piece.times { FIELD } else { "" };
            cells.push(TableCell::Text(field.into()));
        }
        cells
    };
    (0..lines).map(line).collect()
}
