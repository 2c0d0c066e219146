//! Parts of the set-up sheet that can be asked for.

use crate::instructions::booklet::BookletPart;
use crate::instructions::sheet::SheetPart;
use clap::ValueEnum;

/// Parts of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command_line) enum Part {
    /// The first page: the panel, the order of the work, what has to lie ready
    Whole,
    /// All cards, to be hung up at machines and bench
    Cards,
    /// The card of what is bought and how it is cut up
    Wood,
    /// The card of boards that are milled to sticks
    Milling,
    /// The card of the saw with its sled, or of the bench hook
    Sled,
    /// The card of what is cut from sheet
    Laser,
    /// The card of the router
    Router,
    /// The card of mitres that are sawn or routed in rows
    Mitres,
    /// The card of the pieces and their guides
    Pieces,
    /// The card of the frame
    Frame,
    /// The card of the bench, where the panel is put together
    Bench,
    /// Drawings at true size
    Templates,
}

impl From<Part> for BookletPart {
    fn from(part: Part) -> BookletPart {
        match part {
            Part::Whole => BookletPart::Whole,
            Part::Cards => BookletPart::Cards,
            Part::Templates => BookletPart::Templates,
            Part::Wood => BookletPart::Card(SheetPart::Stock),
            Part::Milling => BookletPart::Card(SheetPart::Milling),
            Part::Sled => BookletPart::Card(SheetPart::Sled),
            Part::Laser => BookletPart::Card(SheetPart::Laser),
            Part::Router => BookletPart::Card(SheetPart::Router),
            Part::Mitres => BookletPart::Card(SheetPart::Mitres),
            Part::Pieces => BookletPart::Card(SheetPart::Pieces),
            Part::Frame => BookletPart::Card(SheetPart::Rails),
            Part::Bench => BookletPart::Card(SheetPart::Assembly),
        }
    }
}

impl Part {
    /// As it is asked for.
    pub(in crate::command_line) fn name(self) -> String {
        self.to_possible_value()
            .map_or(String::new(), |value| value.get_name().to_owned())
    }
}
