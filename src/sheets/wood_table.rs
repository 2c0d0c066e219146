//! Woods side by side: one table, how sure each figure is beside it, and who says so under it.

use super::overview::figure;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::instructions::wood_table::{Told, WoodRow, WoodTable};
use crate::phrase::Phrase;
use crate::woods::Basis;

const UNKNOWN: &str = "unknown";

/// The table of woods, as a section of a sheet.
pub fn wood_section(table: &WoodTable) -> Section {
    Section {
        heading: "Woods".into(),
        blocks: vec![
            Block::Table(Table {
                caption: caption(table),
                columns: vec![
                    "wood", "kg/m3", "hard, N", "moves, %", "works", "planes", "price",
                ],
                rows: table.woods.iter().map(cells).collect(),
            }),
            Block::Remarks(remarks(table)),
        ],
    }
}

/// The table alone.
pub fn woods_sheet(table: &WoodTable) -> SetupSheet {
    SetupSheet {
        part: SheetPart::Stock,
        title: "Woods side by side".into(),
        heading: "Woods".into(),
        safety: SafetyNotes::for_milling(),
        sections: vec![wood_section(table)],
    }
}

fn cells(row: &WoodRow) -> Vec<TableCell> {
    let price = row.price.map_or("-".into(), |price| {
        format!("{}{}", figure(price.amount, 2), price.per.words())
    });
    let texts = [
        row.wood.clone(),
        marked(row.density_kg_m3, |density| figure(density, 0)),
        marked(row.hardness_n, |newtons| {
            figure((newtons / 10.0).round() * 10.0, 0)
        }),
        marked(row.movement_percent, |[radial, tangential]| {
            format!("{}/{}", figure(radial, 2), figure(tangential, 2))
        }),
        marked(row.work, |work| {
            format!("{}/{}/{}", work.machining, work.splitting, work.gluing)
        }),
        marked(row.planed_well_percent, |percent| {
            format!("{} %", figure(percent, 0))
        }),
        price,
    ];
    texts.map(TableCell::Text).into()
}

/// A figure and a letter for how sure it is.
fn marked<T>(told: Option<Told<T>>, words: impl Fn(T) -> String) -> String {
    told.map_or(UNKNOWN.into(), |told| {
        let letter = letter(told.basis);
        format!("{} {letter}", words(told.value))
    })
}

fn letter(basis: Basis) -> char {
    match basis {
        Basis::Published => 'p',
        Basis::Secondary => 's',
        Basis::FromMemory => 'm',
        Basis::Derived => 'd',
        Basis::Job => 'g',
    }
}

/// How the columns are read; of the letters those that are there.
fn caption(table: &WoodTable) -> Phrase {
    let all = [
        Basis::Published,
        Basis::Secondary,
        Basis::FromMemory,
        Basis::Derived,
        Basis::Job,
    ];
    let there = all
        .into_iter()
        .filter(|basis| table.woods.iter().any(|row| bases(row).contains(basis)));
    let letters = there.map(|basis| format!("{} {}", letter(basis), basis.words()));
    let letters: Vec<String> = letters.collect();
    let letters = if letters.is_empty() {
        String::new()
    } else {
        format!(" How sure a figure is: {}.", letters.join(", "))
    };
    format!(
        "kg/m3: density at 12 % moisture. hard: side hardness by Janka, there too, to ten newtons. moves: percent of its width for \
         each percent of moisture, across the growth rings / along them. works: machining / keeping from \
         splitting / gluing, 1 fair to 4 excellent. planes: good pieces of those planed on trial. price: your own.\
         {letters}"
    )
    .into()
}

fn bases(row: &WoodRow) -> Vec<Basis> {
    sources(row)
        .into_iter()
        .map(|(_, basis, _)| basis)
        .collect()
}

/// Every figure that is shown: what it is, how sure it is, who says so.
fn sources(row: &WoodRow) -> Vec<(&'static str, Basis, &'static str)> {
    let density = row
        .density_kg_m3
        .map(|told| ("density", told.basis, told.source));
    let hardness = row
        .hardness_n
        .map(|told| ("hardness", told.basis, told.source));
    let movement = row
        .movement_percent
        .map(|told| ("movement", told.basis, told.source));
    let work = row.work.map(|told| ("working", told.basis, told.source));
    let planed = row
        .planed_well_percent
        .map(|told| ("planing", told.basis, told.source));
    [density, hardness, movement, work, planed]
        .into_iter()
        .flatten()
        .collect()
}

