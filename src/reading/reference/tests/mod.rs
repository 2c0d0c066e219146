//! The table of fields against the readers: all that they ask for stands in it, and nothing else.

use super::row::parts_of;
use super::{Field, Holds, JOB, Needed, PATTERN, Reference, Rule, Table, When};
use crate::machines::MachineKind;
use crate::reading::fields::{Asked, taken};
use crate::reading::{
    SHIPPED_MACHINES, SHIPPED_PATTERNS, SHIPPED_STARTERS, read_job, read_machine, read_pattern,
};
use crate::units::Kind;
use std::collections::{BTreeMap, BTreeSet};
use toml::{Table as Toml, Value};

mod corpus;

/// What was asked of a key, by its path in the table of fields: `rack.slots`, `points.*.meet`.
type AskedOf = BTreeMap<String, Vec<Asked>>;

/// A sound text, and all that its reader asked for.
struct Read {
    reference: &'static Reference,
    name: String,
    toml: Toml,
    asked: AskedOf,
}

fn read(reference: &'static Reference, name: &str, text: &str) -> Result<Read, String> {
    taken();
    let outcome = match reference.name {
        "job" => read_job(name, text).err(),
        "pattern" => read_pattern(name, text).err(),
        _ => read_machine(name, text).err(),
    };
    let asked = by_path(taken());
    if let Some(bad) = outcome {
        let units = crate::units::UnitSystem::Millimetres;
        return Err(bad.source.report(&bad.findings, units));
    }
    Ok(Read {
        reference,
        name: name.to_owned(),
        toml: text.parse().unwrap(),
        asked,
    })
}

/// Names that writers give become `*`, numbers of items go.
fn by_path(asked: Vec<(String, Asked)>) -> AskedOf {
    let mut found = AskedOf::new();
    let mut named = BTreeSet::new();
    for (path, asked) in asked {
        let mut parts: Vec<String> = Vec::new();
        for part in parts_of(&path) {
            let free = named.contains(&parts.join("."));
            parts.push(if free {
                "*".to_owned()
            } else {
                without_number(part)
            });
        }
        let path = parts.join(".");
        if asked == Asked::Entries {
            named.insert(path.clone());
        }
        found.entry(path).or_default().push(asked);
    }
    found
}

fn without_number(part: &str) -> String {
    match part.split_once('[') {
        Some((name, _)) => format!("{name}[]"),
        None => part.to_owned(),
    }
}

/// All texts: those that are shipped, those of the demos, and those that ask what none of them asks.
fn all_read() -> Vec<Read> {
    let mut all = Vec::new();
    let of_machine = |text: &str| {
        let toml: Toml = text.parse().unwrap();
        let kind = toml["kind"].as_str().unwrap().to_owned();
        let found = MachineKind::ALL.iter().find(|known| known.name() == kind);
        Reference::of_machine(*found.unwrap())
    };
    for shipped in SHIPPED_MACHINES {
        all.push(read(of_machine(shipped.text), shipped.name, shipped.text));
    }
    for shipped in SHIPPED_STARTERS {
        all.push(read(&JOB, shipped.name, shipped.text));
    }
    for shipped in SHIPPED_PATTERNS {
        all.push(read(&PATTERN, shipped.name, shipped.text));
    }
    for (at, text) in corpus::DEMOS.iter().enumerate() {
        let toml: Toml = text.parse().unwrap();
        let reference = if toml.contains_key("grid") {
            &JOB
        } else {
            of_machine(text)
        };
        all.push(read(reference, &format!("demo {at}"), text));
    }
    for (at, text) in corpus::jobs().iter().enumerate() {
        all.push(read(&JOB, &format!("crafted job {at}"), text));
    }
    for (at, text) in corpus::machines().iter().enumerate() {
        all.push(read(
            of_machine(text),
            &format!("crafted machine {at}"),
            text,
        ));
    }
    for (at, text) in corpus::PATTERNS.iter().enumerate() {
        all.push(read(&PATTERN, &format!("crafted pattern {at}"), text));
    }
    let (read, bad): (Vec<_>, Vec<_>) = all.into_iter().partition(Result::is_ok);
    let bad: String = bad.into_iter().filter_map(Result::err).collect();
    assert!(bad.is_empty(), "{bad}");
    read.into_iter().filter_map(Result::ok).collect()
}

fn all_references() -> Vec<&'static Reference> {
    let machines = MachineKind::ALL.map(Reference::of_machine);
    [&JOB, &PATTERN].into_iter().chain(machines).collect()
}

