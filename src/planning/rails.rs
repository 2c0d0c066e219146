//! The frame's rails: mortises, stop list, where the strips are trimmed.

use super::router::program_sections;
use super::stock::{measured_stock, stock_section};
use crate::finding::Finding;
use crate::geometry::{SAME_POSITION_MM, Vector};
use crate::instructions::label_runs;
use crate::instructions::rails::{MortiseFigures, RailFigures, RailPlan, TrimFigures};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Cell, Figure, Section, SetupSheet, Table};
use crate::lattice::{Frame, Lattice, Mortise, Rail, Strip, StripId, TrimmedEnds};
use crate::machines::Router;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// Works the rails of a frame out; `router` is the one whose tool would cut the mortises.
///
/// # Errors
/// What cannot be made, at the job's fields.
pub fn plan_rails(
    lattice: &Lattice,
    frame: &Frame,
    router: Option<&Router>,
) -> Result<(RailPlan, Vec<Finding>), Vec<Finding>> {
    let made = frame.rails(lattice)?;
    let names = rail_names(&made.rails);
    let rails = made.rails.iter().zip(&names);
    let rails: Vec<RailFigures> = rails
        .map(|(rail, name)| figures(lattice, rail, name.clone()))
        .collect();
    let mut warnings = Vec::new();
    let narrowest = rails.iter().flat_map(|rail| &rail.mortises);
    let narrowest = narrowest
        .map(|mortise| mortise.width_mm)
        .fold(f64::INFINITY, f64::min);
    let diameter = router.map(|router| router.tool.diameter);
    if let Some(diameter) = diameter.filter(|diameter| *diameter > narrowest + SAME_POSITION_MM) {
        let text = phrase!(
            "the router's tool of {} does not go into mortises {} wide: chop or drill them, or use a thinner tool",
            Mm(diameter),
            Mm(narrowest)
        );
        warnings.push(Finding::warning("tool-too-wide", "frame", text));
    }
    let fits = diameter.filter(|diameter| *diameter <= narrowest + SAME_POSITION_MM);
    Ok((
        RailPlan {
            title: lattice.title.clone(),
            measured_stock: measured_stock(lattice),
            mortise_depth_mm: frame.mortise_depth,
            end_gap_mm: frame.end_gap,
            mortise_height_mm: lattice.section.depth + frame.clearance,
            from_front_mm: frame.setback - frame.clearance / 2.0,
            thickness_mm: frame.thickness,
            corner_radius_mm: fits.map(|diameter| diameter / 2.0),
            rails,
            trims: trims(lattice, &made.trimmed, &names),
            programs: Vec::new(),
            without_program: Vec::new(),
        },
        warnings,
    ))
}

/// The rails of a rectangle by their side; of other regions by number and side, counted from the
/// lower side round counter-clockwise.
pub fn rail_names(rails: &[Rail]) -> Vec<String> {
    let is_rectangle = rails.len() == 4
        && rails
            .iter()
            .all(|rail| rail.outward.x.abs() < 1e-9 || rail.outward.y.abs() < 1e-9);
    rails
        .iter()
        .enumerate()
        .map(|(at, rail)| match (is_rectangle, side(rail.outward)) {
            (true, "bottom") => "bottom rail".into(),
            (true, "top") => "top rail".into(),
            (true, side) => format!("{side} stile"),
            (false, side) => format!("rail {} ({side})", at + 1),
        })
        .collect()
}

/// The side of the panel on which something lies, seen from the front, by its direction from the
/// inside.
fn side(outward: Vector) -> &'static str {
    const SIDES: [&str; 8] = [
        "right",
        "upper right",
        "top",
        "upper left",
        "left",
        "lower left",
        "bottom",
        "lower right",
    ];
    let eighths = (outward.y.atan2(outward.x) / FRAC_PI_4)
        .round()
        .rem_euclid(8.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 7
    SIDES.get(eighths as usize).copied().unwrap_or("right")
}

fn figures(lattice: &Lattice, rail: &Rail, name: String) -> RailFigures {
    let labels = |strips: &[StripId]| strips.iter().map(|id| lattice.label(*id)).collect();
    let mortise = |(at, mortise): (usize, &Mortise)| {
        let [near, far] = mortise.edges;
        MortiseFigures {
            index: at + 1,
            strips: labels(&mortise.strips),
            centre_mm: f64::midpoint(near, far),
            near_edge_mm: near,
            far_edge_mm: far,
            width_mm: far - near,
            angle: mortise.angle,
        }
    };
    RailFigures {
        name,
        datum: rail.datum_end(),
        inner_length_mm: rail.length(),
        mortises: rail.mortises.iter().enumerate().map(mortise).collect(),
        flush: labels(&rail.flush),
    }
}

