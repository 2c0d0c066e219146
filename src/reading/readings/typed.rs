//! From what stands in a file of readings to readings.

use super::raw::{Cell, Entry, Raw, RawTable};
use super::{from_csv, from_toml};
use crate::finding::Finding;
use crate::machines::{Date, Machine};
use crate::measuring::{Given, Holds, Readings, Series, Taken, TestPiece, pieces_of};
use crate::reading::quantity::quantity;
use crate::reading::source::{Source, Unreadable};
use crate::units::Kind;

/// How a file of readings is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadingsFormat {
    /// Tables of lists.
    Toml,
    /// A line for each list.
    Csv,
}

/// More readings of one test piece than this nobody takes.
const MOST_READINGS: usize = 1000;

/// Reads a file of readings that were taken on a machine; `name` is what messages call it.
///
/// # Errors
/// All that is wrong with it.
pub fn read_readings(
    name: &str,
    text: &str,
    format: ReadingsFormat,
    machine: &Machine,
) -> Result<(Readings, Source), Unreadable> {
    let raw = match format {
        ReadingsFormat::Toml => from_toml::raw(name, text),
        ReadingsFormat::Csv => from_csv::raw(name, text),
    };
    let mut reader = Reader {
        unit: None,
        findings: Vec::new(),
    };
    let readings = reader.readings(&raw, machine);
    let Raw {
        source, findings, ..
    } = raw;
    let findings = [findings, reader.findings].concat();
    match readings {
        Some(readings) if findings.is_empty() => Ok((readings, source)),
        _ => Err(Unreadable { source, findings }),
    }
}

struct Reader {
    /// Of numbers without one.
    unit: Option<&'static str>,
    findings: Vec<Finding>,
}

impl Reader {
    fn report(&mut self, code: &'static str, field: &str, text: String, hint: impl Into<String>) {
        let fault = Finding::error(code, field, text);
        self.findings.push(fault.hint(hint.into()));
    }

    fn readings(&mut self, raw: &Raw, machine: &Machine) -> Option<Readings> {
        let mut date = None;
        let mut step = Some(0.0);
        // The unit first: the other lines may stand before it.
        for entry in raw.top.iter().filter(|entry| entry.key == "unit") {
            self.unit = self.unit_word(entry);
        }
        for entry in &raw.top {
            match entry.key.as_str() {
                "unit" => {}
                "date" => date = self.date(entry),
                "resolution" => step = self.one(entry).and_then(|cell| self.above_zero(cell)),
                _ => self.unknown_top(entry, machine),
            }
        }
        let mut readings = Readings {
            date,
            step: step.unwrap_or(0.0),
            taken: Vec::new(),
            left: Vec::new(),
        };
        let mut sound = true;
        let order = pieces_of(machine);
        let place = |table: &&RawTable| order.iter().position(|piece| piece.name == table.name);
        let mut tables: Vec<&RawTable> = raw.tables.iter().collect();
        // However a file has them, figures follow each other as the pieces are best cut.
        tables.sort_by_key(place);
        for table in tables {
            match self.taken(table, machine) {
                Some(Some(taken)) => readings.taken.push(taken),
                Some(None) => readings.left.push(table.field.clone()),
                None => sound = false,
            }
        }
        sound.then_some(readings)
    }

    fn unknown_top(&mut self, entry: &Entry, machine: &Machine) {
        let text = format!(
            "`{}` is not known at the top of a file of readings",
            entry.key
        );
        let hint = format!(
            "known there: date, resolution, unit, and the tables {}",
            names(machine)
        );
        self.report("unknown-key", &entry.field, text, hint);
    }

