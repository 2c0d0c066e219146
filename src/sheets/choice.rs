//! Panels to choose from, side by side.

use crate::geometry::SAME_POSITION_MM;
use crate::instructions::choice::{Choice, MachineShare, PanelOption};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad, UnitSystem};

/// Headings: the options' numbers.
const NUMBERS: [&str; 5] = ["1", "2", "3", "4", "5"];

/// What there is to choose from: a table with a column for each panel, and the reasons.
pub fn choice_sections(choice: &Choice, units: UnitSystem) -> Vec<Section> {
    let [width, height] = choice.inside_mm;
    let mut caption = if is_slanted(choice) {
        phrase!(
            "Pitch: between neighbouring centre lines, square to them. Whole cells: columns side by side by rows; what they leave over and margins: left and right by below and above. Margins: from the edge of an inside {} by {} to the edge of what the cells fill.",
            Mm(width),
            Mm(height)
        )
    } else {
        phrase!(
            "Pitch, bays and cells: along x (between uprights) by along y. Margins: from the edge of an inside {} by {} to the outermost centre line, left and right by below and above.",
            Mm(width),
            Mm(height)
        )
    };
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
    blocks.push(Block::Remarks(rough_times(choice)));
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

fn is_slanted(choice: &Choice) -> bool {
    choice.options.iter().any(|option| option.slanted.is_some())
}

/// What the minutes stand for, and whose rates they are.
fn rough_times(choice: &Choice) -> Vec<Phrase> {
    let at = |station: &str| {
        let mut shares = choice.options.iter().flat_map(|option| &option.at_machines);
        shares.any(|share| share.station == station && share.time_s.is_some())
    };
    let mut told = Vec::new();
    if at("router") {
        told.push("The router's minutes are its plans' estimate, without clamping.".into());
    }
    let saw = at("sled");
    let rate = |name: &str| {
        let own = choice.rates.iter().find(|rate| rate.name == name);
        own.map_or_else(String::new, |rate| minutes_or_seconds(rate.seconds))
    };
    let mut text = String::from("Rough minutes by hand are counts times rates, without breaks:");
    if saw {
        text.push_str(&format!(
            " {} a setting of fence and blade, {} a cut at the saw;",
            rate("setting"),
            rate("cut")
        ));
    }
    text.push_str(&format!(" at the bench {} a strip", rate("strip")));
    if choice.options.iter().any(|option| option.pieces > 0) {
        text.push_str(&format!(
            ", {} a piece, {} a pared facet, {} a guide's block",
            rate("piece"),
            rate("facet"),
            rate("block")
        ));
    }
    text.push('.');
    told.push(text.into());
    let examples: Vec<&str> = choice
        .rates
        .iter()
        .filter(|rate| rate.example)
        .map(|rate| rate.name)
        .collect();
    if examples.len() == choice.rates.len() {
        told.push("All of these are example rates: put your own in [rates] of the job.".into());
    } else if !examples.is_empty() {
        told.push(phrase!(
            "Example rates among them: {}; put your own in [rates] of the job.",
            examples.join(", ")
        ));
    }
    told
}

/// A rate as a person would say it.
fn minutes_or_seconds(seconds: f64) -> String {
    if seconds >= 120.0 {
        format!("{} min", seconds / 60.0)
    } else {
        format!("{seconds} s")
    }
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
        let slanted = |option: &PanelOption| option.slanted.clone();
        let is_slanted = self.options.iter().any(|option| option.slanted.is_some());
        if is_slanted {
            self.add_slanted_cells();
        }
        self.add(if is_slanted { "whole cells" } else { "bays" }, |option| {
            format!("{} by {}", option.columns, option.rows)
        });
        if self.options.iter().any(|option| option.border_mm.is_some()) {
            self.add_lengths("outer bays", |option| {
                option.border_mm.map_or_else(|| "as inner".into(), both)
            });
        }
        if is_slanted {
            self.add_lengths("left over", |option| {
                slanted(option).map_or_else(String::new, |one| both(one.left_over_mm))
            });
        } else {
            self.add("square cells", |option| yes(option.square));
        }
        if self.options.iter().any(|option| option.frame_closes) {
            self.add("frame closes", |option| yes(option.frame_closes));
        }
        self.add_lengths("margins", |option| both(option.margin_mm));
        if is_slanted {
            self.add_slanted_edge();
        }
        if one_size(self.options).is_none() {
            self.add_lengths("finished", |option| {
                option.finished_mm.map_or_else(|| "not known".into(), both)
            });
        }
    }

    /// What a rhomb or a triangle is like.
    fn add_slanted_cells(&mut self) {
        let units = self.units;
        let of = |option: &PanelOption| option.slanted.clone();
        if self
            .options
            .iter()
            .any(|option| of(option).is_some_and(|one| one.side_mm.is_some()))
        {
            self.add_lengths("side", |option| {
                let side = of(option).and_then(|one| one.side_mm);
                side.map_or_else(String::new, |side| Mm(side).figure(units))
            });
        } else {
            self.add("angle", |option| {
                of(option).map_or_else(String::new, |one| Rad(one.angle).text())
            });
        }
        self.add("node", |option| {
            let centre = of(option).map(|one| one.centre);
            match centre {
                Some("node") => "in the middle".to_owned(),
                _ => "at the corner".to_owned(),
            }
        });
    }

    /// What the edge does to cells and strips.
    fn add_slanted_edge(&mut self) {
        let units = self.units;
        let of = |option: &PanelOption| option.slanted.clone();
        self.add("cells whole", |option| {
            of(option).map_or_else(String::new, |one| one.whole_cells.to_string())
        });
        self.add("cells cut", |option| {
            of(option).map_or_else(String::new, |one| one.cut_cells.to_string())
        });
        self.add_lengths("shortest strip", |option| {
            of(option).map_or_else(String::new, |one| Mm(one.shortest_strip_mm).figure(units))
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
            if any(|share| share.mitre_set_ups.is_some()) {
                let name = format!("{station} for mitres");
                self.add(&name, |option| {
                    let made = share(option).and_then(|share| share.mitre_set_ups);
                    made.map_or_else(String::new, |made| made.to_string())
                });
            }
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
                    time.map_or_else(String::new, minutes)
                });
            }
        }
        if self.options.iter().any(|option| option.pieces > 0) {
            self.add("facets to pare", |option| {
                option.at_bench.facets.to_string()
            });
        }
        self.add("bench, rough min", |option| minutes(option.at_bench.time_s));
    }
}

/// Full minutes, rounded up.
fn minutes(seconds: f64) -> String {
    format!("{:.0}", (seconds / 60.0).ceil())
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
