//! A pattern as it looks over several cells.

use super::panel::{draw_woods, panel_lines};
use crate::geometry::bounds;
use crate::instructions::drawing::Drawing;
use crate::planning::PatternFigure;

/// Strips and pieces from the front, without names.
pub fn figure_drawing(figure: &PatternFigure, title: &str) -> Drawing {
    let PatternFigure { lattice, filled } = figure;
    let mut drawing = Drawing::new(title, Default::default(), Default::default());
    let lines = panel_lines(lattice, Some(filled));
    draw_woods(&mut drawing, lattice, Some(filled), &lines);
    let drawn = lines.iter().flat_map(|line| &line.points).copied();
    (drawing.low, drawing.high) = bounds(drawn).unwrap_or_default();
    drawing
}
