//! What cuts outlines from sheet, a laser or a router, and the sheets it is fed with. Millimetres.

use super::spread::Spread;
use std::num::NonZeroU8;

/// A laser; or a router that cuts sheet, where `cutter` is set.
#[derive(Debug, Clone, PartialEq)]
pub struct Laser {
    /// Width of the groove its beam leaves in the sheet, measured on a comb of cuts; 0 for a cutter:
    /// its drawings show finished outlines, and the program that drives it keeps to their outside.
    pub kerf: f64,
    /// Thickest sheet it cuts.
    pub thickest: f64,
    /// What lies on the bed.
    pub sheet: Sheet,
    /// Colour numbers of the drawing's layers.
    pub colours: Colours,
    /// Height of engraved labels; zero for none.
    pub label_height: f64,
    /// Width of the line that whatever follows the labels leaves; zero where it does not matter.
    pub letter_line: f64,
    /// What a comb of slots showed, if one was tried.
    pub fit: Option<Fit>,
    /// The cutter of a router that cuts sheet.
    pub cutter: Option<Cutter>,
    /// How far its work scatters.
    pub spread: Spread,
}

/// Lines that go one above the other into the height of a letter that can be read: its strokes
/// are drawn on six units, two apart at the least, so a line one unit wide leaves as much free
/// beside it.
const LINES_IN_A_LETTER: f64 = 6.0;

impl Laser {
    /// Letters lower than this run into blots, mm.
    pub fn least_letters(&self) -> f64 {
        LINES_IN_A_LETTER * self.letter_line
    }

    /// How wide a groove lies beside a part.
    pub fn groove(&self) -> f64 {
        self.cutter.map_or(self.kerf, |cutter| cutter.diameter)
    }
}

/// A router's cutter in sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutter {
    /// Over its edges, measured.
    pub diameter: f64,
    /// How it gets into corners.
    pub relief: Relief,
    /// What holds the parts until all is cut.
    pub bridges: Option<Bridges>,
}

/// The form of the hole that a round cutter needs in a corner where a square part is to sit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relief {
    /// A circle through the corner, its middle on the line that halves it.
    Bone,
    /// A circle through the corner, its middle on the longer of the two sides.
    Tee,
}

/// Bridges that are left standing between part and sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bridges {
    /// How many each part has.
    pub count: usize,
    /// Along the outline.
    pub width: f64,
}

/// The slot of a comb that a strip fitted as it should.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// Width of the slot as its label says, which is how it was drawn.
    pub slot: f64,
    /// Thickness of the strip that was tried.
    pub strip: f64,
}

/// A sheet, its grain along x.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// Along the grain.
    pub length: f64,
    /// Across it.
    pub width: f64,
    /// Left free along every edge.
    pub margin: f64,
    /// Between neighbouring parts, kerf included.
    pub gap: f64,
}

impl Default for Colours {
    /// Azure, violet and brown, where no machine says: they show on white and on black, also to
    /// an eye that does not tell red from green.
    fn default() -> Self {
        let number = |tens: u8| NonZeroU8::MIN.saturating_add(tens - 1);
        Colours {
            letters: number(150),
            openings: number(200),
            outlines: number(32),
        }
    }
}

/// Colour numbers (1 to 255 of the DXF colour index) of the layers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colours {
    /// Engraving.
    pub letters: NonZeroU8,
    /// Holes.
    pub openings: NonZeroU8,
    /// Outlines.
    pub outlines: NonZeroU8,
}
