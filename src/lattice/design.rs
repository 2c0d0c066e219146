//! A panel's design: all that the lattice is worked out from.

use super::grid_types::Grid;
use super::piece_section::PieceSection;
use serde::Serialize;

/// A panel as drawn; not yet known to be buildable. See [`super::Panel::new`].
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

/// The strips' section, as the stock at hand has it, and how they lap. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSection {
    /// Width as seen from the front of the panel.
    pub thickness: f64,
    /// Front to back.
    pub depth: f64,
    /// What was drawn, where the stock was measured and is something else. Only for telling:
    /// nothing is worked out from it. See [`StripSection::in_stock`].
    pub drawn: Option<DrawnSection>,
    /// Notch width less the mate's thickness; negative for a press fit.
    pub clearance: f64,
    /// Least wood to be left between two notches, and outside the last one.
    pub least_web: f64,
    /// Species, for the set-up sheet.
    pub wood: Option<String>,
    /// Its mass by volume, kg/m3, where the job says so; only for telling.
    pub density: Option<f64>,
    /// How strips lap and how they are cut together.
    pub joinery: Joinery,
}

/// A section as it was drawn, before the stock was measured. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnSection {
    /// Width as seen from the front of the panel.
    pub thickness: f64,
    /// Front to back.
    pub depth: f64,
    /// What each layer keeps at a node, if the job says so.
    pub kept: Option<Vec<f64>>,
}

#[cfg(test)]
impl StripSection {
    /// Strips 12 deep of a thickness, as tests of the lattice have them, mm.
    pub(crate) fn sample(thickness: f64) -> StripSection {
        StripSection {
            thickness,
            depth: 12.0,
            clearance: 0.0,
            drawn: None,
            least_web: 2.0,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        }
    }
}

impl StripSection {
    /// The section in stock that measures `thickness` by `depth`, mm, where `self` is as drawn.
    ///
    /// All that fits wood to wood follows from the section and so from the stock. Clearance, least
    /// web and least floor are what they are. Shares that are given keep their proportions, as even
    /// shares do by themselves: of a depth d drawn and m measured, each becomes m / d of what was
    /// drawn, so that together they make up the stock's depth and the faces of all layers are
    /// flush. Stock that is as drawn changes nothing.
    #[must_use]
    pub fn in_stock(self, thickness: f64, depth: f64) -> StripSection {
        #[allow(clippy::float_cmp)] // Read from the same figure, however it was written.
        if (thickness, depth) == (self.thickness, self.depth) {
            return self;
        }
        let drawn = DrawnSection {
            thickness: self.thickness,
            depth: self.depth,
            kept: self.joinery.kept.clone(),
        };
        let mut joinery = self.joinery;
        // A depth that leaves no wood is refused as it was drawn.
        if drawn.depth > 0.0 {
            let shares = joinery.kept.iter_mut().flatten();
            shares.for_each(|share| *share = *share * depth / drawn.depth);
        }
        StripSection {
            thickness,
            depth,
            drawn: Some(drawn),
            joinery,
            ..self
        }
    }

    /// Of pieces made of the same wood: as thick and as deep, flush in front, as large as their cells.
    pub fn for_pieces(&self) -> PieceSection {
        PieceSection {
            thickness: self.thickness,
            depth: self.depth,
            setback: 0.0,
            fit: 0.0,
            clearance: self.clearance,
        }
    }

    /// The section as it was drawn, where that is something else.
    pub(super) fn as_drawn(&self) -> Option<StripSection> {
        let drawn = self.drawn.as_ref()?;
        Some(StripSection {
            thickness: drawn.thickness,
            depth: drawn.depth,
            drawn: None,
            joinery: Joinery {
                kept: drawn.kept.clone(),
                ..self.joinery.clone()
            },
            ..self.clone()
        })
    }

    /// The field of the job that the thickness comes from.
    pub(super) fn thickness_field(&self) -> &'static str {
        #[allow(clippy::float_cmp)]
        match &self.drawn {
            Some(drawn) if drawn.thickness != self.thickness => "strip.measured_thickness",
            _ => "strip.thickness",
        }
    }

    /// The field of the job that the depth comes from.
    pub(super) fn depth_field(&self) -> &'static str {
        #[allow(clippy::float_cmp)]
        match &self.drawn {
            Some(drawn) if drawn.depth != self.depth => "strip.measured_depth",
            _ => "strip.depth",
        }
    }
}

/// How strips lap, and which of them are notched together.
#[derive(Debug, Clone, PartialEq)]
pub struct Joinery {
    /// What each layer keeps at a node, front to back, mm; even shares where nothing is said.
    pub kept: Option<Vec<f64>>,
    /// Least depth that a strip may keep at a node, mm.
    pub least_floor: f64,
    /// How deep the first and last of three strips are cut for each other.
    pub rule: LapRule,
    /// Which faces the notches enter.
    pub weave: Weave,
    /// Which strips are notched together.
    pub bundling: Bundling,
}

