//! The set-up sheet for a laser.

use crate::instructions::laser::LaserPlan;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Cell, Figure, Section, SetupSheet, Table};
use crate::phrase;
use crate::units::{Mm, decimal};

/// The sheet for a plan.
pub fn laser_sheet(plan: &LaserPlan) -> SetupSheet {
    let percent = |share: f64| format!("{} %", decimal(share * 100.0, 0).unwrap_or_default());
    let [length, width] = plan.sheet_mm;
    let figures = vec![
        Figure::new(
            "sheets",
            plan.files.len(),
            phrase![
                Mm(plan.sheet_thickness_mm),
                " thick, ",
                Mm(length),
                " along the grain by ",
                Mm(width)
            ],
        ),
        Figure::new(
            "kerf",
            Mm(plan.kerf_mm),
            "whole width of the groove; every outline runs half of it outside the part",
        ),
    ];
    let rows = plan.files.iter().map(|file| {
        let [x, y] = file.used_mm;
        vec![
            Cell::Count(file.sheet),
            Cell::Text(file.path.clone()),
            Cell::Count(file.parts.len()),
            Cell::Length(x),
            Cell::Length(y),
            Cell::Text(percent(file.utilisation)),
        ]
    });
    let table = Table {
        caption: "Along and across the grain: size of the whole drawing. Compare it with what the laser's program shows; a factor of 25.4 is a unit gone wrong.".into(),
        columns: vec!["sheet", "file", "strips", "along", "across", "used"],
        rows: rows.collect(),
    };
    let steps = vec![
        phrase![
            "Measure the sheet's thickness with a caliper: it must be ",
            Mm(plan.sheet_thickness_mm),
            ", or the laps will not fit."
        ],
        phrase![
            "Measure the kerf in this sheet: ten parallel cuts, parts pushed together, gap divided by ten. It must be ",
            Mm(plan.kerf_mm),
            "; if it is not, write it into the profile and make the files again."
        ],
        phrase!["Lay the sheet with its grain along X (the drawing's longer parts)."],
        phrase!["Layers in order: MARK (engrave), CUT_INNER, CUT_OUTER (cut through)."],
        phrase!["Cut two strips first, lap them, and check the fit before you cut the rest."],
    ];
    let section = Section {
        heading: "Strips from sheet".into(),
        blocks: vec![
            Block::Figures(figures),
            Block::Table(table),
            Block::Steps(steps),
        ],
    };
    SetupSheet {
        title: plan.title.clone(),
        machine: plan.machine.clone(),
        safety: SafetyNotes::for_laser(),
        sections: vec![section],
    }
}
