//! A person's own profile with some of its figures written anew: comments, order and line ends stay.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value};

/// A figure that is written.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenFigure {
    /// Where: `blade.kerf`, `rack.measured[2]`.
    pub field: String,
    /// With its unit.
    pub text: String,
    /// Its line in the table `[measured]`; none of a figure that was told beside readings.
    pub record: Option<FigureRecord>,
}

/// How a figure was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureRecord {
    /// Year, month and day with dashes between.
    pub date: String,
    /// How many.
    pub readings: usize,
    /// With its unit.
    pub deviation: String,
    /// With its unit.
    pub uncertainty: String,
}

/// Where records stand.
const MEASURED: &str = "measured";

/// Before a table of records that was not there.
const ABOUT: &str = "\n# Written by `lapwright machine measure`. Take a record out where you change its figure by hand.\n";

/// A profile's text with these figures in it. A list `rack.measured` that was not there is begun from
/// what the slots are called.
///
/// # Errors
/// Why it cannot be changed, in words: it is no TOML, or holds something else where a figure belongs.
pub fn with_figures(text: &str, figures: &[WrittenFigure]) -> Result<String, String> {
    let (mark, body) = match text.strip_prefix('\u{feff}') {
        Some(body) => ("\u{feff}", body),
        None => ("", text),
    };
    let plain = body.replace("\r\n", "\n");
    let mut document: DocumentMut = plain.parse().map_err(|error| format!("{error}"))?;
    for figure in figures {
        write_figure(&mut document, &figure.field, &figure.text)?;
    }
    for figure in figures {
        if let Some(record) = &figure.record {
            write_record(&mut document, figure, record)?;
        }
    }
    Ok(format!("{mark}{}", as_before(body, &document.to_string())))
}

fn write_figure(document: &mut DocumentMut, field: &str, text: &str) -> Result<(), String> {
    let wrong = || format!("{field} cannot be written into this profile");
    let (table, key) = field.split_once('.').ok_or_else(wrong)?;
    let (key, number) = match key.split_once('[') {
        Some((key, rest)) => (
            key,
            rest.strip_suffix(']')
                .and_then(|at| at.parse::<usize>().ok()),
        ),
        None => (key, None),
    };
    let table = table_in(document, table, "\n").ok_or_else(wrong)?;
    match number {
        None => set(table, key, text).ok_or_else(wrong),
        Some(at) => {
            if !table.contains_key(key) {
                let slots = table
                    .get("slots")
                    .and_then(Item::as_array)
                    .ok_or_else(wrong)?;
                let begun = begun_from(slots);
                table.insert(key, Item::Value(Value::Array(begun)));
            }
            let list = table.get_mut(key).and_then(Item::as_array_mut);
            let value = list.and_then(|list| list.get_mut(at)).ok_or_else(wrong)?;
            replace(value, text);
            Ok(())
        }
    }
}

/// A list on one line.
fn begun_from(slots: &Array) -> Array {
    slots.iter().filter_map(Value::as_str).collect()
}

/// A table at the top, which may be written in any form; a new one with `before` in front of it.
fn table_in<'d>(
    document: &'d mut DocumentMut,
    name: &str,
    before: &str,
) -> Option<&'d mut dyn TableLike> {
    if !document.contains_key(name) {
        // What stands behind the last key is kept in front of the new table.
        let last = document.trailing().as_str().unwrap_or_default().to_owned();
        document.set_trailing("");
        let mut table = Table::new();
        table.decor_mut().set_prefix(format!("{last}{before}"));
        document.insert(name, Item::Table(table));
    }
    document.get_mut(name)?.as_table_like_mut()
}

/// Writes a value for a key; a value that is there keeps what stands before and behind it.
fn set(table: &mut dyn TableLike, key: &str, text: &str) -> Option<()> {
    match table.get_mut(key) {
        Some(item) => replace(item.as_value_mut()?, text),
        None => {
            table.insert(key, Item::Value(text.into()));
        }
    }
    Some(())
}

fn replace(value: &mut Value, text: &str) {
    let decor = value.decor().clone();
    *value = text.into();
    *value.decor_mut() = decor;
}

fn write_record(
    document: &mut DocumentMut,
    figure: &WrittenFigure,
    told: &FigureRecord,
) -> Result<(), String> {
    let wrong = || {
        format!(
            "the record of {} cannot be written into this profile",
            figure.field
        )
    };
    let date: toml_edit::Datetime = told.date.parse().map_err(|_| wrong())?;
    let readings = i64::try_from(told.readings).map_err(|_| wrong())?;
    let mut record = InlineTable::new();
    record.insert("date", date.into());
    record.insert("readings", readings.into());
    record.insert("value", figure.text.as_str().into());
    record.insert("deviation", told.deviation.as_str().into());
    record.insert("uncertainty", told.uncertainty.as_str().into());
    let table = table_in(document, MEASURED, ABOUT).ok_or_else(wrong)?;
    match table.get_mut(&figure.field) {
        Some(item) => {
            let decor = item.as_value().map(|value| value.decor().clone());
            let mut value = Value::InlineTable(record);
            if let Some(decor) = decor {
                *value.decor_mut() = decor;
            }
            *item = Item::Value(value);
        }
        None => {
            // The whole field is one key.
            let key = Key::new(figure.field.as_str());
            table.insert(key.get(), Item::Value(Value::InlineTable(record)));
        }
    }
    Ok(())
}

