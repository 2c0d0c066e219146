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
    SIZES, blank_sheet, cutting_figures, file_row, label_words, sections_of_parts, steps,
};
use crate::units::AtLeast;

pub(super) fn sheet(plans: &[LaserPlan]) -> Option<SetupSheet> {
    let first = plans.first()?;
    let mut sections = vec![ready(vec![
        phrase!("The sheets of the table; their files loaded."),
        phrase!("A scrap of each sheet for the kerf's test; caliper."),
    ])];
    sections.extend(stock_section(first.measured_stock.as_ref()));
    sections.extend(measured_section(&first.measured_figures));
    sections.push(all_sheets(plans));
    sections.push(work(plans));
    for plan in plans {
        sections.extend(sections_of_parts(plan));
    }
    Some(SetupSheet {
        sections,
        ..blank_sheet(first)
    })
}

/// Figures that stand in rows of a table.
const IN_ROWS: [&str; 3] = ["sheets", "layout", "travel"];

/// What is set, and a row for each kind of parts and each drawing.
fn all_sheets(plans: &[LaserPlan]) -> Section {
    let lists: Vec<Vec<Figure>> = plans.iter().map(told_apart).collect();
    let (same, own) = in_common(&lists);
    let own: Vec<Vec<Phrase>> = own.into_iter().map(sentences).collect();
    let mut remarks = said_once(&own, |numbers| names(plans, numbers));
    remarks.push(phrase!(
        "Below: each sheet whole, to scale, its grain from left to right."
    ));
    let layouts = plans
        .iter()
        .flat_map(|plan| plan.files.iter().map(|file| layout(plan, file)));
    let blocks = vec![
        Block::Figures(same),
        Block::Table(files_table(plans)),
        Block::Table(layouts_table(plans)),
        Block::Remarks(remarks),
        Block::Gallery(Gallery {
            columns: 4,
            pictures: layouts.collect(),
        }),
    ];
    let heading = match plans {
        [only] => format!("From sheet: {}", only.what),
        _ => "From sheet".into(),
    };
    Section { heading, blocks }
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
            let mut row = vec![TableCell::Text(plan.what.clone())];
            row.extend(file_row(file));
            row
        })
    });
    Table {
        caption: SIZES.into(),
        columns: vec![
            "parts of",
            "sheet",
            "file",
            "parts",
            "along",
            "across",
            "used",
            "off-cut along",
            "across",
        ],
        rows: rows.collect(),
    }
}

/// A row for each kind of parts: of what sheets, how many, how close together.
fn layouts_table(plans: &[LaserPlan]) -> Table {
    let rows = plans.iter().map(|plan| {
        let [length, width] = plan.sheet_mm;
        let sum = |way: fn(&SheetFile) -> f64| plan.files.iter().map(way).sum::<f64>();
        vec![
            TableCell::Text(plan.what.clone()),
            TableCell::Count(plan.files.len()),
            match (plan.sheet_thickness_mm, plan.stack) {
                (Some(thickness), _) => TableCell::Length(thickness),
                (None, Some(stack)) => TableCell::AtLeast(AtLeast(stack.least_sheet_mm).0),
                (None, None) => TableCell::Text("any".into()),
            },
            TableCell::Length(length),
            TableCell::Length(width),
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
        "Thick, along, wide: each sheet, along the grain first. Layout: across the grain, the sheets added up; no layout on as many sheets or fewer takes less than least, no part turned. By area, by length: no layout needs fewer sheets, by the parts' area and by the long parts. Rows: of parts beside each other; it is proved that no layout has fewer, where nothing else is said. Travel: way from path to path as drawn; unsorted: in the parts' own order."
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
            "along",
            "wide",
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

/// The steps of all kinds, those that they share once.
fn work(plans: &[LaserPlan]) -> Section {
    let lists: Vec<Vec<Phrase>> = plans.iter().map(steps).collect();
    let mut blocks = vec![
        Block::Steps(said_once(&lists, |numbers| names(plans, numbers))),
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
