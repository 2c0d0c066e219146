//! A panel's parts, counted.

use super::cuts::trims;
use super::trimmed::{KeptStrip, kept};
use super::weight::weight;
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM, bounds};
use crate::infill::{Infilling, PieceStock};
use crate::instructions::label_runs;
use crate::instructions::overview::{
    CellOverview, FrameJointKind, FrameOverview, GridFigures, Metres, Overview, PieceCount,
    SectionFigures, StripKind, TenonsOverview, TrimPlace,
};
use crate::instructions::panel_size::PanelSize;
use crate::instructions::pare::ParePlan;
use crate::lattice::{CornerJoint, Crossing, Frame, Grid, Lattice, Margins, Panel, StripId};
use crate::planning::as_built::as_built_of;
use crate::planning::measured_stock::measured_stock;
use crate::planning::rails::corners;
use crate::planning::{SizedPanel, frame_outlines, panel_size};
use float_cmp::ApproxEq;

/// What is looked at.
#[derive(Debug, Clone, Copy)]
pub struct OverviewOrder<'a> {
    /// The panel with what goes round it.
    pub sized: SizedPanel<'a>,
    /// Its cells with their pieces, if it has any.
    pub filled: Option<&'a Infilling>,
    /// The list of these.
    pub pare: Option<&'a ParePlan>,
}

/// A panel at a glance; what machines do and what wood to get is left empty.
///
/// # Errors
/// What is wrong with the frame, at the job's fields.
pub fn overview(order: &OverviewOrder<'_>) -> Result<Overview, Vec<Finding>> {
    let SizedPanel { panel, frame, .. } = order.sized;
    let lattice = panel.lattice();
    let size = panel_size(order.sized);
    let framed_by = frame
        .map(|frame| framed(frame, &size, lattice))
        .transpose()?;
    let [x, y] = size.margin_mm;
    let margins = Margins { x, y };
    let kept = kept(lattice, frame, margins).ok_or_else(|| vec![no_outline()])?;
    let cut_off = trims(lattice, &kept);
    let inside = lattice.crossings.iter().filter(|crossing| crossing.inside);
    let inside: Vec<&Crossing> = inside.collect();
    let section = &lattice.section;
    Ok(Overview {
        title: lattice.title.clone(),
        grid: grid(&panel.design().grid),
        section: SectionFigures {
            thickness_mm: section.thickness,
            depth_mm: section.depth,
            clearance_mm: section.clearance,
            pieces_mm: order.filled.and_then(|filled| own_section(panel, filled)),
            wood: section.wood.clone(),
        },
        measured_stock: measured_stock(lattice),
        as_built: as_built_of(panel),
        finished_mm: size.finished_mm,
        over_all_mm: over_all(lattice, frame, &kept),
        opening_mm: size.opening.as_ref().map(|opening| opening.opening_mm),
        trim: TrimPlace::shared(cut_off.iter().flat_map(|kind| &kind.places)),
        trims: cut_off,
        frame: framed_by,
        size,
        strips: strips(lattice, &kept),
        pieces: order.pare.map(pieces).unwrap_or_default(),
        nodes: nodes(&inside),
        joints: inside.len(),
        joints_trimmed_off: lattice.crossings.len() - inside.len(),
        metres: metres(lattice, order.pare),
        stock: None,
        weight: weight(panel, &kept, order.filled, frame),
        machines: Vec::new(),
        advice: None,
        cells: cells(panel, order.filled),
    })
}

/// Thickness and depth of pieces that are not made of the strips' wood.
fn own_section(panel: &Panel, filled: &Infilling) -> Option<[f64; 2]> {
    let given = (panel.design().infill.as_ref()).is_some_and(|infill| infill.section.is_some());
    let section = filled.most_stock;
    let strips = PieceStock::of(&panel.design().strip.for_pieces());
    (given || !section.is_like(&strips)).then_some([section.thickness, section.depth])
}

fn no_outline() -> Finding {
    let text =
        "no outline lies so far round the region that the strips' ends could be cut off there";
    Finding::error("no-outline", "grid.region", text)
}

fn grid(grid: &Grid) -> GridFigures {
    match grid {
        Grid::Square(grid) => GridFigures::Square {
            pitches_x_mm: grid.pitches_x.clone(),
            pitches_y_mm: grid.pitches_y.clone(),
        },
        Grid::Diamond(grid) => GridFigures::Diamond {
            pitch_mm: grid.pitch,
            angle: grid.angle,
        },
        Grid::Triangular(grid) => GridFigures::Triangular { side_mm: grid.side },
    }
}

/// Of the members' outer corners where these are known, else of what stays of the strips, those in
/// mortises included.
fn over_all(lattice: &Lattice, frame: Option<&Frame>, kept: &[KeptStrip]) -> [f64; 2] {
    let members = frame.and_then(|frame| frame_outlines(lattice, frame));
    let members = members.into_iter().flat_map(|outlines| outlines.members);
    let strips = lattice.strips.iter().zip(kept);
    let strips = strips.flat_map(|(strip, kept)| kept.corners(strip));
    bounds(members.flatten().chain(strips))
        .map_or([0.0; 2], |(low, high)| [high.x - low.x, high.y - low.y])
}

