//! Lengths of pieces for openings as they come out.

use super::form::{Form, Sources};
use super::joints::{Predicted, Spacing};
use crate::infill::{Infilling, Opening, Pattern, PieceKind, measured};
use crate::instructions::fit::PieceFit;

/// The openings of a square grid as they come out, less those drawn.
pub(super) struct Openings<'a> {
    sources: &'a Sources,
    columns: Vec<Form>,
    rows: Vec<Form>,
}

impl<'a> Openings<'a> {
    pub(super) fn of(predicted: &'a Predicted<'_>, spacings: &[Spacing]) -> Openings<'a> {
        let thickness = predicted.lattice.section.thickness;
        let family = |family: usize| -> Vec<Form> {
            let own = spacings.iter().filter(|spacing| spacing.family == family);
            own.map(|spacing| {
                let drawn = Form::of_known(thickness - spacing.drawn);
                spacing.opening.plus(1.0, &drawn)
            })
            .collect()
        };
        Openings {
            sources: &predicted.sources,
            columns: family(0),
            rows: family(1),
        }
    }
}

/// A small change of an opening, mm: lengths are as good as straight over it.
const SMALL_MM: f64 = 0.05;

/// Kinds of pieces that are made for their cell alone and not trimmed at the panel's edge.
pub(super) fn piece_fits(
    filled: &Infilling,
    patterns: &[Pattern],
    openings: &Openings<'_>,
    batch: f64,
) -> Vec<PieceFit> {
    let kinds = filled
        .kinds
        .iter()
        .filter(|kind| kind.trims.is_empty() && kind.whole.is_none());
    kinds
        .filter_map(|kind| {
            let [by_width, by_height] = slopes(filled, patterns, kind)?;
            Some(piece_fit(
                filled,
                kind,
                [by_width, by_height],
                openings,
                batch,
            ))
        })
        .collect()
}

/// How much longer a piece gets for each millimetre that its opening is wider, and higher; nothing where
/// its pattern cannot be laid out for a measured opening.
fn slopes(filled: &Infilling, patterns: &[Pattern], kind: &PieceKind) -> Option<[f64; 2]> {
    let (width, height) = kind.opening();
    let length = |wider: f64, higher: f64| {
        let opening = Opening {
            width: width + wider,
            height: height + higher,
        };
        let cell = measured(filled, patterns, opening, None).ok()?;
        let same = |piece: &&crate::infill::MeasuredPiece| {
            piece.name == kind.name || (piece.drawn.length - kind.figures.length).abs() < 1e-6
        };
        cell.pieces
            .iter()
            .find(same)
            .map(|piece| piece.built.length)
    };
    let by_width = (length(SMALL_MM, 0.0), length(-SMALL_MM, 0.0));
    let by_height = (length(0.0, SMALL_MM), length(0.0, -SMALL_MM));
    let slope = |(more, less): (Option<f64>, Option<f64>)| Some((more? - less?) / (2.0 * SMALL_MM));
    match (slope(by_width), slope(by_height)) {
        (Some(by_width), Some(by_height)) => Some([by_width, by_height]),
        // A pattern for squares alone: both sides go together, half of it each.
        _ => {
            let both = (length(SMALL_MM, SMALL_MM), length(-SMALL_MM, -SMALL_MM));
            let half = slope(both)? / 2.0;
            Some([half, half])
        }
    }
}

fn piece_fit(
    filled: &Infilling,
    kind: &PieceKind,
    [by_width, by_height]: [f64; 2],
    openings: &Openings<'_>,
    batch: f64,
) -> PieceFit {
    let lengths: Vec<([usize; 2], Form)> = (kind.cells.iter())
        .filter_map(|at| {
            let cell = filled.cells.get(*at)?;
            let wider = openings.columns.get(cell.column - 1)?;
            let higher = openings.rows.get(cell.row - 1)?;
            let longer = Form::of_known(kind.figures.length).plus(by_width, wider);
            Some(([cell.column, cell.row], longer.plus(by_height, higher)))
        })
        .collect();
    let mean = Form::mean(lengths.iter().map(|(_, length)| length));
    let own_bays: Vec<[usize; 2]> = (lengths.iter())
        .filter(|(_, length)| {
            let apart = length.plus(-1.0, &mean);
            apart.known.abs() + apart.expanded(openings.sources) > batch
        })
        .map(|(cell, _)| *cell)
        .collect();
    let ends = lengths.iter().map(|(_, length)| {
        let more = length.expanded(openings.sources);
        [length.known - more, length.known + more]
    });
    let range = ends.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]);
    PieceFit {
        kind: kind.name.clone(),
        count: kind.count,
        drawn_mm: kind.figures.length,
        length_mm: mean.known,
        range_mm: range.unwrap_or([kind.figures.length; 2]),
        batch: own_bays.is_empty(),
        own_bays,
    }
}
