//! All parts that are made of wood, as a table.

use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind, NeedNote, StockPlan};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::{Brief, UnitSystem};

/// The parts, then what is to be known of some.
pub(super) fn needs_section(plan: &StockPlan, units: UnitSystem) -> Section {
    let rows = (1..).zip(&plan.needs).map(|(at, need): (usize, &Need)| {
        let [across, deep] = need.section_mm;
        vec![
            TableCell::Count(at),
            TableCell::Text(need.what.clone()),
            TableCell::Length(across),
            TableCell::Length(deep),
            TableCell::Length(need.length_mm),
            TableCell::Count(need.count),
            TableCell::Count(need.spare),
            TableCell::Text(from(need).to_owned()),
        ]
    });
    let table = Table {
        caption: "Long: as it is cut, end to end: strips with their overhangs, pieces at their rough lengths, members as blanks. Thick: as seen from the front, of a member its width; deep: front to back.".into(),
        columns: vec!["no", "part", "thick", "deep", "long", "count", "spare", "from"],
        rows: rows.collect(),
    };
    let mut remarks: Vec<Phrase> = Vec::new();
    for (at, need) in (1..).zip(&plan.needs) {
        remarks.extend(note(at, need));
        if let Some([wide, thick]) = need.rough_mm {
            remarks.push(phrase!(
                "{}: sawn to {} wide and {} thick before it is planed.",
                at,
                Brief(wide),
                Brief(thick)
            ));
        }
    }
    remarks.extend(off_cuts(plan));
    let mut blocks = vec![Block::Table(table)];
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(joined(remarks, units)));
    }
    Section {
        heading: "All that is made of wood".into(),
        blocks,
    }
}

/// What says the same of several parts is told once, their numbers before it.
fn joined(remarks: Vec<Phrase>, units: UnitSystem) -> Vec<Phrase> {
    let mut told: Vec<(String, String, Phrase)> = Vec::new();
    for remark in remarks {
        let text = remark.text(units);
        let Some((number, words)) = text
            .split_once(": ")
            .filter(|(number, _)| number.parse::<usize>().is_ok())
        else {
            told.push((String::new(), text, remark));
            continue;
        };
        match told
            .iter_mut()
            .find(|(numbers, known, _)| !numbers.is_empty() && known == words)
        {
            Some((numbers, _, _)) => {
                numbers.push_str(", ");
                numbers.push_str(number);
            }
            None => told.push((number.to_owned(), words.to_owned(), remark)),
        }
    }
    let all = told.into_iter().map(|(numbers, words, remark)| {
        if numbers.is_empty() {
            remark
        } else {
            phrase!("{}: {}", numbers, words)
        }
    });
    all.collect()
}

fn from(need: &Need) -> &'static str {
    match need.from {
        NeedFrom::Stick => "stick",
        NeedFrom::Sheet => "sheet",
        NeedFrom::Scrap => "scrap",
        NeedFrom::OffCut => "off-cut",
    }
}

fn note(at: usize, need: &Need) -> Option<Phrase> {
    Some(match need.note.as_ref()? {
        NeedNote::Row {
            way,
            pieces,
            wanted,
        } => phrase!(
            "{}: {} on each ({}), {} wanted; a long stick with its grips.",
            at,
            counted(*pieces, "piece"),
            way.name(),
            *wanted
        ),
        NeedNote::Folded => phrase!(
            "{}: folded; its length is that of the strip before it is bent.",
            at
        ),
        NeedNote::Mouth => phrase!("{}: has a bird's mouth at an end.", at),
        NeedNote::Horns { horn_mm } => {
            phrase!("{}: with a horn of {} at each end.", at, Brief(*horn_mm))
        }
        NeedNote::Allowance { allowance_mm } => {
            phrase!(
                "{}: longer than its long points by {} at each end.",
                at,
                Brief(*allowance_mm)
            )
        }
        NeedNote::OrThicker => phrase!("{}: a thicker board does as well.", at),
    })
}

/// Whether what sticks leave does for what machines are tried on.
fn off_cuts(plan: &StockPlan) -> Option<Phrase> {
    let off = &plan.off_cuts;
    let tests = plan
        .needs
        .iter()
        .any(|need| need.kind == NeedKind::TestPiece);
    tests.then(|| {
        let lead = phrase!(
            "Test pieces (`lapwright machine measure`): {} of {} at the most, once for a machine, not for a job; ",
            off.wanted,
            Brief(off.length_mm)
        );
        let mut words = lead;
        words.append(phrase!("what these sticks leave gives {}", off.there));
        words.append(if off.there >= off.wanted {
            ".".into()
        } else {
            "; rejects and any wood of that section do for the rest.".into()
        });
        words
    })
}
