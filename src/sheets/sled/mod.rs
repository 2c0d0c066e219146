//! The set-up sheet for a sled.
//!
//! By stops, the steps stand in a table for each setting of fence and blade. Bundle by bundle: where one setting
//! does all, square and from one face, each bundle has its steps; else they stand under the settings, which go
//! through all bundles.

pub(in crate::sheets) use saw::first_notch;

mod bundle;
mod by_stop;
mod check;
mod plain;
mod rows;
mod saw;
mod setting_words;
mod steps;

use super::measured_figures::measured_section;
use super::measured_stock::stock_section;
use super::panel::panel_section;
use super::panel_size::size_section;
use crate::geometry::tolerance::POSITION;
use crate::instructions::panel::PanelFacts;
use crate::instructions::rounds::CutOrder;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::saw::SawSetting;
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::instructions::sled::{KeyPosition, KeySize, SledBundle, SledPlan};
use crate::phrase;
use crate::planning::sled::blade::PRINTED_MM;
use crate::units::Mm;
use bundle::bundle_section;
use by_stop::work_section;
use check::check_section;
use float_cmp::ApproxEq;
use plain::{is_plain, is_slanted};
use saw::{overview_section, saw_section, setting_section};

/// A sled's sections, by what they are about.
pub(in crate::sheets) struct SledSections<'a> {
    pub(in crate::sheets) stock: Option<Section>,
    pub(in crate::sheets) measured: Option<Section>,
    /// The one setting of the saw, or an overview of all.
    pub(in crate::sheets) saw: Section,
    pub(in crate::sheets) key: Option<Section>,
    /// Each setting with its steps; none where bundles have the steps.
    pub(in crate::sheets) settings: Vec<(&'a SawSetting, Section)>,
    pub(in crate::sheets) bundles: Vec<(&'a SledBundle, Section)>,
    /// The bundles as few sections as they can be.
    pub(in crate::sheets) strips: Vec<Section>,
    pub(in crate::sheets) panel: Option<Section>,
    pub(in crate::sheets) size: Option<Section>,
    pub(in crate::sheets) check: Section,
}

/// The sections of a plan; `powered` as the sled's profile says.
pub(in crate::sheets) fn sled_sections(plan: &SledPlan, powered: bool) -> SledSections<'_> {
    let plain = is_plain(plan);
    let by_bundle = plan.order == CutOrder::Bundles;
    let settings = plan.settings.iter().filter(|_| !(plain && by_bundle));
    let bundles = (1..).zip(&plan.bundles);
    SledSections {
        stock: stock_section(plan.measured_stock.as_ref()),
        measured: measured_section(&plan.measured_figures),
        saw: if plain {
            saw_section(&plan.blade, powered)
        } else {
            overview_section(plan, powered)
        },
        key: plan.key.as_ref().map(|key| key_section(key, plan)),
        settings: settings
            .map(|setting| {
                let section = if plain {
                    work_section(setting, plan, powered)
                } else {
                    setting_section(setting, plan, powered)
                };
                (setting, section)
            })
            .collect(),
        bundles: bundles
            .map(|(number, bundle)| (bundle, bundle_section(number, bundle, plan, powered, plain)))
            .collect(),
        strips: rows::strips_sections(plan, powered, plain),
        panel: (!plain || is_peculiar(&plan.panel)).then(|| panel_section(&plan.panel)),
        size: plan.size.as_ref().map(size_section),
        check: check_section(plan, powered),
    }
}

/// The sheet for a plan; `powered` as the sled's profile says.
pub fn sled_sheet(plan: &SledPlan, powered: bool) -> SetupSheet {
    let told = sled_sections(plan, powered);
    let mut sections = Vec::from_iter(told.stock);
    sections.extend(told.measured);
    sections.push(told.saw);
    sections.extend(told.key);
    sections.extend(told.settings.into_iter().map(|(_, section)| section));
    sections.extend(told.bundles.into_iter().map(|(_, section)| section));
    sections.extend(told.panel);
    sections.extend(told.size);
    sections.push(told.check);
    SetupSheet {
        sections,
        ..blank_sheet(plan, powered)
    }
}

