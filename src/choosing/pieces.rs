//! What a pattern asks of machines and bench.

use super::machines::{add_mitres, share};
use crate::finding::Finding;
use crate::infill::Pattern;
use crate::instructions::choice::{BenchShare, MachineShare};
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::lattice::PieceWay;
use crate::machines::{Guides, Rates, Station};
use crate::making::{NotMade, PieceOrder, PiecePlans, Workshop, filled};
use crate::phrase::{Phrase, counted};
use crate::reading::Job;
use std::path::Path;

/// The pattern's share.
#[derive(Default)]
pub(super) struct Pieces {
    pub(super) kinds: usize,
    pub(super) count: usize,
    pub(super) cells_open: usize,
    /// Facets that stay for the guides.
    facets: usize,
    /// Angles of the guides' blocks.
    blocks: usize,
}

/// What the pattern makes of a job, with the mitres made as the job asks: as far as its machines cannot, they
/// are pared, as in a folder that is built. A panel whose cells do not take the pattern is none that was
/// asked for.
///
/// # Errors
/// What is wrong with the pattern in this panel's cells.
pub(super) fn pieces(
    job: &Job,
    patterns: &[Pattern],
    workshop: &Workshop,
    shares: &mut Vec<MachineShare>,
) -> Result<Pieces, Vec<Finding>> {
    if job.map.is_none() {
        return Ok(Pieces::default());
    }
    let filled = filled(job, patterns).map_err(faults_of)?;
    let infill = job.panel.design().infill.as_ref();
    let asked = infill.map_or(PieceWay::Guides, |infill| infill.way);
    let order = PieceOrder {
        panel: &job.panel,
        filled: &filled,
        way: asked,
        sled: workshop.machine(),
        router: workshop.machine(),
        programs: Path::new("pieces.nc"),
        guides: workshop.machine::<Guides>(),
    };
    let (plans, cannot) = match order.planned() {
        Ok(plans) => (plans, None),
        Err(cause) => {
            let pared = PieceOrder {
                way: PieceWay::Guides,
                ..order
            };
            let plans = pared.planned().map_err(|_| vec![not_filled()])?;
            (plans, Some(why(&cause)))
        }
    };
    let PiecePlans { pare, unrouted, .. } = plans;
    let left = unrouted.first().map(|fault| fault.message.clone());
    add_mitres(shares, asked, &pare, cannot.or(left));
    let blocks = pare.blocks.len();
    if let Some(guides) = workshop.machine::<Guides>() {
        let what = format!("{} for all mitres that are pared", counted(blocks, "block"));
        shares.push(MachineShare {
            facets: Some(pared(&pare)),
            ..share(Station::Guides, guides.name, blocks, what)
        });
    }
    Ok(Pieces {
        kinds: pare.pieces.len(),
        count: pare.pieces.iter().map(|piece| piece.count).sum(),
        cells_open: pare.cells_open,
        facets: pared(&pare),
        blocks,
    })
}

/// Of pieces, those facets that stay for the guides; the walls of a V are pared like two of them.
fn pared(plan: &ParePlan) -> usize {
    let pieces = plan.pieces.iter();
    pieces
        .map(|piece: &PieceFigures| piece.made * (piece.pared().count() + 2 * piece.folds.len()))
        .sum()
}

/// What keeps a pattern from these cells.
pub(super) fn faults_of(cause: NotMade) -> Vec<Finding> {
    match cause {
        NotMade::Cannot(faults) => faults,
        // Nothing is written or proved while cells are filled.
        _ => vec![not_filled()],
    }
}

fn not_filled() -> Finding {
    let text = "the pattern cannot be worked out in these cells";
    Finding::error("not-filled", "infill.pattern", text)
}

fn why(cause: &NotMade) -> Phrase {
    match cause {
        NotMade::Cannot(faults) => faults.first().map(|fault| fault.message.clone()),
        _ => None,
    }
    .unwrap_or_else(|| Phrase::from("its mitres cannot be planned"))
}

impl Pieces {
    /// Work by hand on them and on so many strips.
    pub(super) fn at_bench(&self, strips: usize, rates: &Rates) -> BenchShare {
        BenchShare {
            strips,
            pieces: self.count,
            facets: self.facets,
            blocks: self.blocks,
            time_s: rates.strip.of(strips)
                + rates.piece.of(self.count)
                + rates.facet.of(self.facets)
                + rates.block.of(self.blocks),
        }
    }
}