/// Strips that are trimmed alike, together.
fn trims(lattice: &Lattice, trimmed: &[TrimmedEnds], rails: &[String]) -> Vec<TrimFigures> {
    let alike = |a: &TrimmedEnds, b: &TrimmedEnds| {
        let near =
            |a: [f64; 2], b: [f64; 2], by: f64| a.iter().zip(b).all(|(a, b)| (a - b).abs() < by);
        a.strip.family == b.strip.family
            && near(a.at, b.at, SAME_POSITION_MM)
            && near(a.angles, b.angles, 1e-9)
            && a.corners == b.corners
    };
    let mut groups: Vec<(TrimmedEnds, Vec<String>)> = Vec::new();
    for ends in trimmed {
        let label = lattice.label(ends.strip);
        match groups.iter_mut().find(|(first, _)| alike(first, ends)) {
            Some((_, labels)) => labels.push(label),
            None => groups.push((ends.clone(), vec![label])),
        }
    }
    let corners = |reached: &[usize]| {
        reached
            .iter()
            .filter_map(|at| rails.get(*at).cloned())
            .collect()
    };
    let from = |id: StripId| {
        let strip = lattice.strips.iter().find(|strip| strip.id == id);
        strip.map_or("left end", Strip::datum_end)
    };
    let figures = |(ends, labels): (TrimmedEnds, Vec<String>)| TrimFigures {
        strips: label_runs(&labels),
        from: from(ends.strip),
        datum_end_corners: corners(&ends.corners[0]),
        other_end_corners: corners(&ends.corners[1]),
        datum_end_mm: ends.at[0],
        other_end_mm: ends.at[1],
        datum_angle: ends.angles[0],
        other_angle: ends.angles[1],
    };
    groups.into_iter().map(figures).collect()
}

/// The sheet for a plan.
pub fn rail_sheet(plan: &RailPlan) -> SetupSheet {
    let mut sections = Vec::from_iter(stock_section(plan.measured_stock.as_ref()));
    let lie = phrase!(
        "Where the job gives no margin, the rails' inner faces lie against the outermost strips as measured; where it gives no setback, the strips as measured lie in the middle of the rails."
    );
    let stock = sections.iter_mut();
    stock.for_each(|stock| stock.blocks.push(Block::Remarks(vec![lie.clone()])));
    sections.push(mortise_section(plan));
    sections.extend(plan.rails.iter().map(rail_section));
    sections.extend(program_sections(&plan.programs));
    sections.push(trim_section(plan));
    SetupSheet {
        title: plan.title.clone(),
        machine: "frame rails".into(),
        safety: SafetyNotes::for_mortises(!plan.programs.is_empty()),
        sections,
    }
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

fn rail_section(rail: &RailFigures) -> Section {
    let row = |mortise: &MortiseFigures| {
        vec![
            Cell::Count(mortise.index),
            Cell::Length(mortise.near_edge_mm),
            Cell::Length(mortise.centre_mm),
            Cell::Length(mortise.far_edge_mm),
            Cell::Length(mortise.width_mm),
            Cell::Text(Rad(mortise.angle).text()),
            Cell::Text(mortise.strips.join(", ")),
        ]
    };
    let caption = phrase!(
        "Edges and centre: along the inner face, from the frame's inner corner at the rail's {}, seen from the panel's front; the stop's distances for a drill or mortiser. Inner face {} long between the corners.",
        rail.datum,
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
            Cell::Text(trim.strips.clone()),
            Cell::Text(trim.from.into()),
            Cell::Length(trim.datum_end_mm),
            Cell::Text(Rad(trim.datum_angle).text()),
            Cell::Length(trim.other_end_mm),
            Cell::Text(Rad(trim.other_angle).text()),
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
    let other = match trim.from {
        "lower end" => "upper end",
        _ => "right end",
    };
    let ends = [
        (trim.from, &trim.datum_end_corners),
        (other, &trim.other_end_corners),
    ];
    let reaching = ends.into_iter().filter(|(_, rails)| !rails.is_empty());
    reaching
        .map(|(end, rails)| {
            phrase!(
                "{}, {}: a corner of the cut end still reaches into {}: scribe it in place and pare it to that face too.",
                &trim.strips,
                end,
                rails.join(" and ")
            )
        })
        .collect()
}
