//! The table of fields as a text for a terminal.

use super::field::{Field, Holds, Needed, Reference, Rule, Shipped, Table, When};
use crate::units::Kind;

/// Letters in a line.
const WIDTH: usize = 100;

/// Before what is said of a key.
const INDENT: &str = "      ";

impl Reference {
    /// All that may stand in such a file, table by table, in lines of 100 letters.
    pub fn text(&self) -> String {
        let mut text = String::new();
        wrap(&mut text, "", self.about);
        for table in self.tables {
            text.push('\n');
            table_text(&mut text, table);
        }
        text
    }
}

fn table_text(text: &mut String, table: &Table) {
    let head = heading(table);
    text.push_str(&head);
    if table.path.is_empty() || table.path.contains(['*', '[']) {
        text.push('\n');
    } else {
        let needed = match table.needed {
            Needed::Yes => "   needed\n",
            Needed::No => "   may be left out\n",
        };
        text.push_str(needed);
    }
    wrap(text, "  ", table.about);
    let mut told: Vec<&str> = Vec::new();
    for field in table.fields {
        if told.contains(&field.key) {
            continue;
        }
        told.push(field.key);
        let rows: Vec<&Field> = table
            .fields
            .iter()
            .filter(|row| row.key == field.key)
            .collect();
        field_text(text, table, &rows);
    }
    for sentence in rule_sentences(table) {
        text.push('\n');
        wrap(text, "  ", &sentence);
    }
}

/// The line by which a table is known.
fn heading(table: &Table) -> String {
    if table.path.is_empty() {
        return "At the top of the file".to_owned();
    }
    match table.path.strip_suffix("[]") {
        Some(name) if table.or.is_none() => format!("[[{name}]]"),
        Some(name) => format!("{name}, each entry of the list"),
        None => match table.path.strip_suffix(".*") {
            Some(name) => format!("[{name}], each entry"),
            None => format!("[{}]", table.path.replace("[]", "")),
        },
    }
}

/// A key: how it is written, what it means, what it holds, when.
fn field_text(text: &mut String, table: &Table, rows: &[&Field]) {
    let Some(first) = rows.first() else {
        return;
    };
    let name = match first.key {
        "*" => "(name)",
        key => key,
    };
    text.push('\n');
    wrap(text, "  ", &format!("{name} = {}", first.example));
    let mut said = String::new();
    for row in rows {
        if row.means != said {
            wrap(text, INDENT, &format!("{}.", row.means));
            row.means.clone_into(&mut said);
        }
    }
    for (holds, usual, needed, whens) in alike(rows) {
        let mut line = holds_words(holds);
        let conditions: Vec<String> = whens
            .iter()
            .filter(|only| !only.is_empty())
            .map(|only| all_of(table, only))
            .collect();
        if !conditions.is_empty() {
            line.push_str(&format!("; {}", conditions.join("; or ")));
        }
        match needed {
            Needed::Yes => line.push_str(". Needed."),
            Needed::No if usual.is_empty() => line.push('.'),
            Needed::No => line.push_str(&format!(". Left out: {usual}.")),
        }
        wrap(text, INDENT, &line);
    }
}

