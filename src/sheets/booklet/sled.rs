//! The sled's part of the sheet.

use super::machines::ready;
use super::work::BookletWork;
use super::{blade_view, sled_view};
use crate::geometry::tolerance::POSITION;
use crate::instructions::rounds::CutOrder;
use crate::instructions::saw::SawSetting;
use crate::instructions::sheet::{Block, Check, Picture, Section, SetupSheet, TableCell, Tally};
use crate::instructions::sled::{NotchFigures, Register, SledBundle, SledPlan, Step};
use crate::machines::Sled;
use crate::phrase;
use crate::phrase::Phrase;
use crate::sheets::sled::{blank_sheet, sled_sections};
use crate::units::{Brief, Mm};
use float_cmp::ApproxEq;

/// Pictures from above for one setting of the saw, or for one bundle where that has a section of its
/// own; its steps say what the others would.
const MOST_PICTURES: usize = 3;

pub(super) fn sheet(work: &BookletWork<'_>, plan: &SledPlan, sled: &Sled) -> SetupSheet {
    let powered = sled.blade.powered.is_some();
    let told = sled_sections(plan, powered);
    let apart = !told.settings.is_empty();
    let blade = |setting| blade_view::blade(plan, setting, sled, work.lattice.section.depth);
    let mut saw = told.saw;
    let alone = plan.settings.len() == 1;
    let blades = plan.settings.iter().filter(|_| alone).filter_map(blade);
    saw.illustrate_in_rows(blades.collect());
    // Where bundle after bundle is cut at one setting, its steps stand with the bundles.
    let only = plan.settings.iter().filter(|_| !apart);
    let mut sections = vec![ready(sled_ready(work, plan, sled))];
    sections.extend(told.stock);
    sections.extend(told.measured);
    sections.push(saw);
    sections.extend(told.key.map(|mut section| {
        if !plan.takes_key() {
            let unused = phrase!("No step here takes the key: the stop places all notches.");
            section.blocks.insert(0, Block::Remarks(vec![unused]));
        }
        section
    }));
    for (setting, section) in told.settings {
        let mut section = with_height(section, setting, powered);
        let above = from_above(&plan.bundles, setting, plan.order, sled);
        let own = blade(setting).filter(|_| !alone);
        let pictures: Vec<Picture> = own.into_iter().chain(above).collect();
        let how_read = (setting.number == 1 && !pictures.is_empty())
            .then(|| Block::Remarks(vec![sled_view::how_read()]));
        match plan.order {
            // The table is what is looked at from cut to cut.
            CutOrder::Stops => {
                section.blocks.extend(how_read);
                section.illustrate_behind(pictures);
            }
            CutOrder::Bundles => {
                section.illustrate_in_rows(pictures);
                section.blocks.splice(0..0, how_read);
            }
        }
        sections.push(section);
    }
    for (at, mut section) in told.strips.into_iter().enumerate() {
        let one = plan.bundles.get(at..=at).unwrap_or_default();
        let above = only
            .clone()
            .flat_map(|setting| from_above(one, setting, plan.order, sled));
        let above: Vec<Picture> = above.collect();
        if at == 0 && !above.is_empty() {
            section
                .blocks
                .insert(0, Block::Remarks(vec![sled_view::how_read()]));
        }
        section.illustrate_in_rows(above);
        sections.push(section);
    }
    if let Some(last) = sections.last_mut() {
        last.blocks.push(blocks_tally(plan));
    }
    sections.extend(told.panel);
    let mut check = told.check;
    check.blocks.push(Block::Checks(sled_checks(plan, powered)));
    sections.push(check);
    SetupSheet {
        sections,
        ..blank_sheet(plan, powered)
    }
}

/// The height of the blade in every row that sets something: who looks at a row has all that the next cut
/// takes.
fn with_height(mut section: Section, setting: &SawSetting, powered: bool) -> Section {
    for block in &mut section.blocks {
        let Block::Table(table) = block else { continue };
        let Some(at) = table.columns.iter().position(|column| *column == "at") else {
            continue;
        };
        table
            .columns
            .insert(at + 1, if powered { "height" } else { "depth" });
        for row in &mut table.rows {
            let sets = row.get(at).is_some_and(|cell| *cell != TableCell::Empty);
            let height = sets.then_some(setting.height_above_base_mm);
            row.insert(at + 1, TableCell::length(height));
        }
        table.caption.append(if powered {
            phrase!(" Height: of the blade over the base.")
        } else {
            phrase!(" Depth: of the saw cut.")
        });
    }
    section
}

fn blocks_tally(plan: &SledPlan) -> Block {
    let own = plan.bundles.iter();
    let own = own.filter(|bundle| bundle.same_as_bundle.is_none());
    Block::Tally(Tally {
        what: "blocks finished".into(),
        count: own.map(|bundle| bundle.loads.blocks).sum(),
    })
}

