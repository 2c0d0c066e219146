//! JSON Schemas for editors, made from the table of fields.
//!
//! They are of draft 7, which editors for TOML understand. A schema cannot weigh one figure against
//! another: the program refuses more than it does.

mod conditions;
mod values;

use super::field::{Field, Needed, Reference, Table};
use conditions::{apart, conditions};
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use values::{definitions, told, values};

const DRAFT: &str = "http://json-schema.org/draft-07/schema#";

impl Reference {
    /// The schema of such a file.
    pub fn schema(&self) -> Value {
        let mut schema = json!({
            "$schema": DRAFT,
            "title": format!("lapwright: {}", self.name),
            "description": self.about,
        });
        merge(&mut schema, self.object(""));
        add_all(&mut schema, conditions(self));
        schema["definitions"] = Value::Object(definitions());
        schema
    }

    /// The schema of a file that is one of several kinds, told by the word under `kind`.
    pub fn schema_of_kinds(name: &str, kinds: &[&Reference]) -> Value {
        let names: Vec<&str> = kinds.iter().map(|kind| kind.name).collect();
        let mut definitions = definitions();
        let mut all = Vec::new();
        for kind in kinds {
            let mut own = kind.schema();
            if let Some(own) = own.as_object_mut() {
                own.remove("$schema");
                own.remove("definitions");
            }
            definitions.insert(kind.name.to_owned(), own);
            let is =
                json!({ "required": ["kind"], "properties": { "kind": { "const": kind.name } } });
            let reference = format!("#/definitions/{}", kind.name);
            all.push(json!({ "if": is, "then": { "$ref": reference } }));
        }
        json!({
            "$schema": DRAFT,
            "title": format!("lapwright: {name}"),
            "type": "object",
            "required": ["kind", "about"],
            "properties": { "kind": { "type": "string", "enum": names, "description": "What kind of machine it is." } },
            "allOf": all,
            "definitions": definitions,
        })
    }

    /// The table at a path with all that stands in it.
    fn object(&self, path: &str) -> Value {
        let table = self.tables.iter().find(|table| table.path == path);
        let mut properties = Map::new();
        let mut required = Vec::new();
        let mut object = json!({ "type": "object" });
        for key in table.map(keys).unwrap_or_default() {
            let rows = table.iter().flat_map(|table| table.fields);
            let rows: Vec<&Field> = rows.filter(|field| field.key == key).collect();
            let full = table.map_or_else(String::new, |table| table.path_of(key));
            let value = one_of(&full, &rows);
            if key == "*" {
                object["additionalProperties"] = value;
                continue;
            }
            if rows
                .iter()
                .any(|row| row.only.is_empty() && row.needed == Needed::Yes)
            {
                required.push(key.to_owned());
            }
            properties.insert(key.to_owned(), value);
        }
        for name in self.tables_in(path) {
            let full = joined(path, &name);
            let is_needed = |table: &&Table| table.path == full && table.needed == Needed::Yes;
            if self.tables.iter().any(|table| is_needed(&table)) {
                required.push(name.clone());
            }
            properties.insert(name, self.child(&full));
        }
        // Names that the writer gives beside keys of its own.
        let free = format!("{path}.*");
        if let Some(entries) = self.tables.iter().find(|table| table.path == free) {
            object["additionalProperties"] = self.entry(entries);
            object["properties"] = Value::Object(properties);
        } else if object.get("additionalProperties").is_none() {
            object["additionalProperties"] = json!(false);
            object["properties"] = Value::Object(properties);
        }
        if !required.is_empty() {
            object["required"] = json!(required);
        }
        if let Some(table) = table {
            if !table.about.is_empty() {
                object["description"] = json!(table.about);
            }
            add_all(&mut object, apart(table));
        }
        object
    }

    /// What stands under the name of a table: one, a list of them, or names with a table each.
    fn child(&self, path: &str) -> Value {
        let listed = format!("{path}[]");
        let named = format!("{path}.*");
        let found = |wanted: &str| self.tables.iter().find(|table| table.path == wanted);
        if let Some(table) = found(&listed) {
            json!({ "type": "array", "description": table.about, "items": self.entry(table) })
        } else if let Some(table) = found(&named).filter(|_| found(path).is_none()) {
            json!({
                "type": "object",
                "description": table.about,
                "additionalProperties": self.entry(table),
            })
        } else {
            self.object(path)
        }
    }

    /// A table of a list or under a name, or what may stand there instead.
    fn entry(&self, table: &Table) -> Value {
        let object = self.object(table.path);
        match table.or {
            None => object,
            Some(holds) => json!({ "anyOf": [values(holds), object] }),
        }
    }

    /// Names of the tables in a table.
    fn tables_in(&self, path: &str) -> BTreeSet<String> {
        let name = |table: &Table| {
            let rest = if path.is_empty() {
                Some(table.path)
            } else {
                table.path.strip_prefix(path)?.strip_prefix('.')
            };
            let first = rest?.split('.').next()?.trim_end_matches("[]");
            (!first.is_empty() && first != "*").then(|| first.to_owned())
        };
        self.tables.iter().filter_map(name).collect()
    }
}

/// A table's keys, each once, in order.
fn keys(table: &Table) -> Vec<&'static str> {
    let mut keys: Vec<&str> = Vec::new();
    for field in table.fields {
        if !keys.contains(&field.key) {
            keys.push(field.key);
        }
    }
    keys
}

/// What a key may hold by any of its rows; which of them counts is said by the conditions.
fn one_of(path: &str, rows: &[&Field]) -> Value {
    let mut all: Vec<Value> = Vec::new();
    for row in rows {
        let value = told(path, row);
        if !all.contains(&value) {
            all.push(value);
        }
    }
    match all.as_slice() {
        [only] => only.clone(),
        _ => json!({ "title": path, "anyOf": all }),
    }
}

fn joined(path: &str, name: &str) -> String {
    if path.is_empty() {
        name.to_owned()
    } else {
        format!("{path}.{name}")
    }
}

fn merge(schema: &mut Value, more: Value) {
    if let (Value::Object(schema), Value::Object(more)) = (schema, more) {
        for (key, value) in more {
            schema.entry(key).or_insert(value);
        }
    }
}

/// Adds to what has to hold.
fn add_all(schema: &mut Value, more: Vec<Value>) {
    if more.is_empty() {
        return;
    }
    let mut all = match schema.get("allOf") {
        Some(Value::Array(all)) => all.clone(),
        _ => Vec::new(),
    };
    all.extend(more);
    schema["allOf"] = Value::Array(all);
}
