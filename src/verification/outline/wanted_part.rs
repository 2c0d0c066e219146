//! What a drawing must hold: rings, holes and what is engraved on a part.

use super::report::TOLERANCE_MM;
use super::rings::{placed, vertex_distance_within};
use crate::geometry::Point;
use crate::units::{MM_PER_INCH, UnitSystem, decimal};

/// Parts of one shape, as they are after cutting.
#[derive(Debug, Clone, PartialEq)]
pub struct WantedPart {
    /// What they are called.
    pub name: String,
    /// Their outline in a frame of their own.
    pub ring: Vec<Point>,
    /// Their holes, in the same frame.
    pub holes: Vec<Vec<Point>>,
    /// All that is engraved on them; `None` for parts on which any label may stand.
    pub engraved: Option<Engraved>,
    /// Whether the lowest side is laid against strips or a fence: no bridge may stand on it.
    pub laid_edge: bool,
    /// How many.
    pub count: usize,
}

impl WantedPart {
    /// Parts without holes, on which any label may stand.
    pub fn plain(name: impl Into<String>, ring: Vec<Point>, count: usize) -> Self {
        WantedPart {
            name: name.into(),
            ring,
            holes: Vec::new(),
            engraved: None,
            laid_edge: false,
            count,
        }
    }

    /// The same with holes.
    pub(super) fn with_holes(self, holes: Vec<Vec<Point>>) -> Self {
        WantedPart { holes, ..self }
    }

    /// The same with an engraving that is known.
    pub(super) fn with_engraving(self, engraved: Engraved) -> Self {
        WantedPart {
            engraved: Some(engraved),
            ..self
        }
    }

    /// The same with its lowest side laid against something.
    pub(super) fn on_laid_edge(self) -> Self {
        WantedPart {
            laid_edge: true,
            ..self
        }
    }
}

/// What is engraved on a part: this and nothing else; all of it, or none where that may be.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Engraved {
    /// Strokes that must lie exactly here, in the part's frame.
    pub marks: Vec<Vec<Point>>,
    /// Words, where they are to be read.
    pub texts: Vec<EngravedText>,
    /// Whether there is a line of 50 mm to check the scale by.
    pub check_line: bool,
    /// Whether the part may be left blank, for want of room.
    pub or_nothing: bool,
}

impl Engraved {
    /// All of this, and the line to check the scale by.
    pub(super) fn beside_check_line(marks: Vec<Vec<Point>>, texts: Vec<EngravedText>) -> Self {
        Engraved {
            marks,
            texts,
            check_line: true,
            or_nothing: false,
        }
    }
}

/// A figure as it is engraved.
pub(super) fn figure(value: f64, places: u32) -> String {
    decimal(value, places).unwrap_or_default()
}

/// How far something is from where it is measured, as it is engraved.
pub(super) fn written_place(mm: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Millimetres => figure(mm, 2),
        UnitSystem::Inches => figure(mm / MM_PER_INCH, 4),
    }
}

/// Words on a part.
#[derive(Debug, Clone, PartialEq)]
pub struct EngravedText {
    /// What they say.
    pub words: String,
    /// Along x, where their middle is; `None` where it does not matter.
    pub about: Option<f64>,
    /// How far off it may be, mm.
    pub within: f64,
}

impl EngravedText {
    /// Words that may stand anywhere on the part.
    pub(super) fn anywhere(words: impl Into<String>) -> Self {
        EngravedText {
            words: words.into(),
            about: None,
            within: f64::INFINITY,
        }
    }

    /// Words that belong to a place along x.
    pub(super) fn about(words: impl Into<String>, x: f64, within: f64) -> Self {
        EngravedText {
            words: words.into(),
            about: Some(x),
            within,
        }
    }
}

/// The same parts, those of one outline counted together: a drawing does not tell them apart.
pub(super) fn alike_together(parts: impl IntoIterator<Item = WantedPart>) -> Vec<WantedPart> {
    let mut together: Vec<WantedPart> = Vec::new();
    for part in parts.into_iter().filter(|part| part.count > 0) {
        let alike = |known: &&mut WantedPart| {
            known.holes == part.holes
                && known.engraved == part.engraved
                && known.ring.len() == part.ring.len()
                && vertex_distance_within(
                    &placed(&known.ring, &part.ring),
                    &part.ring,
                    true,
                    TOLERANCE_MM,
                )
                .is_finite()
        };
        match together.iter_mut().find(alike) {
            Some(known) => known.count += part.count,
            None => together.push(part),
        }
    }
    together
}