/// Pictures from above for one setting of the saw, as many as there is room for.
fn from_above(
    bundles: &[SledBundle],
    setting: &SawSetting,
    order: CutOrder,
    sled: &Sled,
) -> Vec<Picture> {
    let others = match order {
        // A row for each place of stop or key names bundles of either face.
        CutOrder::Stops => "others likewise, with the face that their row names",
        CutOrder::Bundles => "others on this face likewise",
    };
    let shown = distinct(bundles, setting, order).into_iter();
    let pictures = shown.filter_map(|(bundle, step)| {
        let mut picture = sled_view::from_above(bundle, setting, step, sled)?;
        if bundles.len() > 1 {
            let mut whose = phrase!("Strips {}; {}. ", &bundle.strips, others);
            whose.append(picture.caption);
            picture.caption = whose;
        }
        Some(picture)
    });
    pictures.take(MOST_PICTURES).collect()
}

/// Of the steps with one setting of the saw, one for each way of registering and slot of the key, where bundle
/// after bundle is cut for each face too; none of a bundle that is cut as another one.
fn distinct<'a>(
    bundles: &'a [SledBundle],
    setting: &SawSetting,
    order: CutOrder,
) -> Vec<(&'a SledBundle, &'a Step)> {
    let face = |(bundle, step): (&SledBundle, &Step)| {
        let mut notches = bundle.notches.iter();
        let notch = notches.find(|notch| notch.index == step.notch);
        notch.map(|notch| notch.face)
    };
    let same = |a: (&SledBundle, &Step), b| match (&a.1.register, &(b as (_, &Step)).1.register) {
        _ if order == CutOrder::Bundles && face(a) != face(b) => false,
        (Register::Key { slot_mm: a, .. }, Register::Key { slot_mm: b, .. }) => {
            a.approx_eq(*b, POSITION)
        }
        (a, b) => std::mem::discriminant(a) == std::mem::discriminant(b),
    };
    let mut told: Vec<(&SledBundle, &Step)> = Vec::new();
    for bundle in bundles
        .iter()
        .filter(|bundle| bundle.same_as_bundle.is_none())
    {
        let own = bundle.steps.iter();
        for step in own.filter(|step| step.setting == setting.number) {
            if !told.iter().any(|known| same(*known, (bundle, step))) {
                told.push((bundle, step));
            }
        }
    }
    told
}

fn sled_ready(work: &BookletWork<'_>, plan: &SledPlan, sled: &Sled) -> Vec<Phrase> {
    let section = &work.lattice.section;
    let mut items = vec![phrase!(
        "The strips, {} thick, {} deep, cut to their lengths.",
        Mm(section.thickness),
        Mm(section.depth)
    )];
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
    if let Some(key) = plan.key.as_ref().filter(|_| plan.takes_key()) {
        items.push(phrase!(
            "Key, {} wide, its top less than {} over the base.",
            Mm(key.width_mm),
            Mm(key.below_mm)
        ));
    }
    items.push(phrase!("Clamps or tape for a block of strips; caliper."));
    items
}

/// The width of the first notch as the blade makes it, and what that means for its mate.
fn width_check(plan: &SledPlan, first: &NotchFigures) -> Phrase {
    let mut words = phrase!("First notch in scrap: its width along the strip");
    let Some(drawn) = first.drawn_width_mm else {
        return words;
    };
    words.append(phrase!(
        " as cut, since {} (drawn {})",
        if first.width_mm > drawn {
            "the kerf is wider than the notch"
        } else {
            "a second pass could not be set"
        },
        Brief(drawn)
    ));
    let loose = plan.fit.clearance_mm;
    words.append(if loose > 0.0 {
        phrase!("; loose by {} on its mate", Brief(loose))
    } else {
        phrase!("; narrower than its mate by {}", Brief(-loose))
    });
    words
}

fn sled_checks(plan: &SledPlan, powered: bool) -> Vec<Check> {
    let Some(notches) = plan.bundles.first().map(|bundle| &bundle.notches) else {
        return Vec::new();
    };
    let mut checks = Vec::new();
    let wider = notches.iter().any(|notch| notch.drawn_width_mm.is_some());
    let as_cut = if wider { " as cut" } else { "" };
    if let Some(first) = notches.first() {
        checks.push(Check {
            what: width_check(plan, first),
            should: Mm(first.width_mm).into(),
            otherwise: phrase!("measure the kerf on a test groove, write it into the profile, make this sheet again"),
        });
        checks.push(Check {
            what: phrase!("The same notch: its depth from the face"),
            should: Mm(first.depth_mm).into(),
            otherwise: if powered {
                phrase!("raise the blade by what is missing, lower it by what is too much; the test lap above tells what the profile has to know")
            } else {
                phrase!("set the saw's depth stop deeper by what is missing; the test lap above tells what the profile has to know")
            },
        });
        checks.push(Check {
            what: phrase!(
                "First strip, on its centre line: datum end to the near edge of notch {}{}",
                first.index,
                as_cut
            ),
            should: Mm(first.near_edge_mm).into(),
            otherwise: phrase!(
                "move the stop by the difference, away from the blade where the notch lies too near"
            ),
        });
    }
    if let [_, .., last] = notches.as_slice() {
        checks.push(Check {
            what: phrase!("First strip, on its centre line: datum end to the near edge of notch {}{}", last.index, as_cut),
            should: Mm(last.near_edge_mm).into(),
            otherwise: if plan.takes_key() {
                phrase!("where this is off and notch 1 is not, measure the key's slots and write them into the profile, or set the stop for each notch")
            } else {
                phrase!("where this is off and notch 1 is not, set that notch's stop again, by the difference")
            },
        });
    }
    checks
}
