//! What stands there only beside something else, as JSON Schema at the top of the file.

use super::values::values;
use crate::reading::reference::field::{Field, Needed, Reference, Rule, Table, When};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// All conditions of all tables.
pub(super) fn conditions(reference: &Reference) -> Vec<Value> {
    let of_table = |table: &Table| {
        let mut all = of_fields(table);
        all.extend(table.rules.iter().flat_map(|rule| of_rule(table, rule)));
        all
    };
    reference.tables.iter().flat_map(of_table).collect()
}

/// Keys that may stand there only while a row of theirs holds, and what each row then says.
fn of_fields(table: &Table) -> Vec<Value> {
    let mut by_key: BTreeMap<&str, Vec<&Field>> = BTreeMap::new();
    for field in table.fields {
        by_key.entry(field.key).or_default().push(field);
    }
    let mut all = Vec::new();
    for (key, rows) in by_key {
        if rows.iter().any(|row| row.only.is_empty()) {
            continue;
        }
        let any: Vec<Value> = rows.iter().map(|row| every(row.only)).collect();
        let none = within(table.path, json!({ "properties": { key: false } }));
        all.push(json!({ "if": { "not": { "anyOf": any } }, "then": none }));
        for row in rows {
            let mut says = json!({ "properties": { key: values(row.holds) } });
            if row.needed == Needed::Yes {
                says["required"] = json!([key]);
            }
            all.push(json!({ "if": every(row.only), "then": within(table.path, says) }));
        }
    }
    all
}

fn of_rule(table: &Table, rule: &Rule) -> Option<Value> {
    let has = |key: &&str| json!({ "required": [key] });
    let here = |says: Value| within(table.path, says);
    match rule {
        // Told at the table itself: see `apart`.
        Rule::OneOf(_) | Rule::AtMostOne(_) | Rule::Together(_) | Rule::Takes(..) => None,
        Rule::AnyOf(only, keys) => {
            let any: Vec<Value> = keys.iter().map(has).collect();
            Some(json!({ "if": every(only), "then": here(json!({ "anyOf": any })) }))
        }
        Rule::Not(only, keys) => {
            let none = keys
                .iter()
                .map(|key| ((*key).to_owned(), Value::Bool(false)));
            let none: serde_json::Map<String, Value> = none.collect();
            Some(json!({ "if": every(only), "then": here(json!({ "properties": none })) }))
        }
    }
}

/// Rules about a table's keys among themselves.
pub(super) fn apart(table: &Table) -> Vec<Value> {
    let has = |key: &&str| json!({ "required": [key] });
    let of_rule = |rule: &Rule| match rule {
        Rule::OneOf(keys) => {
            let one: Vec<Value> = keys.iter().map(has).collect();
            Some(json!({ "oneOf": one }))
        }
        Rule::AtMostOne(keys) => {
            let pairs = keys.iter().enumerate();
            let pairs =
                pairs.flat_map(|(at, one)| keys.iter().skip(at + 1).map(move |other| (one, other)));
            let both: Vec<Value> = pairs
                .map(|(one, other)| json!({ "required": [one, other] }))
                .collect();
            Some(json!({ "not": { "anyOf": both } }))
        }
        Rule::Together(keys) => {
            let each = keys.iter().map(|key| ((*key).to_owned(), json!(keys)));
            let each: serde_json::Map<String, Value> = each.collect();
            Some(json!({ "dependencies": each }))
        }
        Rule::Takes(key, other) => Some(json!({ "dependencies": { *key: [other] } })),
        Rule::AnyOf(..) | Rule::Not(..) => None,
    };
    table.rules.iter().filter_map(of_rule).collect()
}

fn every(only: &[When]) -> Value {
    let all: Vec<Value> = only.iter().map(condition).collect();
    json!({ "allOf": all })
}

fn condition(when: &When) -> Value {
    match when {
        When::Is(path, words) => at(path, &json!({ "enum": words })),
        When::True(path) => at(path, &json!({ "const": true })),
        When::Has(path) => at(path, &json!({})),
        When::Lacks(path) => json!({ "not": at(path, &json!({})) }),
    }
}

/// Something stands at a path from the top of the file, and it is this.
fn at(path: &str, says: &Value) -> Value {
    match path.split_once('.') {
        None => json!({ "required": [path], "properties": { path: says } }),
        Some((first, rest)) => {
            json!({ "required": [first], "properties": { first: at(rest, says) } })
        }
    }
}

/// Whatever stands at a path from the top of the file is this.
fn within(path: &str, says: Value) -> Value {
    match path.split_once('.') {
        None if path.is_empty() => says,
        None => json!({ "properties": { path: says } }),
        Some((first, rest)) => json!({ "properties": { first: within(rest, says) } }),
    }
}
