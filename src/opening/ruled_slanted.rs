//! Rhombs and triangles for an inside, as wished.

use super::size::Size;
use super::slanted::{RhombFit, SlantedRoom, free_rhomb, given_rhomb, given_triangle};
use super::wish::{DiamondWish, NodePlace, TriangularWish, Wanted};
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{DiamondGrid, Margins, Region, TriangularGrid};
use crate::phrase;
use crate::units::{AtMost, Mm};

/// Where the numbers that are given fit.
#[derive(Clone, Copy)]
enum Counts {
    None,
    Columns(usize),
    Rows(usize),
    Both { columns: usize, rows: usize },
}

impl Counts {
    fn of(columns: Option<usize>, rows: Option<usize>) -> Counts {
        match (columns, rows) {
            (Some(columns), Some(rows)) => Counts::Both { columns, rows },
            (Some(columns), None) => Counts::Columns(columns),
            (None, Some(rows)) => Counts::Rows(rows),
            (None, None) => Counts::None,
        }
    }
}

/// The node lies where it is wanted.
fn region(size: Size, node: NodePlace) -> Region {
    let Size { width, height } = size;
    Region::Polygon {
        corners: vec![
            Point::new(0.0, 0.0),
            Point::new(width, 0.0),
            Point::new(width, height),
            Point::new(0.0, height),
        ],
        node: match node {
            NodePlace::Middle => Point::new(width / 2.0, height / 2.0),
            NodePlace::Corner => Point::default(),
        },
    }
}

/// The rhombs that a wish makes of an inside; the overhang is not known yet.
///
/// # Errors
/// What the inside does not hold, with what it would.
pub(super) fn rule_diamond(
    inside: Size,
    wish: &DiamondWish,
    thickness: f64,
) -> Result<(DiamondGrid, Margins), Vec<Finding>> {
    let room = SlantedRoom::of_diamonds(wish.stance, wish.node, wish.rest);
    let least = room.least_margins(wish.least_margin, thickness);
    let open = open_room(inside, least)?;
    let counts = Counts::of(wish.columns, wish.rows);
    let rhomb = match wish.angle {
        None => free(open, wish, counts),
        Some(angle) => given(open, wish, angle, counts),
    }
    .map_err(|fault| vec![fault])?;
    let unit = given_rhomb(wish.stance, rhomb.angle);
    let cell = unit.map(|unit| unit * rhomb.pitch);
    holds_a_cell(open, cell, "grid.pitch")?;
    let filled = room.filled(open, cell).ok_or_else(|| vec![no_pair()])?;
    let grid = DiamondGrid {
        pitch: rhomb.pitch,
        angle: rhomb.angle,
        stance: wish.stance,
        region: region(filled, wish.node),
        overhang: 0.0,
    };
    Ok((grid, beside(inside, filled)))
}

/// What least margins leave of an inside.
fn open_room(inside: Size, least: [f64; 2]) -> Result<Size, Vec<Finding>> {
    let [x, y] = least;
    let open = Size {
        width: inside.width - 2.0 * x,
        height: inside.height - 2.0 * y,
    };
    if open.width.min(open.height) > SAME_POSITION_MM {
        return Ok(open);
    }
    let text = phrase!(
        "margins of {} leave nothing of an inside {} by {}",
        Mm(x.max(y)),
        Mm(inside.width),
        Mm(inside.height)
    );
    Err(vec![Finding::error(
        "margin-too-wide",
        "grid.least_margin",
        text,
    )])
}

/// What lies round the filled part, the same at opposite sides.
fn beside(inside: Size, filled: Size) -> Margins {
    Margins {
        x: (inside.width - filled.width) / 2.0,
        y: (inside.height - filled.height) / 2.0,
    }
}

fn no_pair() -> Finding {
    let text = "with a node in the middle, whole cells go into it in pairs along the strips at the edge, and not one pair does";
    let hint = "write centre = \"corner\", or ask for smaller cells";
    Finding::error("opening-too-small", "grid.rest", text).hint(hint)
}

/// Both counts are given: pitch and angle follow.
fn free(inside: Size, wish: &DiamondWish, counts: Counts) -> Result<RhombFit, Finding> {
    let (Counts::Both { columns, rows }, Wanted::Free) = (counts, wish.pitch) else {
        let text = "an angle, or how many cells fill the opening, is missing";
        let hint = "add `angle` with one of `columns`, `rows`, `pitch_about`, `pitch`; or give `columns` and `rows` alone: pitch and angle follow";
        return Err(Finding::error("missing", "grid.angle", text).hint(hint));
    };
    let Size { width, height } = inside;
    free_rhomb(wish.stance, width, height, columns, rows).ok_or_else(|| {
        let text = phrase!(
            "uprights {} apart cannot have nodes {} apart: these lie farther from each other than the uprights",
            Mm(width / columns as f64),
            Mm(height / rows as f64)
        );
        let hint = "more columns or fewer rows";
        Finding::error("no-such-rhomb", "grid.columns", text).hint(hint)
    })
}