/// What a reader asks for where such a value stands: first that by which it is known.
fn forms(holds: Holds) -> Vec<Asked> {
    match holds {
        Holds::Quantity(kind) => vec![Asked::Quantity(kind)],
        Holds::AboveZero => vec![Asked::AboveZero, Asked::Quantity(Kind::Length)],
        Holds::Within(kind, least, most) => {
            vec![Asked::Within(least, most), Asked::Quantity(kind)]
        }
        Holds::Quantities(kind) | Holds::OneOrTwo(kind) => vec![Asked::Quantities(kind)],
        Holds::Text | Holds::Named(_) => vec![Asked::Text],
        Holds::Flag => vec![Asked::Flag],
        Holds::Date => vec![Asked::Date],
        Holds::Count(least, most) => vec![Asked::Count(least, most)],
        Holds::Word(words) => vec![Asked::Words(words.to_vec()), Asked::Text],
        Holds::Names(..) => vec![Asked::Names, Asked::Text],
        Holds::Texts => vec![Asked::List],
        Holds::Point => vec![Asked::Point],
        Holds::Points => vec![Asked::Points, Asked::List],
        Holds::Fractions => vec![Asked::Numbers],
        Holds::Part(least, most) => vec![Asked::Part(least, most)],
    }
}

/// Whether the table lets a path be asked for like that.
fn allowed(reference: &Reference, path: &str, asked: &Asked) -> bool {
    let anywhere = [Asked::Presence, Asked::Required].contains(asked);
    let rows = rows(reference).any(|(table, field)| {
        let own = table.path_of(field.key);
        let items = matches!(field.holds, Holds::Names(..) | Holds::Texts)
            && path == format!("{own}[]")
            && *asked == Asked::Text;
        own == path && (anywhere || forms(field.holds).contains(asked)) || items
    });
    let tables = reference.tables.iter().any(|table| {
        let named = table.fields.iter().any(|field| field.key == "*");
        let or = table.or.map(forms).unwrap_or_default();
        let itself = if named { Asked::Entries } else { Asked::Table };
        path == table.path && (anywhere || *asked == itself || or.contains(asked))
            || table.path == format!("{path}[]") && (anywhere || *asked == Asked::List)
            || table.path == format!("{path}.*") && (anywhere || *asked == Asked::Entries)
    });
    rows || tables
}

fn rows(reference: &Reference) -> impl Iterator<Item = (&'static Table, &'static Field)> {
    let of = |table: &'static Table| table.fields.iter().map(move |field| (table, field));
    reference.tables.iter().flat_map(of)
}

fn value_at<'t>(toml: &'t Toml, path: &str) -> Option<&'t Value> {
    let (first, rest) = path.split_once('.').unwrap_or((path, ""));
    let value = toml.get(first)?;
    if rest.is_empty() {
        Some(value)
    } else {
        value_at(value.as_table()?, rest)
    }
}

fn holds(when: &When, toml: &Toml) -> bool {
    match when {
        When::Is(path, words) => {
            let found = value_at(toml, path).and_then(Value::as_str);
            found.is_some_and(|found| words.contains(&found))
        }
        When::True(path) => value_at(toml, path).and_then(Value::as_bool) == Some(true),
        When::Has(path) => value_at(toml, path).is_some(),
        When::Lacks(path) => value_at(toml, path).is_none(),
    }
}

#[test]
fn whatever_readers_ask_for_stands_in_the_table() {
    let mut wrong = BTreeSet::new();
    for read in all_read() {
        for (path, all) in &read.asked {
            for asked in all
                .iter()
                .filter(|asked| !allowed(read.reference, path, asked))
            {
                wrong.insert(format!("{}: {path} as {asked:?}", read.reference.name));
            }
        }
    }
    assert_eq!(wrong, BTreeSet::new());
}

#[test]
fn whatever_stands_in_the_table_is_asked_for() {
    let all = all_read();
    let mut missing = BTreeSet::new();
    for reference in all_references() {
        let of = || {
            all.iter()
                .filter(|read| read.reference.name == reference.name)
        };
        for (table, field) in rows(reference) {
            let path = table.path_of(field.key);
            let found = of().any(|read| {
                field.only.iter().all(|when| holds(when, &read.toml))
                    && read
                        .asked
                        .get(&path)
                        .is_some_and(|asked| asked.contains(&forms(field.holds)[0]))
            });
            if !found {
                missing.insert(format!(
                    "{}: {path} as {:?}, {:?}",
                    reference.name, field.holds, field.only
                ));
            }
        }
        for table in reference
            .tables
            .iter()
            .filter(|table| !table.path.is_empty())
        {
            let path = table.path.trim_end_matches("[]").trim_end_matches(".*");
            if !of().any(|read| read.asked.contains_key(path)) {
                missing.insert(format!("{}: [{path}]", reference.name));
            }
        }
    }
    assert_eq!(missing, BTreeSet::new());
}

/// What is said of a value of the wrong type is what the table of fields says of its key.
#[test]
fn errors_have_the_words_of_the_table() {
    let mut seen = 0;
    for read in all_read() {
        let tables = read
            .toml
            .iter()
            .filter_map(|(name, value)| Some((name, value.as_table()?)));
        for (table, keys) in tables {
            for key in keys
                .iter()
                .filter(|(_, value)| !value.is_table())
                .map(|(key, _)| key)
            {
                let mut wrong = read.toml.clone();
                let date: Toml = "a = 1979-05-27".parse().unwrap();
                wrong[table][key] = date["a"].clone();
                let Err(told) = self::read(read.reference, &read.name, &wrong.to_string()) else {
                    panic!("{}: {table}.{key} may be a date", read.name)
                };
                let known = read
                    .reference
                    .tables
                    .iter()
                    .filter(|known| known.path == *table);
                let rows: Vec<&Field> = known
                    .flat_map(|known| known.fields)
                    .filter(|row| row.key == *key)
                    .collect();
                // Under names that the writer gives stands what is told where it is read.
                if rows.is_empty() {
                    continue;
                }
                let told = squeezed(&told);
                let said = rows
                    .iter()
                    .any(|row| told.contains(&squeezed(&format!("as in {}", row.shown(key)))));
                assert!(said, "{}: {table}.{key}: {told}", read.name);
                seen += 1;
            }
        }
    }
    assert!(seen > 500, "{seen}");
}

