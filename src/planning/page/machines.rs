//! What the machines' parts of the sheet share, and the parts of laser, rails and guides: what has
//! to lie ready, the plain sheet's sections with their pictures and counts, check cuts.

use super::guide_view;
use crate::geometry::Point;
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::laser::{LaserPlan, SheetFile};
use crate::instructions::page::{Check, Item, Leaf, Part, Picture, Tally};
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::sheet::{Block, Section, SetupSheet};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::{laser_sheet, pare_sheet, rail_sheet};
use crate::units::{Mm, Rad};

/// A plain sheet as a part, its sections as leaves.
pub(super) fn part(name: &'static str, heading: String, sheet: SetupSheet) -> Part {
    Part {
        name,
        heading,
        safety: sheet.safety,
        leaves: sheet.sections.into_iter().map(leaf).collect(),
    }
}

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

impl Part {
    /// Puts pictures behind the settings of the leaf whose heading begins like this, before its
    /// steps; on a leaf of their own where there is none.
    pub(super) fn illustrate(&mut self, heading: &str, pictures: Vec<Item>) {
        if pictures.is_empty() {
            return;
        }
        let found = self
            .leaves
            .iter_mut()
            .find(|leaf| leaf.heading.starts_with(heading));
        let Some(leaf) = found else {
            self.leaves.push(Leaf {
                heading: format!("{heading} pictures"),
                items: pictures,
            });
            return;
        };
        let is_steps = |item: &Item| matches!(item, Item::Block(Block::Steps(_)));
        let at = leaf
            .items
            .iter()
            .position(is_steps)
            .unwrap_or(leaf.items.len());
        leaf.items.splice(at..at, pictures);
    }

    /// Adds to the end of the leaf whose heading begins like this.
    pub(super) fn close(&mut self, heading: &str, item: Item) {
        if let Some(leaf) = self
            .leaves
            .iter_mut()
            .find(|leaf| leaf.heading.starts_with(heading))
        {
            leaf.items.push(item);
        }
    }
}

pub(super) fn plural(count: usize, word: &str) -> String {
    format!("{word}{}", if count == 1 { "" } else { "s" })
}

pub(super) fn laser(plans: &[LaserPlan]) -> Option<Part> {
    let first = plans.first()?;
    let mut leaves = Vec::new();
    for plan in plans {
        let sheet = laser_sheet(plan);
        leaves.extend(sheet.sections.into_iter().map(leaf));
        let tally = Tally {
            what: format!("sheets of {} cut", plan.what),
            count: plan.files.len(),
        };
        if let Some(leaf) = leaves.last_mut() {
            leaf.items.extend(
                plan.files
                    .iter()
                    .map(|file| Item::Picture(layout(plan, file))),
            );
            leaf.items.push(Item::Tally(tally));
        }
    }
    leaves.insert(0, ready(laser_ready(plans)));
    let kind = if first.cutter_mm.is_some() {
        "Sheet router"
    } else {
        "Laser"
    };
    Some(Part {
        name: "laser",
        heading: format!("{kind}: {}", first.machine),
        safety: laser_sheet(first).safety,
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
            "{}: the whole sheet, to scale, its grain from left to right. {} parts.",
            &file.path,
            file.parts.len()
        ),
    }
}

fn laser_ready(plans: &[LaserPlan]) -> Vec<Phrase> {
    let sheets = plans.iter().map(|plan| {
        let [length, width] = plan.sheet_mm;
        let thick = plan
            .sheet_thickness_mm
            .map_or(phrase!("of any thickness"), |thickness| {
                phrase!("{} thick", Mm(thickness))
            });
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
    part(
        "rails",
        "Frame: mortises in the rails".into(),
        rail_sheet(plan),
    )
}

pub(super) fn guides(plan: &ParePlan) -> Part {
    let sheet = pare_sheet(plan);
    let heading = match &plan.machine {
        Some(machine) => format!("Pieces: {machine}"),
        None => "Pieces".into(),
    };
    let mut part = part("pieces", heading, sheet);
    for (at, piece) in plan.pieces.iter().enumerate() {
        let number = format!("{}. ", at + 1);
        let pictures: Vec<Item> = guide_view::settings(piece)
            .into_iter()
            .map(Item::Picture)
            .collect();
        part.illustrate(&number, pictures);
        part.close(
            &number,
            Item::Tally(Tally {
                what: format!("{} finished", plural(2, &piece.name)),
                count: piece.count,
            }),
        );
        let check = Check {
            what: phrase!("First {}: length over points", &piece.name),
            should: Mm(piece.length_over_points_mm).into(),
            otherwise: phrase!(
                "too long: pare once more, the table of what it takes off is the last of this part; too short: measure the cell and work out the pieces for it (pare --opening)"
            ),
        };
        part.close(&number, Item::Checks(vec![check]));
    }
    part.leaves.insert(0, ready(guides_ready(plan)));
    part
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
        "Stop and clamp for the blocks; a sharp chisel; caliper."
    ));
    items
}