/// Rows of a key that differ in nothing but when they hold.
type Alike = (Holds, &'static str, Needed, Vec<Vec<When>>);

fn alike(rows: &[&Field]) -> Vec<Alike> {
    let mut all: Vec<Alike> = Vec::new();
    for row in rows {
        let same = |known: &&mut Alike| {
            holds_words(known.0) == holds_words(row.holds)
                && known.1 == row.usual
                && known.2 == row.needed
        };
        match all.iter_mut().find(same) {
            Some(known) => known.3.push(row.only.to_vec()),
            None => all.push((row.holds, row.usual, row.needed, vec![row.only.to_vec()])),
        }
    }
    for (.., whens) in &mut all {
        merge(whens);
    }
    all
}

/// Conditions of which one says that a key is there and the other that it is not, and which are the same
/// otherwise, are one without that key.
fn merge(whens: &mut Vec<Vec<When>>) {
    let pairs = |count: usize| (0..count).flat_map(move |a| (0..a).map(move |b| (b, a)));
    let common = |whens: &[Vec<When>], (a, b): (usize, usize)| {
        let (one, other) = (whens.get(a)?, whens.get(b)?);
        let rest = |of: &[When], not: &[When]| -> Vec<When> {
            of.iter()
                .filter(|when| !not.contains(when))
                .copied()
                .collect()
        };
        let opposite = match (rest(one, other).as_slice(), rest(other, one).as_slice()) {
            ([When::Has(p)], [When::Lacks(q)]) | ([When::Lacks(p)], [When::Has(q)]) => p == q,
            _ => false,
        };
        opposite.then(|| {
            one.iter()
                .filter(|when| other.contains(when))
                .copied()
                .collect()
        })
    };
    loop {
        let found = pairs(whens.len()).find_map(|pair| Some((pair, common(whens, pair)?)));
        let Some(((a, b), both)) = found else { return };
        whens.remove(b.max(a));
        if let Some(one) = whens.get_mut(a.min(b)) {
            *one = both;
        }
    }
}

/// Several conditions that all hold: what keys say first, then which are there.
fn all_of(table: &Table, only: &[When]) -> String {
    let (say, are): (Vec<&When>, Vec<&When>) = only
        .iter()
        .partition(|when| matches!(when, When::Is(..) | When::True(_)));
    let say: Vec<String> = say.iter().map(|when| when_words(table, when)).collect();
    let say = Some(format!("where {}", say.join(" and "))).filter(|_| !say.is_empty());
    let are = are.iter().map(|when| when_words(table, when));
    say.into_iter().chain(are).collect::<Vec<_>>().join(", ")
}

fn kind_words(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "length",
        Kind::SignedLength => "length, also below zero",
        Kind::Angle => "angle",
        Kind::Feed => "feed",
        Kind::Spin => "turns a minute",
        Kind::Time => "time",
        Kind::Acceleration => "acceleration",
        Kind::Density => "density",
        Kind::Share => "share",
    }
}

