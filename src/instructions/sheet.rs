//! A set-up sheet: what a person does at one machine, figures apart from the way they are shown.

use super::drawing::Drawing;
use super::safety::SafetyNotes;
use super::tool_path::{Motion, Move, Position};
use crate::phrase::{Phrase, Word};
use std::fmt;

/// What is done at one machine, or at the bench. It cannot be made without its safety notes.
#[derive(Debug, Clone, PartialEq)]
pub struct SetupSheet {
    /// Unlike that of any other sheet of the job.
    pub part: SheetPart,
    /// Where it stands alone: the job and the machine.
    pub title: String,
    /// Among others of the job: `Sled: key-sled`.
    pub heading: String,
    /// Shown first; of an answer on the screen the worst first, all at the end.
    pub safety: SafetyNotes,
    /// In working order.
    pub sections: Vec<Section>,
}

/// What a sheet is about, and where its files, links and lists have their names from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetPart {
    /// What is not made.
    Missing,
    /// Strips on a sled.
    Sled,
    /// What is cut from sheet.
    Laser,
    /// Strips on a router.
    Router,
    /// Mitres of pieces at a sled.
    Mitres,
    /// Pieces and their guides.
    Pieces,
    /// The frame.
    Rails,
    /// The panel's.
    Assembly,
    /// Test pieces by which a machine is measured.
    Measuring,
    /// What is bought and how it is cut up.
    Stock,
    /// Boards milled to sticks.
    Milling,
}

impl SheetPart {
    /// As files, links and lists have it.
    pub fn name(self) -> &'static str {
        match self {
            SheetPart::Missing => "missing",
            SheetPart::Sled => "sled",
            SheetPart::Laser => "laser",
            SheetPart::Router => "router",
            SheetPart::Mitres => "mitres",
            SheetPart::Pieces => "pieces",
            SheetPart::Rails => "rails",
            SheetPart::Assembly => "assembly",
            SheetPart::Measuring => "measuring",
            SheetPart::Stock => "stock",
            SheetPart::Milling => "milling",
        }
    }
}

impl fmt::Display for SheetPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A part of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What it is about.
    pub heading: String,
    /// What it says, in order.
    pub blocks: Vec<Block>,
}

/// One thing in a section, in the order in which it is needed.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Settings, one a line.
    Figures(Vec<Figure>),
    /// Columns of figures.
    Table(Table),
    /// Numbered steps.
    Steps(Vec<Phrase>),
    /// Sentences.
    Remarks(Vec<Phrase>),
    /// What has to lie ready, each with a box to tick.
    Ready(Vec<Phrase>),
    /// A picture to scale.
    Picture(Picture),
    /// Pictures that have room beside each other.
    Gallery(Gallery),
    /// A program over the picture of its bundle.
    Play(Play),
    /// What is done several times, to be counted.
    Tally(Tally),
    /// Check cuts.
    Checks(Vec<Check>),
    /// Pieces with their outlines.
    Pieces(Vec<DrawnPiece>),
}

/// A setting, and what it is measured from.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: Word,
    /// What it is measured from, or how it is to be read.
    pub measured: Phrase,
}

/// Rows of cells under headings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// What its figures are measured from.
    pub caption: Phrase,
    /// A heading for each column.
    pub columns: Vec<&'static str>,
    /// Cells row by row, as many as there are columns.
    pub rows: Vec<Vec<TableCell>>,
}

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub enum TableCell {
    /// A length in mm.
    Length(f64),
    /// The least length that will do, in mm: printed rounded up.
    AtLeast(f64),
    /// A count or an index.
    Count(usize),
    /// Words.
    Text(String),
    /// Nothing to say.
    Empty,
}

impl Figure {
    /// A figure with its datum.
    pub fn new(name: &str, value: impl Into<Word>, measured: impl Into<Phrase>) -> Self {
        Figure {
            name: name.into(),
            value: value.into(),
            measured: measured.into(),
        }
    }
}

impl Table {
    /// Whether a column holds lengths: its heading then names their unit.
    pub fn holds_lengths(&self, column: usize) -> bool {
        self.holds(column, |cell| {
            matches!(cell, TableCell::Length(_) | TableCell::AtLeast(_))
        })
    }

