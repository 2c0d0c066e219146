//! What the machines' parts of the sheet share, and the parts of laser, rails and guides: what has
//! to lie ready, the plain sheet's sections with their pictures and counts, check cuts.

use super::guide_view;
use crate::geometry::Point;
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::laser::{LaserPlan, SheetFile};
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::instructions::sheet::{Block, Check, Picture, Section, SetupSheet, Tally};
use crate::phrase;
use crate::phrase::{Phrase, counted, plural};
use crate::sheets::measured_figures::measured_section;
use crate::sheets::measured_stock::stock_section;
use crate::sheets::paring::pare_sections;
use crate::sheets::sheet_cutting::{cutting_section, parts_sections};
use crate::sheets::{paring, sheet_cutting};
use crate::units::{AtLeast, Mm, Rad};

pub(super) fn ready(items: Vec<Phrase>) -> Section {
    Section {
        heading: "Have ready".into(),
        blocks: vec![Block::Ready(items)],
    }
}

impl Section {
    /// Puts pictures behind the settings, before the first steps and the remark that leads to them.
    pub(super) fn illustrate(&mut self, pictures: impl IntoIterator<Item = Picture>) {
        let is_steps = |block: &Block| matches!(block, Block::Steps(_));
        let steps = self.blocks.iter().position(is_steps);
        let mut at = steps.unwrap_or(self.blocks.len());
        let before = self.blocks.get(..at).and_then(<[Block]>::last);
        if steps.is_some() && matches!(before, Some(Block::Remarks(_))) {
            at -= 1;
        }
        let pictures = pictures.into_iter().map(Block::Picture);
        self.blocks.splice(at..at, pictures);
    }
}

pub(super) fn laser(plans: &[LaserPlan]) -> Option<SetupSheet> {
    let first = plans.first()?;
    let mut sections = Vec::new();
    for plan in plans {
        let mut cutting = cutting_section(plan);
        cutting.illustrate(plan.files.iter().map(|file| layout(plan, file)));
        cutting.blocks.push(Block::Tally(Tally {
            what: format!("sheets of {} cut", plan.what),
            count: plan.files.len(),
        }));
        sections.push(cutting);
        sections.extend(parts_sections(plan));
    }
    let stock = stock_section(first.measured_stock.as_ref());
    sections.splice(
        0..0,
        std::iter::once(ready(laser_ready(plans)))
            .chain(stock)
            .chain(measured_section(&first.measured_figures)),
    );
    Some(SetupSheet {
        sections,
        ..sheet_cutting::blank_sheet(first)
    })
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
        caption: phrase!(
            "{}: the whole sheet, to scale, its grain from left to right. {}.",
            &file.path,
            counted(file.parts.len(), "part")
        ),
    }
}

fn laser_ready(plans: &[LaserPlan]) -> Vec<Phrase> {
    let sheets = plans.iter().map(|plan| {
        let [length, width] = plan.sheet_mm;
        let thick = match (plan.sheet_thickness_mm, plan.stack) {
            (Some(thickness), _) => phrase!("{} thick", Mm(thickness)),
            (None, Some(stack)) => phrase!("{} thick or thicker", AtLeast(stack.least_sheet_mm)),
            (None, None) => phrase!("of any thickness"),
        };
        let mut words = phrase!(
            "For {}: {} {} of {} by {}, ",
            plan.what.as_str(),
            plan.files.len(),
            plural(plan.files.len(), "sheet"),
            Mm(length),
            Mm(width)
        );
        words.append(thick);
        words.append(phrase!("; files loaded."));
        words
    });
    let mut items: Vec<Phrase> = sheets.collect();
    items.push(phrase!(
        "A scrap of each sheet for the kerf's test; caliper."
    ));
    items
}

pub(super) fn guides(plan: &ParePlan) -> SetupSheet {
    let told = pare_sections(plan);
    let mut sections = vec![ready(guides_ready(plan))];
    sections.extend(told.stock);
    let mut blocks = told.blocks;
    blocks
        .blocks
        .extend(guide_view::whole(plan).map(Block::Picture));
    sections.push(told.list);
    sections.extend(told.folds);
    sections.push(blocks);
    for (piece, mut section) in told.pieces {
        section.illustrate(guide_view::settings(piece, &plan.guide));
        section.blocks.push(Block::Tally(Tally {
            what: format!("{} finished", plural(2, &piece.name)),
            count: piece.count,
        }));
        section
            .blocks
            .push(Block::Checks(vec![length_check(piece)]));
        sections.push(section);
    }
    sections.extend(told.trims);
    sections.push(told.take_off);
    SetupSheet {
        sections,
        ..paring::blank_sheet(plan)
    }
}

fn length_check(piece: &PieceFigures) -> Check {
    Check {
        what: match piece.folds.is_empty() {
            true => phrase!("First {}: length over points", &piece.name),
            false => phrase!(
                "First {}: length over points, before it is bent",
                &piece.name
            ),
        },
        should: Mm(piece.length_over_points_mm).into(),
        otherwise: phrase!(
            "too long: pare once more, the table of what it takes off is the last of this part; too short: measure the cell and work out the pieces for it (pare --cell-opening)"
        ),
    }
}

/// A piece before it is pared; nothing of one that comes finished from its stick.
fn piece_ready(piece: &PieceFigures) -> Option<Phrase> {
    let named = plural(piece.count, &piece.name);
    match piece.machined.as_slice() {
        [] => Some(phrase!(
            "{} {}, cut square to {}.",
            piece.count,
            named,
            Mm(piece.rough_length_mm)
        )),
        [end] => Some(phrase!(
            "{} {} from their sticks, end {} finished.",
            piece.count,
            named,
            end.name()
        )),
        _ => None,
    }
}

fn guides_ready(plan: &ParePlan) -> Vec<Phrase> {
    let mut items: Vec<Phrase> = plan
        .blocks
        .iter()
        .map(|block| phrase!("Guide block of {}.", Rad(block.jig_angle)))
        .collect();
    items.extend(plan.pieces.iter().filter_map(piece_ready));
    items.push(phrase!(
        "Guide with fence and stop; a stick to hold pieces by; a sharp chisel, wider than a facet and as much of the block; caliper."
    ));
    items
}
