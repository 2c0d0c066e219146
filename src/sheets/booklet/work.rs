//! A job and what its machines have to do.

use crate::infill::Infilling;
use crate::instructions::advice::Advice;
use crate::instructions::label_runs;
use crate::instructions::laser::LaserPlan;
use crate::instructions::panel_size::PanelSize;
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::router::RouterPlan;
use crate::instructions::sheet::SetupSheet;
use crate::instructions::sled::SledPlan;
use crate::lattice::{Bundle, FrameOutlines, Lattice};
use crate::machines::{Router, Sled};

/// A job and what its machines have to do.
#[derive(Debug, Clone, Copy)]
pub struct BookletWork<'a> {
    /// What is built.
    pub lattice: &'a Lattice,
    /// The sled, if the job names one.
    pub sled: Option<(&'a SledPlan, &'a Sled)>,
    /// The router.
    pub router: Option<(&'a RouterPlan, &'a Router)>,
    /// What a laser cuts: strips, guide blocks, pieces.
    pub laser: &'a [LaserPlan],
    /// The pieces, and what their guides have to be set to.
    pub pare: Option<&'a ParePlan>,
    /// The frame's rails, where the job has a frame.
    pub rails: Option<&'a RailPlan>,
    /// Its members from the front, where their widths are known.
    pub frame: Option<&'a FrameOutlines>,
    /// How large the panel comes out.
    pub size: Option<&'a PanelSize>,
    /// What would change the work most.
    pub advice: Option<&'a Advice>,
    /// The cards of the wood: what is bought, how it is milled.
    pub wood: &'a [SetupSheet],
    /// The cells with their pieces.
    pub filled: Option<&'a Infilling>,
}

impl BookletWork<'_> {
    pub(super) fn labels(&self, bundle: &Bundle) -> String {
        label_runs(&self.lattice.labels(bundle))
    }
}
