//! Rows of pieces on a router: the sheet with pictures, the tool's way, and what is measured.

use super::pencil::{Beside, Pencil, drawn};
use crate::geometry::Point;
use crate::instructions::drawing::{Anchor, Role};
use crate::instructions::routed_rows::{RoutedRow, RoutedRows};
use crate::instructions::sheet::{Block, Check, Picture, Play, PlayStop, SetupSheet, Tally};
use crate::phrase;
use crate::sheets::routed_rows::{row_section, sheet_with};
use crate::units::{Brief, Mm};

/// The sheet for a plan.
pub(super) fn sheet(plan: &RoutedRows) -> SetupSheet {
    let section = |row: &RoutedRow| {
        let mut section = row_section(row);
        section.illustrate([from_above(row)]);
        section.blocks.extend([
            Block::Tally(Tally {
                what: "runs done".into(),
                count: row.runs,
            }),
            Block::Play(play(row)),
            Block::Checks(checks(row)),
        ]);
        section
    };
    sheet_with(plan, plan.rows.iter().map(section).collect())
}

/// Sticks with what is cut away, and the pieces that stay.
fn sticks(pencil: &mut Pencil, row: &RoutedRow) {
    for front in &row.front_edges_mm {
        let back = front + row.thickness_mm;
        pencil.rectangle(Role::Wood, (0.0, *front), (row.stick_mm, back));
        let radius = row.tool.cuts_mm / 2.0;
        for mitre in &row.mitres {
            band(pencil, row, *front, (mitre.centre_mm, mitre.angle, radius));
        }
        for piece in &row.pieces {
            let corners = piece.outline_mm.iter();
            let ring = corners.map(|[x, y]| Point::new(*x, y + front)).collect();
            pencil.drawing.area(Role::Piece, ring);
        }
        for lap in &row.laps {
            let half = lap.width_mm * lap.angle.sin() / 2.0;
            band(pencil, row, *front, (lap.centre_mm, lap.angle, half));
        }
    }
}

/// A cut across a stick: its middle on the centre line, its angle, half its width square to it.
fn band(pencil: &mut Pencil, row: &RoutedRow, front: f64, (centre, angle, half): (f64, f64, f64)) {
    let lean = row.thickness_mm / 2.0 / angle.tan();
    let open = half / angle.sin();
    let back = front + row.thickness_mm;
    let ring = [
        Point::new(centre - lean - open, front),
        Point::new(centre - lean + open, front),
        Point::new(centre + lean + open, back),
        Point::new(centre + lean - open, back),
    ];
    pencil.drawing.area(Role::Cut, ring.to_vec());
}

fn from_above(row: &RoutedRow) -> Picture {
    let title = format!("Sticks from above: {} {}", row.number, row.piece);
    let back = row.front_edges_mm.last().copied().unwrap_or_default() + row.thickness_mm;
    let drawing = drawn(&title, |pencil| {
        let capitals = pencil.capitals;
        let beyond = 1.2 * capitals;
        for [from, to] in [
            [0.0, row.grip_mm],
            [row.stick_mm - row.grip_mm, row.stick_mm],
        ] {
            pencil.rectangle(Role::Jig, (from, -beyond), (to, back + beyond));
        }
        sticks(pencil, row);
        pencil.zero((0.0, 0.0));
        pencil.name(Anchor::End, (-2.0 * capitals, 0.0), "zero X0 Y0");
        let middle = row.thickness_mm / 2.0;
        let stick = phrase!("stick {}", Brief(row.stick_mm));
        let ends = [(0.0, middle), (row.stick_mm, middle)];
        pencil.across(ends[0], ends[1], -6.0 * capitals, stick, Beside::Right);
        if let [_, second, ..] = row.front_edges_mm.as_slice() {
            let text = phrase!("spacer {}", Brief(row.apart_mm));
            let right = row.stick_mm;
            let ends = [(right, row.thickness_mm), (right, *second)];
            pencil.upward(ends[0], ends[1], right + 3.0 * capitals, text, false);
        }
    });
    let caption = phrase!(
        "From above, to scale. X runs to the right, Y away from you. Grey: the grips, {} long, for clamps on the sticks; the tool does not come there. White: what is cut away; all else of a stick is a piece, or waste on the skin.",
        Brief(row.grip_mm)
    );
    Picture { drawing, caption }
}

/// The tool's way over the sticks.
fn play(row: &RoutedRow) -> Play {
    let title = format!("Tool's way from above: {} {}", row.number, row.piece);
    let drawing = drawn(&title, |pencil| {
        sticks(pencil, row);
        for path in row.path.cuts.all() {
            let steps = path.moves.iter();
            let points = steps.map(|step| Point::new(step.to.x, step.to.y)).collect();
            pencil.drawing.line(Role::Path, points);
        }
        pencil.zero((0.0, 0.0));
    });
    let mut stops = Vec::new();
    for path in row.path.cuts.all() {
        let steps = path.moves.iter();
        stops.extend(steps.map(|step| PlayStop::of(step, path.index)));
    }
    let caption = phrase!(
        "The tool's way in program {}, from above. Sticks {} long.",
        &row.file,
        Brief(row.stick_mm)
    );
    Play {
        picture: Picture { drawing, caption },
        diameter: row.tool.cuts_mm,
        depth: row.depth_mm,
        file: row.file.clone(),
        stops,
    }
}

fn checks(row: &RoutedRow) -> Vec<Check> {
    let mut checks = vec![
        Check {
            what: phrase!("First piece, in place: from point to point"),
            should: Mm(row.length_over_points_mm).into(),
            otherwise: phrase!(
                "where it is shorter, the cutter cuts wider than its profile says: write there what a test notch was to be and what it is ([measured] notch_programmed, notch_measured), and make the programs again"
            ),
        },
        Check {
            what: phrase!("Beside a stick: from its top to the floor of a mitre's cut"),
            should: Mm(row.depth_mm - row.skin_mm).into(),
            otherwise: phrase!("set Z again at the top of the sticks"),
        },
    ];
    if let Some(lap) = row.laps.first() {
        checks.push(Check {
            what: phrase!("First lap: width along the stick"),
            should: Mm(lap.width_mm).into(),
            otherwise: phrase!("measure the cutter over its edges and write it into the profile"),
        });
        checks.push(Check {
            what: phrase!("First lap: depth"),
            should: Mm(lap.depth_mm).into(),
            otherwise: phrase!("set Z again at the top of the sticks"),
        });
    }
    checks
}
