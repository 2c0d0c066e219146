//! All parts that are made of wood, as a table.

use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind, NeedNote, StockPlan};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Brief;

/// The parts, then what is to be known of some.
pub(super) fn needs_section(plan: &StockPlan) -> Section {
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
    let mut notes: Vec<(String, Phrase)> = Vec::new();
    for (at, need) in (1..).zip(&plan.needs) {
        let rough = need.rough_mm.map(|[wide, thick]| {
            phrase!(
                "sawn to {} wide and {} thick before it is planed.",
                Brief(wide),
                Brief(thick)
            )
        });
        for words in need.note.iter().map(note).chain(rough) {
            add(&mut notes, at, words);
        }
    }
    let remarks = notes.into_iter().map(|(numbers, words)| {
        let mut remark = phrase!("{}: ", numbers);
        remark.append(words);
        remark
    });
    let remarks: Vec<Phrase> = remarks.chain(off_cuts(plan)).collect();
    let mut blocks = vec![Block::Table(table)];
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    Section {
        heading: "All that is made of wood".into(),
        blocks,
    }
}

/// What is said of several parts is said once, their numbers before it.
fn add(notes: &mut Vec<(String, Phrase)>, at: usize, words: Phrase) {
    match notes.iter_mut().find(|(_, known)| *known == words) {
        Some((numbers, _)) => numbers.push_str(&format!(", {at}")),
        None => notes.push((at.to_string(), words)),
    }
}

fn from(need: &Need) -> &'static str {
    match need.from {
        NeedFrom::Stick => "stick",
        NeedFrom::Sheet => "sheet",
        NeedFrom::Scrap => "scrap",
        NeedFrom::OffCut => "off-cut",
    }
}

fn note(note: &NeedNote) -> Phrase {
    match note {
        NeedNote::Row {
            way,
            pieces,
            wanted,
        } => phrase!(
            "{} on each ({}), {} wanted; its length has the grips in it.",
            counted(*pieces, "piece"),
            way.name(),
            *wanted
        ),
        NeedNote::Folded => "folded: its length is that of the strip before it is bent.".into(),
        NeedNote::Mouth => "has a bird's mouth at an end.".into(),
        NeedNote::Horns { horn_mm } => phrase!("with a horn of {} at each end.", Brief(*horn_mm)),
        NeedNote::Allowance { allowance_mm } => {
            phrase!(
                "longer than over its points by {} at each end.",
                Brief(*allowance_mm)
            )
        }
        NeedNote::OrThicker => "a thicker board does as well.".into(),
    }
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
