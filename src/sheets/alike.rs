//! What several set-ups have in common is said once; what some of them have alone names them.

use crate::instructions::label_runs;
use crate::instructions::sheet::{Figure, Table, TableCell};
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm, UnitSystem};

/// Things that are told of set-ups, by the numbers of these.
type Told<T> = Vec<(T, Vec<usize>)>;

/// Sentences of several, in the order in which they are first said. Those that not all of them have
/// begin with `whose` they are, told by numbers from 1: `Set-ups 1-3: `.
pub(super) fn said_once(lists: &[Vec<Phrase>], whose: impl Fn(&[usize]) -> String) -> Vec<Phrase> {
    let mut told: Told<(&Phrase, usize)> = Vec::new();
    for (number, sentences) in (1..).zip(lists) {
        // A sentence that is new comes behind the one before it, and behind those that stand at its place in
        // earlier lists.
        let mut behind = 0;
        for (rank, sentence) in sentences.iter().enumerate() {
            let known = told
                .iter()
                .position(|((known, _), _)| reads_alike(known, sentence));
            match known.and_then(|at| Some((at, told.get_mut(at)?))) {
                Some((at, (_, numbers))) => {
                    numbers.push(number);
                    behind = at + 1;
                }
                None => {
                    let beside = told.iter().skip(behind);
                    let beside = beside.take_while(|((_, other), _)| *other == rank);
                    behind += beside.count();
                    told.insert(behind, ((sentence, rank), vec![number]));
                    behind += 1;
                }
            }
        }
    }
    let said = told.into_iter().map(|((sentence, _), numbers)| {
        if numbers.len() == lists.len() {
            return sentence.clone();
        }
        let mut words = Phrase::from(format!("{}: ", whose(&numbers)));
        words.append(sentence.clone());
        words
    });
    said.collect()
}

/// `Set-up 3`, `Set-ups 1-3, 7`.
pub(super) fn set_ups(numbers: &[usize]) -> String {
    named("Set-up", numbers)
}

/// `Bundle 3`, `Bundles 1-3, 7`.
pub(super) fn bundles(numbers: &[usize]) -> String {
    named("Bundle", numbers)
}

fn named(what: &str, numbers: &[usize]) -> String {
    let labels: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    let s = if numbers.len() == 1 { "" } else { "s" };
    format!("{what}{s} {}", label_runs(&labels))
}

/// Figures that all lists have alike, and what is left of each list.
pub(super) fn in_common(lists: &[Vec<Figure>]) -> (Vec<Figure>, Vec<Vec<Figure>>) {
    let Some((first, others)) = lists.split_first() else {
        return (Vec::new(), Vec::new());
    };
    let has = |list: &[Figure], figure: &Figure| list.iter().any(|own| figure_alike(own, figure));
    let mut same = first.clone();
    same.retain(|figure| others.iter().all(|list| has(list, figure)));
    let own = lists.iter().map(|list| {
        let own = list.iter().filter(|figure| !has(&same, figure));
        own.cloned().collect()
    });
    let own = own.collect();
    (same, own)
}

/// Tables as few as their columns let them be: rows that are printed alike stand once, with the numbers
/// of those that they are of in a last column. How they are to be read is said once.
pub(super) fn joined(
    tables: Vec<(usize, Table)>,
    of: &'static str,
    whose: impl Fn(&[usize]) -> String,
) -> Vec<Table> {
    let mut groups: Vec<Group> = Vec::new();
    for (number, table) in tables {
        match groups
            .iter_mut()
            .find(|(columns, _)| *columns == table.columns)
        {
            Some((_, own)) => own.push((number, table)),
            None => groups.push((table.columns.clone(), vec![(number, table)])),
        }
    }
    let groups = groups.into_iter().map(|(mut columns, tables)| {
        let numbers: Vec<usize> = tables.iter().map(|(number, _)| *number).collect();
        let captions: Vec<Vec<Phrase>> = tables
            .iter()
            .map(|(_, table)| vec![table.caption.clone()])
            .collect();
        let own = |places: &[usize]| {
            let own = places.iter().filter_map(|place| numbers.get(place - 1));
            whose(&own.copied().collect::<Vec<_>>())
        };
        let mut caption = Phrase::default();
        for (at, sentence) in said_once(&captions, own).into_iter().enumerate() {
            if at > 0 {
                caption.append(" ".into());
            }
            caption.append(sentence);
        }
        columns.push(of);
        Table {
            caption,
            columns,
            rows: joined_rows(tables),
        }
    });
    groups.collect()
}

