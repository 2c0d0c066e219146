//! What the machines' parts of the sheet share, and the parts of laser, rails and guides: what has
//! to lie ready, the plain sheet's sections with their pictures and counts, check cuts.

use super::guide_view;
use crate::geometry::Point;
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::laser::{LaserPlan, SheetFile};
use crate::instructions::page::{Check, Item, Leaf, Part, PartName, Picture, Tally};
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::instructions::rails::RailPlan;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Section};
use crate::phrase;
use crate::phrase::{Phrase, counted, plural};
use crate::sheets::measured_stock::stock_section;
use crate::sheets::paring::pare_sections;
use crate::sheets::rail_sheet;
use crate::sheets::sheet_cutting::{cutting_section, parts_sections};
use crate::units::{AtLeast, Mm, Rad};

pub(super) fn leaf(section: Section) -> Leaf {
    Leaf {
        heading: section.heading,
        items: section.blocks.into_iter().map(Item::Block).collect(),
    }
}

pub(super) fn ready(items: Vec<Phrase>) -> Leaf {
    Leaf {
        heading: "Have ready".into(),
        items: vec![Item::Ready(items)],
    }
}

impl Leaf {
    /// Puts pictures behind the settings, before the first steps and the remark that leads to them.
    pub(super) fn illustrate(&mut self, pictures: impl IntoIterator<Item = Picture>) {
        let is_steps = |item: &Item| matches!(item, Item::Block(Block::Steps(_)));
        let steps = self.items.iter().position(is_steps);
        let mut at = steps.unwrap_or(self.items.len());
        let before = self.items.get(..at).and_then(<[Item]>::last);
        if steps.is_some() && matches!(before, Some(Item::Block(Block::Remarks(_)))) {
            at -= 1;
        }
        let pictures = pictures.into_iter().map(Item::Picture);
        self.items.splice(at..at, pictures);
    }
}

pub(super) fn laser(plans: &[LaserPlan]) -> Option<Part> {
    let first = plans.first()?;
    let mut leaves = Vec::new();
    for plan in plans {
        let mut cutting = leaf(cutting_section(plan));
        cutting.illustrate(plan.files.iter().map(|file| layout(plan, file)));
        cutting.items.push(Item::Tally(Tally {
            what: format!("sheets of {} cut", plan.what),
            count: plan.files.len(),
        }));
        leaves.push(cutting);
        leaves.extend(parts_sections(plan).into_iter().map(leaf));
    }
    let stock = stock_section(first.measured_stock.as_ref()).map(leaf);
    leaves.splice(
        0..0,
        std::iter::once(ready(laser_ready(plans))).chain(stock),
    );
    let kind = if first.cutter_mm.is_some() {
        "Sheet router"
    } else {
        "Laser"
    };
    Some(Part {
        name: PartName::Laser,
        heading: format!("{kind}: {}", first.machine),
        safety: first.safety(),
        leaves,
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

pub(super) fn rails(plan: &RailPlan) -> Part {
    let sheet = rail_sheet(plan);
    Part {
        name: PartName::Rails,
        heading: "Frame: mortises in the rails".into(),
        safety: sheet.safety,
        leaves: sheet.sections.into_iter().map(leaf).collect(),
    }
}

pub(super) fn guides(plan: &ParePlan) -> Part {
    let told = pare_sections(plan);
    let mut leaves = vec![ready(guides_ready(plan))];
    leaves.extend(told.stock.map(leaf));
    let mut blocks = leaf(told.blocks);
    blocks
        .items
        .extend(guide_view::whole(plan).map(Item::Picture));
    leaves.extend([leaf(told.list), blocks]);
    for (piece, section) in told.pieces {
        let mut leaf = leaf(section);
        leaf.illustrate(guide_view::settings(piece, &plan.guide));
        leaf.items.push(Item::Tally(Tally {
            what: format!("{} finished", plural(2, &piece.name)),
            count: piece.count,
        }));
        leaf.items.push(Item::Checks(vec![length_check(piece)]));
        leaves.push(leaf);
    }
    leaves.extend(told.trims.map(leaf));
    leaves.push(leaf(told.take_off));
    let heading = match &plan.machine {
        Some(machine) => format!("Pieces: {machine}"),
        None => "Pieces".into(),
    };
    Part {
        name: PartName::Pieces,
        heading,
        safety: SafetyNotes::for_guides(),
        leaves,
    }
}

fn length_check(piece: &PieceFigures) -> Check {
    Check {
        what: phrase!("First {}: length over points", &piece.name),
        should: Mm(piece.length_over_points_mm).into(),
        otherwise: phrase!(
            "too long: pare once more, the table of what it takes off is the last of this part; too short: measure the cell and work out the pieces for it (pare --opening)"
        ),
    }
}

fn guides_ready(plan: &ParePlan) -> Vec<Phrase> {
    let mut items: Vec<Phrase> = plan
        .blocks
        .iter()
        .map(|block| phrase!("Guide block of {}.", Rad(block.jig_angle)))
        .collect();
    items.extend(plan.pieces.iter().map(|piece| {
        phrase!(
            "{} {}, cut square to {}.",
            piece.count,
            plural(piece.count, &piece.name),
            Mm(piece.rough_length_mm)
        )
    }));
    items.push(phrase!(
        "Guide with fence and stop; a stick to hold pieces by; a sharp chisel, wider than a facet and as much of the block; caliper."
    ));
    items
}
