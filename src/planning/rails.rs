//! The frame's rails: mortises, stop list, where the strips are trimmed.

use super::frame_joint::{recess_figures, tenon_figures};
use super::frame_mitres::mitre_plan;
use super::measured_figures::measured_for_notches;
use super::measured_stock::measured_stock;
use crate::finding::Finding;
use crate::geometry::{SAME_POSITION_MM, Vector};
use crate::instructions::label_runs;
use crate::instructions::rails::{MortiseFigures, RailFigures, RailPlan, TrimFigures};
use crate::lattice::{Frame, FrameOutlines, Lattice, Rail, StripId, Tenons, TrimmedEnds};
use crate::machines::Router;
use crate::phrase;
use crate::units::Mm;
use std::f64::consts::FRAC_PI_4;

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
    let tenons = corners(lattice, frame, &made.rails)?;
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
            measured_figures: router
                .map(|router| measured_for_notches(&router.measured))
                .unwrap_or_default(),
            mortise_depth_mm: frame.mortise_depth,
            end_gap_mm: frame.end_gap,
            mortise_height_mm: lattice.section.depth + frame.clearance,
            from_front_mm: frame.setback - frame.clearance / 2.0,
            by_strips: frame.by_strips,
            thickness_mm: frame.thickness,
            corner_radius_mm: fits.map(|diameter| diameter / 2.0),
            rails,
            mitres: mitre_plan(&made.rails, &names),
            tenons: tenons.as_ref().map(|tenons| tenon_figures(tenons, &names)),
            recess: recess_figures(frame, &made.rails),
            trims: trims(lattice, &made.trimmed, &names),
            size: None,
            programs: Vec::new(),
            without_program: Vec::new(),
        },
        warnings,
    ))
}

/// The frame's tenons, where it has any, once neither they nor a rebate or groove run into mortises.
pub(super) fn corners(
    lattice: &Lattice,
    frame: &Frame,
    rails: &[Rail],
) -> Result<Option<Tenons>, Vec<Finding>> {
    let section = &lattice.section;
    let mut faults = frame.recess_faults(section.depth, section.least_web);
    let tenons = frame.tenons(rails, section.least_web);
    match tenons {
        Ok(tenons) if faults.is_empty() => Ok(tenons),
        Ok(_) => Err(faults),
        Err(more) => {
            faults.extend(more);
            Err(faults)
        }
    }
}

/// What is seen of a frame from the front, where its members' widths are known; nothing where it cannot be
/// made, which [`plan_rails`] tells.
pub fn frame_outlines(lattice: &Lattice, frame: &Frame) -> Option<FrameOutlines> {
    let made = frame.rails(lattice).ok()?;
    let outlines = match corners(lattice, frame, &made.rails).ok()? {
        Some(tenons) => FrameOutlines::tenoned(&made.rails, &tenons),
        None => FrameOutlines::mitred(&made.rails),
    };
    (!outlines.members.is_empty()).then_some(outlines)
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
        .map(|(at, rail)| {
            let side = RailSide::of(rail.outward);
            match (is_rectangle, side) {
                (true, RailSide::Top | RailSide::Bottom) => format!("{} rail", side.words()),
                (true, _) => format!("{} stile", side.words()),
                (false, _) => format!("rail {} ({})", at + 1, side.words()),
            }
        })
        .collect()
}

/// A side of the panel, seen from the front.
#[derive(Debug, Clone, Copy)]
enum RailSide {
    Right,
    UpperRight,
    Top,
    UpperLeft,
    Left,
    LowerLeft,
    Bottom,
    LowerRight,
}

impl RailSide {
    /// Counter-clockwise.
    const ALL: [RailSide; 8] = [
        RailSide::Right,
        RailSide::UpperRight,
        RailSide::Top,
        RailSide::UpperLeft,
        RailSide::Left,
        RailSide::LowerLeft,
        RailSide::Bottom,
        RailSide::LowerRight,
    ];

    /// Where something lies, by its direction from the inside, to the nearest eighth of a turn.
    fn of(outward: Vector) -> RailSide {
        let eighths = (outward.y.atan2(outward.x) / FRAC_PI_4)
            .round()
            .rem_euclid(8.0);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 7
        RailSide::ALL
            .get(eighths as usize)
            .copied()
            .unwrap_or(RailSide::Right)
    }

    fn words(self) -> &'static str {
        match self {
            RailSide::Right => "right",
            RailSide::UpperRight => "upper right",
            RailSide::Top => "top",
            RailSide::UpperLeft => "upper left",
            RailSide::Left => "left",
            RailSide::LowerLeft => "lower left",
            RailSide::Bottom => "bottom",
            RailSide::LowerRight => "lower right",
        }
    }
}

fn figures(lattice: &Lattice, rail: &Rail, name: String) -> RailFigures {
    let mut mortises = Vec::new();
    for (index, mortise) in (1..).zip(&rail.mortises) {
        let [near, far] = mortise.edges;
        mortises.push(MortiseFigures {
            index,
            strips: labels(lattice, &mortise.strips),
            centre_mm: f64::midpoint(near, far),
            near_edge_mm: near,
            far_edge_mm: far,
            width_mm: far - near,
            angle: mortise.angle,
        });
    }
    RailFigures {
        name,
        datum: rail.datum_end(),
        inner_length_mm: rail.length(),
        mortises,
        flush: labels(lattice, &rail.flush),
    }
}

fn labels(lattice: &Lattice, strips: &[StripId]) -> Vec<String> {
    strips.iter().map(|id| lattice.label(*id)).collect()
}

/// Strips that are trimmed alike, together.
fn trims(lattice: &Lattice, trimmed: &[TrimmedEnds], rails: &[String]) -> Vec<TrimFigures> {
    let mut groups: Vec<(&TrimmedEnds, Vec<String>)> = Vec::new();
    for ends in trimmed {
        let label = lattice.label(ends.strip);
        match groups
            .iter_mut()
            .find(|(first, _)| trimmed_alike(first, ends))
        {
            Some((_, labels)) => labels.push(label),
            None => groups.push((ends, vec![label])),
        }
    }
    let mut all = Vec::new();
    for (ends, labels) in groups {
        let [datum_corners, other_corners] = &ends.corners;
        all.push(TrimFigures {
            strips: label_runs(&labels),
            from: ends.datum_end,
            datum_end_corners: named(rails, datum_corners),
            other_end_corners: named(rails, other_corners),
            datum_end_mm: ends.at[0],
            other_end_mm: ends.at[1],
            datum_angle: ends.angles[0],
            other_angle: ends.angles[1],
        });
    }
    all
}

fn trimmed_alike(a: &TrimmedEnds, b: &TrimmedEnds) -> bool {
    a.strip.family == b.strip.family
        && apart_by_less(a.at, b.at, SAME_POSITION_MM)
        && apart_by_less(a.angles, b.angles, 1e-9)
        && a.corners == b.corners
}

fn apart_by_less(a: [f64; 2], b: [f64; 2], by: f64) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < by)
}

/// Names of the rails at these places.
fn named(rails: &[String], at: &[usize]) -> Vec<String> {
    at.iter().filter_map(|at| rails.get(*at).cloned()).collect()
}
