//! How a panel's pieces get their mitres: by the way that is asked for, and what stays to pare.

use super::not_made::NotMade;
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::Infilling;
use crate::instructions::mitres::MitrePlan;
use crate::instructions::pare::{ParePlan, WayFigures};
use crate::lattice::{Panel, PieceWay};
use crate::machines::{Chosen, Guides, Sled, Station};
use crate::planning::{machined_ends, pared_ways, plan_mitres, plan_pieces, plan_rest, sawn_ways};

/// Where a sled's findings are.
const SLED: Document = Document::Profile(Station::Sled);

/// A panel's pieces, and the machines that could make their mitres.
#[derive(Debug, Clone, Copy)]
pub struct PieceOrder<'a> {
    /// What is built.
    pub panel: &'a Panel,
    /// Its cells with their pieces.
    pub filled: &'a Infilling,
    /// How the mitres are to be made.
    pub way: PieceWay,
    /// What saws them.
    pub sled: Option<Chosen<'a, Sled>>,
    /// What pares them.
    pub guides: Option<Chosen<'a, Guides>>,
}

/// How pieces are made.
#[derive(Debug)]
pub struct PiecePlans {
    /// The list of all pieces, what a sled does where one is asked, and what is pared.
    pub pare: ParePlan,
    /// What is unusual about sawing.
    pub at_saw: Vec<Finding>,
    /// What is unusual about paring; of the guides' profile.
    pub at_guides: Vec<Finding>,
}

impl<'a> PieceOrder<'a> {
    /// Works all of it out.
    ///
    /// # Errors
    /// Where the way that is asked for is none of these machines'.
    pub fn planned(&self) -> Result<PiecePlans, NotMade> {
        let mitres = match (self.way, self.sled) {
            (PieceWay::Rows | PieceWay::StickEnds, Some(sled)) => Some(self.sawn(self.way, sled)?),
            (PieceWay::Rows | PieceWay::StickEnds, None) => {
                return Err(NotMade::Cannot(vec![no_sled(self.way)]));
            }
            (PieceWay::Guides | PieceWay::RoutedRows, _) => None,
        };
        let (mitres, at_saw) = mitres.unzip();
        let machined = mitres.as_ref().map(machined_ends);
        let (pare, at_guides) = plan_rest(
            self.panel,
            self.filled,
            self.allowance(),
            self.guides,
            &machined.unwrap_or_default(),
        );
        let pare = ParePlan {
            way: self.way,
            ways: self.ways(mitres.as_ref()),
            mitres,
            ..pare
        };
        Ok(PiecePlans {
            pare,
            at_saw: at_saw.unwrap_or_default(),
            at_guides,
        })
    }

    fn allowance(&self) -> f64 {
        let infill = self.panel.design().infill.as_ref();
        infill.map_or(0.0, |infill| infill.allowance)
    }

    fn sawn(
        &self,
        way: PieceWay,
        sled: Chosen<'_, Sled>,
    ) -> Result<(MitrePlan, Vec<Finding>), NotMade> {
        match plan_mitres(self.panel, self.filled, way, sled) {
            Ok((plan, warnings)) => Ok((plan, all_in_document(warnings, SLED))),
            Err(faults) => Err(NotMade::cannot(faults, SLED)),
        }
    }

    /// What every way makes of every piece, as far as the machines at hand go it; nothing where only
    /// guides could.
    fn ways(&self, chosen: Option<&MitrePlan>) -> Vec<WayFigures> {
        let (alone, _) = plan_pieces(self.panel, self.filled, self.allowance(), self.guides);
        let mut ways = pared_ways(&alone);
        let by_guides = ways.len();
        for way in [PieceWay::Rows, PieceWay::StickEnds] {
            let known = chosen.filter(|plan| plan.way == way);
            let other = match (known, self.sled) {
                (None, Some(sled)) => self.sawn(way, sled).ok(),
                _ => None,
            };
            let plan = known.or(other.as_ref().map(|(plan, _)| plan));
            ways.extend(
                plan.into_iter()
                    .flat_map(|plan| sawn_ways(plan, &alone.pieces)),
            );
        }
        if ways.len() == by_guides {
            return Vec::new();
        }
        ways.sort_by_key(|way| way.piece);
        ways
    }
}

fn no_sled(way: PieceWay) -> Finding {
    let text = format!(
        "`{}` saws the pieces' mitres, and no sled is named",
        way.name()
    );
    Finding::error("no-sled", "machines.sled", text)
        .hint(
            "add `sled = \"...\"` to [machines] in the job; or write way = \"guides\" in [infill]",
        )
        .in_document(Document::Job)
}