/// Reports break their lines.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// In a sound file a key is read where its row says that it may stand, known to the reader there, and
/// asked for as one that must be there just where the row says so.
#[test]
fn rows_hold_where_readers_ask() {
    let mut wrong = BTreeSet::new();
    for read in all_read() {
        for table in read.reference.tables {
            let entered =
                |path: &&String| path.rsplit_once('.').map_or("", |(table, _)| table) == table.path;
            let asked: BTreeMap<&String, &Vec<Asked>> = read
                .asked
                .iter()
                .filter(|(path, _)| entered(path))
                .collect();
            if asked.is_empty() || table.fields.iter().any(|field| field.key == "*") {
                continue;
            }
            for key in table
                .fields
                .iter()
                .map(|field| field.key)
                .collect::<BTreeSet<_>>()
            {
                let path = table.path_of(key);
                let rows = table.fields.iter().filter(|field| {
                    field.key == key && field.only.iter().all(|when| holds(when, &read.toml))
                });
                let rows: Vec<&Field> = rows.collect();
                let asked = asked.get(&path).map_or(&[][..], |asked| asked.as_slice());
                if let Some(why) = disagreement(table, &rows, key, asked) {
                    wrong.insert(format!("{}: {path} {why}", read.name));
                }
            }
        }
    }
    assert_eq!(wrong, BTreeSet::new());
}

fn disagreement(
    table: &Table,
    rows: &[&Field],
    key: &str,
    asked: &[Asked],
) -> Option<&'static str> {
    let count = |wanted: &Asked| asked.iter().filter(|asked| *asked == wanted).count();
    let is_read = asked.iter().any(|asked| *asked != Asked::Presence);
    let needed = rows.iter().any(|row| row.needed == Needed::Yes);
    let together = |rule: &Rule| matches!(rule, Rule::Together(keys) if keys.contains(&key));
    // Asked for by `has` beforehand: not there is not wrong.
    let guarded = count(&Asked::Presence) > count(&Asked::Required);
    if rows.len() > 1 {
        Some("has two rows that hold")
    } else if rows.is_empty() && is_read {
        Some("is read where no row holds")
    } else if !rows.is_empty() && asked.is_empty() {
        Some("is not asked for where a row holds")
    } else if needed && count(&Asked::Required) == 0 {
        Some("is needed by its row, and not by the reader")
    } else if !needed
        && count(&Asked::Required) > 0
        && !guarded
        && !table.rules.iter().any(together)
    {
        Some("is needed by the reader, and not by its row")
    } else {
        None
    }
}

/// Each example is what its row says, so that a person who copies it gets no error for it.
#[test]
fn examples_are_values_of_their_kind() {
    for reference in all_references() {
        for (table, field) in rows(reference) {
            let path = table.path_of(field.key);
            let toml: Toml = format!("x = {}", field.example).parse().unwrap();
            let value = &toml["x"];
            let quantity = |value: &Value, kind| {
                let text = value.as_str().unwrap_or_default();
                assert!(crate::units::parse(text, kind).is_ok(), "{path}: {text}");
            };
            match field.holds {
                Holds::Quantity(kind) | Holds::OneOrTwo(kind) | Holds::Within(kind, ..) => {
                    quantity(value, kind);
                }
                Holds::AboveZero => quantity(value, Kind::Length),
                Holds::Quantities(kind) => {
                    value
                        .as_array()
                        .unwrap()
                        .iter()
                        .for_each(|value| quantity(value, kind));
                }
                Holds::Flag => assert!(value.is_bool(), "{path}"),
                Holds::Date => assert!(value.is_datetime(), "{path}"),
                Holds::Count(least, most) => {
                    let range = i64::from(least)..=i64::from(most);
                    assert!(range.contains(&value.as_integer().unwrap()), "{path}");
                }
                Holds::Word(words) => assert!(words.contains(&value.as_str().unwrap()), "{path}"),
                Holds::Part(least, most) => {
                    let limits = [least, most].map(|text| text.parse::<f64>().unwrap());
                    let value = value.as_float().unwrap_or(0.5);
                    assert!(limits[0] <= value && value <= limits[1], "{path}");
                }
                Holds::Text | Holds::Named(_) => assert!(value.is_str(), "{path}"),
                Holds::Names(..) => assert!(value.is_str() || value.is_array(), "{path}"),
                Holds::Texts | Holds::Point | Holds::Points | Holds::Fractions => {
                    assert!(value.is_array(), "{path}");
                }
            }
        }
    }
}