fn holds_words(holds: Holds) -> String {
    match holds {
        Holds::Quantity(kind) => capital(kind_words(kind)),
        Holds::AboveZero => "Length above zero".into(),
        Holds::Within(kind, least, most) => {
            format!("{}, {least} to {most}", capital(kind_words(kind)))
        }
        Holds::Quantities(kind) => format!("List: {} after {}", kind_words(kind), kind_words(kind)),
        Holds::OneOrTwo(kind) => format!("{}, or a list of two", capital(kind_words(kind))),
        Holds::Text => "Text".into(),
        Holds::Named(Shipped::Machine) => {
            "Name of a profile that comes with the program (`lapwright machine list`), or a file"
                .into()
        }
        Holds::Named(Shipped::Pattern) => {
            "Name of a pattern that comes with the program (`lapwright pattern list`), or a file"
                .into()
        }
        Holds::Flag => "true or false".into(),
        Holds::Count(least, most) => format!("Whole number, {least} to {most}"),
        Holds::Word(words) => {
            let words: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
            format!("One of {}", words.join(", "))
        }
        Holds::Names(least, most) if least == most => format!("List of {least} names"),
        Holds::Names(..) => "Name, or a list of names".into(),
        Holds::Texts => "List of texts".into(),
        Holds::Point => "Point: a pair of lengths".into(),
        Holds::Points => "List of points, each a pair of lengths".into(),
        Holds::Fractions => "Pair of fractions".into(),
        Holds::Part(least, most) => format!("Number or fraction, {least} to {most}"),
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// A key as a person of this table calls it: tables in brackets, others of this table by their key.
fn called(table: &Table, path: &str) -> String {
    let own = path
        .strip_prefix(table.path)
        .and_then(|rest| rest.strip_prefix('.'));
    match own {
        Some(key) => format!("`{key}`"),
        None if path.contains('.') => format!("`{path}`"),
        None => format!("[{path}]"),
    }
}

fn when_words(table: &Table, when: &When) -> String {
    match when {
        When::Is(path, words) => {
            let words: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
            format!("{} is {}", called(table, path), words.join(" or "))
        }
        When::True(path) => format!("{} is true", called(table, path)),
        When::Has(path) => format!("with {}", called(table, path)),
        When::Lacks(path) => format!("without {}", called(table, path)),
    }
}

/// How a table's keys go together, a sentence each; what holds under the same condition is said in one.
fn rule_sentences(table: &Table) -> Vec<String> {
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for rule in table.rules {
        let (condition, words) = rule_words(table, rule);
        if words.is_empty() {
            continue;
        }
        match told
            .iter_mut()
            .find(|(known, _)| *known == condition && !known.is_empty())
        {
            Some((_, all)) => all.push(words),
            None => told.push((condition, vec![words])),
        }
    }
    let sentence = |(condition, words): (String, Vec<String>)| match condition.as_str() {
        "" => format!("{}.", capital(&words.join("; "))),
        condition => format!("{}: {}.", capital(condition), words.join("; ")),
    };
    told.into_iter().map(sentence).collect()
}

/// When a rule holds, and what it says; nothing where another rule of the table says it too.
fn rule_words(table: &Table, rule: &Rule) -> (String, String) {
    let named = |keys: &[&str], last: &str| {
        let keys: Vec<String> = keys.iter().map(|key| format!("`{key}`")).collect();
        match keys.split_last() {
            Some((end, rest)) if !rest.is_empty() => format!("{} {last} {end}", rest.join(", ")),
            _ => keys.concat(),
        }
    };
    let always = String::new();
    match rule {
        Rule::OneOf(keys) => (
            always,
            format!(
                "one of {} is needed, and no other of them",
                named(keys, "and")
            ),
        ),
        Rule::AtMostOne(keys) => (always, format!("only one of {}", named(keys, "and"))),
        Rule::AnyOf(when, keys) => (
            all_of(table, when),
            format!("{} is needed", named(keys, "or")),
        ),
        Rule::Together(keys) => (
            always,
            format!("all of {} or none of them", named(keys, "and")),
        ),
        Rule::Takes(key, other) => (always, takes_words(table, key, other)),
        Rule::Not(when, [key]) => (all_of(table, when), format!("no `{key}`")),
        Rule::Not(when, [one, other]) => (
            all_of(table, when),
            format!("neither `{one}` nor `{other}`"),
        ),
        Rule::Not(when, keys) => (
            all_of(table, when),
            format!("none of {}", named(keys, "and")),
        ),
    }
}

/// Two keys of which each takes the other are told once.
fn takes_words(table: &Table, key: &str, other: &str) -> String {
    let place = |first: &str, second: &str| {
        let mut rules = table.rules.iter();
        rules.position(|rule| matches!(rule, Rule::Takes(a, b) if *a == first && *b == second))
    };
    match place(other, key) {
        Some(back) if Some(back) < place(key, other) => String::new(),
        Some(_) => format!("`{key}` and `{other}` go together"),
        None => format!("`{key}` goes with `{other}`"),
    }
}

/// Adds a paragraph in lines of at most [`WIDTH`] letters.
fn wrap(text: &mut String, indent: &str, paragraph: &str) {
    let mut length = 0;
    for word in paragraph.split_whitespace() {
        let letters = word.chars().count();
        if length > 0 && length + 1 + letters > WIDTH {
            text.push('\n');
            length = 0;
        }
        if length == 0 {
            text.push_str(indent);
            length = indent.len();
        } else {
            text.push(' ');
            length += 1;
        }
        text.push_str(word);
        length += letters;
    }
    if length > 0 {
        text.push('\n');
    }
}