fn framed(
    frame: &Frame,
    size: &PanelSize,
    lattice: &Lattice,
) -> Result<FrameOverview, Vec<Finding>> {
    let rails = frame.rails(lattice)?.rails;
    let tenons = corners(lattice, frame, &rails)?;
    let mitred = rails.iter().filter(|rail| rail.member.is_some());
    Ok(FrameOverview {
        mitres: 2 * mitred.count(),
        tenons: tenons.map(|tenons| TenonsOverview {
            count: 2 * tenons.rails.len(),
            length_mm: tenons.length,
            thickness_mm: tenons.thickness,
        }),
        mortises: rails.iter().map(|rail| rail.mortises.len()).sum(),
        mortise_depth_mm: frame.mortise_depth,
        thickness_mm: frame.thickness,
        members: lattice.region.len(),
        outside_mm: size.finished_mm,
        joint: match frame.joint {
            CornerJoint::Mitre => FrameJointKind::Mitre,
            CornerJoint::Tenon(_) => FrameJointKind::MortiseAndTenon,
        },
    })
}

/// By family and by what is cut and kept of them, in the order of the lattice.
fn strips(lattice: &Lattice, kept: &[KeptStrip]) -> Vec<StripKind> {
    let mut kinds: Vec<(StripKind, usize, Vec<StripId>)> = Vec::new();
    for (strip, kept) in lattice.strips.iter().zip(kept) {
        let cut = cut_length(lattice, strip.id).unwrap_or(strip.length);
        let trimmed = kept.length();
        let is_same = |(kind, family, _): &&mut (StripKind, usize, Vec<StripId>)| {
            *family == strip.id.family
                && kind.length_mm.approx_eq(cut, POSITION)
                && kind.trimmed_mm.approx_eq(trimmed, POSITION)
        };
        match kinds.iter_mut().find(is_same) {
            Some((_, _, strips)) => strips.push(strip.id),
            None => kinds.push((
                StripKind {
                    kind: lattice.family_name(strip.id.family),
                    count: 0,
                    strips: String::new(),
                    length_mm: cut,
                    trimmed_mm: trimmed,
                },
                strip.id.family,
                vec![strip.id],
            )),
        }
    }
    let told = kinds.into_iter().map(|(kind, _, strips)| {
        let labels: Vec<String> = strips.iter().map(|id| lattice.label(*id)).collect();
        StripKind {
            count: strips.len(),
            strips: label_runs(&labels),
            ..kind
        }
    });
    told.collect()
}

/// As a strip is notched in its bundle: one that rides along is as long as the longest there.
fn cut_length(lattice: &Lattice, id: StripId) -> Option<f64> {
    let mut bundles = lattice.bundles.iter();
    let own = bundles.find(|bundle| bundle.strips.contains(&id))?;
    Some(own.length)
}

fn pieces(plan: &ParePlan) -> Vec<PieceCount> {
    let pieces = plan.pieces.iter();
    pieces
        .map(|piece| PieceCount {
            number: piece.number,
            kind: piece.name.clone(),
            count: piece.count,
            made: piece.made,
            length_mm: piece.length_over_points_mm,
            rough_length_mm: piece.rough_length_mm,
            trimmed_from: piece.trimmed_from,
        })
        .collect()
}

/// Three strips through one place make three laps there and one node.
fn nodes(crossings: &[&Crossing]) -> usize {
    let mut places: Vec<Point> = Vec::new();
    let mut sorted = crossings.to_vec();
    sorted.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
    for crossing in sorted {
        // Those at one place have x in common but for rounding, so only the last few can be it.
        let near = places.iter().rev();
        let mut near = near.take_while(|place| crossing.at.x - place.x < SAME_POSITION_MM);
        if !near.any(|place| place.to(crossing.at).length() < SAME_POSITION_MM) {
            places.push(crossing.at);
        }
    }
    places.len()
}

fn metres(lattice: &Lattice, pare: Option<&ParePlan>) -> Metres {
    let bundles = lattice.bundles.iter();
    let strips: f64 = bundles
        .map(|bundle| bundle.length * bundle.strips.len() as f64)
        .sum();
    let pieces = pare.iter().flat_map(|plan| &plan.pieces);
    let pieces: f64 = pieces
        .map(|piece| piece.rough_length_mm * piece.made as f64)
        .sum();
    Metres {
        strips: strips / 1e3,
        pieces: pieces / 1e3,
    }
}

fn cells(panel: &Panel, filled: Option<&Infilling>) -> Vec<CellOverview> {
    let cells = panel.design().grid.cells();
    let cells = cells.into_iter().map(|cell| {
        let own = filled.and_then(|filled| {
            let mut cells = filled.cells.iter();
            let own = cells.find(|own| (own.row, own.column) == (cell.row, cell.column))?;
            let is_filled = !own.pieces.is_empty();
            let entry = own.entry.filter(|_| is_filled)?;
            let entry = filled.map.entries.get(entry)?;
            Some((entry, filled.map.patterns.get(entry.pattern)?))
        });
        CellOverview {
            row: cell.row,
            column: cell.column,
            corners_mm: cell.corners,
            whole: cell.whole,
            pattern: own.map(|(_, pattern)| pattern.name.clone()),
            letter: own.map(|(entry, _)| entry.letter),
        }
    });
    cells.collect()
}