fn given(
    inside: Size,
    wish: &DiamondWish,
    angle: f64,
    counts: Counts,
) -> Result<RhombFit, Finding> {
    let [across, up] = given_rhomb(wish.stance, angle);
    let usable = across.is_finite() && up.is_finite() && across > 0.0 && up > 0.0;
    if !usable {
        let text = "families at this angle cross nowhere";
        let hint = "20 to 160 degrees can be built";
        return Err(Finding::error("angle-out-of-range", "grid.angle", text).hint(hint));
    }
    let by_width = |columns: usize| inside.width / columns as f64 / across;
    let by_height = |rows: usize| inside.height / rows as f64 / up;
    let pitch = match (wish.pitch, counts) {
        (Wanted::Exactly(pitch), Counts::None) => pitch,
        (Wanted::Free, Counts::Columns(columns)) => by_width(columns),
        (Wanted::Free, Counts::Rows(rows)) => by_height(rows),
        (Wanted::About(about), Counts::None) if about > 0.0 => nearer(
            about,
            by_width(nearest(inside.width, about * across)),
            by_height(nearest(inside.height, about * up)),
        ),
        (_, Counts::None) => {
            let text = "nothing says how large the cells are";
            let hint = "add one of `columns`, `rows`, `pitch_about`, `pitch`";
            return Err(Finding::error("missing", "grid.pitch_about", text).hint(hint));
        }
        (Wanted::Free, Counts::Both { columns, rows }) => {
            let text = phrase!(
                "at this angle {} columns want a pitch of {}, {} rows one of {}",
                columns,
                Mm(by_width(columns)),
                rows,
                Mm(by_height(rows))
            );
            let hint =
                "leave out one of `columns`, `rows`; or the `angle`: it then follows from both";
            return Err(Finding::error("said-twice", "grid.rows", text).hint(hint));
        }
        _ => return Err(pitch_and_count("grid.pitch", counts)),
    };
    Ok(RhombFit { pitch, angle })
}

fn pitch_and_count(field: &str, counts: Counts) -> Finding {
    let text = "the size of the cells is given, and how many fill the opening as well";
    let hint = match counts {
        Counts::Rows(_) => "leave out one of them: `rows` alone makes the cells fill the height",
        _ => "leave out one of them: `columns` alone makes the cells fill the width",
    };
    Finding::error("said-twice", field, text).hint(hint)
}

/// The triangles that a wish makes of an inside; the overhang is not known yet.
///
/// # Errors
/// What the inside does not hold, with what it would.
pub(super) fn rule_triangular(
    inside: Size,
    wish: &TriangularWish,
    thickness: f64,
) -> Result<(TriangularGrid, Margins), Vec<Finding>> {
    let room = SlantedRoom::of_triangles(wish.stance, wish.node, wish.rest);
    let least = room.least_margins(wish.least_margin, thickness);
    let open = open_room(inside, least)?;
    let side = triangle_side(open, wish).map_err(|fault| vec![fault])?;
    let cell = given_triangle(wish.stance).map(|unit| unit * side);
    holds_a_cell(open, cell, "grid.side")?;
    let filled = room.filled(open, cell).ok_or_else(|| vec![no_pair()])?;
    let grid = TriangularGrid {
        side,
        stance: wish.stance,
        region: region(filled, wish.node),
        overhang: 0.0,
    };
    Ok((grid, beside(inside, filled)))
}

/// Width and height are never both filled, but for sizes as sides to heights: a ratio with the root of
/// three in it.
fn triangle_side(inside: Size, wish: &TriangularWish) -> Result<f64, Finding> {
    let [across, up] = given_triangle(wish.stance);
    let by_width = |columns: usize| inside.width / columns as f64 / across;
    let by_height = |rows: usize| inside.height / rows as f64 / up;
    let counts = Counts::of(wish.columns, wish.rows);
    match (wish.side, counts) {
        (Wanted::Exactly(side), Counts::None) => Ok(side),
        (Wanted::About(about), Counts::None) if about > 0.0 => Ok(nearer(
            about,
            by_width(nearest(inside.width, about * across)),
            by_height(nearest(inside.height, about * up)),
        )),
        (Wanted::Free, Counts::Columns(columns)) => Ok(by_width(columns)),
        (Wanted::Free, Counts::Rows(rows)) => Ok(by_height(rows)),
        (_, Counts::Both { columns, rows }) => {
            let text = phrase!(
                "{} columns of triangles want a side of {}, {} rows one of {}",
                columns,
                Mm(by_width(columns)),
                rows,
                Mm(by_height(rows))
            );
            let hint = "leave out one of `columns`, `rows`: the edge then cuts the cells in the other direction";
            Err(Finding::error("said-twice", "grid.rows", text).hint(hint))
        }
        (_, Counts::None) => {
            let text = "nothing says how large the cells are";
            let hint = "add one of `columns`, `rows`, `side_about`, `side`";
            Err(Finding::error("missing", "grid.side_about", text).hint(hint))
        }
        _ => Err(pitch_and_count("grid.side", counts)),
    }
}

/// Of two pitches the one nearer to what is wanted.
fn nearer(wanted: f64, a: f64, b: f64) -> f64 {
    if (b - wanted).abs() < (a - wanted).abs() {
        b
    } else {
        a
    }
}

/// The whole number of lengths that comes nearest to a size; at least one.
fn nearest(size: f64, length: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` saturates
    ((size / length).round().max(1.0) as usize)
}

fn holds_a_cell(inside: Size, cell: [f64; 2], field: &str) -> Result<(), Vec<Finding>> {
    let [across, up] = cell;
    let fits = across > 0.0
        && across <= inside.width + SAME_POSITION_MM
        && up <= inside.height + SAME_POSITION_MM;
    if fits {
        return Ok(());
    }
    let text = phrase!(
        "a cell is {} wide and {} high, the inside {} by {}",
        Mm(across),
        Mm(up),
        Mm(inside.width),
        Mm(inside.height)
    );
    let scale = (inside.width / across).min(inside.height / up);
    let hint = phrase!(
        "cells {} wide or less go into it whole",
        AtMost(across * scale)
    );
    Err(vec![
        Finding::error("opening-too-small", field, text).hint(hint),
    ])
}
