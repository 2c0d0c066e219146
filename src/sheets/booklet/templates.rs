//! Drawings to be laid on wood, at true size.

use super::work::BookletWork;
use crate::geometry::Point;
use crate::geometry::tolerance::DIRECTION;
use crate::infill::{CellKind, FilledCell, Infilling};
use crate::instructions::drawing::{Anchor, Drawing, Role, text_width};
use crate::instructions::laser::{LaserPlan, Ware};
use crate::instructions::outline::CutPart;
use crate::instructions::sled::{KeySize, NotchFigures};
use crate::lattice::{Bundle, Face, Notch};
use crate::phrase;
use crate::planning::notch_figures;
use crate::planning::sheet_cutting::template_parts;
use crate::sheets::panel_picture::pieces;
use crate::units::Brief;
use float_cmp::ApproxEq;
use std::f64::consts::FRAC_PI_2;

/// Height of capitals, mm.
const CAPITALS: f64 = 2.4;

/// All templates of a job.
pub(super) fn templates(work: &BookletWork<'_>) -> Vec<Drawing> {
    let mut all = Vec::new();
    let key = work.sled.and_then(|(plan, _)| plan.key.as_ref());
    all.extend(key.map(rack));
    let lattice = work.lattice;
    let sawn = work.sled.iter().flat_map(|(plan, _)| &plan.bundles);
    let mut sawn = sawn.flat_map(|bundle| &bundle.notches);
    let sawn_wider = sawn.any(|notch| notch.drawn_width_mm.is_some());
    for (at, bundle) in lattice.bundles.iter().enumerate() {
        let twin = lattice
            .bundles
            .iter()
            .take(at)
            .any(|other| bundle.same_part(other).is_some());
        // What is cut is not marked out any more.
        if !twin && !lattice.strips_are_cut {
            all.push(gauge(
                at + 1,
                bundle,
                &work.labels(bundle),
                lattice.section.depth,
                sawn_wider,
            ));
        }
    }
    // What is cut from sheet is drawn there.
    let cut = |plan: &LaserPlan| plan.wares.contains(&Ware::Blocks);
    let by_hand = work.pare.filter(|_| !work.laser.iter().any(cut));
    if let Some(pare) = by_hand {
        all.extend(template_parts(pare).iter().map(part_of_guide));
    }
    if let Some(filled) = work.filled {
        all.extend(cells(filled));
    }
    all
}

fn blank(title: String) -> Drawing {
    Drawing::new(title, Point::default(), Point::default())
}

/// Where keys stand from the kerf, one row for each distance; rows share the kerf's middle.
fn rack(key: &KeySize) -> Drawing {
    const ROW: f64 = 13.0;
    let mut drawing = blank("Key positions, square to the kerf, middle to middle".into());
    let half = key.width_mm / 2.0;
    for (at, position) in key.positions.iter().enumerate() {
        let low = -(at as f64) * ROW - 8.0;
        let high = -(at as f64) * ROW;
        let centre = -position.centre_to_centre_mm;
        for (middle, role) in [(centre, Role::Key), (0.0, Role::Tool)] {
            drawing.rectangle(
                role,
                Point::new(middle - half, low),
                Point::new(middle + half, high),
            );
            let line = [
                Point::new(middle, low - 1.5),
                Point::new(middle, high + 1.5),
            ];
            drawing.line(Role::Measure, line.to_vec());
        }
        let text = phrase!("key to kerf {}", Brief(position.centre_to_centre_mm));
        let place = Point::new(half + 3.0, f64::midpoint(low, high));
        drawing.text_from(Role::Measure, Anchor::Start, place, CAPITALS, text);
    }
    drawing.fit(2.0);
    drawing
}

/// A strip's side with all its notches as the job asks for them, for checking and for marking.
fn gauge(number: usize, bundle: &Bundle, labels: &str, depth: f64, sawn_wider: bool) -> Drawing {
    let square = |notch: &Notch| notch.angle.approx_eq(FRAC_PI_2, DIRECTION);
    let whose = if bundle.notches.iter().all(square) {
        ""
    } else {
        " on the centre line"
    };
    // Short: the title tells the page of a long strip as well.
    let notches = if sawn_wider {
        "Drawn notches"
    } else {
        "Notches"
    };
    let mut drawing = blank(format!(
        "{notches} of bundle {number} ({labels}){whose}, datum end on the left"
    ));
    let tall = depth.max(8.0);
    drawing.rectangle(
        Role::Wood,
        Point::new(0.0, 0.0),
        Point::new(bundle.length, tall),
    );
    // Texts that would touch the one before go to the next row.
    let mut free = [f64::NEG_INFINITY; 3];
    for notch in notch_figures(&bundle.notches) {
        drawing.area(Role::Cut, slot(&notch, tall));
        let text = phrase!("{}: {}", notch.index, Brief(notch.near_edge_mm));
        let half = text_width(&text, CAPITALS) / 2.0;
        let row = free.iter().position(|end| *end < notch.near_edge_mm - half);
        let row = row.unwrap_or(free.len() - 1);
        if let Some(end) = free.get_mut(row) {
            if *end >= notch.near_edge_mm - half {
                continue;
            }
            *end = notch.near_edge_mm + half;
        }
        let y = -3.0 - 4.2 * row as f64;
        // Short, so that it ends above all rows.
        let line = [
            Point::new(notch.near_edge_mm, 0.0),
            Point::new(notch.near_edge_mm, -1.2),
        ];
        drawing.line(Role::Measure, line.to_vec());
        drawing.text(
            Role::Measure,
            Point::new(notch.near_edge_mm, y),
            CAPITALS,
            text,
        );
    }
    drawing.fit(1.0);
    drawing
}

/// A notch in the side of a strip `tall` high, open toward its face (the front is up).
fn slot(notch: &NotchFigures, tall: f64) -> Vec<Point> {
    let (open, floor) = if notch.face == Face::Back {
        (0.0, notch.depth_mm)
    } else {
        (tall, tall - notch.depth_mm)
    };
    let near = notch.near_edge_mm;
    let far = notch.far_edge_mm;
    [(near, open), (near, floor), (far, floor), (far, open)]
        .map(|(x, y)| Point::new(x, y))
        .to_vec()
}

fn part_of_guide(part: &CutPart) -> Drawing {
    let mut drawing = blank(match part.name.strip_prefix("block ") {
        Some(angle) => format!("Guide block {angle} deg"),
        None => format!("Guide: {}", part.name),
    });
    drawing.area(Role::Ground, part.outer.clone());
    for hole in &part.holes {
        drawing.area(Role::Cut, hole.clone());
    }
    drawing.fit(1.0);
    drawing
}

/// One whole cell of each kind with its pieces, to lay them on.
fn cells(filled: &Infilling) -> Vec<Drawing> {
    let kinds = filled.cell_kinds();
    let several = kinds.len() > 1;
    let drawn = |kind: &CellKind| {
        let first = filled.cells.get(*kind.cells.first()?)?;
        let name = if several {
            format!(" (kind {})", kind.name)
        } else {
            String::new()
        };
        first.whole.then(|| cell(first, &name))
    };
    kinds.iter().filter_map(drawn).collect()
}

/// One cell with its pieces; `kind` is said behind its place.
fn cell(cell: &FilledCell, kind: &str) -> Drawing {
    let mut drawing = blank(format!(
        "Cell in column {}, row {} of the panel{kind}, pieces by number",
        cell.column, cell.row
    ));
    drawing.area(Role::Cut, cell.outline.clone());
    pieces(&mut drawing, cell, |point| point);
    drawing.fit(1.0);
    drawing
}
