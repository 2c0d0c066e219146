//! Which pattern each cell of a panel takes, and how a legend's entry turns it.

use super::lie::Lie;
use super::rules::CellRule;
use crate::finding::{Document, Finding};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::lattice::{CellMeasures, GridCell};
use crate::phrase;
use crate::units::Rad;
use float_cmp::ApproxEq;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Which pattern each cell of a panel takes.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternMap {
    /// Who decided it.
    pub form: MapForm,
    /// Names or paths of patterns, each once.
    pub patterns: Vec<NamedPattern>,
    /// What cells may take.
    pub entries: Vec<LegendEntry>,
    /// For each cell of the grid the index of its entry; nothing where it is to stay open.
    pub cells: Vec<Option<usize>>,
}

/// Who decides which cell takes which pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MapForm {
    /// One pattern for all.
    Same,
    /// A map drawn by hand.
    Drawn,
    /// A rule.
    Rule(CellRule),
}

/// A pattern as a job names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedPattern {
    /// A shipped name, or a path.
    pub name: String,
    /// The field of the job where it stands first.
    pub field: String,
}

/// What a letter of a map stands for.
#[derive(Debug, Clone, PartialEq)]
pub struct LegendEntry {
    /// The letter.
    pub letter: char,
    /// Index of the pattern.
    pub pattern: usize,
    /// How it is changed before it is laid.
    pub pose: Pose,
    /// The field of the job where it stands.
    pub field: String,
}

/// How a pattern is changed in its own cell before it is laid into a panel's: first mirrored, then
/// turned. What its neighbours' rule does to cells beside each other comes after that, so that figures
/// which go on beyond a wall still do.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pose {
    /// Whether left becomes right, as seen from the front; in a rhomb across the diagonal through the
    /// pattern's first corner.
    pub mirror: bool,
    /// Counter-clockwise as seen from the front, rad, from 0 to a whole turn.
    pub turn: f64,
}

impl PatternMap {
    /// The same pattern in all of so many cells.
    pub fn everywhere(name: &str, cells: usize) -> PatternMap {
        let field = "infill.pattern".to_owned();
        PatternMap {
            form: MapForm::Same,
            patterns: vec![NamedPattern {
                name: name.to_owned(),
                field: field.clone(),
            }],
            entries: vec![LegendEntry {
                letter: 'A',
                pattern: 0,
                pose: Pose::default(),
                field,
            }],
            cells: vec![Some(0); cells],
        }
    }

    /// What a cell of the grid takes, with its index.
    pub fn entry(&self, cell: usize) -> Option<(usize, &LegendEntry)> {
        let at = (*self.cells.get(cell)?)?;
        Some((at, self.entries.get(at)?))
    }

    /// Entries that lie in no cell.
    pub fn unused(&self) -> impl Iterator<Item = &LegendEntry> {
        let is_unused = |at: usize| !self.cells.contains(&Some(at));
        let entries = self.entries.iter().enumerate();
        entries.filter_map(move |(at, entry)| is_unused(at).then_some(entry))
    }
}

impl Pose {
    /// How the pattern lies in a cell of those measures, as if that were the pattern's own; nothing
    /// where a turn does not bring the cell onto itself.
    pub fn lie(&self, measures: CellMeasures) -> Option<Lie> {
        let symmetry = Symmetry::of(measures);
        let steps = self.turn / symmetry.step();
        let whole = steps.round();
        if steps.approx_ne(whole, DIRECTION) {
            return None;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 4
        let first = whole.abs() as usize * symmetry.corners_a_step;
        let first = first + usize::from(self.mirror && symmetry.mirrors_across_x);
        Some(Lie {
            first: first % symmetry.corners,
            mirrored: self.mirror,
        })
    }
}

impl LegendEntry {
    /// Refuses a turn that a cell does not allow; `letter` and place as the person reads the map.
    pub fn cannot_lie(&self, cell: &GridCell) -> Finding {
        let text = phrase!(
            "turned by {} it does not lie in the cell in column {}, row {}",
            Rad(self.pose.turn),
            cell.column,
            cell.row
        );
        let hint = match Symmetry::of(cell.measures).steps {
            4 => "square cells turn by 90, 180 or 270 deg",
            3 => "triangles turn by 120 or 240 deg",
            _ if cell.corners.len() == 3 => "triangles turn by 120 or 240 deg",
            _ => "cells that are longer than wide, and rhombs, turn by 180 deg only",
        };
        let field = format!("{}.turn", self.field);
        let fault = Finding::error("turn-not-possible", field, text).hint(hint);
        fault.in_document(Document::Job)
    }
}

/// What brings a cell's opening onto itself.
struct Symmetry {
    corners: usize,
    /// Steps in a whole turn.
    steps: usize,
    /// Corners that a step passes.
    corners_a_step: usize,
    /// Whether left and right swap across the middle of the first wall, not across a diagonal.
    mirrors_across_x: bool,
}

impl Symmetry {
    fn of(measures: CellMeasures) -> Symmetry {
        let quarter = Symmetry {
            corners: 4,
            steps: 4,
            corners_a_step: 1,
            mirrors_across_x: true,
        };
        let half = Symmetry {
            steps: 2,
            corners_a_step: 2,
            ..quarter
        };
        match measures {
            CellMeasures::Rectangle { width, height } if width.approx_eq(height, POSITION) => {
                quarter
            }
            CellMeasures::Rectangle { .. } => half,
            CellMeasures::Rhomb { angle, .. } if angle.approx_eq(FRAC_PI_2, DIRECTION) => quarter,
            CellMeasures::Rhomb { .. } => Symmetry {
                mirrors_across_x: false,
                ..half
            },
            CellMeasures::Triangle { .. } => Symmetry {
                corners: 3,
                steps: 3,
                ..quarter
            },
        }
    }

    /// The least turn, rad.
    fn step(&self) -> f64 {
        match self.steps {
            2 => PI,
            steps => TAU / steps as f64,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lie(mirror: bool, degrees: f64, measures: CellMeasures) -> Option<(usize, bool)> {
        let turn = degrees.to_radians();
        let lie = Pose { mirror, turn }.lie(measures)?;
        Some((lie.first, lie.mirrored))
    }

    #[test]
    fn a_cell_turns_as_far_as_it_comes_onto_itself() {
        let square = CellMeasures::Rectangle {
            width: 40.0,
            height: 40.0,
        };
        let oblong = CellMeasures::Rectangle {
            width: 40.0,
            height: 30.0,
        };
        let triangle = CellMeasures::Triangle { side: 40.0 };
        let rhomb = CellMeasures::Rhomb {
            pitch: 40.0,
            angle: 1.0,
        };
        assert_eq!(lie(false, 90.0, square), Some((1, false)));
        assert_eq!(lie(false, 0.0, square), Some((0, false)));
        assert_eq!(lie(true, 0.0, square), Some((1, true)));
        assert_eq!(lie(true, 270.0, square), Some((0, true)));
        assert_eq!(lie(false, 180.0, oblong), Some((2, false)));
        assert_eq!(lie(false, 90.0, oblong), None);
        assert_eq!(lie(false, 240.0, triangle), Some((2, false)));
        assert_eq!(lie(true, 120.0, triangle), Some((2, true)));
        assert_eq!(lie(false, 90.0, triangle), None);
        assert_eq!(lie(true, 180.0, rhomb), Some((2, true)));
        assert_eq!(lie(false, 120.0, rhomb), None);
        assert_eq!(lie(false, 45.0, square), None);
    }
}
