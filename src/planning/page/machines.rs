//! The machines' parts of the sheet: what has to lie ready, the plain sheet's sections with their
//! pictures and counts, check cuts.

use super::{Work, guide_view, router_view, sled_view};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::laser::{LaserPlan, SheetFile};
use crate::instructions::page::{Check, Item, Leaf, Part, Picture, Tally};
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::router::{Registered, RouterPlan, RouterSetup};
use crate::instructions::saw::SawSetting;
use crate::instructions::sheet::{Block, Section, SetupSheet};
use crate::instructions::sled::{Register, SledBundle, SledPlan, Step};
use crate::machines::{Router, Sled};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::{laser_sheet, pare_sheet, rail_sheet, router_sheet, sled_sheet};
use crate::units::{Mm, Rad};

/// A plain sheet as a part, its sections as leaves.
fn part(name: &'static str, heading: String, sheet: SetupSheet) -> Part {
    Part {
        name,
        heading,
        safety: sheet.safety,
        leaves: sheet.sections.into_iter().map(leaf).collect(),
    }
}

fn leaf(section: Section) -> Leaf {
    Leaf {
        heading: section.heading,
        items: section.blocks.into_iter().map(Item::Block).collect(),
    }
}

fn ready(items: Vec<Phrase>) -> Leaf {
    Leaf {
        heading: "Have ready".into(),
        items: vec![Item::Ready(items)],
    }
}

impl Part {
    /// Puts pictures behind the settings of the leaf whose heading begins like this, before its
    /// steps; on a leaf of their own where there is none.
    fn illustrate(&mut self, heading: &str, pictures: Vec<Item>) {
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
    fn close(&mut self, heading: &str, item: Item) {
        if let Some(leaf) = self
            .leaves
            .iter_mut()
            .find(|leaf| leaf.heading.starts_with(heading))
        {
            leaf.items.push(item);
        }
    }
}

/// Pictures from above for one setting of the saw, or for one bundle where that has a leaf of its
/// own; its steps say what the others would.
const MOST_PICTURES: usize = 6;

fn plural(count: usize, word: &str) -> String {
    format!("{word}{}", if count == 1 { "" } else { "s" })
}

pub(super) fn sled(work: &Work<'_>, plan: &SledPlan, sled: &Sled) -> Part {
    let powered = sled.blade.powered.is_some();
    let kind = if powered { "Sled" } else { "Bench hook" };
    let heading = format!("{kind}: {}", plan.machine);
    let mut part = part("sled", heading, sled_sheet(plan, powered));
    for setting in &plan.settings {
        // A sheet with one setting has it in its first section and its steps in the bundles'.
        let own = format!("Setting {} of", setting.number);
        let apart = part
            .leaves
            .iter()
            .any(|leaf| leaf.heading.starts_with(&own));
        let saw = if apart { own.as_str() } else { "Saw" };
        let picture = sled_view::blade(plan, setting, sled, work.lattice.section.depth);
        part.illustrate(saw, picture.map(Item::Picture).into_iter().collect());
        let mut room = MOST_PICTURES;
        for (at, bundle) in plan.bundles.iter().enumerate() {
            let number = if apart {
                own.clone()
            } else {
                format!("Bundle {}:", at + 1)
            };
            let shown = distinct(bundle, setting).into_iter().take(room);
            let pictures: Vec<Item> = shown
                .filter_map(|step| sled_view::from_above(bundle, setting, step, sled))
                .map(Item::Picture)
                .collect();
            // Bundles that share a leaf share its room for pictures.
            room -= if apart { pictures.len() } else { 0 };
            part.illustrate(&number, pictures);
        }
    }
    for (at, bundle) in plan.bundles.iter().enumerate() {
        if bundle.same_as_bundle.is_none() {
            let what = format!("blocks of bundle {} notched", at + 1);
            let tally = Tally {
                what,
                count: bundle.loads.blocks,
            };
            part.close(&format!("Bundle {}:", at + 1), Item::Tally(tally));
        }
    }
    part.close("Check", Item::Checks(sled_checks(plan)));
    part.leaves.insert(0, ready(sled_ready(work, plan, sled)));
    part
}

/// Of a bundle's steps with one setting of the saw, one for each face, way of registering and slot
/// of the key; none of a bundle that is cut as another one.
fn distinct<'a>(bundle: &'a SledBundle, setting: &SawSetting) -> Vec<&'a Step> {
    let face = |step: &Step| {
        let notch = bundle
            .notches
            .iter()
            .find(|notch| notch.index == step.notch);
        notch.map(|notch| notch.face)
    };
    let same = |a: &Step, b: &Step| match (&a.register, &b.register) {
        _ if face(a) != face(b) => false,
        (Register::Key { slot_mm: a, .. }, Register::Key { slot_mm: b, .. }) => {
            (a - b).abs() < SAME_POSITION_MM
        }
        (a, b) => std::mem::discriminant(a) == std::mem::discriminant(b),
    };
    let mut told: Vec<&Step> = Vec::new();
    let own = |step: &&Step| bundle.same_as_bundle.is_none() && step.setting == setting.number;
    for step in bundle.steps.iter().filter(own) {
        if !told.iter().any(|known| same(known, step)) {
            told.push(step);
        }
    }
    told
}