/// The text with the line ends of the one that it was made from: of a line that was there its own, of
/// a new one that of the line before it.
fn as_before(old: &str, new: &str) -> String {
    if !old.contains("\r\n") {
        return new.to_owned();
    }
    let old: Vec<&str> = old.split_inclusive('\n').collect();
    let content = |line: &str| {
        line.trim_end_matches('\n')
            .trim_end_matches('\r')
            .to_owned()
    };
    let known: Vec<String> = old.iter().map(|line| content(line)).collect();
    let mut out = String::with_capacity(new.len() + old.len());
    let mut at = 0;
    let mut ending = if old.first().is_some_and(|line| line.ends_with("\r\n")) {
        "\r\n"
    } else {
        "\n"
    };
    let lines: Vec<&str> = new.split_inclusive('\n').collect();
    for (number, line) in lines.iter().enumerate() {
        let text = content(line);
        let next = lines.get(number + 1).map(|line| content(line));
        // A line that was changed is followed by the one that followed it; a new one is not.
        let is_there = known.get(at) == Some(&text);
        let is_changed = next.is_none_or(|next| known.get(at + 1) == Some(&next));
        if (is_there || is_changed)
            && let Some(line) = old.get(at)
        {
            ending = if line.ends_with("\r\n") { "\r\n" } else { "\n" };
            at += 1;
        }
        out.push_str(&text);
        if line.ends_with('\n') {
            out.push_str(ending);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(field: &str, text: &str) -> WrittenFigure {
        WrittenFigure {
            field: field.into(),
            text: text.into(),
            record: Some(FigureRecord {
                date: "2026-11-30".into(),
                readings: 5,
                deviation: "0.012 mm".into(),
                uncertainty: "0.015 mm".into(),
            }),
        }
    }

    const PROFILE: &str = "\
# mine
kind = 'sled' # a sled
[ blade ]
kerf =   '2.6 mm'  # of a groove
[rack]
slots = [ \"23 mm\",
  '31 mm' ] # two
repeatability = \"0.03 mm\"
# the end
";

    const CHANGED: &str = "\
# mine
kind = 'sled' # a sled
[ blade ]
kerf =   \"2.613 mm\"  # of a groove
[rack]
slots = [ \"23 mm\",
  '31 mm' ] # two
repeatability = \"0.03 mm\"
measured = [\"23 mm\", \"31.02 mm\"]
# the end

# Written by `lapwright machine measure`. Take a record out where you change its figure by hand.
[measured]
\"blade.kerf\" = { date = 2026-11-30, readings = 5, value = \"2.613 mm\", deviation = \"0.012 mm\", uncertainty = \"0.015 mm\" }
\"rack.measured[1]\" = { date = 2026-11-30, readings = 5, value = \"31.02 mm\", deviation = \"0.012 mm\", uncertainty = \"0.015 mm\" }
";

    #[test]
    fn all_but_the_figures_stays() {
        let figures = [
            figure("blade.kerf", "2.613 mm"),
            figure("rack.measured[1]", "31.02 mm"),
        ];
        let changed = with_figures(PROFILE, &figures).unwrap();
        assert_eq!(changed, CHANGED);
        // Once more: nothing is there twice.
        assert_eq!(with_figures(&changed, &figures).unwrap(), CHANGED);
        let crlf = |text: &str| text.replace('\n', "\r\n");
        assert_eq!(
            with_figures(&crlf(PROFILE), &figures).unwrap(),
            crlf(CHANGED)
        );
        assert_eq!(
            with_figures(&format!("\u{feff}{PROFILE}"), &figures).unwrap(),
            format!("\u{feff}{CHANGED}")
        );
    }

    #[test]
    fn every_line_keeps_its_own_end() {
        let mixed = PROFILE
            .replace("# mine\n", "# mine\r\n")
            .replace("# two\n", "# two\r\n");
        let figures = [figure("blade.kerf", "2.613 mm")];
        let changed = with_figures(&mixed, &figures).unwrap();
        let ends: Vec<bool> = changed
            .lines()
            .zip(changed.split_inclusive('\n'))
            .map(|(_, line)| line.ends_with("\r\n"))
            .collect();
        assert_eq!(
            ends[..9],
            [true, false, false, false, false, false, true, false, false],
            "{changed:?}"
        );
    }

    #[test]
    fn a_text_without_a_last_line_feed_and_tables_in_one_line() {
        let text = "blade = { kerf = \"2.6 mm\" }\nkind = \"sled\"";
        let changed = with_figures(text, &[figure("blade.kerf", "2.7 mm")]).unwrap();
        assert!(
            changed.starts_with("blade = { kerf = \"2.7 mm\" }\nkind = \"sled\"\n\n# Written"),
            "{changed}"
        );
        assert!(with_figures("blade = 3", &[figure("blade.kerf", "2.7 mm")]).is_err());
        assert!(
            with_figures(
                "[rack]\nslots = []",
                &[figure("rack.measured[0]", "2.7 mm")]
            )
            .is_err()
        );
    }
}
