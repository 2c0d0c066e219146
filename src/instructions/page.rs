//! The set-up sheet that hangs beside the machines: what stands on it, in working order, apart from
//! whether it is read on a screen or on paper. Every figure on it is one of a plan's.

use super::drawing::Drawing;
use super::safety::SafetyNotes;
use super::sheet::Block;
use super::tool_path::Position;
use crate::phrase::{Phrase, Word};
use std::fmt;

/// Everything for one job.
#[derive(Debug, Clone, PartialEq)]
pub struct Booklet {
    /// What is made.
    pub title: String,
    /// In working order.
    pub parts: Vec<Part>,
    /// Drawings to be laid on wood, printed at true size only.
    pub templates: Vec<Drawing>,
    /// What is to be minded with them, on every one of their pages.
    pub templates_safety: SafetyNotes,
}

/// What is done at one machine, or at the bench. It cannot be made without its safety notes.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Unlike any other part's.
    pub name: PartName,
    /// `Sled: key-sled`.
    pub heading: String,
    /// Shown first.
    pub safety: SafetyNotes,
    /// In working order.
    pub leaves: Vec<Leaf>,
}

/// What a part is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartName {
    /// What is not made.
    Missing,
    /// Strips on a sled.
    Sled,
    /// What is cut from sheet.
    Laser,
    /// Strips on a router.
    Router,
    /// Pieces and their guides.
    Pieces,
    /// The frame.
    Rails,
    /// The panel's.
    Assembly,
}

impl PartName {
    /// As files, links and lists have it.
    pub fn name(self) -> &'static str {
        match self {
            PartName::Missing => "missing",
            PartName::Sled => "sled",
            PartName::Laser => "laser",
            PartName::Router => "router",
            PartName::Pieces => "pieces",
            PartName::Rails => "rails",
            PartName::Assembly => "assembly",
        }
    }
}

impl fmt::Display for PartName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A section of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaf {
    /// What it is about.
    pub heading: String,
    /// In the order in which it is needed.
    pub items: Vec<Item>,
}

/// One thing on a leaf.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Settings, tables, steps, remarks, as they stand on the machine's plain sheet.
    Block(Block),
    /// What has to lie ready, each with a box to tick.
    Ready(Vec<Phrase>),
    /// A picture to scale.
    Picture(Picture),
    /// A program over the picture of its bundle.
    Play(Play),
    /// What is done several times, to be counted.
    Tally(Tally),
    /// Check cuts.
    Checks(Vec<Check>),
    /// Pieces with their outlines.
    Pieces(Vec<Piece>),
}

/// A drawing with words under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// To scale.
    pub drawing: Drawing,
    /// How it is to be read.
    pub caption: Phrase,
}

/// The tool's way over the picture of its bundle, seen from above.
#[derive(Debug, Clone, PartialEq)]
pub struct Play {
    /// The bundle, in the program's frame.
    pub picture: Picture,
    /// Of the tool.
    pub diameter: f64,
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
pub struct Piece {
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
