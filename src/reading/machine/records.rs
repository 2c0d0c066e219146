//! The table `[measured]`: which figures of a profile were measured, when and how well.

use crate::finding::Finding;
use crate::machines::{Date, Machine, MeasuredFigure};
use crate::measuring::{name_of, written};
use crate::phrase;
use crate::reading::fields::{FieldValue, Fields, every};
use crate::units::{Kind, Mm, UnitSystem};

/// What stands for a record.
const RECORD: &str = "write a table in one line: \"blade.kerf\" = { date = 2026-11-30, readings = 5, deviation = \"0.012 mm\", uncertainty = \"0.015 mm\" }";

/// More readings than this nobody takes.
const MOST_READINGS: u32 = 10_000;

/// Whether a key of the table `[measured]` names a record: the fields of figures have a table before
/// their point. Other keys there are a machine kind's own.
pub(super) fn is_record(key: &str) -> bool {
    key.contains('.')
}

/// The records of a profile whose tables have been read; `machine` tells what figures are called.
pub(super) fn read_records(top: &Fields<'_>, machine: &Machine) -> Option<Vec<MeasuredFigure>> {
    let entries = top.entries("measured")?;
    let own_keys = matches!(machine, Machine::Router(_));
    let records = entries
        .iter()
        .filter(|(name, _)| is_record(name) || !own_keys);
    let read = records.map(|(name, value)| read_record(top, machine, name, value));
    every(read)
}

fn read_record(
    top: &Fields<'_>,
    machine: &Machine,
    name: &str,
    value: &FieldValue<'_, '_>,
) -> Option<MeasuredFigure> {
    let fields = value.table(RECORD)?;
    let date = fields.required_date("date");
    let readings = fields.required_count("readings", 2..=MOST_READINGS);
    let deviation = fields.required_quantity("deviation", Kind::Length);
    let uncertainty = fields.required_quantity("uncertainty", Kind::Length);
    let noted = if fields.has("value") {
        Some(fields.quantity("value", Kind::SignedLength)?)
    } else {
        None
    };
    fields.finish();
    let Some(figure) = top.length_read(name) else {
        let text = format!("this profile has no length in `{name}`");
        let hint = "a record is called as its figure's field: \"blade.kerf\", \"rack.measured[0]\"; take it out where the figure has gone";
        value.report("no-such-field", &text, hint);
        return None;
    };
    if let Some(noted) = noted
        && is_another(noted, figure.value)
    {
        let text = phrase!(
            "{} is {} now and was measured as {}: the record is not about this figure",
            name,
            Mm(figure.value),
            Mm(noted)
        );
        let fault = Finding::error("not-as-measured", &value.path, text);
        top.report(
            fault.hint("take the record out, or measure again: `lapwright machine measure`"),
        );
        return None;
    }
    Some(MeasuredFigure {
        field: name.to_owned(),
        name: name_of(machine, name),
        value: figure.value,
        date: date?,
        readings: readings? as usize,
        deviation: deviation?,
        uncertainty: uncertainty?,
    })
}

/// Whether two lengths, mm, are written differently.
fn is_another(one: f64, other: f64) -> bool {
    let text = |mm| written(mm, UnitSystem::Millimetres);
    text(one) != text(other)
}

impl Fields<'_> {
    /// A day of the calendar that has to be there.
    fn required_date(&self, key: &'static str) -> Option<Date> {
        self.need(key, "a day: 2026-11-30", self.date(key))
    }
}

#[cfg(test)]
mod tests {
    use crate::machines::Machine;
    use crate::reading::{read_machine, shipped_machine};

    fn codes(name: &str, records: &str) -> Vec<&'static str> {
        let text = shipped_machine(name).unwrap().text;
        let read = read_machine("mine.toml", &format!("{text}\n[measured]\n{records}\n"));
        let findings = read.err().map(|bad| bad.findings).unwrap_or_default();
        findings.iter().map(|finding| finding.code).collect()
    }

    const REST: &str = "readings = 5, deviation = \"0.012 mm\", uncertainty = \"0.015 mm\"";

    #[test]
    fn records_are_read_with_the_figures_they_are_about() {
        let text = shipped_machine("key-sled").unwrap().text;
        let records = format!(
            "[measured]\n\"blade.kerf\" = {{ date = 2026-11-30, value = \"2.6 mm\", {REST} }}\n\
             \"rack.measured[2]\" = {{ date = 2026-12-01, {REST} }}\n"
        );
        let profile = read_machine("mine.toml", &format!("{text}\n{records}")).unwrap();
        let Machine::Sled(sled) = profile.machine else {
            panic!()
        };
        let told: Vec<String> = (sled.measured.iter())
            .map(|figure| {
                format!(
                    "{} {} {} {}",
                    figure.name, figure.value, figure.date, figure.readings
                )
            })
            .collect();
        assert_eq!(
            told,
            ["kerf 2.6 2026-11-30 5", "slot 38 mm 38.02 2026-12-01 5"]
        );
    }

    #[test]
    fn records_that_say_nothing_true_are_refused() {
        for (record, code) in [
            (
                format!("\"blade.kerf\" = {{ date = 2026-11-30, {REST} }}"),
                "",
            ),
            (
                format!("\"blade.kerf\" = {{ date = \"2026-11-30\", {REST} }}"),
                "wrong-type",
            ),
            (
                format!("\"blade.kerf\" = {{ date = 2026-11-30T08:00:00, {REST} }}"),
                "wrong-type",
            ),
            (format!("\"blade.kerf\" = {{ {REST} }}"), "missing"),
            ("\"blade.kerf\" = 3".into(), "wrong-type"),
            (
                format!("\"blade.kerv\" = {{ date = 2026-11-30, {REST} }}"),
                "no-such-field",
            ),
            (
                format!("\"rack.measured[8]\" = {{ date = 2026-11-30, {REST} }}"),
                "no-such-field",
            ),
            (
                format!("\"blade.kerf\" = {{ date = 2026-11-30, value = \"2.7 mm\", {REST} }}"),
                "not-as-measured",
            ),
            (
                format!("kerf = {{ date = 2026-11-30, {REST} }}"),
                "no-such-field",
            ),
            (
                format!("\"blade.kerf\" = {{ date = 2026-11-30, days = 3, {REST} }}"),
                "unknown-key",
            ),
            (
                format!(
                    "\"blade.kerf\" = {{ date = 2026-11-30, {} }}",
                    REST.replace('5', "1")
                ),
                "count-out-of-range",
            ),
        ] {
            let found = codes("key-sled", &record);
            assert_eq!(
                found.contains(&code),
                !code.is_empty(),
                "{record}: {found:?}"
            );
            assert_eq!(found.is_empty(), code.is_empty(), "{record}: {found:?}");
        }
    }

    #[test]
    fn a_routers_test_notch_stands_beside_records() {
        let notch = "notch_programmed = \"3.05 mm\"\nnotch_measured = \"3.11 mm\"\n";
        let record = format!("\"measured.notch_measured\" = {{ date = 2026-11-30, {REST} }}");
        assert!(codes("small-router", &format!("{notch}{record}")).is_empty());
        let tool = format!("\"tool.diameter\" = {{ date = 2026-11-30, {REST} }}");
        assert!(codes("small-router", &tool).is_empty());
        assert_eq!(
            codes("small-router", "notch_programmed = \"3.05 mm\""),
            ["missing"]
        );
        assert_eq!(
            codes("small-router", &format!("{notch}notch = 3")),
            ["unknown-key"]
        );
    }
}
