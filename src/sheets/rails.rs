//! The sheet for the frame's rails.

use super::frame_joint::{recess_section, tenon_sections};
use super::frame_mitres::{member_section, mitre_sections};
use super::measured_figures::measured_section;
use super::measured_stock::stock_section;
use super::panel_size::size_section;
use super::router::program_sections;
use crate::instructions::rails::{MortiseFigures, RailFigures, RailPlan, TrimFigures};
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use std::f64::consts::FRAC_PI_2;

/// The sheet for a plan.
pub fn rail_sheet(plan: &RailPlan) -> SetupSheet {
    let heading = match (&plan.mitres, &plan.tenons) {
        (Some(_), _) => "Frame: mortises and mitres of the rails",
        (None, Some(_)) => "Frame: mortises and tenons of rails and stiles",
        (None, None) => "Frame: mortises in the rails",
    };
    let mut sections = Vec::from_iter(stock_section(plan.measured_stock.as_ref()));
    let lie = by_strips(plan);
    if let (Some(stock), false) = (sections.first_mut(), lie.is_empty()) {
        stock.blocks.push(Block::Remarks(lie));
    }
    sections.extend(measured_section(&plan.measured_figures));
    sections.extend(plan.size.as_ref().map(size_section));
    sections.extend(plan.mitres.as_ref().map(member_section));
    sections.extend(plan.tenons.iter().flat_map(tenon_sections));
    sections.extend(plan.recess.as_ref().map(recess_section));
    sections.push(mortise_section(plan));
    sections.extend(rail_sections(&plan.rails));
    sections.extend(program_sections(&plan.programs));
    sections.extend(plan.mitres.iter().flat_map(mitre_sections));
    sections.push(trim_section(plan));
    SetupSheet {
        part: SheetPart::Rails,
        title: format!("{} - frame rails", plan.title),
        heading: heading.into(),
        safety: plan.safety(),
        sections,
    }
}

/// What of the frame's place follows from the strips as measured.
fn by_strips(plan: &RailPlan) -> Vec<Phrase> {
    let margins = plan.by_strips.margins.then(|| {
        phrase!("The rails' inner faces lie against the outermost strips as measured: the job gives no margin.")
    });
    let setback = plan.by_strips.setback.then(|| {
        phrase!("The strips as measured lie in the middle of the rails, front to back: the job gives no setback.")
    });
    margins.into_iter().chain(setback).collect()
}

fn mortise_section(plan: &RailPlan) -> Section {
    let mut figures = vec![
        Figure::new(
            "mortise, depth",
            Mm(plan.mortise_depth_mm),
            "rail's inner face to the mortise's floor",
        ),
        Figure::new(
            "strip, in mortise",
            Mm(plan.mortise_depth_mm - plan.end_gap_mm),
            phrase!(
                "rail's inner face to the strip's trimmed end: {} stay open before the floor, so that the rails come home",
                Mm(plan.end_gap_mm)
            ),
        ),
        Figure::new(
            "mortise, height",
            Mm(plan.mortise_height_mm),
            "across the rail, front to back",
        ),
        Figure::new(
            "front edge",
            Mm(plan.from_front_mm),
            "rail's front face to the mortise's front edge: set the fence to it",
        ),
        Figure::new(
            "rail, thickness",
            Mm(plan.thickness_mm),
            "front face to back face",
        ),
    ];
    let mut remarks = Vec::new();
    if !plan.without_program.is_empty() {
        remarks.push(phrase!(
            "Chop or drill after the list, as the router does not reach them: {}.",
            plan.without_program.join(", ")
        ));
    }
    remarks.push(phrase!(
        "Clamp all rails that are alike with their inner corners flush and mark or stop them together."
    ));
    if let Some(radius) = plan.corner_radius_mm {
        figures.push(Figure::new(
            "corner radius",
            Mm(radius),
            "what the router's tool leaves in the mortise's corners",
        ));
        remarks.push(phrase!(
            "Square the corners with a chisel, or round the strips' ends by {}.",
            Mm(radius)
        ));
    }
    Section {
        heading: "Mortises".into(),
        blocks: vec![Block::Figures(figures), Block::Remarks(remarks)],
    }
}

