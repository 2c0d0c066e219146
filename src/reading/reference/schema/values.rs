//! What may stand behind a key, as JSON Schema.

use crate::reading::reference::field::{Field, Holds, Shipped};
use crate::reading::shipped::{SHIPPED_MACHINES, SHIPPED_PATTERNS};
use crate::units::{Kind, expression};
use serde_json::{Map, Value, json};

/// Text for people: what the reader takes for printable, U+FEFF included in what is not.
const PRINTABLE: &str =
    r"^[^\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]*$";

/// The values that a field may have.
pub(super) fn values(holds: Holds) -> Value {
    match holds {
        Holds::Quantity(kind) | Holds::Within(kind, ..) => quantity(kind),
        // Any digit but zero: a length that is not none.
        Holds::AboveZero => json!({
            "type": "string",
            "allOf": [reference("length"), { "pattern": "[1-9]" }],
        }),
        Holds::Quantities(kind) => {
            json!({ "type": "array", "items": quantity(kind), "minItems": 1, "maxItems": 1000 })
        }
        Holds::OneOrTwo(kind) => json!({ "anyOf": [quantity(kind), pair(&quantity(kind))] }),
        Holds::Text => text(),
        Holds::Named(shipped) => named(shipped),
        Holds::Flag => json!({ "type": "boolean" }),
        Holds::Count(least, most) => {
            json!({ "type": "integer", "minimum": least, "maximum": most })
        }
        Holds::Word(words) => json!({ "type": "string", "enum": words }),
        Holds::Names(least, most) => {
            let list = json!({
                "type": "array", "items": text(), "minItems": least, "maxItems": most,
            });
            // A name alone is a list of one.
            if least > 1 {
                list
            } else {
                json!({ "anyOf": [text(), list] })
            }
        }
        Holds::Texts => json!({ "type": "array", "items": text() }),
        Holds::Point => pair(&quantity(Kind::SignedLength)),
        Holds::Points => {
            let point = pair(&quantity(Kind::SignedLength));
            json!({ "type": "array", "items": point, "minItems": 3, "maxItems": 100 })
        }
        Holds::Fractions => pair(&fraction()),
        Holds::Part(least, most) => {
            let limit = |text: &str| text.parse::<f64>().unwrap_or_default();
            let number =
                json!({ "type": "number", "minimum": limit(least), "maximum": limit(most) });
            json!({ "anyOf": [number, of_two()] })
        }
    }
}

/// Two whole numbers as in "1/3".
fn of_two() -> Value {
    json!({ "type": "string", "pattern": r"^\s*[0-9]+\s*/\s*0*[1-9][0-9]*\s*$" })
}

/// A field's values with what an editor tells of it.
pub(super) fn told(path: &str, field: &Field) -> Value {
    let mut value = values(field.holds);
    if let Some(object) = value.as_object_mut() {
        let usual = match field.usual {
            "" => String::new(),
            usual => format!(" Left out: {usual}."),
        };
        object.insert("title".into(), path.into());
        object.insert(
            "description".into(),
            format!("{}.{usual}", field.means).into(),
        );
        if let Some(example) = example(field.example) {
            object.insert("examples".into(), json!([example]));
        }
    }
    value
}

/// An example's value; a test reads all of them.
fn example(written: &str) -> Option<Value> {
    let document: toml::Table = toml::from_str(&format!("example = {written}")).ok()?;
    serde_json::to_value(document.get("example")?).ok()
}

fn quantity(kind: Kind) -> Value {
    json!({ "type": "string", "allOf": [reference(name_of(kind))] })
}

fn reference(name: &str) -> Value {
    json!({ "$ref": format!("#/definitions/{name}") })
}

const fn name_of(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "length",
        Kind::SignedLength => "signed-length",
        Kind::Angle => "angle",
        Kind::Feed => "feed",
        Kind::Spin => "spin",
        Kind::Time => "time",
        Kind::Acceleration => "acceleration",
        Kind::Density => "density",
        Kind::Share => "share",
    }
}

/// What values refer to: how quantities and texts are written.
pub(super) fn definitions() -> Map<String, Value> {
    let kinds = [
        Kind::Length,
        Kind::SignedLength,
        Kind::Angle,
        Kind::Feed,
        Kind::Spin,
        Kind::Time,
        Kind::Acceleration,
        Kind::Density,
        Kind::Share,
    ];
    let of_kind = |kind| {
        (
            name_of(kind).to_owned(),
            json!({ "pattern": expression(kind) }),
        )
    };
    let printable = json!({ "maxLength": 200, "pattern": PRINTABLE });
    let mut all: Map<String, Value> = kinds.into_iter().map(of_kind).collect();
    all.insert("text".to_owned(), printable);
    all
}

/// A plain number, or two whole ones as in "1/3".
fn fraction() -> Value {
    json!({ "anyOf": [{ "type": "number" }, of_two()] })
}

fn pair(item: &Value) -> Value {
    json!({ "type": "array", "items": item, "minItems": 2, "maxItems": 2 })
}

fn text() -> Value {
    json!({ "type": "string", "allOf": [reference("text")] })
}

/// A name that comes with the program, which editors offer, or a path.
fn named(shipped: Shipped) -> Value {
    let all = match shipped {
        Shipped::Machine => SHIPPED_MACHINES,
        Shipped::Pattern => SHIPPED_PATTERNS,
    };
    let names: Vec<&str> = all.iter().map(|profile| profile.name).collect();
    json!({ "anyOf": [{ "enum": names }, text()] })
}
