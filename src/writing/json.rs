//! JSON answers: a schema name, the plan as it stands, warnings, safety notes.

use crate::finding::{Finding, FindingPlace};
use crate::instructions::missing::Missing;
use crate::phrase::Phrase;
use crate::units::{NotPrintable, UnitSystem};
use serde::Serialize;
use serde_json::{Map, Value, json};

/// Digits after the decimal point: far below what any machine can set, far above the noise of
/// binary fractions, so that 42.8 is written 42.8.
const DECIMALS: f64 = 1e9;

/// The answer of a command as pretty-printed text with a line feed at its end. `schema` such as
/// `lapwright/sled/1`; the plan's fields stand at the top level.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn answer(
    schema: &str,
    plan: &impl Serialize,
    warnings: &[Finding],
    safety: &[&str],
) -> Result<String, NotPrintable> {
    let mut top = Map::new();
    top.insert("schema".into(), json!(schema));
    match serde_json::to_value(plan) {
        Ok(Value::Object(fields)) => top.extend(fields),
        _ => return Err(NotPrintable),
    }
    let warnings = warnings
        .iter()
        .map(|warning| Value::Object(in_brief(warning)));
    top.insert("warnings".into(), warnings.collect());
    top.insert("safety".into(), json!(safety));
    let mut value = Value::Object(top);
    round(&mut value)?;
    let mut text = serde_json::to_string_pretty(&value).map_err(|_| NotPrintable)?;
    text.push('\n');
    Ok(text)
}

/// What is not made, for a list in an answer.
pub fn missing(all: &[Missing]) -> Value {
    let mut list = Vec::new();
    for missing in all {
        list.push(json!({
            "part": missing.part.name(),
            "what": missing.what,
            "machine": missing.machine,
            "why": missing.why.iter().map(reason).collect::<Vec<_>>(),
        }));
    }
    Value::Array(list)
}

/// Why something is not made: a finding with its hint, and where it repeats.
fn reason(finding: &Finding) -> Value {
    let mut fields = in_brief(finding);
    if let Some(hint) = &finding.hint {
        fields.insert("hint".into(), text(hint));
    }
    let places = finding.places();
    if places.len() > 1 {
        fields.insert("count".into(), places.len().into());
        fields.insert("places".into(), by_bundle(places));
        if let Some(extent) = finding.extent() {
            let range = json!([extent.least, extent.greatest]);
            fields.insert("range_mm".into(), range);
        }
    }
    Value::Object(fields)
}

/// What every finding has.
fn in_brief(finding: &Finding) -> Map<String, Value> {
    let mut fields = Map::new();
    fields.insert("code".into(), finding.code.into());
    fields.insert("field".into(), finding.field.as_str().into());
    fields.insert("text".into(), text(&finding.message));
    fields
}

/// Programs read millimetres, whatever people read.
fn text(phrase: &Phrase) -> Value {
    phrase.text(UnitSystem::Millimetres).into()
}

/// Bundle by bundle, with the notches in it where it is about these.
fn by_bundle(places: &[FindingPlace]) -> Value {
    let mut list = Vec::new();
    for of_bundle in places.chunk_by(|a, b| a.bundle == b.bundle) {
        let notches: Vec<usize> = of_bundle.iter().filter_map(|place| place.notch).collect();
        let bundle = of_bundle.first().map(|place| place.bundle);
        list.push(json!({ "bundle": bundle, "notches": notches }));
    }
    Value::Array(list)
}

/// Rounds every number. What was not finite has become null on the way here; no plan has a null
/// of its own, as absent fields are left out.
fn round(value: &mut Value) -> Result<(), NotPrintable> {
    match value {
        Value::Null => Err(NotPrintable),
        Value::Number(number) if number.is_f64() => {
            let exact = number.as_f64().ok_or(NotPrintable)?;
            // Adding zero turns a negative zero into a plain one.
            let rounded = (exact * DECIMALS).round() / DECIMALS + 0.0;
            *value = serde_json::Number::from_f64(rounded)
                .map(Value::Number)
                .ok_or(NotPrintable)?;
            Ok(())
        }
        Value::Array(items) => items.iter_mut().try_for_each(round),
        Value::Object(fields) => fields.values_mut().try_for_each(round),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_rounded_once_and_must_be_finite() {
        let text = answer(
            "s/1",
            &json!({ "a_mm": 42.800_000_000_000_004, "b_mm": -1e-17 }),
            &[],
            &["x"],
        )
        .unwrap();
        assert!(
            text.contains("\"a_mm\": 42.8,") && text.contains("\"b_mm\": 0.0,"),
            "{text}"
        );
        assert!(answer("s/1", &json!({ "a_mm": f64::NAN }), &[], &[]).is_err());
    }
}
