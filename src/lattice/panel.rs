//! A design that was checked, with its lattice.

use super::bays::AsBuilt;
use super::check;
use super::design::Design;
use super::layout::Lattice;
use super::piece_section::{PieceSection, USUAL_FOLD_SKIN_MM};
use super::strip::{Notch, StripId};
use crate::finding::Finding;

/// A design that can be built, every notch inside its strip and enough wood between them, with the
/// lattice that was laid out to know that. The only way to one is [`Panel::new`].
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    design: Design,
    lattice: Lattice,
    warnings: Vec<Finding>,
    as_built: Option<AsBuilt>,
}

impl Panel {
    /// Lays out a design and checks it.
    ///
    /// # Errors
    /// Everything that keeps it from being built, each with its field.
    pub fn new(design: Design) -> Result<Panel, Vec<Finding>> {
        // Strips are only laid out where the measures make sense.
        check::measures(&design)?;
        let lattice = Lattice::of(&design);
        check::strips(&design, &lattice)?;
        let warnings = check::warnings(&design, &lattice);
        Ok(Panel {
            design,
            lattice,
            warnings,
            as_built: None,
        })
    }

    /// The same as built: what is drawn was checked, and its strips are there.
    pub(super) fn built(&self, design: Design, lattice: Lattice, as_built: AsBuilt) -> Panel {
        Panel {
            design,
            lattice,
            warnings: self.warnings.clone(),
            as_built: Some(as_built),
        }
    }

    /// The same with more that is unusual.
    pub(super) fn warned(mut self, more: impl IntoIterator<Item = Finding>) -> Panel {
        self.warnings.extend(more);
        self
    }

    /// The same with notches in its strips for pieces that run over them.
    ///
    /// # Errors
    /// Strips that keep too little wood then.
    pub fn with_crossing_pieces(
        &self,
        crossed: &[(StripId, Notch)],
    ) -> Result<Panel, Vec<Finding>> {
        let lattice = self.lattice.clone().with_crossing_pieces(crossed);
        check::crossed_strips(&self.design, &lattice)?;
        Ok(Panel {
            lattice,
            ..self.clone()
        })
    }

    /// What was drawn; of a panel as built its grid is the one that was measured.
    pub fn design(&self) -> &Design {
        &self.design
    }

    /// The section of the pieces in its cells: their own, else that of the strips. Whatever is worked
    /// out for pieces takes their wood from here.
    pub fn piece_section(&self) -> PieceSection {
        let own = self.design.infill.as_ref();
        own.and_then(|infill| infill.section)
            .unwrap_or_else(|| self.design.strip.for_pieces())
    }

    /// What a V leaves at the outer side where a piece is folded, mm.
    pub fn fold_skin(&self) -> f64 {
        let infill = self.design.infill.as_ref();
        infill.map_or(USUAL_FOLD_SKIN_MM, |infill| infill.fold_skin)
    }

    /// Its strips, with their notches and bundles.
    pub fn lattice(&self) -> &Lattice {
        &self.lattice
    }

    /// What was measured of its bays, where its strips are cut; see [`Panel::as_built`].
    pub fn known_as_built(&self) -> Option<&AsBuilt> {
        self.as_built.as_ref()
    }

    /// What is unusual about the design without keeping it from being built.
    pub fn warnings(&self) -> &[Finding] {
        &self.warnings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{Face, Grid, SquareGrid, StripSection};
    use float_cmp::approx_eq;
    use std::f64::consts::PI;

    fn two_by_two() -> Lattice {
        let grid = SquareGrid {
            pitches_x: vec![46.0; 2],
            pitches_y: vec![46.0; 2],
            overhang: 18.0,
        };
        let strip = StripSection::sample(2.7);
        let design = Design {
            title: String::new(),
            grid: Grid::Square(grid),
            strip,
            infill: None,
        };
        Panel::new(design).unwrap().lattice().clone()
    }

    #[test]
    fn two_by_two_bays() {
        // Computed: 3 + 3 strips, 92 mm over the outer notches and 18 mm of overhang at each end,
        // half the depth each.
        let lattice = two_by_two();
        assert_eq!(lattice.strips.len(), 6);
        assert_eq!(lattice.crossings.len(), 9);
        for strip in &lattice.strips {
            assert_eq!(strip.length, 128.0);
            let centres: Vec<_> = strip.notches.iter().map(|notch| notch.centre).collect();
            for (found, wanted) in centres.iter().zip([18.0, 64.0, 110.0]) {
                assert!(approx_eq!(f64, *found, wanted, epsilon = 1e-12));
            }
            for notch in &strip.notches {
                assert_eq!(notch.depth, 6.0);
                assert!(approx_eq!(f64, notch.width, 2.7, epsilon = 1e-12));
                assert!(approx_eq!(f64, notch.angle, PI / 2.0, epsilon = 1e-12));
                let wanted = if strip.id.family == 0 {
                    Face::Back
                } else {
                    Face::Front
                };
                assert_eq!(notch.face, wanted);
            }
        }
        assert_eq!(lattice.bundles.len(), 2);
        assert!(
            lattice
                .bundles
                .iter()
                .all(|bundle| bundle.strips.len() == 3)
        );
    }
}
