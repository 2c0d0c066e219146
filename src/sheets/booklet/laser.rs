//! The part of what is cut from sheet: all kinds of parts on one card.

use super::machines::ready;
use crate::geometry::Point;
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::laser::{LaserPlan, SheetFile};
use crate::instructions::sheet::{
    Block, Figure, Gallery, Picture, Section, SetupSheet, Table, TableCell, Tally,
};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::alike::{in_common, said_once};
use crate::sheets::measured_figures::measured_section;
use crate::sheets::measured_stock::stock_section;
use crate::sheets::sheet_cutting::{
    SIZES, blank_sheet, cutting_figures, file_row, guide_words, label_words, sections_of_parts,
    steps_of_measured_sheet, thickness_field,
};
use crate::units::{AtLeast, Mm};
use std::collections::BTreeSet;

/// The card of what is cut from sheet. How closely parts lie is told on the card of what is bought, where there is one.
pub(super) fn sheet(
    plans: &[LaserPlan],
    bought: Option<&mut SetupSheet>,
    guide_has_card: bool,
) -> Option<SetupSheet> {
    let first = plans.first()?;
    let layouts = Section {
        heading: "Sheets, and how closely parts lie on them".into(),
        blocks: vec![Block::Table(layouts_table(plans))],
    };
    let mut sections = vec![ready(vec![
        phrase!("The sheets of the table; their files loaded."),
        phrase!("A scrap of each sheet for the kerf's test; caliper."),
    ])];
    sections.extend(stock_section(first.measured_stock.as_ref()));
    sections.extend(measured_section(&first.measured_figures));
    sections.push(all_sheets(plans));
    sections.push(work(plans, guide_has_card));
    for plan in plans {
        sections.extend(sections_of_parts(plan));
    }
    match bought {
        Some(bought) => bought.sections.push(layouts),
        None => sections.push(layouts),
    }
    Some(SetupSheet {
        sections,
        ..blank_sheet(first)
    })
}

/// Pictures of sheets beside each other: nothing is written in them.
const MOST_IN_ROW: usize = 6;

/// Figures that stand in rows of a table.
const IN_ROWS: [&str; 3] = ["sheets", "layout", "travel"];

/// What is set, and a row for each kind of parts and each drawing.
fn all_sheets(plans: &[LaserPlan]) -> Section {
    let lists: Vec<Vec<Figure>> = plans.iter().map(told_apart).collect();
    let (same, own) = in_common(&lists);
    let own: Vec<Vec<Phrase>> = own.into_iter().map(sentences).collect();
    // All are of the one machine's sheets.
    let mut remarks: Vec<Phrase> = plans.first().map(sheet_size).into_iter().collect();
    remarks.extend(said_once(&own, |numbers| names(plans, numbers)));
    let layouts = plans
        .iter()
        .flat_map(|plan| plan.files.iter().map(|file| layout(plan, file)));
    let pictures: Vec<Picture> = layouts.collect();
    let layouts = Gallery {
        columns: pictures.len().clamp(4, MOST_IN_ROW),
        pictures,
    };
    let blocks = vec![
        Block::Figures(same),
        Block::Remarks(remarks),
        Block::Table(files_table(plans)),
        Block::Gallery(layouts),
    ];
    let heading = match plans {
        [only] => format!("From sheet: {}", only.what),
        _ => "From sheet".into(),
    };
    Section { heading, blocks }
}

fn sheet_size(plan: &LaserPlan) -> Phrase {
    let [along, across] = plan.sheet_mm;
    phrase!(
        "Each sheet is {} along the grain by {}; its picture shows it whole, to scale, the grain from left to right.",
        Mm(along),
        Mm(across)
    )
}

/// A kind's figures that no row has.
fn told_apart(plan: &LaserPlan) -> Vec<Figure> {
    let mut figures = cutting_figures(plan);
    let proved = plan.rows.is_some_and(|rows| rows.proved);
    figures.retain(|figure| {
        let in_row = IN_ROWS.contains(&figure.name.as_str());
        !(in_row || (proved && figure.name == "rows"))
    });
    figures
}

fn sentences(figures: Vec<Figure>) -> Vec<Phrase> {
    let said = figures.into_iter().map(|figure| {
        let mut words = phrase!("{} {}, ", figure.name, figure.value);
        words.append(figure.measured);
        words.append(phrase!("."));
        words
    });
    said.collect()
}

/// `strips, guide blocks`.
fn names(plans: &[LaserPlan], numbers: &[usize]) -> String {
    let named = numbers.iter().filter_map(|number| plans.get(number - 1));
    let named: Vec<&str> = named.map(|plan| plan.what.as_str()).collect();
    let mut words = named.join(", ");
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    words
}