    fn unit_word(&mut self, entry: &Entry) -> Option<&'static str> {
        let cell = self.one(entry)?;
        let known = ["mm", "in"].into_iter().find(|unit| *unit == cell.text);
        if known.is_none() {
            let text = format!("`{}` is no unit that is known here", cell.text);
            self.report("unknown-word", &cell.field, text, "one of: mm, in");
        }
        known
    }

    fn date(&mut self, entry: &Entry) -> Option<Date> {
        let cell = self.one(entry)?;
        let date = Date::parse(&cell.text);
        if date.is_none() {
            let text = format!("`{}` is no day of the calendar", cell.text);
            self.report(
                "no-date",
                &cell.field,
                text,
                "write year, month and day: date = 2026-11-30",
            );
        }
        date
    }

    /// The only value of a key.
    fn one<'e>(&mut self, entry: &'e Entry) -> Option<&'e Cell> {
        match entry.values.as_slice() {
            [only] => Some(only),
            all => {
                let text = format!("one value belongs here, not {}", all.len());
                self.report(
                    "wrong-type",
                    &entry.field,
                    text,
                    "write it without brackets",
                );
                None
            }
        }
    }

    fn length(&mut self, cell: &Cell, kind: Kind) -> Option<f64> {
        let text = match (cell.is_bare, self.unit) {
            (false, _) => cell.text.clone(),
            (true, Some(unit)) => format!("{} {unit}", cell.text),
            (true, None) => {
                let text = "a bare number has no unit".to_owned();
                let hint = format!(
                    "write it with its unit, in quotes: \"{} mm\"; or say once at the top: unit = \"mm\"",
                    cell.text
                );
                self.report("bare-number", &cell.field, text, hint);
                return None;
            }
        };
        match quantity(&cell.field, &text, kind) {
            Ok(quantity) => Some(quantity.value),
            Err(mut fault) => {
                if cell.is_bare {
                    fault.part = None;
                }
                self.findings.push(fault);
                None
            }
        }
    }

    fn above_zero(&mut self, cell: &Cell) -> Option<f64> {
        let length = self.length(cell, Kind::Length)?;
        if length > 0.0 {
            return Some(length);
        }
        let text = "this must be above zero".to_owned();
        self.report(
            "not-positive",
            &cell.field,
            text,
            "leave out what was not measured",
        );
        None
    }

    /// One test piece; `Some(None)` where nothing is filled in.
    fn taken(&mut self, table: &RawTable, machine: &Machine) -> Option<Option<Taken>> {
        let piece = self.piece(table, machine)?;
        let mut sound = self.known_keys(table, piece);
        let find = |key: &str| table.entries.iter().find(|entry| entry.key == key);
        let series = |series: &Series| find(series.key).map_or(&[][..], |entry| &entry.values);
        if piece.series.iter().all(|one| series(one).is_empty()) {
            return sound.then_some(None);
        }
        let mut lists = Vec::new();
        for one in piece.series {
            let list = self.list(one, series(one), &table.field);
            sound &= list.is_some();
            lists.extend(list);
        }
        let mut figures = Vec::new();
        for given in piece.given {
            let figure = self.figure(given, find(given.key), &table.field);
            sound &= figure.is_some();
            figures.extend(figure);
        }
        sound &= self.alike(table, piece, &lists);
        sound.then(|| {
            Some(Taken {
                piece,
                field: table.field.clone(),
                figures,
                series: lists,
            })
        })
    }

    fn piece(&mut self, table: &RawTable, machine: &Machine) -> Option<&'static TestPiece> {
        let known = pieces_of(machine);
        let Some(piece) = known.iter().find(|piece| piece.name == table.name) else {
            let kind = machine.kind().name();
            let text = format!("`{}` is not measured on this {kind}", table.name);
            self.report(
                "unknown-table",
                &table.field,
                text,
                format!("what is: {}", names(machine)),
            );
            return None;
        };
        if table.in_list && !piece.several {
            let text = format!("there is one [{}]", piece.name);
            let hint = "write it in single brackets, all readings in its lists";
            self.report("wrong-type", &table.field, text, hint);
            return None;
        }
        Some(piece)
    }

    fn known_keys(&mut self, table: &RawTable, piece: &TestPiece) -> bool {
        let given = piece.given.iter().map(|given| given.key);
        let known: Vec<&str> = given
            .chain(piece.series.iter().map(|series| series.key))
            .collect();
        let mut sound = true;
        for entry in &table.entries {
            if !known.contains(&entry.key.as_str()) {
                let text = format!("`{}` is not known in [{}]", entry.key, piece.name);
                self.report(
                    "unknown-key",
                    &entry.field,
                    text,
                    format!("known here: {}", known.join(", ")),
                );
                sound = false;
            }
        }
        sound
    }

    fn list(&mut self, series: &Series, cells: &[Cell], table: &str) -> Option<Vec<f64>> {
        if cells.is_empty() {
            let text = format!("`{}` has no reading", series.key);
            let hint = format!("{}, as many as the other list has", series.means);
            self.report("missing", &format!("{table}.{}", series.key), text, hint);
            return None;
        }
        if cells.len() > MOST_READINGS {
            let text = format!("{} readings in a list", cells.len());
            let hint = format!("at most {MOST_READINGS} make sense");
            self.report(
                "list-too-long",
                &format!("{table}.{}", series.key),
                text,
                hint,
            );
            return None;
        }
        let read = cells.iter().map(|cell| {
            if series.may_be_none {
                self.length(cell, Kind::Length)
            } else {
                self.above_zero(cell)
            }
        });
        let read: Vec<Option<f64>> = read.collect();
        read.into_iter().collect()
    }

    fn figure(&mut self, given: &Given, entry: Option<&Entry>, table: &str) -> Option<f64> {
        let is_filled = |entry: &&Entry| entry.values.iter().any(|cell| !cell.text.is_empty());
        let Some(entry) = entry.filter(is_filled) else {
            let text = format!("`{}` is missing", given.key);
            self.report(
                "missing",
                &format!("{table}.{}", given.key),
                text,
                given.means,
            );
            return None;
        };
        let cell = self.one(entry)?;
        match given.holds {
            Holds::Length => self.above_zero(cell),
            Holds::Signed => self.length(cell, Kind::SignedLength),
            Holds::Count(least, most) => {
                let count = cell.text.parse::<u32>().ok();
                let count = count.filter(|count| (least..=most).contains(count));
                if count.is_none() {
                    let text = format!(
                        "`{}` is no count: this must be {least} to {most}",
                        cell.text
                    );
                    self.report("count-out-of-range", &cell.field, text, given.means);
                }
                count.map(f64::from)
            }
            Holds::Word(words) => {
                let mut known = (0_u32..).zip(words);
                let found = known.find(|(_, word)| **word == cell.text);
                if found.is_none() {
                    let text = format!("`{}` is not known here", cell.text);
                    self.report(
                        "unknown-word",
                        &cell.field,
                        text,
                        format!("one of: {}", words.join(", ")),
                    );
                }
                found.map(|(at, _)| f64::from(at))
            }
        }
    }

    /// Lists of a set of readings are as long as each other.
    fn alike(&mut self, table: &RawTable, piece: &TestPiece, lists: &[Vec<f64>]) -> bool {
        let longest = lists.iter().map(Vec::len).max().unwrap_or(0);
        let shortest = lists.iter().map(Vec::len).min().unwrap_or(0);
        if longest == shortest || lists.len() < piece.series.len() {
            return true;
        }
        let counts = piece.series.iter().zip(lists);
        let counts = counts.map(|(series, list)| format!("{} has {}", series.key, list.len()));
        let counts: Vec<String> = counts.collect();
        let key = piece.series.first().map_or("", |series| series.key);
        let text = format!("the lists differ in length: {}", counts.join(", "));
        let hint = "one reading in each for every piece that was cut, in the same order";
        self.report(
            "lists-differ",
            &format!("{}.{key}", table.field),
            text,
            hint,
        );
        false
    }
}

fn names(machine: &Machine) -> String {
    let names: Vec<&str> = pieces_of(machine).iter().map(|piece| piece.name).collect();
    names.join(", ")
}