/// Thinner wood than this under a notch breaks in the hand. Common practice, no source, mm.
pub const USUAL_LEAST_FLOOR_MM: f64 = 1.0;

impl Default for Joinery {
    fn default() -> Self {
        Joinery {
            kept: None,
            least_floor: USUAL_LEAST_FLOOR_MM,
            rule: LapRule::default(),
            weave: Weave::default(),
            bundling: Bundling::default(),
        }
    }
}

/// How deep the first and last of three strips are cut for each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LapRule {
    /// No deeper than they need to close beside the middle strip.
    #[default]
    LeastCut,
    /// As deep as for the middle strip: one depth fewer, and front and back strips are the same
    /// part turned over. A hollow that nobody sees stays beside the middle strip.
    SameDepth,
}

/// Which faces the notches enter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weave {
    /// A family lies before or behind the other as a whole: of two families every strip is notched
    /// from one face.
    #[default]
    OneFace,
    /// Every other strip of one family lies in front, those between behind: the strips that cross
    /// them are notched from both faces in turn.
    Alternate,
}

/// Which strips are notched together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Bundling {
    /// Equal ones.
    #[default]
    Equal,
    /// Shorter ones too whose notches are a run of a longer one's: cut as long as that, and
    /// trimmed.
    Runs,
}

/// The pieces in the cells, as far as the grid's makers need to know of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Infill {
    /// What a rough piece is longer than the finished one, mm.
    pub allowance: f64,
    /// What a V leaves at the outer side where a piece is folded, mm.
    pub fold_skin: f64,
    /// The pieces' own section; nothing where they are made of the strips' wood.
    pub section: Option<PieceSection>,
    /// How the mitres of its pieces are made.
    pub way: PieceWay,
}

/// How the mitres of a panel's pieces are made. What a way cannot make of a piece is pared on guides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PieceWay {
    /// All pared, piece by piece.
    #[default]
    Guides,
    /// Sawn in rows on long sticks, a skin holding them together.
    Rows,
    /// Sawn on the end of a stick, each piece then cut off by hand.
    StickEnds,
    /// Routed in rows on long sticks.
    RoutedRows,
}

impl PieceWay {
    /// All, in the order in which they are told.
    pub const ALL: [PieceWay; 4] = [
        PieceWay::Guides,
        PieceWay::Rows,
        PieceWay::StickEnds,
        PieceWay::RoutedRows,
    ];

    /// As a job, a flag and the JSON answer have it.
    pub fn name(self) -> &'static str {
        match self {
            PieceWay::Guides => "guides",
            PieceWay::Rows => "rows",
            PieceWay::StickEnds => "stick-ends",
            PieceWay::RoutedRows => "routed-rows",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn drawn(kept: Option<Vec<f64>>) -> StripSection {
        StripSection {
            thickness: 3.0,
            depth: 12.0,
            drawn: None,
            clearance: 0.05,
            least_web: 2.0,
            wood: None,
            density: None,
            joinery: Joinery {
                kept,
                ..Joinery::default()
            },
        }
    }

    #[test]
    fn stock_takes_the_place_of_what_was_drawn() {
        let stock = drawn(Some(vec![5.0, 7.0])).in_stock(3.12, 12.6);
        assert_eq!((stock.thickness, stock.depth), (3.12, 12.6));
        assert_eq!((stock.clearance, stock.least_web), (0.05, 2.0));
        // 12.6 / 12 of each share: 5.25 and 7.35, together the whole depth.
        let kept = stock.joinery.kept.clone().unwrap();
        assert!(
            approx_eq!(f64, kept[0], 5.25, epsilon = 1e-12)
                && approx_eq!(f64, kept[1], 7.35, epsilon = 1e-12)
        );
        assert!(approx_eq!(
            f64,
            kept.iter().sum::<f64>(),
            12.6,
            epsilon = 1e-12
        ));
        let fields = [stock.thickness_field(), stock.depth_field()];
        assert_eq!(fields, ["strip.measured_thickness", "strip.measured_depth"]);
        assert_eq!(stock.as_drawn(), Some(drawn(Some(vec![5.0, 7.0]))));
    }

    #[test]
    fn stock_as_drawn_is_the_drawn_section() {
        let section = drawn(Some(vec![5.0, 7.0]));
        assert_eq!(section.clone().in_stock(3.0, 12.0), section);
        assert_eq!(section.as_drawn(), None);
        // A figure that was not measured, or measures as drawn, stays the drawn one's.
        let thicker = section.in_stock(3.2, 12.0);
        assert_eq!(thicker.joinery.kept, Some(vec![5.0, 7.0]));
        let fields = [thicker.thickness_field(), thicker.depth_field()];
        assert_eq!(fields, ["strip.measured_thickness", "strip.depth"]);
    }
}
