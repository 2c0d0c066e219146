//! How a panel's pieces get their mitres: by the way that is asked for, and what stays to pare.

use super::file_names::numbered;
use super::not_made::NotMade;
use super::programs::ProgramFile;
use super::routed_rows::{MitrePrograms, planned_mitre_programs};
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::Infilling;
use crate::instructions::mitres::MitrePlan;
use crate::instructions::pare::{ParePlan, WayFigures};
use crate::lattice::{Panel, PieceWay};
use crate::machines::{Chosen, Guides, Router, Sled, Station};
use crate::planning::{
    MachinedEnds, machined_ends, pared_ways, plan_mitres, plan_pieces, plan_rest, plan_rows,
    routed_ends, routed_ways, sawn_ways,
};
use std::path::Path;

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
    /// What routs them.
    pub router: Option<Chosen<'a, Router>>,
    /// What the router's programs are called; several get numbers.
    pub programs: &'a Path,
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
    /// A router's programs, where one is asked.
    pub programs: Vec<ProgramFile>,
    /// Why it has none for some kinds of pieces.
    pub unrouted: Vec<Finding>,
    /// What is unusual about routing.
    pub at_router: Vec<Finding>,
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
        let routed = match (self.way, self.router) {
            (PieceWay::RoutedRows, Some(router)) => Some(self.routed(router)?),
            (PieceWay::RoutedRows, None) => return Err(NotMade::Cannot(vec![no_router()])),
            _ => None,
        };
        let (mitres, at_saw) = mitres.unzip();
        let plan = routed.as_ref().map(|routed| &routed.plan);
        let machined: Option<Vec<MachinedEnds>> =
            (mitres.as_ref().map(machined_ends)).or_else(|| plan.map(routed_ends));
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
            routed: plan.cloned(),
            ..pare
        };
        let (programs, unrouted, at_router) = routed.map_or_else(Default::default, |made| {
            (made.files, made.unmade, made.warnings)
        });
        Ok(PiecePlans {
            pare,
            at_saw: at_saw.unwrap_or_default(),
            programs,
            unrouted,
            at_router,
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

    fn routed(&self, router: Chosen<'_, Router>) -> Result<MitrePrograms, NotMade> {
        let name = |at, count| numbered(self.programs, at, count);
        planned_mitre_programs(self.panel, self.filled, router, &name)
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
        let routed = self.router.and_then(|router| {
            plan_rows(self.panel, self.filled, router, &|_, _| String::new()).ok()
        });
        ways.extend(
            routed
                .iter()
                .flat_map(|(routed, _)| routed_ways(&routed.plan, &alone.pieces)),
        );
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

fn no_router() -> Finding {
    let text = "`routed-rows` cuts the pieces on a router, and no router is named";
    Finding::error("no-router", "machines.router", text)
        .hint("add `router = \"...\"` to [machines] in the job; or write way = \"guides\" in [infill]")
        .in_document(Document::Job)
}
