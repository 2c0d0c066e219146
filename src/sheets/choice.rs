//! Panels to choose from, side by side.

use crate::geometry::SAME_POSITION_MM;
use crate::instructions::choice::{Choice, MachineShare, PanelOption};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, UnitSystem};

/// Headings: the options' numbers.
const NUMBERS: [&str; 5] = ["1", "2", "3", "4", "5"];

/// What there is to choose from: a table with a column for each panel, and the reasons.
pub fn choice_sections(choice: &Choice, units: UnitSystem) -> Vec<Section> {
    let [width, height] = choice.inside_mm;
    let mut caption = phrase!(
        "Pitch, bays and cells: along x (between uprights) by along y. Margins: from the edge of an inside {} by {} to the outermost centre line, left and right by below and above.",
        Mm(width),
        Mm(height)
    );
    if let Some([width, height]) = one_size(&choice.options) {
        caption.append(phrase!(
            " All of them come out {} by {} over all.",
            Mm(width),
            Mm(height)
        ));
    }
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
    if (choice.options.iter().flat_map(|option| &option.at_machines))
        .any(|share| share.time_s.is_some())
    {
        let rough = "The router's minutes are its plan's estimate, without clamping; no plan has the time at saw or bench.";
        blocks.push(Block::Remarks(vec![rough.into()]));
    }
    let mut remarks: Vec<Phrase> = choice.options.iter().map(told_why).collect();
    remarks.extend(lacking(choice));
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

/// The size over all, where it is the same for all of them.
fn one_size(options: &[PanelOption]) -> Option<[f64; 2]> {
    let size = options.first()?.finished_mm?;
    let same = |option: &PanelOption| {
        option.finished_mm.is_some_and(|other| {
            let pairs = size.into_iter().zip(other);
            pairs
                .into_iter()
                .all(|(a, b)| (a - b).abs() < SAME_POSITION_MM)
        })
    };
    options.iter().all(same).then_some(size)
}

fn told_why(option: &PanelOption) -> Phrase {
    let mut text = phrase!("{}: ", option.option);
    text.append(option.reason.clone());
    text
}

/// What machines cannot make, each machine once, with the reason that it has at the first of them.
fn lacking(choice: &Choice) -> Vec<Phrase> {
    let mut told: Vec<(&MachineShare, Vec<String>)> = Vec::new();
    for option in &choice.options {
        for share in option.lacking() {
            let number = option.option.to_string();
            match told
                .iter_mut()
                .find(|(first, _)| first.station == share.station)
            {
                Some((_, numbers)) => numbers.push(number),
                None => told.push((share, vec![number])),
            }
        }
    }
    let in_words = told.into_iter().map(|(share, numbers)| {
        let mut text = phrase!(
            "The {} {} cannot make {}: ",
            share.station,
            share.machine.clone(),
            numbers.join(", ")
        );
        text.append(share.cannot.clone().unwrap_or_default());
        text
    });
    in_words.collect()
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
        if one_size(self.options).is_none() {
            self.add_lengths("finished", |option| {
                option.finished_mm.map_or_else(|| "not known".into(), both)
            });
        }
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
            self.add("pieces", |option| option.pieces.to_string());
            self.add("their kinds", |option| option.piece_kinds.to_string());
        }
        if self.options.iter().any(|option| option.cells_open > 0) {
            self.add("cells open", |option| option.cells_open.to_string());
        }
        self.add("strips", |option| option.strips.to_string());
        self.add("their metres", |option| {
            format!("{:.1}", option.strip_metres)
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
            let share = |option: &PanelOption| {
                let mut shares = option.at_machines.iter();
                shares.find(|share| share.station == station).cloned()
            };
            self.add(counted_at(station), |option| match share(option) {
                Some(share) if share.cannot.is_some() => "cannot".to_owned(),
                Some(share) => share.set_ups.to_string(),
                None => String::new(),
            });
            let any = |of: fn(&MachineShare) -> bool| {
                let mut shares = self.options.iter().filter_map(share);
                shares.any(|share| of(&share))
            };
            if any(|share| share.steps_over_key.is_some()) {
                self.add("over the key", |option| {
                    let steps =
                        share(option).and_then(|share| share.steps_over_key.zip(share.steps));
                    steps.map_or_else(String::new, |(keyed, all)| format!("{keyed} of {all}"))
                });
            }
            if any(|share| share.time_s.is_some()) {
                self.add("roughly min", |option| {
                    let time = share(option).and_then(|share| share.time_s);
                    time.map_or_else(String::new, |time| format!("{:.0}", (time / 60.0).ceil()))
                });
            }
        }
    }
}

/// What is counted at a station, in the fewest words.
fn counted_at(station: &str) -> &'static str {
    match station {
        "sled" => "sled settings",
        "laser" => "laser sheets",
        "router" => "router set-ups",
        _ => "guide blocks",
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
