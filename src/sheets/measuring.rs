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
const FIELD: &str = "________";

/// The headings of the fields.
const COLUMNS: [&str; IN_LINE + 1] = ["in the file", "1", "2", "3", "4", "5"];

/// A sheet for a machine; `name` is its profile's, `caliper` the longest that the caliper measures, mm.
pub fn measuring_sheet(
    name: &str,
    machine: &Machine,
    caliper: f64,
    safety: SafetyNotes,
    units: UnitSystem,
) -> SetupSheet {
    let mut sections = vec![before_all()];
    for piece in pieces_of(machine) {
        sections.push(piece_section(piece, machine, caliper, units));
    }
    sections.push(after_all(name));
    SetupSheet {
        part: SheetPart::Measuring,
        title: format!("Measure {name}"),
        heading: format!("Measure {name}"),
        safety,
        sections,
    }
}

/// The same as a page or a document of its own.
pub fn measuring_booklet(sheet: SetupSheet) -> Booklet {
    Booklet {
        title: sheet.title.clone(),
        sheets: vec![sheet],
        templates: Vec::new(),
        templates_safety: SafetyNotes::for_assembly(),
    }
}

fn before_all() -> Section {
    let remarks = [
        "Test pieces from the wood and with the blade or cutter of the work that follows. Leave out what you do not need: what has no reading stays as it is.",
        "Close the caliper and set it to zero; read its last digit; no force. Its own error is in no figure: check it now and then against something known.",
        "Several readings, each from a cut of its own: from how they differ follows how far a figure may be off. Two at least.",
    ];
    Section {
        heading: "Before you cut".into(),
        blocks: vec![Block::Remarks(remarks.map(Phrase::from).into())],
    }
}

fn after_all(name: &str) -> Section {
    let steps = vec![
        Phrase::from(format!(
            "Begin a file: lapwright machine measure {name} --begin readings.toml. Type every reading into the list of its name."
        )),
        Phrase::from(format!(
            "Look first: lapwright machine measure {name} --from readings.toml --dry-run. Outliers are named: cut and measure that piece again."
        )),
        Phrase::from(
            "The same without --dry-run writes the figures, with date and uncertainty, into your profile. Shipped profiles stay as they are: lapwright machine new --like NAME -o FILE makes one of your own.",
        ),
    ];
    Section {
        heading: "From the readings to the profile".into(),
        blocks: vec![Block::Steps(steps)],
    }
}

fn piece_section(piece: &TestPiece, machine: &Machine, caliper: f64, units: UnitSystem) -> Section {
    let sentences = piece.cut.iter().chain(piece.caliper);
    let mut rows = Vec::new();
    for beside in (piece.begun)(machine, caliper) {
        let label = beside_words(piece, &beside, units);
        for series in piece.series {
            rows.extend(fields(piece, series.key, &label));
        }
    }
    let table = Table {
        caption: Phrase::default(),
        columns: COLUMNS.to_vec(),
        rows,
    };
    Section {
        heading: piece.title.into(),
        blocks: vec![
            Block::Remarks(sentences.map(|text| Phrase::from(*text)).collect()),
            Block::Table(table),
        ],
    }
}

/// What stands beside the readings: `slot 23.00 mm, steps 6`.
fn beside_words(piece: &TestPiece, beside: &[f64], units: UnitSystem) -> String {
    let words = piece.given.iter().zip(beside).map(|(given, figure)| {
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
    let line = |number: usize| {
        let mut label = format!("{}.{key}", piece.name);
        if !beside.is_empty() {
            label.push_str(&format!(" ({beside})"));
        }
        if number > 0 {
            label = format!("and {} to {}", number * IN_LINE + 1, (number + 1) * IN_LINE);
        }
        let mut cells = vec![TableCell::Text(label)];
        for at in 0..IN_LINE {
            let is_there = number * IN_LINE + at < piece.times;
            cells.push(TableCell::Text(if is_there { FIELD } else { "" }.into()));
        }
        cells
    };
    (0..lines).map(line).collect()
}
