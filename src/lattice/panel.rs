//! A panel's design: all that the lattice is worked out from.

use super::check;
use super::grid_types::SquareGrid;
use crate::finding::Finding;
use crate::geometry::Point;
use std::ops::Deref;

/// A panel as drawn; not yet known to be buildable. See [`Panel::new`].
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Free text, no control characters.
    pub title: String,
    /// The lines on which the strips lie.
    pub grid: Grid,
    /// What every strip is like.
    pub strip: StripSection,
    /// What fills the cells.
    pub infill: Option<Infill>,
}

/// The strips' section and how they lap. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSection {
    /// Width as seen from the front of the panel.
    pub thickness: f64,
    /// Front to back.
    pub depth: f64,
    /// Notch width less the mate's thickness; negative for a press fit.
    pub clearance: f64,
    /// Least wood to be left between two notches, and outside the last one.
    pub least_web: f64,
    /// Species, for the set-up sheet.
    pub wood: Option<String>,
}

/// The pieces in the cells, as far as the grid's makers need to know of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Infill {
    /// Name of the pattern.
    pub pattern: String,
    /// What a rough piece is longer than the finished one, mm.
    pub allowance: f64,
}

/// The grid types that can be built.
#[derive(Debug, Clone, PartialEq)]
pub enum Grid {
    /// Two families at right angles, equal or uneven pitches.
    Square(SquareGrid),
}

/// Parallel strips of a grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Family {
    /// What a person calls one of its strips.
    pub name: &'static str,
    /// Letter that starts its strips' labels.
    pub letter: char,
    /// Place from front (0) to back.
    pub layer: usize,
}

/// The centre line of one strip, from its datum end to its other end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GridLine {
    /// Index of its family.
    pub family: usize,
    /// Number within the family, from 1, in the order of their positions.
    pub number: usize,
    /// Datum end, panel frame.
    pub start: Point,
    /// Other end, panel frame.
    pub end: Point,
}

impl Grid {
    /// The families, front layer first.
    pub fn families(&self) -> &'static [Family] {
        match self {
            Grid::Square(_) => SquareGrid::FAMILIES,
        }
    }

    /// The strips' centre lines, family by family.
    pub fn lines(&self) -> Vec<GridLine> {
        match self {
            Grid::Square(grid) => grid.lines(),
        }
    }
}

/// A design that can be built: every notch inside its strip, enough wood between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    design: Design,
    warnings: Vec<Finding>,
}

impl Panel {
    /// Checks a design.
    ///
    /// # Errors
    /// Everything that keeps it from being built, each with its field.
    pub fn new(design: Design) -> Result<Panel, Vec<Finding>> {
        let faults = check::faults(&design);
        if faults.is_empty() {
            let warnings = check::warnings(&design);
            Ok(Panel { design, warnings })
        } else {
            Err(faults)
        }
    }

    /// What is unusual about the design without keeping it from being built.
    pub fn warnings(&self) -> &[Finding] {
        &self.warnings
    }
}

impl Deref for Panel {
    type Target = Design;
    fn deref(&self) -> &Design {
        &self.design
    }
}
