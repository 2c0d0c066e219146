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
const COLUMNS: [&str; IN_LINE + 3] = ["step", "list", "beside", "1", "2", "3", "4", "5"];

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
        sections: vec![
            before_all(),
            pieces_section(&pieces),
            readings_section(&pieces, machine, caliper, units),
            after_all(name),
        ],
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
        "Cut from the wood and with the blade or cutter of the work that follows. Leave out what you do not need: what has no reading stays as it is. Every reading is from a cut of its own, two at least: from how they differ follows how far a figure may be off.",
        "Close the caliper and set it to zero; no force. Its own error is in no figure: check it now and then against something known.",
    ];
    Section {
        heading: "Before you cut".into(),
        blocks: vec![Block::Remarks(remarks.map(Phrase::from).into())],
    }
}

/// A step for each kind of test piece.
fn pieces_section(pieces: &[&TestPiece]) -> Section {
    let steps = pieces.iter().map(|piece| {
        let TestPiece {
            title,
            cut,
            caliper,
            ..
        } = piece;
        Phrase::from(format!("{title}. {cut} {caliper}"))
    });
    Section {
        heading: "Test pieces".into(),
        blocks: vec![Block::Steps(steps.collect())],
    }
}

/// One table for all readings, under the names of the file that they are typed into.
fn readings_section(
    pieces: &[&TestPiece],
    machine: &Machine,
    caliper: f64,
    units: UnitSystem,
) -> Section {
    let mut rows = Vec::new();
    for (number, piece) in (1..).zip(pieces) {
        for beside in (piece.begun)(machine, caliper) {
            let beside = beside_words(piece, &beside, units);
            for series in piece.series {
                rows.extend(fields(number, piece, series.key, &beside));
            }
        }
    }
    let table = Table {
        caption: "Step: the test piece, as above. List: what the file of readings calls it. Beside: how it was cut; where you cut it otherwise, write that here and into the file.".into(),
        columns: COLUMNS.to_vec(),
        rows,
    };
    Section {
        heading: "Readings".into(),
        blocks: vec![Block::Table(table)],
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
fn fields(number: usize, piece: &TestPiece, key: &str, beside: &str) -> Vec<Vec<TableCell>> {
    let lines = piece.times.div_ceil(IN_LINE);
    let line = |at: usize| {
        let first = at * IN_LINE;
        let list = match at {
            0 => format!("{}.{key}", piece.name),
            _ => format!("from the {}th on", first + 1),
        };
        let mut cells = vec![
            TableCell::Count(number),
            TableCell::Text(list),
            TableCell::Text(beside.to_owned()),
        ];
        for place in first..first + IN_LINE {
            let field = if place < piece.times { FIELD } else { "" };
            cells.push(TableCell::Text(field.into()));
        }
        cells
    };
    (0..lines).map(line).collect()
}