/// A section for each rail; those of which the same is said share one.
fn rail_sections(rails: &[RailFigures]) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    for section in rails.iter().map(rail_section) {
        let known = sections.iter_mut();
        match known
            .into_iter()
            .find(|known| known.blocks == section.blocks)
        {
            Some(known) => known.heading = format!("{}, {}", known.heading, section.heading),
            None => sections.push(section),
        }
    }
    sections
}

fn rail_section(rail: &RailFigures) -> Section {
    let row = |mortise: &MortiseFigures| {
        vec![
            TableCell::Count(mortise.index),
            TableCell::Length(mortise.near_edge_mm),
            TableCell::Length(mortise.centre_mm),
            TableCell::Length(mortise.far_edge_mm),
            TableCell::Length(mortise.width_mm),
            TableCell::Text(Rad(mortise.angle).text()),
            TableCell::Text(mortise.strips.join(", ")),
        ]
    };
    let caption = phrase!(
        "Edges and centre: along the inner face, from the frame's inner corner at the rail's {}, seen from the panel's front; the stop's distances for a drill or mortiser. Inner face {} long between the corners.",
        rail.datum.name(),
        Mm(rail.inner_length_mm)
    );
    let table = Table {
        caption,
        columns: vec![
            "mortise",
            "near edge",
            "centre",
            "far edge",
            "width",
            "angle",
            "strips",
        ],
        rows: rail.mortises.iter().map(row).collect(),
    };
    let mut blocks = vec![Block::Table(table)];
    let mut remarks: Vec<Phrase> = Vec::new();
    if rail
        .mortises
        .iter()
        .any(|mortise| mortise.angle < FRAC_PI_2 - 1e-9)
    {
        remarks.push(phrase!(
            "Strips enter at a slant: mortises are cut square to the rail and long enough for the strip's whole way to the floor; the gap beside it lies behind the rail's edge."
        ));
    }
    if !rail.flush.is_empty() {
        remarks.push(phrase!(
            "Too near a corner for a mortise, cut flush with this rail's inner face: {}.",
            rail.flush.join(", ")
        ));
    }
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    Section {
        heading: rail.name.clone(),
        blocks,
    }
}

fn trim_section(plan: &RailPlan) -> Section {
    let row = |trim: &TrimFigures| {
        vec![
            TableCell::Text(trim.strips.clone()),
            TableCell::Text(trim.from.name().into()),
            TableCell::Length(trim.datum_end_mm),
            TableCell::Text(Rad(trim.datum_angle).text()),
            TableCell::Length(trim.other_end_mm),
            TableCell::Text(Rad(trim.other_angle).text()),
        ]
    };
    let table = Table {
        caption: "After glue-up, as the strips lie in the panel, seen from its front. Both cuts: from the end named, in the middle of the strip's thickness; angle: between strip and cut. Not from the marked end of a strip that was turned end for end.".into(),
        columns: vec!["strips", "from", "first cut", "angle", "second cut", "angle"],
        rows: plan.trims.iter().map(row).collect(),
    };
    let mut blocks = vec![Block::Table(table)];
    let remarks: Vec<Phrase> = plan.trims.iter().flat_map(corner_remarks).collect();
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    Section {
        heading: "Trim".into(),
        blocks,
    }
}

/// Ends that reach into a second rail.
fn corner_remarks(trim: &TrimFigures) -> Vec<Phrase> {
    let ends = [
        (trim.from, &trim.datum_end_corners),
        (trim.from.opposite(), &trim.other_end_corners),
    ];
    let reaching = ends.into_iter().filter(|(_, rails)| !rails.is_empty());
    reaching
        .map(|(end, rails)| {
            phrase!(
                "{}, {}: a corner of the cut end still reaches into {}: scribe it in place and pare it to that face too.",
                &trim.strips,
                end.name(),
                rails.join(" and ")
            )
        })
        .collect()
}
