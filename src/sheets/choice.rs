//! Panels to choose from, side by side.

use crate::instructions::choice::{Choice, MachineShare, PanelOption};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, UnitSystem};

/// Headings: the options' numbers.
const NUMBERS: [&str; 6] = ["1", "2", "3", "4", "5", "6"];

/// What there is to choose from: a table with a column for each panel, and the reasons.
pub fn choice_sections(choice: &Choice, units: UnitSystem) -> Vec<Section> {
    let [width, height] = choice.inside_mm;
    let mut caption = phrase!(
        "Pitch, bays and cells: along x (between uprights) by along y. Margins: from the edge of an inside {} by {} to the outermost centre line, left and right by below and above.",
        Mm(width),
        Mm(height)
    );
    if choice.options.iter().any(|option| option.rack.is_some()) {
        caption.append(phrase!(
            " Slot: of the rack, by name; its bay: centre of the key to centre of the kerf, as measured."
        ));
    }
    let mut columns = vec![""];
    columns.extend(NUMBERS.iter().take(choice.options.len()));
    let table = Table {
        caption,
        columns,
        rows: rows(choice, units),
    };
    let mut blocks = vec![Block::Table(table)];
    blocks.push(Block::Steps(
        choice.options.iter().map(|option| option.reason.clone()).collect(),
    ));
    let mut remarks: Vec<Phrase> = choice.options.iter().flat_map(lacking).collect();
    let order: Vec<String> = (1..)
        .zip(&choice.ranked_by)
        .map(|(number, by)| format!("({number}) {by}"))
        .collect();
    remarks.push(phrase!("Best first, by: {}.", order.join("; ")));
    blocks.push(Block::Remarks(remarks));
    vec![Section {
        heading: "Panels to choose from".into(),
        blocks,
    }]
}

fn lacking(option: &PanelOption) -> Vec<Phrase> {
    let of_one = |share: &MachineShare| {
        let why = share.cannot.clone()?;
        let mut text = phrase!("Panel {}: {} {} cannot do it: ", option.option, share.station, share.machine.clone());
        text.append(why);
        Some(text)
    };
    option.at_machines.iter().filter_map(of_one).collect()
}

/// A row of the table: what it tells, and how.
type Row<'a> = (String, &'a dyn Fn(&PanelOption) -> String);

fn rows(choice: &Choice, units: UnitSystem) -> Vec<Vec<TableCell>> {
    let unit = match units {
        UnitSystem::Millimetres => "mm",
        UnitSystem::Inches => "in",
    };
    let length = |mm: f64| Mm(mm).figure(units);
    let both = |[x, y]: [f64; 2]| {
        let (x, y) = (length(x), length(y));
        if x == y { x } else { format!("{x} by {y}") }
    };
    let pieces = |option: &PanelOption| match option.pieces {
        0 => "none".to_owned(),
        count => format!("{count} in {} kinds", option.piece_kinds),
    };
    let mut rows: Vec<Row<'_>> = vec![
        (format!("pitch {unit}"), &|option| both(option.pitch_mm)),
        ("bays".into(), &|option| format!("{} by {}", option.columns, option.rows)),
        (format!("outer bays {unit}"), &|option| {
            option.border_mm.map_or_else(|| "as inner".into(), both)
        }),
        ("square cells".into(), &|option| yes(option.square)),
        (format!("margins {unit}"), &|option| both(option.margin_mm)),
        (format!("finished {unit}"), &|option| {
            let size = option.finished_mm;
            size.map_or_else(|| "not known".into(), |[x, y]| format!("{} by {}", length(x), length(y)))
        }),
        (format!("slot {unit}"), &|option| {
            let rack = option.rack.as_ref();
            rack.map_or_else(String::new, |rack| match rack.reached {
                true => length(rack.slot_mm),
                false => "none".into(),
            })
        }),
        (format!("its bay {unit}"), &|option| {
            let rack = option.rack.as_ref().filter(|rack| rack.reached);
            rack.map_or_else(String::new, |rack| length(rack.bay_mm))
        }),
        ("pieces".into(), &pieces),
        ("cells open".into(), &|option| option.cells_open.to_string()),
        ("strips".into(), &|option| option.strips.to_string()),
        ("metres of strip".into(), &|option| format!("{:.1}", option.strip_metres)),
    ];
    let any = |of: &dyn Fn(&PanelOption) -> bool| choice.options.iter().any(of);
    let has_rack = any(&|option| option.rack.is_some());
    let has_border = any(&|option| option.border_mm.is_some());
    let has_pieces = any(&|option| option.pieces > 0 || option.cells_open > 0);
    rows.retain(|(name, _)| match name.split(' ').next() {
        Some("slot" | "its") => has_rack,
        Some("outer") => has_border,
        Some("pieces" | "cells") => has_pieces,
        _ => true,
    });
    let mut table: Vec<Vec<TableCell>> = rows
        .iter()
        .map(|(name, cell)| line(choice, name, *cell))
        .collect();
    let machines = choice.options.iter().flat_map(|option| &option.at_machines);
    let mut seen = Vec::new();
    for share in machines {
        if seen.contains(&share.station) {
            continue;
        }
        seen.push(share.station);
        table.push(line(choice, share.station, &|option| {
            let mut shares = option.at_machines.iter();
            let found = shares.find(|other| other.station == share.station);
            found.map_or_else(String::new, |share| share.what.clone())
        }));
    }
    table
}

fn yes(is: bool) -> String {
    if is { "yes" } else { "no" }.to_owned()
}

fn line(
    choice: &Choice,
    name: &str,
    cell: &dyn Fn(&PanelOption) -> String,
) -> Vec<TableCell> {
    let mut cells = vec![TableCell::Text(name.to_owned())];
    cells.extend(choice.options.iter().map(|option| TableCell::Text(cell(option))));
    cells
}