/// A row for each drawing.
fn files_table(plans: &[LaserPlan]) -> Table {
    let rows = plans.iter().flat_map(|plan| {
        plan.files.iter().map(|file| {
            let mut row = file_row(file);
            row.insert(0, TableCell::Text(plan.what.clone()));
            row.insert(4, thickness(plan));
            row
        })
    });
    let mut caption = Phrase::from("Thick: the sheet. ");
    caption.append(SIZES.into());
    Table {
        caption,
        columns: vec![
            "parts of",
            "sheet",
            "file",
            "parts",
            "thick",
            "along",
            "across",
            "used",
            "off-cut along",
            "across",
        ],
        rows: rows.collect(),
    }
}

/// Of its sheets.
fn thickness(plan: &LaserPlan) -> TableCell {
    match (plan.sheet_thickness_mm, plan.stack) {
        (Some(thickness), _) => TableCell::Length(thickness),
        (None, Some(stack)) => TableCell::AtLeast(AtLeast(stack.least_sheet_mm).0),
        (None, None) => TableCell::Text("any".into()),
    }
}

/// A row for each kind of parts: of what sheets, how many, how close together.
fn layouts_table(plans: &[LaserPlan]) -> Table {
    let rows = plans.iter().map(|plan| {
        let sum = |way: fn(&SheetFile) -> f64| plan.files.iter().map(way).sum::<f64>();
        vec![
            TableCell::Text(plan.what.clone()),
            TableCell::Count(plan.files.len()),
            thickness(plan),
            TableCell::Length(plan.width_taken_mm),
            TableCell::Length(plan.least_width_mm),
            TableCell::Count(plan.fewest_sheets_by_area),
            TableCell::Count(plan.fewest_sheets_by_length),
            plan.rows
                .map_or(TableCell::Empty, |rows| TableCell::Count(rows.taken)),
            TableCell::Length(sum(|file| file.travel_mm)),
            TableCell::Length(sum(|file| file.travel_before_mm)),
        ]
    });
    let mut caption = phrase!(
        "Thick: each sheet. Layout: across the grain, the sheets added up; no layout on as many sheets or fewer takes less than least, no part turned. By area, by length: no layout needs fewer sheets, by the parts' area and by the long parts. Rows: of parts beside each other; it is proved that no layout has fewer, where nothing else is said. Travel: way from path to path as drawn; unsorted: in the parts' own order."
    );
    if plans.iter().any(|plan| plan.stack.is_some()) {
        caption.append(phrase!(
            " Thick, of layers that are glued on each other: or thicker."
        ));
    }
    Table {
        caption,
        columns: vec![
            "parts of",
            "sheets",
            "thick",
            "layout",
            "least",
            "by area",
            "by length",
            "rows",
            "travel",
            "unsorted",
        ],
        rows: rows.collect(),
    }
}

/// The steps of all kinds, those that they share once; how a guide is put together is told on its own card,
/// where there is one.
fn work(plans: &[LaserPlan], guide_has_card: bool) -> Section {
    let lists = plans.iter().map(|plan| {
        let mut steps = steps_of_measured_sheet(plan);
        steps.retain(|step| !guide_has_card || *step != guide_words());
        steps
    });
    let lists: Vec<Vec<Phrase>> = lists.collect();
    let mut steps = Vec::from_iter(measured_sheets(plans));
    steps.extend(said_once(&lists, |numbers| names(plans, numbers)));
    let mut blocks = vec![
        Block::Steps(steps),
        Block::Tally(Tally {
            what: "sheets cut".into(),
            count: plans.iter().map(|plan| plan.files.len()).sum(),
        }),
    ];
    let labels: Vec<Phrase> = plans.iter().filter_map(label_words).collect();
    blocks.extend((!labels.is_empty()).then_some(Block::Remarks(labels)));
    Section {
        heading: "Steps at every sheet".into(),
        blocks,
    }
}

/// What sheets are measured for.
fn measured_sheets(plans: &[LaserPlan]) -> Option<Phrase> {
    let fields = plans
        .iter()
        .filter(|plan| plan.sheet_thickness_mm.is_some());
    let fields: BTreeSet<&str> = fields.map(thickness_field).collect();
    let [fields @ .., last] = &*fields.into_iter().collect::<Vec<_>>() else {
        return None;
    };
    let fields = match fields {
        [] => (*last).to_owned(),
        others => format!("of pieces {}, of strips {last}", others.join(", ")),
    };
    Some(phrase!(
        "Measure each sheet's thickness with a caliper: it must be what its row says, or nothing will fit. Where it is not, put what it measures into the job ({}) and make the files again.",
        fields
    ))
}

/// A sheet with the finished parts where they are cut.
fn layout(plan: &LaserPlan, file: &SheetFile) -> Picture {
    let [length, width] = plan.sheet_mm;
    let title = format!("Sheet {} with {}", file.sheet, plan.what);
    let high = Point::new(length, width);
    let mut drawing = Drawing::new(title, Point::default(), high);
    drawing.rectangle(Role::Ground, Point::default(), high);
    for part in &file.finished {
        drawing.area(Role::Wood, part.outer.clone());
    }
    Picture {
        drawing,
        caption: phrase!("{}: {}", &file.path, counted(file.parts.len(), "part")),
    }
}