fn remarks(table: &WoodTable) -> Vec<Phrase> {
    let mut remarks: Vec<Phrase> = Vec::new();
    let brinell = table.woods.iter().filter_map(|row| {
        let told = row.brinell_n_mm2?;
        let basis = told.basis.words();
        Some(format!(
            "{}: hardness by Brinell {} N/mm2 ({basis}: {})",
            row.wood,
            figure(told.value, 0),
            told.source
        ))
    });
    remarks.extend(brinell.map(Phrase::from));
    for row in table.woods.iter().filter(|row| !row.like.is_empty()) {
        remarks.push(
            format!(
                "{}: not in the tables; perhaps {}",
                row.wood,
                row.like.join(", ")
            )
            .into(),
        );
    }
    for what in ["density", "hardness", "movement", "working", "planing"] {
        let mut names: Vec<&str> = Vec::new();
        for (_, _, source) in table
            .woods
            .iter()
            .flat_map(sources)
            .filter(|(own, _, _)| *own == what)
        {
            if !names.contains(&source) {
                names.push(source);
            }
        }
        if !names.is_empty() {
            remarks.push(format!("{what} by: {}", names.join("; ")).into());
        }
    }
    remarks
        .push("single boards scatter widely about such figures; try the wood that you have".into());
    remarks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::wood_table::{Price, PricedBy};
    use crate::planning::OwnWood;
    use crate::units::UnitSystem;
    use crate::writing::text;

    fn printed(asked: &[OwnWood]) -> String {
        let section = wood_section(&WoodTable::of(asked));
        text::sections(&[section], UnitSystem::Millimetres)
    }

    fn line<'a>(text: &'a str, name: &str) -> Vec<&'a str> {
        let line = text
            .lines()
            .find(|line| line.trim_start().starts_with(name));
        let cells = line
            .unwrap_or_else(|| panic!("{name}:\n{text}"))
            .trim()
            .split("  ");
        cells
            .map(str::trim)
            .filter(|cell| !cell.is_empty())
            .collect()
    }

    /// All woods that there are, in lines that a page takes.
    #[test]
    fn all_woods_fit_a_page() {
        let text = printed(&[]);
        assert!(
            text.lines().all(|line| line.chars().count() <= 100),
            "{text}"
        );
        let basswood = [
            "basswood",
            "414 s",
            "1820 s",
            "0.23/0.33 p",
            "unknown",
            "64 % m",
            "-",
        ];
        assert_eq!(line(&text, "basswood"), basswood);
        let redcedar = [
            "western redcedar",
            "358 m",
            "1560 s",
            "0.11/0.23 m",
            "3/3/4 p",
            "unknown",
            "-",
        ];
        assert_eq!(line(&text, "western redcedar"), redcedar);
        // Hinoki is in no table of weights.
        let hinoki = [
            "hinoki",
            "unknown",
            "unknown",
            "0.12/0.23 p",
            "unknown",
            "unknown",
            "-",
        ];
        assert_eq!(line(&text, "hinoki"), hinoki);
        assert!(line(&text, "linden").contains(&"2660 d"), "{text}");
        // As one line, whatever is wrapped.
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for told in [
            "p published, s secondary, m from memory, d derived.",
            "linden: hardness by Brinell 16 N/mm2 (published: trade pages on European woods)",
            "working by: Table of Relative Working and Physical Properties, Oregon State University",
        ] {
            assert!(flat.contains(told), "{told}:\n{text}");
        }
    }

    #[test]
    fn own_figures_and_unknown_names() {
        let own = |name: &str| OwnWood {
            name: name.into(),
            density: Some(405.0),
            price: Some(Price {
                amount: 9.5,
                per: PricedBy::BoardFoot,
            }),
            ..OwnWood::default()
        };
        let text = printed(&[own("basswood"), own("maple")]);
        let basswood = [
            "basswood",
            "405 g",
            "1820 s",
            "0.23/0.33 p",
            "unknown",
            "64 % m",
            "9.50/bd ft",
        ];
        assert_eq!(line(&text, "basswood"), basswood);
        let maple = [
            "maple",
            "405 g",
            "unknown",
            "unknown",
            "unknown",
            "unknown",
            "9.50/bd ft",
        ];
        assert_eq!(line(&text, "maple"), maple);
        assert!(
            text.contains("maple: not in the tables; perhaps red maple, sugar maple"),
            "{text}"
        );
        assert!(!text.contains("d derived"), "{text}");
    }
}