fn sled_ready(work: &Work<'_>, plan: &SledPlan, sled: &Sled) -> Vec<Phrase> {
    let section = &work.lattice.section;
    let mut items: Vec<Phrase> = plan
        .bundles
        .iter()
        .map(|bundle| {
            phrase!(
                "{} {} ({}): {} long, {} thick, {} deep{}.",
                bundle.count,
                plural(bundle.count, bundle.family),
                &bundle.strips,
                Mm(bundle.length_mm),
                Mm(section.thickness),
                Mm(section.depth),
                section
                    .wood
                    .as_ref()
                    .map_or(String::new(), |wood| format!(", {wood}"))
            )
        })
        .collect();
    items.push(phrase!("Scraps of the same section for the test lap."));
    let saw = if sled.blade.powered.is_some() {
        "Blade"
    } else {
        "Saw"
    };
    items.push(phrase!(
        "{} with a kerf of {}, measured on a test groove.",
        saw,
        Mm(sled.blade.kerf)
    ));
    if let Some(key) = &plan.key {
        items.push(phrase!("Key, {} wide.", Mm(key.width_mm)));
    }
    items.push(phrase!("Clamps or tape for a block of strips; caliper."));
    items
}

fn sled_checks(plan: &SledPlan) -> Vec<Check> {
    let Some(notches) = plan.bundles.first().map(|bundle| &bundle.notches) else {
        return Vec::new();
    };
    let mut checks = Vec::new();
    if let Some(first) = notches.first() {
        checks.push(Check {
            what: phrase!("First notch in scrap: its width along the strip"),
            should: Mm(first.width_mm).into(),
            otherwise: phrase!("measure the kerf on a test groove, write it into the profile, make this sheet again"),
        });
        checks.push(Check {
            what: phrase!("The same notch: its depth from the face"),
            should: Mm(first.depth_mm).into(),
            otherwise: phrase!(
                "change the blade's height by the difference; see the test lap above"
            ),
        });
        checks.push(Check {
            what: phrase!(
                "First strip, on its centre line: datum end to the near edge of notch {}",
                first.index
            ),
            should: Mm(first.near_edge_mm).into(),
            otherwise: phrase!(
                "move the stop by the difference, away from the blade where the notch lies too near"
            ),
        });
    }
    if let [_, .., last] = notches.as_slice() {
        checks.push(Check {
            what: phrase!("First strip, on its centre line: datum end to the near edge of notch {}", last.index),
            should: Mm(last.near_edge_mm).into(),
            otherwise: phrase!("where this is off and notch 1 is not, measure the key's slots and write them into the profile, or set the stop for each notch"),
        });
    }
    checks
}

pub(super) fn router(work: &Work<'_>, plan: &RouterPlan, router: &Router) -> Part {
    let heading = format!("Router: {}", plan.machine);
    let mut part = part("router", heading, router_sheet(plan));
    for (at, setup) in plan.setups.iter().enumerate() {
        let number = format!("Set-up {}", at + 1);
        let pictures = vec![
            Item::Picture(router_view::from_above(setup, router)),
            Item::Picture(router_view::from_the_end(setup, router)),
        ];
        part.illustrate(&number, pictures);
        part.close(
            &number,
            Item::Tally(Tally {
                what: "bundles run".into(),
                count: setup.runs,
            }),
        );
        part.close(&number, Item::Play(router_view::play(setup)));
        part.close(&number, Item::Checks(router_checks(setup)));
    }
    part.leaves.insert(0, ready(router_ready(work, plan)));
    part
}

fn router_ready(work: &Work<'_>, plan: &RouterPlan) -> Vec<Phrase> {
    let section = &work.lattice.section;
    let mut items: Vec<Phrase> = plan
        .setups
        .iter()
        .map(|setup| {
            phrase!(
                "{} {} ({}), {} thick, {} deep; program {} loaded.",
                setup.count,
                plural(setup.count, setup.family),
                &setup.strips,
                Mm(section.thickness),
                Mm(section.depth),
                &setup.file
            )
        })
        .collect();
    if let Some(setup) = plan.setups.first() {
        items.push(phrase!(
            "Flat-ended cutter, {} over its edges, measured.",
            Mm(setup.tool_diameter_mm)
        ));
    }
    let scrap = plan
        .setups
        .iter()
        .map(|setup| setup.fill_with_scrap)
        .sum::<usize>();
    if scrap > 0 {
        items.push(phrase!(
            "{} {} of scrap of the same section, to fill up the last bundles.",
            scrap,
            plural(scrap, "strip")
        ));
    }
    items.push(phrase!("End stop and clamps; caliper."));
    items
}

fn router_checks(setup: &RouterSetup) -> Vec<Check> {
    let mut checks = Vec::new();
    if let Some(first) = setup.notches.first() {
        checks.push(Check {
            what: phrase!("Notch {}: width along the strip", first.index),
            should: Mm(first.width_mm).into(),
            otherwise: phrase!("measure the cutter over its edges, write it into the profile, make the programs again"),
        });
        checks.push(Check {
            what: phrase!("Notch {}: depth", first.index),
            should: Mm(first.depth_mm).into(),
            otherwise: phrase!(
                "set Z again at the top of the stock; see that the bundle lies flat"
            ),
        });
    }
    // Over the key the datum end lies somewhere along X, and no plan says where.
    if !matches!(setup.registered, Registered::EndStop) {
        return checks;
    }
    let ends = [setup.notches.first(), setup.notches.last()];
    let distinct = if setup.notches.len() > 1 { 2 } else { 1 };
    checks.extend(ends.into_iter().take(distinct).flatten().map(|notch| Check {
        what: phrase!("Front strip, on its centre line: datum end to the near edge of notch {}", notch.index),
        should: Mm(notch.near_edge_mm).into(),
        otherwise: phrase!("set X again at the end stop; where only the far notch is off, see to the steps per millimetre of X"),
    }));
    checks
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
            plan.what,
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