    /// Whether a column holds figures: they stand flush right and are never broken.
    pub fn holds_figures(&self, column: usize) -> bool {
        self.holds(column, |cell| {
            matches!(
                cell,
                TableCell::Length(_) | TableCell::AtLeast(_) | TableCell::Count(_)
            )
        })
    }

    fn holds(&self, column: usize, kind: fn(&TableCell) -> bool) -> bool {
        let mut cells = self.rows.iter().filter_map(|row| row.get(column));
        cells.any(kind)
    }
}

impl TableCell {
    /// A length, or nothing.
    pub fn length(mm: Option<f64>) -> TableCell {
        mm.map_or(TableCell::Empty, TableCell::Length)
    }
}

/// A drawing with words under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// To scale.
    pub drawing: Drawing,
    /// How it is to be read.
    pub caption: Phrase,
}

/// Pictures beside each other, all equally broad.
#[derive(Debug, Clone, PartialEq)]
pub struct Gallery {
    /// How many stand in a row on paper.
    pub columns: usize,
    /// In working order.
    pub pictures: Vec<Picture>,
}

/// The tool's way over the picture of its bundle, seen from above.
#[derive(Debug, Clone, PartialEq)]
pub struct Play {
    /// The bundle, in the program's frame.
    pub picture: Picture,
    /// Of the tool.
    pub diameter: f64,
    /// Of the wood, which the picture shows as areas of wood: from the program's zero of Z down, mm.
    pub depth: f64,
    /// The program's file.
    pub file: String,
    /// Where each move ends.
    pub stops: Vec<PlayStop>,
}

/// The end of one move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlayStop {
    /// Of the tool's tip centre.
    pub at: Position,
    /// Index of the notch that it belongs to, from 1.
    pub notch: usize,
    /// Whether it may go through wood.
    pub cuts: bool,
    /// How fast it is made, mm/min; nothing for one that is as fast as the machine can.
    pub feed: Option<f64>,
    /// Its line in the program's file, from 1, where the program is known.
    pub line: Option<usize>,
}

impl PlayStop {
    /// The end of a move of a notch's path.
    pub fn of(step: &Move, notch: usize) -> PlayStop {
        let feed = match step.motion {
            Motion::Air(feed) | Motion::Cut(feed) => Some(feed),
            Motion::Rapid | Motion::Rest(_) => None,
        };
        PlayStop {
            at: step.to,
            notch,
            cuts: matches!(step.motion, Motion::Cut(_)),
            feed,
            line: None,
        }
    }
}

/// Something that is counted while it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Tally {
    /// What: `blocks cut`.
    pub what: String,
    /// How many it takes.
    pub count: usize,
}

/// Something to be measured before work goes on.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What is measured, and how.
    pub what: Phrase,
    /// What it should come to.
    pub should: Word,
    /// What to do where it does not.
    pub otherwise: Phrase,
}

/// A kind of piece with its outline.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnPiece {
    /// Its number in pictures, from 1.
    pub number: usize,
    /// In the pattern.
    pub name: String,
    /// How many the panel takes.
    pub count: usize,
    /// From extreme point to extreme point, mm.
    pub length: f64,
    /// From the front, its axis lying; true shape.
    pub outline: Drawing,
}

impl Tally {
    /// More than this are counted in figures: boxes to tick would fill pages.
    const MOST_BOXES: usize = 60;

    /// Boxes to tick in groups of five; none where there would be too many.
    pub fn groups(&self) -> Vec<usize> {
        if self.count > Self::MOST_BOXES {
            return Vec::new();
        }
        let groups = (0..self.count).step_by(5);
        groups.map(|from| (self.count - from).min(5)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_stand_in_groups_of_five() {
        let groups = |count| {
            Tally {
                what: "x".into(),
                count,
            }
            .groups()
        };
        assert_eq!(groups(12), [5, 5, 2]);
        assert_eq!(groups(60).len(), 12);
        assert!(groups(61).is_empty() && groups(0).is_empty());
    }
}
