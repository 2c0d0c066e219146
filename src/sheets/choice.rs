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
    let mut rows = Rows {
        options: &choice.options,
        units,
        rows: Vec::new(),
    };
    rows.add_panel();
    rows.add_rack();
    rows.add_parts();
    rows.add_machines();
    let mut columns = vec![""];
    columns.extend(NUMBERS.iter().take(choice.options.len()));
    let table = Table {
        caption,
        columns,
        rows: rows.rows,
    };
    let mut blocks = vec![Block::Table(table)];
    blocks.push(Block::Steps(
        choice
            .options
            .iter()
            .map(|option| option.reason.clone())
            .collect(),
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
        let mut text = phrase!(
            "Panel {}: {} {} cannot do it: ",
            option.option,
            share.station,
            share.machine.clone()
        );
        text.append(why);
        Some(text)
    };
    option.at_machines.iter().filter_map(of_one).collect()
}

/// The table's rows on their way.
struct Rows<'c> {
    options: &'c [PanelOption],
    units: UnitSystem,
    rows: Vec<Vec<TableCell>>,
}

impl Rows<'_> {
    /// Adds what is told of every panel.
    fn add(&mut self, name: &str, cell: impl Fn(&PanelOption) -> String) {
        let mut cells = vec![TableCell::Text(name.to_owned())];
        let told = self.options.iter();
        cells.extend(told.map(|option| TableCell::Text(cell(option))));
        self.rows.push(cells);
    }

    /// The same of lengths: the unit stands beside the name.
    fn add_lengths(&mut self, name: &str, cell: impl Fn(&PanelOption) -> String) {
        let unit = match self.units {
            UnitSystem::Millimetres => "mm",
            UnitSystem::Inches => "in",
        };
        self.add(&format!("{name} {unit}"), cell);
    }

    fn add_panel(&mut self) {
        let units = self.units;
        let both = |lengths| by(lengths, units);
        self.add_lengths("pitch", |option| both(option.pitch_mm));
        self.add("bays", |option| {
            format!("{} by {}", option.columns, option.rows)
        });
        if self.options.iter().any(|option| option.border_mm.is_some()) {
            self.add_lengths("outer bays", |option| {
                option.border_mm.map_or_else(|| "as inner".into(), both)
            });
        }
        self.add("square cells", |option| yes(option.square));
        self.add_lengths("margins", |option| both(option.margin_mm));
        self.add_lengths("finished", |option| {
            option.finished_mm.map_or_else(|| "not known".into(), both)
        });
    }

    fn add_rack(&mut self) {
        let units = self.units;
        if self.options.iter().all(|option| option.rack.is_none()) {
            return;
        }
        self.add_lengths("slot", |option| match &option.rack {
            Some(rack) if rack.reached => Mm(rack.slot_mm).figure(units),
            _ => "none".to_owned(),
        });
        self.add_lengths("its bay", |option| match &option.rack {
            Some(rack) if rack.reached => Mm(rack.bay_mm).figure(units),
            _ => String::new(),
        });
    }

    fn add_parts(&mut self) {
        let has_pieces = |option: &PanelOption| option.pieces > 0 || option.cells_open > 0;
        if self.options.iter().any(has_pieces) {
            self.add("pieces", |option| match option.pieces {
                0 => "none".to_owned(),
                count => format!("{count}, kinds: {}", option.piece_kinds),
            });
            self.add("cells left open", |option| option.cells_open.to_string());
        }
        self.add("strips", |option| {
            format!("{}, {:.1} m", option.strips, option.strip_metres)
        });
    }

    fn add_machines(&mut self) {
        let mut stations: Vec<&'static str> = Vec::new();
        for share in self.options.iter().flat_map(|option| &option.at_machines) {
            if !stations.contains(&share.station) {
                stations.push(share.station);
            }
        }
        for station in stations {
            self.add(station, |option| {
                let mut shares = option.at_machines.iter();
                let share = shares.find(|share| share.station == station);
                share.map_or_else(String::new, |share| share.what.clone())
            });
        }
    }
}

/// Two lengths; one where they read the same.
fn by([x, y]: [f64; 2], units: UnitSystem) -> String {
    let (x, y) = (Mm(x).figure(units), Mm(y).figure(units));
    if x == y { x } else { format!("{x} by {y}") }
}

fn yes(is: bool) -> String {
    if is { "yes" } else { "no" }.to_owned()
}
