//! Pieces as they are made for cells in which their pattern lies mirrored.
//!
//! A piece without laps is turned over there: it is the same part. One with laps cannot be: its laps would
//! come to lie in its other face, and what it laps would have to lie on its other side. It is made as its
//! own mirror image, which may be the same part again where its ends and laps are alike from both sides.

use super::piece_figures::Figures;
use super::solve::SolvedPiece;
use crate::geometry::{Point, SAME_POSITION_MM};
use std::borrow::Cow;
use std::f64::consts::PI;

impl SolvedPiece {
    /// The part that is made of it for a cell, as that is mirrored or not.
    pub(super) fn as_laid(&self, mirrored: bool) -> Cow<'_, SolvedPiece> {
        if !mirrored || self.figures.laps.is_empty() {
            return Cow::Borrowed(self);
        }
        Cow::Owned(SolvedPiece {
            name: format!("{} mirrored", self.name),
            outline: mirrored_ring(&self.outline),
            figures: mirrored_figures(&self.figures),
            // Of the cell, where it lies as it was worked out.
            edges: Vec::new(),
            ..self.clone()
        })
    }
}

/// An outline in a piece's own frame seen in a mirror along its axis, from its lowest leftmost corner again.
pub(super) fn mirrored_ring(outline: &[Point]) -> Vec<Point> {
    let mut ring: Vec<Point> = outline
        .iter()
        .rev()
        .map(|p| Point::new(p.x, -p.y))
        .collect();
    let leftmost = ring.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
    let first = (ring.iter().enumerate())
        .filter(|(_, p)| p.x - leftmost < SAME_POSITION_MM)
        .min_by(|(_, p), (_, q)| p.y.total_cmp(&q.y));
    let first = first.map_or(0, |(at, _)| at);
    ring.rotate_left(first);
    ring
}

fn mirrored_figures(figures: &Figures) -> Figures {
    let mut seen = Figures {
        from: figures.from.mirrored(),
        to: figures.to.mirrored(),
        ..figures.clone()
    };
    for lap in &mut seen.laps {
        lap.angle = PI - lap.angle;
    }
    for fold in &mut seen.folds {
        fold.inner = fold.inner.other();
    }
    seen
}