/// The same for somebody who stands at the saw and wants a figure: settings, tables and steps before
/// what is to be known besides.
pub fn sled_answer(plan: &SledPlan, powered: bool) -> SetupSheet {
    let told = sled_sections(plan, powered);
    let settings = told.settings.into_iter().map(|(_, section)| section);
    let bundles = told.bundles.into_iter().map(|(_, section)| section);
    let mut sections = Vec::new();
    match plan.order {
        CutOrder::Stops => {
            sections.push(told.saw);
            sections.extend(settings);
            sections.extend(told.key);
            sections.extend(bundles);
        }
        CutOrder::Bundles => {
            sections.extend(told.key);
            sections.push(told.saw);
            sections.extend(bundles);
            sections.extend(settings);
        }
    }
    sections.extend(told.stock);
    sections.extend(told.measured);
    sections.extend(told.panel);
    sections.extend(told.size);
    sections.push(told.check);
    SetupSheet {
        sections,
        ..blank_sheet(plan, powered)
    }
}

/// A plan's sheet with nothing on it yet.
pub(in crate::sheets) fn blank_sheet(plan: &SledPlan, powered: bool) -> SetupSheet {
    let kind = if powered { "Sled" } else { "Bench hook" };
    SetupSheet {
        part: SheetPart::Sled,
        title: format!("{} - {}", plan.title, plan.machine),
        heading: format!("{kind}: {}", plan.machine),
        safety: SafetyNotes::for_sled(powered),
        sections: Vec::new(),
    }
}

/// Whether strips have to be turned or trimmed, or could ride along.
fn is_peculiar(panel: &PanelFacts) -> bool {
    !panel.turned.is_empty() || !panel.trims.is_empty() || panel.riding.is_some()
}

fn key_section(key: &KeySize, plan: &SledPlan) -> Section {
    let slanted = is_slanted(plan);
    let across = if slanted {
        "square to its length"
    } else {
        "along the strip"
    };
    let width = match plan.blade.passes_per_notch {
        1 => phrase!("{}: it fills the notch", across),
        _ => phrase!(
            "{}: as wide as the kerf, so that a notch pushed to either side of it gives the outer passes",
            across
        ),
    };
    let mut columns = vec!["centre", "face"];
    let mut caption = phrase!(
        "Key positions for the steps of this grid. Centre: key's centre to kerf's centre. Face: the key's face to the side of the kerf that it faces."
    );
    if slanted {
        columns.extend(["step", "key in strip"]);
        caption.append(phrase!(
            " Both are square to the kerf: the pitch. The key stands parallel to the kerf, not square to the fence. Step: the same from centre to centre along a slanted fence. Key in strip: its width along that fence."
        ));
    }
    columns.push("slot");
    let row = |position: &KeyPosition| {
        let mut cells = vec![
            TableCell::Length(position.centre_to_centre_mm),
            TableCell::Length(position.face_to_kerf_mm),
        ];
        if slanted {
            let square = position.centre_to_centre_mm;
            cells.push(TableCell::Length(position.along_fence_mm.unwrap_or(square)));
            let width = position.key_along_fence_mm.unwrap_or(key.width_mm);
            cells.push(TableCell::Length(width));
        }
        cells.push(
            (position.slot_mm).map_or(TableCell::Text("none: add it".into()), TableCell::Length),
        );
        cells
    };
    let table = Table {
        caption,
        columns,
        rows: key.positions.iter().map(row).collect(),
    };
    let mut figures = vec![Figure::new("width of the key", Mm(key.width_mm), width)];
    figures.push(key_height(key, plan));
    Section {
        heading: "Key".into(),
        blocks: vec![Block::Figures(figures), Block::Table(table)],
    }
}

/// A key must go into every notch that drops over it.
fn key_height(key: &KeySize, plan: &SledPlan) -> Figure {
    let several = (plan.settings.windows(2)).any(|pair| match pair {
        [a, b] => a.depth_mm.approx_ne(b.depth_mm, POSITION),
        _ => false,
    });
    let mut words = if several {
        phrase!("less than this over the base: the shallowest notch drops over it too")
    } else {
        phrase!("less than this over the base: the notch drops over it")
    };
    if plan.blade.floor_ridge_mm >= PRINTED_MM {
        words.append(phrase!(
            ", and its floor is {} higher in the middle",
            Mm(plan.blade.floor_ridge_mm)
        ));
    }
    Figure::new("height of the key", Mm(key.below_mm), words)
}
