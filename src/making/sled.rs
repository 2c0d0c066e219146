//! A lattice's strips on a sled.

use super::not_made::NotMade;
use super::strips_cut::still_to_be_cut;
use crate::finding::{Document, Finding, all_in_document};
use crate::instructions::sled::SledPlan;
use crate::lattice::Lattice;
use crate::machines::{Chosen, Sled, SledWork, Station};
use crate::planning::plan_sled;

/// Where a sled's findings are.
const SLED: Document = Document::Profile(Station::Sled);

/// The plan of a lattice's strips as a job wants them notched, and what is unusual about it.
///
/// # Errors
/// What the sled cannot do, at the fields of its profile; strips that are cut.
pub fn planned_sled(
    lattice: &Lattice,
    sled: Chosen<'_, Sled>,
    work: SledWork,
) -> Result<(SledPlan, Vec<Finding>), NotMade> {
    still_to_be_cut(lattice)?;
    match plan_sled(lattice, sled.name, sled.machine, work) {
        Ok((plan, warnings)) => Ok((plan, all_in_document(warnings, SLED))),
        Err(faults) => Err(NotMade::cannot(faults, SLED)),
    }
}