/// Tables of the same columns, with whose they are.
type Group = (Vec<&'static str>, Vec<(usize, Table)>);

/// A row, how it is printed, and whose it is.
type JoinedRow = (Vec<TableCell>, Vec<String>, Vec<usize>);

fn joined_rows(tables: Vec<(usize, Table)>) -> Vec<Vec<TableCell>> {
    let mut rows: Vec<JoinedRow> = Vec::new();
    for (number, table) in tables {
        for row in table.rows {
            let read: Vec<String> = row.iter().map(printed).collect();
            match rows.iter_mut().find(|(_, known, _)| *known == read) {
                Some((_, _, numbers)) => numbers.push(number),
                None => rows.push((row, read, vec![number])),
            }
        }
    }
    let rows = rows.into_iter().map(|(mut row, _, numbers)| {
        let labels: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        row.push(TableCell::Text(label_runs(&labels)));
        row
    });
    rows.collect()
}

/// A cell as it is printed in either system of units.
fn printed(cell: &TableCell) -> String {
    let both = |figure: &dyn Fn(UnitSystem) -> String| {
        [UnitSystem::Millimetres, UnitSystem::Inches]
            .map(figure)
            .join(" ")
    };
    match cell {
        TableCell::Length(mm) => both(&|units| Mm(*mm).figure(units)),
        TableCell::AtLeast(mm) => both(&|units| AtLeast(*mm).figure(units)),
        TableCell::Count(count) => count.to_string(),
        TableCell::Text(text) => text.clone(),
        TableCell::Empty => String::new(),
    }
}

/// Whether two sentences are printed alike.
fn reads_alike(a: &Phrase, b: &Phrase) -> bool {
    let printed = |phrase: &Phrase| {
        [UnitSystem::Millimetres, UnitSystem::Inches].map(|units| phrase.text(units))
    };
    printed(a) == printed(b)
}

/// Whether two figures are.
fn figure_alike(a: &Figure, b: &Figure) -> bool {
    let value = |figure: &Figure| Phrase(vec![figure.value.clone()]);
    a.name == b.name && reads_alike(&value(a), &value(b)) && reads_alike(&a.measured, &b.measured)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::phrase;
    use crate::units::Mm;

    fn figures(figures: &[(&str, f64)]) -> Vec<Figure> {
        let figures = figures.iter();
        let figures = figures.map(|(name, mm)| Figure::new(name, Mm(*mm), "from a datum"));
        figures.collect()
    }

    #[test]
    fn what_all_have_in_common_is_said_once_and_nothing_is_lost() {
        let lists = [
            figures(&[("tool", 3.0), ("safe height", 12.0), ("length", 300.0)]),
            figures(&[
                ("tool", 3.0),
                ("safe height", 12.0 + 1e-9),
                ("length", 240.0),
            ]),
            figures(&[("tool", 3.0), ("safe height", 12.0), ("length", 300.0)]),
        ];
        let (same, own) = in_common(&lists);
        assert_eq!(same, figures(&[("tool", 3.0), ("safe height", 12.0)]));
        assert_eq!(own[0], figures(&[("length", 300.0)]));
        assert_eq!(own[1], figures(&[("length", 240.0)]));
        let (same, own) = in_common(&[figures(&[("tool", 3.0)]), figures(&[("tool", 4.0)])]);
        assert!(same.is_empty());
        assert_eq!(own[1], figures(&[("tool", 4.0)]));
    }

    #[test]
    fn sentences_keep_their_order_and_name_whose_they_are() {
        let say = |mm: &[f64]| -> Vec<Phrase> {
            mm.iter().map(|mm| phrase!("set {}", Mm(*mm))).collect()
        };
        let lists = [
            say(&[1.0, 3.0, 4.0]),
            say(&[1.0, 2.0, 4.0]),
            say(&[1.0, 3.0, 4.0, 5.0]),
        ];
        let told: Vec<String> = said_once(&lists, set_ups)
            .iter()
            .map(|said| said.text(UnitSystem::Millimetres))
            .collect();
        assert_eq!(
            told,
            [
                "set 1.00 mm",
                "Set-ups 1, 3: set 3.00 mm",
                "Set-up 2: set 2.00 mm",
                "set 4.00 mm",
                "Set-up 3: set 5.00 mm"
            ]
        );
    }
}
